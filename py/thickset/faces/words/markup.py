"""Elements of HTML and SVG, escaped by construction: plain text never becomes markup.

The page forbids inline styles and scripts, so no element made here can carry any.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from thickset.faces.words.lines import unbroken

Attribute = str | int | float | bool | None


class Markup(str):
    """Text that is markup already; only `el` and `join` make it."""

    __slots__ = ()


Child = Markup | str | int | None

EMPTY = Markup("")

_TAG = re.compile(r"[a-z][a-zA-Z0-9]*\Z")
_ATTRIBUTE = re.compile(r"[a-z][a-zA-Z0-9-]*\Z")
_VOID = frozenset({"br", "col", "hr", "img", "input", "link", "meta"})
_FORBIDDEN_TAGS = frozenset({"script", "iframe", "object", "embed", "base", "form"})
_UNPRINTABLE = re.compile(r"[^\t\n\x20-\x7e\xa0-\ud7ff\ue000-\ufdcf\ufdf0-\ufffd\U00010000-\U0010ffff]")
_TO_ESCAPE = re.compile(r"[&<>\"'\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")
_ENTITIES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})


def text(value: str | int) -> Markup:
    """Plain text, or a number [as given], as markup; characters that no document may hold become a replacement sign.

    >>> text("<b> & 'c'")
    '&lt;b&gt; &amp; &#39;c&#39;'
    """
    plain = str(value)
    if not _TO_ESCAPE.search(plain):
        return Markup(plain)
    return Markup(_UNPRINTABLE.sub("�", plain).translate(_ENTITIES))


def join(parts: Iterable[Child], between: str = "") -> Markup:
    """Parts one after another; those that are no markup are escaped.

    >>> join(["a < b", el("b", "c")], " ")
    'a &lt; b <b>c</b>'
    """
    return Markup(text(between).join(_child(part) for part in parts if part is not None))


def el(tag: str, *children: Child, **attributes: Attribute) -> Markup:
    """An element. An attribute that is None or False is left out, True stands alone; `_` stands for `-`.

    >>> el("li", "1 < 2", class_="pass", data_pass=1)
    '<li class="pass" data-pass="1">1 &lt; 2</li>'
    >>> el("p", style="color: red")
    Traceback (most recent call last):
    ValueError: the page allows no attribute style
    """
    opened = _opened(tag, *attributes, *attributes.values())
    if tag in _VOID:
        return Markup(f"{opened[:-1]}/>")
    inside = "".join([_child(child) for child in children])
    return Markup(f"{opened}{inside}</{tag}>")


@lru_cache(maxsize=8192)
def number(value: float) -> str:
    """A number to two decimals, without idle zeros.

    >>> number(12.0), number(3.14159), number(-0.001)
    ('12', '3.14', '0')
    """
    short = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if short == "-0" else short


@lru_cache(maxsize=4096, typed=True)
def _opened(tag: str, *names_and_values: Attribute) -> str:
    """The tag that opens an element; names first, then their values, so that equal values of two types stay apart."""
    if not _TAG.match(tag) or tag.lower() in _FORBIDDEN_TAGS:
        raise ValueError(f"the page allows no element {tag}")
    half = len(names_and_values) // 2
    pairs = zip(names_and_values[:half], names_and_values[half:], strict=True)
    given = "".join(
        f" {_name(str(name))}" if value is True else f' {_name(str(name))}="{_value(value)}"'
        for name, value in pairs
        if value is not None and value is not False
    )
    return f"<{tag}{given}>"


def _child(child: Child) -> str:
    if child.__class__ is Markup:
        return child
    return text(unbroken(child) if isinstance(child, str) else child) if child is not None else ""


def _value(value: Attribute) -> str:
    return number(value) if isinstance(value, float) else text(value) if isinstance(value, str | int) else ""


@lru_cache(maxsize=256)
def _name(name: str) -> str:
    known = name.rstrip("_").replace("_", "-")
    if not _ATTRIBUTE.match(known) or known == "style" or known.lower().startswith("on"):
        raise ValueError(f"the page allows no attribute {known}")
    return known
