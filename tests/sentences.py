"""Gathers every sentence that a person meets: as answers say it, as the core's sources write it, and as the page has it."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM

ROOT = Path(__file__).parents[1]
GOLDEN = ROOT / "tests" / "golden"
CORE = ROOT / "py" / "thickset"
SITE = ROOT / "site"
INLINE = frozenset({"b", "small", "span", "bdi", "sup", "sub", "a", "g"})
WORDS = re.compile(r"[A-Za-z][A-Za-z’']+[,.:;]? [(A-Za-z…0-9]")
"""What has two words beside each other is read by a person."""
NO_WORDS = re.compile(r"[<>{}=$#\\|@]|class|\bM\d|-\d.*-\d|px|http|^ ")
SEEN = ("tear-out", "ridges", "roller marks", "dents", "bog", "stop")


class _Blocks(HTMLParser):
    """The text of each block of a piece of HTML."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.now: list[str] = []
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in {"style", "script"}:
            self.hidden += 1
        if tag not in INLINE:
            self.close_block()
        told = dict(attrs)
        self.found += [said for key in ("aria-label", "placeholder", "title") if (said := told.get(key))]

    def handle_endtag(self, tag: str) -> None:
        if tag in {"style", "script"}:
            self.hidden -= 1
        if tag not in INLINE:
            self.close_block()

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.now.append(data)

    def close_block(self) -> None:
        """One block is over."""
        self.found.append(" ".join("".join(self.now).split()))
        self.now = []


def blocks(html: str) -> list[str]:
    """The texts of a piece of HTML, a block each."""
    parser = _Blocks()
    parser.feed(html)
    parser.close_block()
    return [text for text in parser.found if text]


def told(answer: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Every text in an answer, with the place that it is told at."""
    if isinstance(answer, dict):
        for key, value in answer.items():
            if key not in {"job", "request", "link", "put_in", "working", "formula", "csv", "fed", "understood"}:
                yield from told(value, f"{path} {key}".strip())
    elif isinstance(answer, list):
        for value in answer:
            yield from told(value, path)
    elif isinstance(answer, str):
        if "<" in answer:
            yield from ((path, text) for text in blocks(answer))
        elif "\n" in answer:
            # A line that goes on is told as one.
            yield from ((path, " ".join(one.split())) for one in re.split(r"\n(?=\S|\s*[-*] |\n)", answer))
        else:
            yield path, answer


def requests() -> Iterator[dict[str, Any]]:
    """The golden requests, every surprise at the machine, and every question why of both example lots."""
    for path in sorted(GOLDEN.glob("*.json")):
        yield json.loads(path.read_text(encoding="utf-8"))["request"]
    for job in (DEMO_IN, DEMO_MM):
        first = job["boards"][0]["name"]
        yield {"ask": "why", "job": job}
        for what in SEEN:
            seen = {"did": "see", "what": what, "board": first}
            yield {"ask": "follow", "job": {**job, "run": [seen]}}
            yield {"ask": "follow", "job": {**job, "run": [seen, seen, seen]}}


def of_answers() -> Iterator[tuple[str, str]]:
    """What the answers say, each kind of sentence once, with its face."""
    for request in requests():
        answer = json.loads(handle(json.dumps(request)))
        ask = request.get("ask", "") if isinstance(request, dict) else ""
        for path, text in told(answer) if ask not in {"csv", "species", "why"} or "html" in answer else ():
            place = re.sub(r"^(html|plan|run) ?", "", path)
            yield f"{ask} {place}".strip(), text


def of_sources(files: Iterable[Path]) -> Iterator[tuple[str, str]]:
    """What the sources write, with … where a number or a name is put in."""
    for path in files:
        name = path.relative_to(CORE).as_posix()
        yield from ((name, text) for text in _literals(ast.parse(path.read_text(encoding="utf-8"))))


def _literals(tree: ast.Module) -> list[str]:
    told_of = {id(node.body[0].value) for node in ast.walk(tree) if _documented(node)}  # type: ignore[attr-defined]
    told_of |= {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    inside: set[int] = set()
    found: list[tuple[int, str]] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and id(node) not in inside:
            parts = []
            for value in node.values:
                inside |= {id(one) for one in ast.walk(value) if isinstance(one, ast.Constant) and value is one}
                if isinstance(value, ast.FormattedValue) and value.format_spec:
                    inside |= {id(one) for one in ast.walk(value.format_spec)}
                parts.append(str(value.value) if isinstance(value, ast.Constant) else "…")
            found.append((node.lineno, "".join(parts)))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inside | told_of:
            found.append((node.lineno, node.value))
    return [text for _, text in sorted(found)]


def _documented(node: ast.AST) -> bool:
    kinds = (ast.Module, ast.FunctionDef, ast.ClassDef)
    return isinstance(node, kinds) and bool(ast.get_docstring(node))


def of_page() -> Iterator[tuple[str, str]]:
    """What the page itself says: its pages, and the texts in its scripts."""
    for path in sorted(SITE.rglob("*.html")):
        for text in blocks(path.read_text(encoding="utf-8")):
            yield path.relative_to(SITE).as_posix(), text
    for path in sorted(SITE.rglob("*.js")):
        code = re.sub(r"/\*.*?\*/|(?<![:'\"])//[^\n]*", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
        for single, template in re.findall(r"'((?:[^'\\\n]|\\.)*)'|`((?:[^`\\]|\\.)*)`", code):
            text = re.sub(r"\$\{[^}]*\}+", "…", single or template)
            yield from ((path.relative_to(SITE).as_posix(), one) for one in (blocks(text) if "<" in text else [text]))


def listed(found: Iterable[tuple[str, str]]) -> list[str]:
    """Sentences under the place that says them first, each kind once: what differs in numbers and names only is one."""
    seen: set[str] = set()
    places: dict[str, list[str]] = {}
    for place, text in found:
        said = " ".join(text.split())
        kind = re.sub(r"\b[A-Z]{1,2}\b|[\d/.,−-]+", "#", said)
        if kind in seen or not WORDS.search(said) or NO_WORDS.search(said):
            continue
        seen.add(kind)
        places.setdefault(place, []).append(said)
    lines = []
    for place in sorted(places):
        lines += ["", f"[{place}]", *places[place]]
    return lines


def _unheard(found: Iterable[tuple[str, str]], heard: list[str]) -> Iterator[tuple[str, str]]:
    """What none of the answers holds, whatever was put in."""
    for place, text in found:
        pieces = [piece.strip() for piece in " ".join(text.split()).split("…")]
        longest = max(pieces, key=len)
        if not any(longest in one and _in_order(pieces, one) for one in heard):
            yield place, text


def _in_order(pieces: list[str], text: str) -> bool:
    at = 0
    for piece in pieces:
        at = text.find(piece, at)
        if at < 0:
            return False
        at += len(piece)
    return True


def everything() -> str:
    """The whole list."""
    core = sorted(
        path for path in CORE.rglob("*.py") if path.parent != CORE / "ground" / "link" or path.name == "link.py"
    )
    answers = list(of_answers())
    heard = list(dict.fromkeys(" ".join(text.split()) for _, text in answers))
    parts = (
        ("What answers say", answers),
        ("What the core writes besides, with … for what is put in", _unheard(of_sources(core), heard)),
        ("What the page says", of_page()),
    )
    lines = ["Every sentence that a person meets. Written by tests/golden/test_sentences.py; read it in one sitting."]
    for head, found in parts:
        lines += ["", "", f"== {head} ==", *listed(found)]
    return "\n".join(lines) + "\n"
