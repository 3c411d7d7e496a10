"""Jobs as documents, in the words of the trade: a lot of boards, what was fed, and what the door answers to them."""

from __future__ import annotations

import json
from typing import Any

from thickset.doors.api import handle

Document = dict[str, Any]
USUAL = {"in": ("3/4", "6", "40"), "mm": ("20", "150", "1000")}
"""Target, width and length where a test does not care, by the job's units."""


def board(*readings: Any, width: Any = "6", length: Any = "40", **more: Any) -> Document:
    """A board from its readings; its name, count or wood go to `more`.

    >>> board("1", "7/8", name="A")
    {'name': 'A', 'readings': ['1', '7/8'], 'width': '6', 'length': '40'}
    """
    name = {"name": more.pop("name")} if "name" in more else {}
    return {**name, "readings": list(readings), "width": width, "length": length, **more}


def metric(*readings: Any, width: Any = "150", length: Any = "1000", **more: Any) -> Document:
    """A board that is measured in millimeters."""
    return board(*readings, width=width, length=length, **more)


def lot(
    *boards: Document | tuple[str, ...],
    target: Any = None,
    units: str | None = "in",
    tolerance: Any = None,
    **parts: Any,
) -> Document:
    """A job of boards: each one's document, or its name and readings; what else the job holds goes to `parts`.

    >>> lot(("A", "1"), planer={"turn": "1/16"})["boards"]
    [{'name': 'A', 'readings': ['1'], 'width': '6', 'length': '40'}]
    """
    usual, width, length = USUAL[units or "in"]
    written = [
        one if isinstance(one, dict) else board(*one[1:], name=one[0], width=width, length=length) for one in boards
    ]
    thickness = {"thickness": target or usual, **({"tolerance": tolerance} if tolerance is not None else {})}
    return {"thickset": 1, **({"units": units} if units else {}), "target": thickness, "boards": written, **parts}


def metric_lot(*boards: Document | tuple[str, ...], **parts: Any) -> Document:
    """A job in millimeters."""
    return lot(*boards, units="mm", **parts)


def fed_at(*settings: str) -> list[Document]:
    """What a run holds of passes at these settings, where the planer opens as it is set.

    >>> fed_at("25")
    [{'did': 'feed', 'setting': '25', 'scale': '25'}]
    """
    return [{"did": "feed", "setting": one, "scale": one} for one in settings]


def ask(job: Document) -> Any:
    """The answer to a job: its plan, or its problems."""
    return json.loads(handle(json.dumps({"ask": "plan", "job": job})))


def plan(job: Document) -> Any:
    """The plan of a job that has one."""
    answer = ask(job)
    assert answer["ok"], answer
    return answer["plan"]


def settings(job: Document) -> list[str]:
    """The settings of its plan."""
    return [one["setting"] for one in plan(job)["passes"]]
