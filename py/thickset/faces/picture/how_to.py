"""Drawings where people would rather look than read: how to set a planer up, how to measure a board, what snipe is.

Each has a title that says the same to whoever cannot see it. The style gives them the palette's roles: wood, knives, what is
measured. The turns and ends are those of planning.turns; the rest is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

from thickset.faces.words.markup import Markup, el

WIDTH = 320


def how_to(name: str, talk: str | None = None) -> Markup:
    """A drawing by its name; `talk` is the question of the guided talk that it goes with.

    >>> "<title>" in how_to("snipe")
    True
    """
    height, title, parts = DRAWINGS[name]()
    return el(
        "figure",
        el(
            "svg",
            el("title", title),
            *parts,
            viewBox=f"0 0 {WIDTH} {height}",
            role="img",
            class_="how-to-drawing",
        ),
        class_="shows",
        data_talk=talk,
    )


Drawn = tuple[int, str, list[Markup]]


def _line(d: str, kind: str) -> Markup:
    return el("path", d=d, class_=kind)


def _wood(x: float, y: float, wide: float, high: float) -> Markup:
    return el("rect", x=x, y=y, width=wide, height=high, class_="wood")


def _says(said: str, x: float, y: float, anchor: str = "middle") -> Markup:
    return el("text", said, x=x, y=y, text_anchor=anchor)


def _knives(x: float, y: float) -> list[Markup]:
    """The cutting circle with three knives."""
    edges = f"M{x} {y + 12}v10M{x - 10} {y - 6}l-9 -5M{x + 10} {y - 6}l9 -5"
    return [
        el("circle", cx=x, cy=y, r=18, class_="halo"),
        el("circle", cx=x, cy=y, r=18, class_="knives"),
        _line(edges, "knives"),
    ]


def _across(x1: float, x2: float, y: float) -> Markup:
    """A measure from one place to another on a level."""
    return _line(
        f"M{x1} {y - 5}v10M{x2} {y - 5}v10M{x1} {y}H{x2}M{x1 + 6} {y - 4}l-6 4l6 4M{x2 - 6} {y - 4}l6 4l-6 4", "measure"
    )


def _upright(x: float, y1: float, y2: float) -> Markup:
    """A gap or a depth: two short arrows that point at each other's ends."""
    return _line(f"M{x} {y1 - 14}V{y1}m-4 -6l4 6l4 -6M{x} {y2 + 14}V{y2}m-4 6l4 -6l4 6", "measure")


def _span(x: float, y1: float, y2: float) -> Markup:
    """A measure from one height to another."""
    return _line(f"M{x} {y1}V{y2}M{x - 4} {y1 + 6}l4 -6l4 6M{x - 4} {y2 - 6}l4 6l4 -6", "measure")


def _feed(x: float, y: float) -> Markup:
    """The feed, to the left."""
    return _line(f"M{x} {y}h-24m7 -6l-7 6l7 6", "feed")


def _scale() -> Drawn:
    rule = "M30 14V92" + "".join(f"M30 {y}h{14 if n % 4 == 0 else 8}" for n, y in enumerate(range(16, 92, 8)))
    return (
        126,
        "The handle moves bed and knives apart or together; the scale says how wide they are open",
        [
            _line(rule, "edge"),
            _line("M72 56H46m8 -6l-8 6l8 6", "knives"),
            _says("scale", 46, 118),
            *_knives(160, 32),
            _line("M106 86H214", "bed"),
            _span(160, 58, 81),
            _says("opening", 160, 118),
            el("circle", cx=270, cy=52, r=22, class_="edge"),
            _line("M270 52L286 37", "bed"),
            el("circle", cx=287, cy=36, r=6, class_="grip"),
            _line("M298 66A32 32 0 0 1 252 79m10 -3l-10 3l4 9", "measure"),
            _says("one turn", 270, 118),
        ],
    )


def _scrap() -> Drawn:
    return (
        118,
        "A scrap that was planed on both faces, measured with a caliper: its thickness less what the scale said is what the scale is off by",
        [
            _wood(40, 44, 130, 30),
            _line("M202 22V96M202 44H152M202 74H152", "bed"),
            _span(124, 46, 72),
            _says("caliper", 216, 62, "start"),
            _says("thickness, less what the scale said", 160, 110),
        ],
    )


def _snipe() -> Drawn:
    top = "M20 52H70V46H256V52H300V74H20Z"
    return (
        112,
        "Snipe: a step near the end that went in first and one near the end that came last; each is measured from its end",
        [
            _line(top, "wood"),
            _line("M70 46V74M256 46V74", "lead"),
            _line("M60 40H266", "edge"),
            _says("straightedge", 163, 32),
            _across(20, 70, 88),
            _says("leading end", 52, 108),
            _across(256, 300, 88),
            _says("trailing end", 268, 108),
            _line("M44 20H20m7 -6l-7 6l7 6", "feed"),
        ],
    )


def _known() -> Drawn:
    return (
        112,
        "A cut that the planer takes well: how deep and how wide it was, at which feed",
        [
            _line("M8 84H206", "bed"),
            _line("M20 48H96V36H186V82H20Z", "wood"),
            *_knives(88, 24),
            _upright(124, 36, 48),
            _says("depth", 134, 68, "start"),
            _feed(214, 60),
            _says("feed", 212, 80),
            _wood(236, 48, 74, 34),
            _line("M236 48V36H310V48", "gone"),
            _across(236, 310, 94),
            _says("width", 273, 111),
        ],
    )


def _unflat() -> Drawn:
    return (
        262,
        (
            "Cup: a straightedge across the face, the gap in its middle. Bow: a straightedge along the face, the gap in its middle. "
            "Twist: two straight sticks across the ends, how much one tips against the other. A hollow upper face counts above 0."
        ),
        [
            _line("M30 44Q90 74 150 44V62Q90 92 30 62Z", "wood"),
            _line("M22 43H158", "edge"),
            _upright(90, 43, 59),
            _says("cup: a straightedge", 172, 54, "start"),
            _says("across, gap midway", 172, 72, "start"),
            _line("M20 126Q90 146 160 126V136Q90 156 20 136Z", "wood"),
            _line("M14 125H166", "edge"),
            _upright(90, 125, 136),
            _says("bow: a straightedge", 172, 130, "start"),
            _says("along, gap midway", 172, 148, "start"),
            _line("M34 214L150 214L138 236L22 236Z", "wood"),
            _line("M14 232H150", "edge"),
            _line("M28 218L164 200", "edge"),
            _upright(158, 201, 214),
            _says("twist: two sticks,", 172, 216, "start"),
            _says("how far one tips", 172, 234, "start"),
        ],
    )


def _spots() -> Drawn:
    spots = [(x, y) for x in (44, 160, 276) for y in (34, 55, 76)]
    return (
        112,
        "Where to measure: near both ends and in the middle, at both edges and between them; the thickest and the thinnest reading count most",
        [
            _wood(16, 20, 288, 70),
            *(el("circle", cx=x, cy=y, r=6, class_="spot") for x, y in spots),
            _says("end 1", 44, 107),
            _says("middle", 160, 107),
            _says("end 2", 276, 107),
        ],
    )


def _end_1() -> Drawn:
    grain = "".join(f"M{x} 70l30 -24" for x in (62, 92, 164, 194, 224))
    return (
        112,
        "Which end is end 1: with face B up, the grain on the edge rises from end 1 towards end 2, up and to the back as the board goes in",
        [
            _line("M8 76H312", "bed"),
            _wood(48, 42, 224, 32),
            _line(grain, "grain"),
            _line("M48 73H272", "face-a"),
            *_knives(24, 26),
            _says("1", 58, 63),
            _says("2", 260, 63),
            _says("B", 148, 58),
            _says("end 1 goes in first", 110, 102),
            _feed(310, 58),
            _says("grain rises", 190, 30, "start"),
            _line("M150 34l28 -20m-9 -1h9v9", "measure"),
        ],
    )


def _leave() -> Drawn:
    return (
        108,
        "A board is left longer than the parts: snipe at both ends is cut off, and a kerf goes between two parts",
        [
            _wood(10, 30, 300, 32),
            _line("M10 30h40v32h-40zM272 30h38v32h-38z", "off"),
            _line("M158 26V66M162 26V66", "kerf"),
            _says("part", 104, 51),
            _says("part", 217, 51),
            _across(10, 50, 78),
            _says("snipe", 30, 98),
            _says("kerf", 160, 20),
            _across(272, 310, 78),
            _says("snipe", 291, 98),
        ],
    )


def _support() -> Drawn:
    return (
        132,
        "A board hangs over the end of the table as it leaves; a support stands under the part that hangs over, level with the table",
        [
            _line("M120 60H240", "bed"),
            _line("M134 60V112M226 60V112", "lead"),
            *_knives(180, 26),
            _wood(24, 48, 196, 10),
            _line("M24 58Q72 56 120 60", "gone"),
            _line("M52 62h20M62 62V110M50 112L62 100L74 112", "edge"),
            _feed(272, 52),
            _across(24, 120, 34),
            _says("hangs over", 72, 24),
            _says("table", 180, 84),
            _says("support", 62, 124),
        ],
    )


def _two_lots() -> Drawn:
    one = [(30, 66), (56, 62), (82, 36), (108, 32)]
    bars = [_wood(x, 92 - high, 18, high) for x, high in one]
    two = [_wood(x + 150 + (22 if n > 1 else 0), 92 - high, 18, high) for n, (x, high) in enumerate(one)]
    return (
        112,
        "One lot goes through every setting together; as two lots the thicker boards go first, and the thinner ones wait for no pass that is not theirs",
        [
            *bars,
            _line("M22 22H134M22 44H134M22 70H134", "knives"),
            _says("one lot", 78, 108),
            *two,
            _line("M172 22H230M172 44H230M172 70H230M246 56H304M246 70H304", "knives"),
            _says("two lots", 238, 108),
        ],
    )


DRAWINGS: dict[str, Callable[[], Drawn]] = {
    "scale": _scale,
    "scrap": _scrap,
    "snipe": _snipe,
    "known": _known,
    "unflat": _unflat,
    "spots": _spots,
    "end-one": _end_1,
    "leave": _leave,
    "support": _support,
    "two-lots": _two_lots,
}
"""All drawings, by name."""
