"""Why any number of a plan is what it is, by its path in the plan document."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from thickset.ground.job.job import Board
from thickset.ground.notation.lengths import near
from thickset.planning.passes.model import Pass, Plan, TargetRow
from thickset.planning.passes.rules import RULES, Rule
from thickset.planning.passes.stages import of_stage, second_last
from thickset.planning.passes.targets import Crowd, marks_looked_at
from thickset.planning.why import boards as why_boards
from thickset.planning.why.boards import ABOUT_A_BOARD_IN_A_PASS
from thickset.planning.why.formulas import figures, of_formula
from thickset.planning.why.leaving import cutting_reasons
from thickset.planning.why.minutes import habit_reasons
from thickset.planning.why.passes import ABOUT_A_PASS, ruled
from thickset.planning.why.reason import Check, Quantity, Reason, count, length
from thickset.planning.why.record import record_reasons
from thickset.planning.why.rescue import rescue_reasons
from thickset.planning.why.shavings import shavings_reasons
from thickset.planning.why.snipe import ends_reasons
from thickset.planning.why.split_and_report import split_and_report_reasons

MOST_LISTED = 12
"""Boards that are named one by one in a reason; of more only the nearest to the limit."""

MOST_WORK = 2_000_000
"""Numbers that are reasoned about, times what each is seen against [count]; what is left out is said."""

LEAST_REASONS = 200
"""Numbers that are reasoned about of any plan [count]."""

MOST_REASONS = 1500
"""Numbers that are reasoned about at a time [count]: more than that nobody reads, and it takes seconds to write."""

SHORT_NAMES = {
    "setting": "setting_mm",
    "feed": "feed_mm_per_s",
    "cut": "cut_mm",
    "short": "short_mm",
    "stop": "stop_mm",
}
"""What a path may also say."""

ABOUT_THE_PLAN = ("minutes", "decides")
"""What "plan" asks."""

ABOUT_A_BOARD = {"outcome": why_boards.outcome, "count": why_boards.alike, "short_mm": why_boards.short}
"""What of a board can be asked, by its key in the plan document; what is taken off it is asked of a face."""

_PART = re.compile(r"[a-z_]+|\[\d+\]|[AB]")


def reasons(plan: Plan, what: str = "") -> list[Reason]:
    """The reasons for a number of the plan, or for all numbers below a path [as in the plan document]; none if it has none.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> [reason.at for reason in reasons(plan, "passes[1].setting")]
    ['passes[1].setting_mm']
    >>> len(reasons(plan, "passes[1]"))
    17
    """
    return bounded(plan, what)[0]


def bounded(plan: Plan, what: str = "") -> tuple[list[Reason], int]:
    """The same, with how many numbers were left out for the work they would take [count].

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> bounded(make_plan(small_job()))[1]
    0
    """
    if what == "plan":
        return [_reason(plan, path) for path in _all_paths(plan, what) if path in ABOUT_THE_PLAN], 0
    paths = [*_paths(plan, full(what))]
    # A setting is priced beside three others, pass by pass.
    of_one = len(plan.job.boards) + len(plan.passes) ** 2 // 10 + 1
    told = min(MOST_REASONS, max(LEAST_REASONS, MOST_WORK // of_one))
    found = [_reason(plan, path) for path in paths[:told]]
    if len(paths) > told:
        return found, len(paths) - told
    if not what or not found:
        inside = _below(full(what))
        by_formula = figures(plan, what)
        found += [of_formula(path, title, answer) for path, title, answer in by_formula if inside.match(path)]
        found += cutting_reasons(plan, what)
        others = (
            *habit_reasons(plan, what),
            *split_and_report_reasons(plan, what),
            *ends_reasons(plan, what),
            *record_reasons(plan, what),
            *rescue_reasons(plan, what),
            *shavings_reasons(plan, what),
        )
        found += [one for one in others if inside.match(one.at)]
    return found, 0


def full(what: str) -> str:
    """A path as it stands in the plan document.

    >>> full("passes[1].fed[0].cut"), full("decides")
    ('passes[1].fed[0].cut_mm', 'decides')
    """
    head, dot, last = what.strip().rpartition(".")
    if head == "decides":  # its board, reading and thickness have one reason
        return head
    return f"{head}{dot}{SHORT_NAMES.get(last, last)}"


def _paths(plan: Plan, below: str) -> Iterator[str]:
    """Every path that can be asked, the whole plan first; those that are `below` or lie under it."""
    inside = _below(below)
    return (path for path in _all_paths(plan, below) if inside.match(path))


def _below(path: str) -> re.Pattern[str]:
    return re.compile(re.escape(path) + r"(?![a-z_0-9])") if path else re.compile("")


def _all_paths(plan: Plan, below: str) -> Iterator[str]:
    if plan.passes:
        yield "minutes"
    yield "decides"
    if plan.rest:
        yield from ("rest.stop_mm", "rest.after_pass", "rest.first_minutes", "rest.second_minutes")
    for p, one in enumerate(plan.passes):
        at = f"passes[{p}]"
        if below.startswith("passes[") and not below.startswith(at):
            continue
        yield from (f"{at}.{key}" for key in ABOUT_A_PASS if key != "for_scale" or one.for_scale)
        for n in range(len(one.fed)):
            yield from (f"{at}.fed[{n}].{key}" for key in ABOUT_A_BOARD_IN_A_PASS)
    for n in range(len(plan.outcomes)):
        yield from (f"boards[{n}].{key}" for key in ("outcome", "count", "short_mm", "taken_mm.A", "taken_mm.B"))
    for n in range(len(plan.targets)):
        yield from (f"targets[{n}].{key}" for key in ("target_mm", "both_sides"))


def _reason(plan: Plan, path: str) -> Reason:
    parts = _PART.findall(path)
    if path == "minutes":
        return _minutes(plan)
    if path == "decides":
        return _decides(plan)
    if path == "rest.stop_mm":
        return why_boards.rest(plan, path)
    if path == "rest.after_pass":
        return why_boards.last_before_the_rest(plan, path)
    if parts[0] == "rest":
        return _minutes_of_stage(plan, path)
    place = int(parts[1][1:-1])
    if parts[0] == "passes":
        one = plan.passes[place]
        if parts[2] != "fed":
            return _about_a_pass(plan, one, parts[2], path)
        return ABOUT_A_BOARD_IN_A_PASS[parts[4]](plan, one, one.fed[int(parts[3][1:-1])], path)
    if parts[0] == "targets":
        return (_target if parts[2] == "target_mm" else _makes_it)(plan, plan.targets[place], path)
    outcome = plan.outcomes[place]
    if parts[2] == "taken_mm":
        return why_boards.taken(plan, outcome, parts[3], path)
    return ABOUT_A_BOARD[parts[2]](plan, outcome, path)


def _about_a_pass(plan: Plan, one: Pass, key: str, path: str) -> Reason:
    """Where the boards rest, a pass is asked of its own stage, which has a target and passes of its own."""
    view = of_stage(plan, one)
    reason = ABOUT_A_PASS[key](view.plan, view.one, path)
    rest = plan.rest
    if rest is None:
        return reason
    if view.stage == 1:
        stop = near(rest.stop, plan.job.units)
        told = f"This pass belongs to the first stage, which stops at {stop} for the rest: that is its target T."
    else:
        told = f"This is pass {view.one.number} after the rest; it is counted from there, for boards that did not move in the rest."
    title = reason.title.replace(f"pass {view.one.number}", f"pass {one.number}")
    return replace(reason, title=title, rule=f"{reason.rule} {told}")


def _minutes(plan: Plan) -> Reason:
    times = tuple(Quantity(f"t{one.number}", f"pass {one.number}", one.minutes, "minutes") for one in plan.passes)
    result = Quantity("t", "whole plan", plan.minutes, "minutes")
    steps = (("t", " + ".join(each.symbol for each in times)),)
    return ruled("minutes", "Minutes of the whole plan", result, RULES[9], times, steps)


def _minutes_of_stage(plan: Plan, at: str) -> Reason:
    """The passes before the rest, or those after it, added up."""
    after, first = plan.rest.after if plan.rest else 0, at.endswith("first_minutes")
    passes = plan.passes[:after] if first else plan.passes[after:]
    times = tuple(Quantity(f"t{one.number}", f"pass {one.number}", one.minutes, "minutes") for one in passes)
    result = Quantity("t", "minutes", sum((one.minutes for one in passes), Fraction(0)), "minutes")
    steps = (("t", " + ".join(each.symbol for each in times) or "0"),)
    title = f"Minutes of the {'first' if first else 'second'} stage"
    return ruled(at, title, result, RULES[12], times, steps)


def _decides(plan: Plan) -> Reason:
    boards = sorted(plan.job.boards, key=lambda board: (-board.thick, board.name))[:MOST_LISTED]
    thick = tuple(
        length(f"h{n}", f"board {board.name}: largest of its {len(board.readings)} readings", board.thick)
        for n, board in enumerate(boards, 1)
    )
    rule = Rule(
        "The largest of all readings decides the first setting: every board must go through, and no cut may be deeper than "
        "planned.",
        "follows from what a setting is",
        "derived",
        RULES[2].limits,
    )
    left_out = len(plan.job.boards) - len(boards)
    also = f"Only the thickest {len(boards)} boards are listed." if left_out else ""
    symbols = ", ".join(each.symbol for each in thick)
    steps = (("H", f"max({symbols})" if len(thick) > 1 else symbols),)
    result = length("H", "thick spot of the lot", plan.decides.thickness)
    return ruled("decides", "The thickest spot decides the first setting", result, rule, thick, steps, also=also)


def _makes_it(plan: Plan, row: TargetRow, at: str) -> Reason:
    """Boards that a target leaves planed on both faces, counted."""
    job, second = plan.job, second_last(plan.job, plan.decides.thickness, row.target)
    result = count("N", "planed on both faces", row.both_faces)
    title = "Boards that this target leaves planed on both faces"
    if second is None:
        also = "For this target one pass is left, which planes one face."
        return ruled(at, title, result, RULES[10], (length("T", "target", row.target),), also=also)
    limit = length("S′", "second-last setting for this target", second)
    bare = limit._replace(words="")
    boards = sorted(job.boards, key=lambda board: abs(board.thin - second))
    listed = sorted(boards[:MOST_LISTED], key=lambda board: -board.thin)
    checks = tuple(
        Check(length("t", f"thin spot of {_boards(board)}", board.thin), "≥", bare)
        if board.thick > second or board.thin < second
        else Check(length("h", f"thick spot of {_boards(board)}", board.thick), ">", bare)
        for board in listed
    )
    left_out = len(boards) - len(listed)
    also = f"Listed are the {len(listed)} boards nearest to the limit." if left_out else ""
    put_in = (length("T", "target", row.target), limit)
    return ruled(at, title, result, RULES[10], put_in, (), checks, also=also)


def _boards(board: Board) -> str:
    """A board by its name; of several alike, how many."""
    return f"board {board.name}" + (f" ({board.count} alike)" if board.count > 1 else "")


def _target(plan: Plan, row: TargetRow, at: str) -> Reason:
    """Why a target stands in the table: the thickest mark of the scale that saves so many boards."""
    job = plan.job
    result = length("T", "target", row.target)
    rule = Rule(
        "The job's own target, then the marks of the scale below it that have a plan and at which more boards come out planed on both "
        "faces.",
        "what comes of each board, looked at mark by mark",
        "derived",
        "Marks of the scale only. No thinner than the planer takes.",
    )
    if row.target == job.target:
        return ruled(at, "Target", result, rule, (length("T", "target of the job", job.target),))
    crowd, mark = Crowd(job), marks_looked_at(job)
    here = count("N", "boards that make it at this target", row.both_faces)
    higher = row.target + mark
    made = crowd.both_faces(higher) if crowd.has_plan(higher) else 0
    above = count("N1", "boards that make it one mark higher", made)
    put_in = (length("q", "mark of the scale", mark), count("n", "marks", int(row.target / mark)))
    return ruled(at, "Target", result, rule, put_in, (("T", "n × q"),), (Check(here, ">", above),))
