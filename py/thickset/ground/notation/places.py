"""Where on a board a reading was taken: a simple grid, seen with face B up and end 1 on the left hand."""

from __future__ import annotations

from typing import Literal, NamedTuple, get_args

Along = Literal["end 1", "middle", "end 2"]
Across = Literal["left", "center", "right"]

ALONG: tuple[Along, ...] = get_args(Along)
ACROSS: tuple[Across, ...] = get_args(Across)


class Place(NamedTuple):
    """A spot of the grid: along the board from end 1 to end 2, across it looking from end 1 to end 2.

    >>> Place("end 1", "left").words
    'end 1, left'
    """

    along: Along
    across: Across

    @property
    def name(self) -> str:
        """The spot as a label names it.

        >>> Place("middle", "left").name
        'Middle, left'
        """
        return f"{self.along.capitalize()}, {self.across}"

    @property
    def words(self) -> str:
        """The spot as one says it."""
        return f"{'the middle' if self.along == 'middle' else self.along}, {self.across}"


def read_place(text: str) -> Place:
    """A spot as it is written in a document [no unit]; raises ValueError for any other text.

    >>> read_place("end 1 left"), read_place("Middle, centre")
    (Place(along='end 1', across='left'), Place(along='middle', across='center'))
    """
    along, _, across = " ".join(text.casefold().replace(",", " ").split()).rpartition(" ")
    across = across.replace("centre", "center")
    if along not in ALONG or across not in ACROSS:
        raise ValueError("it is no spot of the board")
    return Place(along, across)
