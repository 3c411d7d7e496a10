"""The page's fields, made from the core's table: their markup by group of the page, and what the scripts know of each."""

from __future__ import annotations

import re
from itertools import groupby
from typing import Any

from thickset.faces.picture.how_to import how_to
from thickset.faces.words.markup import Markup, el, join
from thickset.ground.job.fields import FIELDS, NUMBERS, PLACES, RUN, Ask, Field, asked, defaults, plain_keys
from thickset.ground.job.form_fields import FORMS
from thickset.ground.notation.places import ACROSS, ALONG, Place

ROWS = ("part", "defect")
"""Groups of which the page has as many as there are parts or defects: their fields get ids and places there."""


DRAWN = {
    "planer": ("scale", "turn"),
    "planer-known": ("known", "known"),
    "planer-snipe": ("snipe", "snipe"),
    "support": ("support", None),
    "leave": ("leave", None),
}
"""Groups that a drawing stands above, and the question of the guided talk that it goes with."""

DRAWN_FORMS = {"slab": "unflat", "scrap": "scrap"}
"""Forms that a drawing stands in."""


def markup() -> dict[str, str]:
    """The fields of each group of the page and of each form, under the name of its place in index.html."""
    groups = {f"fields-{place}": str(_group(place)) for place in PLACES}
    forms = {f"form-{name}": str(_form(name)) for name in FORMS}
    return {**groups, **forms, **{f"drawing-{name}": str(how_to(name)) for name in ("spots", "end-one")}}


def facts() -> dict[str, Any]:
    """What the page's scripts know: how each setting is entered and what stands for it, the keys of a board and of a pile, lengths."""
    settings, boards, piles = {}, [], {}
    usual = {unit: defaults(unit) for unit in ("in", "mm")}
    for field in FIELDS.values():
        for ask in field.asks:
            group, _, key = ask.key.partition(".")
            if group == "board":
                boards.append(key)
            elif group == "pile":
                piles[key] = field.path.removeprefix("boards[].").removesuffix("[]")
            elif ask.place not in (*ROWS, "title"):
                stands = {unit: usual[unit].get(field.path, "") for unit in usual if not ask.key.endswith(_FURTHER)}
                settings[ask.key or field.path] = {"kind": _kind(field), "with": field.goes_with, **stands}
    lengths = {
        part: [key for key in plain_keys(part) if FIELDS[f"{part}.{key}"].kind == "length"]
        for part in ("boards[]", "boards[].defects[]", "parts[]")
    }
    lengths["run[]"] = [*(key for key, field in RUN.items() if field.kind == "length"), "readings"]
    texts = [key for key in plain_keys("boards[]") if key in boards]
    return {"settings": settings, "board": texts, "pile": piles, "lengths": lengths, "spots": _spots()}


def _spots() -> list[dict[str, Any]]:
    """The spots of a board: as documents have them, their names, as one says them, how far from the left edge, where along it."""
    return [
        {"place": f"{along} {across}", "name": name, "words": words, "row": row, "along": name.partition(",")[0]}
        for along in ALONG
        for row, across in enumerate(ACROSS)
        for name, words in [(Place(along, across).name, Place(along, across).words)]
    ]


_FURTHER = ("[1]", "[2]", "[3]")
"""Of a list, what is left out stands in its first entry alone."""


def _kind(field: Field) -> str:
    return field.kind if field.kind in ("length", "price") else "number" if field.kind in NUMBERS else "text"


def _group(place: str) -> Markup:
    about = PLACES[place]
    drawing = [how_to(*DRAWN[place])] if place in DRAWN else []
    fields = join([*drawing, *(_field(field, ask) for field, ask in asked(place))])
    whole = fields if about.alone else el("div", fields, class_="pair", data_fields=place)
    if not about.heading:
        return whole
    hint = el("p", about.hint, class_="hint") if about.hint else None
    return el("details", el("summary", about.heading), hint, whole, class_="more")


def _field(field: Field, ask: Ask) -> Markup:
    key = ask.key or field.path
    name = None if ask.place in ROWS else ask.id or re.sub(r"[^a-z0-9]+", "-", key).strip("-")
    entry = {"id": name, "data_key": key if name is None else None}
    at = key if key in FIELDS or field.path.startswith("planer.feeds") else ""
    place = {"data_part": key} if name is None else {"data_field": key}
    place |= {"data_at": at, "data_kind": field.kind}
    return _whole_field(field, ask, _choices(field, entry) if field.choices else _input(field, ask, entry), name, place)


def _form(name: str) -> Markup:
    """A form: its hints, then its fields in pairs, those of a group in threes under its title."""
    form = FORMS[name]
    asks = [(field, ask) for field in form.fields for ask in field.asks]
    groups = [
        _form_group(title, join(_form_field(name, *one) for one in fields))
        for title, fields in groupby(asks, lambda one: one[1].place)
    ]
    hints = (el("p", hint, class_="hint") for hint in form.hints)
    drawing = how_to(DRAWN_FORMS[name]) if name in DRAWN_FORMS else None
    return el("div", *hints, drawing, *groups, data_form=name, data_key=form.key, data_kept="" if form.kept else None)


def _form_group(title: str, fields: Markup) -> Markup:
    if not title:
        return el("div", fields, class_="pair")
    return el("div", el("h2", title), el("div", fields, class_="pair three"), role="group", aria_label=title)


def _form_field(form: str, field: Field, ask: Ask) -> Markup:
    name = f"{form}-{field.key}"
    named: dict[str, str | None] = {"id": name, "data_key": field.key}
    entry = _choices(field, named) if field.choices else _input(field, ask, named)
    return _whole_field(field, ask, entry, name, {"data_entry": f"{FORMS[form].key}.{field.key}"})


def _whole_field(field: Field, ask: Ask, entry: Markup, name: str | None, place: dict[str, str]) -> Markup:
    """An entry with its label, how it was understood, what is wrong with it, what is said about it."""
    return el(
        "div",
        el("label", ask.label or field.label, for_=name),
        entry,
        el("p", class_="understood"),
        el("p", class_="problem"),
        *_hints(ask),
        class_=" ".join(["field", *(["big"] if ask.big else []), *(["whole-row"] if ask.wide else [])]),
        **place,
        data_talk=ask.talk or None,
    )


def _hints(ask: Ask) -> list[Markup]:
    """What is said under a field; where it differs by the job's units, both, of which the page shows one."""
    if not ask.metric:
        return [el("p", ask.hint, class_="hint")] if ask.hint else []
    both = (("in", ask.hint), ("mm", ask.metric))
    return [el("p", said, class_="hint", data_for=units) for units, said in both if said]


def _choices(field: Field, entry: dict[str, str | None]) -> Markup:
    return el("select", *(el("option", words, value=value) for value, words in field.choices), **entry)


def _input(field: Field, ask: Ask, entry: dict[str, str | None]) -> Markup:
    """An entry with the keyboard of its kind; the page's own pad is for lengths and counts of a lot."""
    pad = None
    if ask.place in PLACES and PLACES[ask.place].pad and field.kind in ("length", "whole"):
        pad = (
            "count"
            if field.kind == "whole"
            else "thickness"
            if field.bare == FIELDS["target.thickness"].bare
            else "figures"
        )
    return el(
        "input",
        **entry,
        data_pad=pad,
        inputmode="decimal" if pad is None and _kind(field) in ("number", "price") else None,
        placeholder=ask.example or None,
        data_example=ask.example or None,
        autocomplete="off",
        spellcheck="false",
        enterkeyhint="done" if ask.last else "next",
    )
