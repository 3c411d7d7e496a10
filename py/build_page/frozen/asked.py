"""A plugin of pytest: write down every request that a test puts to the core, each once. THICKSET_ASKED names the folder."""

from __future__ import annotations

import json
import os
from pathlib import Path

from thickset.doors import api

answered = api.handle
asked: set[str] = set()
file = (Path(os.environ["THICKSET_ASKED"]) / f"{os.getpid()}.txt").open("w", encoding="utf-8")
LONGEST = 100_000  # what is longer is refused by its length, and repeated a lot [characters]


def handle(request: str) -> str:
    """The core's one door, watched."""
    if isinstance(request, str) and request not in asked and len(request) <= LONGEST:
        asked.add(request)
        file.write(json.dumps(request) + "\n")
    return answered(request)


api.handle = handle
