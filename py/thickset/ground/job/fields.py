"""Every field of a job document: its label, kind, defaults and meaning. README's table is made from here.

Defaults are common practice, no source, unless the meaning says otherwise; they are starting points, and the machine's
manual and the person at the machine know better.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from functools import cache, cached_property
from typing import Any, Literal

Kind = Literal[
    "text",
    "length",
    "feed",
    "feeds",
    "speed",
    "density",
    "whole",
    "tally",
    "number",
    "species",
    "moves",
    "percent",
    "temperature",
    "grain",
    "volume",
    "flow",
    "level",
    "ends",
    "signed",
    "place",
    "price",
]


@dataclass(frozen=True)
class Field:
    """One field: where it stands, what people call it, what it holds, and what stands for it when it is left out.

    `bare` is the size a number without a unit may have: most inches in a job in inches, least mm in a job in mm.
    `zero` says that 0 makes sense.
    """

    path: str
    label: str
    kind: Kind
    inch: Any
    metric: Any
    meaning: str
    _: KW_ONLY
    required: bool = False
    bare: tuple[str, str] | None = None
    zero: bool = False

    @cached_property
    def key(self) -> str:
        """The last part of the path.

        >>> FIELDS["planer.head.speed"].key
        'speed'
        """
        return self.path.rpartition(".")[2].removesuffix("[]")


_THICKNESS = ("8", "3")
_ALONG = ("400", "60")
_ACROSS = ("60", "15")
_SNIPE = ("24", "0")
_SPOT = ("400", "0")

_TABLE = (
    Field("title", "Title", "text", "", "", "what the lot is for"),
    Field(
        "target.thickness",
        "Target",
        "length",
        None,
        None,
        "the one thickness of all boards",
        required=True,
        bare=_THICKNESS,
    ),
    Field(
        "target.tolerance",
        "Tolerance",
        "length",
        "0.005",
        "0.1",
        "how far off it may come out",
        bare=("0.5", "0"),
        zero=True,
    ),
    Field("boards[].name", "name", "text", None, None, "A, B, C ... in order when left out"),
    Field(
        "boards[].readings[]",
        "reading",
        "length",
        None,
        None,
        "measured thickness at one spot",
        required=True,
        bare=_THICKNESS,
    ),
    Field(
        "boards[].places[]",
        "place",
        "place",
        None,
        None,
        "where each reading was taken, in their order: end 1, middle or end 2, and left, center or right; empty where unknown",
    ),
    Field("boards[].width", "width", "length", None, None, "across the board", required=True, bare=_ACROSS),
    Field("boards[].length", "length", "length", None, None, "along the feed", required=True, bare=_ALONG),
    Field("boards[].count", "count", "whole", 1, 1, "that many boards alike"),
    Field("boards[].species", "species", "species", None, None, "a wood of the list"),
    Field("boards[].density", "density", "density", None, None, "for a wood not listed, at 12 % moisture, in kg/m3"),
    Field(
        "boards[].defects[].from",
        "defect, from",
        "length",
        None,
        None,
        "from end 1 to where a bad stretch begins",
        required=True,
        bare=_SPOT,
        zero=True,
    ),
    Field(
        "boards[].defects[].to",
        "defect, to",
        "length",
        None,
        None,
        "from end 1 to where it ends",
        required=True,
        bare=_SPOT,
        zero=True,
    ),
    Field("planer.name", "Planer", "text", "", "", "what the shop calls it"),
    Field("planer.moves", "Planer, what moves", "moves", "table", "table", "the handle moves the table or the head"),
    Field("planer.deepest_cut", "Deepest cut", "length", "1/8", "3", "from the manual", bare=("1", "0.15")),
    Field(
        "planer.lightest_cut",
        "Lightest cut",
        "length",
        "1/64",
        "0.4",
        "a lighter one may leave the marks of a serrated infeed roller; 1/32 in is safe on most",
        bare=("0.3", "0.04"),
    ),
    Field("planer.step", "Finest step", "length", "1/64", "0.1", "finest change of the setting", bare=("0.5", "0")),
    Field("planer.turn", "Handle turn", "length", None, None, "how far one turn moves; often 1/16 in", bare=("1", "0")),
    Field("planer.widest", "Widest board", "length", None, None, "no limit when left out", bare=_ACROSS),
    Field("planer.shortest", "Shortest board", "length", None, None, "no limit when left out", bare=_ALONG),
    Field("planer.thinnest", "Thinnest board", "length", None, None, "no limit when left out", bare=("8", "0.6")),
    Field(
        "planer.feeds[]",
        "Feed",
        "feeds",
        "20 ft/min",
        "6 m/min",
        "each feed the planer has, with its unit; a range like 10 to 25 ft/min is every 1 ft/min (0.5 m/min) of it",
    ),
    Field("planer.head.speed", "Head, speed", "speed", None, None, "turns per minute", required=True),
    Field("planer.head.knives", "Head, knives", "whole", None, None, "knives in the head", required=True),
    Field(
        "planer.head.marking_knives",
        "Head, knives that mark",
        "whole",
        1,
        1,
        "1 unless the knives are jointed in place: the proudest leaves the surface",
    ),
    Field(
        "planer.head.diameter", "Head, cutting circle", "length", None, None, "only for wave heights", bare=("12", "20")
    ),
    Field(
        "planer.known_cut.width",
        "Known cut, width",
        "length",
        None,
        None,
        "of a board it takes well",
        required=True,
        bare=_ACROSS,
    ),
    Field(
        "planer.known_cut.depth",
        "Known cut, depth",
        "length",
        None,
        None,
        "what it takes off it",
        required=True,
        bare=("1", "0.15"),
    ),
    Field("planer.known_cut.feed", "Known cut, feed", "feed", None, None, "at this feed", required=True),
    Field("planer.known_cut.species", "Known cut, species", "species", None, None, "in this wood"),
    Field("planer.known_cut.density", "Known cut, density", "density", None, None, "of a wood not listed"),
    Field(
        "planer.snipe.lead",
        "Snipe at the leading end",
        "length",
        None,
        None,
        "measured on a scrap",
        bare=_SNIPE,
        zero=True,
    ),
    Field(
        "planer.snipe.trail",
        "Snipe at the trailing end",
        "length",
        None,
        None,
        "measured on a scrap",
        bare=_SNIPE,
        zero=True,
    ),
    Field("planer.table", "Table", "length", None, None, "from the feed roller to its end, each side", bare=_ACROSS),
    Field(
        "planer.record.offset",
        "Record, offset",
        "signed",
        None,
        None,
        "of the scale, in mm; from a scrap, or learned from runs when told so",
        required=True,
    ),
    Field(
        "planer.record.offset_worth",
        "Record, readings of the offset",
        "number",
        None,
        None,
        "readings the offset is worth",
        required=True,
    ),
    Field("planer.record.spread", "Record, spread", "number", None, None, "of repeated settings, in mm", required=True),
    Field(
        "planer.record.spread_worth",
        "Record, readings of the spread",
        "number",
        None,
        None,
        "readings the spread is worth",
        required=True,
    ),
    Field("planer.record.runs", "Record, runs", "tally", 1, 1, "finished runs and scraps it rests on"),
    Field(
        "planer.record.set_seconds", "Record, setting", "number", None, None, "seconds to set the planer, of timed runs"
    ),
    Field(
        "planer.record.handle_seconds",
        "Record, handling",
        "number",
        None,
        None,
        "seconds to handle a board, of timed runs",
    ),
    Field("planer.record.timed", "Record, timed runs", "whole", None, None, "runs the seconds rest on"),
    Field(
        "planer.record.lead", "Record, snipe that leads", "number", None, None, "in mm, the longest that was measured"
    ),
    Field(
        "planer.record.trail", "Record, snipe that trails", "number", None, None, "in mm, the longest that was measured"
    ),
    Field("planer.record.sniped", "Record, runs with snipe", "whole", None, None, "runs the snipe rests on"),
    Field("planer.record.fed", "Record, fed", "number", 0, 0, "meters fed since the knives were changed"),
    Field(
        "practice.cut",
        "Planned cut",
        "length",
        "1/16",
        "1.5",
        "the most one pass takes; 1/16 in is the usual most, 1/8 in only on a heavy planer",
        bare=("1", "0.15"),
    ),
    Field(
        "practice.finish_cut",
        "Finish cut",
        "length",
        "1/32",
        "0.8",
        "each of the last two passes, one a side",
        bare=("0.5", "0.1"),
    ),
    Field(
        "practice.near",
        "Near the target",
        "length",
        "1/16",
        "1.5",
        "from here on a test piece goes first",
        bare=("1", "0"),
        zero=True,
    ),
    Field("practice.rough_marks", "Marks, rough passes", "number", 10, 10, "marks per inch wanted"),
    Field(
        "practice.finish_marks",
        "Marks, finish passes",
        "number",
        20,
        20,
        "marks per inch wanted; 20 or more is finish planing (trade engineering text, read)",
    ),
    Field("practice.set_seconds", "Seconds to set", "number", 20, 20, "to set the planer for a pass"),
    Field(
        "practice.handle_seconds", "Seconds to handle", "number", 8, 8, "to feed and take off one board, beside its run"
    ),
    Field("practice.measure_seconds", "Seconds to measure", "number", 30, 30, "to run and measure a test piece"),
    Field("parts[].name", "name", "text", "", "", "of a finished part"),
    Field("parts[].length", "length", "length", None, None, "finished length of a part", required=True, bare=_ALONG),
    Field(
        "parts[].width",
        "width",
        "length",
        None,
        None,
        "it comes out of no board that is narrower; as wide as its board when left out",
        bare=_ACROSS,
    ),
    Field("parts[].count", "count", "whole", 1, 1, "how many of it"),
    Field("cutting.kerf", "Kerf", "length", "1/8", "3", "of the saw that cuts to length", bare=("1", "0.3"), zero=True),
    Field("cutting.trim", "Trim", "length", "0", "0", "squared off each end of a board", bare=("12", "0"), zero=True),
    Field(
        "cutting.ends",
        "Ends",
        "ends",
        "alone",
        "alone",
        "boards fed alone, butted end to end, or guarded by scrap before and behind",
    ),
    Field("rates.people", "People", "number", None, None, "money an hour"),
    Field("rates.machine", "Planer, its cost", "number", None, None, "money an hour, with power and knives"),
    Field(
        "rates.wood",
        "Wood",
        "price",
        None,
        None,
        "money a board foot, or a cubic meter in a job in mm, unless it says which: 6.50 per board foot, 2800 per m3",
    ),
    Field(
        "service.moisture_now", "Moisture now", "percent", None, None, "of the boards, in per cent of their dry weight"
    ),
    Field(
        "service.moisture_then",
        "Moisture in service",
        "percent",
        None,
        None,
        "where the piece will live; or the room's temperature and humidity",
    ),
    Field("service.temperature", "Room, temperature", "temperature", None, None, "with its unit, like 70 F or 21 C"),
    Field("service.humidity", "Room, humidity", "percent", None, None, "relative humidity of the room"),
    Field("service.grain", "Grain", "grain", "flatsawn", "flatsawn", "flatsawn or quartersawn"),
    Field(
        "service.thickness",
        "Thickness in service",
        "length",
        None,
        None,
        "wanted on the day the piece is used, where the target is today's; the target when left out",
        bare=_THICKNESS,
    ),
    Field(
        "service.rest",
        "Left for after a rest",
        "length",
        None,
        None,
        "stop so far above the target, let the boards rest, measure again, finish",
        bare=("1", "0"),
    ),
    Field("shop.bag", "Bag or drum", "volume", "30 gal", "100 L", "for the shavings"),
    Field(
        "shop.air", "Flow of air", "flow", None, None, "of the dust collector with everything connected, like 800 cfm"
    ),
    Field("shop.duct", "Duct", "length", None, None, "inside diameter", bare=("24", "40")),
    Field(
        "shop.noise", "Noise", "level", None, None, "beside the planer, in dBA; 100 to 104 when left out (from memory)"
    ),
)

MOST_READINGS = 200
"""Readings of a board [count]."""

RUN_LENGTH = Field("run[]", "Length", "length", None, None, "of a setting, a scale or a piece", required=True)
"""How lengths of a run are read; the page writes them, so that none needs a default."""

RUN_SNIPE = Field(
    "run[]", "Snipe", "length", None, None, "of a board that was planed", required=True, bare=_SNIPE, zero=True
)
RUN_SECONDS = Field("run[]", "Seconds", "number", None, None, "since the event before")

FIELDS = {field.path: field for field in _TABLE}

EMPTY_ALLOWED = frozenset(
    {
        *("planer", "planer.head", "planer.known_cut", "planer.snipe", "planer.record"),
        *("practice", "cutting", "rates", "service", "shop"),
    }
)
"""Parts of a document that may be left out whole."""


@cache
def keys_of(part: str) -> tuple[str, ...]:
    """The keys that a part of the document may have.

    >>> keys_of("planer.snipe"), keys_of("target")
    (('lead', 'trail'), ('thickness', 'tolerance'))
    """
    prefix = f"{part}." if part else ""
    inside = [path.removeprefix(prefix) for path in FIELDS if path.startswith(prefix)]
    heads = dict.fromkeys(path.partition(".")[0].removesuffix("[]") for path in inside)
    return (*heads, *(("thickset", "units", "run") if not part else ()))


def defaults(units: str) -> dict[str, Any]:
    """The value of every field that has a default, by its path, for a job in `units` ["in" or "mm"].

    >>> defaults("in")["practice.cut"], defaults("mm")["planer.feeds[]"]
    ('1/16', '6 m/min')
    """
    both = {path: field.inch if units == "in" else field.metric for path, field in FIELDS.items()}
    return {path: value for path, value in both.items() if value not in (None, "")}


def as_markdown() -> str:
    """The table of fields for the README.

    >>> as_markdown().splitlines()[0]
    '| field | holds | in | mm | meaning |'
    """
    lines = ["| field | holds | in | mm | meaning |", "|---|---|---|---|---|"]
    for field in _TABLE:
        inch, metric = (_cell(field, value) for value in (field.inch, field.metric))
        lines.append(f"| `{field.path}` | {field.kind} | {inch} | {metric} | {field.meaning} |")
    return "\n".join(lines)


def _cell(field: Field, value: Any) -> str:
    if field.required:
        return "required"
    return str(value) if value not in (None, "") else "none"
