"""The roles of color, in light and in dark: every role that a style uses is there, and stands out from what it stands on."""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest

SITE = Path(__file__).parents[2] / "site"
PALETTE = (SITE / "base" / "palette.css").read_text(encoding="utf-8")
LIGHT, DARK, PAPER = (
    dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", part)) for part in re.split(r"@media[^{]*", PALETTE)
)
SCHEMES = {"light": LIGHT, "dark": LIGHT | DARK, "paper": LIGHT | PAPER}

TEXT, EDGE = 4.5, 3.0
"""Contrast that text, and lines and edges of meaning, need at least: WCAG 2.2, 1.4.3 and 1.4.11 (from memory)."""

GROUNDS = ("paper", "card")
NEEDS = [
    *((role, ground, TEXT) for role, ground in product(("ink", "soft", "act", "stop", "caution"), GROUNDS)),
    *((role, "tint", TEXT) for role in ("ink", "soft")),
    ("on-act", "act", TEXT),
    *((role, ground, TEXT) for ground in ("caution-ground", "stop-ground") for role in ("ink", ground[:-7])),
    *((role, ground, EDGE) for role, ground in product(("rule", "waiting", "done", "knives", "edge"), GROUNDS)),
    ("edge", "wood", EDGE),
    ("edge", "wood-cut", EDGE),
    ("ink", "wood", TEXT),
    ("ink", "wood-cut", TEXT),
]
"""What stands on what. A knife's line has a halo of the card on both faces, so the wood may be any color."""


def light(color: str) -> float:
    """The relative luminance of a color [1]."""
    parts = [int(color[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """How far two colors stand apart [1 to 21]."""
    dark, bright = sorted((light(one), light(other)))
    return (bright + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("role", "ground", "least"), NEEDS)
def test_each_role_stands_out_from_what_it_stands_on(scheme: str, role: str, ground: str, least: float) -> None:
    colors = SCHEMES[scheme]
    assert contrast(colors[role], colors[ground]) >= least


def test_dark_has_every_role_of_light() -> None:
    assert set(DARK) == set(LIGHT)


def test_the_roles_that_are_told_apart_by_color_differ_in_gray_or_by_shape() -> None:
    """What differs in shape is named in the palette; wood and what comes off it have one shape, so they differ in gray too."""
    for colors in SCHEMES.values():
        assert contrast(colors["wood"], colors["wood-cut"]) >= 1.5


def test_every_role_that_a_style_names_is_there() -> None:
    styles = [path.read_text(encoding="utf-8") for path in SITE.rglob("*.css") if path.parent.name != "rescue"]
    known = {name for text in styles for name in re.findall(r"(--[a-z-]+):", text)}
    assert {name for text in styles for name in re.findall(r"var\((--[a-z-]+)", text)} <= known


SCALE = {"0.25", "0.5", "0.75", "1", "1.5", "2"}
ALONE = "rescue.css"
"""The style of the page that shares nothing with the others."""
WEIGHTS = re.compile(r"\.(?:strong|plain|ask-why|top-act)\b|#job-title\b")
"""Buttons by the names of their three weights: strong, plain, and the one that needs no name."""


def test_a_button_gets_its_weight_from_one_rule() -> None:
    rules = [
        (path.name, selector.strip(), body)
        for path in SITE.rglob("*.css")
        if path.name not in (ALONE, "buttons.css")
        for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", path.read_text(encoding="utf-8"))
        if WEIGHTS.search(selector)
    ]
    assert rules
    assert [one for one in rules if re.search(r"(?:^|\s)(?:border(?:-color)?|background|font-weight):", one[2])] == []


def test_spaces_are_of_one_scale() -> None:
    space = re.compile(r"\s(?:margin|padding|gap)(?:-(?:top|bottom|left|right|block|inline))?:([^;]+);")
    off = [
        f"{path.name}: {value}rem"
        for path in SITE.rglob("*.css")
        if path.name != ALONE
        for one in space.findall(path.read_text(encoding="utf-8"))
        for value in re.findall(r"(?<![\w.(-])(\d*\.?\d+)rem", one)
        if 0.25 <= float(value) <= 2 and value not in SCALE
    ]
    assert off == []
