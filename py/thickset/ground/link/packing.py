"""Packs symbols, numbers and texts into one large whole number, each as short as it is likely. Knows nothing of jobs.

The same calls pack and unpack: a `Packer` is given each value and gives it back, an `Unpacker` is given none and finds
it. The number is an asymmetric numeral system (Duda's construction, from memory) without rounding, as Python's
whole numbers have no end.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence

MOST = 150_000
"""Symbols and characters that one packed number may hold; bounds time and memory before any is spent."""

GAIN = 24
"""What a symbol that has come is counted for when it may come again."""

LONGEST_NUMBER = 63
"""Bits of the largest number that `number` takes."""

LETTERS = (
    " eatoinsrhldcumpgfbwykvSBCTPMAHDLFWORGNE1203456789.,-/xjqz'()&:\"IKUVJQXYZ+#_!?;*=%@äöüÄÖÜßéèàåøæçñáíóúêôîëï"
    "½¼¾″′×°–<>[]{}|\\~$^`\t\n"
)
"""Characters of short texts, the likelier first; never changed, as links depend on the order."""

LETTER_GAIN = 80
_LETTER_COUNTS = tuple(2400 // (rank + 6) for rank in range(len(LETTERS) + 1))
"""For no letter of these first, then for the letters by rank."""

_BEGIN, _SPACE, _DIGIT, _CAPITAL, _VOWEL, _CONSONANT, _OTHER = range(7)
_SORTS = {" -": _SPACE, "0123456789": _DIGIT, "ABCDEFGHIJKLMNOPQRSTUVWXYZ": _CAPITAL, "aeiou": _VOWEL}
_SORT_OF = {letter: sort for letters, sort in _SORTS.items() for letter in letters}
_SORT_OF |= dict.fromkeys("bcdfghjklmnpqrstvwxyz", _CONSONANT)


def _order(*first: int) -> str:
    """The letters with those of some sorts before all others."""
    return "".join(sorted(LETTERS, key=lambda letter: _SORT_OF.get(letter, _OTHER) not in first))


_ORDERS = {
    _BEGIN: _order(_CAPITAL),
    _SPACE: _order(_VOWEL, _CONSONANT, _DIGIT),
    _DIGIT: _order(_DIGIT, _SPACE),
    _CAPITAL: _order(_VOWEL, _CONSONANT),
    _VOWEL: _order(_CONSONANT, _SPACE),
    _CONSONANT: _order(_VOWEL, _CONSONANT, _SPACE),
    _OTHER: LETTERS,
}
"""The likelier letters first, by the sort of the one before."""

_WIDTHS = tuple(max(1, 20 - abs(width - 4)) for width in range(LONGEST_NUMBER + 1))


class PackingError(ValueError):
    """What was packed cannot be unpacked, or is too much to pack."""


class Model:
    """How often each symbol of one place is expected. It learns from those that came.

    >>> model = Model([1, 1])
    >>> model.count(1)
    >>> model.counts
    [1, 25]
    """

    __slots__ = ("counts", "total")

    def __init__(self, counts: Sequence[int]) -> None:
        self.counts = list(counts)
        self.total = sum(counts)

    def count(self, symbol: int, gain: int = GAIN) -> None:
        """Expect a symbol more often from now on."""
        self.counts[symbol] += gain
        self.total += gain


class Coder:
    """What packing and unpacking have in common: models by key, and numbers and texts made of symbols."""

    unpacking = False

    def __init__(self) -> None:
        self.models: dict[Hashable, Model] = {}
        self.left = MOST

    def spend(self, amount: int) -> None:
        """Take from what may be packed at most."""
        self.left -= amount
        if self.left < 0:
            raise PackingError("it holds too much")

    def symbol(self, key: Hashable, counts: Sequence[int], symbol: int = 0, gain: int = GAIN) -> int:
        """One of as many symbols as `counts` has; the counts are what is expected the first time."""
        self.spend(1)
        model = self.models.get(key)
        if model is None:
            model = self.models[key] = Model(counts)
        found = self._step(model, symbol)
        model.count(found, gain)
        return found

    def bits(self, width: int, value: int = 0) -> int:
        """A number of so many bits, each value as likely."""
        return self.even(1 << width, value)

    def even(self, size: int, value: int = 0) -> int:
        """A number from 0 under `size`, each value as likely."""
        self.spend(1)
        return self._plain(size, value)

    def number(self, key: Hashable, value: int = 0) -> int:
        """A whole number from 0; how long it is and how it begins are learned.

        >>> packer = Packer()
        >>> [packer.number("n", value) for value in (0, 7, 3136)]
        [0, 7, 3136]
        >>> unpacker = Unpacker(packer.packed())
        >>> [unpacker.number("n") for _ in range(3)]
        [0, 7, 3136]
        """
        if not 0 <= value < 1 << LONGEST_NUMBER:
            raise PackingError("a number is too large")
        width = self.symbol((key, "width"), _WIDTHS, value.bit_length())
        found = min(width, 1)
        learned = min(width - 1, 4)
        for place in range(width - 2, width - 2 - learned, -1):
            bit = self.symbol((key, width, found), (20, 20), value >> place & 1)
            found = found << 1 | bit
        plain = width - 1 - learned
        if plain > 0:
            found = found << plain | self.bits(plain, value & (1 << plain) - 1)
        return found

    def signed(self, key: Hashable, value: int = 0) -> int:
        """A whole number, negative ones too."""
        return self._unfolded(self.number(key, value * 2 if value >= 0 else -value * 2 - 1))

    def letters(self, key: Hashable, text: str = "") -> str:
        """A text, letter by letter.

        >>> packer = Packer()
        >>> packer.letters("t", "Hall bench <slats> 木")
        'Hall bench <slats> 木'
        >>> Unpacker(packer.packed()).letters("t")
        'Hall bench <slats> 木'
        """
        length = self.number((key, "length"), len(text))
        self.spend(length)
        found = ""
        for place in range(length):
            letter = text[place] if text else ""
            before = _SORT_OF.get(found[-1], _OTHER) if found else _BEGIN
            order = _ORDERS[before]
            counts = _LETTER_COUNTS
            rank = self.symbol((key, before), counts, order.find(letter) + 1 if letter else 0, LETTER_GAIN)
            if rank:
                found += order[rank - 1]
                continue
            code = self.number((key, "code"), ord(letter) if letter else 0)
            if code > 0x10FFFF or 0xD800 <= code < 0xE000:
                raise PackingError("a character is none")
            found += chr(code)
        return found

    @staticmethod
    def _unfolded(folded: int) -> int:
        return -(folded + 1) // 2 if folded & 1 else folded // 2

    def _step(self, model: Model, symbol: int) -> int:
        raise NotImplementedError

    def _plain(self, size: int, value: int) -> int:
        raise NotImplementedError


class Packer(Coder):
    """Takes values one after another and gives the number that they make."""

    def __init__(self) -> None:
        super().__init__()
        self._steps: list[tuple[int, int, int]] = []

    def packed(self) -> int:
        """The number, above zero."""
        state = 1
        for start, count, total in reversed(self._steps):
            whole, part = divmod(state, count)
            state = whole * total + start + part
        return state

    def _step(self, model: Model, symbol: int) -> int:
        self._steps.append((sum(model.counts[:symbol]), model.counts[symbol], model.total))
        return symbol

    def _plain(self, size: int, value: int) -> int:
        self._steps.append((value, 1, size))
        return value


class Unpacker(Coder):
    """Finds the values again, in the order they were packed."""

    unpacking = True

    def __init__(self, number: int) -> None:
        super().__init__()
        self._state = number

    def close(self) -> None:
        """Make sure that everything was found: what is left is what a packer begins with."""
        if self._state != 1:
            raise PackingError("something is left over")

    def _step(self, model: Model, symbol: int) -> int:
        whole, part = divmod(self._state, model.total)
        start = 0
        for found, count in enumerate(model.counts):
            if part < start + count:
                self._state = whole * count + part - start
                return found
            start += count
        raise PackingError("no symbol is there")

    def _plain(self, size: int, value: int) -> int:
        self._state, found = divmod(self._state, size)
        return found
