"""The surprises at the machine, a row each: its button, what to do about it, what it changes. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple, assert_never

from thickset.ground.job.entries import show_feed
from thickset.ground.job.job import Job, KnownCut
from thickset.ground.job.run_events import Sight
from thickset.ground.notation.lengths import near
from thickset.planning.passes.lot import Piece
from thickset.planning.passes.model import Pass
from thickset.planning.passes.pricing import fastest_for_marks
from thickset.planning.passes.turns import Turn
from thickset.trade.marks import marks_per_inch

EASIER = Fraction(3, 4)
"""Share of the cut that bogged which is planned from now on [1]; common practice, no source."""


@dataclass(frozen=True)
class Change:
    """A job as it is from now on, if there is a plan with it, and what is said then."""

    said: str
    job: Job


@dataclass(frozen=True)
class Answer:
    """What is said in any case, the changes of which the first that leaves a plan is made, the pieces as they are from now on."""

    said: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    pieces: tuple[Piece, ...] | None = None


class Seen(NamedTuple):
    """When it was seen: the job, the pieces, the pass in hand, the board it was seen on [index], boards turned round [index]."""

    job: Job
    pieces: Sequence[Piece]
    feeding: Pass | None
    board: int | None
    swung: frozenset[int]


class Surprise(NamedTuple):
    """One kind of surprise: the words of its button, what it changes and what to do, whether it is asked of which board."""

    button: str
    answer: Callable[[Seen], Answer]
    of_a_board: bool = False


def surprise(what: Sight) -> Surprise:
    """The row of one surprise. One without a row, or a row that is no surprise, is a type error.

    >>> surprise("bog").button
    'The motor bogs'
    """
    match what:
        case "tear-out":
            return Surprise("Torn grain", _tear_out, of_a_board=True)
        case "ridges":
            return Surprise("Ridges across the board", _ridges)
        case "roller marks":
            return Surprise("Fine ridges in the roller's pattern", _roller_marks)
        case "dents":
            return Surprise("Dents from shavings", _dents)
        case "bog":
            return Surprise("The motor bogs", _bog)
        case "stop":
            return Surprise("The machine stopped", _stop)
        case _:
            assert_never(what)


def _dents(_: Seen) -> Answer:
    return Answer(
        (
            "Shavings are not carried off and are pressed into the wood.",
            "Switch off, let the cutterhead stop and lock out the power. Then look into the duct. See that the dust collector runs.",
        )
    )


def _stop(_: Seen) -> Answer:
    return Answer(
        (
            "The run stays as it is. Before you clear anything, switch off, let the cutterhead stop and lock out the power.",
            "Go on where it stands when the planer is safe to run.",
        )
    )


def _tear_out(seen: Seen) -> Answer:
    job, pieces, board, swung = seen.job, seen.pieces, seen.board, seen.swung
    if board is not None and board not in swung:
        turned = tuple(
            replace(piece, placement=piece.placement.turned(Turn.SWUNG_ROUND)) if piece.board == board else piece
            for piece in pieces
        )
        lies = next((piece.next_placement() for piece in turned if piece.board == board), None)
        how = f": face {lies.up} up, end {lies.leads} first" if lies else ""
        return Answer(
            (
                f"Board {job.boards[board].name} meets the knives the other way next{how}.",
                "If it comes out smooth, only flip it end over end from then on.",
            ),
            pieces=turned,
        )
    lighter = _lighter(job)
    if lighter is None:
        cure = "Damp the wood just before the pass, or have the knives sharpened."
        slower = _slowest(job)
        if slower is None:
            return Answer(("The cut is as light and the feed as slow as they can be.", cure))
        return Answer((cure,), (Change("No lighter cut is left: the rest runs at the slowest feed.", slower),))
    most = near(lighter.practice.cut, job.units, 3)
    said = "Both ways tear. Keep each board's direction."
    return Answer((said,), (Change(f"From now on no pass takes more than {most}.", lighter),))


def _lighter(job: Job) -> Job | None:
    """Half the planned cut, on a whole step, no lighter than the rules allow."""
    practice, planer = job.practice, job.planer
    half = min(practice.cut, planer.deepest_cut) / 2 // planer.step * planer.step
    cut = max(half, planer.lightest_cut, practice.finish_cut)
    return replace(job, practice=replace(practice, cut=cut)) if cut < practice.cut else None


def _slowest(job: Job) -> Job | None:
    """The job at the slowest feed alone; None when there is no faster one."""
    slowest = job.planer.feeds[:1]
    return None if job.planer.feeds == slowest else replace(job, planer=replace(job.planer, feeds=slowest))


def _ridges(seen: Seen) -> Answer:
    """More marks per inch in the last passes; without a head these run at the slowest feed in any case (rule 6)."""
    job = seen.job
    head, practice, slowest = job.planer.head, job.practice, job.planer.feeds[0]
    if head is None or fastest_for_marks(job, practice.finish_marks, "finish") == 0:
        said = "The last passes run at the slowest feed already. A knife that stands proud marks alone: have the knives set or jointed."
        return Answer((said,))
    most = marks_per_inch(head.speed, head.marking_knives, slowest)
    said = f"The feed was too fast for the knives: the last passes run at the slowest feed, {show_feed(slowest, job.units)}."
    return Answer(changes=(Change(said, replace(job, practice=replace(practice, finish_marks=most))),))


def _roller_marks(seen: Seen) -> Answer:
    job = seen.job
    planer, practice = job.planer, job.practice
    lightest = planer.lightest_cut + planer.step
    if lightest > min(practice.cut, planer.deepest_cut):
        return Answer(("The cut cannot be deeper. Ease the pressure of the infeed roller as the manual says.",))
    deeper = replace(
        job,
        planer=replace(planer, lightest_cut=lightest),
        practice=replace(practice, finish_cut=max(practice.finish_cut, lightest)),
    )
    least = near(lightest, job.units, 3)
    return Answer(
        ("The cut was too light to plane off what the infeed roller pressed in.",),
        (Change(f"From now on no cut is under {least}. Enter it as this planer's lightest cut.", deeper),),
    )


def _bog(seen: Seen) -> Answer:
    job, feeding = seen.job, seen.feeding
    first = (
        "Stand aside. If the motor stalls, switch off and let the cutterhead stop.",
        "Unplug the planer or lock it out. Only then open it and take the board out.",
    )
    if feeding is None or not feeding.fed:
        return Answer(first)
    lowered = _bogged(job, feeding)
    at = show_feed(lowered.feed, job.units).partition(" (")[0]
    most = f"{near(lowered.depth, job.units)} off {near(lowered.width, job.units)} of width at {at}"
    easier = replace(job, planer=replace(job.planer, known_cut=lowered))
    changes = [Change(f"From now on {most} is the most.", easier)]
    practice, planer = job.practice, job.planer
    finish = max(planer.lightest_cut, practice.finish_cut / 2 // planer.step * planer.step)
    if finish < practice.finish_cut:
        light = replace(easier, practice=replace(practice, finish_cut=finish))
        said = f"From now on {most} is the most, and finish cuts are {near(finish, job.units, 3)}."
        changes.append(Change(said, light))
    return Answer((*first, "Dull knives bog sooner."), tuple(changes))


def _bogged(job: Job, feeding: Pass) -> KnownCut:
    """The cut that is taken well from now on: less than the hardest of the pass that bogged, and than what was known."""
    known = job.planer.known_cut
    if known is not None:
        hardest = max(fed.load for fed in feeding.fed if fed.load is not None)  # no plan loads more than the proven cut
        return replace(known, depth=known.depth * hardest * EASIER)
    worst = max(feeding.fed, key=lambda fed: (job.boards[fed.board].width * fed.cut, -fed.board))
    board = job.boards[worst.board]
    return KnownCut(board.width, worst.cut * EASIER, feeding.feed, board.species, board.gravity)
