"""Whatever is asked of the core, the lean runtime has all that it calls: requests by chance, in Node."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from build_page import profile
from build_page.fetch.tools import DIST
from garbage import anything, mutated
from thickset.doors.api import ANSWERS

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = [json.loads(path.read_text(encoding="utf-8"))["request"] for path in (ROOT / "tests/golden").glob("*.json")]
SMALL = sorted(json.dumps(request) for request in GOLDEN if len(json.dumps(request)) < 4000)
OF_ONE_SEED = 1000


def requests(seed: int) -> Iterator[str]:
    """Golden requests with some of their places changed, and some that are none any more."""
    chance = random.Random(f"lean {seed}")
    for n in range(OF_ONE_SEED):
        text = chance.choice(SMALL)
        if n % 4 == 0:
            at = chance.randrange(len(text))
            yield text[:at] + str(anything(chance)) + text[at + chance.randrange(1, 20) :]
            continue
        request = mutated(json.loads(text), chance)
        if isinstance(request, dict) and chance.randrange(3) == 0:
            request["ask"] = chance.choice([*ANSWERS])
        yield json.dumps(request)


@pytest.mark.parametrize("seed", range(100))
def test_no_request_calls_what_the_lean_runtime_has_not(seed: int, tmp_path: Path) -> None:
    asked = [json.dumps(text) for text in requests(seed)]
    (runtime,), (heap,) = DIST.glob("runtime-*"), DIST.glob("frozen-*.bin")
    answers = profile.ask(tmp_path, runtime, heap, asked).read_text(encoding="utf-8").splitlines()
    assert len(answers) == OF_ONE_SEED
    assert [request for request, answer in zip(asked, answers, strict=True) if answer == "null"] == []
