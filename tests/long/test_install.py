"""`pip install .` in an empty environment plans the demo, and leaves nothing in the checkout that git does not ignore."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path

from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN

ROOT = Path(__file__).resolve().parents[2]
EMPTY = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}


def run(*words: str | Path, cwd: Path) -> str:
    done = subprocess.run([*map(str, words)], cwd=cwd, env=EMPTY, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_core_installs_in_an_empty_environment_and_plans(tmp_path: Path) -> None:
    checkout, home, away = (tmp_path / name for name in ("checkout", "home", "away"))
    for name in run("git", "ls-files", cwd=ROOT).splitlines():
        (checkout / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, checkout / name)
    run("git", "init", "-q", cwd=checkout)
    run("git", "add", ".", cwd=checkout)
    before = run("git", "status", "--porcelain", cwd=checkout)
    venv.create(home, with_pip=True)
    inside = home / ("Scripts" if sys.platform == "win32" else "bin")
    run(inside / "python", "-m", "pip", "install", "-q", ".", cwd=checkout)
    assert run("git", "status", "--porcelain", cwd=checkout) == before

    away.mkdir()
    (away / "job.json").write_text(json.dumps(DEMO_IN), encoding="utf-8")
    plan = json.loads(run(inside / "python", "-m", "thickset", "plan", "--json", "job.json", cwd=away))
    assert plan == json.loads(handle(json.dumps({"ask": "plan", "job": DEMO_IN})))["plan"]
    place = run(inside / "python", "-c", "import thickset; print(thickset.__file__)", cwd=away)
    assert Path(place.strip()).is_relative_to(home)
