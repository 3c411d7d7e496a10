"""A second planner, to prove the first one by.

It imports nothing of the product: it reads the job document itself, has its own copy of the defaults, and knows one
way only to find the best plan, which is to try every one. All numbers are exact; lengths are in millimetres and times
in seconds until the end. It takes whole documents without mistakes in them: finding mistakes is not its business.
"""

import math
from dataclasses import dataclass
from fractions import Fraction
from itertools import cycle
from string import ascii_uppercase

INCH = Fraction(254, 10)

# Specific gravity at 12 % moisture content, Wood Handbook (USDA Forest Products Laboratory), table of strengths.
GRAVITY = {
    "Ash, white": Fraction("0.60"),
    "Beech, American": Fraction("0.64"),
    "Cherry, black": Fraction("0.50"),
    "Oak, northern red": Fraction("0.63"),
    "Pine, eastern white": Fraction("0.35"),
    "Walnut, black": Fraction("0.55"),
}

DEFAULTS = {
    "in": {
        "deepest_cut": "1/8",
        "lightest_cut": "1/64",
        "step": "1/64",
        "feeds": ["20 ft/min"],
        "cut": "1/16",
        "finish_cut": "1/32",
        "near": "1/16",
    },
    "mm": {
        "deepest_cut": "3",
        "lightest_cut": "0.4",
        "step": "0.1",
        "feeds": ["6 m/min"],
        "cut": "1.5",
        "finish_cut": "0.8",
        "near": "1.5",
    },
}
SECONDS = {"set_seconds": 20, "handle_seconds": 8, "measure_seconds": 30}
MARKS = {"rough_marks": 10, "finish_marks": 20}


def number(text: str) -> Fraction:
    """A whole number, a decimal, a fraction, or a whole number and a fraction."""
    return sum((Fraction(part) for part in text.replace(",", ".").split()), Fraction(0))


def length(given: object, units: str) -> Fraction:
    text = str(given).strip()
    for unit, size in (("in", INCH), ("mm", Fraction(1))):
        if text.endswith(unit):
            return number(text.removesuffix(unit)) * size
    return number(text) * (INCH if units == "in" else 1)


def feed(given: str) -> Fraction:
    """Millimetres a second."""
    if given.endswith("ft/min"):
        return number(given.removesuffix("ft/min")) * 12 * INCH / 60
    return number(given.removesuffix("m/min")) * 1000 / 60


@dataclass(frozen=True)
class Board:
    name: str
    thick: Fraction
    thin: Fraction
    width: Fraction
    length: Fraction
    count: int
    gravity: Fraction | None


@dataclass(frozen=True)
class Lot:
    target: Fraction
    boards: tuple[Board, ...]
    step: Fraction
    turn: Fraction | None
    most: Fraction  # the smaller of the planned cut and the planer's deepest
    lightest: Fraction
    finish_cut: Fraction
    near: Fraction
    feeds: tuple[Fraction, ...]  # slowest first
    marks_a_second: Fraction | None
    known_cut: tuple[Fraction, Fraction, Fraction, Fraction | None] | None
    rough_marks: Fraction
    finish_marks: Fraction
    set_seconds: Fraction
    handle_seconds: Fraction
    measure_seconds: Fraction
    scale_known: bool

    def seconds_for_scale(self, first: Fraction) -> Fraction:
        """Rule 8 on a scale of which nothing is known: a piece is measured in the first pass, unless it is near the target anyhow."""
        return Fraction(0) if self.scale_known or first <= self.target + self.near else self.measure_seconds

    @property
    def thick(self) -> Fraction:
        return max(board.thick for board in self.boards)

    def limit(self, board: Board, at: Fraction) -> Fraction:
        """The deepest cut this board may get at a feed: rules 3 and 5."""
        if self.known_cut is None:
            return self.most
        width, depth, known_feed, gravity = self.known_cut
        ratio = gravity / board.gravity if gravity and board.gravity else Fraction(1)
        return min(self.most, depth * width / board.width * known_feed / at * ratio)

    def feeds_tried(self, finish: bool) -> tuple[Fraction, ...]:
        """The feeds a pass may run at, the best first: rule 6.

        Where the slowest feed that keeps the limits is asked for, it is the slowest of all, or there is none.
        """
        fastest_first, slowest = self.feeds[::-1], self.feeds[:1]
        if self.marks_a_second is None:
            return slowest if finish else fastest_first
        wanted = self.finish_marks if finish else self.rough_marks
        return tuple(at for at in fastest_first if self.marks_a_second * INCH / at >= wanted) or slowest


def read(job: dict) -> Lot:
    units = job["units"]
    planer, practice = job.get("planer", {}), job.get("practice", {})
    defaults = DEFAULTS[units]

    def size(of: dict, key: str) -> Fraction:
        return length(of.get(key, defaults[key]), units)

    boards = []
    for entry, letter in zip(job["boards"], cycle(ascii_uppercase), strict=False):
        readings = [length(reading, units) for reading in entry["readings"]]
        boards.append(
            Board(
                name=entry.get("name", letter),
                thick=max(readings),
                thin=min(readings),
                width=length(entry["width"], units),
                length=length(entry["length"], units),
                count=entry.get("count", 1),
                gravity=GRAVITY[entry["species"]] if "species" in entry else None,
            )
        )
    step = size(planer, "step")
    if "turn" in planer:
        turn = length(planer["turn"], units)
    else:
        turn = INCH / 16 if (INCH / 16 / step).denominator == 1 else Fraction(1)
    head, known = planer.get("head"), planer.get("known_cut")
    record = planer.get("record")
    return Lot(
        target=length(job["target"]["thickness"], units),
        boards=tuple(boards),
        step=step,
        turn=turn,
        most=min(size(practice, "cut"), size(planer, "deepest_cut")),
        lightest=size(planer, "lightest_cut"),
        finish_cut=size(practice, "finish_cut"),
        near=size(practice, "near"),
        feeds=tuple(sorted(feed(text) for text in planer.get("feeds", defaults["feeds"]))),
        marks_a_second=head and number(head["speed"].removesuffix("rpm")) / 60 * head.get("marking_knives", 1),
        known_cut=known
        and (
            length(known["width"], units),
            length(known["depth"], units),
            feed(known["feed"]),
            GRAVITY[known["species"]] if "species" in known else None,
        ),
        scale_known=record is not None and record["offset_worth"] >= 1,
        **{key: Fraction(str(practice.get(key, usual))) for key, usual in (SECONDS | MARKS).items()},
    )


@dataclass(frozen=True)
class Fed:
    """One pass: at which feed, how long, and the thick spots of all boards after it."""

    feed: Fraction
    seconds: Fraction
    left: tuple[Fraction, ...]


def one_pass(lot: Lot, thick: tuple[Fraction, ...], setting: Fraction, finish: bool) -> Fed | None:
    """Feed the boards at a setting: rules 2, 3, 5, 6 and 8. None if no feed can do it."""
    fed = [(board, now) for board, now in zip(lot.boards, thick, strict=True) if now > setting]
    for at in lot.feeds_tried(finish):
        if all(now - setting <= lot.limit(board, at) for board, now in fed):
            break
    else:
        return None
    seconds = lot.set_seconds
    seconds += sum(board.count * (lot.handle_seconds + board.length / at) for board, _ in fed)
    if setting <= lot.target + lot.near:
        seconds += lot.measure_seconds
    return Fed(at, seconds, tuple(min(now, setting) for now in thick))


def last_settings(lot: Lot) -> tuple[Fraction, ...]:
    """The settings that rule 1 fixes, and they are all of them unless the first is T + 2f."""
    target, finish_cut = lot.target, lot.finish_cut
    if lot.thick <= target:
        return ()
    if lot.thick > target + 2 * finish_cut:
        return (target + 2 * finish_cut, target + finish_cut, target)
    over = lot.thick - target
    even_cut = math.floor(over / (2 * lot.step)) * lot.step
    usual = (target + even_cut, target) if even_cut >= lot.lightest else (target,)
    ways = [usual]
    if over <= 10_000 * lot.step:
        cuts = [finish_cut, *(n * lot.step for n in range(1, math.ceil(over / lot.step)))]
        allowed = sorted((abs(over - 2 * cut), cut) for cut in cuts if lot.lightest <= cut < over)
        ways += [(target + cut, target) for _, cut in allowed]
    return next((way for way in ways if run(lot, way) is not None), usual)


def levels(lot: Lot) -> list[Fraction]:
    """The settings that rule 1 leaves free, the largest first."""
    start = lot.target + 2 * lot.finish_cut
    free = []
    n = 1
    while lot.thick > start and start + n * lot.step < lot.thick:
        free.append(start + n * lot.step)
        n += 1
    return free[::-1]


@dataclass(frozen=True)
class Answer:
    settings: tuple[Fraction, ...]
    feeds: tuple[Fraction, ...]
    minutes: Fraction
    rank: tuple


def rank(lot: Lot, settings: tuple[Fraction, ...], seconds: Fraction) -> tuple:
    """Rule 9: the smallest is the best plan."""

    def on_marks_of(size: Fraction) -> int:
        return sum((setting / size).denominator == 1 for setting in settings)

    before = (lot.thick, *settings)
    drops = [high - low for high, low in zip(before, settings, strict=False)]
    return (
        seconds / 60,
        len(settings),
        *(-on_marks_of(lot.turn / part) for part in (1, 2, 4)),
        sum(drop * drop for drop in drops),
        tuple(-setting for setting in settings),
    )


class TooManyError(Exception):
    """More plans than are worth trying one by one."""


class State:
    """The lot between two passes, with the passes tried from it so far."""

    def __init__(self, thick: tuple[Fraction, ...]) -> None:
        self.thick = thick
        self.tried: dict[int, tuple[State, Fraction] | None] = {}


Plans = list[tuple[tuple[Fraction, ...], Fraction]]


def every_plan(lot: Lot, at_most: int = 100_000) -> Plans:
    """All settings, with their seconds, that keep rules 1 to 6; only of those that feed a board at each pass."""
    last = last_settings(lot)
    if not last:
        return [((), Fraction(0))]
    free = levels(lot)
    settings = [*free, *last]
    states: dict[tuple[Fraction, ...], State] = {}
    found: Plans = []
    counted = 0

    def feed_at(state: State, place: int) -> tuple[State, Fraction] | None:
        if place not in state.tried:
            fed = one_pass(lot, state.thick, settings[place], place >= len(settings) - 2)
            state.tried[place] = fed and (
                states.setdefault(fed.left, State(fed.left)),
                fed.seconds,
            )
        return state.tried[place]

    def too_close(places: list[int], place: int) -> bool:
        return bool(places) and settings[places[-1]] - settings[place] < lot.lightest

    def finish(places: list[int], state: State, seconds: Fraction) -> None:
        for place in range(len(free), len(settings)):
            fed = None if too_close(places, place) else feed_at(state, place)
            if fed is None:
                return
            places, state, seconds = [*places, place], fed[0], seconds + fed[1]
        found.append((tuple(settings[place] for place in places), seconds))

    def go_down(places: list[int], state: State, seconds: Fraction) -> None:
        nonlocal counted
        counted += 1
        if counted > at_most:
            raise TooManyError
        finish(places, state, seconds)
        for place in range(places[-1] + 1 if places else 0, len(free)):
            fed = None if too_close(places, place) else feed_at(state, place)
            if fed is not None:
                go_down([*places, place], fed[0], seconds + fed[1])

    go_down([], State(tuple(board.thick for board in lot.boards)), Fraction(0))
    return found


def run(lot: Lot, settings: tuple[Fraction, ...]) -> list[Fed] | None:
    """All passes of a plan, from the first to the last."""
    thick = tuple(board.thick for board in lot.boards)
    passes = []
    for place, setting in enumerate(settings):
        fed = one_pass(lot, thick, setting, place >= len(settings) - 2)
        if fed is None:
            return None
        passes.append(fed)
        thick = fed.left
    return passes


def best_plan(job: dict) -> Answer | None:
    """The plan by rule 9, found by trying all of them; None if no plan keeps the rules."""
    lot = read(job)
    plans = every_plan(lot)
    if not plans:
        return None
    least = min(seconds for _, seconds in plans)
    ranked = min((*rank(lot, settings, seconds), settings) for settings, seconds in plans if seconds == least)
    settings = ranked[-1]
    feeds = tuple(fed.feed for fed in run(lot, settings) or [])
    first = lot.seconds_for_scale(settings[0]) if settings else 0
    return Answer(settings, feeds, (least + first) / 60, ranked[:-1])
