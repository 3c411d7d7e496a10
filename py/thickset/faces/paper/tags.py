"""Board tags: two small labels a board, one for each end, to cut out and tape on the end grain.

A tag shows which board and end it is for, which face is up when that end leads, and how the grain should run on the
edge: it rises away from the end that leads, so that the knives press it down.
"""

from __future__ import annotations

from collections.abc import Iterator

from thickset.faces.plan.cautions import END_1
from thickset.faces.words.markup import Markup, el
from thickset.ground.job.job import Board, Job
from thickset.planning.passes.turns import FIRST_PLACEMENT, Placement, Turn

WIDTH, HEIGHT = 220, 74
TAPE = "Tape each tag on the end grain of the end that leads. Never on a face: a face is planed, or rides the bed."


def board_tags(job: Job) -> Markup:
    """Two tags for every board of a job, those alike numbered.

    >>> from thickset.ground.job.example import small_job
    >>> board_tags(small_job()).count("<figure") == 2 * sum(board.count for board in small_job().boards)
    True
    """
    ways = (FIRST_PLACEMENT, FIRST_PLACEMENT.turned(Turn.FLIPPED))
    return el(
        "article",
        el("h1", job.title or "Tags"),
        el("p", TAPE, " ", END_1, class_="reads"),
        el("div", *(_tag(name, way) for board in job.boards for name in _names(board) for way in ways), class_="all"),
        class_="tags-sheet",
    )


def _names(board: Board) -> Iterator[str]:
    if board.count == 1:
        yield board.name
    else:
        yield from (f"{board.name} · {n}" for n in range(1, board.count + 1))


def _tag(name: str, way: Placement) -> Markup:
    trails = 2 if way.leads == 1 else 1
    return el(
        "figure",
        el(
            "figcaption", el("b", name), el("span", "end ", el("b", way.leads), " first: face ", el("b", way.up), " up")
        ),
        el(
            "svg",
            el("path", d="M30,35L46,21V29H190V41H46V49Z", stroke="currentColor", stroke_width=2, fill="none"),
            _end(way.leads, 14),
            _end(trails, 206),
            el("text", "feed", x=118, y=22, text_anchor="middle", font_size=12),
            el("path", d=_grain(), stroke="currentColor", stroke_width=1.5),
            el("text", "grain, seen on the edge", x=118, y=70, text_anchor="middle", font_size=11),
            viewBox=f"0 0 {WIDTH} {HEIGHT}",
            aria_hidden="true",
        ),
    )


def _end(end: int, x: int) -> Markup:
    return el("text", str(end), x=x, y=43, text_anchor="middle", font_size=24, font_weight=700)


def _grain() -> str:
    """Lines that climb from the leading end, on the left, to the trailing one."""
    return "".join(f"M{x},57l16,-6" for x in range(44, 184, 24))
