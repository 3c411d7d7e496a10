"""The JSON of a request: nothing that was written is dropped in silence."""

import json

import pytest
from thickset.doors import request
from thickset.doors.api import handle

JOB = (
    '{"thickset": 1, "target": {"thickness": "3/4"}, '
    '"boards": [{"readings": ["1"], "width": "6", "length": "40"}, {"readings": ["1"], "width": "6", "length": "40"}]}'
)


def problems(text):
    answer = json.loads(handle(text))
    assert not answer["ok"]
    return [(problem["at"], problem["text"]) for problem in answer["problems"]]


@pytest.mark.parametrize(
    ("was", "written", "at", "key"),
    [
        ('"thickness": "3/4"', '"thickness": "3/4", "thickness": "7/8"', "target.thickness", "thickness"),
        ('"thickness": "3/4"', '"thickness": "3/4", "thickness": "3/4"', "target.thickness", "thickness"),
        ('"width": "6", "length": "40"}]', '"width": "6", "length": "40", "width": "9"}]', "boards[1].width", "width"),
        ('"thickset": 1', '"thickset": 1, "boards": []', "boards", "boards"),
    ],
)
def test_a_field_that_stands_there_twice_is_told_with_its_path_and_the_cure(was, written, at, key):
    assert json.loads(handle(f'{{"ask": "plan", "job": {JOB}}}'))["ok"]
    text = f'{{"ask": "plan", "job": {JOB.replace(was, written)}}}'
    assert problems(text) == [(at, f"'{key}' stands here twice. Keep one of them.")]


def test_all_doubled_fields_are_told_at_once_in_their_order():
    text = '{"ask": "plan", "job": {"a": [1, {"b": 1, "b": 2}], "c": {"d": 1, "e": 2, "d": 3, "e": 4}}, "what": 1, "what": 2}'
    assert [at for at, _ in problems(text)] == ["what", "a[1].b", "c.d", "c.e"]


def test_a_doubled_field_however_deep_is_no_fault():
    deep = "[" * 30 + '{"a": 1, "a": 2}' + "]" * 30
    [(at, text)] = problems(f'{{"ask": "plan", "job": {deep}}}')
    assert at.endswith("[0].a")
    assert text == "'a' stands here twice. Keep one of them."


def test_the_same_field_in_two_boards_is_no_field_twice():
    assert request.read(JOB)["boards"][0] == request.read(JOB)["boards"][1]


@pytest.mark.parametrize("text", ["", "{", '{"ask": "plan", "job": }', None, 5])
def test_what_is_no_json_is_told(text):
    [(at, said)] = problems(text)
    assert at == "request"
    assert said.startswith("This is no JSON: ")


@pytest.mark.parametrize("deep", ["[" * 2500 + "]" * 2500, '{"a":' * 2500 + "1" + "}" * 2500, "[" * 100_000])
def test_what_is_nested_too_deep_is_told_before_it_is_read(deep, monkeypatch):
    monkeypatch.setattr(request, "json", None)
    [(at, said)] = problems(f'{{"ask": "plan", "job": {deep}}}')
    assert at == "request"
    assert said.startswith("This is nested too deep: more than 32 ")


def test_what_is_too_long_is_told_before_it_is_read(monkeypatch):
    monkeypatch.setattr(request, "json", None)
    [(at, said)] = problems('{"ask": "' + " " * request.LONGEST + '"}')
    assert (at, said[:18]) == ("request", "This is too long: ")


def test_brackets_in_words_nest_nothing():
    title = json.dumps("[{" * 40 + '"' + "\\" + '"[[' * 20)
    answer = json.loads(handle(f'{{"ask": "link", "job": {{"title": {title}}}}}'))
    assert answer["ok"]
