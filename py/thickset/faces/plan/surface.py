"""The folded part "Surface and load": what the knives leave at each feed, and how hard the boards load the motor."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import groupby

from thickset.faces.picture.surface import surface_picture
from thickset.faces.words import digits, words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.job.job import Job
from thickset.ground.notation.lengths import Units
from thickset.planning.figures.loads import PassLoad, loads
from thickset.planning.figures.surface import Surface, Wanted, surfaces, wanted
from thickset.planning.passes.model import Plan
from thickset.trade.formula import number
from thickset.trade.marks import FINE_MARKS, FINISH_MARKS, FURNITURE_MARKS, surface_named

NO_HEAD = "Enter the cutterhead's speed and knives under Planer to see the marks that they leave at each feed."
NO_CIRCLE = "Enter the cutting circle under Planer to see how high the waves between the marks are."
NO_KNOWN_CUT = "Enter a proven cut under Planer to see how hard each board loads it."
NAMES: dict[Units, str] = {
    "in": f"By marks per inch: furniture from {FURNITURE_MARKS:g}, fine from {FINE_MARKS:g}, finish planed from {FINISH_MARKS:g}.",
    "mm": f"By pitch: furniture to {25.4 / FURNITURE_MARKS:.1f} mm, fine to {25.4 / FINE_MARKS:.1f} mm, finish planed to "
    f"{25.4 / FINISH_MARKS:.1f} mm.",
}
"""What surfaces are called (see trade.marks.surface_named)."""
LOAD_WORDS = "Load is measured against the proven cut, which is 100 %. Thin chips cut harder. By how much is not well known, so it is a range."
WATTS_WORDS = (
    "Watts give no more than the order of magnitude. No verified table of cutting energy exists for solid wood."
)


def surface(plan: Plan) -> Markup:
    """Surface and load of a plan, folded; nothing when nothing is cut.

    >>> from thickset.faces.words.example import lot
    >>> NO_CIRCLE in surface(lot("7/8")), "speed and knives" in surface(lot("7/8")), surface(lot("3/4")) == ""
    (False, True, True)
    """
    if not plan.passes:
        return EMPTY
    return el(
        "details",
        el("summary", "Surface and load"),
        *_surface(plan),
        *_load(plan),
        class_="folded surface",
    )


def _surface(plan: Plan) -> list[Markup]:
    found, job = surfaces(plan), plan.job
    if not found:
        return [el("p", NO_HEAD, class_="hint")]
    both = _pitch_and_marks("Pitch", "Marks per inch", job)
    heads = (el("th", said, scope="col") for said in ("Feed", "Knives that mark", *both, "Wave"))
    table = el(
        "table",
        el("thead", el("tr", *heads)),
        el("tbody", *(_row(one, job) for one in found)),
        class_="figures",
    )
    parts = [el("h3", "The surface at each feed"), table, el("p", NAMES[job.units], class_="hint")]
    if any(one.waves for one in found):
        parts += [surface_picture(found, job), *_three_ways(found, job)]
    else:
        parts.append(el("p", NO_CIRCLE, class_="hint"))
    parts += [el("p", figure(_reach(one, job))) for one in wanted(job)]
    parts.append(ask_button("surface", "Why these figures?"))
    return parts


def _row(one: Surface, job: Job) -> Markup:
    knives = {1: "1 proud", 2: "both"}.get(one.knives) or f"all {one.knives}"
    marks = number(one.marks)
    return el(
        "tr",
        el("th", figure(words.feed(one.feed, job.units)), scope="row"),
        el("td", knives),
        *(
            el("td", said, el("small", f" {surface_named(marks)}") if n == 0 else None)
            for n, said in enumerate(
                _pitch_and_marks(digits.pitch(number(one.pitch), job.units), digits.rounded(marks, 3), job)
            )
        ),
        el("td", digits.wave(one.wave, job.units) if one.wave is not None else "–"),
        data_used="yes" if one.used else "no",
    )


def _pitch_and_marks(pitch: str, marks: str, job: Job) -> tuple[str, str]:
    """Pitch and marks per inch in the order of the job's units."""
    return (marks, pitch) if job.units == "in" else (pitch, marks)


def _three_ways(found: list[Surface], job: Job) -> list[Markup]:
    """The wave at the coarsest surface of the plan by the three formulas."""
    coarsest = max((one for one in found if one.waves and one.used), key=lambda one: one.wave or 0, default=None)
    if coarsest is None:
        return []
    names = {"wave_height": "circle", "wave_height_approx": "short formula", "wave_height_trochoid": "moving board"}
    told = [
        f"{digits.rounded(number(one) * 1000 / (25.4 if job.units == 'in' else 1), 3)} by the {names[one.formula.function.__name__]}"
        for one in coarsest.waves
        if one.formula
    ]
    unit = "thou" if job.units == "in" else "µm"
    note = " A thou is a thousandth of an inch." if job.units == "in" else ""
    return [
        el(
            "p",
            figure(f"Wave at {words.feed(coarsest.feed, job.units)} in {unit}: {words.listed(told)}.{note}"),
            class_="hint",
        )
    ]


def _reach(one: Wanted, job: Job) -> str:
    marks = job.practice.rough_marks if one.stage == "rough" else job.practice.finish_marks
    most = words.feed(Fraction(number(one.feed)), job.units)
    has = f"the fastest feed here that does is {words.feed(one.has, job.units)}" if one.has else "no feed here does"
    wanted = f"{float(marks):g} marks per inch"
    if job.units == "mm":
        wanted = f"A pitch of {25.4 / float(marks):.1f} mm ({wanted})"
    return f"{wanted}, for {one.stage} passes: a feed of {most} or less. {has[0].upper()}{has[1:]}."


def _load(plan: Plan) -> list[Markup]:
    found = loads(plan)
    parts = [el("h3", "Load on each pass")]
    if plan.job.planer.known_cut is None:
        parts.append(el("p", NO_KNOWN_CUT, class_="hint"))
    else:
        parts.append(el("p", LOAD_WORDS, class_="hint"))
    if any(one.watts for one in found):
        parts.append(el("p", WATTS_WORDS, class_="hint"))
    together = groupby(found, key=lambda one: _shared(one, plan.job))
    rows = [row for shared, members in together if (row := _passes(list(members), shared, plan.job))]
    return [*parts, el("ol", *rows, class_="loads")] if rows else parts


def _shared(one: PassLoad, job: Job) -> tuple[str, ...]:
    """What a pass has in common with its neighbors when its cut and feed are theirs: said once for all of them."""
    lines = []
    if one.widest:
        widest = Fraction(number(one.widest))
        at_most = job.planer.widest
        capped = " (the planer's own limit is less)" if at_most and widest > at_most else ""
        lines.append(
            f"Widest board for a cut of {words.length(one.cut, job.units)}: {words.length(widest, job.units)}{capped}"
        )
    lines += _chips(one, job)
    if one.watts and isinstance(one.watts.value, tuple):
        lines.append(f"Some {digits.watts(*one.watts.value)} in the cut")
    return tuple(lines)


def _passes(members: list[PassLoad], shared: tuple[str, ...], job: Job) -> Markup | None:
    """Passes that follow each other and have their lines in common; loads that differ stand one under the other."""
    by_loads: dict[str, list[int]] = {}
    for one in members:
        by_loads.setdefault(_boards(one, job), []).append(one.number)
    if not shared and not any(by_loads):
        return None
    numbers = [one.number for one in members]
    head = el(
        "div",
        el("h4", words.pass_numbers(numbers).capitalize()),
        _why(numbers[0]) if len(by_loads) == 1 else None,
        class_="pass-head",
    )
    lines = []
    for told, which in by_loads.items():
        if not told:
            continue
        if len(by_loads) == 1:
            lines.append(el("p", figure(told)))
        else:
            said = f"{words.pass_numbers(which).capitalize()}: {told}"
            lines.append(el("div", el("p", figure(said)), _why(which[0]), class_="with-ask"))
    return el("li", head, *lines, *(el("p", figure(line)) for line in shared))


def _why(number: int) -> Markup:
    return ask_button(f"loads[{number - 1}]", "Why?", f"Why the load of pass {number}?")


def _boards(one: PassLoad, job: Job) -> str:
    """The loads of a pass's boards, those that are equal said once."""
    alike: dict[str, list[str]] = {}
    for each in one.boards:
        alike.setdefault(digits.share(each.low, each.high), []).append(words.board(job.boards[each.board]))
    told = ", ".join(f"{words.listed(names)} {share}" for share, names in alike.items())
    return told + (f", and {one.more:,} boards with less" if one.more and told else "")


def _chips(one: PassLoad, job: Job) -> list[str]:
    by_name = {each.formula.function.__name__: number(each) for each in one.chips if each.formula}
    if len(by_name) < 4:
        return []
    angle = math.degrees(by_name["engagement_angle"])
    said = (
        f"Chip {digits.pitch(by_name['mean_chip'], job.units)} on the average, {digits.pitch(by_name['thickest_chip'], job.units)} at "
        f"most; each knife is in the wood for {digits.rounded(angle)}°, {digits.pitch(by_name['arc'], job.units)}"
    )
    return [said]
