"""The bill of materials of the built page: in the standard's form, true of the running Python, and found from the page."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from build_page.fetch import tools
from build_page.frozen import freeze
from build_page.inside import bom, parts
from jsonschema import Draft7Validator
from kit import Server, Watched
from playwright.sync_api import expect
from referencing import Registry, Resource

SCHEMAS = files("cyclonedx.schema._res")
BASE = "http://cyclonedx.org/schema/"
#: What the running Python is asked for each part that the list says it reports.
ASKED = {
    "sys.version": "__import__('sys').version.split()[0]",
    "sys._emscripten_info": "'.'.join(map(str, __import__('sys')._emscripten_info.emscripten_version))",
    "unicodedata.unidata_version": "__import__('unicodedata').unidata_version",
    "_decimal.__libmpdec_version__": "__import__('_decimal').__libmpdec_version__",
    "pyexpat.EXPAT_VERSION": "__import__('pyexpat').EXPAT_VERSION.removeprefix('expat_')",
    "zlib.ZLIB_RUNTIME_VERSION": "__import__('zlib').ZLIB_RUNTIME_VERSION",
    "_zstd.zstd_version": "__import__('_zstd').zstd_version",
    "_sqlite3.sqlite_version": "__import__('_sqlite3').sqlite_version",
}


def schema(name: str) -> Any:
    """A schema as the standard publishes it, from a pinned package."""
    return json.loads((SCHEMAS / f"{name}.SNAPSHOT.schema.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def bill(dist: Path) -> Any:
    """The bill as it was built."""
    return json.loads((dist / bom.FILE).read_text(encoding="utf-8"))


def test_it_is_a_bill_by_the_standard_s_own_schema(bill: Any) -> None:
    near = {name: Resource.from_contents(schema(name)) for name in ("spdx", "jsf-0.82", "cryptography-defs")}
    named = [(f"{at}{name}.SNAPSHOT.schema.json", one) for name, one in near.items() for at in (BASE, "")]
    validator = Draft7Validator(schema("bom-1.6"), registry=Registry().with_resources(named))
    assert not [f"{list(error.path)}: {error.message[:200]}" for error in validator.iter_errors(bill)]
    assert list(validator.iter_errors({**bill, "components": [{"type": "library"}]}))


def test_every_file_stands_in_it_with_its_hash(dist: Path, bill: Any) -> None:
    bom.check(dist)
    told = {one["name"] for one in bill["components"] if one["type"] == "file"}
    assert told == {path.relative_to(dist).as_posix() for path in dist.rglob("*") if path.is_file()} - {bom.FILE}
    wasm = next(one for one in bill["dependencies"] if one["ref"].endswith("/pyodide.asm.wasm"))
    assert len(wasm["dependsOn"]) > 20


def test_the_running_python_reports_what_the_list_says(tmp_path: Path) -> None:
    reported = {part.known.partition(": ")[2]: part for part in parts.kept().parts if part.known.startswith("reports")}
    assert reported.keys() == ASKED.keys()
    script = tmp_path / "ask.mjs"
    script.write_text(
        f"const {{loadPyodide}} = await import({json.dumps((freeze.pyodide() / 'pyodide.mjs').as_uri())})\n"
        f"const pyodide = await loadPyodide({{indexURL: {json.dumps(str(freeze.pyodide()))}}})\n"
        f"for (const asked of {json.dumps(list(ASKED.values()))}) console.log(pyodide.runPython(asked))\n",
        encoding="utf-8",
    )
    node, _ = tools.node()
    told = subprocess.run([*node, script], capture_output=True, text=True, check=True).stdout.split()
    assert told == [reported[what].version for what in ASKED]


@pytest.mark.deploys
def test_the_foot_leads_to_it_and_says_when_it_is_not_here(watched: Watched, server: Server) -> None:
    page = watched.new_page()
    page.goto(server.url)
    expect(page.locator("#offline")).to_contain_text("Ready without a network", timeout=90_000)
    assert not [path for path in server.asked if path.endswith(("/bom.json", "/notices.txt"))], (
        "not before it is asked for"
    )
    watched.expect_complaint("ERR_CONNECTION_REFUSED")

    def opened(link: str) -> str:
        with page.context.expect_page() as found:
            page.locator("#plan footer").get_by_role("link", name=link).click()
        found.value.wait_for_load_state()
        text = found.value.locator("body").inner_text()
        found.value.close()
        return text

    wanted: dict[str, Callable[[str], bool]] = {
        "Licenses": lambda text: "musl as a whole is licensed" in text,
        "Bill of materials": lambda text: '"bomFormat": "CycloneDX"' in text,
    }
    for link, right in wanted.items():
        assert right(opened(link))
    server.stop()
    for link in wanted:
        assert "not among what is kept for use without a network" in opened(link)
    server.start()
