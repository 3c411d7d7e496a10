"""The buttons that ask why: a tap opens the sheet with the reasons for a part of the plan."""

from __future__ import annotations

from thickset.faces.words.markup import Markup, el


def ask_button(what: str, said: str = "Why?", label: str | None = None) -> Markup:
    """A button that asks why for a path of the plan; `label` is what is read out where `said` is short.

    >>> ask_button("passes[0]", label="Why pass 1?")
    '<button type="button" class="ask-why" data-why="passes[0]" aria-label="Why pass 1?">Why?</button>'
    """
    return el("button", said, type="button", class_="ask-why", data_why=what, aria_label=label)
