"""What "why" says of other settings is right, by the independent rules: allowed or not, and how long."""

import json
import re

from hypothesis import given
from independent import last_settings, read, run
from strategies import jobs
from thickset.doors.api import handle
from thickset.ground.job.document import read as read_job
from thickset.planning.passes.planner import make_plan
from thickset.planning.why.other_settings import with_setting_changed


@given(jobs())
def test_other_settings_cost_and_break_what_is_said(job):
    result = read_job(job)
    try:
        plan = make_plan(result.job)
    except Exception:
        return
    lot = read(job)
    settings = tuple(one.setting for one in plan.passes)
    for place in range(max(0, len(settings) - 3)):
        row, step = settings[place], result.job.planer.step
        others = [(row + step,), (row - step,), ()]
        for choice, other in zip(with_setting_changed(plan, place)[1:], others, strict=True):
            changed = (*settings[:place], *other, *settings[place + 1 :])
            if changed[0] >= lot.thick:
                assert choice.verdict.startswith("not needed")
                continue
            minutes = minutes_of(lot, changed, lot.seconds_for_scale(settings[0]))
            assert (choice.result is None) == (minutes is None)
            if minutes is not None:
                assert choice.result.value == minutes >= plan.minutes
            else:
                assert not choice.checks[0].holds


def minutes_of(lot, settings, for_scale):
    """The minutes of settings by the independent rules, None where they break one; the piece that tells of the scale is the plan's."""
    assert settings[-3:] == last_settings(lot)
    cuts = [high - low for high, low in zip((lot.thick, *settings), settings, strict=False)]
    if any(cut > lot.most for cut in cuts) or any(cut < lot.lightest for cut in cuts[1:]):
        return None
    passes = run(lot, settings)
    return (sum(one.seconds for one in passes) + for_scale) / 60 if passes else None


@given(jobs())
def test_every_reason_can_be_told(job):
    answer = json.loads(handle(json.dumps({"ask": "why", "job": job})))
    if answer["ok"]:
        assert all(why["title"] and why["result"] and why["source"] for why in answer["why"])
        assert len(re.findall("<details", answer["html"]["why"])) in {0, len(answer["why"])}
