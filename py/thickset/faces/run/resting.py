"""The run screen between the two stages of a job that rests: what to do, and each board's new readings."""

from __future__ import annotations

import json

from thickset.faces.plan.moisture import AGAIN, REST, THROUGH
from thickset.faces.run.surprises import button_for_each_board, reading_field
from thickset.faces.words import words
from thickset.faces.words.figures import figure, tags
from thickset.faces.words.markup import Markup, el
from thickset.ground.notation.lengths import show
from thickset.planning.run.state import State


def resting(state: State) -> list[Markup]:
    """What to do while the boards rest [readings in mm]; the first of those still to be measured is asked for first.

    >>> from dataclasses import replace
    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> "Board B" in str(resting(replace(begin(small_job()), awaited=(1,)))[-2])
    True
    """
    job = state.job
    pieces = {piece.board: piece for piece in state.pieces}
    piece = pieces[state.awaited[0]]
    board, others = job.boards[piece.board], state.awaited[1:]
    spots = dict.fromkeys((piece.thick, piece.thin))
    was = " to ".join(words.length(spot, job.units) for spot in reversed(spots))
    which = words.board(board) if board.count == 1 else f"{board.name}, all {board.count} of them"
    same = {"did": "measure", "board": board.name, "readings": [show(spot, job.units) for spot in spots]}
    names = [job.boards[n].name for n in state.awaited]
    return [
        el("h2", "Let the boards rest"),
        *_what_to_do(measuring=len(state.awaited) < len(state.pieces)),
        el(
            "div",
            el("h3", f"Board {which}, after the rest"),
            el("p", "Before the rest: ", figure(was), class_="asks"),
            el(
                "div",
                reading_field("Thickest now", "readings", piece.thick),
                reading_field("Thinnest now", "readings", piece.thin),
                el("button", "Enter", type="button", class_="strong", data_add=True),
                class_="measure",
                data_measure=json.dumps({"did": "measure", "board": board.name}, ensure_ascii=False),
            ),
            el(
                "button",
                f"Measured: {board.name} is still ",
                figure(was),
                type="button",
                data_event=json.dumps(same, ensure_ascii=False),
            ),
            el("div", el("p", "Still to measure after it", class_="asks"), tags(others, job), class_="waits")
            if others
            else None,
            class_="test-piece after-rest",
        ),
        button_for_each_board(
            "A board is spoiled: take it out", names, {"did": "remove", "why": "spoiled in the rest"}
        ),
    ]


def _what_to_do(*, measuring: bool) -> list[Markup]:
    """How to let the boards rest; folded once the first of them is measured, so that the entry is at hand."""
    if not measuring:
        return [el("p", f"{THROUGH} {REST}"), el("p", AGAIN)]
    return [el("details", el("summary", "How to rest and measure them"), el("p", REST), el("p", AGAIN))]
