"""Our scripts and styles in few files: each file costs a turn through the service worker before anything is seen."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

from build_page.fetch import tools
from build_page.fetch.tools import Stop, run, still

HERE = Path(__file__).parent

#: What is gathered together: the modules that stay files of their own, because another file or a test asks for them by name. The
#: worker is one file: a page can ask for its own modules all at once, but not for those of a worker. The service worker is a script
#: and no module: not every browser takes a module there, and those that do ask for it without cookies.
GATHERED = (
    ("es", "first", "main", "engine/engine", "engine/offline", "engine/messages"),
    ("es", "engine/worker"),
    ("iife", "engine/sw"),
)
STYLE_FILE = "style.css"
STYLE = re.compile(r'<link rel="stylesheet" href="([^"]+\.css)">\n')


def scripts(app: Path) -> None:
    """Put what only one of the modules in GATHERED imports into it."""
    node, _ = tools.node()
    out = app.with_name("gathered")
    for form, *names in GATHERED:
        places = (HERE / "gather.mjs", tools.npm_packages(), app, out)
        run([*node, *places, form, *names], "Gathering the scripts", env=still())
    for path in app.rglob("*.js"):
        path.unlink()
    for path in out.glob("*.js"):
        path.rename(app / path.name)
    out.rmdir()


def styles(half: Path, app: Path) -> None:
    """Put the styles that the page asks for into one file, in their order, and let the pages ask for that one; no source folder stays."""
    page = half / "index.html"
    names = STYLE.findall(page.read_text(encoding="utf-8"))
    if not names:
        raise Stop("site/index.html asks for no style")
    whole = "\n".join((app / name).read_text(encoding="utf-8") for name in names)
    for path in app.iterdir():
        if path.is_dir():
            shutil.rmtree(path)
        elif path.suffix == ".css":
            path.unlink()
    (app / STYLE_FILE).write_text(whole, encoding="utf-8")
    for path in half.glob("*.html"):
        text = path.read_text(encoding="utf-8")
        if not set(STYLE.findall(text)) <= {*names}:
            continue  # a page with a style of its own
        one = f'<link rel="stylesheet" href="{STYLE_FILE}">\n'
        first, *rest = STYLE.split(text)[0::2]
        path.write_text(first + one + "".join(rest), encoding="utf-8")
