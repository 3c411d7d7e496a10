"""What makes a job unsafe or impossible, and what to know before the first cut (rule 11)."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from thickset.ground.job.job import Board, Job, Problem, Sketch, problem_with
from thickset.ground.notation.lengths import INCH, Units, near, show
from thickset.ground.woods.species import find, planing_rank
from thickset.planning.passes.model import Note, Plan
from thickset.planning.passes.moisture import beyond, in_service, room_of
from thickset.trade.formula import number

USUAL_DEEPEST = INCH / 16
"""A deeper cut is for heavy planers only [mm]; common practice, no source."""

ROLLER_MARKS = INCH / 64
"""A lighter cut may leave the marks of a serrated infeed roller [mm]; common practice, no source."""


SHORTEST: dict[Units, Fraction] = {"in": 12 * INCH, "mm": Fraction(300)}
"""A shorter board is told where no planer's shortest is entered [mm]; HSE on small pieces at the planer, shop rules of clubs."""

THINNEST: dict[Units, Fraction] = {"in": INCH / 4, "mm": Fraction(6)}
"""A thinner target is told where no planer's thinnest is entered [mm]; common practice, no source."""

BEYOND_ROLLERS: dict[Units, str] = {"in": "2 in", "mm": "50 mm"}
"""How much longer than the distance between the rollers a board must be; a rule of school shops and makerspaces."""


def problems_of(job: Job) -> list[Problem]:
    """All that a planer cannot or must not do, each with the board and the number.

    >>> from thickset.ground.job.example import small_job
    >>> problems_of(small_job())
    []
    """
    sketch = Sketch(job.units, job.target, dict(enumerate(job.boards)), job.planer)
    return [*beyond_planer(sketch), *_about_practice(job), *_about_head(job), *_about_rest(job)]


def notes_on(plan: Plan) -> tuple[Note, ...]:
    """All that is worth saying about a plan that can be run.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.passes.planner import make_plan
    >>> notes_on(make_plan(small_job()))
    ()
    """
    return (
        *_about_passes(plan),
        *_about_small(plan.job),
        *_about_cuts(plan),
        *_about_woods(plan.job),
        *_about_readings(plan),
        *_about_outcomes(plan),
        *_about_gauge(plan),
        *_about_movement(plan),
    )


def beyond_planer(job: Sketch) -> Iterator[Problem]:
    """What the planer does not take, as far as the job could be read.

    >>> from thickset.ground.job.example import small_job
    >>> list(beyond_planer(Sketch("mm", None, {}, small_job().planer)))
    []
    """
    planer = job.planer

    def say(length: Fraction) -> str:
        return near(length, job.units)

    if planer.thinnest and job.target and job.target < planer.thinnest:
        yield Problem(
            "target.thickness",
            f"Target: {say(job.target)} is under {say(planer.thinnest)}, the thinnest this planer takes. Raise the "
            "target, or ask the machine's manual about a carrier board.",
        )
    for n, board in job.boards.items():
        if planer.widest and board.width > planer.widest:
            yield problem_with(
                f"Board {board.name}",
                f"boards[{n}].width",
                f"{say(board.width)} is wider than {say(planer.widest)}, the widest this planer "
                "takes. Rip it, or take it out of the lot.",
            )
        if planer.shortest and board.length < planer.shortest:
            yield problem_with(
                f"Board {board.name}",
                f"boards[{n}].length",
                f"{say(board.length)} is shorter than {say(planer.shortest)}, the shortest that is "
                "safe in this planer. Leave it longer and cut it after planing.",
            )


def _about_practice(job: Job) -> Iterator[Problem]:
    """What is wrong with the finish cut, where the lot is thick enough to get it (rule 1)."""
    practice, planer = job.practice, job.planer
    if max(board.thick for board in job.boards) <= job.target + 2 * practice.finish_cut:
        return
    reach = min(practice.cut, planer.deepest_cut)

    def say(length: Fraction) -> str:
        return near(length, job.units, 3)

    if practice.finish_cut < planer.lightest_cut:
        yield Problem(
            "practice.finish_cut",
            f"Finish cut: {say(practice.finish_cut)} is lighter than the planer's lightest cut, "
            f"{say(planer.lightest_cut)}. {'Raise the finish cut or lower' if planer.lightest_cut <= reach else 'Lower'} "
            "the lightest cut.",
        )
    if practice.finish_cut > reach:
        yield Problem(
            "practice.finish_cut",
            f"Finish cut: {say(practice.finish_cut)} is deeper than the planned cut and the planer's deepest allow, "
            f"{say(reach)}. Lower the finish cut{' or raise the planned cut' if practice.finish_cut <= planer.deepest_cut else ''}.",
        )


def _about_head(job: Job) -> Iterator[Problem]:
    """A knife can be in the wood for a quarter of its turn at most: the cut ends at half the cutting circle."""
    circle = job.planer.head.diameter if job.planer.head else None
    cut = min(job.practice.cut, job.planer.deepest_cut)
    if circle is not None and circle < 2 * cut:
        yield Problem(
            "planer.head.diameter",
            f"Cutting circle: {near(circle, job.units, 3)} is too small for a cut of {near(cut, job.units, 3)}; no knife reaches "
            "deeper than half its circle. Measure the head over the knives, or plan a lighter cut.",
        )


def _about_rest(job: Job) -> Iterator[Problem]:
    """What is left for after a rest must be a cut that can be taken, and one that the tolerance does not swallow."""
    allowance = job.service.rest if job.service else None
    if allowance is None:
        return
    least = max(job.planer.lightest_cut, job.tolerance)
    if allowance < job.planer.lightest_cut or allowance <= job.tolerance:
        said, most = near(allowance, job.units, 3), near(least, job.units, 3)
        which = "the planer's lightest cut" if least == job.planer.lightest_cut else "the tolerance"
        yield Problem(
            "service.rest",
            f"Rest allowance: {said} is too little to plane off after the rest; {which} is {most}. Leave more, two finish "
            f"cuts ({near(2 * job.practice.finish_cut, job.units, 3)}) for both faces, or leave it out.",
        )


def _about_passes(plan: Plan) -> Iterator[Note]:
    practice = plan.job.practice
    if not plan.passes:
        yield Note("nothing-to-cut", "target.thickness", "No board is above the target: there is nothing to cut.")
    for stage, wanted, at in (
        ("rough", practice.rough_marks, "practice.rough_marks"),
        ("finish", practice.finish_marks, "practice.finish_marks"),
    ):
        low = [one for one in plan.passes if one.stage == stage and one.marks is not None and one.marks < wanted]
        if low:
            numbers = ", ".join(str(one.number) for one in low)
            worst = min(one.marks for one in low if one.marks is not None)
            yield Note(
                f"{stage}-marks",
                at,
                f"Pass{'es' if len(low) > 1 else ''} {numbers}: {_too_coarse(float(wanted), float(worst), plan.job)} Expect to sand or "
                "scrape a little more.",
            )


def _too_coarse(wanted: float, worst: float, job: Job) -> str:
    """That no feed leaves the marks per inch wanted, in the words of the job's units."""
    if job.units == "in":
        return f"no feed of this planer leaves {wanted:g} marks per inch. At the slowest it leaves {worst:.0f}."
    pitch = f"{25.4 / wanted:.1f} mm ({wanted:g} marks per inch)"
    return f"no feed of this planer brings the pitch down to {pitch}. At the slowest it is {25.4 / worst:.1f} mm."


def thin_target(job: Job) -> str:
    """What is said of a target that is very thin where the manual's thinnest is not entered; nothing elsewhere.

    >>> from thickset.ground.job.example import small_job
    >>> thin_target(small_job())
    ''
    """
    least = THINNEST[job.units]
    if job.planer.thinnest is not None or job.target >= least:
        return ""
    return (
        f"Target: {near(job.target, job.units)} is under {near(least, job.units)}, and wood so thin can shatter under the knives. "
        "Ask the manual what is the thinnest, and use a carrier board if it allows one."
    )


def _about_small(job: Job) -> Iterator[Note]:
    """Boards and targets so small that a planer may not hold them, where nothing of the manual is entered."""
    planer = job.planer

    def say(length: Fraction) -> str:
        return near(length, job.units)

    least = SHORTEST[job.units]
    for n, board in enumerate(job.boards):
        if planer.shortest is None and board.length < least:
            yield Note(
                "short-board",
                f"boards[{n}].length",
                f"Board {board.name}: {say(board.length)} is under {say(least)}, and a board that the rollers do not hold is thrown. "
                "Feed none shorter than the manual's shortest. If it names none: none shorter than the distance between the rollers "
                f"and {BEYOND_ROLLERS[job.units]} more. Enter that under Planer.",
            )
        if board.width > board.length:
            yield Note(
                "wider-than-long",
                f"boards[{n}].width",
                f"Board {board.name}: it is wider ({say(board.width)}) than long ({say(board.length)}). Never feed a board across its "
                "grain. Check both numbers, or leave it longer until it is planed.",
            )
    if thin := thin_target(job):
        yield Note("thin-target", "target.thickness", thin)


def _about_cuts(plan: Plan) -> Iterator[Note]:
    job = plan.job
    planer, practice = job.planer, job.practice
    if practice.cut > planer.deepest_cut:
        yield Note(
            "cut-limited",
            "practice.cut",
            f"The planned cut is more than the planer's deepest: no pass takes more than {near(planer.deepest_cut, job.units, 3)}.",
            (show(planer.deepest_cut, job.units),),
        )
    heights = [plan.decides.thickness, *(one.setting for one in plan.passes)]
    deepest = max((high - low for high, low in pairwise(heights)), default=Fraction(0))
    if deepest > USUAL_DEEPEST:
        yield Note(
            "deep-cut",
            "practice.cut",
            f"The deepest cut is {near(deepest, job.units)}. More than {'1/16 in' if job.units == 'in' else '1.5 mm'} is for a heavy planer, and tears out sooner.",
        )
    if planer.lightest_cut < ROLLER_MARKS:
        yield Note(
            "roller-marks",
            "planer.lightest_cut",
            f"A cut under about {'1/64 in' if job.units == 'in' else '0.4 mm'} may leave the marks of a serrated infeed roller. Try it on a scrap first.",
        )


def _about_woods(job: Job) -> Iterator[Note]:
    """Woods that chip easily; a rank from one laboratory is advice, no more."""
    seen = set()
    for n, board in enumerate(job.boards):
        wood = find(board.species) if board.species else None
        rank = planing_rank(wood) if wood else None
        if wood is None or rank is None or rank.third < 3 or wood.name in seen:
            continue
        seen.add(wood.name)
        yield Note(
            "chips-easily",
            f"boards[{n}].species",
            f"{wood.name} chips easily: {rank.share} % of the pieces tried came out clean, place {rank.place} of {rank.of} woods. "
            "Lighter cuts and a slower feed help. It is the finding of one laboratory: advice, no more.",
        )


def _about_readings(plan: Plan) -> Iterator[Note]:
    job = plan.job
    reach = min(job.practice.cut, job.planer.deepest_cut)
    for n, board in enumerate(job.boards):
        # Of boards entered as one, the readings are those of the thickest and of the thinnest.
        if board.count == 1 and board.thick - board.thin > reach:
            yield Note(
                "uneven",
                f"boards[{n}].readings",
                f"Board {board.name}: its readings differ by {near(board.thick - board.thin, job.units)}, more than one cut. "
                "Measure it again. If that is right, the first passes cut only its thick spot.",
            )


def _about_outcomes(plan: Plan) -> Iterator[Note]:
    job = plan.job

    def named(board: Board) -> str:
        if board.count == 1:
            return f"Board {board.name}"
        return f"{board.count} boards" if len(job.boards) == 1 else f"{board.count} boards {board.name}"

    for outcome in plan.outcomes:
        board = job.boards[outcome.board]
        at = f"boards[{outcome.board}].readings"
        if outcome.short > 0:
            yield Note(
                "short", at, f"{named(board)}: {near(outcome.short, job.units)} short of the target at the thin spot."
            )
        elif outcome.name == "one face":
            yield Note("one-side", at, f"{named(board)}: only face B is planed, face A stays as jointed.")


def _about_gauge(plan: Plan) -> Iterator[Note]:
    """A gauge too coarse to tell whether a thickness is within the tolerance."""
    job = plan.job
    gauge, half = job.practice.gauge, job.tolerance / 2
    if gauge > half > 0:
        yield Note(
            "gauge",
            "practice.gauge",
            f"What you measure with may be off by {near(gauge, job.units, 3)}, more than half the tolerance of "
            f"{near(job.tolerance, job.units, 3)}. Measure with a caliper, or allow a wider tolerance.",
        )


def _about_movement(plan: Plan) -> Iterator[Note]:
    """A change of thickness beyond the tolerance until the piece is used, and a rest that is not called for."""
    job = plan.job
    found = in_service(job)

    def say(length: float | Fraction) -> str:
        return near(Fraction(length).limit_denominator(10**6), job.units)

    for one in beyond(found, job.tolerance) if found else ():
        if one.movement is None:
            continue
        off = one.off
        yield Note(
            "movement",
            "service.moisture_now",
            f"{one.wood}: planed to {say(job.target)} today it will be {say(abs(off))} too "
            f"{'thin' if off < 0 else 'thick'} in service, more than the tolerance of {say(job.tolerance)}. "
            f"Plane to {say(one.movement.today)} today.",
        )
    service = job.service
    if found and service and not found.room and (service.temperature is not None or service.humidity is not None):
        room = room_of(job)
        comes = f"; wood comes to {number(room):.1f} % in the room" if room else ""
        yield Note(
            "room-unused",
            "service.moisture_then",
            "Both the moisture in service and its room are entered. The plan goes by the moisture, "
            f"{float(found.then):g} %{comes}. Clear one of the two.",
        )
    allowance = service.rest if service else None
    if allowance is not None and plan.rest is None:
        yield Note(
            "no-rest",
            "service.rest",
            f"No board is above {say(job.target + allowance)}, where it would rest: the plan is one stage.",
        )
