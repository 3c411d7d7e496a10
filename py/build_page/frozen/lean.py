"""The lean runtime: of the trimmed Pyodide the functions that the core calls, and the bodies of all others as a file of their own.

A body that is left out is `unreachable`: whoever calls it ends the engine and never gets a wrong answer. Nothing else changes, so the
same frozen heap fits. The rest (little-endian, then Zstandard) says how the whole runtime comes of the lean one: its bytes, the number of
edits; of each edit the bytes to keep of the lean one, to drop of it, and to add; the added bytes one after the other.
"""

from __future__ import annotations

import hashlib
import shutil
import struct
import textwrap
from collections.abc import Iterable
from itertools import groupby
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import NODE_LOCK, Stop, digest, kept
from build_page.frozen import freeze

LIST = Path(__file__).with_suffix(".txt")
WASM, REST = "pyodide.asm.wasm", "pyodide.asm.rest"
#: What unpacks the heap and the rest.
UNPACKER = "zstd.speed.wasm"
CODE = 10
HEAD = """# The functions of Pyodide's trimmed wasm, by their place in it: those that were called, and those that stay in the lean
# runtime. Written by build.py profile."""
#: A body as a module has it, its size first: no locals, `unreachable`, `end`.
GONE = b"\x03\x00\x00\x0b"
#: A function of at most so many bytes [0] stays when so many [1] of its neighbours to so far [2] were called: the linker keeps the
#: functions of a source file together, and what one of them may need next is mostly small.
NEIGHBOURS = (300, 5, 10)


def runtime() -> Path:
    """A folder with Pyodide's own files, the lean runtime in the place of the whole one, and beside it the rest and what unpacks it."""
    whole = freeze.runtime()

    def make(place: Path) -> None:
        shutil.copytree(whole, place, dirs_exist_ok=True)
        wasm = (whole / WASM).read_bytes()
        lean, rest = split(wasm, stays(hashlib.sha256(wasm).hexdigest()))
        (place / WASM).write_bytes(lean)
        (place / "rest").write_bytes(rest)
        freeze.squeeze("zstd", place / "rest", place / REST)
        (place / "rest").unlink()
        shutil.copyfile(unpacker() / UNPACKER, place / UNPACKER)

    return kept("lean", digest(whole.name, NODE_LOCK, LIST, Path(__file__), freeze.HERE / "squeeze.mjs"), make)


def unpacker() -> Path:
    """The folder that has what unpacks, in its package."""
    return tools.npm_packages() / "zstandard-wasm" / "zstd"


def stays(of: str) -> set[int]:
    """The functions that stay in the runtime of this SHA-256, as the list has them."""
    listed = read(LIST.read_text(encoding="utf-8"))
    if listed[0] != of:
        raise Stop(
            f"{LIST.name} is of another Pyodide: run build.py profile; see 'Lean' in py/build_page/frozen/README.md"
        )
    return listed[2]


def read(text: str) -> tuple[str, set[int], set[int]]:
    """What the list says: the SHA-256 of the wasm, the functions that were called, and those that stay."""
    parts: dict[str, str] = {}
    for line in text.splitlines():
        name, _, words = line.partition(" ")
        parts[name] = f"{parts.get(name, '')} {words}"
    return parts["wasm"].strip(), numbers(parts["called"]), numbers(parts["stays"])


def write(of: str, called: set[int], stay: set[int]) -> str:
    """The list as a text."""
    told = {"called": called, "stays": stay}
    lines = [f"{name} {line}" for name, found in told.items() for line in textwrap.wrap(ranges(found), 112)]
    return "\n".join([HEAD, f"wasm {of}", *lines, ""])


def numbers(text: str) -> set[int]:
    """Of '3-5 9' the numbers 3, 4, 5, 9."""
    pairs = (part.split("-") for part in text.split())
    return {n for pair in pairs for n in range(int(pair[0]), int(pair[-1]) + 1)}


def ranges(of: Iterable[int]) -> str:
    """The numbers as ranges."""
    runs = ([n for _, n in run] for _, run in groupby(enumerate(sorted(of)), lambda pair: pair[1] - pair[0]))
    return " ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)


def bodies(wasm: bytes) -> tuple[int, list[tuple[int, int]]]:
    """Where the section of code begins, and where each body, its size included, begins and ends."""
    at = 8
    while wasm[at] != CODE:
        size, inside = number(wasm, at + 1)
        at = inside + size
    _, inside = number(wasm, at + 1)
    count, place = number(wasm, inside)
    found = []
    for _ in range(count):
        size, inside = number(wasm, place)
        found.append((place, inside + size))
        place = inside + size
    return at, found


def split(wasm: bytes, stay: set[int]) -> tuple[bytes, bytes]:
    """The lean runtime, and the rest before it is packed."""
    start, found = bodies(wasm)
    inner = written(len(found)) + b"".join(
        wasm[begin:end] if n in stay else GONE for n, (begin, end) in enumerate(found)
    )
    first, last = found[0][0], found[-1][1]
    head = bytes([CODE]) + written(len(inner))
    lean = wasm[:start] + head + inner + wasm[last:]

    edits = [[start, len(head) + len(written(len(found))), first - start]]
    added = [wasm[start:first]]
    keep = 0
    for stayed, run in groupby(enumerate(found), lambda one: one[0] in stay):
        places = [place for _, place in run]
        begin, end = places[0][0], places[-1][1]
        if stayed:
            keep = end - begin
        else:
            edits.append([keep, len(GONE) * len(places), end - begin])
            added.append(wasm[begin:end])
            keep = 0
    edits.append([keep + len(wasm) - last, 0, 0])
    flat = [n for edit in edits for n in edit]
    return lean, struct.pack(f"<{2 + len(flat)}I", len(wasm), len(edits), *flat) + b"".join(added)


def number(data: bytes, at: int) -> tuple[int, int]:
    """A number as a module writes it (LEB128), and where it ends."""
    value = shift = 0
    while data[at] & 128:
        value |= (data[at] & 127) << shift
        at, shift = at + 1, shift + 7
    return value | data[at] << shift, at + 1


def written(value: int) -> bytes:
    """The same the other way round."""
    out = bytearray()
    while value > 127:
        out.append(value & 127 | 128)
        value >>= 7
    return bytes([*out, value])


def stay_of(called: set[int], exported: Iterable[int], calls: list[list[int]], sizes: list[int]) -> set[int]:
    """What stays of a runtime in which these were called: they, what scripts may call, what either calls, and their small neighbours."""
    roots = called | {*exported}
    size, least, far = NEIGHBOURS
    beside = {
        n
        for n, own in enumerate(sizes)
        if own <= size and sum(other in called for other in range(n - far, n + far + 1)) >= least
    }
    return roots | {n for root in roots for n in calls[root]} | beside
