"""The bill of materials of dist/, in CycloneDX: every file with its hash, what each is made of, and what made it."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import uuid
from collections.abc import Iterable
from fnmatch import fnmatch
from pathlib import Path
from typing import Any

from build_page.fetch import tools
from build_page.fetch.tools import Stop
from build_page.inside.notices import named
from build_page.inside.parts import Kept, Part

FILE = "bom.json"
NPM = tools.HERE / "npm" / "package-lock.json"
Json = dict[str, Any]


def write(dist: Path, version: str, listed: Kept, wheels: list[Path], font: str) -> None:
    """Write it into the finished folder."""
    bill = made(dist, version, listed, wheels, font)
    digest = hashlib.sha256(json.dumps(bill, sort_keys=True).encode()).hexdigest()
    bill["serialNumber"] = f"urn:uuid:{uuid.uuid5(uuid.NAMESPACE_OID, digest)}"  # the same bill, the same number
    (dist / FILE).write_text(json.dumps(bill, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


def check(dist: Path) -> None:
    """Stop when a file is not the one that the bill tells of, is missing, or is told of by nobody."""
    bill = json.loads((dist / FILE).read_text(encoding="utf-8"))
    told = {one["name"]: one["hashes"][0]["content"] for one in bill["components"] if one["type"] == "file"}
    there = {path: sha256(dist / path) for path in paths(dist)}
    wrong = sorted(path for path in told.keys() | there.keys() if told.get(path) != there.get(path))
    if wrong:
        raise Stop(f"dist/ is not what its {FILE} says: {', '.join(wrong[:5])}. Build it anew")


def made(dist: Path, version: str, listed: Kept, wheels: list[Path], font: str) -> Json:
    """The bill but for its number."""
    files = [file_of(dist, path) for path in paths(dist)]
    others = [*map(part_of, listed.parts), *packages(listed, wheels, font)]
    refs = [one["bom-ref"] for one in others]
    needs = [{"ref": one["bom-ref"], "dependsOn": held(one["name"], listed, refs)} for one in files]
    return {
        "$schema": "http://cyclonedx.org/schema/bom-1.6.schema.json",
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {
            "lifecycles": [{"phase": "build"}],
            "tools": {"components": list(makers())},
            "component": {"type": "application", "bom-ref": "thickset", "name": "Thickset", "version": version},
        },
        "components": [*files, *others],
        "dependencies": [{"ref": "thickset", "dependsOn": [one["bom-ref"] for one in files]}, *needs],
    }


def paths(dist: Path) -> list[str]:
    """All files but the bill itself."""
    found = (path.relative_to(dist).as_posix() for path in dist.rglob("*") if path.is_file())
    return sorted(path for path in found if path != FILE)


def sha256(path: Path) -> str:
    """The hash of a file."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def file_of(dist: Path, path: str) -> Json:
    """A file of dist/."""
    hashes = [{"alg": "SHA-256", "content": sha256(dist / path)}]
    return {"type": "file", "bom-ref": f"file:{path}", "name": path, "hashes": hashes}


def part_of(part: Part) -> Json:
    """A part of Pyodide's files."""
    return {
        "type": "library",
        "bom-ref": f"part:{part.name}",
        "name": part.name,
        **({"version": part.version} if part.version else {}),
        "licenses": licenses(part.license),
        "externalReferences": [{"type": "website", "url": part.site}],
        "properties": [{"name": "thickset:known", "value": part.known}],
    }


def licenses(text: str) -> list[Json]:
    """A license as the standard wants it: an expression, an identifier, or a name in words."""
    if re.search(r" (AND|OR|WITH) ", text):
        return [{"expression": text}]
    return [{"license": {"name" if " " in text else "id": text}}]


def packages(listed: Kept, wheels: list[Path], font: str) -> Iterable[Json]:
    """The wheels, ours left out, and the typeface."""
    for wheel in sorted(wheels):
        name, number = named(wheel)
        purl = f"pkg:pypi/{name.replace('_', '-')}@{number}"
        hashes = [{"alg": "SHA-256", "content": sha256(wheel)}]
        yield package(f"package:{name}", name, number, purl, hashes, listed)
    name = font.rpartition("/")[2]
    number, hashes = from_npm(font)
    yield package(f"package:{name}", name, number, f"pkg:npm/{font.replace('@', '%40')}@{number}", hashes, listed)


def package(ref: str, name: str, number: str, purl: str, hashes: list[Json], listed: Kept) -> Json:
    """A package as its registry has it."""
    told = {"type": "library", "bom-ref": ref, "name": name, "version": number, "hashes": hashes}
    return {**told, "licenses": licenses(listed.license_of(name)), "purl": purl}


def from_npm(name: str) -> tuple[str, list[Json]]:
    """The version of an npm package, and the hash that its lock file pins."""
    entry = json.loads(NPM.read_text(encoding="utf-8"))["packages"][f"node_modules/{name}"]
    content = base64.b64decode(entry["integrity"].removeprefix("sha512-")).hex()
    return entry["version"], [{"alg": "SHA-512", "content": content}]


def held(path: str, listed: Kept, refs: list[str]) -> list[str]:
    """What of others a file of dist/ holds."""
    name = path.rpartition("/")[2]
    name = name.replace(".rest", ".wasm")  # what is left out of the lean runtime is of the same parts
    if name in listed.files:
        return [f"part:{part.name}" for part in listed.parts if name in part.files]
    if name.endswith(".whl"):
        return [ref for ref in refs if ref == f"package:{name.split('-')[0]}"]
    if fnmatch(path, "frozen-*.bin"):  # the memory of a Python that has imported from all of these
        modules = [
            f"part:{part.name}" for part in listed.parts if {"python_stdlib.zip", "pyodide.asm.wasm"} & {*part.files}
        ]
        return [*modules, *(ref for ref in refs if ref.startswith("package:") and "atkinson" not in ref)]
    if path.endswith(".woff2"):
        return [ref for ref in refs if "atkinson" in ref]
    return []


def makers() -> Iterable[Json]:
    """What made dist/ and is not in it."""
    node = tools.NODE_LOCK.read_text(encoding="utf-8").split()[0]
    name, _, number = node.partition("==")
    yield {"type": "application", "name": name, "version": number, "purl": f"pkg:pypi/{name}@{number}"}
    for name in ("@resvg/resvg-wasm", "@rollup/wasm-node", "binaryen", "terser"):
        number, hashes = from_npm(name)
        purl = f"pkg:npm/{name.replace('@', '%40')}@{number}"
        yield {"type": "application", "name": name, "version": number, "hashes": hashes, "purl": purl}
