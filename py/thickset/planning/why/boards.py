"""Why a board is cut so, loads so, goes in so, and ends so."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from thickset.ground.job.job import Board
from thickset.ground.woods.species import find
from thickset.planning.passes.model import Fed, Outcome, Pass, Plan
from thickset.planning.passes.outcomes import outcome_name, short_by
from thickset.planning.passes.rules import RULES, Rule
from thickset.planning.passes.stages import stop_above
from thickset.planning.why.passes import computed, ruled
from thickset.planning.why.reason import Check, Choice, Quantity, Reason, count, length
from thickset.trade.load import load_limit, load_ratio


def _before(plan: Plan, one: Pass, place: int) -> Fraction:
    """A board's thick spot [mm] when it comes to a pass: at most the setting before."""
    thick = plan.job.boards[place].thick
    return min(thick, plan.passes[one.number - 2].setting) if one.number > 1 else thick


def cut(plan: Plan, one: Pass, fed: Fed, at: str) -> Reason:
    """Why a pass takes so much off a board (rules 2, 3 and 5).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> cut(plan, plan.passes[0], plan.passes[0].fed[0], "").steps
    (('c', 'h − S'),)
    """
    job, board = plan.job, plan.job.boards[fed.board]
    planer = job.planer
    before = length("h", "its thick spot now", _before(plan, one, fed.board))
    setting, result = length("S", "setting", one.setting), length("c", "cut", fed.cut)
    checks = [
        Check(before, ">", setting),
        Check(result, "≤", length("C", "planned cut", job.practice.cut)),
        Check(result, "≤", length("D", "the planer's deepest cut", planer.deepest_cut)),
    ]
    if planer.known_cut:
        known = planer.known_cut
        gravity, known_gravity = _gravities(board, plan)
        limit = load_limit(board.width, one.feed, gravity, known.width, known.depth, known.feed, known_gravity)
        checks.append(Check(result, "≤", length("d", "load limit at this feed", limit)))
    title = f"Cut of board {board.name} in pass {one.number}"
    steps = (("c", "h − S"),)
    return ruled(at, title, result, RULES[3], (before, setting), steps, tuple(checks), also=RULES[2].words)


def _gravities(board: Board, plan: Plan) -> tuple[Fraction, Fraction]:
    known = plan.job.planer.known_cut
    if known is None or known.gravity is None or board.gravity is None:
        return Fraction(1), Fraction(1)
    return board.gravity, known.gravity


def load(plan: Plan, one: Pass, fed: Fed, at: str) -> Reason:
    """Why a cut loads the motor so, by the formula of the trade (rule 5).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> load(plan, plan.passes[0], plan.passes[0].fed[0], "").result.value is None
    True
    """
    known, board, units = plan.job.planer.known_cut, plan.job.boards[fed.board], plan.job.units
    title = f"Load of board {board.name} in pass {one.number}"
    if known is None:
        words = "Without a proven cut there is nothing to measure the load by."
        return replace(computed(at, title, None, load_ratio, units), rule=words)
    gravity, known_gravity = _gravities(board, plan)
    numbers = {
        "width": board.width,
        "depth": fed.cut,
        "feed": one.feed,
        "gravity": gravity,
        "known_width": known.width,
        "known_depth": known.depth,
        "known_feed": known.feed,
        "known_gravity": known_gravity,
    }
    also = "A wood that is not named counts like the other's."
    reason = computed(at, title, fed.load, load_ratio, units, numbers, also)
    woods = {"G": _wood(board.species), "G0": _wood(known.species)}
    if board.gravity is None or known.gravity is None:
        woods = dict.fromkeys(woods, "not known of both woods: they count alike")
    told = (
        each._replace(words=f"{each.words} ({wood})") if (wood := woods.get(each.symbol)) else each
        for each in reason.put_in
    )
    limit = Check(reason.result, "≤", Quantity("", "as the proven cut", 1, "share"))
    return replace(reason, put_in=tuple(told), checks=(limit,))


def _wood(name: str | None) -> str:
    """A wood by its name, and how its gravity is known."""
    wood = find(name) if name else None
    return f"{name}, {wood.source}, {wood.gravity_known}" if wood else name or ""


def clean(plan: Plan, one: Pass, fed: Fed, at: str) -> Reason:
    """Why the face that is up has cleaned up after a pass, or not yet.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> clean(plan, plan.passes[0], plan.passes[0].fed[0], "").result.value
    'yes'
    """
    board = plan.job.boards[fed.board]
    rule = Rule(
        "A face has cleaned up when the cutter has touched all of it: the setting is no higher than the thin spot. Once the first "
        "face has cleaned up the board is flipped before each pass.",
        "follows from what a setting is",
        "derived",
        RULES[10].limits,
    )
    put_in = (length("S", "setting", one.setting), length("t", "its thin spot", board.thin))
    result = Quantity("S ≤ t", "clean", "yes" if fed.clean else "no", "word")
    title = f"Board {board.name} cleaned up after pass {one.number}"
    return ruled(at, title, result, rule, put_in, (("", "S ≤ t"),))


def _turned_before(plan: Plan, one: Pass, place: int) -> tuple[int | None, int]:
    """The pass in which a board's top came clean, if before this one, and how often it was turned up to this pass."""
    board = plan.job.boards[place]
    cleaned = (p.number for p in plan.passes[: one.number - 1] if p.setting <= board.thin and p.setting < board.thick)
    since = next(cleaned, None)
    return since, one.number - since if since else 0


def _way_in(plan: Plan, one: Pass, fed: Fed, at: str, title: str, result: Quantity, words: tuple[str, str]) -> Reason:
    since, times = _turned_before(plan, one, fed.board)
    turned = count(
        "k", "times it has been flipped end over end by now: once for each pass since its top cleaned up", times
    )
    words_for_e = "pass in which its top cleaned up"
    cleaned = (
        Quantity("e", words_for_e, "none before this one", "word") if since is None else count("e", words_for_e, since)
    )
    choices = tuple(
        Choice(f"{way}: flipped an {parity} number of times", (), None, "this one" if taken else "not so", taken)
        for way, parity, taken in ((words[0], "even", times % 2 == 0), (words[1], "odd", times % 2 == 1))
    )
    steps = (("k", "p − e"),) if since is not None else ()
    put_in: tuple[Quantity, ...] = (count("p", "this pass", one.number), cleaned)
    put_in = put_in if steps else (*put_in, turned)
    return ruled(at, title, result, RULES[7], put_in, steps, choices=choices, between=(turned,) if steps else ())


def up(plan: Plan, one: Pass, fed: Fed, at: str) -> Reason:
    """Why a board goes in with this face up (rule 7).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> up(plan, plan.passes[0], plan.passes[0].fed[0], "").result.value
    'B'
    """
    title = f"Face of board {plan.job.boards[fed.board].name} that is up in pass {one.number}"
    result = Quantity("k", "face up", fed.placement.up, "word")
    return _way_in(plan, one, fed, at, title, result, ("face B", "face A"))


def leads(plan: Plan, one: Pass, fed: Fed, at: str) -> Reason:
    """Why a board goes in with this end first (rule 7).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> leads(plan, plan.passes[1], plan.passes[1].fed[0], "").result.value
    '2'
    """
    title = f"End of board {plan.job.boards[fed.board].name} that leads in pass {one.number}"
    result = Quantity("k", "end that leads", str(fed.placement.leads), "word")
    return _way_in(plan, one, fed, at, title, result, ("end 1", "end 2"))


def taken(plan: Plan, outcome: Outcome, face: str, at: str) -> Reason:
    """Why so much comes off a face of a board: its cuts with that face up.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> taken(plan, plan.outcomes[0], "A", "").steps
    (('w', 'c2 + c4'),)
    """
    board = plan.job.boards[outcome.board]
    cuts = [
        length(f"c{one.number}", f"cut in pass {one.number}", fed.cut)
        for one in plan.passes
        for fed in one.fed
        if fed.board == outcome.board and fed.placement.up == face
    ]
    rule = Rule(
        "What the passes take off at the thick spot while this face is up.",
        "follows from the schedule",
        "derived",
        "At the thick spot. The jointed face A counts from where the jointer left it.",
    )
    result = length("w", f"off face {face}", outcome.taken_a if face == "A" else outcome.taken_b)
    steps = (("w", " + ".join(each.symbol for each in cuts) or "0"),)
    return ruled(at, f"Off face {face} of board {board.name}", result, rule, tuple(cuts), steps)


def short(plan: Plan, outcome: Outcome, at: str) -> Reason:
    """Why a board is so far short of the target, or not at all.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> short(plan, plan.outcomes[0], "").result.value
    Fraction(0, 1)
    """
    board = plan.job.boards[outcome.board]
    title, numbers = f"How far board {board.name} is short", {"target": plan.job.target, "thin": board.thin}
    return computed(at, title, outcome.short, short_by, plan.job.units, numbers)


def outcome(plan: Plan, outcome: Outcome, at: str) -> Reason:
    """Why a board ends so (rule 10): the outcomes in the order in which they are looked at.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> [choice.words for choice in outcome(plan, plan.outcomes[0], "").choices if choice.taken]
    ['both faces']
    """
    job, board = plan.job, plan.job.boards[outcome.board]
    thick, thin = length("h", "its thick spot", board.thick), length("t", "its thin spot", board.thin)
    target = length("T", "target", job.target)
    second = plan.passes[-2].setting if len(plan.passes) > 1 else None
    looks: list[tuple[str, tuple[Check, ...]]] = [
        ("untouched", (Check(thick, "≤", target),)),
        ("short", (Check(thin, "<", target),)),
    ]
    if second is not None:
        second_last = length("S′", "second-last setting", second)
        looks.append(("both faces", (Check(thin, "≥", second_last), Check(thick, ">", second_last))))
    looks.append(("one face", ()))
    name = outcome_name(board, job.target, second)
    choices = []
    decided = False
    for word, checks in looks:
        mine = word == name
        verdict = "this one" if mine else "does not come to that" if decided else "not so"
        choices.append(Choice(word, checks, None, verdict, mine))
        decided = decided or mine
    result = Quantity("", "outcome", outcome.name, "word")
    return ruled(at, f"Outcome of board {board.name}", result, RULES[10], choices=tuple(choices))


def rest(plan: Plan, at: str) -> Reason:
    """Why the first stage stops where it does (rule 12).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> from thickset.planning.passes.stages import resting
    >>> rest(make_plan(resting(small_job(), Fraction(1))), "rest.stop_mm").steps
    (('S', 'T + r'),)
    """
    job, stop = plan.job, plan.rest.stop if plan.rest else None
    numbers = {"target": job.target, "allowance": job.service.rest if job.service else None}
    return computed(at, "Where the boards rest", stop, stop_above, job.units, numbers)


def last_before_the_rest(plan: Plan, at: str) -> Reason:
    """How many passes lie before the rest: those whose settings are no lower than where it stops (rule 12).

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> from thickset.planning.passes.stages import resting
    >>> last_before_the_rest(make_plan(resting(small_job(), Fraction(1))), "rest.after_pass").result.value
    3
    """
    stop = length("S", "where the boards rest", plan.rest.stop if plan.rest else None)
    passes = plan.rest.after if plan.rest else 0
    checks = tuple(
        Check(
            length(f"S{one.number}", f"setting of pass {one.number}", one.setting),
            "≥" if one.number <= passes else "<",
            stop,
        )
        for one in plan.passes[max(0, passes - 1) : passes + 1]
    )
    put_in = (count("K", "passes in all", len(plan.passes)), count("k", "passes below that", len(plan.passes) - passes))
    result = count("n", "passes", passes)
    return ruled(at, "Passes before the rest", result, RULES[12], (*put_in, stop), (("n", "K − k"),), checks)


def alike(plan: Plan, outcome: Outcome, at: str) -> Reason:
    """How many boards an entry stands for: as many as were entered.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> plan = make_plan(small_job())
    >>> alike(plan, plan.outcomes[0], "boards[0].count").result.value
    1
    """
    board = plan.job.boards[outcome.board]
    rule = Rule(
        "As many as were entered, or one when nothing was. They are one entry in the plan and are counted one by one in minutes and parts.",
        "as entered",
        "derived",
        "Boards that are alike.",
    )
    entered = count("N", "boards entered as one", board.count)
    return ruled(at, f"Boards alike, {board.name}", count("n", "boards", board.count), rule, (entered,), (("n", "N"),))


Ask = Callable[[Plan, Pass, Fed, str], Reason]

ABOUT_A_BOARD_IN_A_PASS: dict[str, Ask] = {"cut_mm": cut, "load": load, "clean": clean, "up": up, "leads": leads}
"""What of a board's way through a pass can be asked, by its key in the plan document."""
