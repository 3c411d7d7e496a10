"""The fold "Surface and load": what is equal is said once, and every load can still be asked why."""

import itertools
import json
import re

import pytest
from lots import lot
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM


def shown(job):
    html = json.loads(handle(json.dumps({"ask": "mechanics", "job": job})))["html"]["surface"]
    return html[html.index("Load on each pass") :]


def lines(html):
    return [re.sub(r"<[^>]+>", "", line) for line in re.findall(r"<p>(.*?)</p>", html)]


@pytest.mark.parametrize("job", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
def test_passes_and_boards_that_are_equal_are_said_once(job):
    told = shown(job)
    for item in re.findall(r"<li>(.*?)</li>", told):
        said = lines(item)
        assert len(set(said)) == len(said)
    items = [tuple(lines(item)) for item in re.findall(r"<li>(.*?)</li>", told)]
    assert all(first[-3:] != second[-3:] for first, second in itertools.pairwise(items))


def test_two_boards_alike_share_a_figure_and_passes_alike_a_heading():
    board = {"readings": ["27/32", "13/16"], "width": "6", "length": "40"}
    planer = {"known_cut": {"width": "12", "depth": "1/16", "feed": "20 ft/min"}, "feeds": ["20 ft/min"]}
    job = lot(board, board, {**board, "width": "3"})
    told = shown({**job, "planer": planer})
    # Half the width and half the depth of the known cut: a quarter; three passes of the same cut at the same feed.
    assert lines(told)[0] == "A and B 25 %, C 12 %"
    assert re.findall(r"<h4>(.*?)</h4>", told) == ["Passes 1 to 3"]


def test_every_load_can_be_asked_why():
    html = shown(DEMO_IN)
    asked = {int(n) for n in re.findall(r'data-why="loads\[(\d+)\]"', html)}
    assert asked
    plan = json.loads(handle(json.dumps({"ask": "plan", "job": DEMO_IN})))["plan"]
    by_board = [tuple((fed["board"], fed["load"]) for fed in one["fed"]) for one in plan["passes"]]
    for n, loads in enumerate(by_board):
        assert n in asked or loads in [by_board[k] for k in asked]
