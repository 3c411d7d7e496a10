"""Undo of the run: what the last entry was, on the button that takes it back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import assert_never

from thickset.faces.words import words
from thickset.faces.words.markup import Markup, el
from thickset.faces.words.short_names import MOST, short_names
from thickset.ground.job.run_events import Event
from thickset.planning.run.state import State
from thickset.planning.run.surprises import surprise

ROOM = 24
"""Characters that stand on the button in two lines, after "Undo:"."""


def undo(state: State) -> Markup:
    """The button, at the same place at every step; it rests while nothing was done yet.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> undo(begin(small_job()))
    '<button type="button" data-undo disabled>Undo</button>'
    """
    run = state.job.run
    said = f"Undo: {_entry(run[-1], state)}" if run else "Undo"
    return el("button", said, type="button", data_undo=True, disabled=not run)


def _entry(last: Event, state: State) -> str:
    names = _names(last.boards, state)
    match last.did:
        case "feed":
            number = len(state.done) + 1 if state.fed else len(state.done)
            return f"{names or f'pass {number}'} through" if number else "the last entry"
        case "test":
            return f"{f'{names} measures' if names else 'test piece'} {words.length(last.thickness, state.job.units)}"
        case "check":
            return f"measured {words.length(last.thickness, state.job.units)}"
        case "measure":
            return f"{names} measured"
        case "remove":
            return f"{names} taken out"
        case "see":
            said = surprise(last.what).button if last.what else "what was seen"
            seen = said if len(said) <= ROOM else last.what or ""
            return f"{seen[0].lower()}{seen[1:]}{f', {names}' if names else ''}"
        case "retarget":
            return f"target {words.length(last.thickness, state.job.units)}"
        case "snipe":
            return "snipe measured"
        case _:
            assert_never(last.did)


def _names(names: Sequence[str], state: State) -> str:
    """The boards by their names, as far as there is room for them."""
    short = dict(zip((board.name for board in state.job.boards), short_names(state.job), strict=True))
    whole = words.listed([_name(name, state) for name in names])
    said = whole if len(whole) <= MOST else words.listed([short.get(name, name) for name in names])
    return said if len(said) <= ROOM else words.boards(len(names))


def _name(name: str, state: State) -> str:
    return next((words.board(board) for board in state.job.boards if board.name == name), name)
