"""The lean runtime: what is left out traps, and all of it comes back."""

from __future__ import annotations

import random
import struct

from build_page.fetch.tools import ROOT
from build_page.frozen import lean


def module(bodies: list[bytes]) -> bytes:
    """A module of some functions without names or arguments, with a section after the code."""

    def section(kind: int, inside: bytes) -> bytes:
        return bytes([kind]) + lean.written(len(inside)) + inside

    many = lean.written(len(bodies))
    code = many + b"".join(lean.written(len(body)) + body for body in bodies)
    return (
        b"\0asm\1\0\0\0"
        + section(1, b"\1\x60\0\0")
        + section(3, many + bytes(len(bodies)))
        + section(10, code)
        + section(0, b"\1x!")
    )


def together(thin: bytes, rest: bytes) -> bytes:
    """What `putTogether` in site/engine/heap.js makes of both."""
    length, count = struct.unpack_from("<2I", rest)
    out, at, added = b"", 0, 8 + 12 * count
    for keep, drop, add in struct.iter_unpack("<3I", rest[8:added]):
        out += thin[at : at + keep] + rest[added : added + add]
        at, added = at + keep + drop, added + add
    assert len(out) == length
    return out


def test_any_choice_of_functions_comes_back_to_the_byte() -> None:
    chance = random.Random(1)
    for _ in range(200):
        bodies = [b"\0" + b"\1" * chance.choice((0, 3, 300)) + b"\x0b" for _ in range(chance.randrange(1, 300))]
        whole = module(bodies)
        stay = {n for n in range(len(bodies)) if chance.random() < chance.choice((0, 0.1, 0.5, 1))}
        thin, rest = lean.split(whole, stay)
        assert together(thin, rest) == whole
        _, found = lean.bodies(thin)
        left_out = [n for n, (begin, end) in enumerate(found) if thin[begin:end] == lean.GONE]
        assert left_out == [n for n in range(len(bodies)) if n not in stay]


def test_what_stays_is_called_or_may_be_or_is_small_and_beside_it() -> None:
    calls = [[7], [8], *([] for _ in range(98))]
    stay = lean.stay_of({0, *range(50, 55)}, [1], calls, [100] * 56 + [500] + [100] * 43)
    assert {0, 1, 7, 8, *range(50, 55)} <= stay
    assert {49, 55} <= stay
    assert not {2, 30, 56, 99} & stay


def test_the_list_reads_as_it_was_written() -> None:
    text = (ROOT / "py/build_page/frozen/lean.txt").read_text(encoding="utf-8")
    of, called, stay = lean.read(text)
    assert lean.write(of, called, stay) == text
    assert called < stay
