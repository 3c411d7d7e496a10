"""The lot as one picture: every board from its thin to its thick spot, the settings as steps down to the target.

Wood has the color of wood and the settings the red of the knives, both from the page's palette; shapes and patterns say the
same without color: bars, lines that reach as far as they cut, hatching. Thickness is true to scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from thickset.faces.picture import layout
from thickset.faces.picture.columns import SIDES, Column, Hatched, columns, hatched
from thickset.faces.picture.layout import CHARACTER, LINE, WIDTH, Axis
from thickset.faces.picture.legend import legend, patterns
from thickset.faces.picture.lettering import bare, mark, text_at
from thickset.faces.picture.lot_words import described, in_words
from thickset.faces.words import words
from thickset.faces.words.markup import Markup, el, join, number
from thickset.faces.words.short_names import short_names
from thickset.planning.passes.model import Plan
from thickset.planning.passes.scale import scale_settings

TOP = 36.0
WIDEST_SLOT = 48.0
WIDEST_BAR = 26.0
MOST_LABELS = 40


def picture(plan: Plan) -> Markup:
    """The picture of a plan, what its signs mean, and the same in words.

    >>> from thickset.faces.words.example import lot
    >>> picture(lot("7/8", "13/16 25/32")).count("<svg")
    5
    """
    shown = columns(plan)
    return el(
        "figure",
        el("h2", "The lot in one picture", class_="unseen"),
        drawing(plan, shown),
        in_words(
            plan,
            shown,
            legend(shown, [float(one.setting) for one in plan.passes], float(plan.job.target)),
        ),
        class_="picture",
    )


def drawing(plan: Plan, shown: Sequence[Column], name: str = "lot", done: int = 0) -> Markup:
    """The drawing alone, with the boards as they stand when so many passes are `done` [count].

    `name` keeps its ids apart from those of a second one in the same document.

    >>> from thickset.faces.words.example import lot
    >>> plan = lot("7/8", "13/16 25/32")
    >>> 'id="sheet-title"' in drawing(plan, columns(plan), "sheet")
    True
    """
    return _Drawing(plan, shown, name, done).svg()


@dataclass(frozen=True)
class _Label:
    """A thickness [mm] that is written beside the rule, with the number of its pass."""

    thickness: float
    said: str
    number: str
    kind: str


@dataclass(frozen=True)
class _Drawing:
    """One drawing: what it shows and where its parts stand."""

    plan: Plan
    shown: Sequence[Column]
    name: str
    done: int = 0

    def standing(self, one: Column) -> Column:
        """A column as it stands after the passes that are done."""
        if not self.done:
            return one
        lowest = min((self.settings[cut.place] for cut in one.cuts if cut.place < self.done), default=one.thick)
        readings = tuple(dict.fromkeys(min(reading, lowest) for reading in one.readings))
        return replace(one, thick=min(one.thick, lowest), thin=min(one.thin, lowest), readings=readings)

    @cached_property
    def settings(self) -> list[float]:
        return [float(one.setting) for one in self.plan.passes]

    @cached_property
    def target(self) -> float:
        return float(self.plan.job.target)

    @cached_property
    def axis(self) -> Axis:
        ends = [value for one in self.shown for value in (one.thin, one.thick)]
        return layout.axis([*ends, *self.settings, self.target], min(len(self.settings), MOST_LABELS), TOP)

    @cached_property
    def labels(self) -> list[_Label]:
        """What is written beside the rule: the settings, with very many not all, but always the last; or the target."""
        job = self.plan.job
        last = len(self.settings) - 1
        every = last // MOST_LABELS + 1
        if last < 0:
            return [_Label(self.target, bare(job.target, job.units), "", "label last")]
        return [
            _Label(self.settings[n], bare(one.setting, job.units), str(n + 1), "label last" if n == last else "label")
            for n, one in enumerate(self.plan.passes)
            if (last - n) % every == 0
        ]

    @cached_property
    def left(self) -> float:
        longest = max(len(one.said) for one in self.labels)
        return max(longest, 6) * CHARACTER + 14

    @cached_property
    def right(self) -> float:
        return WIDTH - 30

    @cached_property
    def slot(self) -> float:
        return min((self.right - self.left - 10) / max(len(self.shown), 1), WIDEST_SLOT)

    def x(self, place: int) -> float:
        """The middle of a column."""
        return self.left + 6 + (place + 0.5) * self.slot

    @cached_property
    def names(self) -> list[str]:
        if any(len(one.boards) > 1 for one in self.shown):
            return [str(n + 1) for n in range(len(self.shown))]
        short = short_names(self.plan.job)
        return [short[one.boards[0]] for one in self.shown]

    @cached_property
    def counts(self) -> list[str]:
        return [f"×{one.count}" if one.count > 1 else "" for one in self.shown]

    @cached_property
    def upright(self) -> bool:
        """Whether names and counts are too long to stand side by side."""
        longest = max((len(said) for said in (*self.names, *self.counts)), default=0)
        return longest * CHARACTER > self.slot

    def svg(self) -> Markup:
        foot, height = self.foot()
        return el(
            "svg",
            el("title", described(self.plan), id=f"{self.name}-title"),
            el("desc", "The same in words stands below the picture.", id=f"{self.name}-desc"),
            patterns(self.name),
            el(
                "g",
                self.rule(),
                *self.boards(),
                *self.setting_lines(),
                *self.comes_off(),
                *self.thicknesses(),
                *foot,
                stroke="currentColor",
                fill="none",
            ),
            viewBox=f"0 0 {number(WIDTH)} {number(height)}",
            role="img",
            aria_labelledby=f"{self.name}-title {self.name}-desc",
            class_="lot",
        )

    def rule(self) -> Markup:
        """The edge of a rule beside the boards, its longer marks labelled where no setting is."""
        line = [f"M{number(self.left)},{number(self.axis.top)}V{number(self.axis.bottom)}"]
        units = self.plan.job.units
        taken = [place for place, _ in self.placed]
        said = []
        for thickness, long in layout.marks(self.axis, units):
            y = self.axis.y(thickness)
            line.append(f"M{number(self.left)},{number(y)}h{-6 if long else -3}")
            if long and all(abs(y - other) >= LINE for other in taken):
                taken.append(y)
                said.append(text_at(mark(thickness, units), self.left - 10, y + 4, "end", "mark"))
        return join([el("path", d="".join(line), class_="rule"), *said])

    @cached_property
    def placed(self) -> list[tuple[float, _Label]]:
        """The labels, moved apart where they would touch."""
        wanted = [self.axis.y(one.thickness) for one in self.labels]
        return list(zip(layout.spread(wanted, LINE, self.axis.top, self.axis.bottom), self.labels, strict=True))

    def setting_lines(self) -> Iterator[Markup]:
        """Each setting as a line: solid over the boards that go in, dotted over those that wait."""
        left, right = self.left, self.right
        # Beside a scale that is known to be off, the picture is of what it opens to.
        bare = all(way.is_bare for way in scale_settings(self.plan))
        what = "target" if not self.settings else "set to" if bare else "opens to"
        yield text_at(what, left - 10, 12, "end", "mark")
        yield text_at("pass" if self.settings else "", right + 28, 12, "end", "mark")
        fed = [sum(1 for one in self.shown for cut in one.cuts if cut.place == n) for n in range(len(self.settings))]
        for n, setting in enumerate(self.settings):
            across = number(self.axis.y(setting))
            kind = "target" if n == len(self.settings) - 1 else "step"
            turn = number(left + 6 + fed[n] * self.slot if fed[n] < len(self.shown) else right)
            solid = el("path", d=f"M{number(left)},{across}H{turn}", class_=kind)
            halo = el("path", d=f"M{number(left + 5)},{across}H{turn}", class_="halo")
            dotted = el("path", d=f"M{turn},{across}H{number(right)}", class_="idle", stroke_dasharray="1 4")
            state = "now" if n == self.done - 1 else "done" if n < self.done else None
            yield el("g", halo, solid, dotted if fed[n] < len(self.shown) else None, data_line=n + 1, class_=state)
        if not self.settings:
            across = number(self.axis.y(self.target))
            yield el("path", d=f"M{number(left)},{across}H{number(right)}", class_="target")
        for place, one in self.placed:
            y = self.axis.y(one.thickness)
            if abs(place - y) > 0.5:
                leads = f"M{number(left - 8)},{number(place)}L{number(left)},{number(y)}"
                leads += f"M{number(right + 10)},{number(place)}L{number(right)},{number(y)}"
                yield el("path", d=leads, class_="lead")
            yield text_at(one.said, left - 10, place + 4, "end", one.kind)
            yield text_at(one.number, right + 28, place + 4, "end", one.kind)

    def boards(self) -> Iterator[Markup]:
        for place, one in enumerate(self.shown):
            yield self.board(place, self.standing(one))

    @cached_property
    def bar(self) -> float:
        """How wide a column's wood is."""
        return min(self.slot * 0.62, WIDEST_BAR)

    def board(self, place: int, one: Column) -> Markup:
        """Its wood up to the thin spot, darker from there to the thick spot, its readings as lines; hatched where it stays rough."""
        x, y, wide = self.x(place), self.axis.y, self.bar
        left, top, bottom = number(x - wide / 2), y(one.thick), y(one.thin)
        parts = [el("rect", x=left, y=bottom, width=wide, height=self.axis.bottom - bottom, class_="wood")]
        if one.spread:
            parts.append(self.spread(one, x))
        parts.append(
            el("rect", x=left, y=top, width=wide, height=max(bottom - top, 1.5), class_="extent", stroke_width=1.2)
        )
        if rough := hatched(one, self.settings, self.target):
            parts.append(self.hatch(rough, left, wide))
        if one.readings:
            ticks = "".join(f"M{left},{number(y(reading))}h{number(wide)}" for reading in one.readings)
            parts.append(el("path", d=ticks, class_="spots", stroke_width=1.6))
        shared = "true" if one.spread else None
        of = self.plan.job.boards[one.boards[0]].name if len(one.boards) == 1 else None
        return el("g", *parts, data_column=place, data_of=of, data_outcome=one.outcome, data_shared=shared)

    def spread(self, one: Column, x: float) -> Markup:
        """Of boards that share a column each one's stretch from thick to thin spot, side by side from the thickest on."""
        each, lowest = self.bar / len(one.spread), one.thick
        path = []
        for n, (thick, thin) in enumerate(one.spread):
            top = self.axis.y(min(thick, lowest))
            high = max(self.axis.y(min(thin, lowest)) - top, 1.0)
            path.append(
                f"M{number(x - self.bar / 2 + n * each)},{number(top)}h{number(each)}v{number(high)}h{number(-each)}z"
            )
        return el("path", d="".join(path), class_="spread")

    def comes_off(self) -> Iterator[Markup]:
        """Which face each pass takes off a board, where the letter has room in the stretch that it takes."""
        for place, one in enumerate(self.shown):
            high = one.thick
            for cut in one.cuts:
                top, bottom = self.axis.y(high), self.axis.y(self.settings[cut.place])
                high = min(high, self.settings[cut.place])
                if cut.place >= self.done and bottom - top >= LINE + 2 and self.bar >= 2 * CHARACTER:
                    yield text_at(cut.up, self.x(place), (top + bottom) / 2 + 4.5, "middle", "off")

    def thicknesses(self) -> Iterator[Markup]:
        """Each board's thick spot over it, where all have room; else that of the one that decides the first setting."""
        units = self.plan.job.units
        boards = self.plan.job.boards
        said = [bare(max(boards[n].thick for n in one.boards), units) for one in self.shown]
        decides = self.decides
        every = not self.done and max(map(len, said), default=0) * CHARACTER < self.slot
        for place, one in enumerate(self.shown):
            y = self.axis.y(one.thick)
            if every:
                yield text_at(said[place], self.x(place), y - 5, "middle", "reading")
        if decides is None:
            return
        x, y = self.x(decides), self.axis.y(float(self.plan.decides.thickness)) - (16 if every else 2)
        yield el("path", d=f"M{number(x)},{number(y)}l-5,-8h10z", class_="thickest", fill="currentColor", stroke="none")
        if not every:
            thick = f"thick spot {words.length(self.plan.decides.thickness, units)}"
            right = x < WIDTH / 2
            yield text_at(thick, x + (-4 if right else 4), y - 11, "start" if right else "end", "label")

    @cached_property
    def decides(self) -> int | None:
        """The column whose board decides the first setting."""
        if not self.settings:
            return None
        return next(n for n, one in enumerate(self.shown) if self.plan.decides.board in one.boards)

    def hatch(self, rough: Hatched, left: str, wide: float) -> Markup:
        top = self.axis.y(rough.high)
        height, fill = max(self.axis.y(rough.low) - top, 2.0), f"url(#{self.name}-{rough.kind})"
        return el("rect", x=left, y=top, width=wide, height=height, class_=rough.kind, fill=fill)

    def foot(self) -> tuple[list[Markup], float]:
        """Names, counts and clean faces under the columns, and where the drawing ends."""
        y = self.axis.bottom + LINE + 2
        parts = []
        if self.upright:
            named = [f"{name} {count}".strip() for name, count in zip(self.names, self.counts, strict=True)]
            for place, name in enumerate(named):
                x = self.x(place) + 4
                turn = f"rotate(-90 {number(x)} {number(y - 8)})"
                parts.append(text_at(name, x, y - 8, "end", "name", turn))
            y += max(map(len, named)) * CHARACTER
        else:
            parts += [text_at(name, self.x(place), y, "middle", "name") for place, name in enumerate(self.names)]
            y += LINE + 2
            if any(self.counts):
                counts = enumerate(self.counts)
                parts += [text_at(count, self.x(place), y, "middle", "mark") for place, count in counts if count]
                y += LINE + 1
        if all(one.outcome == "both faces" for one in self.shown):
            return parts, y - LINE + 4
        parts += [
            text_at(SIDES[one.outcome], self.x(place), y, "middle", "label") for place, one in enumerate(self.shown)
        ]
        parts.append(text_at("faces", self.left - 10, y, "end", "mark"))
        return parts, y + 6
