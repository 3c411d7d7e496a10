"""The folded part "Moisture and rest": the thickness to plane to today for the day the piece is used, and stopping proud."""

from __future__ import annotations

from fractions import Fraction

from thickset.faces.words import digits, words
from thickset.faces.words.event_button import event
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job
from thickset.ground.notation import numbers
from thickset.ground.notation.lengths import INCH
from thickset.planning.passes.model import Plan, Rest
from thickset.planning.passes.moisture import Change, InService, in_service

SAWN = {
    "flatsawn": "Few boards are truly flatsawn. Others change more in thickness than this.",
    "quartersawn": "Few boards are truly quartersawn. Others change less in thickness than this.",
}
SLOWLY = "Wood takes weeks or months to come to the moisture of a room."
NO_NOW = "Enter the boards' moisture now as well. Then the plan says what to plane to today."
NO_THEN = "Enter the moisture in service as well, or the room's temperature and humidity. Then the plan says what to plane to today."
REST = (
    "Wood may move once a face is off. Stand the boards on edge, or lay them flat on stickers, with air all around. Let them rest for "
    "days, not hours."
)
THROUGH = "The first stage is through. Switch off and let the cutterhead stop."
AGAIN = (
    "Then measure each board again at its thickest and thinnest spot and enter it in the run. The finish is planned from that. "
    "If a board is no longer flat, joint it before you measure it."
)


def movement(plan: Plan) -> Markup:
    """Moisture and rest, folded; nothing when neither is entered.

    >>> from thickset.faces.words.example import lot
    >>> movement(lot("7/8")) == ""
    True
    """
    found, rest = in_service(plan.job), plan.rest
    missing = "" if found else _missing(plan.job)
    told = change_to_tell(plan)
    if found is None and rest is None and not missing:
        return EMPTY
    hint = [el("h3", "Moisture"), el("p", missing, class_="hint")] if missing else []
    parts = [*(_moisture(found, plan.job, told) if found else hint), *(_rest(rest, plan) if rest else [])]
    return el("details", el("summary", figure(_heading(found, rest, plan.job))), *parts, class_="folded movement")


def change_to_tell(plan: Plan) -> Change | None:
    """The wood whose thickness today differs from the target by more than half the tolerance: it is told beside the last setting.

    >>> from thickset.faces.words.example import lot
    >>> change_to_tell(lot("7/8")) is None
    True
    """
    return _differs(plan.job) if plan.passes else None


def _differs(job: Job) -> Change | None:
    """The wood whose thickness today differs from the target by more than half the tolerance."""
    found = in_service(job)
    most = found.most if found else None
    if most is None or most.movement is None:
        return None
    return most if abs(most.movement.today - float(job.target)) > float(job.tolerance) / 2 else None


def today_words(one: Change, job: Job) -> str:
    """What a wood is to be planed to today, and for what.

    >>> from thickset.ground.job import document
    >>> board = {"readings": ["1"], "width": "5", "length": "40", "species": "Ash, white"}
    >>> entered = {"thickset": 1, "target": {"thickness": "3/4"}, "boards": [board]}
    >>> job = document.read({**entered, "service": {"moisture_now": 12, "moisture_then": 7}}).job
    >>> today_words(in_service(job).most, job)
    'Ash, white: plane to 0.756 in today, for 3/4 in in service.'
    """
    wanted = job.service.thickness if job.service and job.service.thickness is not None else job.target
    today = fine(one.movement.today, job) if one.movement else ""
    return f"{one.wood}: plane to {today} today, for {words.length(wanted, job.units)} in service."


def today_at_last(plan: Plan) -> Markup:
    """Beside the last setting: the thickness to plane to today, and a tap that takes it for the target; nothing where they agree.

    >>> from thickset.faces.words.example import lot
    >>> today_at_last(lot("7/8")) == ""
    True
    """
    one = change_to_tell(plan)
    if one is None or one.movement is None:
        return EMPTY
    said = el("p", figure(today_words(one, plan.job)))
    return el("div", said, _take(fine(one.movement.today, plan.job), plan.job), class_="for-today")


def today_in_run(job: Job) -> Markup:
    """The same at the last setting of a run, whose target the tap changes; nothing once that was changed in the run.

    >>> from thickset.ground.job.example import small_job
    >>> today_in_run(small_job()) == ""
    True
    """
    one = None if any(each.did == "retarget" for each in job.run) else _differs(job)
    if one is None or one.movement is None:
        return EMPTY
    today = fine(one.movement.today, job)
    retarget = event(did="retarget", thickness=today)
    return el(
        "div",
        el("p", figure(today_words(one, job))),
        el("button", "Plan for ", figure(today), " today", type="button", data_event=retarget),
        class_="for-today",
    )


def _take(today: str, job: Job) -> Markup | None:
    """A tap that takes a thickness for the target; none once a run has begun, which has a target of its own."""
    if job.run:
        return None
    thickness = today.partition(" ")[0]
    said = ("Plan for ", figure(today), " today")
    return el("button", *said, type="button", data_do="take-today", data_thickness=thickness)


def _missing(job: Job) -> str:
    """What is still to be entered before the moisture that is entered says anything."""
    service = job.service
    if service is None:
        return ""
    if service.moisture_now is None:
        then = (service.moisture_then, service.temperature, service.humidity)
        return NO_NOW if any(one is not None for one in then) else ""
    return NO_THEN


def _heading(found: InService | None, rest: Rest | None, job: Job) -> str:
    most = found.most if found else None
    if most and most.movement and fine(most.movement.today, job) == fine(float(job.target), job):
        return f"Moisture: {fine(float(job.target), job)} is today's thickness"
    if most and most.movement:
        return f"Moisture: plane to {fine(most.movement.today, job)} today"
    return f"Rest: stop at {words.length(rest.stop, job.units)}" if rest else "Moisture and rest"


def fine(value: float, job: Job) -> str:
    """A thickness [mm] to a thousandth of an inch or a hundredth of a millimeter.

    >>> from thickset.faces.words.example import lot
    >>> fine(19.2, lot("7/8").job)
    '0.756 in'
    """
    exact = Fraction(value).limit_denominator(10**6)
    return f"{numbers.rounded(exact / INCH, 3)} in" if job.units == "in" else f"{numbers.rounded(exact, 2)} mm"


def _moisture(found: InService, job: Job, told: Change | None) -> list[Markup]:
    then = f"{digits.rounded(found.then)} %"
    room = " by the room's temperature and humidity" if found.room else ""
    said = f"Moisture now {digits.rounded(float(found.now))} %, in service {then}{room}."
    return [
        el("h3", "Moisture"),
        el("p", said),
        *(part for one in found.changes for part in _change(one, job, told)),
        el("p", f"{SAWN[job.service.grain if job.service else 'flatsawn']} {SLOWLY}", class_="hint"),
        ask_button("movement", "Why these figures?"),
    ]


def _change(one: Change, job: Job, told: Change | None) -> list[Markup]:
    """What one wood does, and a tap that takes today's thickness for the target, unless that stands beside the last setting."""
    target = words.length(job.target, job.units)
    if one.movement is None:
        return [el("p", figure(f"{one.wood}: {one.unknown}"))]
    wanted = job.service.thickness if job.service and job.service.thickness is not None else job.target
    then, today = words.length(wanted, job.units), fine(one.movement.today, job)
    if today == fine(float(job.target), job):
        return [el("p", figure(f"{one.wood}: planed to {target} today it is {then} in service."))]
    way = "thin" if one.off < 0 else "thick"
    said = f"{today_words(one, job)} Planed to {target} today it will be {fine(abs(one.off), job)} too {way}."
    take = None if told and told.wood == one.wood else _take(today, job)
    return [el("p", figure(said)), *([take] if take else [])]


def _rest(rest: Rest, plan: Plan) -> list[Markup]:
    first, second = _minutes(plan)
    said = (
        f"{stage_words(plan)} The first stage takes about {words.minutes(first)}, the second about {words.minutes(second)} if no "
        "board moves."
    )
    why = ask_button("rest", "Why these figures?", "Why these figures of the two stages?")
    return [el("h3", "Rest"), el("p", figure(said)), el("p", REST, class_="hint"), el("p", AGAIN, class_="hint"), why]


def _minutes(plan: Plan) -> tuple[Fraction, Fraction]:
    after = plan.rest.after if plan.rest else 0
    none = Fraction(0)
    return sum((p.minutes for p in plan.passes[:after]), none), sum((p.minutes for p in plan.passes[after:]), none)


def stage_words(plan: Plan) -> str:
    """The two stages of a plan in a sentence; nothing without a rest.

    >>> from thickset.faces.words.example import lot
    >>> stage_words(lot("7/8"))
    ''
    """
    rest, count = plan.rest, len(plan.passes)
    if rest is None:
        return ""
    stop = words.length(rest.stop, plan.job.units)
    first = words.pass_numbers([*range(1, rest.after + 1)]).capitalize()
    second = words.pass_numbers([*range(rest.after + 1, count + 1)]).capitalize()
    verb = "stops" if rest.after == 1 else "stop"
    finish = "finishes" if count == rest.after + 1 else "finish"
    return f"Two stages. {first} {verb} at {stop}. The boards rest and are measured again. {second} {finish}."
