"""The turning picture: a board from its edge with its grain, the knives and the feed; the right turn beside the wrong ones.

Drawn from planning.turns, the model that the tests prove with rotation matrices.
"""

from __future__ import annotations

from thickset.faces.words import words
from thickset.faces.words.markup import Markup, el
from thickset.planning.passes.turns import FIRST_PLACEMENT, Placement, Turn

WIDTH, ROW = 320, 124
_BOARD_X, _BOARD_W = 84, 200
_BOARD_Y, _BOARD_H = 62, 44
_SMALL, _SMALL_ROW = 0.48, 140
"""The small pictures of the wrong turns have larger letters, and a higher board around them."""
_SMALL_Y, _SMALL_H = 62, 68


def turning(before: Placement | None, after: Placement) -> Markup:
    """How a board lies before and after its turn, and the two ways that set the knives against the grain.

    `before` is how it last went in; None the first time, when there is nothing to turn.

    >>> str(turning(None, FIRST_PLACEMENT)).count("<svg")
    1
    >>> turned = FIRST_PLACEMENT.turned(Turn.FLIPPED)
    >>> [str(turning(FIRST_PLACEMENT, turned)).count(word) for word in ("Flip it end over end", "Not ")]
    [2, 2]
    """
    if before is None or before == after:
        said = "As before, no turn" if before else "First time in"
        return _figure([_lying(after, said, "translate(0 0)", right=None)], ROW, f"{said}. {_words(after)}")
    turn = before.turn_to(after)
    rows = [
        _lying(before, "It came out like this", "translate(0 0)", right=None),
        _lying(after, words.turn(turn, "it"), f"translate(0 {ROW})", right=True),
        *(
            _lying(before.turned(wrong), f"Not {wrong.value}", _in_small_row(n), right=False)
            for n, wrong in enumerate(_wrong_ways(before, after))
        ),
    ]
    wrong = " or ".join(way.value for way in _wrong_ways(before, after))
    said = f"It came out with {_words(before)} {words.turn(turn, 'it')}: {_words(after)} {wrong.capitalize()} it would meet the knives the other way."
    return _figure(rows, round(ROW * 2 + _SMALL_ROW * _SMALL), said)


def _in_small_row(place: int) -> str:
    return f"translate({place * WIDTH // 2 + 2} {2 * ROW}) scale({_SMALL})"


def _wrong_ways(before: Placement, after: Placement) -> list[Turn]:
    """The turns that change the run of the grain against the knives from what the right one makes it."""
    kept = _grain(after)
    return [turn for turn in Turn if turn is not Turn.AS_IT_LIES and _grain(before.turned(turn)) != kept]


def _grain(placement: Placement) -> bool:
    """Whether the grain runs against the knives as on the first pass."""
    return FIRST_PLACEMENT.turn_to(placement).keeps_grain


def _words(placement: Placement) -> str:
    return f"Face {placement.up} up, end {placement.leads} first."


def _figure(rows: list[Markup], height: int, said: str) -> Markup:
    return el(
        "svg",
        el("title", "How the board is turned"),
        el("desc", said),
        *rows,
        viewBox=f"0 0 {WIDTH} {height}",
        class_="turning",
        role="img",
    )


def _lying(placement: Placement, said: str, place: str, *, right: bool | None) -> Markup:
    """One board on the bed, fed to the left into the knives."""
    down = "A" if placement.up == "B" else "B"
    trails = 2 if placement.leads == 1 else 1
    x, w = _BOARD_X, _BOARD_W
    y, h = (_SMALL_Y, _SMALL_H) if right is False else (_BOARD_Y, _BOARD_H)
    mark = {True: _tick(), False: _cross(), None: None}[right]
    up_at, down_at, middle, from_end = (23, 5, 9, 12) if right is False else (18, 4, 6, 9)
    return el(
        "g",
        el("text", said, x=8, y=20, class_="says"),
        mark,
        el("circle", cx=42, cy=y - 14, r=17, class_="knives"),
        el("path", d=f"M42 {y - 31} l7 -5 M59 {y - 14} l5 7 M42 {y + 3} l-7 5 M25 {y - 14} l-5 -7", class_="edge"),
        el("line", x1=8, y1=y + h + 3, x2=WIDTH - 8, y2=y + h + 3, class_="bed"),
        el("rect", x=x, y=y, width=w, height=h, rx=2, class_="board"),
        *(_grain_line(placement, x + 8 + 28 * n, y, h) for n in range(7) if n != 3),
        el("rect", x=x + w / 2 - 13, y=y + 1, width=26, height=h - 2, class_="label-back"),
        el("text", placement.up, x=x + w / 2, y=y + up_at, class_="face-up"),
        el("text", down, x=x + w / 2, y=y + h - down_at, class_="face-down"),
        el("text", placement.leads, x=x + from_end, y=y + h / 2 + middle, class_="end-leads"),
        el("text", trails, x=x + w - from_end, y=y + h / 2 + middle, class_="end-trails"),
        el("path", d=f"M{x + w + 30} {y + h / 2} h-22 m8 -7 l-8 7 l8 7", class_="feed"),
        transform=place,
        class_={True: "right", False: "wrong", None: "lies"}[right],
    )


def _grain_line(placement: Placement, x: float, y: float, h: float) -> Markup:
    # With the grain: it climbs away from the knives, which then press it down.
    low, high = (y + h - 5, y + 5) if _grain(placement) else (y + 5, y + h - 5)
    return el("line", x1=x - 8, y1=low, x2=x + 14, y2=high, class_="grain")


def _tick() -> Markup:
    return el("path", d="M288 14 l8 8 l14 -18", class_="tick")


def _cross() -> Markup:
    return el("path", d="M290 4 l18 18 M308 4 l-18 18", class_="cross")
