"""Our signs: the page holds their drawings once, and each place that shows one names it."""

from __future__ import annotations

from thickset.faces.words.markup import Markup, el


def sign(name: str) -> Markup:
    """A sign by its name, beside words that say the same.

    >>> sign("caution")
    '<svg class="sign" aria-hidden="true"><use href="#sign-caution"></use></svg>'
    """
    return el("svg", el("use", href=f"#sign-{name}"), class_="sign", aria_hidden="true")
