"""The product as the tests meet it: through its one door, JSON in and JSON out."""

import json

from thickset.doors.api import handle


def ask_plan(job: object) -> dict:
    return json.loads(handle(json.dumps({"ask": "plan", "job": job})))


def plan_of(job: object) -> dict:
    """The plan document of a job that has one."""
    answer = ask_plan(job)
    assert answer["ok"], answer["problems"]
    return answer["plan"]
