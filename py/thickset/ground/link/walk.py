"""Walks a job document, to pack it or to unpack it: the same steps in the same order.

Links of version 1 depend on everything here: it may not change. What is given while unpacking is None throughout.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from thickset.ground.link.figures import KIND, KINDS, NOTHING, SUFFIXES, Figure, of_json, put_together, take_apart
from thickset.ground.link.packing import Coder
from thickset.ground.link.tables_1 import KEYS, KNOWN, LIKE, NUMBERS, SELDOM, SOURCES, SOURCES_OF, UNITS, USUAL, WORDS

DEEPEST = 20
LEAST_COMMON = 3
MOST_COMPARED = 100

_CONSTANTS = {"null": None, "true": True, "false": False}
HALVINGS = (12, 10, 12, 16, 20, 24, 22, 2, 2, 1, 1)
PLACES = (1, 40, 20, 12, 4, 3, 2, 1, 1, 1, 1, 1, 1)
_SAME, _NEXT, _KNOWN, _SEEN, _BEGUN, _NEW = range(len(SOURCES))


class UnlinkableError(ValueError):
    """Something that a document may not hold."""


def walk(coder: Coder, job: object) -> Any:
    """Pack a document, or unpack it where the coder unpacks; gives the document.

    >>> from thickset.ground.link.packing import Packer
    >>> walk(Packer(), {"thickset": 1, "extra": [None, 2.5]})
    {'thickset': 1, 'extra': [None, 2.5]}
    """
    return Walk(coder).value("", job, 0)


def following(text: str) -> str:
    """The name after this one: A, B ... Z, AA; a number at the end counts on.

    >>> following("Z"), following("B9"), following("")
    ('AA', 'B10', 'A')
    """
    if not text:
        return "A"
    if number := _number_at_end(text):
        return text.removesuffix(number) + str(int(number) + 1).zfill(len(number))
    stem = text.rstrip("Z")
    if not re.fullmatch("[A-Z]{1,4}", text):
        return ""
    tail = "A" * (len(text) - len(stem))
    return stem[:-1] + chr(ord(stem[-1]) + 1) + tail if stem else "A" + tail


class Walk:
    """What is known while a document is walked."""

    keys = KEYS
    seldom: Mapping[str, tuple[int, int]] = dict.fromkeys(SELDOM, (30, 10))

    def __init__(self, coder: Coder) -> None:
        self.coder = coder
        self.inches = True
        self.numbers: dict[tuple[str, int], Fraction] = {}
        self.lengths: dict[str, int] = {}
        self.last: dict[str, str] = {}
        self.seen: list[str] = []

    def value(self, place: str, given: Any, depth: int) -> Any:
        """Whatever stands at a place."""
        if depth > DEEPEST:
            raise UnlinkableError("it is nested too deep")
        figure, text = (NOTHING, "") if self.coder.unpacking else self.seen_as(place, given)
        kind = self.coder.symbol((place, "kind"), self.kinds(place), figure.kind)
        name = KINDS[kind]
        if name in _CONSTANTS:
            return _CONSTANTS[name]
        if name == "usual":
            return self.usual(place, given)
        if name == "text":
            return self.text(place, text)
        if name == "numeral":
            return _of_numeral(self.coder.letters("numeral", text))
        if name == "object":
            return self.object(place, given or {}, depth)
        if name == "list":
            return self.items(place, given or [], depth)
        return self.figure(place, figure._replace(kind=kind))

    def seen_as(self, place: str, given: Any) -> tuple[Figure, str]:
        """What a value is, and its text where it has one."""
        if isinstance(given, str | int) and not isinstance(given, bool) and given in USUAL.get(place, ()):
            return Figure(KIND["usual"]), ""
        if isinstance(given, str):
            if any(0xD800 <= ord(letter) < 0xE000 for letter in given):
                raise UnlinkableError(f"{place or 'it'} holds half a character")
            return (take_apart(given) if _last(place) not in WORDS else None) or NOTHING, given
        if isinstance(given, dict):
            return Figure(KIND["object"]), ""
        if isinstance(given, list):
            return Figure(KIND["list"]), ""
        if given is None or isinstance(given, bool):
            return Figure(KIND["null" if given is None else str(given).lower()]), ""
        if not isinstance(given, int | float | Decimal):
            raise UnlinkableError(f"{place} holds what is no JSON")
        try:
            found = of_json(given)
        except (ValueError, OverflowError) as error:
            raise UnlinkableError(f"{place}: {str(given)[:20]} {error}") from error
        return (Figure(KIND["numeral"]), found) if isinstance(found, str) else (found, "")

    def kinds(self, place: str) -> list[int]:
        """How likely each kind of value is at a place."""
        counts = [1] * len(KINDS)
        counts[KIND["usual"]] = 100 if place in USUAL else 1
        if place in self.keys:
            counts[KIND["object"]] = 400
        elif f"{place}[]" in self.keys or _last(place) in ("readings", "feeds", "boards"):
            counts[KIND["list"]] = 400
        elif _last(place) in WORDS:
            counts[KIND["text"]] = 200
        elif _last(place) in NUMBERS:
            counts[KIND["whole"]] = 100
            counts[KIND["mixed"]] = counts[KIND["decimal"]] = 8
        else:
            likely = {"mixed": 40, "point": 10} if self.inches else {"mixed": 30, "point": 30, "comma": 6}
            for name, count in {**likely, "whole": 6, "decimal": 6, "text": 3}.items():
                counts[KIND[name]] = count
        return counts

    def object(self, place: str, given: dict[str, Any], depth: int) -> dict[str, Any]:
        """An object: which of the keys known here it has, then all others by name."""
        known = self.keys.get(place, ())
        found: dict[str, Any] = {}
        variant = ""
        for key in known:
            inside = f"{place}.{key}" if place else key
            likely = self.seldom.get(inside, (4, 24))
            if self.coder.symbol((inside, "there", variant), likely, int(key in given)):
                found[key] = self.value(inside, given.get(key), depth + 1)
                if inside == "run[].did":
                    variant = str(found[key])
                if inside == "units":
                    self.inches = found[key] != "mm"
        others = [key for key in given if key not in known]
        there = self.coder.symbol(("others", bool(known)), (200, 1) if known else (1, 20), int(bool(others)))
        for n in range(self.coder.number("others", len(others)) if there else 0):
            key = self.text("key", str(others[n]) if others else "")
            if key in found:
                raise UnlinkableError("it has a key twice")
            found[key] = self.value("?", given.get(key), depth + 1)
        return found

    def items(self, place: str, given: list[Any], depth: int) -> list[Any]:
        """A list, item by item."""
        length = self.lengths.get(place, 0)
        if not self.coder.symbol((place, "as many"), (10, 30) if length else (30, 1), int(len(given) == length)):
            length = self.lengths[place] = self.coder.number((place, "items"), len(given))
        self.coder.spend(length)
        return [self.value(f"{place}[]", given[n] if given else None, depth + 1) for n in range(length)]

    def usual(self, place: str, given: str | int | None) -> str | int:
        """A value that is usual at its place."""
        values = USUAL.get(place, ())
        if not values:
            raise UnlinkableError("it points to a value that is not known")
        counts = [60 // (rank + 2) for rank in range(len(values))]
        found = values[self.coder.symbol((place, "usual"), counts, values.index(given) if given is not None else 0)]
        figure = take_apart(found) if isinstance(found, str) else None
        if figure:
            self.numbers[place, figure.suffix] = figure.value
        return found

    def text(self, place: str, given: str) -> str:
        """A text: the same as before, the next of a row, a known one, one seen before or begun alike, or a new one."""
        last, known = self.last.get(place, ""), KNOWN.get(place, ())
        after = following(last)
        fits = (
            place in self.last and given == last,
            bool(after) and given == after,
            given in known,
            given in self.seen,
        )
        alike, common = (0, 0) if True in fits else self.begun_alike(given)
        source = fits.index(True) if True in fits else _BEGUN if common >= LEAST_COMMON else _NEW
        source = self.coder.symbol((place, "source"), SOURCES_OF.get(place, SOURCES_OF[""]), source)
        if source == _SAME:
            found = last
        elif source == _NEXT:
            found = after
        elif source == _KNOWN and known:
            found = known[self.coder.symbol((place, "known"), (1,) * len(known), known.index(given) if given else 0)]
        elif source == _SEEN:
            found = self.seen_before((place, "back"), self.seen.index(given) if given in self.seen else 0)
        elif source == _BEGUN:
            begun = self.seen_before((place, "alike"), alike)
            common = self.coder.number((place, "common"), common)
            found = begun[:common] + self.rest(place, given[common:], after)
        elif source == _NEW:
            found = self.rest(place, given, after)
        else:
            raise UnlinkableError("it points to a text that is not known")
        self.coder.spend(len(found))
        if source != _SAME and found not in self.seen:
            self.seen.append(found)
        self.last[place] = found
        return found

    def rest(self, place: str, given: str, after: str) -> str:
        """The rest of a text, by its letters, but for a number at its end that counts on from the last text."""
        number = _number_at_end(after)
        counts = bool(number) and given.endswith(number)
        if number:
            counts = bool(self.coder.symbol((place, "counts"), (10, 10), int(counts)))
        return self.coder.letters("words", given.removesuffix(number) if counts else given) + (number if counts else "")

    def seen_before(self, key: tuple[str, str], index: int) -> str:
        """One of the texts seen before, by how far back it is."""
        back = self.coder.number(key, len(self.seen) - 1 - index if self.seen else 0)
        if back >= len(self.seen):
            raise UnlinkableError("it points to a text that is not there")
        return self.seen[-1 - back]

    def begun_alike(self, given: str) -> tuple[int, int]:
        """The text seen before that begins most like this one, the latest of equals: its index, and how many letters."""
        common = [_common(given, text) for text in self.seen[-MOST_COMPARED:]]
        if not given or not common:
            return 0, 0
        most = max(common)
        return len(self.seen) - 1 - common[::-1].index(most), most

    def figure(self, place: str, figure: Figure) -> Any:
        """A number, as a text or as one of JSON, by how far it is from the one it is likely to be near to."""
        coder, kind = self.coder, figure.kind
        name = KINDS[kind]
        suffix = fine = 0
        if name not in ("whole", "decimal"):
            suffix = coder.symbol((place, "suffix"), self.suffixes(place), figure.suffix)
        if name != "whole":
            counts = HALVINGS if name in ("mixed", "hyphen", "rule", "over") else PLACES
            fine = coder.symbol((place, "fine", len(counts)), counts, figure.fine)
        # The last of the halvings is an odd number of its size, but where it is written as on a rule.
        odd = name in ("mixed", "hyphen") and fine > 0
        scale = 2**fine if name in ("mixed", "hyphen", "rule", "over") else 10**fine
        number = figure.number >> 1 if odd else figure.number
        known = (self.numbers.get((other, suffix)) for other in LIKE.get(place, ()))
        near = next((value for value in known if value is not None), None)
        key = (place, fine, scale)
        if near is None:
            number = coder.number(key, number)
        else:
            likely = near * scale // (2 if odd else 1)
            number = likely + coder.signed((key, "from"), number - likely)
            if number < 0:
                raise UnlinkableError("a number is below zero")
        number = number << 1 | 1 if odd else number
        whole = Figure(kind, suffix, fine, number)
        self.numbers[place, suffix] = whole.value
        if name == "whole":
            return number
        text = put_together(whole)
        return float(text) if name == "decimal" else text

    def suffixes(self, place: str) -> list[int]:
        """How likely each unit is behind a number at a place."""
        counts = [1] * len(SUFFIXES)
        counts[UNITS.get(_last(place), (0, 0))[0 if self.inches else 1]] = 300
        return counts


def _last(place: str) -> str:
    return place.rpartition(".")[2]


def _number_at_end(text: str) -> str:
    found = re.search(r"[0-9]{1,9}\Z", text)
    return found[0] if found else ""


def _common(one: str, other: str) -> int:
    """How many letters two texts begin with alike."""
    return next((n for n, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))


def _of_numeral(numeral: str) -> int | float:
    if re.fullmatch("-?[0-9]{1,400}", numeral):
        return int(numeral)
    if not re.fullmatch(r"-?[0-9]+(\.[0-9]+)?(e[-+]?[0-9]{1,3})?", numeral) or float(numeral) in (
        float("inf"),
        float("-inf"),
    ):
        raise UnlinkableError("a number is none")
    return float(numeral)
