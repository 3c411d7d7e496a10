"""Why so much is cut off each end of a board: how far snipe reaches, in which passes, and the trim."""

from __future__ import annotations

from collections.abc import Iterator

from thickset.ground.job import Ends, Job
from thickset.ground.lengths import read
from thickset.planning.after import settings_of
from thickset.planning.ends import Sniped, lost_ends, sniped_ends
from thickset.planning.model import Plan
from thickset.planning.reason import Reason, length
from thickset.planning.rules import PRACTICE, Rule
from thickset.planning.why_passes import ruled

CUT_OFF = Rule(
    "In each pass the end of a board that leads gets the snipe of the leading end, the other that of the trailing end. An end is "
    "cut off as far as the longest snipe that reached it, and no less than the trim.",
    PRACTICE,
    "common practice",
    "snipe that reaches no farther in than was entered, and that one pass does not add to another's.",
)
FOLLOWED = {
    "alone": "Boards are fed one by one, so each pass snipes both ends.",
    "butted": "Boards are butted, so a pass snipes only the first board's leading end and the last one's trailing end.",
    "guarded": "Scrap goes before and behind, so the snipe stays in the scrap and only the trim is cut off.",
}


def ends_reasons(plan: Plan, what: str = "") -> Iterator[Reason]:
    """The reasons for what is cut off end 1 and end 2 of each board [mm], as the boards are fed and as if they were butted; none
    where neither snipe nor trim is entered.

    >>> from thickset.ground.example import small_job
    >>> from thickset.planning.planner import make_plan
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
    whole = zip(job.boards, sniped_ends(plan, followed), lost_ends(plan, followed), strict=True)
    for n, (board, reached, lost) in enumerate(whole):
        for end, sniped, off in ((1, reached[0], lost.end_1), (2, reached[1], lost.end_2)):
            put_in = [length("t", "trim, as entered or none", job.cutting.trim)]
            lead, trail = job.planer.snipe_lead, job.planer.snipe_trail
            if sniped.leads and lead:
                put_in.append(length("a", f"snipe at the end that leads, {_from(job, 'lead')}", lead))
            if sniped.trails and trail:
                put_in.append(length("b", f"snipe at the end that trails, {_from(job, 'trail')}", trail))
            symbols = ", ".join(each.symbol for each in put_in)
            steps = (("c", f"max({symbols})" if len(put_in) > 1 else symbols),)
            title = f"Board {board.name}: cut off end {end}"
            also = f"{FOLLOWED[followed]} {_passes(sniped, end)}"
            result = length("c", "cut off", off)
            yield ruled(f"{at}[{n}].end_{end}", title, result, CUT_OFF, tuple(put_in), steps, also=also)


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
    return f"End {end} {' and '.join(told)}." if told else f"No snipe reaches end {end}."
