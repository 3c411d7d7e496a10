"""The notices of what others made and dist/ carries."""

from __future__ import annotations

import zipfile
from pathlib import Path

#: What is inside Pyodide's files. Versions as they report themselves; licenses as their projects state them, from memory.
INSIDE = """\
Pyodide {pyodide}                MPL-2.0              github.com/pyodide/pyodide
CPython 3.14                   PSF-2.0              python.org
Emscripten and its libraries   MIT or NCSA          emscripten.org
musl                           MIT                  musl.libc.org
zlib 1.3.1                     Zlib                 zlib.net
bzip2                          bzip2-1.0.6          sourceware.org/bzip2
liblzma                        0BSD                 tukaani.org/xz
Zstandard 1.5.7                BSD-3-Clause         github.com/facebook/zstd
SQLite 3.39.0                  public domain        sqlite.org
Expat 2.7.3                    MIT                  libexpat.github.io
libffi                         MIT                  sourceware.org/libffi
mpdecimal 2.5.1                BSD-2-Clause         bytereef.org/mpdecimal
HACL*                          MIT or Apache-2.0    hacl-star.github.io
"""
HEAD = """\
Thickset {version}: notices of what others made

The planner's Python runs on the files in runtime-*/ and frozen-*.bin; plain/ has the same in another form. They hold, unchanged
but for being compiled, stripped of documentation and, in Pyodide's own files, of what only compiled packages would call:

{inside}
and these packages, whose notices follow:

{packages}
The page is set in Atkinson Hyperlegible Next (OFL-1.1), by the authors named below.

The source of each is at the address given, or with the package of that name and version in the Python package index. The texts
of PSF-2.0 (with typing_extensions) and MPL-2.0 (with micropip) are below.
"""


def notices(version: str, pyodide: str, wheels: list[Path], font: Path) -> str:
    """The whole text, made from the license files in the wheels and in the font's folder."""
    parts, names = [_part(f"{font.name}, cut to the signs used", (font / "LICENSE").read_text(encoding="utf-8"))], []
    for wheel in sorted(wheels):
        name, number = wheel.name.split("-")[:2]
        names.append(f"{name} {number}\n")
        with zipfile.ZipFile(wheel) as inside:
            parts.extend(
                _part(f"{name} {number}: {path.rsplit('/', 1)[-1]}", inside.read(path).decode("utf-8"))
                for path in sorted(inside.namelist())
                if ".dist-info/" in path and path.rsplit("/", 1)[-1].startswith(("LICENSE", "AUTHORS", "NOTICE"))
            )
    head = HEAD.format(version=version, inside=INSIDE.format(pyodide=pyodide), packages="".join(names))
    return head + "".join(parts)


def _part(title: str, text: str) -> str:
    line = "=" * 72
    return f"\n\n{line}\n{title}\n{line}\n\n{text.strip()}\n"
