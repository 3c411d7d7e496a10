"""What boards are called: as they were named, and letters in order where nobody named them."""

from __future__ import annotations


def names_of(boards: object) -> list[str]:
    """Each board's name in a document (parsed JSON); letters in order for those that have none.

    >>> names_of([{"name": " B "}, {}, {}])
    ['B', 'A', 'C']
    """
    if not isinstance(boards, list):
        return []
    given = [board.get("name") if isinstance(board, dict) else None for board in boards]
    names = [" ".join(str(name).split()) if name is not None else "" for name in given]
    taken = set(names)
    letters = (name for n in range(len(boards) * 2 + 1) if (name := _letters(n)) not in taken)
    return [name or next(letters) for name in names]


def _letters(number: int) -> str:
    """A, B ... Z, AA, AB ..."""
    text = ""
    number += 1
    while number:
        number, place = divmod(number - 1, 26)
        text = chr(ord("A") + place) + text
    return text
