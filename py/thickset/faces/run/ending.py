"""What came out of a run so far: the boards at its end, those that are under the target, what the scale is off by."""

from __future__ import annotations

from collections.abc import Iterator

from thickset.faces.run.report import cut_off
from thickset.faces.run.surprises import button_for_each_board
from thickset.faces.words import words
from thickset.faces.words.event_button import event
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.faces.words.why_button import ask_button
from thickset.ground.notation.lengths import show
from thickset.planning.passes.lot import Piece
from thickset.planning.run.next_step import Certainty, Step, certainty, saving_target
from thickset.planning.run.snipe import feedings_in
from thickset.planning.run.state import State


def ended(state: State, step: Step) -> list[Markup]:
    """The end of a run: what each board came out at, or why there is no way on.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> str(ended(begin(small_job()), Step("stuck"))[0])
    '<h2>There is no plan from here</h2>'
    """
    job = state.job
    if step.kind == "stuck":
        return [
            el("h2", "There is no plan from here"),
            el(
                "p",
                "Undo the last entry, take a board out here, or change what stands in the way in the lot or the planer.",
            ),
            button_for_each_board(
                "Take a board out",
                [job.boards[piece.board].name for piece in state.pieces],
                {"did": "remove", "why": "no plan for it"},
            ),
        ]
    if not state.pieces:
        return [el("h2", "No board is left in the lot")]
    return [
        el("h2", "Done"),
        el(
            "p",
            "Every board is through its last pass." if state.done else "No board is thicker than the target.",
            " Switch off and let the cutterhead stop." if state.done else None,
        ),
        el("ul", *_came_out(state), class_="outcome"),
        _measure_now() if state.done else EMPTY,
        _cut_off(state),
    ]


def _came_out(state: State) -> Iterator[Markup]:
    """What boards came out at, those alike together; and those that left the lot."""
    job = state.job
    alike: dict[str, list[int]] = {}
    for piece in state.pieces:
        spots = dict.fromkeys(words.length(spot, job.units) for spot in (piece.thin, piece.thick))
        alike.setdefault(f"{' to '.join(spots)}{_off(piece, state)}", []).append(piece.board)
    for came_out, boards in alike.items():
        yield el("li", el("b", ", ".join(words.stretches(sorted(boards), job))), " ", figure(came_out))
    for gone in state.gone:
        yield el("li", el("b", words.board(job.boards[gone.board])), f" out of the lot: {gone.why}")


def _measure_now() -> Markup:
    """The way to where what came out is entered."""
    return el(
        "div",
        el("h3", "Measure what came out"),
        el("p", "Each board at both ends and in the middle: it shows which are good, and what to do with the others."),
        el("button", "Enter what came out", type="button", class_="strong", data_do="enter-finals"),
        class_="measure-now",
    )


def _cut_off(state: State) -> Markup:
    planer, left = state.job.planer, [piece.board for piece in state.pieces]
    if not (planer.snipe_lead or planer.snipe_trail):
        return EMPTY
    return el(
        "div",
        el("h3", "Cut off the snipe"),
        el("ul", *(el("li", figure(line)) for line in cut_off(state.job, feedings_in(state), left)), class_="cut-off"),
        ask_button("ends", "Why cut off so much?"),
    )


def _off(piece: Piece, state: State) -> str:
    off = piece.thin - state.job.target
    if abs(off) <= state.job.tolerance:
        return ", on target"
    return f", {words.length(abs(off), state.job.units)} {'over' if off > 0 else 'under'}"


def under_target(state: State) -> Markup:
    """Boards that can no longer make the target, and the target that would save them; nothing when all can.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> under_target(begin(small_job())) == ""
    True
    """
    job = state.job
    under = [piece for piece in state.pieces if piece.thin < job.target - job.tolerance]
    saving = saving_target(state)
    if not under:
        return EMPTY
    rescue = (
        el(
            "button",
            "Plan for ",
            figure(words.length(saving, job.units)),
            type="button",
            data_event=event(did="retarget", thickness=show(saving, job.units)),
        )
        if saving
        else None
    )
    return el(
        "div",
        *(
            el("p", line)
            for line in words.under_target(((job.boards[p.board].name, job.target - p.thin) for p in under), job.units)
        ),
        el("p", "With a thinner target no board is short.") if saving else None,
        rescue,
        class_="under",
        role="status",
    )


def scale_says(state: State) -> Markup:
    """What the readings of the run say of the scale, and how sure that is; nothing before the first.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> scale_says(begin(small_job())) == ""
    True
    """
    sure: Certainty = certainty(state)
    if not sure.readings:
        return EMPTY
    units = state.job.units
    off, low, high = (_against(value, units) for value in (sure.offset, sure.low, sure.high))
    come_out = f"about {off} than" if float(off.split()[0]) else "as thick as"
    return el(
        "details",
        el("summary", "What the caliper says of the scale"),
        el(
            "p",
            f"Boards come out {come_out} the scale reads. 95 times in 100 they are between {low} and {high}. "
            f"That is from {_readings(sure.readings)} of this run and what was known before.",
        ),
        el(
            "p",
            f"Settings repeat to about {_fine(sure.spread, units)}. "
            f"{round(100 * sure.hit)} times in 100 the next one comes out right.",
        ),
        ask_button("scale", "Why these figures?"),
        class_="scale-says",
    )


def _readings(count: int) -> str:
    return "1 reading" if count == 1 else f"{count} readings"


def _fine(value: float, units: str) -> str:
    return f"{value:.2f} mm" if units == "mm" else f"{value / 25.4:.3f} in"


def _against(value: float, units: str) -> str:
    return f"{_fine(abs(value), units)} {'thinner' if value < 0 else 'thicker'}"
