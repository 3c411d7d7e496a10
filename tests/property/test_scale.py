"""What the scale reads: the first instruction of a run is that of the plan, on every face."""

import csv
import html
import io
import json
import re

import pytest
import strategies
from amounts import examples
from hypothesis import assume, example, given
from hypothesis import strategies as st
from thickset.doors.api import handle

SEEDS = st.integers(0, 2**32)
RECORDS = st.none() | st.builds(
    lambda offset, worth, spread: {"offset": offset, "offset_worth": worth, "spread": spread, "spread_worth": 6},
    st.sampled_from([-0.4, -0.397, -0.12, -0.01, 0, 0.003, 0.05, 0.25, 0.8, 24]),
    st.sampled_from([0.02, 1, 5, 30]),
    st.sampled_from([0.02, 0.05, 0.2]),
)


def asked(ask, job, **more):
    answer = json.loads(handle(json.dumps({"ask": ask, "job": job, **more})))
    assume(answer["ok"])
    return answer


def bare(markup):
    """The words of a part, without its elements and spaces."""
    return re.sub(r"\s", "", html.unescape(re.sub(r"<[^>]*>", "", markup)))


def first(pattern, markup):
    return bare(re.search(pattern, markup, re.DOTALL)[1])


@examples(60)
@example(5199, None, True)  # a tight sheet whose first pass is aimed proud
@given(SEEDS, RECORDS, st.booleans())
def test_the_first_instruction_of_a_run_is_that_of_the_plan_on_every_face(seed, record, rests):
    job = strategies.job_by_chance(seed)
    job = {**job, "planer": {**job.get("planer", {}), "record": record}} if record else job
    job = {**job, "service": {"rest": "2 mm"}} if rests else job
    shown, run = asked("show", job), asked("follow", job)
    assume(shown["plan"]["passes"])
    one, step = shown["plan"]["passes"][0], run["run"]["step"]

    assert step["pass"] == {key: value for key, value in one.items() if key not in ("scale_mm", "scale", "aim_mm")}
    assert step["scale_mm"] == one.get("scale_mm", one["setting_mm"])
    assert step["aim_mm"] == one.get("aim_mm", 0)
    setting = re.search(r'data-pass="1" data-setting-mm="([\d.]+)"', shown["html"]["schedule"])
    assert float(setting[1]) == one["setting_mm"]
    assert ("data-scale-mm" in shown["html"]["schedule"]) == any("scale_mm" in each for each in shown["plan"]["passes"])

    read = first(r'<p class="setting">(.*?)</p>', run["html"]["run"])
    then = re.search(r'<p class="opens">(.*?)</p>', run["html"]["run"])
    assert (then is None) == ("scale_mm" not in one)
    told = asked("next", job)["text"].replace("\n    ", " ")
    assert f"settheplanerto{read}." in bare(told)
    card = first(r'<span class="pass-setting">(.*?)</span><svg', shown["html"]["schedule"]).removeprefix("scaleat")
    text = bare(asked("text", job)["text"])
    whole = f"scaleat{read}," if then else read
    assert card.startswith(read)
    assert f"Pass1of{len(shown['plan']['passes'])}:{whole}" in text
    figure = bare(step["scale"])
    sheet = asked("sheet", job)["html"]["sheet"]
    cell = first(r'<td class="to">(.*?)</td>', sheet)
    assert cell.startswith(figure if then and "sheet tight" in sheet else read)
    if then:
        opens = bare(then[1]).removeprefix("Opensto").removesuffix(job["units"])
        for face in (card, cell, text):
            assert ("forthefirsttry" if "aim_mm" in one else opens) in face
    rows = list(csv.DictReader(io.StringIO(asked("csv", job, what="passes")["text"])))
    if then:
        assert rows[0]["Scale reads"] == step["scale"]
        size = 25.4 if job["units"] == "in" else 1
        assert float(rows[0][f"Scale reads ({job['units']})"]) == pytest.approx(step["scale_mm"] / size, abs=1e-5)
    assert bare(rows[0]["Setting"]) == (bare(one["setting"]) if then else read)
