"""What can still be made of a board that came out thin somewhere: a part from the stretch that is thick enough."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby
from typing import Literal

from thickset.ground.job.job import Job
from thickset.ground.notation.places import ACROSS, ALONG
from thickset.planning.run.report import Final, target_of

Stretch = tuple[Fraction, Fraction]
Part = Literal["shorter", "narrower"]

GRID = (Fraction(0), Fraction(1, 4), Fraction(3, 4), Fraction(1))
"""Where the stretches of a grid of three part, as shares of the board [1]: each half way to its neighbor."""


def shorter_part(final: Final, job: Job) -> Stretch | None:
    """The longest stretch of a board that holds the target, from and to [mm from end 1]; None where there is none.

    Valid: readings with places stand for the stretch half way to the next place, and what was not measured does not count.
    Without places they are taken as even from end 1 to end 2.

    >>> from thickset.ground.job.example import small_job
    >>> final = Final(0, (Fraction(20), Fraction(20), Fraction(19)), Fraction(-1), False)
    >>> [int(spot) for spot in shorter_part(final, small_job())]
    [0, 600]
    """
    return _of(shorter_share(final, job), job.boards[final.board].length)


def shorter_share(final: Final, job: Job) -> Stretch | None:
    """The same as shares of the length [1 from end 1].

    >>> from thickset.ground.job.example import small_job
    >>> final = Final(0, (Fraction(20), Fraction(19)), Fraction(-1), False)
    >>> [str(spot) for spot in shorter_share(final, small_job())]
    ['0', '1/2']
    """
    good = [value >= target_of(job) - job.tolerance for value in final.readings]
    ends: Sequence[Fraction] = GRID
    if _placed(final):
        good = _by_place(final, good, [place.along for place in final.places if place], ALONG)
    else:
        ends = tuple(Fraction(n, len(good)) for n in range(len(good) + 1))
    return _longest(good, ends)


def narrower_part(final: Final, job: Job) -> Stretch | None:
    """The widest strip of a board that holds the target all along, from and to [mm from its left edge]; None without places.

    Valid: readings taken at more than one place across; what was not measured does not count.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.ground.notation.places import Place
    >>> places = tuple(Place("middle", across) for across in ACROSS)
    >>> final = Final(0, (Fraction(19), Fraction(20), Fraction(20)), Fraction(-1), False, places)
    >>> [float(spot) for spot in narrower_part(final, small_job())]
    [37.5, 150.0]
    """
    return _of(narrower_share(final, job), job.boards[final.board].width)


def narrower_share(final: Final, job: Job) -> Stretch | None:
    """The same as shares of the width [1 from the left edge].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.ground.notation.places import Place
    >>> places = tuple(Place("middle", across) for across in ACROSS)
    >>> final = Final(0, (Fraction(19), Fraction(20), Fraction(20)), Fraction(-1), False, places)
    >>> [str(spot) for spot in narrower_share(final, small_job())]
    ['1/4', '1']
    """
    across = [place.across for place in final.places if place]
    if not _placed(final) or len(set(across)) < 2:
        return None
    good = [value >= target_of(job) - job.tolerance for value in final.readings]
    return _longest(_by_place(final, good, across, ACROSS), GRID)


def parts_of(final: Final, job: Job) -> tuple[tuple[Part, Stretch], ...]:
    """The parts that a board which came out too thin still makes, as shares of its length or width [1].

    >>> from thickset.ground.job.example import small_job
    >>> parts_of(Final(0, (Fraction(20),), Fraction(0), True), small_job())
    ()
    """
    if final.good or final.off > 0:
        return ()
    found: tuple[tuple[Part, Stretch | None], ...] = (
        ("shorter", shorter_share(final, job)),
        ("narrower", narrower_share(final, job)),
    )
    return tuple((part, share) for part, share in found if share)


def _of(share: Stretch | None, size: Fraction) -> Stretch | None:
    return (share[0] * size, share[1] * size) if share else None


def _placed(final: Final) -> bool:
    return len(final.places) == len(final.readings) and all(final.places)


def _by_place(final: Final, good: Sequence[bool], where: Sequence[str], order: Sequence[str]) -> list[bool]:
    """Whether each line of the grid was measured and holds the target everywhere it was."""
    found: dict[str, bool] = {}
    for line, holds in zip(where, good, strict=True):
        found[line] = found.get(line, True) and holds
    return [found.get(line, False) for line in order]


def _longest(good: Sequence[bool], ends: Sequence[Fraction]) -> Stretch | None:
    at, best = 0, (Fraction(0), Fraction(0))
    for holds, group in groupby(good):
        upto = at + len(list(group))
        if holds and ends[upto] - ends[at] > best[1] - best[0]:
            best = ends[at], ends[upto]
        at = upto
    return best if best[1] else None
