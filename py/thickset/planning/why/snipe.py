"""Why so much is cut off each end of a board: how far snipe reaches, in which passes, and the trim."""

from __future__ import annotations

from collections.abc import Iterator

from thickset.ground.job.job import Ends, Job
from thickset.ground.notation.lengths import read
from thickset.planning.passes.model import Plan
from thickset.planning.passes.rules import PRACTICE, Rule
from thickset.planning.run.report import settings_of
from thickset.planning.run.snipe import Sniped, feedings_of, planned_feedings, sniped
from thickset.planning.why.passes import ruled
from thickset.planning.why.reason import Reason, length

CUT_OFF = Rule(
    "In each pass the end of a board that leads gets the snipe of the leading end, the other that of the trailing end. An end is "
    "cut off as far as the longest snipe that stays on it, and no less than the trim. Snipe is on the face that was up: once later "
    "passes have taken 1/32 in (0.8 mm) off that face, it is planed away.",
    PRACTICE,
    "common practice",
    "Snipe that is no longer than was entered and no deeper than 1/32 in (0.8 mm). One pass does not add to another's.",
)
FOLLOWED = {
    "alone": "Boards are fed one by one, so each pass snipes both ends.",
    "butted": "Boards at one thickness are butted, so a pass snipes only the first one's leading end and the last one's trailing end. Those that "
    "are still uneven, or thinner than the one before, go alone.",
    "guarded": "Scrap goes before and behind, so the snipe stays in the scrap and only the trim is cut off.",
}


def ends_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for what is cut off end 1 and end 2 of each board [mm], as the boards are fed and as if they were butted; none
    where neither snipe nor trim is entered.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> list(ends_reasons(make_plan(small_job())))
    []
    """
    job = plan.job
    if not (job.planer.snipe_lead or job.planer.snipe_trail or job.cutting.trim):
        return
    if not what or what.startswith("ends"):
        yield from _each_end(plan, "ends", job.cutting.ends)
    if what.startswith("butted"):
        yield from _each_end(plan, "butted", "butted")


def _each_end(plan: Plan, at: str, followed: Ends) -> Iterator[Reason]:
    job = plan.job
    feedings = planned_feedings(plan) if at == "butted" else feedings_of(plan)
    for n, (board, kept) in enumerate(zip(job.boards, sniped(job, feedings, followed), strict=True)):
        for k, one in enumerate(kept):
            lost, whose = one.lost(job), f"Board {board.name}, {one.which}" if one.which else f"Board {board.name}"
            for end, reached, off in ((1, one.end_1, lost.end_1), (2, one.end_2, lost.end_2)):
                put_in = [length("t", "trim, as entered or none", job.cutting.trim)]
                lead, trail = job.planer.snipe_lead, job.planer.snipe_trail
                if reached.leads and lead:
                    put_in.append(length("a", f"snipe at the end that leads, {_from(job, 'lead')}", lead))
                if reached.trails and trail:
                    put_in.append(length("b", f"snipe at the end that trails, {_from(job, 'trail')}", trail))
                symbols = ", ".join(each.symbol for each in put_in)
                steps = (("c", f"max({symbols})" if len(put_in) > 1 else symbols),)
                also = f"{FOLLOWED[followed]} {_passes(reached, end)}"
                place = f"{at}[{n}].end_{end}" if len(kept) == 1 else f"{at}[{n}][{k}].end_{end}"
                result = length("c", "cut off", off)
                yield ruled(place, f"{whose}: cut off end {end}", result, CUT_OFF, tuple(put_in), steps, also=also)


def _from(job: Job, end: str) -> str:
    """Whether a snipe is what was learned of the planer, or what was entered."""
    record, value = job.planer.record, job.planer.snipe_lead if end == "lead" else job.planer.snipe_trail
    learned = settings_of(record, job.units).get(f"planer.snipe.{end}") if record else None
    if record is None or learned is None or value != read(learned, job.units, zero=True):
        return "as entered"
    return f"as learned: the longest of {record.sniped} measured"


def _passes(sniped: Sniped, end: int) -> str:
    told = [
        f"{how} in {'pass' if len(passes) == 1 else 'passes'} {', '.join(map(str, passes))}"
        for how, passes in (("leads", sniped.leads), ("trails", sniped.trails))
        if passes
    ]
    return f"End {end} {' and '.join(told)}." if told else f"No snipe stays on end {end}."
