"""Where there is no plan: the boards that are named are in the way, and a finish cut that is told as the cure is one."""

import json
import re

import pytest
from amounts import times
from doors import ask_plan
from independent import read
from strategies import job_by_chance

BOARD, LIGHTER = re.compile(r"boards\[(\d+)\]\.width"), re.compile(r"ower the finish cut to ([^,]+? (?:in|mm))\b")


@pytest.mark.slow
def test_the_boards_named_are_cut_and_the_lighter_finish_cut_is_a_cure() -> None:
    named = cured = 0
    for seed in range(times(3000)):
        job = job_by_chance(seed)
        answer = ask_plan(job)
        if answer["ok"]:
            continue
        lot = read(job)
        for problem in answer["problems"]:
            if (board := BOARD.fullmatch(problem["at"])) and "proven cut" in problem["text"]:
                named += 1
                assert lot.boards[int(board[1])].thick > lot.target, json.dumps(job)
            if cure := LIGHTER.search(problem["text"]):
                cured += 1
                practice = {**job.get("practice", {}), "finish_cut": cure[1]}
                assert ask_plan({**job, "practice": practice})["ok"], f"{problem['text']} {json.dumps(job)}"
    assert named > times(100)
    assert cured > times(20)
