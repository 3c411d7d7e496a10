"""Jobs read and their runs followed, and what the screen at the machine offers to tap."""

import html
import json
import re

from hypothesis import assume
from thickset.faces.run.run import run
from thickset.ground.job import document
from thickset.ground.job.job import ProblemsError
from thickset.planning.run.follow import begin, follow


def job_of(entered):
    result = document.read(entered)
    assume(result.job is not None)
    return result.job


def begun(entered):
    try:
        return begin(job_of(entered))
    except ProblemsError:
        assume(False)


def with_run(entered, events):
    return follow(job_of({**entered, "run": events}))


def buttons(state):
    """The events that the screen offers."""
    found = re.findall(r'data-event="([^"]*)"', str(run(state)))
    return [json.loads(html.unescape(text)) for text in found]


def measurements(state):
    """The events that the screen's fields add a reading to, and under which key."""
    found = re.findall(r'data-measure="([^"]*)"', str(run(state)))
    return [json.loads(html.unescape(text)) for text in found]
