"""What is shipped, raw and over the wire, against one budget."""

from __future__ import annotations

import gzip
from collections.abc import Iterable
from pathlib import Path

from build_page.fetch.tools import Stop, say

#: The most that may go over the wire with gzip alone until the planner is ready, and in all [bytes].
BUDGET = 6_000_000
BUDGET_IN_ALL = 7_000_000
#: What a static host sends as it is: packed already.
PACKED = {".png", ".bin", ".rest", ".zip", ".whl", ".woff2"}

NOT_FETCHED = {"notices.txt", "bom.json", "sw-remove.js"}
PLAIN = "plain start only"
REST = "the rest of the runtime"


def wire(path: Path) -> int:
    """The bytes of a file on the wire from a host that compresses with gzip."""
    data = path.read_bytes()
    return len(data) if path.suffix in PACKED else min(len(data), len(gzip.compress(data, 6, mtime=0)))


def group_of(path: Path) -> str:
    """The row of the table that a file of dist/ counts in."""
    if path.parts[0] == "plain":
        return PLAIN
    if path.suffix == ".rest":
        return REST
    if path.parts[0].startswith("runtime-"):
        return path.name
    if path.parts[0].startswith("frozen-"):
        return "the frozen core"
    return "our scripts, styles, icons"


def report(dist: Path) -> None:
    """Print the table, and stop when a first visit takes more than a budget."""
    groups: dict[str, list[Path]] = {}
    for path in sorted(path for path in dist.rglob("*") if path.is_file() and path.name not in NOT_FETCHED):
        groups.setdefault(group_of(path.relative_to(dist)), []).append(path)
    rows = {name: (sum(p.stat().st_size for p in paths), sum(map(wire, paths))) for name, paths in groups.items()}
    parts = sorted((name for name in rows if name not in {REST, PLAIN}), key=lambda name: -rows[name][1])
    ready = rows["until it is ready"] = total(rows[name] for name in parts)
    whole = rows["first visit, in all"] = total((ready, rows[REST]))
    print(f"   {'':26}{'bytes':>12}{'gzip':>12}")
    for name in (*parts, "until it is ready", REST, "first visit, in all", PLAIN):
        print(f"   {name:26}{rows[name][0]:>12,}{rows[name][1]:>12,}")
    for name, sent, most in (("until it is ready", ready[1], BUDGET), ("in all", whole[1], BUDGET_IN_ALL)):
        if sent > most:
            raise Stop(
                f"A first visit takes {sent:,} bytes {name}, over the budget of {most:,} in py/build_page/page/sizes.py"
            )
    say(f"a first visit takes {ready[1] / BUDGET:.0%} of its budget until it is ready")


def total(rows: Iterable[tuple[int, int]]) -> tuple[int, int]:
    """The bytes of some rows, raw and over the wire."""
    raw, sent = zip(*rows, strict=True)
    return sum(raw), sum(sent)
