"""Plan links lose nothing, whatever a document holds, and never open something else than what was sent."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lots import lot
from strategies import jobs, json_values, mangled_jobs
from thickset.doors.api import handle
from thickset.ground.link.link import MOST_CHARACTERS, LinkError, from_link, to_link

SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"


def same(found: object, meant: object) -> bool:
    """Equal as JSON, the order of keys aside."""
    return json.dumps(found, sort_keys=True) == json.dumps(meant, sort_keys=True)


@given(jobs())
def test_a_job_comes_back_to_the_letter(job: dict) -> None:
    assert same(from_link(to_link(job)), job)


@given(mangled_jobs() | st.dictionaries(st.text(max_size=8), json_values, max_size=5))
def test_whatever_stands_in_a_document_comes_back_or_is_refused(job: object) -> None:
    try:
        link = to_link(job)
    except LinkError:
        assert not isinstance(job, dict) or not json.dumps(job, ensure_ascii=False).isascii() or len(str(job)) > 400
        return
    assert same(from_link(link), job)


@given(jobs(most_free=4), st.data())
def test_a_link_that_was_changed_anyhow_never_opens_as_something_else(job: dict, data: st.DataObject) -> None:
    link = to_link(job)
    changed = list(link)
    for _ in range(data.draw(st.integers(1, 4))):
        place = data.draw(st.integers(len("#plan="), len(changed) - 1))
        way = data.draw(st.sampled_from(["change", "drop", "double", "swap", "cut"]))
        if way == "change":
            changed[place] = data.draw(st.sampled_from(SIGNS))
        elif way == "drop" and len(changed) > 12:
            del changed[place]
        elif way == "double":
            changed.insert(place, changed[place])
        elif way == "swap" and place + 1 < len(changed):
            changed[place], changed[place + 1] = changed[place + 1], changed[place]
        elif way == "cut" and place > 12:
            del changed[place:]
    text = "".join(changed)
    try:
        found = from_link(text)
    except LinkError:
        return
    assert text == link
    assert same(found, job)


@given(
    st.text(SIGNS, min_size=3, max_size=400).map(lambda text: f"#plan={'12'[len(text) % 2]}{text}")
    | st.text(max_size=200)
)
def test_what_nobody_made_does_not_open(text: str) -> None:
    answer = json.loads(handle(json.dumps({"ask": "open", "link": text})))
    assert answer["ok"] is False
    assert [problem["at"] for problem in answer["problems"]] == ["link"]


@pytest.mark.slow
@given(st.integers(1, 60), st.integers(1, 12))
def test_a_link_is_never_longer_than_it_may_be(boards: int, readings: int) -> None:
    job = {"thickset": 1, "boards": [{"readings": [f"{n * 7919 % 997}/64"] * readings} for n in range(boards * 20)]}
    try:
        assert len(to_link(job)) <= MOST_CHARACTERS + len("#plan=")
    except LinkError as error:
        assert "too large" in str(error) or "too much" in str(error)  # noqa: PT017


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "&lt;b&gt;", "javascript:1"]
)
def test_markup_in_a_name_stays_text(name: str) -> None:
    job = lot((name, "1", "15/16"), title=name)
    opened = json.loads(handle(json.dumps({"ask": "open", "link": to_link(job)})))["job"]
    assert opened == job
    html = json.loads(handle(json.dumps({"ask": "show", "job": opened})))["html"]
    assert not [part for part in html.values() if "<script" in part or "<img" in part]
