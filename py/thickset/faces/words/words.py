"""The words of numbers: settings, turns of the handle, feeds, minutes, boards. One way to say each, everywhere."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from thickset.ground.job.entries import show_feed
from thickset.ground.job.job import Board, Job
from thickset.ground.notation import numbers
from thickset.ground.notation.lengths import INCH, Units, near, on_scale
from thickset.planning.passes.scale import ScaleSetting
from thickset.planning.passes.turns import Turn

HANDLE_MARKS = 16
"""Parts of a turn that can be judged on a handle; others are said in decimals. Common practice, no source."""


@lru_cache(maxsize=2048)
def length(value: Fraction, units: Units) -> str:
    """A length [mm] as the scale shows it.

    >>> length(Fraction("23.8125"), "in"), length(Fraction("26.6"), "mm")
    ('15/16 in', '26.6 mm')
    """
    return near(value, units)


FIRST_PIECE = "Scale unknown: measure one piece first."
"""Said of the first pass on a scale of which nothing is known."""


def setting(value: Fraction, units: Units) -> str:
    """A setting [mm]; in the other unit too where the scale has no mark for it.

    >>> setting(Fraction("23.8125"), "in"), setting(Fraction(22), "in")
    ('15/16 in', '0.866 in (22 mm)')
    """
    return on_scale(value, units)


def reading(scale: Fraction, job: Job) -> tuple[str, str]:
    """What a scale reads [mm]: the nearest mark, and what it is over or under where it lies between two.

    >>> from thickset.ground.job.example import small_job
    >>> reading(Fraction("22.8"), small_job()), reading(Fraction("22.83"), small_job())
    (('22.8 mm', ''), ('22.8 mm', 'and a quarter mark over (0.03 mm)'))
    """
    step = job.planer.step
    mark = round(scale / step) * step
    off = scale - mark
    if off == 0:
        return setting(scale, job.units), ""
    small = near(abs(off), job.units, 3 if job.units == "mm" else 2)
    return setting(mark, job.units), f"and {part_of_mark(off / step)} {'over' if off > 0 else 'under'} ({small})"


def opening(way: ScaleSetting, job: Job) -> str:
    """What stands beside what the scale reads: what it then opens to, of a first try the setting too; nothing where the scale reads the setting.

    >>> from thickset.ground.job.example import small_job
    >>> opening(ScaleSetting(Fraction(23), Fraction("22.8")), small_job())
    'opens to 23 mm'
    >>> opening(ScaleSetting(Fraction(23), Fraction("23.2"), Fraction("0.2")), small_job())
    'for the first try, 0.2 mm proud of 23 mm'
    """
    if way.is_bare:
        return ""
    proud = f"for the first try, {length(way.aim, job.units)} proud of {setting(way.setting, job.units)}"
    opens = f"opens to {setting(way.opens, job.units)}"
    return opens if not way.aim else proud if way.scale == way.opens else f"{opens} {proud}"


def set_to(way: ScaleSetting, job: Job) -> str:
    """A setting as it is set: what the scale reads first, what it then opens to beside it.

    >>> from thickset.ground.job.example import small_job
    >>> set_to(ScaleSetting(Fraction(23), Fraction(23)), small_job())
    '23 mm'
    >>> set_to(ScaleSetting(Fraction(23), Fraction("22.83")), small_job())
    'scale at 22.8 mm and a quarter mark over (0.03 mm), opens to 23 mm'
    """
    if way.is_bare:
        return setting(way.setting, job.units)
    read = " ".join(part for part in reading(way.scale, job) if part)
    return f"scale at {read}, {opening(way, job)}"


@lru_cache(maxsize=256)
def feed(value: Fraction, units: Units) -> str:
    """A feed [m/min] in the unit of the job.

    >>> feed(Fraction("8.5344"), "in"), feed(Fraction(5), "mm")
    ('28 ft/min', '5 m/min')
    """
    return show_feed(value, units).partition(" (")[0]


@lru_cache(maxsize=256)
def turns(value: Fraction) -> str:
    """Turns of the handle [1], whichever way.

    >>> [turns(Fraction(n)) for n in ("1", "-1/2", "5/4", "0.4", "1/3")]
    ['1 turn', '1/2 turn', '1 1/4 turns', '0.4 turn', 'about 0.33 turn']
    """
    many = abs(value)
    name = "turn" if many <= 1 else "turns"
    if HANDLE_MARKS % many.denominator == 0:
        return f"{numbers.mixed(many)} {name}"
    exact = numbers.decimal(many, 2)
    return f"{exact} {name}" if exact else f"about {numbers.rounded(many, 2)} {name}"


def judged_turns(value: Fraction) -> Fraction:
    """Turns of the handle [1] to the nearest that a hand can judge, whichever way.

    >>> judged_turns(Fraction("-0.12"))
    Fraction(1, 8)
    """
    return Fraction(round(abs(value) * HANDLE_MARKS), HANDLE_MARKS)


def handle(value: Fraction) -> str:
    """Turns of the handle [1] as near as a hand can judge them.

    >>> [handle(Fraction(n)) for n in ("1/2", "0.12", "-1.01", "0.02")]
    ['1/2 turn', 'about 1/8 turn', 'about 1 turn', 'under 1/16 turn']
    """
    judged = judged_turns(value)
    if not judged:
        return f"under 1/{HANDLE_MARKS} turn"
    return turns(judged) if judged == abs(value) else f"about {turns(judged)}"


def turn(way: Turn, what: str = "") -> str:
    """What to do to turn a board so; `what` is turned.

    >>> turn(Turn.FLIPPED), turn(Turn.ROLLED_OVER, "it"), turn(Turn.SWUNG_ROUND)
    ('Flip end over end', 'Roll it over', 'Swing round, same face up')
    """
    do, *how = {
        Turn.AS_IT_LIES: ("Leave", "as it lies"),
        Turn.FLIPPED: ("Flip", "end over end"),
        Turn.ROLLED_OVER: ("Roll", "over"),
        Turn.SWUNG_ROUND: ("Swing", "round, same face up"),
    }[way]
    return " ".join(part for part in (do, what, *how) if part)


def part_of_mark(value: Fraction) -> str:
    """How far between two marks of a scale [marks], as one judges it by eye: up to half a mark, whichever way.

    >>> [part_of_mark(Fraction(n)) for n in ("0.05", "-0.2", "0.45")]
    ['a hair', 'a quarter mark', 'half a mark']
    """
    return ("a hair", "a quarter mark", "half a mark")[round(abs(value) * 4)]


def under_target(boards_under: Iterable[tuple[str, Fraction]], units: Units) -> list[str]:
    """A line for each amount [mm] by which boards [name, amount] are under the target.

    >>> under_target([("A", Fraction("0.4")), ("B", Fraction("0.4")), ("C", Fraction(1))], "mm")
    ['Under the target by 0.4 mm: A and B.', 'Under the target by 1 mm: C.']
    """
    groups: dict[str, list[str]] = {}
    for name, short in boards_under:
        groups.setdefault(length(short, units), []).append(name)
    return [f"Under the target by {short}: {listed(names)}." for short, names in groups.items()]


def direction(moves: str, *, closer: bool) -> str:
    """Which way the handle moves what it moves ["table" or "head"].

    >>> direction("table", closer=True), direction("head", closer=True), direction("table", closer=False)
    ('table up', 'cutterhead down', 'table down')
    """
    what = "table" if moves == "table" else "cutterhead"
    return f"{what} {'up' if closer == (moves == 'table') else 'down'}"


def about(value: Fraction, units: Units) -> str:
    """A length [mm] no finer than a tape measure is read at a glance.

    >>> about(Fraction("613.33"), "mm"), about(Fraction("600"), "in")
    ('613 mm', '23 5/8 in')
    """
    return f"{round(value)} mm" if units == "mm" else f"{numbers.mixed(Fraction(round(value / INCH * 8), 8))} in"


def less(value: Fraction) -> str:
    """Time [min] that is saved or lost, in a sentence.

    >>> less(Fraction("0.1")), less(Fraction(3))
    ('less than half a minute', '3 min')
    """
    return "less than half a minute" if value < Fraction(1, 4) else minutes(value)


@lru_cache(maxsize=256)
def minutes(value: Fraction) -> str:
    """Time [min] as one would say it: half minutes up to ten, whole ones up to an hour and a half, then hours.

    >>> [minutes(Fraction(n)) for n in ("0.1", "0.6", "1.07", "1.3", "9.658", "11.34", "110.4", "120")]
    ['under 1/2 min', '1/2 min', '1 min', '1 1/2 min', '9 1/2 min', '11 min', '1 h 50 min', '2 h']
    """
    if value < Fraction(1, 4):
        return "under 1/2 min"
    if value < 10:
        return f"{numbers.mixed(Fraction(round(value * 2), 2))} min"
    whole = round(value)
    if whole < 90:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def listed(names: Sequence[str]) -> str:
    """Names in a sentence.

    >>> listed(["A"]), listed(["A", "B"]), listed(["A", "B", "C"])
    ('A', 'A and B', 'A, B and C')
    """
    return " and ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else "".join(names)


def boards(count: int) -> str:
    """How many boards [count].

    >>> boards(1), boards(2000)
    ('1 board', '2,000 boards')
    """
    return "1 board" if count == 1 else f"{count:,} boards"


def all_of(count: int) -> str:
    """All boards of a lot [count].

    >>> all_of(1), all_of(2), all_of(18)
    ('the board', 'both boards', 'all 18 boards')
    """
    return {1: "the board", 2: "both boards"}.get(count) or f"all {boards(count)}"


def passes(count: int) -> str:
    """How many passes [count].

    >>> passes(1), passes(6)
    ('1 pass', '6 passes')
    """
    return "1 pass" if count == 1 else f"{count} passes"


def board(one: Board) -> str:
    """A board by its name, with how many there are alike.

    >>> board(Board("D", (Fraction(26),), Fraction(210), Fraction(940), count=2))
    'D x2'
    """
    return one.name if one.count == 1 else f"{one.name} x{one.count}"


LISTED_ONE_BY_ONE = 30
"""Names that are still found at a glance in a row of names; more are joined to stretches."""


def stretches(places: Sequence[int], job: Job, names: Sequence[str] = ()) -> list[str]:
    """Boards [index, rising] by their names, or by `names` of the whole lot; many are joined to stretches of the order in which they were entered.

    >>> from thickset.ground.job.document import read
    >>> entered = [{"readings": ["1"], "width": "5", "length": "40"}] * 40
    >>> job = read({"thickset": 1, "target": {"thickness": "3/4"}, "boards": entered}).job
    >>> stretches([0, 1, 3], job), stretches([*range(33), 35], job)
    (['A', 'B', 'D'], ['A to AG (33)', 'AJ'])
    """
    if len(places) <= LISTED_ONE_BY_ONE:
        return [board(replace(job.boards[n], name=names[n]) if names else job.boards[n]) for n in places]
    found = []
    for first, last in _runs(places):
        if last - first < 2:
            found += [board(job.boards[n]) for n in range(first, last + 1)]
        else:
            count = sum(job.boards[n].count for n in range(first, last + 1))
            found.append(f"{job.boards[first].name} to {job.boards[last].name} ({count:,})")
    return found


def butted(rows: Sequence[Sequence[int]], left: int, job: Job) -> list[str]:
    """Which boards [index] of a pass are butted end to end, of so many entries that are `left` to feed; nothing where all go alone.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> job = small_job()
    >>> butted([(0, 1)], 2, job)
    []
    >>> butted([(0, 1)], 3, replace(job, cutting=replace(job.cutting, ends="butted")))
    ['Butt end to end, in this order: A and B.', 'The others go alone.']
    """
    if job.cutting.ends == "alone":
        return []
    if not rows:
        return ["Feed each board alone: no two are at one thickness yet."]
    said = [f"Butt end to end, in this order: {_in_order(row, job)}." for row in rows]
    if job.cutting.ends == "guarded":
        said.append(f"Scrap of the same thickness before the first and behind the last, {long_enough(job)}.")
    if sum(len(row) for row in rows) < left:
        said.append("The others go alone.")
    return said


def long_enough(job: Job) -> str:
    """How long scrap must be that goes through the planer by itself.

    >>> from thickset.ground.job.example import small_job
    >>> long_enough(small_job())
    'no shorter than the planer takes'
    """
    least = job.planer.shortest
    return f"at least {length(least, job.units)} long" if least else "no shorter than the planer takes"


def _in_order(row: Sequence[int], job: Job) -> str:
    names = [board(job.boards[n]) for n in row]
    if len(names) <= LISTED_ONE_BY_ONE:
        return listed(names)
    return f"{', '.join(names[:LISTED_ONE_BY_ONE])} and so on, thick to thin"


def others(places: Sequence[int], job: Job) -> list[str]:
    """Boards [index] that stay out while all the others are named: very many are not named again.

    >>> from thickset.ground.job.example import small_job
    >>> others([0, 1], small_job())
    ['A', 'B']
    """
    if len(places) <= LISTED_ONE_BY_ONE:
        return stretches(places, job)
    return [f"all others ({sum(job.boards[n].count for n in places):,})"]


def pass_numbers(numbers_of: Sequence[int]) -> str:
    """Passes by number [rising].

    >>> pass_numbers([1]), pass_numbers([2, 3, 4]), pass_numbers([1, 2, 5])
    ('pass 1', 'passes 2 to 4', 'passes 1, 2 and 5')
    """
    if len(numbers_of) == 1:
        return f"pass {numbers_of[0]}"
    said: list[str] = []
    for first, last in _runs(numbers_of):
        said += [f"{first} to {last}"] if last - first > 1 else [str(n) for n in range(first, last + 1)]
    return f"passes {listed(said)}"


def _runs(rising: Iterable[int]) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for n in rising:
        if found and n == found[-1][1] + 1:
            found[-1] = (found[-1][0], n)
        else:
            found.append((n, n))
    return found
