"""Runs inside Pyodide at build time: compile modules by the compiler that will run them, and leave out what a page never reads.

Docstrings and asserts go (-OO), and so do the line tables of other people's modules: they are for tracebacks. Our own keep theirs.
"""

from __future__ import annotations

import importlib.util
import marshal
import zipfile
from pathlib import PurePosixPath
from types import CodeType

FIXED = (2020, 1, 1, 0, 0, 0)
NEVER = ("test/", "tests/", "testsuite/", "idlelib/", "lib2to3/", "ensurepip/", "turtledemo/")


def bare(code: CodeType, name: str) -> CodeType:
    """The same code without the table of its lines, all the way down."""
    inner = tuple(bare(c, name) if isinstance(c, CodeType) else c for c in code.co_consts)
    whole, rest = divmod(len(code.co_code) // 2, 8)
    nowhere = b"\xff" * whole + (bytes([0xF8 | (rest - 1)]) if rest else b"")  # "no line", for up to 8 steps a byte
    return code.replace(co_linetable=nowhere, co_filename=name, co_consts=inner)


def pyc(source: bytes, path: str, *, keep_lines: bool) -> bytes:
    """A module as Python wants it in a file, checked by nobody (its source is not there)."""
    code = compile(source, path, "exec", dont_inherit=True, optimize=2)
    if not keep_lines:
        code = bare(code, PurePosixPath(path).stem)
    return importlib.util.MAGIC_NUMBER + bytes(12) + marshal.dumps(code)


def compiled(sources: list[str], out: str) -> int:
    """Write all modules and data of some zip files into one, compiled, in a fixed order; gives their number."""
    found: dict[str, bytes] = {}
    for source in sources:
        with zipfile.ZipFile(source) as there:
            for name in there.namelist():
                if not name.endswith("/") and not any(part in f"{name}" for part in NEVER):
                    found.setdefault(name, there.read(name))
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as whole:
        for name, data in sorted(found.items()):
            if name.endswith(".py"):
                body = pyc(data, name, keep_lines=name.startswith("thickset/"))
                whole.writestr(zipfile.ZipInfo(name + "c", FIXED), body)
            else:
                whole.writestr(zipfile.ZipInfo(name, FIXED), data)
    return len(found)
