"""Names of boards where there is no room for long ones: each as short as it can be told from all the others of its lot."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from functools import lru_cache

from thickset.ground.job.job import Job

MOST = 11
"""Characters of a name that stand below its column of the picture, on a tag and on a key."""

Way = Callable[[Sequence[str], int], list[str]]


def short_names(job: Job, most: int = MOST) -> tuple[str, ...]:
    """The names of a lot, in its order, those cut short that are longer than so many [characters].

    >>> from thickset.ground.job.example import small_job
    >>> short_names(small_job())
    ('A', 'B')
    """
    return shortened(tuple(board.name for board in job.boards), most)


@lru_cache(maxsize=64)
def shortened(names: tuple[str, ...], most: int) -> tuple[str, ...]:
    """Names, none longer than so many [characters] and no two alike. A long one takes the first way that tells it from all others.

    >>> shortened(("A", "Shelf 1 left side", "Shelf 12 left side"), 11)
    ('A', 'Shelf 1…', 'Shelf 12…')
    >>> shortened(("Upper cabinet shelf 1", "Upper cabinet shelf 12"), 11)
    ('…shelf 1', '…shelf 12')
    >>> shortened(("Left door 1 of stiles", "Left door 2 of stiles", "Seitenwand-links"), 11)
    ('…1…', '…2…', 'Seite…links')
    """
    said = {n: name for n, name in enumerate(names) if len(name) <= most}
    for way in (_head, _tail, _middle, _both_ends):
        open_ = [n for n in range(len(names)) if n not in said]
        tried = dict(zip(open_, way([names[n] for n in open_], most), strict=True))
        often = Counter([*tried.values(), *said.values()])
        said |= {n: short for n, short in tried.items() if short and often[short] == 1 and len(short) <= most}
    # What no way tells apart is told by its place in the lot.
    return tuple(said.get(n) or _numbered(name, n + 1, most) for n, name in enumerate(names))


def _head(names: Sequence[str], most: int) -> list[str]:
    """As many of the first words as there is room for."""
    return [_fitting(name.split(" "), most, lambda words: f"{' '.join(words)}…") for name in names]


def _tail(names: Sequence[str], most: int) -> list[str]:
    return [_fitting(name.split(" ")[::-1], most, lambda words: f"…{' '.join(words[::-1])}") for name in names]


def _fitting(words: Sequence[str], most: int, said: Callable[[Sequence[str]], str]) -> str:
    fits = (said(words[:count]) for count in range(len(words) - 1, 0, -1))
    return next((short for short in fits if len(short) <= most), "")


def _middle(names: Sequence[str], most: int) -> list[str]:
    """Without the words that all that begin with the same word have in common at both ends."""
    alike: dict[str, list[list[str]]] = {}
    for name in names:
        alike.setdefault(name.split(" ")[0], []).append(name.split(" "))
    return [_between(name.split(" "), alike[name.split(" ")[0]]) for name in names]


def _between(words: Sequence[str], alike: Sequence[Sequence[str]]) -> str:
    shortest = min(map(len, alike))
    first = next((n for n in range(shortest) if len({one[n] for one in alike}) > 1), 0)
    last = next((n for n in range(shortest - first) if len({one[-1 - n] for one in alike}) > 1), 0)
    return f"…{' '.join(words[first : len(words) - last])}…" if first and last else ""


def _both_ends(names: Sequence[str], most: int) -> list[str]:
    half = (most - 1) // 2
    return [f"{name[:half]}…{name[-half:]}" for name in names]


def _numbered(name: str, place: int, most: int) -> str:
    number = f"…#{place}"
    return f"{name[: most - len(number)]}{number}"
