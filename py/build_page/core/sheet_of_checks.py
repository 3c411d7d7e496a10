"""The sheet of checks: made from a run of the published tests, kept for as long as neither they nor the core change."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import LOCKS, ROOT, Stop, run, say

HERE = Path(__file__).parent


def checks_html() -> str:
    """The checks with what came out, as HTML."""
    sources = [
        path
        for folder in (ROOT / "py" / "thickset", ROOT / "tests" / "published")
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.suffix in {".py", ".toml", ".csv", ".txt"}
    ]
    names = [path.relative_to(ROOT).as_posix() for path in sources]
    key = tools.digest(*sources, *names, LOCKS / "tools.txt")
    listed = tools.kept("checks", key, _run_checks) / "checks.json"
    env = {**os.environ, "PYTHONPATH": str(ROOT / "py"), "PYTHONHASHSEED": "0"}
    return run([tools.python(), HERE / "ask_checks.py", listed], "Writing the sheet of checks", env=env)


def _run_checks(place: Path) -> None:
    say("running the published checks")
    listed = place / "checks.json"
    env = {**os.environ, "PYTHONPATH": str(ROOT / "py"), "THICKSET_CHECKS": str(listed), "PYTHONHASHSEED": "0"}
    words = [str(tools.python()), "-m", "pytest", "-q", "-p", "no:cacheprovider", "tests/published"]
    with subprocess.Popen(words, cwd=ROOT, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as tests:
        said, _ = tools.ended(tests, "Running the published checks")
    # A check that does not hold still stands on the sheet, as failed.
    if tests.returncode not in (0, 1) or not listed.is_file():
        last = (said.strip().splitlines() or ["pytest said nothing"])[-1]
        raise Stop(f"The published checks could not be run: {last}")
