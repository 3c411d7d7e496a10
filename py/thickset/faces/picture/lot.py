"""The lot as one picture: every board from its thin to its thick spot, the settings as steps down to the target.

Drawn in the color of the text with patterns for what stays rough or short, so that it reads without color, in light,
in dark and on paper. Thickness is true to scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from thickset.faces.picture import layout
from thickset.faces.picture.columns import SIDES, Column, Hatched, columns, hatched
from thickset.faces.picture.layout import CHARACTER, LINE, WIDTH, Axis
from thickset.faces.picture.legend import legend, patterns
from thickset.faces.picture.lettering import bare, mark, short, text_at
from thickset.faces.picture.lot_words import described, in_words
from thickset.faces.words import words
from thickset.faces.words.markup import Markup, el, join, number
from thickset.planning.passes.model import Plan
from thickset.planning.passes.scale import scale_settings

TOP = 34.0
WIDEST_SLOT = 40.0
MOST_LABELS = 40


def picture(plan: Plan) -> Markup:
    """The picture of a plan, what its signs mean, and the same in words.

    >>> from thickset.faces.words.example import lot
    >>> picture(lot("7/8", "13/16 25/32")).count("<svg")
    3
    """
    shown = columns(plan)
    return el(
        "figure",
        el("h2", "The lot in one picture"),
        drawing(plan, shown),
        legend(shown, [float(one.setting) for one in plan.passes], float(plan.job.target)),
        in_words(plan, shown),
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
        return max(longest, 7) * CHARACTER + 14

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
        return [short(self.plan.job.boards[one.boards[0]].name) for one in self.shown]

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
                *self.steps(),
                *self.boards(),
                *self.thick_spot(),
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

    def steps(self) -> Iterator[Markup]:
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
            dotted = el("path", d=f"M{turn},{across}H{number(right)}", class_="idle", stroke_dasharray="1 4")
            state = "now" if n == self.done - 1 else "done" if n < self.done else None
            yield el("g", solid, dotted if fed[n] < len(self.shown) else None, data_pass=n + 1, class_=state)
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
        whole: list[str] = []
        part: list[str] = []
        for place, one in enumerate(self.shown):
            yield self.board(place, self.standing(one))
            for cut in one.cuts:
                dot = f"M{number(self.x(place))},{number(self.axis.y(self.settings[cut.place]))}h0"
                (whole if cut.clean else part).append(dot)
        if part:
            yield el("path", d="".join(part), class_="dot ring", stroke_width=8, stroke_linecap="round")
            yield el(
                "path", d="".join(part), class_="dot hole", stroke_width=5, stroke_linecap="round", stroke="Canvas"
            )
        if whole:
            yield el("path", d="".join(whole), class_="dot", stroke_width=7, stroke_linecap="round")

    def board(self, place: int, one: Column) -> Markup:
        """A bar from thin to thick spot with its readings, on a stem down to its name; hatched where it stays rough."""
        x, y = self.x(place), self.axis.y
        wide = min(self.slot * 0.62, 18.0)
        left, top, bottom = number(x - wide / 2), y(one.thick), y(one.thin)
        parts = [el("path", d=f"M{number(x)},{number(bottom)}V{number(self.axis.bottom)}", class_="stem")]
        parts.append(
            el("rect", x=left, y=top, width=wide, height=max(bottom - top, 1.5), class_="extent", stroke_width=1.2)
        )
        if rough := hatched(one, self.settings, self.target):
            parts.append(self.hatch(rough, left, wide))
        if one.readings:
            ticks = "".join(f"M{left},{number(y(reading))}h{number(wide)}" for reading in one.readings)
            parts.append(el("path", d=ticks, class_="spots", stroke_width=2.2))
        return el("g", *parts, data_column=place, data_outcome=one.outcome)

    def hatch(self, rough: Hatched, left: str, wide: float) -> Markup:
        top = self.axis.y(rough.high)
        height, fill = max(self.axis.y(rough.low) - top, 2.0), f"url(#{self.name}-{rough.kind})"
        return el("rect", x=left, y=top, width=wide, height=height, class_=rough.kind, fill=fill)

    def thick_spot(self) -> Iterator[Markup]:
        """The reading that decides the first setting, pointed at and named."""
        if not self.settings:
            return
        decides = self.plan.decides
        place = next(n for n, one in enumerate(self.shown) if decides.board in one.boards)
        x, y = self.x(place), self.axis.y(float(decides.thickness))
        said = words.length(decides.thickness, self.plan.job.units)
        yield el("path", d=f"M{number(x)},{number(y - 2)}l-4,-7h8z", class_="thickest", fill="currentColor")
        if x < WIDTH / 2:
            yield text_at(f"thick spot {said}", x - 4, y - 12, "start", "label")
        else:
            yield text_at(f"thick spot {said}", x + 4, y - 12, "end", "label")

    def foot(self) -> tuple[list[Markup], float]:
        """Names, counts and clean sides under the columns, and where the drawing ends."""
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
        parts += [
            text_at(SIDES[one.outcome], self.x(place), y, "middle", "label") for place, one in enumerate(self.shown)
        ]
        parts.append(text_at("sides", self.left - 10, y, "end", "mark"))
        return parts, y + 6
