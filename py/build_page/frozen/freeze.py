"""Freeze the warmed core: run it in Node at build time, and write what its memory holds beyond a new instance's.

The file (little-endian, then Zstandard): magic, bytes of memory, number of runs, bytes of header; Pyodide's header; for each run its
place and its length; the runs one after the other. A run is made of 64-byte blocks. Kept are the blocks that differ from the
memory that WebAssembly itself lays out, the same in every browser, and all those that an instance writes at its own start.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import struct
import zipfile
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import NODE_LOCK, Stop, digest, kept, run, say, still

HERE = Path(__file__).parent
LOCK = tools.HERE / "npm" / "package-lock.json"

MAGIC = 0x74686B31
BLOCK = 64
#: What Python finds in its environment, in Node and in the browser.
ENV = {"HOME": "/home/thickset", "LANG": "C.UTF-8", "PYTHONHASHSEED": "0", "PYTHONOPTIMIZE": "2"}


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


def by_node(script: str, *words: str | Path, what: str) -> None:
    """Run a script that stands here in the build's own Node."""
    node, _ = tools.node()
    run([*node, HERE / script, *words], what, env=still())


def squeeze(form: str, file: Path, out: Path) -> None:
    """Pack a file by 'gzip' or 'zstd'; the zlib of this machine's Python may be any, and each has its own bytes."""
    by_node("squeeze.mjs", pyodide(), form, file, out, what=f"Compressing {file.name}")


def squeezed_size(file: Path) -> int:
    """The bytes that a host which compresses sends of a file, as they are told in what is shipped."""

    def make(place: Path) -> None:
        squeeze("gzip", file, place / "out")
        (place / "bytes.txt").write_text(str((place / "out").stat().st_size), encoding="utf-8")
        (place / "out").unlink()

    made = kept("squeezed", digest(LOCK, NODE_LOCK, HERE / "squeeze.mjs", file), make)
    return int((made / "bytes.txt").read_text(encoding="utf-8"))


def runtime() -> Path:
    """A folder with Pyodide's own files, without what only compiled packages would call."""
    package = tools.npm_packages() / "binaryen"

    def make(place: Path) -> None:
        say("trimming Pyodide")
        by_node("trim.mjs", pyodide(), package, place, what="Trimming Pyodide")
        shutil.copyfile(pyodide() / "pyodide.mjs", place / "pyodide.mjs")

    return kept("runtime", digest(LOCK, NODE_LOCK, HERE / "trim.mjs", HERE / "wasm.mjs"), make)


def compiled(name: str, zips: list[Path]) -> Path:
    """Zip files of Python modules as one zip file of what Pyodide's compiler makes of them."""

    def make(place: Path) -> None:
        say(f"compiling {name}")
        by_node("compile.mjs", pyodide(), place / "modules.zip", *zips, what=f"Compiling {name}")

    key = digest(LOCK, NODE_LOCK, HERE / "compile.mjs", HERE / "compiled.py", *zips)
    return kept(f"compiled-{name}", key, make) / "modules.zip"


def frozen(wheels: list[Path], own: Path, lock: dict[str, object], requests: list[str]) -> tuple[Path, str]:
    """The file of the frozen heap of the core, warmed up with some requests, and the SHA-256 of the whole memory."""
    settings = json.dumps({"lock": lock, "env": ENV, "requests": requests}, sort_keys=True)
    modules = [
        compiled("library", [pyodide() / "python_stdlib.zip", *wheels]),
        compiled("core", [own]),
    ]
    inputs = [
        LOCK,
        NODE_LOCK,
        *(HERE / name for name in ("freeze.mjs", "freeze.py", "squeeze.mjs", "trim.mjs", "warm.py", "wasm.mjs")),
    ]

    def make(place: Path) -> None:
        say("freezing the core")
        merge(modules, place / "modules.zip")
        (place / "settings.json").write_text(settings, encoding="utf-8")
        words = [runtime(), place / "modules.zip", place / "settings.json", HERE / "warm.py", place / "core"]
        by_node("freeze.mjs", *words, what="Freezing the core")
        raw = pack(*(place / f"core.{kind}" for kind in ("heap", "fresh", "bare", "header")))
        memory = hashlib.sha256((place / "core.heap").read_bytes()).hexdigest()
        for left in list(place.iterdir()):
            left.unlink()
        (place / "memory.txt").write_text(memory, encoding="utf-8")
        (place / "heap").write_bytes(raw)
        squeeze("zstd", place / "heap", place / "frozen.bin")
        (place / "heap").unlink()

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
    """The file of the frozen heap, before it is packed."""
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
