"""What a hand, a scanner or a broken file may put anywhere: texts and values, and a document with some of its places changed by a seed."""

from __future__ import annotations

import copy
import os
import random
from typing import Any

LONG = os.environ.get("THICKSET_TESTS") == "long"
"""At length, as `build.py long` asks; else about half a minute for all fuzzers together."""

SIGNS = " 0159.,-/'\"°()[]{}:;#=+@%\t\n½²–√éx\u202e\x00\x1b\ud800💥٣"
TEXTS = [
    *(
        "",
        " ",
        "0",
        "-1",
        "1/0",
        "1 3/32",
        "35/32",
        "27,8",
        "1.09375 in",
        "27.8 mm",
        "5 ft",
        "100 m",
        "6NaN",
        "Infinity",
        "1e400",
    ),
    *(
        "20 ft/min",
        "10 to 25 ft/min",
        "5000 rpm",
        "70 F",
        "6.50 per board foot",
        "672 kg/m3",
        "Ash, white",
        "table",
        "butted",
    ),
    *("9" * 61, "5000" + " " * 300 + "x", "boards[0]", "__proto__", "A" * 61, "\x1b[31m", "middle left"),
]
VALUES: list[Any] = [
    None,
    True,
    False,
    0,
    -1,
    1e300,
    10**25,
    5e-324,
    float("nan"),
    float("inf"),
    [],
    {},
    [[]],
    {"a": 1},
    [None],
]


def anything(chance: random.Random) -> Any:
    """A text or value."""
    kind = chance.randrange(3)
    if kind == 0:
        return "".join(chance.choices(SIGNS, k=chance.randrange(1, 30)))
    return copy.deepcopy(chance.choice(TEXTS if kind == 1 else VALUES))


def places(value: Any) -> list[tuple[Any, Any]]:
    """Every (holder, key) in a document."""
    found: list[tuple[Any, Any]] = []
    left = [value]
    while left:
        one = left.pop()
        inside = list(one.items()) if isinstance(one, dict) else list(enumerate(one)) if isinstance(one, list) else []
        found += [(one, key) for key, _ in inside]
        left += [each for _, each in inside]
    return found


def mutated(document: Any, chance: random.Random) -> Any:
    """A copy with one to four of its places changed, left out, doubled or swapped."""
    made = copy.deepcopy(document)
    for _ in range(chance.randrange(1, 5)):
        every = places(made)
        if not every:
            break
        holder, key = chance.choice(every)
        kind = chance.randrange(6)
        if kind == 0:
            del holder[key]
        elif kind == 1 and isinstance(holder, list):
            holder.append(copy.deepcopy(holder[key]))
        elif kind == 2:
            other, there = chance.choice(every)
            holder[key] = (
                copy.deepcopy(other[there])
                if there in (other if isinstance(other, dict) else range(len(other)))
                else None
            )
        elif kind == 3 and isinstance(holder, dict):
            holder[str(anything(chance))] = anything(chance)
        else:
            holder[key] = anything(chance)
    return made
