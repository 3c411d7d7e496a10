"""The command line: reads a job from a file and prints what the one door answers."""

from __future__ import annotations

import argparse
import json
import sys
import unicodedata
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import thickset
from thickset.doors.api import handle
from thickset.doors.request import LONGEST, beyond_bounds

PROBLEMS = 2
"""Exit status when there is no plan."""

STEERING = ("Cc", "Cf", "Cs", "Zl", "Zp")
"""Kinds of signs that are seen as none, and may move, color or turn what is."""

MOST_BYTES = 4 * LONGEST
"""A character takes at most so many."""


class UnreadableError(Exception):
    """A file that holds no JSON; the message says why."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; gives the exit status [0, or 2 for problems].

    >>> main(["plan", "no such file.json"])
    2
    """
    given = _parser().parse_args(arguments)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(encoding="utf-8")
    try:
        request = _request(given)
    except UnreadableError as error:
        place = "standard input" if given.job == "-" else given.job
        print(for_a_terminal(f"thickset: {place}: {error}"), file=sys.stderr)
        return PROBLEMS
    answer = json.loads(handle(request))
    if not answer["ok"]:
        for problem in answer["problems"]:
            told = ": ".join(part for part in (problem["at"], problem["text"]) if part)
            print(for_a_terminal(told), file=sys.stderr)
        return PROBLEMS
    print(_said(given, answer))
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="thickset", description="Plans the planer passes of a lot of boards.")
    parser.add_argument("--version", action="version", version=f"%(prog)s {thickset.__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    def command(name: str, said: str, ask: str = "") -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=said)
        made.add_argument("job", metavar="JOB.json", help="a job document; - reads standard input")
        made.set_defaults(ask=ask or name)
        return made

    plan = command("plan", "print the pass schedule of a job", "text")
    plan.add_argument("--json", action="store_const", const="plan", dest="ask", help="print the plan document instead")
    why = command("why", "print why the numbers of a plan are what they are")
    why.add_argument(
        "what", metavar="WHAT", nargs="?", default="", help="like passes[2].setting; all numbers without it"
    )
    why.add_argument("--json", action="store_true", dest="as_json", help="print the reasons as JSON instead")
    following = command("follow", "print what comes next in a job whose run has begun", "next")
    following.add_argument(
        "--json", action="store_const", const="follow", dest="ask", help="print the state of the run"
    )
    sheet = command("sheet", "print a page to hang at the machine, as HTML")
    sheet.add_argument("--page", metavar="ADDRESS", help="where the page is; puts the code of the job on the sheet")
    command("tags", "print tags for the end grain of the boards, as HTML")
    link = command("link", "print the plan link of a job")
    link.add_argument("--page", metavar="ADDRESS", help="where the page is, like https://example.org/thickset/")
    link.add_argument("--no-run", action="store_false", dest="run", help="leave out what was done at the machine")
    table = command("csv", "print passes, boards or results of a run as a table for a spreadsheet")
    table.add_argument("what", nargs="?", choices=("passes", "boards", "results"), default="passes")
    table.add_argument("--comma", action="store_true", help="decimal commas, semicolons between the columns")
    opened = commands.add_parser("open", help="print the job document of a plan link")
    opened.add_argument("link", metavar="LINK", help="the link, with the address of its page or without; quote it")
    opened.set_defaults(ask="open", job=None)
    return parser


def _request(given: argparse.Namespace) -> str:
    """The request with the job's own text in it, so that its numbers stay as they were written."""
    options = ("ask", "what", "link", "page", "run", "comma")
    asked = {key: value for key in options if (value := getattr(given, key, None)) is not None}
    request = {**asked, "whole": True}
    if given.job is None:
        return json.dumps(request)
    text = _text(given.job)
    if beyond := beyond_bounds(text):
        raise UnreadableError(f"{beyond[0].lower()}{beyond[1:].rstrip('.')}.")
    try:
        json.loads(text, parse_int=str, parse_constant=str)
    except (ValueError, RecursionError) as error:
        raise UnreadableError(f"this is no JSON: {error}") from error
    return f'{json.dumps(request)[:-1]}, "job": {text}}}'


def _text(path: str) -> str:
    try:
        with sys.stdin.buffer if path == "-" else Path(path).open("rb") as file:
            given = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise UnreadableError(f"it cannot be opened: {error.strerror or error}") from error
    if len(given) > MOST_BYTES:
        raise UnreadableError(
            f"this is too long: more than {MOST_BYTES:,} bytes. Open a job document that Thickset saved."
        )
    try:
        return given.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnreadableError("this is no UTF-8 text. Save it as UTF-8.") from error


def _said(given: argparse.Namespace, answer: dict[str, Any]) -> str:
    documents = {"plan": "plan", "follow": "run", "open": "job"}
    if given.ask in documents or getattr(given, "as_json", False):
        told = json.dumps(answer[documents.get(given.ask, given.ask)], ensure_ascii=False, indent=2)
        return for_a_terminal(told, in_json=True)
    places = {"sheet": "document", "tags": "document", "link": "address" if getattr(given, "page", None) else "link"}
    # The table's own ends of lines are the file's business, not the terminal's.
    return for_a_terminal(str(answer[places.get(given.ask, "text")]).replace("\r\n", "\n").rstrip("\n"))


def for_a_terminal(text: str, in_json: bool = False) -> str:
    """The text without signs that steer a terminal: each as a mark in its place, in JSON as its number.

    >>> for_a_terminal("A\\x1b[31m"), for_a_terminal('"\\x9b"', in_json=True)
    ('A\ufffd[31m', '"\\\\u009b"')
    """
    if text.isascii() and text.replace("\n", "").isprintable():
        return text
    return "".join(
        char
        if char in "\n\t" or unicodedata.category(char) not in STEERING
        else json.dumps(char)[1:-1]
        if in_json
        else "\N{REPLACEMENT CHARACTER}"
        for char in text
    )
