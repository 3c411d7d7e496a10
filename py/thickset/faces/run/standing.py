"""Where the lot stands in a run: the same picture as the plan's, of the boards as they are now and the passes to come."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from thickset.faces.picture import layout
from thickset.faces.picture.layout import CHARACTER, LINE, WIDTH, Axis
from thickset.faces.picture.lettering import bare, text_at
from thickset.faces.words import words
from thickset.faces.words.markup import EMPTY, Markup, el, number
from thickset.faces.words.short_names import short_names
from thickset.planning.passes.lot import Piece
from thickset.planning.run.state import State

TOP, WIDEST_SLOT, WIDEST_BAR, NARROWEST_NAMED = 24.0, 48.0, 26.0, 13.0


def standing(state: State) -> Markup:
    """The folded picture; nothing when no pass is to come.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> standing(begin(small_job())).count("data-line")
    4
    """
    if not state.rest or not state.pieces:
        return EMPTY
    return el("details", el("summary", "Where the lot stands"), _Drawing(state).svg(), class_="stands")


@dataclass(frozen=True)
class _Drawing:
    state: State

    @cached_property
    def pieces(self) -> list[Piece]:
        """The boards, the thickest first."""
        return sorted(self.state.pieces, key=lambda piece: (-self.thick(piece), piece.board))

    def thick(self, piece: Piece) -> float:
        """Its thick spot now [mm]: one that is through the pass in hand is no thicker than its opening."""
        through = piece.board in self.state.fed
        return float(min(piece.thick, self.state.opening()) if through else piece.thick)

    def was(self, piece: Piece) -> float:
        """Its thick spot before the run [mm]."""
        return float(self.state.job.boards[piece.board].thick)

    @cached_property
    def axis(self) -> Axis:
        spots = [value for one in self.pieces for value in (float(one.thin), self.was(one), self.thick(one))]
        settings = [float(one.setting) for one in self.state.rest]
        return layout.axis([*spots, *settings], len(settings), TOP)

    @cached_property
    def labels(self) -> list[str]:
        return [bare(one.setting, self.state.job.units) for one in self.state.rest]

    @cached_property
    def left(self) -> float:
        return max(*map(len, self.labels), 6) * CHARACTER + 14

    @cached_property
    def slot(self) -> float:
        return min((WIDTH - 40 - self.left) / len(self.pieces), WIDEST_SLOT)

    @cached_property
    def names(self) -> list[str]:
        short = short_names(self.state.job)
        return [short[one.board] for one in self.pieces]

    def svg(self) -> Markup:
        upright = max(map(len, self.names)) * CHARACTER > self.slot
        named = self.slot >= NARROWEST_NAMED
        below = max(map(len, self.names)) * CHARACTER + 8 if upright else LINE + 6
        return el(
            "svg",
            el("title", self.said()),
            el(
                "g",
                *(self.board(place, one) for place, one in enumerate(self.pieces)),
                *self.lines(),
                *(self.name(place, said, upright=upright) for place, said in enumerate(self.names) if named),
                stroke="currentColor",
                fill="none",
            ),
            viewBox=f"0 0 {number(WIDTH)} {number(self.axis.bottom + (below if named else 6))}",
            role="img",
            class_="lot",
        )

    def said(self) -> str:
        units = self.state.job.units
        thickest = self.pieces[0]
        name = words.board(self.state.job.boards[thickest.board])
        now = words.length(min(thickest.thick, self.state.opening()), units)
        if thickest.board not in self.state.fed:
            now = words.length(thickest.thick, units)
        return f"The boards as they stand, {name} the thickest with {now}; settings to come: {', '.join(self.labels)}"

    def x(self, place: int) -> float:
        return self.left + 6 + (place + 0.5) * self.slot

    def board(self, place: int, one: Piece) -> Markup:
        """Its wood as it is now; dashed above it what has come off."""
        y, wide = self.axis.y, min(self.slot * 0.62, WIDEST_BAR)
        left, thick, thin = number(self.x(place) - wide / 2), self.thick(one), min(float(one.thin), self.thick(one))
        gone = y(thick) - y(self.was(one))
        return el(
            "g",
            el("rect", x=left, y=y(self.was(one)), width=wide, height=gone, class_="gone") if gone > 0.5 else None,
            el("rect", x=left, y=y(thin), width=wide, height=self.axis.bottom - y(thin), class_="wood"),
            el("rect", x=left, y=y(thick), width=wide, height=max(y(thin) - y(thick), 1.5), class_="extent"),
            data_of=self.state.job.boards[one.board].name,
        )

    def lines(self) -> Iterator[Markup]:
        left, right = self.left, WIDTH - 30
        wanted = [self.axis.y(float(one.setting)) for one in self.state.rest]
        placed = layout.spread(wanted, LINE, self.axis.top, self.axis.bottom)
        for n, (one, y, at) in enumerate(zip(self.state.rest, wanted, placed, strict=True)):
            kind = "label last" if n == 0 else "label"
            yield el(
                "g",
                el("path", d=f"M{number(left + 5)},{number(y)}H{number(right)}", class_="halo"),
                el("path", d=f"M{number(left)},{number(y)}H{number(right)}", class_="target" if n == 0 else "step"),
                text_at(self.labels[n], left - 10, at + 4, "end", kind),
                text_at(str(one.number), right + 26, at + 4, "end", kind),
                data_line=one.number,
            )

    def name(self, place: int, said: str, *, upright: bool) -> Markup:
        y = self.axis.bottom + LINE
        if not upright:
            return text_at(said, self.x(place), y + 2, "middle", "name")
        x = self.x(place) + 4
        return text_at(said, x, y - 6, "end", "name", f"rotate(-90 {number(x)} {number(y - 6)})")
