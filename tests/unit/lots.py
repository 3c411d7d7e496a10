"""Small lots as job documents, and what the door answers to them."""

import json

from thickset.doors.api import handle


def ask(job):
    return json.loads(handle(json.dumps({"ask": "plan", "job": job})))


def plan(job):
    answer = ask(job)
    assert answer["ok"], answer
    return answer["plan"]


def lot(*boards, target="3/4", units="in", planer=None, practice=None):
    return {
        "thickset": 1,
        "units": units,
        "target": {"thickness": target},
        "boards": [
            {"name": name, "readings": list(readings), "width": "6", "length": "40"}
            if units == "in"
            else {"name": name, "readings": list(readings), "width": "150", "length": "1000"}
            for name, *readings in boards
        ],
        "planer": planer or {},
        "practice": practice or {},
    }


def settings(job):
    return [one["setting"] for one in plan(job)["passes"]]
