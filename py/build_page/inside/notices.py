"""The notices of what others made and dist/ carries, with the license texts of all of it."""

from __future__ import annotations

import zipfile
from pathlib import Path

from build_page.inside.parts import HERE, Kept

HEAD = """\
Thickset {version}: notices of what others made

The planner's Python runs on the files in runtime-*/ and frozen-*.bin; plain/ has the same in another form. They hold, unchanged
but for being compiled, stripped of documentation and, in Pyodide's own files, of what the planner does not call (some of it in a
file of its own), with a few lines of pyodide.asm.mjs that start quicker; py/build_page/frozen/ in Thickset's source does all of it:

{inside}
and these packages:

{packages}
The page is set in Atkinson Hyperlegible Next (OFL-1.1), by the authors named below. bom.json says which file holds what.

The source of each is at the address given, or with the package of that name and version in the Python package index or on npm.
The texts follow; that of PSF-2.0 is with CPython and typing_extensions, that of MPL-2.0 with micropip.
"""
TEXTS = ("LICENSE", "AUTHORS", "NOTICE")


def notices(version: str, listed: Kept, wheels: list[Path], font: Path) -> str:
    """The whole text, made from the kept list, the license files in the wheels and that in the font's folder."""
    inside = "".join(f"{part.full_name:36} {part.license:32} {part.site}\n" for part in listed.parts)
    names = "".join(f"{name:24} {number:12} {listed.license_of(name)}\n" for name, number in map(named, wheels))
    parts = [_part(f"{font.name}, cut to the signs used", (font / "LICENSE").read_text(encoding="utf-8"))]
    for text in dict.fromkeys(part.text for part in listed.parts if part.text):
        of = ", ".join(part.full_name for part in listed.parts if part.text == text)
        parts.append(_part(of, (HERE / "licenses" / text).read_text(encoding="utf-8")))
    for wheel in sorted(wheels):
        with zipfile.ZipFile(wheel) as there:
            parts.extend(
                _part(f"{' '.join(named(wheel))}: {path.rsplit('/', 1)[-1]}", there.read(path).decode("utf-8"))
                for path in sorted(there.namelist())
                if path.rsplit("/", 1)[-1].startswith(TEXTS) and (".dist-info/" in path or "/_vendored/" in path)
            )
    return HEAD.format(version=version, inside=inside, packages=names) + "".join(parts)


def named(wheel: Path) -> tuple[str, str]:
    """The name and the version of a wheel."""
    name, number = wheel.name.split("-")[:2]
    return name, number


def _part(title: str, text: str) -> str:
    line = "=" * 72
    return f"\n\n{line}\n{title}\n{line}\n\n{text.strip()}\n"
