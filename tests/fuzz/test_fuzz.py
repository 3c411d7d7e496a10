"""Fuzzers: requests and links, bounded and by a seed. Whatever is found becomes a line in corpus/ and is tried first for ever."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import pytest
from garbage import LONG, anything, mutated
from thickset.doors.api import ANSWERS, FAULT, handle
from thickset.ground.link.link import LinkError, from_link, to_link

HERE = Path(__file__).parent
GOLDEN = [
    json.loads(path.read_text(encoding="utf-8"))["request"] for path in sorted((HERE.parent / "golden").glob("*.json"))
]
SMALL = [request for request in GOLDEN if len(json.dumps(request)) < 4000]
CORPUS = json.loads((HERE / "corpus" / "requests.json").read_text(encoding="utf-8"))
SEEDS = range(200 if LONG else 4)
OF_ONE_SEED = 100


def answered(text: str) -> dict[str, Any]:
    """The answer to a request; what no request may ever get fails."""
    answer: dict[str, Any] = json.loads(handle(text))
    assert isinstance(answer["ok"], bool), text
    for problem in answer.get("problems", ()):
        assert not problem["text"].startswith(FAULT), (problem["text"], text)
    return answer


@pytest.mark.slow
@pytest.mark.parametrize("finding", CORPUS, ids=lambda one: one["found"])
def test_what_was_found_once_stays_cured(finding: dict[str, Any]) -> None:
    text = json.dumps(finding["request"])
    if "repeat" in finding:
        sign, many = finding["repeat"]
        text = text.replace("@", sign * many)
    answered(text)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_mutated_request_is_a_fault(seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(OF_ONE_SEED):
        request = mutated(chance.choice(SMALL), chance)
        if isinstance(request, dict) and chance.randrange(3) == 0:
            request["ask"] = chance.choice([*ANSWERS])
        answered(json.dumps(request))


@pytest.mark.parametrize("seed", SEEDS)
def test_no_garbage_is_a_fault(seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(OF_ONE_SEED):
        text = json.dumps(chance.choice(SMALL))
        at, many = chance.randrange(len(text)), chance.randrange(1, 20)
        answered(text[:at] + str(anything(chance)) + text[at + many :])
        answered(str(anything(chance)))


@pytest.mark.parametrize("seed", SEEDS)
def test_no_mutated_or_forged_link_is_a_fault(seed: int) -> None:
    chance = random.Random(seed)
    letters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
    jobs = [request["job"] for request in SMALL if isinstance(request.get("job"), dict)]
    for _ in range(OF_ONE_SEED):
        job = mutated(chance.choice(jobs), chance)
        try:
            link = to_link(job)
        except LinkError:
            continue
        assert len(link) > len("#plan=")
        at = chance.randrange(6, len(link))
        for forged in (
            link[:at] + chance.choice(letters) + link[at + 1 :],
            link[:at],
            "#plan=2" + "".join(chance.choices(letters, k=chance.randrange(1, 200))),
        ):
            try:
                opened = from_link(forged)
            except LinkError:
                continue
            answered(json.dumps({"ask": "show", "job": opened}))
