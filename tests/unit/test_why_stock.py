"""Will this board make it, and what to buy: each figure says why, and the why works out to the figure."""

import json
import math
import re
from fractions import Fraction

import pytest
from thickset.doors.api import handle

BOARD = {
    "length": "2000",
    "width": "150",
    "end_1": "27",
    "middle": "28",
    "end_2": "26",
    "cup": "-2",
    "bow": "6",
    "twist": "3",
    "part_thickness": "22",
    "part_length": "700",
    "part_width": "90",
}
NEED = {"thickness": "20", "width": "100", "length": "1000", "count": "10", "waste": "25", "rate": "1200"}


def ask(kind, units="mm", **more):
    return json.loads(handle(json.dumps({"ask": kind, "units": units, **more})))


def why(form, units="mm", **entries):
    answer = ask("why", units, form=form, **entries)
    assert answer["ok"], answer
    return {one["at"]: one for one in answer["why"]}


def number(text):
    """The number that a text begins with."""
    found = re.match(r"(?:about )?(−?)(\d+ (?=\d+/))?([\d./]+)", text.replace(",", ""))
    value = Fraction(found[3]) + (Fraction(found[2]) if found[2] else 0)
    return -value if found[1] else value


def work(reason):
    """What the written formula gives with the numbers put in."""
    known = {each["symbol"]: number(each["text"]) for each in reason["put_in"]}
    (line,) = reason["formula"]
    expression = re.sub(r"(?<![\w.])(\d+(?:\.\d+)?)", r"F('\1')", line.partition(" = ")[2])
    expression = expression.replace("×", "*").replace("−", "-")
    tools = {"floor": lambda value: Fraction(math.floor(value)), "F": Fraction}
    return eval(expression, {"__builtins__": {}}, {**tools, **known})  # noqa: S307


def test_the_slab_is_what_the_spots_that_hold_it_weigh():
    told = ask("slab", board=BOARD)["slab"]
    found = why("slab", board=BOARD)
    for at, thick in (("slab.part", told["part_mm"]), ("slab.whole", told["whole_mm"])):
        weights = [
            (each["symbol"], number(each["text"])) for each in found[at]["put_in"] if each["words"] == "its weight"
        ]
        assert len(weights) >= 4
        for face in "ab":
            assert sum(value for symbol, value in weights if symbol[0] == face) == pytest.approx(1, abs=1e-4)
        assert float(work(found[at])) == pytest.approx(thick, abs=3e-3)
    assert float(work(found["slab.spare"])) == pytest.approx(told["part_mm"] - 22, abs=1e-4)
    assert float(work(found["slab.lost"])) == pytest.approx(26 - told["whole_mm"], abs=1e-4)


def test_heights_under_the_line_have_a_minus():
    hollow = {**{key: f"{text} mm" for key, text in BOARD.items()}, "bow": "-6.25", "cup": "0", "twist": "0"}
    texts = [each["text"] for each in why("slab", units="in", board=hollow)["slab.part"]["put_in"]]
    assert any("−" in text for text in texts)
    assert not any("-" in text for text in texts)


def test_an_end_that_was_not_measured_is_as_the_middle():
    board = {"length": "2000", "width": "150", "part_thickness": "20"}
    one_end = ask("slab", board={**board, "end_1": "30", "middle": "26", "part_length": "1000"})["slab"]
    both = ask("slab", board={**board, "end_1": "30", "middle": "26", "end_2": "26", "part_length": "1000"})["slab"]
    other = ask("slab", board={**board, "middle": "26", "end_2": "30", "part_length": "1000"})["slab"]
    assert one_end == both
    assert other["part_mm"] == pytest.approx(one_end["part_mm"])


def test_the_amount_and_the_cost_work_out_by_hand():
    found = why("buy", need=NEED)
    assert set(found) == {"buy.spare", "buy.measures", "buy.one_part", "buy.needed", "buy.amount", "buy.cost"}
    # 27 x 100 x 1000 mm x 10 = 0.027 m3, a quarter wasted: 0.036 m3, at 1200.
    assert [work(found[f"buy.{key}"]) for key in ("one_part", "needed", "amount", "cost")] == [
        Fraction("0.0027"),
        Fraction("0.027"),
        Fraction("0.036"),
        Fraction("43.2"),
    ]
    assert found["buy.amount"]["result"] == "0.036 m3"
    assert work(found["buy.measures"]) == Fraction("26.19")
    assert work(found["buy.spare"]) == Fraction("1.39")


def test_quarters_say_how_scant_they_may_be_and_how_they_are_tallied():
    found = why("buy", units="in", need={"thickness": "3/4", "width": "8", "length": "36", "count": "8"})
    assert work(found["buy.measures"]) == Fraction(15, 16)
    assert work(found["buy.spare"]) == 0
    assert work(found["buy.amount"]) == 20
    assert work(found["buy.surface_measure"]) == 2
    assert "buy.cost" not in found


def test_a_form_with_problems_gives_those_and_an_unknown_one_says_which_there_are():
    assert [one["at"] for one in ask("why", form="buy", need={})["problems"]] == ["need.thickness"]
    assert "board.width" in {one["at"] for one in ask("why", form="slab", board={"length": "wide"})["problems"]}
    for form in ("sell", 7, None):
        problem = ask("why", form=form)["problems"][0]
        assert problem["at"] == "form"
        assert "slab, buy" in problem["text"]
    assert ask("why", form="buy", need={"thickness": "300"})["problems"][0]["at"] == "need.thickness"


def test_each_form_has_a_button_that_asks():
    assert 'data-why="slab"' in ask("slab", board=BOARD)["html"]["slab"]
    assert 'data-why="buy"' in ask("buy", need=NEED)["html"]["buy"]
