"""Reads a job document. Every problem is found in one reading, each with its path and a cure."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from typing import Any, cast

from thickset.ground.job import entries, fields, rest_of_job, run_entries
from thickset.ground.job.fields import FIELDS, MOST_READINGS, Field
from thickset.ground.job.job import (
    Board,
    Cutting,
    Head,
    Job,
    KnownCut,
    Planer,
    Practice,
    Problem,
    Rates,
    Service,
    Shop,
    Sketch,
    problem_with,
)
from thickset.ground.job.rest_of_job import Json
from thickset.ground.notation import slips
from thickset.ground.notation.lengths import Units, shown
from thickset.ground.notation.names import names_of
from thickset.ground.notation.slips import SlipError

VERSION = 1
MOST_BOARDS = 5000
WOOD = ("species", "density")
"""What says together of which wood something is."""


@dataclass
class Result:
    """What came of reading: the job unless there are problems, then what of it could be read; how entries were understood."""

    job: Job | None
    problems: list[Problem]
    understood: dict[str, str]
    sketch: Sketch | None = None


def read(document: object) -> Result:
    """Read a job document (parsed JSON).

    >>> read({"thickset": 1, "units": "cm"}).problems[0]
    Problem(at='units', text="Units: 'cm' is neither in nor mm. Write in or mm.")
    """
    return _Reader().read(document)


def event_problems(event: object, units: Units, names: set[str]) -> list[Problem]:
    """What keeps one event of a run from being read, each at its field of `event`; names: of the lot's boards.

    >>> [problem.at for problem in event_problems({"did": "check", "thickness": "1/0"}, "in", set())]
    ['event.thickness']
    """
    reader = _Reader(units)
    run_entries.event(reader, event, "event", "Run", names)
    return reader.problems


@dataclass
class _Reader:
    units: Units = "in"
    problems: list[Problem] = field(default_factory=list)
    understood: dict[str, str] = field(default_factory=dict)
    unit_known: bool = True
    target: Fraction | None = None
    asks_slips: bool = False
    widest_known: bool = False

    def read(self, document: object) -> Result:
        if not isinstance(document, dict):
            self.problem(
                "", "This is no job document: it must be a JSON object with thickset, units, target and boards."
            )
            return self.result(None)
        if not self.version(document.get("thickset")):
            return self.result(None)
        self.keys(document, "")
        given = document.get("units", "in")
        if given not in ("in", "mm"):
            self.problem("units", f"Units: {shown(str(given))} is neither in nor mm. Write in or mm.")
            self.unit_known, given = False, "in"
        self.units = cast("Units", given)
        title = self.value(document, "title", "title")
        target = self.part(document, "target", "")
        thickness = self.value(target, "target.thickness", "target.thickness")
        tolerance = self.value(target, "target.tolerance", "target.tolerance")
        self.target, self.asks_slips = thickness, self.unit_known and not document.get("run")
        given_planer = document.get("planer")
        self.widest_known = isinstance(given_planer, dict) and bool(given_planer.get("widest"))
        boards = self.boards(document.get("boards"))
        planer = self.planer(self.part(document, "planer", ""))
        practice = Practice(**self.values(self.part(document, "practice", ""), "practice"))
        service = self.service(self.part(document, "service", ""))
        shop = Shop(**self.values(self.part(document, "shop", ""), "shop"))
        run = run_entries.run(self, document.get("run"), set(names_of(document.get("boards"))))
        parts = rest_of_job.parts(self, document.get("parts"))
        cutting = Cutting(**self.values(self.part(document, "cutting", ""), "cutting"))
        rates = Rates(**self.values(self.part(document, "rates", ""), "rates"))
        if self.problems:
            if not self.unit_known:
                self.understood = {}
                return self.result(None)
            return self.result(None, Sketch(self.units, thickness, boards, planer))
        lot = tuple(boards.values())
        job = Job(
            title, self.units, thickness, tolerance, lot, planer, practice, run, parts, cutting, rates, service, shop
        )
        return self.result(job)

    def slips(self, given: Json, at: str, label: str, readings: Sequence[Any], width: Fraction | None) -> None:
        """Readings and width that the target or any planer makes doubtful, as long as no run goes by them."""
        entered = given["readings"] if isinstance(given.get("readings"), list) else [given.get("readings")]
        for k, (typed, reading) in enumerate(zip(entered, readings, strict=False)):
            if reading and self.target and reading > slips.TIMES_ABOVE * self.target:
                check = partial(slips.check_reading, str(typed), reading, self.target, self.units)
                self.doubt(check, f"{at}.readings[{k}]", f"{label}, reading {k + 1}")
        if width and not self.widest_known:
            check = partial(slips.check_width, str(given["width"]), width, self.units)
            self.doubt(check, f"{at}.width", f"{label}, width")

    def doubt(self, check: Callable[[], None], at: str, label: str) -> None:
        """Run a check of what was typed; what it asks becomes a problem."""
        try:
            check()
        except SlipError as slip:
            self.problems.append(problem_with(label, at, str(slip), slip.cures))

    def result(self, job: Job | None, sketch: Sketch | None = None) -> Result:
        return Result(job, self.problems, self.understood, sketch)

    def problem(self, at: str, text: str) -> None:
        self.problems.append(Problem(at, text))

    def version(self, version: object) -> bool:
        if version == VERSION and not isinstance(version, bool):
            return True
        if isinstance(version, int) and version > VERSION:
            cure = f'It was saved by a newer Thickset ("thickset": {version}). Load the page anew and open it again.'
        else:
            cure = f'This is no job document: it needs "thickset": {VERSION} at the top.'
        self.problem("thickset", cure)
        return False

    def keys(self, holder: Json, part: str, at: str | None = None) -> None:
        at = part if at is None else at
        known = fields.keys_of(part)
        for key in holder:
            if key not in known:
                where = f"{at}.{key}" if at else str(key)
                self.problem(where, f"{shown(str(key))} is no field of a job here. It can hold: {', '.join(known)}.")

    def part(self, holder: Json, key: str, parent: str) -> Json:
        path = f"{parent}.{key}" if parent else key
        value = holder.get(key)
        if value is None:
            return {}
        if not isinstance(value, dict):
            self.problem(path, f"{key}: {shown(str(value))} stands where {rest_of_job.wanted(path)}")
            return {}
        self.keys(value, path)
        return value

    def value(self, holder: Json, path: str, at: str, label: str = "") -> Any:
        """The value of one field, its default when it is left out, or a problem."""
        one = FIELDS[path]
        return self.entry(holder.get(one.key), one, at, label or one.label)

    def values(self, holder: Json, part: str, at: str = "", label: str = "", but: Collection[str] = ()) -> Json:
        """The values of a part's plain fields by their keys, but for some."""
        return {
            key: self.value(holder, f"{part}.{key}", f"{at or part}.{key}", f"{label}, {key}" if label else "")
            for key in fields.plain_keys(part)
            if key not in but
        }

    def entry(self, given: object, one: Field, at: str, label: str) -> Any:
        entered = not (given is None or (isinstance(given, str) and not given.strip()))
        if not entered and one.required:
            self.problems.append(
                problem_with(label, at, f"nothing is entered. {entries.how_to_write(one, self.units)}")
            )
            return None
        if not entered:
            given = one.inch if self.units == "in" else one.metric
            if given is None or given == "":
                return given
        try:
            # Without the unit of the job no size is out of the usual.
            sized = one if self.unit_known else replace(one, bare=None)
            value, words = entries.read(given, sized, self.units)
        except ValueError as error:
            cures = error.cures if isinstance(error, SlipError) else ()
            self.problems.append(problem_with(label, at, str(error), cures))
            return None
        if entered and words:
            self.understood[at] = words
        return value

    def boards(self, given: object) -> dict[int, Board]:
        if not isinstance(given, list) or not given:
            found = f"{shown(str(given))} is no list of boards" if given else "none is entered"
            self.problem("boards", f"Boards: {found}. Enter at least one board with a reading, width and length.")
            return {}
        if len(given) > MOST_BOARDS:
            self.problem("boards", f"Boards: {len(given):,} are more than {MOST_BOARDS:,}. Give boards alike a count.")
            return {}
        names = names_of(given)
        boards = [self.board(board, f"boards[{n}]", names[n]) for n, board in enumerate(given)]
        seen: set[str] = set()
        for n, name in enumerate(names):
            if name in seen:
                self.problem(f"boards[{n}].name", f"Two boards are called {shown(name)}. Give each a name of its own.")
            seen.add(name)
        return {n: board for n, board in enumerate(boards) if board}

    def board(self, given: object, at: str, name: str) -> Board | None:
        plain = len(name) <= entries.LONGEST_NAME and name.isprintable()
        label = f"Board {name if plain else shown(name)}"
        if not isinstance(given, dict):
            self.problem(at, f"{label}: {shown(str(given))} stands where {rest_of_job.wanted('boards[]')}")
            return None
        before = len(self.problems)
        self.keys(given, "boards[]", at)
        self.value(given, "boards[].name", f"{at}.name", f"{label}, name")
        readings = self.many(
            given.get("readings"), FIELDS["boards[].readings[]"], f"{at}.readings", label, MOST_READINGS
        )
        more = self.values(given, "boards[]", at, label, ("name", *WOOD))
        if self.asks_slips:
            self.slips(given, at, label, readings, more["width"])
        wood, gravity = self.wood(given, "boards[]", at, label)
        places = rest_of_job.places(self, given.get("places"), len(readings), f"{at}.places", label)
        defects = rest_of_job.defects(self, given.get("defects"), f"{at}.defects", label)
        if len(self.problems) > before:
            return None
        return Board(name, readings, **more, species=wood, gravity=gravity, defects=defects, places=places)

    def many(self, given: object, one: Field, at: str, label: str, most: int) -> tuple[Any, ...]:
        given = given if isinstance(given, list) else [] if given is None else [given]
        if not given:
            said = f"no {one.label.lower()} is entered. {entries.how_to_write(one, self.units)}"
            self.problems.append(problem_with(label, at, said))
        if len(given) > most:
            self.problem(at, f"{label}: {len(given):,} entries are more than {most}. Keep the ones that matter.")
            return ()
        return tuple(
            self.entry(e, one, f"{at}[{n}]", f"{label}, {one.label.lower()} {n + 1}") for n, e in enumerate(given)
        )

    def wood(self, holder: Json, part: str, at: str, label: str) -> tuple[str | None, Fraction | None]:
        wood = self.value(holder, f"{part}.species", f"{at}.species", f"{label}, species")
        density = self.value(holder, f"{part}.density", f"{at}.density", f"{label}, density")
        if wood and density:
            self.problem(f"{at}.density", f"{label}: both a species and a density are given. Keep one of them.")
        found = wood or density
        return (found.name, found.gravity_12) if found else (None, None)

    def planer(self, given: Json) -> Planer:
        given_feeds = given.get("feeds")
        default = FIELDS["planer.feeds[]"].inch if self.units == "in" else FIELDS["planer.feeds[]"].metric
        feeds = self.many(
            [default] if given_feeds in (None, "", []) else given_feeds,
            FIELDS["planer.feeds[]"],
            "planer.feeds",
            "Planer",
            entries.MOST_FEEDS,
        )
        every = sorted({feed for some in feeds if some for feed in some})
        if len(every) > entries.MOST_FEEDS:
            self.problem(
                "planer.feeds", f"Planer: {len(every):,} feeds are more than {entries.MOST_FEEDS}. Keep those in use."
            )
        own, head, known = self.values(given, "planer"), self.head(given), self.known_cut(given)
        snipe = self.values(self.part(given, "snipe", "planer"), "planer.snipe")
        return Planer(
            **own,
            feeds=tuple(every),
            head=head,
            known_cut=known,
            snipe_lead=snipe["lead"],
            snipe_trail=snipe["trail"],
            record=rest_of_job.record(self, self.part(given, "record", "planer")),
        )

    def head(self, planer: Json) -> Head | None:
        given = self.part(planer, "head", "planer")
        if not any(value not in (None, "") for value in given.values()):
            return None
        head = Head(**self.values(given, "planer.head"))
        if head.knives and head.marking_knives and head.marking_knives > head.knives:
            told = f"Cutterhead: {head.marking_knives} knives cannot mark where there are {head.knives}."
            self.problem("planer.head.marking_knives", told)
        return head

    def known_cut(self, planer: Json) -> KnownCut | None:
        at = "planer.known_cut"
        given = self.part(planer, "known_cut", "planer")
        if not any(value not in (None, "") for value in given.values()):
            return None
        cut = self.values(given, at, but=WOOD)
        wood, gravity = self.wood(given, at, at, "Proven cut")
        return KnownCut(**cut, species=wood, gravity=gravity)

    def service(self, given: Json) -> Service:
        found = self.values(given, "service")
        if (found["temperature"] is None) != (found["humidity"] is None) and found["moisture_then"] is None:
            missing = "humidity" if found["humidity"] is None else "temperature"
            if not any(problem.at.startswith("service.") for problem in self.problems):
                self.problem(
                    f"service.{missing}", f"Room: its {missing} is missing. Enter both, or the moisture in service."
                )
        return Service(**found)
