"""From a job to its plan: the one function that puts the rules together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from thickset.ground.job.job import Job, KnownCut, ProblemsError
from thickset.planning.passes.descent import Descent
from thickset.planning.passes.limits import notes_on, problems_of
from thickset.planning.passes.lot import Piece, fed_again, pieces_of
from thickset.planning.passes.model import Fed, Pass, Plan, Rest, Stage, ThickSpot
from thickset.planning.passes.outcomes import outcomes_of
from thickset.planning.passes.stages import first_stage, stop_of
from thickset.planning.passes.targets import target_rows
from thickset.trade.formula import formula
from thickset.trade.load import load_ratio
from thickset.trade.marks import marks_per_inch


def make_plan(job: Job) -> Plan:
    """The plan of a job: the fewest minutes that keep the rules. Raises ProblemsError where there is none.

    >>> from thickset.ground.job.example import small_job
    >>> [float(one.setting) for one in make_plan(small_job()).passes]
    [23.0, 21.6, 20.8, 20.0]
    """
    if problems := problems_of(job):
        raise ProblemsError(problems)
    passes, rest = passes_of(job)
    outcomes = outcomes_of(job, passes)
    plan = Plan(
        job=job,
        passes=tuple(passes),
        outcomes=outcomes,
        decides=_decides(job),
        targets=target_rows(job) if any(outcome.name != "both faces" for outcome in outcomes) else (),
        minutes=sum((one.minutes for one in passes), Fraction(0)),
        notes=(),
        rest=rest,
    )
    return replace(plan, notes=notes_on(plan))


def passes_of(job: Job) -> tuple[list[Pass], Rest | None]:
    """The cheapest passes of a job from before its first, in two stages where the boards rest between them [mm].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.stages import resting
    >>> passes, rest = passes_of(resting(small_job(), Fraction(1)))
    >>> [float(one.setting) for one in passes], rest.after
    ([22.6, 21.8, 21.0, 20.5, 20.0], 3)
    """
    pieces = pieces_of(job.boards, job.planer.known_cut)
    stop = stop_of(job)
    if stop is None:
        return passes_for(pieces, job, scale_unknown=job.planer.scale_is_unknown), None
    first = passes_for(pieces, first_stage(job, stop), scale_unknown=job.planer.scale_is_unknown)
    for one in first:
        pieces = [piece.after(one.setting) if piece.thick > one.setting else piece for piece in pieces]
    return [*first, *passes_for(pieces, job, None, len(first) + 1)], Rest(len(first), stop)


def passes_for(
    pieces: Sequence[Piece],
    job: Job,
    last: Fraction | None = None,
    number: int = 1,
    *,
    scale_unknown: bool = False,
) -> list[Pass]:
    """The cheapest passes for pieces where they now stand, from a number on; `last` is where the planer stands [mm].

    `scale_unknown`: the first piece of the first pass tells of the scale. That decides no setting.

    >>> from thickset.ground.job.example import small_job
    >>> [one.number for one in passes_for(pieces_of(small_job().boards, None), small_job(), number=3)]
    [3, 4, 5, 6]
    """
    if not pieces:
        return []
    descent = Descent(pieces, job)
    settings = descent.settings()
    run = _Run(descent, job, pieces)
    passes = []
    for place, setting in enumerate(settings):
        stage: Stage = "finish" if place >= len(settings) - 2 else "rough"
        passes.append(run.through(setting, stage, number + place, last, scale_unknown=scale_unknown and not place))
        last = setting
    return passes


@formula(
    "turns [turns]",
    "From the setting before to this one, over what one turn moves.",
    before="S1 [mm] setting before",
    setting="S2 [mm] this setting",
    turn="u [mm] one turn",
    steps="N = (S1 − S2) / u",
    limits="The screw without play: come to the setting always from the same side.",
    source="a screw moves its lead in each turn",
    known="derived",
)
def turns_between(before: Fraction, setting: Fraction, turn: Fraction) -> Fraction:
    """How far the handle is turned from one setting to the next.

    >>> turns_between(Fraction(23), Fraction(20), Fraction(2))
    Fraction(3, 2)
    """
    return (before - setting) / turn


class _Run:
    """Takes the pieces through one pass after another."""

    def __init__(self, descent: Descent, job: Job, pieces: Sequence[Piece]) -> None:
        self.job, self.pieces = job, pieces
        self.scale, self.stack, self.pricing = descent.scale, descent.stack, descent.pricing
        self.thick = [self.scale.whole(piece.thick) for piece in pieces]
        self.went_in = [(piece.placement, piece.top_clean) for piece in pieces]
        self.load_per_cut: dict[Fraction, Fraction | None] = {}

    def through(
        self, setting: Fraction, stage: Stage, number: int, last: Fraction | None, *, scale_unknown: bool
    ) -> Pass:
        planer = self.job.planer
        low = self.scale.whole(setting)
        place = self.pricing.feed(stage, self.stack.heaviest(max(self.thick), low))
        if place is None:
            raise AssertionError("the settings were chosen to leave a feed")
        feed = planer.feeds[place]
        head = planer.head
        near = self.pricing.is_checked(low)  # its test pieces tell of the scale as well
        return Pass(
            number=number,
            stage=stage,
            setting=setting,
            feed=feed,
            marks=marks_per_inch(head.speed, head.marking_knives, feed) if head else None,
            checked=near or scale_unknown,
            turns=turns_between(last, setting, planer.turn) if planer.turn and last is not None else None,
            fed=tuple(self.feed_boards(setting, low, feed)),
            minutes=self.pricing.minutes_of(low, place, checked=near or scale_unknown),
            for_scale=scale_unknown and not near,
        )

    def feed_boards(self, setting: Fraction, low: int, feed: Fraction) -> Iterator[Fed]:
        if feed not in self.load_per_cut:
            self.load_per_cut[feed] = _load_per_cut(self.job.planer.known_cut, feed)
        per_cut = self.load_per_cut[feed]
        cuts: dict[int, tuple[Fraction, Fraction | None]] = {}
        for n, piece in enumerate(self.pieces):
            deep = self.thick[n] - low
            if deep <= 0:
                continue
            if deep not in cuts:
                cut = self.scale.fraction(deep)
                cuts[deep] = cut, per_cut and cut * per_cut
            cut, per_load = cuts[deep]
            placement, clean = fed_again(*self.went_in[n], piece.thin, setting)
            yield Fed(piece.board, placement, cut, piece.load * per_load if per_load else None, clean)
            self.went_in[n], self.thick[n] = (placement, clean), low


def _load_per_cut(known: KnownCut | None, feed: Fraction) -> Fraction | None:
    """Load [1] per mm of cut and mm of width of the proven cut's wood at a feed [m/min]."""
    one = Fraction(1)
    return load_ratio(one, one, feed, one, known.width, known.depth, known.feed, one) if known else None


def _decides(job: Job) -> ThickSpot:
    """The thickest spot of the lot; of equal ones the first by the board's name."""
    board = min(range(len(job.boards)), key=lambda n: (-job.boards[n].thick, job.boards[n].name))
    readings = job.boards[board].readings
    reading = readings.index(max(readings))
    return ThickSpot(board, reading, readings[reading])
