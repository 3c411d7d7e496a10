"""`build.py`: put dist/ together beside its place, then move it there whole.

index.html, sw.js, manifest.webmanifest, icons     what a browser asks for by a name that stays
job.schema.json                                    the form of a job document, for who writes jobs
notices.txt, bom.json                              what others made: their notices, and what is in which file
app-ID/                                            our scripts and styles; ID is made from every byte that is kept for use
                                                   without a network, so that no two releases share a cache
runtime-VERSION-ID/                                Pyodide, without what the core never calls, which is a file of its own
plain/                                             what only the plain start needs: the standard library and the wheels
"""

from __future__ import annotations

import hashlib
import html
import json
import os
import re
import shutil
from pathlib import Path

from build_page.core import demo_plan, sheet_of_checks
from build_page.core.wheel import make_wheel
from build_page.fetch import tools
from build_page.fetch.tools import DIST, ROOT, Stop, say
from build_page.frozen import freeze, lean
from build_page.inside import bom, parts
from build_page.inside.notices import notices
from build_page.page import font, gather, icons, sizes

PLACEHOLDER = re.compile(r"<!--thickset:([a-z-]+)-->")
#: An import of a gathered module: they stand first in a file, one after the other.
IMPORT = re.compile(r"\bimport(?:[\w${},*\s]+?from)?\s*'(\.[^']+)'")
RESCUE = ("rescue/rescue.html", "rescue/rescue.css", "rescue/rescue.js")
AT_TOP = ("index.html", "checks.html", "engine/sw-remove.js", "manifest.webmanifest", "icon.svg", *RESCUE)
#: Fetched when a person asks, and then from the network alone.
ON_ASKING = {"notices.txt", bom.FILE}
NOT_KEPT = {"sw.js", "sw-remove.js", *ON_ASKING}
#: What of site/ goes into the page; types and settings of tools do not.
SHIPPED = {".js", ".css", ".html", ".svg", ".webmanifest"}
Fills = dict[str, dict[str, str]]


def build(out: Path = DIST) -> Path:
    """Build the whole page into a folder; what was there before stays until the new one is whole."""
    half = out.with_name(f".{out.name}.half-{os.getpid()}")
    shutil.rmtree(half, ignore_errors=True)
    try:
        half.mkdir(parents=True)
        assemble(half)
        shutil.rmtree(out, ignore_errors=True)
        half.rename(out)
    finally:
        shutil.rmtree(half, ignore_errors=True)
    say(f"built {out.relative_to(ROOT) if out.is_relative_to(ROOT) else out}")
    return out


def assemble(half: Path) -> None:
    """Put all files into their places, then name them."""
    listed = parts.checked([freeze.pyodide(), lean.unpacker()], freeze.pyodide_version())
    gathered(half, listed)
    named(half, filled_by_core())
    bom.write(half, tools.version(), listed, tools.page_wheels(), font.PACKAGE)
    bom.check(half)
    sizes.report(half)


def gathered(half: Path, listed: parts.Kept) -> None:
    """All files, the pages not filled in and the app's folder not named yet."""
    app, plain = half / "app", half / "plain"
    for folder in (app, plain):
        folder.mkdir()
    made = lean.runtime()
    runtime = half / f"runtime-{freeze.pyodide_version()}-{digest_of(made)}"
    shutil.copytree(made, runtime)
    shutil.copyfile(freeze.pyodide() / "python_stdlib.zip", plain / "python_stdlib.zip")
    wheels = [Path(shutil.copy(wheel, plain)) for wheel in tools.page_wheels()]
    own = make_wheel(plain)

    text = notices(tools.version(), listed, wheels, font.folder())
    (half / "notices.txt").write_text(text, encoding="utf-8")
    (half / bom.FILE).touch()  # it is written last; the pages point to it
    (half / "job.schema.json").write_text(demo_plan.job_schema(), encoding="utf-8")
    copy_site(half, app)
    icons.draw(ROOT / "site" / "icon.svg", half)
    lock = lock_file(wheels)
    heap, memory = freeze.frozen(wheels, own, lock, demo_plan.warm_requests())
    frozen = Path(shutil.copyfile(heap, half / f"frozen-{tools.digest(heap)}.bin"))
    told: dict[str, object] = {"file": frozen.name, "magic": freeze.MAGIC, "memory": memory}
    write_settings(half, app, runtime, told, lock)
    gather.scripts(app)
    (app / "sw.js").rename(half / "sw.js")
    gather.styles(half, app)


def filled_by_core() -> Fills:
    """What the pages say that only the core knows."""
    version = html.escape(tools.version())
    return {
        "index.html": {"version": version, "signs": signs(), **demo_plan.page_fills()},
        "checks.html": {"version": version, "checks": sheet_of_checks.checks_html()},
    }


def signs() -> str:
    """Our icons, which stand in the page so that no line of it waits for them."""
    return " ".join((ROOT / "site" / "base" / "signs.svg").read_text(encoding="utf-8").split())


def named(half: Path, fills: Fills) -> str:
    """Name the app's folder by every byte that is kept, and let everything name it; gives the id."""
    made = build_id(half, fills)
    (half / "app").rename(half / f"app-{made}")
    point_into(half, f"app-{made}", fills)
    return made


def build_id(half: Path, fills: Fills) -> str:
    """One short hash of every file that is kept, and of what will be filled into the pages."""
    whole = hashlib.sha256(json.dumps(fills, sort_keys=True).encode())
    for path in kept_files(half, half / "app"):
        whole.update(f"{path.relative_to(half).as_posix()}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode())
    return whole.hexdigest()[:12]


def kept_files(half: Path, app: Path) -> list[Path]:
    """All that the service worker keeps, but for the runtime, whose folder is named by its own bytes."""
    top = [path for path in half.iterdir() if path.is_file() and path.name not in NOT_KEPT]
    return sorted([*top, *files(app), *files(half / "plain")])


def files(folder: Path) -> list[Path]:
    """All files of a folder, however deep."""
    return [path for path in folder.rglob("*") if path.is_file()]


def copy_site(half: Path, app: Path) -> None:
    """Our own files that a browser asks for, in a fixed order."""
    site = ROOT / "site"
    for source in sorted(path for path in site.rglob("*") if path.suffix in SHIPPED):
        path = source.relative_to(site)
        target = half / path.name if str(path) in AT_TOP else app / path
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target)
    shutil.copyfile(font.letters(), app / font.FILE)
    (app / "paper.css").write_text(demo_plan.paper_style(), encoding="utf-8")


def lock_file(wheels: list[Path]) -> dict[str, object]:
    """What Pyodide is told of packages: of micropip alone, which installs the rest."""
    theirs = json.loads((freeze.pyodide() / "pyodide-lock.json").read_text(encoding="utf-8"))
    wheel = next(path for path in wheels if path.name.startswith("micropip-"))
    entry = theirs["packages"]["micropip"] | {"file_name": wheel.name, "version": wheel.name.split("-")[1]}
    entry["sha256"] = hashlib.sha256(wheel.read_bytes()).hexdigest()
    return {"info": theirs["info"], "packages": {"micropip": entry}}


def write_settings(half: Path, app: Path, runtime: Path, frozen: dict[str, object], lock: dict[str, object]) -> None:
    """What the worker has to know of this build."""
    wheels = [f"plain/{path.name}" for path in sorted((half / "plain").glob("*.whl"))]
    installer = next(name for name in wheels if "/micropip-" in name)
    plain = {
        "folder": "plain/",
        "stdlib": "plain/python_stdlib.zip",
        "installer": installer,
        "install": [name for name in wheels if name != installer],
    }
    settings = {
        "version": tools.version(),
        "runtime": f"{runtime.name}/",
        "env": freeze.ENV,
        "lock": lock,
        "frozen": frozen,
        "plain": plain,
        "bytes": {
            path.relative_to(half).as_posix(): [path.stat().st_size, sent(path)]
            for folder in (runtime, half / "plain", half)
            for path in sorted(folder.iterdir())
            if path.suffix in {".wasm", ".rest", ".zip", ".whl", ".bin"}
        },
    }
    text = json.dumps(settings, indent=1, sort_keys=True)
    (app / "engine" / "built.js").write_text(
        f"// Written by the build.\nexport const BUILD = {text}\n", encoding="utf-8"
    )


def sent(path: Path) -> int:
    """The bytes of a file on the wire, the same wherever this is built."""
    return path.stat().st_size if path.suffix in sizes.PACKED else freeze.squeezed_size(path)


def digest_of(folder: Path) -> str:
    """One short hash of all files of a folder and their names."""
    whole = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            whole.update(
                f"{path.relative_to(folder).as_posix()}\0{hashlib.sha256(path.read_bytes()).hexdigest()}\n".encode()
            )
    return whole.hexdigest()[:12]


def modules_of(app: Path, first: str) -> list[str]:
    """The modules that a module imports, near and far, so that the page can ask for all of them at once."""
    found: list[str] = []
    waiting = [first]
    while waiting:
        one = waiting.pop(0)
        if one in found:
            continue
        found.append(one)
        text = (app / one).read_text(encoding="utf-8")
        targets = IMPORT.findall(text)
        waiting.extend(os.path.normpath(Path(one).parent / target) for target in targets)
    return found


def point_into(half: Path, name: str, fills: Fills) -> None:
    """Let the pages and the settings name the app's folder, and fill what the core has to say."""
    scripts = dict.fromkeys([*modules_of(half / name, "first.js"), *modules_of(half / name, "main.js")])
    preload = "\n".join(f'<link rel="modulepreload" href="{name}/{one}">' for one in scripts)
    names = {"index.html": {"build": name.removeprefix("app-"), "preload": preload}}
    for page, texts in fills.items():
        fill(half, name, page, {**texts, **names.get(page, {})})

    worker = half / "sw.js"
    listing = json.dumps(file_list(half, name), sort_keys=True)
    text = worker.read_text(encoding="utf-8")
    if "BUILT_LIST" not in text:
        raise Stop("site/sw.js has lost its BUILT_LIST")
    worker.write_text(text.replace("'BUILT_LIST'", listing), encoding="utf-8")


def fill(half: Path, name: str, page: str, fills: dict[str, str]) -> None:
    """Fill the placeholders of a page, and let its links find the app's folder."""
    path = half / page
    text = path.read_text(encoding="utf-8")
    unknown = sorted({found for found in PLACEHOLDER.findall(text) if found not in fills})
    if unknown:
        raise Stop(f"site/{page} asks for what the build does not have: " + ", ".join(unknown))
    unused = sorted(fills.keys() - set(PLACEHOLDER.findall(text)))
    if unused:
        raise Stop(f"site/{page} has no place for: " + ", ".join(unused))

    def moved(found: re.Match[str]) -> str:
        attribute, target = found[1], found[2]
        if (half / target).is_file():
            return found[0]
        if (half / name / target).is_file():
            return f'{attribute}="{name}/{target}"'
        raise Stop(f"site/{page} points to {target}, which is not there")

    text = re.sub(r'(?<=\s)(src|href)="([^"#:]+)"', moved, text)
    path.write_text(PLACEHOLDER.sub(lambda found: fills[found[1]], text), encoding="utf-8")


def file_list(half: Path, name: str) -> dict[str, object]:
    """All that is kept for use without a network: each file with its hash and size, and the two caches that they go to."""

    def entries(paths: list[Path]) -> dict[str, list[object]]:
        return {
            path.relative_to(half).as_posix(): [demo_plan.integrity(path), path.stat().st_size]
            for path in sorted(paths)
        }

    plain = files(half / "plain")
    app = [path for path in kept_files(half, half / name) if path not in plain]
    runtime = next(half.glob("runtime-*"))
    return {
        "id": name.removeprefix("app-"),
        "runtime": runtime.name.removeprefix("runtime-"),
        "app_files": entries(app),
        "runtime_files": entries([path for path in files(runtime) if path.name != lean.REST]),
        "rest_files": entries([runtime / lean.REST]),
        "plain_files": entries(plain),
    }
