"""What is shipped, raw and over the wire, against one budget."""

from __future__ import annotations

import gzip
from pathlib import Path

from build_page.fetch.tools import Stop, say

#: The most that a first visit may take over the wire with gzip alone [bytes].
BUDGET = 8_000_000
#: What a static host sends as it is: packed already.
PACKED = {".png", ".bin", ".zip", ".whl", ".woff2"}

NOT_FETCHED = {"notices.txt", "bom.json", "sw-remove.js"}
PLAIN = "plain start only"


def wire(path: Path) -> int:
    """The bytes of a file on the wire from a host that compresses with gzip."""
    data = path.read_bytes()
    return len(data) if path.suffix in PACKED else min(len(data), len(gzip.compress(data, 6, mtime=0)))


def group_of(path: Path) -> str:
    """The row of the table that a file of dist/ counts in."""
    if path.parts[0] == "plain":
        return PLAIN
    if path.parts[0].startswith("runtime-"):
        return path.name
    if path.parts[0].startswith("frozen-"):
        return "the frozen core"
    return "our scripts, styles, icons"


def report(dist: Path) -> None:
    """Print the table, and stop when a first visit takes more than the budget."""
    groups: dict[str, list[Path]] = {}
    for path in sorted(path for path in dist.rglob("*") if path.is_file() and path.name not in NOT_FETCHED):
        groups.setdefault(group_of(path.relative_to(dist)), []).append(path)
    rows = [(name, sum(p.stat().st_size for p in paths), sum(map(wire, paths))) for name, paths in groups.items()]
    first = [row for row in rows if row[0] != PLAIN]
    rows.sort(key=lambda row: (row[0] == PLAIN, -row[2]))
    total = (sum(row[1] for row in first), sum(row[2] for row in first))
    print(f"   {'':26}{'bytes':>12}{'gzip':>12}")
    for name, raw, sent in [*rows[:-1], ("first visit, in all", *total), rows[-1]]:
        print(f"   {name:26}{raw:>12,}{sent:>12,}")
    if total[1] > BUDGET:
        raise Stop(
            f"A first visit takes {total[1]:,} bytes, over the budget of {BUDGET:,} in py/build_page/page/sizes.py"
        )
    say(f"a first visit takes {total[1] / BUDGET:.0%} of its budget")
