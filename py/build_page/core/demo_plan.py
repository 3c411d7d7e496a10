"""What the build asks of the core itself: the demo lot's plan for the page, and requests to warm the core up with."""

from __future__ import annotations

import base64
import functools
import hashlib
import json
import os
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import ROOT, run

HERE = Path(__file__).parent

DEMO_PARTS = ("summary", "schedule", "picture", "boards", "targets", "notes", "movement", "surface", "shavings")


@functools.cache
def demo() -> dict[str, object]:
    """The demo jobs, the page's fields and the demo's plan as HTML, as the core gives them natively."""
    env = {**os.environ, "PYTHONPATH": str(ROOT / "py"), "PYTHONHASHSEED": "0"}
    told: dict[str, object] = json.loads(
        run([tools.python(), HERE / "ask_core.py"], "Asking the core for the demo", env=env)
    )
    return told


def page_fills() -> dict[str, str]:
    """The words for index.html's placeholders."""
    told = demo()
    shown, fields = told["html"], told["markup"]
    assert isinstance(shown, dict)  # noqa: S101
    assert isinstance(fields, dict)  # noqa: S101
    fills = {**fields, **{f"demo-{part}": str(shown.get(part, "")) for part in DEMO_PARTS}}
    for name in ("demo-job", "demo-job-mm", "fields"):
        fills[name] = json.dumps(told[name], ensure_ascii=False, sort_keys=False).replace("<", "\\u003c")
    return fills


def paper_style() -> str:
    """The style of what goes on paper, which the core puts into its own documents too."""
    return f"/* Written by the build. */\n{demo()['paper.css']}"


def job_schema() -> str:
    """The JSON Schema of a job document, for whoever writes jobs."""
    return f"{json.dumps(demo()['schema'], ensure_ascii=False, indent=1)}\n"


def warm_requests() -> list[str]:
    """Requests that take the core through all it can be asked: the demo jobs and every golden file's request."""
    told = demo()
    jobs = [told["demo-job"], told["demo-job-mm"]]
    requests = [json.dumps({"ask": ask, "job": job}) for ask in ("plan", "show", "mechanics") for job in jobs]
    for path in sorted((ROOT / "tests" / "golden").glob("*.json")):
        golden = json.loads(path.read_text(encoding="utf-8"))
        requests.append(json.dumps(golden["request"]))
    return [*requests, json.dumps({"ask": "about"}), json.dumps({"ask": "?"}), "not JSON"]


def integrity(path: Path) -> str:
    """A file's hash as a browser checks it."""
    return "sha256-" + base64.b64encode(hashlib.sha256(path.read_bytes()).digest()).decode()
