"""The picture of the lot: true to scale, inside its frame, with no text over another."""

import json
import random
import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from lots import lot
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.faces.picture.columns import MOST_COLUMNS
from thickset.faces.picture.layout import spread

CHARACTER, ASCENT, DESCENT = 6.4, 8.5, 2.5
"""A character of the drawing's text is at most about this wide, and so high above and below its line."""


def show(job):
    answer = json.loads(handle(json.dumps({"ask": "show", "job": job})))
    assert answer["ok"], answer
    return answer


def drawing(answer):
    return ET.fromstring(answer["html"]["picture"]).find("svg")


def job(boards, target, units="in", counts=lambda n: 1, names=lambda n: None):
    named = ({"name": names(n)} if names(n) else {} for n in range(len(boards)))
    return lot(
        *[
            {"readings": list(readings), "width": "6 in", "length": "40 in", "count": counts(n), **name}
            for n, (readings, name) in enumerate(zip(boards, named, strict=True))
        ],
        units=units,
        target=target,
    )


def lots():
    chance = random.Random(11)

    def inches(count, low, high, uneven):
        tops = [chance.randint(low, high) for _ in range(count)]
        return [[f"{top - chance.randint(0, uneven)}/64 in" for _ in range(5)] for top in tops]

    yield "demo in", DEMO_IN
    yield "demo mm", DEMO_MM
    yield "one", job([["1"]], "3/4")
    yield "pile", job([["1 1/16", "15/16"]], "3/4", counts=lambda n: 18)
    yield "at the target", job([["3/4"], ["3/4", "11/16"]], "3/4")
    yield "twenty", job(inches(20, 54, 68, 8), "3/4")
    yield "twenty, long names", job(inches(20, 54, 68, 8), "7/8", names=lambda n: f"Shelf at the upper left {n}")
    yield "twenty, counts", job(inches(20, 54, 68, 8), "7/8", counts=lambda n: 1 + 7 * n)
    yield "twenty-four", job(inches(24, 40, 110, 30), "3/4")
    yield "two hundred", job(inches(200, 40, 110, 30), "3/4")
    yield "five hundred, very thick", job(inches(500, 33, 380, 30), "3/4")
    yield "very thick", job([["6 in", "5 3/4 in"], ["4 in"]], "1/2")
    yield "fine mm", job([["27,83", "27,1"], ["26,4", "26,9"], ["23"]], "22,35", "mm")
    yield "mm target in an inch job", job([["1"], ["15/16", "7/8"]], "18 mm")


LOTS = dict(lots())
every_lot = pytest.mark.parametrize("name", LOTS)


def boxes(svg):
    for text in svg.iter("text"):
        x, y, wide = float(text.get("x")), float(text.get("y")), len(text.text) * CHARACTER
        start = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.get("text-anchor")]
        box = (start, y - ASCENT, start + wide, y + DESCENT)
        if turned := text.get("transform"):
            angle, cx, cy = map(float, re.match(r"rotate\((\S+) (\S+) (\S+)\)", turned).groups())
            assert (angle, cx, cy) == (-90, x, y), "turned about its own end, reading upwards"
            box = (x - ASCENT, y, x + DESCENT, y + wide)
        yield text.text, box


@every_lot
def test_no_text_lies_over_another_or_outside_the_frame(name):
    svg = drawing(show(LOTS[name]))
    _, _, width, height = map(float, svg.get("viewBox").split())
    found = list(boxes(svg))
    assert found
    for n, (said, (left, top, right, bottom)) in enumerate(found):
        assert left >= 0 and right <= width and top >= 0 and bottom <= height, said  # noqa: PT018
        for other, (left2, top2, right2, bottom2) in found[:n]:
            apart = right <= left2 or right2 <= left or bottom <= top2 or bottom2 <= top
            assert apart, f"{said!r} lies over {other!r}"


@every_lot
def test_thickness_is_true_to_scale(name):
    answer = show(LOTS[name])
    svg = drawing(answer)
    lines = {}
    for group in svg.findall(".//*[@data-line]"):
        lines[int(group.get("data-line"))] = float(re.match(r"M\S+?,(\S+?)H", group.find("path").get("d"))[1])
    passes = answer["plan"]["passes"]
    assert sorted(lines) == [one["number"] for one in passes]
    if len(passes) < 2:
        return
    first, last = passes[0], passes[-1]
    per_mm = (lines[last["number"]] - lines[1]) / (first["setting_mm"] - last["setting_mm"])
    for one in passes:
        assert lines[one["number"]] == pytest.approx(
            lines[1] + (first["setting_mm"] - one["setting_mm"]) * per_mm, abs=0.02
        )
    target = last["setting_mm"]
    if name == "five hundred, very thick":  # columns are shared by neighboring ways down
        return
    for column, spots in zip(columns_of(svg), expected_columns(LOTS[name], answer), strict=True):
        bar = next(rect for rect in column.iter("rect") if rect.get("class") == "extent")
        top, height = float(bar.get("y")), float(bar.get("height"))
        thick, thin = max(spots), min(spots)
        assert top == pytest.approx(lines[last["number"]] - (thick - target) * per_mm, abs=0.02)
        assert height == pytest.approx(max((thick - thin) * per_mm, 1.5), abs=0.02)


def columns_of(svg):
    return svg.findall(".//*[@data-column]")


def expected_columns(given, answer):
    """The readings [mm] of each column, the thickest first; only for lots whose boards stand alone."""
    if len(given["boards"]) > MOST_COLUMNS:
        return [[r for readings in boards for r in readings] for boards in grouped(given, answer)]
    alone = [mm(answer, n, board) for n, board in enumerate(given["boards"])]
    return sorted(alone, key=lambda readings: -max(readings))


def mm(answer, n, board):
    units = {"in": 25.4, "mm": 1.0}
    found = []
    for r in range(len(board["readings"])):
        said = answer["understood"][f"boards[{n}].readings[{r}]"].partition(" (")[0]
        value, unit = said.rsplit(" ", 1)
        found.append(sum(fraction(part) for part in value.split()) * units[unit])
    return found


def fraction(text):
    above, _, under = text.partition("/")
    return float(above) / float(under or 1)


def grouped(given, answer):
    ways = {}
    for n, (board, outcome) in enumerate(zip(given["boards"], answer["plan"]["boards"], strict=True)):
        entry = next(
            (
                one["number"]
                for one in answer["plan"]["passes"]
                if outcome["board"] in [fed["board"] for fed in one["fed"]]
            ),
            0,
        )
        ways.setdefault((entry, outcome["outcome"]), []).append(mm(answer, n, board))
    return sorted(ways.values(), key=lambda boards: -max(map(max, boards)))


@every_lot
def test_every_board_and_pass_is_in_the_words_too(name):
    answer = show(LOTS[name])
    figure = ET.fromstring(answer["html"]["picture"])
    svg = figure.find("svg")
    assert svg.find("title").text
    assert {svg.find("title").get("id"), svg.find("desc").get("id")} == set(svg.get("aria-labelledby").split())
    rows = figure.findall("details/ol/li")
    assert len(rows) == len(columns_of(svg)) <= MOST_COLUMNS
    counts = sum(board.get("count", 1) for board in LOTS[name]["boards"])
    assert f"{counts:,} board" in svg.find("title").text
    if counts == len(LOTS[name]["boards"]) <= MOST_COLUMNS:
        for row, column in zip(rows, columns_of(svg), strict=True):
            assert ("not cut" in "".join(row.itertext())) == (column.get("data-outcome") == "untouched")


def test_short_and_rough_spots_are_hatched_by_shape_and_not_by_color():
    svg = drawing(show(job([["1"], ["1", "49/64"], ["1", "11/16"], ["5/8"]], "3/4")))
    fills = {
        column.get("data-outcome"): [rect.get("fill") for rect in column.iter("rect") if rect.get("fill")]
        for column in columns_of(svg)
    }
    assert fills == {
        "both faces": [],
        "one face": ["url(#lot-rough)"],
        "short": ["url(#lot-short)"],
        "untouched": ["url(#lot-short)"],
    }
    patterns = {pattern.get("id"): pattern.find("path").get("d") for pattern in svg.iter("pattern")}
    assert patterns["lot-rough"] != patterns["lot-short"]
    colors = {element.get(key) for element in svg.iter() for key in ("fill", "stroke")}
    assert colors <= {None, "none", "currentColor", "Canvas", "url(#lot-rough)", "url(#lot-short)"}


def test_texts_are_moved_apart_and_stay_near_and_inside():
    chance = random.Random(5)
    for _ in range(300):
        count = chance.randint(1, 20)
        wanted = sorted(chance.uniform(0, 300) for _ in range(count))
        placed = spread(wanted, 14, 0, 300)
        assert all(b - a >= 14 - 1e-9 for a, b in pairwise(placed))
        assert placed[0] >= -1e-9
        assert placed[-1] <= 300 + 1e-9
        if all(b - a >= 14 for a, b in pairwise(wanted)):
            assert placed == wanted
