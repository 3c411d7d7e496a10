"""Runs in the restored core when functions are counted: what only faults and odd values call, so that the lean runtime has it.

Errors of every kind with their tracebacks, the ends of stack and memory, and what Python makes of odd numbers and texts.
"""

from __future__ import annotations

import gc
import json
import math
import operator
import random
import re
import traceback
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any

INTS = (0, 1, -1, 255, -(2**31), 2**60 + 1, -(10**40), 7**90)
FLOATS = (0.0, -0.1, 1e16, 1e-7, 5e-324, 1.7976931348623157e308, -math.inf, math.nan)
NUMBERS = (*INTS, *FLOATS, True, Fraction(1, 3), 1j)
WRITTEN = ("1", " 12 ", "1_0", "-0x1f", "1e5", "nan", "1e400", "x", "٣", "9" * 500, "1/3", "0.1", "-2.5e-3")
TEXTS = ("", "a", "A b", "½é 1", "²٣ſß", "中文", "💥 x", "\ud800", "\x00\x1b", "x" * 70, "💥é" * 40)
BYTES = (b"", b"a", b"\xff\xfe", "é💥".encode(), b"\xed\xa0\x80", b"x" * 90)
FORMS = ("", "d", "x", "n", ",", "+.3f", ".17g", "e", "%", "08.2f", "_b", "c", ">30", "*^12,.4f", "z.1f")
OF_ONE: tuple[Callable[..., Any], ...] = (
    *(repr, ascii, str, hash, int, float, complex, bool, abs, round, list, len, sorted, set, bytes, bytearray, ord),
    *(json.dumps, json.loads, math.floor, math.isqrt, math.sqrt, math.frexp, Fraction, sum, max, any, tuple, dict),
    *(enumerate, reversed, zip, iter, next, vars, type, callable, operator.neg, operator.invert, operator.index),
)
OF_TWO: tuple[Callable[..., Any], ...] = (
    *(operator.add, operator.sub, operator.mul, operator.truediv, operator.floordiv, divmod, operator.mod),
    *(operator.lt, operator.eq, operator.ge, operator.and_, operator.or_, operator.xor, operator.contains),
    *(math.gcd, math.copysign, math.fmod, math.hypot, math.isclose, int),
    lambda a, b: (a ** (b % 4), round(a, int(b) % 9 - 4)),
    lambda a, b: pow(int(a), abs(int(b)) % 50, 1009),
    lambda a, b: (a << (int(b) % 200), a >> (int(b) % 200)),
    lambda a, b: "%s %r %5.2f %d %x %%" % (a, b, a, b, b),  # noqa: UP031
    lambda a, b: f"{a!r:>9}{b!s:^9.3}{b:{a!s:.3}}",
    lambda a, b: a.replace(b, "->", 2),
    lambda a, b: (a.center(40, b), a.ljust(9), a.rjust(9), a.zfill(9)),
    lambda a, b: a.translate({98: None, 97: b, 233: "e"}) + a.translate(str.maketrans("ab", "xy", b)),
    lambda a, b: a.encode(b, "replace").decode(b),
    lambda a, b: re.compile(f"({b})?[^{b}]*?(?P<n>\\w+)(?=.)\\b|(?i:{b}){{2,3}}").sub(r"\g<n>", a[:20]),
    lambda a, b: [getattr(a, name)(b) for name in TEXT_TO_TEXT],
)
TEXT_TO_TEXT: tuple[str, ...] = (
    *("count", "find", "rfind", "startswith", "partition", "rpartition"),
    *("split", "join", "removeprefix", "strip", "index"),
)
CODECS = ("utf-8", "ascii", "latin-1", "utf-16", "utf-32", "unicode_escape", "none")
ERRORS = ("strict", "replace", "ignore", "surrogatepass", "backslashreplace", "xmlcharrefreplace", "none")


class Odd:
    """Whatever is asked of it fails."""

    def __getattr__(self, name: str) -> object:
        raise LookupError(name)

    def __eq__(self, other: object) -> bool:
        raise ArithmeticError

    def __hash__(self) -> int:
        raise TypeError("none")

    def __iter__(self) -> Iterator[int]:
        yield 1
        raise RuntimeError("in the middle")

    def __del__(self) -> None:
        raise ValueError("when it goes")


def deep(n: int = 0) -> int:
    """The end of the stack."""
    return deep(n + 1) + 1


def chained() -> None:
    """An error over an error over a group of them."""
    try:
        try:
            operator.getitem({}, "missing")
        except KeyError as error:
            raise ValueError("then") from error
    except ValueError:
        raise ExceptionGroup("both", [OSError(2, "none", "file"), UnicodeDecodeError("utf-8", b"\xff", 0, 1, "so")])  # noqa: B904


def rounds() -> None:
    """What holds itself, given up in all ways that collecting it knows; and the collector by its own clock."""
    for _ in range(3):
        for _ in range(500):
            one: list[Any] = [Odd(), {}, deep, (n for n in "ab")]
            one.append(one)
            one[1]["self"] = one[3], iter(one), one.append
            next(one[3])
        gc.collect()
    gc.collect(0), gc.collect(1), gc.get_stats()


def kinds() -> Iterator[type[BaseException]]:
    """Every kind of error that Python has."""
    waiting = [BaseException]
    while waiting:
        one = waiting.pop()
        yield one
        waiting += one.__subclasses__()


def fail(kind: type[BaseException], *given: Any) -> None:
    """Raise it."""
    raise kind(*given)


def attempt(act: Callable[..., Any], *given: Any) -> None:
    """Do it, and tell what comes of it; of its fault as the core tells of its own."""
    try:
        repr(act(*given))
    except BaseException as error:
        kind = (type(error), act)
        if kind not in told:
            told.add(kind)
            "".join(traceback.format_exception(error))
            str(error), repr(error), error.args


told: set[object] = set()
GIVEN = (
    (),
    ("text",),
    (2, "none", "file"),
    ("utf-8", "é", 0, 1, "so"),
    ("utf-8", b"\xff", 0, 1, "so"),
    ("g", [ValueError()]),
)
DEEDS: tuple[Callable[[], Any], ...] = (
    *(deep, chained, rounds),
    lambda: "x" * (1 << 40),
    lambda: [0] * (1 << 60),
    lambda: 7**9000 * 3**9000 // 5**2000,
    lambda: str(7**9000),
    lambda: int("9" * 9000),
    lambda: operator.attrgetter("none")([]),
    lambda: operator.attrgetter("__call__")(deep)(1, 2, n=3),
    lambda: __import__("none"),
    lambda: [*Odd()],
    lambda: {Odd(): 1},
    lambda: Odd() == 1,
    lambda: json.loads("[" * 900),
    lambda: json.dumps(Odd()),
    lambda: json.loads('{"a": [1, 2.5e3, null, true, "\\ud83d\\ude00", -0, NaN, Infinity]}'),
    lambda: json.loads('{"a" 1}'),
    lambda: re.compile("(("),
    lambda: next(operator.truediv(n, 0) for n in (1,)),
)
KEYS: tuple[Callable[[int], Any], ...] = (
    *(float, str, lambda n: (n % 7, n), lambda n: "é" * (n % 5), lambda n: Fraction(n, 7), lambda n: [n]),
)


def holders() -> None:
    """What is done with lists, sets and dictionaries, small and large, and with what is none of them."""
    for a in (
        [3, 1, 2],
        (1, 2.5),
        {1, 2},
        frozenset("ab"),
        {"a": 1, 2: [3]},
        range(2, 99, 3),
        deep,
        Odd(),
        "ab",
        b"ab",
        1,
        1.5,
    ):
        for name in dir(type(a)):
            if name not in ("__class__", "__init_subclass__", "__subclasshook__", "__del__", "__getattr__"):
                for given in ((), (a,), (1,), (1, 2), ("a",)):
                    attempt(lambda a, name, *given: getattr(a, name)(*given), a, name, *given)
        for act in OF_ONE:
            attempt(act, a)
    many = list(range(3000))
    random.shuffle(many)
    for key in KEYS:
        attempt(lambda key: sorted(many, key=key, reverse=True), key)
    held: dict[Any, Any] = dict.fromkeys(many)
    attempt(lambda: [held.pop(n) for n in many[:2900]] and held.update({f"{n}": n for n in many}))
    attempt(lambda: (set(many) & set(many[9:]), set(many) - {1}, set(many) ^ {1}, {*many}.issubset(many)))
    attempt(lambda: [held.update(more=1) for _ in held])


def faults() -> None:
    """All of it."""
    for kind in kinds():
        for given in GIVEN:
            attempt(fail, kind, *given)
    for deed in DEEDS:
        attempt(deed)
    for a in (*NUMBERS, *WRITTEN, *TEXTS, *BYTES):
        for act in OF_ONE:
            attempt(act, a)
        for b in (*INTS[::3], *FLOATS[::3], Fraction(-7, 9), *TEXTS[::2], *BYTES[::3], "utf-8", None):
            for act in OF_TWO:
                attempt(act, a, b)
        for form in FORMS:
            attempt(format, a, form)
        for name in dir(type(a)):
            if not name.startswith("_"):
                attempt(lambda a, name: getattr(a, name)(), a, name)
        attempt(lambda a: (a[1:], a[::-1], a[-1], a * 3, a[2:1:-1], iter(a).__reduce__()), a)
        for codec in CODECS:
            for errors in ERRORS:
                attempt(lambda a, *how: a.encode(*how) if isinstance(a, str) else a.decode(*how), a, codec, errors)
    holders()


faults  # noqa: B018  (it is what running this gives)
