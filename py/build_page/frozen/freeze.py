"""Freeze the warmed core: run it in Node at build time, and write what its memory holds beyond a new instance's.

The file (little-endian, then gzip): magic, bytes of memory, number of runs, bytes of header; Pyodide's header; for each run its
place and its length; the runs one after the other. A run is made of 64-byte blocks. Kept are the blocks that differ from the
memory that WebAssembly itself lays out, the same in every browser, and all those that an instance writes at its own start.
"""

from __future__ import annotations

import gzip
import hashlib
import json
import os
import re
import shutil
import struct
import zipfile
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import Stop, digest, kept, run, say

HERE = Path(__file__).parent
LOCK = tools.HERE / "npm" / "package-lock.json"

MAGIC = 0x74686B31
BLOCK = 64
#: What Python finds in its environment, in Node and in the browser.
ENV = {"HOME": "/home/thickset", "LANG": "C.UTF-8", "PYTHONHASHSEED": "0", "PYTHONOPTIMIZE": "2"}


def still() -> dict[str, str]:
    """The environment of a program whose result must not depend on this machine's place in the world."""
    return {**os.environ, "TZ": "UTC", "LANG": "C", "LC_ALL": "C"}


def pyodide() -> Path:
    """The folder of Pyodide's npm package."""
    return tools.npm_packages() / "pyodide"


def pyodide_version() -> str:
    """Pyodide's version, as its package gives it."""
    told = json.loads((pyodide() / "package.json").read_text(encoding="utf-8"))
    return str(told["version"])


def build_id() -> str:
    """The name that Pyodide gives to this very build of itself."""
    found = re.search(r'BUILD_ID:"([0-9a-f]{64})"', (pyodide() / "pyodide.mjs").read_text(encoding="utf-8"))
    if not found:
        raise Stop("pyodide.mjs does not tell its build id; see 'Raising Pyodide' in py/build_page/frozen/README.md")
    return found[1]


def runtime() -> Path:
    """A folder with Pyodide's own files, without what only compiled packages would call."""
    package = tools.npm_packages() / "binaryen"

    def make(place: Path) -> None:
        say("trimming Pyodide")
        node, _ = tools.node()
        run([*node, HERE / "trim.mjs", pyodide(), package, place], "Trimming Pyodide", env=still())
        shutil.copyfile(pyodide() / "pyodide.mjs", place / "pyodide.mjs")

    return kept("runtime", digest(LOCK, HERE / "trim.mjs"), make)


def compiled(name: str, zips: list[Path]) -> Path:
    """Zip files of Python modules as one zip file of what Pyodide's compiler makes of them."""

    def make(place: Path) -> None:
        say(f"compiling {name}")
        node, _ = tools.node()
        run([*node, HERE / "compile.mjs", pyodide(), place / "modules.zip", *zips], f"Compiling {name}", env=still())

    key = digest(LOCK, HERE / "compile.mjs", HERE / "compiled.py", *zips)
    return kept(f"compiled-{name}", key, make) / "modules.zip"


def frozen(wheels: list[Path], own: Path, lock: dict[str, object], requests: list[str]) -> tuple[Path, str]:
    """The file of the frozen heap of the core, warmed up with some requests, and the SHA-256 of the whole memory."""
    settings = json.dumps({"lock": lock, "env": ENV, "requests": requests}, sort_keys=True)
    modules = [
        compiled("library", [pyodide() / "python_stdlib.zip", *wheels]),
        compiled("core", [own]),
    ]
    inputs = [LOCK, *(HERE / name for name in ("freeze.mjs", "freeze.py", "trim.mjs", "warm.py"))]

    def make(place: Path) -> None:
        say("freezing the core")
        merge(modules, place / "modules.zip")
        (place / "settings.json").write_text(settings, encoding="utf-8")
        node, _ = tools.node()
        words = [runtime(), place / "modules.zip", place / "settings.json", HERE / "warm.py", place / "core"]
        run([*node, HERE / "freeze.mjs", *words], "Freezing the core", env=still())
        raw = pack(*(place / f"core.{kind}" for kind in ("heap", "fresh", "bare", "header")))
        memory = hashlib.sha256((place / "core.heap").read_bytes()).hexdigest()
        for left in list(place.iterdir()):
            left.unlink()
        (place / "memory.txt").write_text(memory, encoding="utf-8")
        (place / "frozen.bin").write_bytes(gzip.compress(raw, 9, mtime=0))

    made = kept("frozen", digest(settings, *inputs, *modules), make)
    return made / "frozen.bin", (made / "memory.txt").read_text(encoding="utf-8")


def merge(zips: list[Path], out: Path) -> None:
    """Several zip files as one, in a fixed order, nothing compressed."""
    found = {}
    for each in zips:
        with zipfile.ZipFile(each) as there:
            found.update({name: there.read(name) for name in there.namelist()})
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as whole:
        for name, data in sorted(found.items()):
            whole.writestr(zipfile.ZipInfo(name), data)


def pack(heap: Path, fresh: Path, bare: Path, header: Path) -> bytes:
    """The file of the frozen heap, before gzip."""
    memory, started, laid_out, head = (path.read_bytes() for path in (heap, fresh, bare, header))
    if len(head) % 4 or len(memory) % BLOCK:
        raise Stop(
            "Pyodide's snapshot has another form than expected; see 'Raising Pyodide' in py/build_page/frozen/README.md"
        )
    if struct.unpack_from("<8I", head, 16) != struct.unpack(">8I", bytes.fromhex(build_id())):
        raise Stop("The frozen heap and pyodide.mjs are of different builds of Pyodide")
    places: list[int] = []
    runs: list[bytes] = []
    last_end = -1
    for at in range(0, len(memory), BLOCK):
        block = memory[at : at + BLOCK]
        before = laid_out[at : at + BLOCK].ljust(BLOCK, b"\0")
        if block == before and started[at : at + BLOCK].ljust(BLOCK, b"\0") == before:
            continue
        if at == last_end:
            places[-1] += BLOCK
        else:
            places += [at, BLOCK]
        runs.append(block)
        last_end = at + BLOCK
    sizes = struct.pack("<4I", MAGIC, len(memory), len(places) // 2, len(head))
    return sizes + head + struct.pack(f"<{len(places)}I", *places) + b"".join(runs)
