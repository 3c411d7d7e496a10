"""The surprises at the machine, each behind one tap; most ask which board."""

from __future__ import annotations

import json
from collections.abc import Mapping
from fractions import Fraction

from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import Markup, el
from thickset.ground.job.run_events import SIGHTS, Sight
from thickset.ground.notation.lengths import show
from thickset.planning.run.state import State
from thickset.planning.run.surprises import surprise


def surprises(state: State) -> Markup:
    """Buttons for what can come between: each adds what was seen to the run.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> "The motor bogs" in surprises(begin(small_job()))
    True
    """
    names = [state.job.boards[piece.board].name for piece in state.pieces]
    return el(
        "details",
        el(
            "summary",
            el("span", "Something is not right", class_="shut"),
            el("span", "Back to the pass", class_="opened"),
        ),
        el("h2", "What is not right?"),
        *(_seen(what, names) for what in SIGHTS),
        _measured(state),
        _not_clean(names, max((piece.thick for piece in state.pieces), default=state.job.target)),
        button_for_each_board("A board is dropped or spoiled", names, {"did": "remove", "why": "dropped or spoiled"}),
        class_="surprises",
    )


def _seen(what: Sight, names: list[str]) -> Markup:
    row, event = surprise(what), {"did": "see", "what": what}
    return button_for_each_board(row.button, names, event) if row.of_a_board else _button(row.button, event)


def _button(label: str, event: Mapping[str, object]) -> Markup:
    return el("button", label, type="button", data_event=json.dumps(event, ensure_ascii=False))


def button_for_each_board(label: str, names: list[str], event: Mapping[str, object]) -> Markup:
    """A folded button for each board, which adds an event with that board in it [a name].

    >>> str(button_for_each_board("Torn grain", ["A", "B"], {"did": "see"})).count("<button")
    2
    """
    return el(
        "details",
        el("summary", label),
        el("p", "Which board?", class_="asks"),
        el("div", *(_button(name, {**event, "board": name}) for name in names), class_="ticks"),
    )


def reading_field(label: str, key: str, near: Fraction) -> Markup:
    """A field for a thickness of the run under a key of its event; the pad starts near a thickness [mm].

    A single thickness is held against what is wanted: its pad is as fine as a caliper.

    >>> 'data-key="thickness"' in reading_field("It is", "thickness", Fraction(20))
    True
    """
    return el(
        "div",
        el(
            "label",
            el("span", label),
            el(
                "input",
                data_key=key,
                data_pad="fine" if key == "thickness" else "thickness",
                data_near_mm=float(near),
                autocomplete="off",
                spellcheck="false",
            ),
        ),
        el("p", class_="problem", role="alert"),
        class_="field",
        data_field=f"run.{key}",
    )


def _measured(state: State) -> Markup | None:
    """A board that came out at another thickness than was wanted: of the pass in hand once boards went through it, else of the pass before."""
    if state.fed and state.rest:
        number, near, wanted = state.rest[0].number, state.opening(), state.rest[0].setting
        told = {"did": "check", "setting": show(wanted, state.job.units)}
    elif state.done and all(way.number <= len(state.done) for way in state.feedings):
        number, near, wanted = state.done[-1].number, state.done[-1].opening, state.done[-1].wanted
        told = {"did": "check"}
    else:
        return None
    return el(
        "details",
        el("summary", "A board that is through is too thick or too thin"),
        el(
            "div",
            el("p", "It was to come out at ", figure(words.length(wanted, state.job.units)), ".", class_="asks"),
            reading_field(f"After pass {number} it measures", "thickness", near),
            el("button", "Plan from there", type="button", data_add=True),
            class_="measure",
            data_measure=json.dumps(told),
        ),
    )


def _not_clean(names: list[str], near: Fraction) -> Markup:
    return el(
        "details",
        el("summary", "A board has not cleaned up, or is not what it was"),
        el(
            "div",
            el("label", el("span", "Board"), el("select", *(el("option", name) for name in names), data_key="board")),
            reading_field("Thickest now", "readings", near),
            reading_field("Thinnest now", "readings", near),
            el("button", "Plan from there", type="button", data_add=True),
            class_="measure",
            data_measure=json.dumps({"did": "measure"}),
        ),
    )
