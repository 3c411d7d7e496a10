"""The kept list of what others made, held against the files that it is about."""

from __future__ import annotations

import hashlib
import tomllib
from dataclasses import dataclass
from pathlib import Path

from build_page.fetch.tools import Stop

HERE = Path(__file__).parent
LIST = HERE / "parts.toml"
SEE = "see 'Raising Pyodide' in py/build_page/frozen/README.md"


@dataclass(frozen=True)
class Part:
    """One part of the files."""

    name: str
    license: str
    site: str
    known: str
    files: tuple[str, ...]
    version: str = ""
    seen: str = ""
    text: str = ""

    @property
    def full_name(self) -> str:
        """Its name with its version."""
        return f"{self.name} {self.version}".strip()


@dataclass(frozen=True)
class Kept:
    """The whole list."""

    pyodide: str
    files: dict[str, str]
    parts: tuple[Part, ...]
    packages: dict[str, str]

    def license_of(self, package: str) -> str:
        """The license of a package by its name; a new one has to be looked at first."""
        if package not in self.packages:
            raise Stop(f"{LIST.name} does not say the license of {package}: read it, and add it to [packages] there")
        return self.packages[package]


def kept() -> Kept:
    """The list as it stands."""
    told = tomllib.loads(LIST.read_text(encoding="utf-8"))
    parts = tuple(Part(files=tuple(part.pop("in")), **part) for part in told["part"])
    return Kept(told["pyodide"], told["files"], parts, told["packages"])


def checked(folders: list[Path], version: str) -> Kept:
    """The list, when it is about the files in these folders, of which the first is Pyodide's."""
    listed = kept()
    if listed.pyodide != version:
        raise Stop(f"{LIST.name} lists what is inside Pyodide {listed.pyodide}, and this is {version}; {SEE}")
    for name, wanted in listed.files.items():
        data = next(folder / name for folder in folders if (folder / name).is_file()).read_bytes()
        if hashlib.sha256(data).hexdigest() != wanted:
            raise Stop(f"{name} is not the one that {LIST.name} lists the parts of; {SEE}")
        lost = [part.name for part in listed.parts if name in part.files and part.seen.encode() not in data]
        if lost:
            raise Stop(f"{name} shows no mark of {', '.join(lost)}; {SEE}")
    return listed
