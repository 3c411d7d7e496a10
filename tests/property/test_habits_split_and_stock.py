"""Minutes by habit, splits, cutting plans and butting: what holds for them, whatever the lot."""

from fractions import Fraction

from amounts import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import jobs
from thickset.ground.job import document
from thickset.ground.job.job import ProblemsError
from thickset.planning.passes.habits import all_at_every_setting, shares_of
from thickset.planning.passes.model import Plan
from thickset.planning.passes.planner import make_plan
from thickset.planning.passes.split import best_split
from thickset.planning.run.snipe import ENDS, lost_ends
from thickset.planning.stock.leaving import butted_minutes, feeding_order
from thickset.planning.stock.parts import cutting_plan, free_stretches


def planned(job: dict) -> Plan:
    result = document.read(job)
    assume(result.job is not None)
    try:
        return make_plan(result.job)
    except ProblemsError:
        assume(False)
        raise


@examples(60)
@given(jobs())
def test_a_plan_is_never_slower_than_all_boards_through_at_every_setting(job: dict) -> None:
    plan = planned(job)
    assert shares_of(plan).total == plan.minutes
    habit = all_at_every_setting(plan.job)
    if habit is not None and habit.settings != 1:
        assert plan.minutes <= habit.shares.total


@examples(40)
@given(jobs())
def test_a_split_parts_the_boards_and_keeps_its_word(job: dict) -> None:
    plan = planned(job)
    split = best_split(plan)
    if split is None:
        return
    one, two = split.halves
    assert sorted((*one.boards, *two.boards)) == list(range(len(plan.job.boards)))
    assert one.boards
    assert two.boards
    assert split.saved == plan.minutes - one.minutes - two.minutes
    assert split.gained > 0 or split.saved > Fraction(0)


def with_parts(job: dict, lengths: list[tuple[int, int]], snipe: int, kerf: int) -> dict:
    """The job with parts [mm, count], snipe and kerf [mm], and a defect in its first board."""
    boards = [dict(board) for board in job["boards"]]
    boards[0]["defects"] = [{"from": "100 mm", "to": "160 mm"}]
    planer = {**job.get("planer", {}), "snipe": {"lead": f"{snipe} mm", "trail": f"{snipe // 2} mm"}}
    parts = [{"length": f"{length} mm", "count": count} for length, count in lengths]
    return {**job, "boards": boards, "planer": planer, "parts": parts, "cutting": {"kerf": f"{kerf} mm"}}


@examples(60)
@given(
    jobs(),
    st.lists(st.tuples(st.integers(90, 900), st.integers(1, 3)), min_size=1, max_size=3),
    st.integers(0, 120),
    st.integers(0, 5),
)
def test_parts_lie_clear_of_ends_defects_and_each_other(
    job: dict, lengths: list[tuple[int, int]], snipe: int, kerf: int
) -> None:
    plan = planned(with_parts(job, lengths, snipe, kerf))
    made = cutting_plan(plan)
    came_out = [0] * len(lengths)
    for one in made.sawn:
        board = plan.job.boards[one.board]
        free = list(free_stretches(board, one.lost, plan.job.cutting.kerf))
        before = None
        for part in one.parts:
            came_out[part.part] += one.count
            assert part.end - part.start == plan.job.parts[part.part].length
            assert any(start <= part.start and part.end <= end for start, end in free)
            if before is not None:
                assert part.start >= before.end + plan.job.cutting.kerf
            before = part
    assert [a + b for a, b in zip(came_out, made.missing, strict=True)] == [count for _, count in lengths]
    assert 0 <= made.waste <= 1


@examples(60)
@given(jobs())
def test_butting_never_costs_time_and_never_sniped_more_than_alone(job: dict) -> None:
    plan = planned({**job, "planer": {**job.get("planer", {}), "snipe": {"lead": "80 mm", "trail": "50 mm"}}})
    assert butted_minutes(plan) <= plan.minutes
    order = feeding_order(plan)
    assert sorted(order) == list(range(len(plan.job.boards)))
    at = [board.thick for board in plan.job.boards]
    for one in plan.passes:
        row = [at[n] for n in order if n in {fed.board for fed in one.fed}]
        assert row == sorted(row, reverse=True), "a thinner board between two thicker ones can be thrown"
        for fed in one.fed:
            at[fed.board] = one.setting
    for alone, butted, guarded in zip(*(lost_ends(plan, ends) for ends in ENDS), strict=True):
        assert guarded.end_1 <= butted.end_1 <= alone.end_1
        assert guarded.end_2 <= butted.end_2 <= alone.end_2
