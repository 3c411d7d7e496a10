"""Whatever stands wherever in a job: never a fault, and each problem says where it is and what helps."""

import copy
import itertools
import json
import random
import re

import pytest
from amounts import times
from thickset.doors.api import ANSWERS, FAULT, handle
from thickset.doors.demo import DEMO_IN
from thickset.ground.job import document
from thickset.ground.job.fields import keys_of

NONSENSE = [
    *(None, True, False, 0, -0.0, -5, 1e300, 10**40, 5e-324, float("inf"), float("nan"), 9_999_999, 0.0000001),
    *([], {}, [[]], [{}], {"a": 1}, ["1"], [None], [1, 2, 3]),
    *(
        "",
        " ",
        "\u0000",
        "\ud800",
        "½",
        "١",
        "∞",
        "NaN",
        "1e400",
        "-1",
        "0",
        "9" * 5000,
        "1/0",
        "1 1/1025",
        "💥" * 50,
        "'",
    ),
    *("0.0000000000001", "9999999", "9999999 ft", "0.0001 mm", "100 m", "2 kg", "<b>", "\u202e", "\n"),
    *("in", "table", "5000 rpm", "100 rpm", "20 ft/min", "0.5 m/min", "1 to 1e9 m/min", "Ash, white", "1,250", "70 F"),
]


def full_job():
    """A job with every field and every kind of event."""
    job = copy.deepcopy(DEMO_IN)
    job |= {
        "service": {"moisture_now": "12", "temperature": "70 F", "humidity": "40", "grain": "quartersawn"}
        | {"thickness": "3/4", "rest": "1/16"},
        "shop": {"bag": "30 gal", "air": "800 cfm", "duct": "4", "noise": "102"},
        "rates": {"people": "40", "machine": "10", "wood": "6.5 per board foot"},
        "cutting": {"kerf": "1/8", "trim": "1/2", "ends": "butted"},
        "parts": [{"name": "leg", "length": "20", "count": 3, "width": "2"}],
        "run": [
            {"did": "test", "setting": "1", "scale": "1", "thickness": "1.001"},
            {"did": "feed", "setting": "1", "scale": "1", "after": 30},
            {"did": "check", "thickness": "0.999"},
            {"did": "measure", "board": "A", "readings": ["0.99", "1"], "places": ["middle left"]},
            {"did": "see", "what": "bog", "board": "B"},
            {"did": "remove", "board": "C", "why": "split"},
            {"did": "retarget", "thickness": "3/4"},
            {"did": "snipe", "lead": "2", "trail": "1"},
        ],
    }
    job["boards"] = job["boards"][:3]
    for board, name in zip(job["boards"], "ABC", strict=True):
        board["name"] = name
    job["boards"][0] |= {"defects": [{"from": "3", "to": "5"}], "places": ["end 1 left"]}
    job["planer"] |= {
        "table": "20",
        "turn": "1/16",
        "record": {"offset": "0.1", "offset_worth": 3, "spread": 0.05, "spread_worth": 4, "runs": 2, "fed": 100}
        | {"set_seconds": 20, "handle_seconds": 8, "timed": 2, "lead": 60, "trail": 50, "sniped": 1},
    }
    return job


def places(value, at=()):
    yield at
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inside:
        yield from places(one, (*at, key))


def replaced(value, at, by):
    if not at:
        return by
    made = copy.copy(value)
    made[at[0]] = replaced(value[at[0]], at[1:], by)
    return made


FULL = full_job()
PLACES = list(places(FULL))


def test_the_full_job_is_read_and_has_every_part():
    assert document.read(FULL).problems == []
    assert len(PLACES) > 120


@pytest.mark.parametrize("share", range(4))
def test_nonsense_anywhere_in_a_job_is_answered(share):
    """Every place gets nonsense of every kind in a long run; in a usual one so much of it, by chance that stays."""
    asks = itertools.cycle(ANSWERS)
    all_of_it = list(itertools.product(PLACES, NONSENSE))
    random.Random(1).shuffle(all_of_it)
    for at, nonsense in all_of_it[: times(1200)][share::4]:
        ask = next(asks)
        job = replaced(FULL, at, nonsense)
        answer = json.loads(handle(json.dumps({"ask": ask, "job": job, "whole": True})))
        for problem in answer.get("problems", ()):
            said = f"{ask}, {at} as {str(nonsense)[:40]!r}: {problem}"
            assert not problem["text"].startswith(FAULT), said
            assert len(problem["text"]) < 400, said
            assert problem["text"].endswith((".", "?")), said


@pytest.mark.parametrize("board", [["A"], {}, {"a": 1}, [[]], 5, True, ""])
def test_a_board_of_the_run_that_is_no_name_is_told_with_what_helps(board):
    job = replaced(FULL, ("run", 3, "board"), board)
    answer = json.loads(handle(json.dumps({"ask": "follow", "job": job})))
    assert [problem["at"] for problem in answer["problems"]] == ["run[3].board"]
    assert answer["problems"][0]["text"].endswith(
        ("in this lot. Name one of it.", "it names no board. Name one of this lot.")
    )


@pytest.mark.parametrize("at", ["planer", "planer.snipe", "boards[0]", "parts[0]", "boards[0].defects[0]"])
def test_what_is_no_object_is_told_with_the_fields_it_has(at):
    keys = [int(key) if key.isdecimal() else key for key in at.replace("[", ".").replace("]", "").split(".")]
    answer = json.loads(handle(json.dumps({"ask": "plan", "job": replaced(FULL, tuple(keys), "3")})))
    [told] = [problem["text"] for problem in answer["problems"] if problem["at"] == at]
    part = re.sub(r"\d+", "", at)
    assert told.endswith(f"'3' stands where an object with fields is wanted: {', '.join(keys_of(part))}.")


@pytest.mark.parametrize("typed", ["'", "\u0000", "½", "9" * 5000])
def test_a_wood_that_is_no_word_is_answered_with_the_cure_and_no_guess(typed):
    job = replaced(FULL, ("boards", 0, "species"), typed)
    answer = json.loads(handle(json.dumps({"ask": "plan", "job": job})))
    assert answer["problems"][0]["text"].endswith("Choose one of the list, or enter its density.")
