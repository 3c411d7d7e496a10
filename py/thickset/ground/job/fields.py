"""Every field of a job document, a line each: what it holds, what stands for it, where and with what words the page asks for it.

From this table come the reading of a document, its schema, the README beside this file, and the page's fields.
Defaults are common practice, no source, unless the meaning says otherwise; they are starting points, and the machine's
manual and the person at the machine know better.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, replace
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
    "choice",
    "percent",
    "temperature",
    "volume",
    "flow",
    "level",
    "signed",
    "place",
    "price",
]
NUMBERS = frozenset({"whole", "tally", "number", "signed", "percent", "level"})
"""Kinds that are a number and nothing else."""

GoesWith = Literal["lot", "planer", "shop"]
"""What a field's entry goes along with: a new lot begins without what is the lot's; another planer brings what is the planer's."""


@dataclass(frozen=True)
class Place:
    """A group of fields on the page. One with a heading is for what is rare, and folded under it."""

    heading: str = ""
    hint: str = ""
    _: KW_ONLY
    pad: bool = False
    alone: bool = False


PLACES = {
    "title": Place(alone=True),
    "target": Place(pad=True),
    "pile": Place(pad=True),
    "pile-wood": Place("Wood", pad=True),
    "reading": Place(pad=True, alone=True),
    "board": Place(pad=True),
    "board-more": Place("Name, wood, boards alike", pad=True),
    "service": Place(
        "Moisture, and a rest before the finish",
        "The target is for the day the piece is used. With the moisture now and then, the plan says what to plane to today.",
        pad=True,
    ),
    "planer": Place(),
    "planer-kind": Place("Name and kind"),
    "planer-fits": Place("What fits"),
    "planer-cuts": Place("Cuts"),
    "planer-feeds": Place("More feeds"),
    "planer-head": Place("Cutterhead and marks"),
    "planer-known": Place(
        "A proven cut",
        "A cut that this planer took well. Never go past the manual's deepest, and never deeper on purpose until it bogs.",
    ),
    "planer-snipe": Place("Snipe"),
    "planer-shop": Place("Shavings, air, noise"),
    "planer-seconds": Place("Seconds"),
    "time": Place(),
    "leave": Place(),
    "support": Place(),
    "part": Place(),
    "defect": Place(),
}
"""The groups of the page's fields. In one with a pad, lengths and counts are tapped on the page's own pad."""


@dataclass(frozen=True)
class Ask:
    """How the page asks for a field: in which group, how it is called there, what is said under it.

    `metric` is the hint in a job in mm where that is another one. `key` names it on the page, where that is not its path; `rank` puts it before (below 0) or after the others of its
    group. `talk` is the question of the guided talk that it answers, `example` stands in it while it is empty.
    """

    place: str
    label: str = ""
    hint: str = ""
    _: KW_ONLY
    metric: str = ""
    key: str = ""
    id: str = ""
    rank: int = 0
    talk: str = ""
    example: str = ""
    wide: bool = False
    big: bool = False
    last: bool = False


@dataclass(frozen=True)
class Field:
    """One field: where it stands, what people call it, what it holds, what stands for it when it is left out.

    `bare` is the size a number without a unit may have: most inches in a job in inches, least mm in a job in mm.
    `zero` says that 0 makes sense, `below` that less does, `most` what is the most [%] that can be meant: green wood holds up to twice its own
    weight of water, none in service is above 30, the formula of the room ends at 95. `choices` are what may be written and how
    the page calls it; the one without a text is that nothing was chosen.
    """

    path: str
    label: str
    kind: Kind
    inch: Any
    metric: Any
    meaning: str
    asks: tuple[Ask, ...] = ()
    _: KW_ONLY
    required: bool = False
    bare: tuple[str, str] | None = None
    zero: bool = False
    below: bool = False
    most: int | None = None
    choices: tuple[tuple[str, str], ...] = ()

    @cached_property
    def key(self) -> str:
        """The last part of the path.

        >>> FIELDS["planer.head.speed"].key
        'speed'
        """
        return self.path.rpartition(".")[2].removesuffix("[]")

    @cached_property
    def goes_with(self) -> GoesWith:
        """What its entry goes along with, from lot to lot.

        >>> FIELDS["planer.step"].goes_with, FIELDS["service.rest"].goes_with, FIELDS["rates.wood"].goes_with
        ('planer', 'lot', 'shop')
        """
        return _GOES_WITH.get(self.path) or _GOES_WITH.get(self.path.partition(".")[0], "planer")

    @cached_property
    def words(self) -> tuple[str, ...]:
        """What may be written where there is a choice.

        >>> FIELDS["planer.moves"].words
        ('table', 'head')
        """
        return tuple(value for value, _ in self.choices if value)


_GOES_WITH: dict[str, GoesWith] = {"target": "lot", "service": "lot", "cutting": "shop", "rates.wood": "shop"}

THICKNESS = ("8", "3")
ALONG = ("400", "60")
ACROSS = ("60", "15")
_SNIPE = ("24", "0")
_SPOT = ("400", "0")


def _ask(*given: Any, **more: Any) -> tuple[Ask, ...]:
    return (Ask(*given, **more),)


# fmt: off
# A field is a line, or two.
_TABLE = (
    Field("title", "Title", "text", "", "", "what the lot is for", asks=_ask("title", "Name of the job")),
    Field("target.thickness", "Target", "length", None, None, "the one thickness of all boards", required=True, bare=THICKNESS,
          asks=_ask("target", "Target thickness", big=True)),
    Field("target.tolerance", "Tolerance", "length", "0.005", "0.1", "how far off it may come out", bare=("0.5", "0"), zero=True,
          asks=_ask("planer-cuts", rank=1)),
    Field("boards[].name", "Name", "text", None, None, "A, B, C ... in order when left out",
          asks=_ask("board-more", key="board.name", id="board-named")),
    Field("boards[].readings[]", "Reading", "length", None, None, "measured thickness at one spot", required=True, bare=THICKNESS,
          asks=(Ask("pile", "Thickest spot", key="pile.thickest", rank=-2),
                Ask("pile", "Thinnest spot", key="pile.thinnest", rank=-2),
                Ask("reading", key="board.entry", id="reading", big=True))),
    Field("boards[].places[]", "Place", "place", None, None, "where each reading was taken, in their order: end 1, middle or end 2, and left, center or right; empty where unknown"),
    Field("boards[].width", "Width", "length", None, None, "across the board", required=True, bare=ACROSS,
          asks=(Ask("pile", "Widest", key="pile.widest"), Ask("board", key="board.width"))),
    Field("boards[].length", "Length", "length", None, None, "along the feed", required=True, bare=ALONG,
          asks=(Ask("pile", "Longest", key="pile.longest", last=True), Ask("board", key="board.length"))),
    Field("boards[].count", "Count", "whole", 1, 1, "that many boards alike",
          asks=(Ask("pile", "Boards", key="pile.count", rank=-1),
                Ask("board-more", "Boards alike", key="board.count", example="1"))),
    Field("boards[].species", "Species", "species", None, None, "a wood of the list",
          asks=(Ask("pile-wood", key="pile.species"), Ask("board-more", key="board.species"))),
    Field("boards[].density", "Density", "density", None, None, "for a wood not listed, at 12 % moisture, in kg/m3",
          asks=(Ask("pile-wood", "or density", key="pile.density"),
                Ask("board-more", "or density", key="board.density", example="672 kg/m3"))),
    Field("boards[].defects[].from", "From", "length", None, None, "from end 1 to where a bad stretch begins", required=True, bare=_SPOT, zero=True,
          asks=_ask("defect", key="from")),
    Field("boards[].defects[].to", "To", "length", None, None, "from end 1 to where it ends", required=True, bare=_SPOT, zero=True,
          asks=_ask("defect", key="to")),
    Field("planer.name", "Planer", "text", "", "", "what the shop calls it",
          asks=_ask("planer-kind", "Name", talk="name")),
    Field("planer.moves", "Planer, what moves", "choice", "table", "table", "the handle moves the table or the cutterhead", choices=(("", ""), ("table", "the bed (table)"), ("head", "the cutterhead")),
          asks=_ask("planer-kind", "What the handle moves", talk="turn")),
    Field("planer.deepest_cut", "Deepest cut", "length", "1/8", "3", "from the manual", bare=("1", "0.15"),
          asks=_ask("planer", hint="The most the planer may take, whatever the plan.", talk="deepest")),
    Field("planer.lightest_cut", "Lightest cut", "length", "1/64", "0.4", "a lighter one may leave the marks of a serrated infeed roller; 1/32 in (0.8 mm) is safe on most", bare=("0.3", "0.04"),
          asks=_ask("planer-cuts", hint="Less leaves the marks of a serrated infeed roller.", talk="lightest")),
    Field("planer.step", "Finest step", "length", "1/64", "0.1", "finest change of the setting", bare=("0.5", "0"),
          asks=_ask("planer", "Finest change of setting", talk="turn")),
    Field("planer.turn", "Handle turn", "length", None, None, "how far one turn of the handle moves the table or the cutterhead", bare=("1", "0"),
          asks=_ask("planer", "One turn of the handle", talk="turn")),
    Field("planer.widest", "Widest board", "length", None, None, "no limit when left out", bare=ACROSS,
          asks=_ask("planer-fits", talk="fits")),
    Field("planer.shortest", "Shortest board", "length", None, None, "no limit when left out", bare=ALONG,
          asks=_ask("planer-fits", hint="From the manual. Not there? The distance between the two rollers, and 2 in more.", metric="From the manual. Not there? The distance between the two rollers, and 50 mm more.", talk="fits")),
    Field("planer.thinnest", "Thinnest board", "length", None, None, "no limit when left out", bare=("8", "0.6"),
          asks=_ask("planer-fits", talk="fits")),
    Field("planer.feeds[]", "Feed", "feeds", "20 ft/min", "6 m/min", "each feed the planer has, with its unit; a range like 10 to 25 ft/min is every 1 ft/min (0.5 m/min) of it",
          asks=(Ask("planer", hint="As on the plate, with its unit. A range too: 10 to 25 ft/min.", metric="As on the plate, with its unit. A range too: 3 to 8 m/min.", key="planer.feeds[0]", talk="feeds"),
                Ask("planer", "Second feed", key="planer.feeds[1]", talk="feeds"),
                Ask("planer-feeds", "Third feed", key="planer.feeds[2]", talk="feeds"),
                Ask("planer-feeds", "Fourth feed", key="planer.feeds[3]", talk="feeds"))),
    Field("planer.head.speed", "Cutterhead, speed", "speed", None, None, "turns per minute", required=True,
          asks=_ask("planer-head", "Speed of the cutterhead", "With its unit: 5000 rpm.", talk="head")),
    Field("planer.head.knives", "Cutterhead, knives", "whole", None, None, "knives in the cutterhead", required=True,
          asks=_ask("planer-head", "Knives", talk="head")),
    Field("planer.head.marking_knives", "Cutterhead, knives that mark", "whole", 1, 1, "1 unless the knives are jointed in place: the proudest leaves the surface",
          asks=_ask("planer-head", "Knives that mark", "Unless knives are jointed in place, one stands proud: 1.")),
    Field("planer.head.diameter", "Cutterhead, cutting circle", "length", None, None, "only for wave heights", bare=("12", "20"),
          asks=_ask("planer-head", "Cutting circle")),
    Field("planer.known_cut.width", "Proven cut, width", "length", None, None, "of a board it takes well", required=True, bare=ACROSS,
          asks=_ask("planer-known", "Width of that board", talk="known")),
    Field("planer.known_cut.depth", "Proven cut, depth", "length", None, None, "what it takes off it", required=True, bare=("1", "0.15"),
          asks=_ask("planer-known", "Depth of that cut", talk="known")),
    Field("planer.known_cut.feed", "Proven cut, feed", "feed", None, None, "at this feed", required=True,
          asks=_ask("planer-known", "Feed", talk="known")),
    Field("planer.known_cut.species", "Proven cut, species", "species", None, None, "in this wood",
          asks=_ask("planer-known", "Species", talk="known")),
    Field("planer.known_cut.density", "Proven cut, density", "density", None, None, "of a wood not listed",
          asks=_ask("planer-known", "or density")),
    Field("planer.snipe.lead", "Snipe at the leading end", "length", None, None, "measured on a scrap", bare=_SNIPE, zero=True,
          asks=_ask("planer-snipe", "At the leading end", talk="snipe")),
    Field("planer.snipe.trail", "Snipe at the trailing end", "length", None, None, "measured on a scrap", bare=_SNIPE, zero=True,
          asks=_ask("planer-snipe", "At the trailing end", talk="snipe")),
    Field("planer.table", "Table", "length", None, None, "from the feed roller to its end, each side", bare=ACROSS,
          asks=_ask("support", "Table, from roller to its end", wide=True)),
    Field("planer.record.offset", "Record, offset", "signed", None, None, "of the scale, in mm; from a scrap, or learned from runs when told so", required=True),
    Field("planer.record.offset_worth", "Record, readings of the offset", "number", None, None, "readings the offset is worth", required=True),
    Field("planer.record.spread", "Record, spread", "number", None, None, "of repeated settings, in mm", required=True),
    Field("planer.record.spread_worth", "Record, readings of the spread", "number", None, None, "readings the spread is worth", required=True),
    Field("planer.record.runs", "Record, runs", "tally", 1, 1, "finished runs and scraps it rests on"),
    Field("planer.record.set_seconds", "Record, setting", "number", None, None, "seconds to set the planer, of timed runs"),
    Field("planer.record.handle_seconds", "Record, handling", "number", None, None, "seconds to handle a board, of timed runs"),
    Field("planer.record.timed", "Record, timed runs", "whole", None, None, "runs the seconds rest on"),
    Field("planer.record.lead", "Record, snipe that leads", "number", None, None, "in mm, the longest that was measured"),
    Field("planer.record.trail", "Record, snipe that trails", "number", None, None, "in mm, the longest that was measured"),
    Field("planer.record.sniped", "Record, runs with snipe", "whole", None, None, "runs the snipe rests on"),
    Field("planer.record.fed", "Record, fed", "number", 0, 0, "meters fed since the knives were changed"),
    Field("planer.record.since_knock", "Record, since a knock", "whole", None, None, "runs and scraps since the scale was knocked, while they are few"),
    Field("practice.cut", "Planned cut", "length", "1/16", "1.5", "the most one pass takes; 1/16 in (1.5 mm) is the usual most, 1/8 in (3 mm) only on a heavy planer", bare=("1", "0.15"),
          asks=_ask("planer", hint="What one pass takes off at most.", rank=-1, talk="cut")),
    Field("practice.finish_cut", "Finish cut", "length", "1/32", "0.8", "each of the last two passes, one a face", bare=("0.5", "0.1"),
          asks=_ask("planer-cuts", hint="The light last cut on each face.", rank=-1)),
    Field("practice.near", "Near the target", "length", "1/16", "1.5", "from here on a test piece goes first", bare=("1", "0"), zero=True,
          asks=_ask("planer-cuts", "Test piece from", "A pass this near to the target is tried on a test piece first.")),
    Field("practice.gauge", "Gauge error", "length", "0.001", "0.03", "how far off a reading may be; a caliper's when left out, 1/64 in or 0.5 mm is a ruler's", bare=("0.5", "0"), zero=True,
          asks=_ask("planer-cuts", "What you measure with may be off by", rank=2)),
    Field("practice.rough_marks", "Marks, rough passes", "number", 10, 10, "marks per inch wanted",
          asks=_ask("planer-head", "Marks per inch, rough", metric="10 marks per inch are a pitch of 2.5 mm.")),
    Field("practice.finish_marks", "Marks, finish passes", "number", 20, 20, "marks per inch wanted; 20 or more is finish planing",
          asks=_ask("planer-head", "Marks per inch, finish", metric="20 marks per inch are a pitch of 1.3 mm.")),
    Field("practice.set_seconds", "Seconds to set", "number", 20, 20, "to set the planer for a pass",
          asks=_ask("planer-seconds", "To change the setting")),
    Field("practice.handle_seconds", "Seconds to handle", "number", 8, 8, "to feed and take off one board, beside its run",
          asks=_ask("planer-seconds", "To handle a board")),
    Field("practice.measure_seconds", "Seconds to measure", "number", 30, 30, "to run and measure a test piece",
          asks=_ask("planer-seconds", "To measure a test piece")),
    Field("parts[].name", "Name", "text", "", "", "of a finished part", asks=_ask("part", "Part", key="name")),
    Field("parts[].length", "Length", "length", None, None, "finished length of a part", required=True, bare=ALONG,
          asks=_ask("part", key="length")),
    Field("parts[].width", "Width", "length", None, None, "it comes out of no board that is narrower; as wide as its board when left out", bare=ACROSS,
          asks=_ask("part", key="width", example="the board’s")),
    Field("parts[].count", "Count", "whole", 1, 1, "how many of it",
          asks=_ask("part", "How many", key="count", example="1")),
    Field("cutting.kerf", "Kerf", "length", "1/8", "3", "of the saw that cuts to length", bare=("1", "0.3"), zero=True,
          asks=_ask("leave", "Kerf of the saw")),
    Field("cutting.trim", "Trim", "length", "0", "0", "squared off each end of a board", bare=("12", "0"), zero=True,
          asks=_ask("leave", "Squared off each end")),
    Field("cutting.ends", "Ends", "choice", "alone", "alone", "boards fed alone, butted end to end, or guarded by scrap before and behind", choices=(("", "each alone"), ("alone", "alone"), ("butted", "butted end to end"), ("guarded", "between scrap pieces")),
          asks=_ask("leave", "How boards are fed", wide=True)),
    Field("rates.people", "People", "number", None, None, "money an hour", asks=_ask("time", "People, money an hour")),
    Field("rates.machine", "Planer, its cost", "number", None, None, "money an hour, with power and knives",
          asks=_ask("time", "Planer, money an hour")),
    Field("rates.wood", "Wood", "price", None, None, "money a board foot, or a cubic meter in a job in mm, unless it says which: 6.50 per board foot, 2800 per m3",
          asks=_ask("time", "Wood, money a board foot or m³", wide=True)),
    Field("service.moisture_now", "Moisture now", "percent", None, None, "of the boards, in per cent of their dry weight", most=200,
          asks=_ask("service", "Now, %")),
    Field("service.moisture_then", "Moisture in service", "percent", None, None, "where the piece will live; or the room's temperature and humidity", most=30,
          asks=_ask("service", "In service, %")),
    Field("service.temperature", "Room, temperature", "temperature", None, None, "with its unit, like 70 F or 21 C",
          asks=_ask("service", "or its room")),
    Field("service.humidity", "Room, humidity", "percent", None, None, "relative humidity of the room", most=95,
          asks=_ask("service", "and humidity, %")),
    Field("service.grain", "Grain", "choice", "flatsawn", "flatsawn", "flatsawn or quartersawn", choices=(("", "usual: flatsawn"), ("flatsawn", "flatsawn"), ("quartersawn", "quartersawn")),
          asks=_ask("service", wide=True)),
    Field("service.thickness", "Thickness in service", "length", None, None, "wanted on the day the piece is used, where the target is today's; the target when left out", bare=THICKNESS,
          asks=_ask("service")),
    Field("service.rest", "Left for after a rest", "length", None, None, "stop so far above the target, let the boards rest, measure again, finish", bare=("1", "0"),
          asks=_ask("service", "Rest allowance")),
    Field("shop.bag", "Bag or drum", "volume", "30 gal", "100 L", "for the shavings",
          asks=_ask("planer-shop", hint="With its unit: 30 gal.", metric="With its unit: 100 L.", rank=-2)),
    Field("shop.air", "Airflow", "flow", None, None, "of the dust collector with everything connected, like 800 cfm",
          asks=_ask("planer-shop", hint="With everything connected: 800 cfm.", metric="With everything connected: 1350 m3/h.")),
    Field("shop.duct", "Duct", "length", None, None, "inside diameter", bare=("24", "40"),
          asks=_ask("planer-shop", "Duct, inside", rank=-1)),
    Field("shop.noise", "Noise", "level", None, None, "beside the planer, in dBA; 100 to 104 when left out",
          asks=_ask("planer-shop", "Noise, dBA", "Measured beside the planer.")),
    Field("shop.limits", "Noise limits", "choice", None, None, "american (OSHA, NIOSH) or european (Directive 2003/10/EC); when left out by the units of the job", choices=(("", "usual for the units"), ("american", "American: OSHA, NIOSH"), ("european", "European: 2003/10/EC")),
          asks=_ask("planer-shop", "Noise limits")),
)
# fmt: on

MOST_READINGS = 200
"""Readings of a board [count]."""

_RUN_LENGTH = Field("run[]", "Length", "length", None, None, "of a setting, a scale or a piece", required=True)
_RUN_SNIPE = replace(_RUN_LENGTH, label="Snipe", meaning="of a board that was planed", bare=_SNIPE, zero=True)
RUN = {
    **dict.fromkeys(("setting", "scale", "thickness"), _RUN_LENGTH),
    **dict.fromkeys(("lead", "trail"), _RUN_SNIPE),
    "after": Field("run[]", "Seconds", "number", None, None, "since the event before"),
}
"""What an event of a run may hold as a number; the page writes them, so that none needs a default."""

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


@cache
def plain_keys(part: str) -> tuple[str, ...]:
    """The keys of a part that hold one entry each: no list and no part of its own.

    >>> plain_keys("planer.snipe"), plain_keys("parts[]")
    (('lead', 'trail'), ('name', 'length', 'width', 'count'))
    """
    return tuple(key for key in keys_of(part) if f"{part}.{key}" in FIELDS)


def defaults(units: str) -> dict[str, Any]:
    """The value of every field that has a default, by its path, for a job in `units` ["in" or "mm"].

    >>> defaults("in")["practice.cut"], defaults("mm")["planer.feeds[]"]
    ('1/16', '6 m/min')
    """
    both = {path: field.inch if units == "in" else field.metric for path, field in FIELDS.items()}
    return {path: value for path, value in both.items() if value not in (None, "")}


def asked(place: str) -> list[tuple[Field, Ask]]:
    """The fields of a group of the page, in their order.

    >>> [ask.label or field.label for field, ask in asked("planer-snipe")]
    ['At the leading end', 'At the trailing end']
    """
    found = [(field, ask) for field in _TABLE for ask in field.asks if ask.place == place]
    return sorted(found, key=lambda one: one[1].rank)


def as_markdown() -> str:
    """The table of fields for the README.

    >>> as_markdown().splitlines()[0]
    '| field | holds | in | mm | meaning |'
    """
    lines = ["| field | holds | in | mm | meaning |", "|---|---|---|---|---|"]
    for field in _TABLE:
        inch, metric = (_cell(field, value) for value in (field.inch, field.metric))
        holds = ", ".join(field.words) or field.kind
        lines.append(f"| `{field.path}` | {holds} | {inch} | {metric} | {field.meaning} |")
    return "\n".join(lines)


def _cell(field: Field, value: Any) -> str:
    if field.required:
        return "required"
    return str(value) if value not in (None, "") else "none"
