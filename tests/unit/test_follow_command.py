"""`python -m thickset follow`: what comes next, as text and as JSON."""

import json
import subprocess
import sys

import pytest
from lots import fed_at
from thickset.doors.demo import DEMO_IN

RUN = fed_at("1 in", "15/16 in", "7/8 in")


def follow(tmp_path, run, *more):
    path = tmp_path / "job.json"
    path.write_text(json.dumps({**DEMO_IN, "run": run}), encoding="utf-8")
    command = [sys.executable, "-m", "thickset", "follow", str(path), *more]
    return subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)


def test_it_prints_what_comes_next(tmp_path):
    said = follow(tmp_path, RUN)
    assert said.returncode == 0
    assert said.stdout.startswith(
        "Pass 4 of 6, rough: set the planer to 13/16 in.\nFrom where it stands: 1 turn, table up."
    )
    assert "test piece" in said.stdout
    assert max(map(len, said.stdout.splitlines())) <= 80


@pytest.mark.slow
def test_it_prints_the_state_as_json(tmp_path):
    state = json.loads(follow(tmp_path, RUN, "--json").stdout)
    assert state["step"]["kind"] == "test"
    assert len(state["done"]) == 3


@pytest.mark.slow
def test_a_damaged_run_is_refused_with_its_place(tmp_path):
    said = follow(tmp_path, [{"did": "fly"}])
    assert said.returncode == 2
    assert said.stderr.startswith("run[0].did: ")
