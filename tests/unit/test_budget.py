"""A slip that is a legal job does not hold up the next change: an answer has a budget of work, and says what it left out."""

import json
import sys

import pytest
from lots import board, lot
from thickset.doors.api import ANSWERS, handle
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.faces.plan import rehearse
from thickset.planning.stock import parts
from thickset.planning.why import ask as why_ask

BOARDS = [{"name": f"B{n}", "readings": ["1", "1 1/16"], "width": "6", "length": "48"} for n in range(20)]
SLIP = lot(*BOARDS, board("5 ft", name="S", length="48"), units=None)


def answered(ask, job, **more):
    answer = json.loads(handle(json.dumps({"ask": ask, "job": job, **more})))
    assert answer["ok"], answer
    return answer


@pytest.mark.slow
def test_a_thick_spot_of_5_ft_is_rehearsed_in_few_frames_that_say_what_they_leave_out():
    frames = answered("rehearse", SLIP)["frames"]
    passes = len(answered("plan", SLIP)["plan"]["passes"])
    assert passes > 900
    assert len(frames) * (len(SLIP["boards"]) + passes) <= 2 * rehearse.MOST_WORK
    assert f"After pass {passes} of {passes}," in frames[-1]
    told = [n for n, frame in enumerate(frames) if "are left out here" in frame]
    assert len(told) == 1
    assert f"After pass {told[0]} of {passes}," in frames[told[0]]
    left_out = f"Passes {told[0] + 1} to {passes - (len(frames) - told[0] - 1)} are left out here"
    assert left_out in frames[told[0]]


@pytest.mark.slow
def test_why_it_is_so_is_told_of_some_numbers_with_how_to_ask_for_the_others():
    answer = answered("why", SLIP)
    assert len(answer["why"]) == why_ask.LEAST_REASONS
    said = f"{answer['left_out']:,} further numbers are left out. Ask for those of one pass"
    assert said in answer["text"]
    assert said in answer["html"]["why"]
    of_one = answered("why", SLIP, what="passes[900]")
    assert "left_out" not in of_one


@pytest.mark.slow
def test_a_cutting_plan_of_many_boards_and_kinds_is_made_once_for_an_answer_and_says_that_it_is_not_proved(monkeypatch):
    made = []
    least = parts.least_waste
    monkeypatch.setattr(parts, "least_waste", lambda *given: made.append(given) or least(*given))
    boards = [board("1", name=f"B{n}", length=str(60 + n % 37)) for n in range(100)]
    pieces = [{"name": f"P{k}", "length": str(6 + k), "count": 6} for k in range(30)]
    job = lot(*boards, units=None, parts=pieces)
    answer = answered("parts", job)
    assert not answer["parts"]["proved"]
    assert "Not every such way was tried" in answer["html"]["leave"]
    assert sum(answer["parts"]["missing"]) == 0
    assert len(made) == 1
    for ask in ("more", "split", "why"):
        made.clear()
        handle(json.dumps({"ask": ask, "job": job}))
        assert len(made) <= 1, ask


THICK = [board("60 in", f"{59 - n % 7} in", name=f"B{n}", length="48") for n in range(60)]
SLIPS = {
    "a thick spot of 5 ft": SLIP,
    "60 boards of 5 ft": lot(*THICK, units=None, target="24 in"),
    "100 boards and 30 kinds of parts": lot(
        *[board("15/16", "7/8", name=f"B{n}", width="8", length="96") for n in range(100)],
        units=None,
        parts=[{"name": f"P{n}", "length": str(10 + n), "width": "2", "count": "20"} for n in range(30)],
    ),
}

MOST_CALLS = 5_000_000
"""Calls of functions of an answer [count]: the same on every machine; some seconds on a slow one."""


@pytest.mark.slow
@pytest.mark.parametrize("slip", SLIPS)
def test_each_slip_is_a_legal_job(slip):
    assert answered("plan", SLIPS[slip])["plan"]["passes"]


ASKS = [ask for ask in ANSWERS if ask not in ("about", "open", "species", "table", "event")]
HEAVY = ("show", "more", "why", "report", "parts")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("slip", "ask"), [(slip, ask) for slip in SLIPS for ask in (ASKS if SLIPS[slip] is SLIP else HEAVY)]
)
def test_no_answer_about_a_slip_takes_more_than_its_budget_of_calls(slip, ask):
    calls = 0

    def count(_frame, what, _more):
        nonlocal calls
        calls += what == "call"
        if calls > MOST_CALLS:
            raise RuntimeError(f"{ask}: more than {MOST_CALLS:,} calls")

    sys.setprofile(count)
    try:
        answer = json.loads(handle(json.dumps({"ask": ask, "job": SLIPS[slip]})))
    finally:
        sys.setprofile(None)
    assert 0 < calls <= MOST_CALLS, answer


@pytest.mark.parametrize("demo", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
def test_a_usual_lot_is_told_whole(demo):
    passes = len(answered("plan", demo)["plan"]["passes"])
    assert len(answered("rehearse", demo)["frames"]) == passes + 1
    assert "left_out" not in answered("why", demo)
    many = {**demo, "boards": [{**board, "name": f"{board['name']}{n}"} for n in range(50) for board in demo["boards"]]}
    assert len(answered("rehearse", many)["frames"]) == len(answered("plan", many)["plan"]["passes"]) + 1


def test_a_run_of_more_surprises_than_can_be_planned_anew_is_named_with_its_cure():
    job = lot(*[board("1", name=f"B{n}") for n in range(100)])
    seen = [{"did": "see", "what": "dents"}]
    answered("follow", {**job, "run": seen * 20})
    answer = json.loads(handle(json.dumps({"ask": "follow", "job": {**job, "run": seen * 1001}})))
    [problem] = answer["problems"]
    assert problem["at"] == "run"
    assert "1,001 surprises and measurements are more than 1,000" in problem["text"]
