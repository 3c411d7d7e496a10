"""What is true of every plan, whatever the lot."""

import json
import os
import subprocess
import sys
from fractions import Fraction

import pytest
from amounts import examples
from audit import audit, both_faces_at, near
from doors import ask_plan, plan_of
from hypothesis import given
from hypothesis import strategies as st
from independent import read
from lots import lot
from strategies import (
    in_other_units,
    jobs,
    json_values,
    large_job,
    large_jobs,
    mangled_jobs,
    named,
    places,
    replaced,
    spoiled_jobs,
)
from thickset.doors.api import FAULT, handle


def gist(plan: dict) -> dict:
    """What a plan says of wood and machine, without the order of the boards or the words of one unit."""
    passes = [
        {key: value for key, value in row.items() if key not in ("setting", "scale", "fed")}
        | {"fed": {entry["board"]: entry for entry in row["fed"]}}
        for row in plan["passes"]
    ]
    boards = {entry["board"]: entry for entry in plan["boards"]}
    thickest = {key: plan["decides"][key] for key in ("board", "reading", "thick_mm")}
    return {"passes": passes, "boards": boards, "minutes": plan["minutes"], "decides": thickest}


@examples(200)
@given(jobs(most_free=16))
def test_a_plan_keeps_the_rules(job: dict) -> None:
    answer = ask_plan(job)
    if answer["ok"]:
        audit(job, answer["plan"])


@examples(10)
@given(large_jobs())
def test_a_plan_of_a_larger_lot_keeps_the_rules(job: dict) -> None:
    answer = ask_plan(job)
    if answer["ok"]:
        audit(job, answer["plan"])


@examples(300)
@given(jobs(), st.integers(1, 99))
def test_where_a_target_has_a_plan_within_the_limits_of_cut_a_thicker_one_has(job: dict, share: int) -> None:
    job = {**job, "planer": {key: value for key, value in job.get("planer", {}).items() if key != "known_cut"}}
    if not ask_plan(job)["ok"]:
        return
    known = read(job)
    thicker = float(known.target + max(0, known.thick - known.target) * share / 100)
    answer = ask_plan({**job, "target": {**job["target"], "thickness": f"{thicker:.4f} mm"}})
    assert answer["ok"], answer


@examples(80)
@given(jobs(), st.data())
def test_the_order_of_the_boards_does_not_matter(job: dict, data: st.DataObject) -> None:
    other = {**job, "boards": data.draw(st.permutations(job["boards"]))}
    first, second = ask_plan(job), ask_plan(other)
    assert first["ok"] == second["ok"]
    if first["ok"]:
        assert gist(first["plan"]) == gist(second["plan"])


@examples(80)
@given(jobs(full=True))
def test_inches_and_millimetres_give_one_plan(job: dict) -> None:
    tolerance = "0.005" if job["units"] == "in" else "0.1"  # its default is not the same length in both
    job = {**job, "target": {**job["target"], "tolerance": tolerance}}
    first, second = ask_plan(job), ask_plan(in_other_units(job))
    assert first["ok"] == second["ok"]
    if first["ok"]:
        assert gist(first["plan"]) == gist(second["plan"])


@examples(80)
@given(jobs())
def test_boards_alike_may_be_counted_or_named(job: dict) -> None:
    named_one_by_one = [
        {key: value for key, value in board.items() if key != "count"} | {"name": f"{board['name']}{n}"}
        for board in job["boards"]
        for n in range(board.get("count", 1))
    ]
    first, second = ask_plan(job), ask_plan({**job, "boards": named_one_by_one})
    assert first["ok"] == second["ok"]
    if first["ok"]:
        assert first["plan"]["minutes"] == second["plan"]["minutes"]
        assert settings_of(first["plan"]) == settings_of(second["plan"])


@examples(80)
@given(jobs())
def test_a_board_under_the_target_changes_nothing(job: dict) -> None:
    thin = {"name": "Z", "readings": [job["target"]["thickness"]], "width": "200 mm", "length": "900 mm"}
    first, second = ask_plan(job), ask_plan({**job, "boards": [*job["boards"], thin]})
    assert first["ok"] == second["ok"]
    if first["ok"]:
        assert second["plan"]["passes"] == first["plan"]["passes"]
        assert second["plan"]["boards"][-1]["outcome"] == "untouched"


@examples(50)
@given(jobs())
def test_the_targets_shown_are_the_thickest_at_which_more_boards_make_it(job: dict) -> None:
    answer = ask_plan(job)
    if not answer["ok"]:
        return
    lot, rows = read(job), answer["plan"]["targets"]
    pieces = sum(board.count for board in lot.boards)
    made = both_faces_at(lot, lot.target)
    if not rows:
        assert made == pieces
        return
    expected = [(lot.target, made)]
    mark = lot.target // lot.step * lot.step
    while made < pieces and mark > 0:
        if both_faces_at(lot, mark) > made and ask_plan(with_target(job, mark))["ok"]:
            made = both_faces_at(lot, mark)
            expected.append((mark, made))
        mark -= lot.step
    if len(expected) > 7:  # a glance: the ends stay, and some between
        assert len(rows) == 7
        expected = [
            expected[0],
            *(e for e in expected[1:-1] if any(near(r["target_mm"], e[0]) for r in rows)),
            expected[-1],
        ]
    assert [row["both_sides"] for row in rows] == [count for _, count in expected]
    assert all(near(row["target_mm"], target) for row, (target, _) in zip(rows, expected, strict=True))


def with_target(job: dict, target: Fraction) -> dict:
    return {**job, "target": {"thickness": f"{target / Fraction(254, 10)} in"}}


@examples(60)
@given(jobs())
def test_asking_twice_gives_the_same_bytes(job: dict) -> None:
    request = json.dumps({"ask": "plan", "job": job})
    assert handle(request) == handle(request)


def settings_of(plan: dict) -> list[float]:
    return [row["setting_mm"] for row in plan["passes"]]


@pytest.mark.slow
def test_no_run_of_the_program_differs_from_another() -> None:
    """The order of sets and dictionaries is another on each run; no plan may hang on it."""
    lots = [
        large_job(seed, units, 12, over)
        for seed in range(6)
        for units, over in (("in", Fraction(3, 8)), ("mm", Fraction(9)))
    ]
    lots = [job for job in lots if ask_plan(job)["ok"]]
    assert len(lots) > 4
    requests = "\n".join(json.dumps({"ask": "plan", "job": job}) for job in lots)
    program = "import sys; from thickset.doors.api import handle; [print(handle(line)) for line in sys.stdin]"
    answers = {
        subprocess.run(
            [sys.executable, "-c", program],
            input=requests,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8"},
            capture_output=True,
            encoding="utf-8",
            check=True,
        ).stdout
        for seed in ("0", "1", "4711")
    }
    assert len(answers) == 1
    assert answers.pop().splitlines() == [handle(line) for line in requests.splitlines()]


@examples(200)
@given(spoiled_jobs())
def test_nonsense_is_named_with_its_field(spoiled: tuple[dict, str, object]) -> None:
    job, at, bad = spoiled
    answer = ask_plan(job)
    assert not answer["ok"]
    mine = [problem for problem in answer["problems"] if problem["at"] == at]
    assert len(mine) == 1, answer["problems"]
    assert [problem for problem in answer["problems"] if problem["at"] != at] == []
    text = mine[0]["text"]
    assert "Write" in text, "the cure"
    if isinstance(bad, str) and bad.strip().isprintable() and bad.strip():
        assert bad.strip()[:20] in text, "what was typed"
    assert len(text) < 300


@examples(80)
@given(jobs(most_free=3), st.data())
def test_a_key_nobody_knows_is_named(job: dict, data: st.DataObject) -> None:
    holders = [(), *(at for at in places(job) if isinstance(_at(job, at), dict))]
    at = data.draw(st.sampled_from(holders))
    job = replaced(job, at, {**_at(job, at), "hue": "blue"})
    answer = ask_plan(job)
    assert not answer["ok"]
    assert [problem["at"] for problem in answer["problems"]] == [named((*at, "hue"))]


def _at(job: object, at: tuple) -> object:
    for key in at:
        job = job[key]
    return job


ASKS = ["plan", "show", "why", "follow", "next"]


@examples(200)
@given(mangled_jobs(), st.sampled_from(ASKS))
def test_no_document_breaks_the_door(job: dict, ask: str) -> None:
    check_answer(handle(json.dumps({"ask": ask, "job": job})))


@examples(200)
@given(json_values, st.sampled_from(ASKS))
def test_no_json_breaks_the_door(value: object, ask: str) -> None:
    for request in (value, {"ask": value}, {"ask": ask, "job": value}, {"ask": ask, "what": value, "job": {}}):
        check_answer(handle(json.dumps(request)))


@pytest.mark.parametrize("ask", ASKS)
@pytest.mark.parametrize("odd", ["\ud800", "\u202e", "\0", "<script>", "\N{PILE OF POO}", "a\nb"])
def test_odd_signs_are_answered_everywhere(ask: str, odd: str) -> None:
    board = {"name": odd, "readings": [odd], "width": odd, "length": odd, "species": odd, odd: odd}
    job = {"thickset": 1, "title": odd, "units": odd, "target": {"thickness": odd, odd: 1}, "boards": [board]}
    for units in (odd, "in"):
        check_answer(handle(json.dumps({"ask": ask, "what": odd, "job": {**job, "units": units}})))
        good = {"name": odd, "readings": ["1"], "width": "6", "length": "48"}
        job |= {"target": {"thickness": "3/4"}, "boards": [good], "planer": {"name": odd}}


@examples(80)
@given(st.text(max_size=40))
def test_no_text_breaks_the_door(text: str) -> None:
    check_answer(handle(text))


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, '{"ask":"plan","job":1e999}', "NaN", "\ud800", "9" * 10_000])
def test_no_odd_request_breaks_the_door(text: str) -> None:
    check_answer(handle(text))


def check_answer(given: str) -> None:
    """An answer that a page or a terminal can show, and no fault of the program's own."""
    given.encode("utf-8")
    answer = json.loads(given)
    if answer["ok"]:
        return
    assert answer["problems"]
    for problem in answer["problems"]:
        assert {"at", "text"} <= set(problem) <= {"at", "text", "short", "cures"}
        assert isinstance(problem["at"], str)
        assert problem["text"]
        assert not problem["text"].startswith(FAULT)


@pytest.mark.parametrize(
    ("planer", "readings"),
    [
        ({"step": "0.000001"}, ["13/16", "1/2"]),
        ({"step": "0.000001"}, ["2", "1/2"]),
        ({"step": "1/1024 mm", "lightest_cut": "1/1024 mm"}, ["2", "1/2"]),
        ({"step": "1/1021 mm", "turn": "1/1019", "lightest_cut": "1/1013"}, ["1 1/3", "71/97"]),
        ({}, ["7 in", "6 in"]),
        ({}, ["9999999 in", "1/2"]),
        ({"step": "9999999 mm"}, ["1", "1/2"]),
    ],
)
def test_extremes_are_answered(planer: dict, readings: list[str]) -> None:
    board = {"readings": readings, "width": "6", "length": "48"}
    job = lot(board, planer=planer)
    check_answer(handle(json.dumps({"ask": "plan", "job": job})))


def test_an_empty_run_of_defaults_is_the_same_as_none() -> None:
    board = {"name": "A", "readings": ["1", "15/16"], "width": "6", "length": "48"}
    job = lot(board)
    assert plan_of(job) == plan_of({**job, "planer": {}, "practice": {}})
