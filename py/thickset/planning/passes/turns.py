"""The ways to turn a board between passes: a group of four.

A board on the bed has three axes: its length, along which it is fed; its width; and the vertical, along its
thickness. A half turn about any one of them puts it back on the bed, flat and in line with the feed. With leaving it
as it lies, these are all the ways to place it again, and any two of them after one another make one of the four.

The grain seldom runs quite level: looked at from its edge, it climbs towards one end. Whether the knives, which work
from above, meet it rising or falling is the run of the grain against the knives. It depends on face and end together.

Source: geometry. The unit tests prove it with rotation matrices.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Literal

Face = Literal["A", "B"]
End = Literal[1, 2]
Axis = Literal["length", "width", "vertical"]


class Turn(Enum):
    """One of the four ways to place a board again.

    >>> Turn.FLIPPED.swaps_faces, Turn.FLIPPED.swaps_ends, Turn.FLIPPED.keeps_grain
    (True, True, True)
    >>> Turn.ROLLED_OVER.keeps_grain, Turn.SWUNG_ROUND.keeps_grain
    (False, False)
    """

    AS_IT_LIES = "as it lies"
    FLIPPED = "flipped end over end"
    ROLLED_OVER = "rolled over"
    SWUNG_ROUND = "swung round"

    @property
    def axis(self) -> Axis | None:
        """The axis of the board that the half turn is about; None for a board left as it lies.

        >>> Turn.FLIPPED.axis
        'width'
        """
        return _AXIS[self]

    @property
    def swaps_faces(self) -> bool:
        """Whether the other face is up afterwards: so for a half turn about a level axis.

        >>> [turn.value for turn in Turn if turn.swaps_faces]
        ['flipped end over end', 'rolled over']
        """
        return self.axis in ("width", "length")

    @property
    def swaps_ends(self) -> bool:
        """Whether the other end leads afterwards: so for a half turn about an axis across the feed.

        >>> [turn.value for turn in Turn if turn.swaps_ends]
        ['flipped end over end', 'swung round']
        """
        return self.axis in ("width", "vertical")

    @property
    def keeps_grain(self) -> bool:
        """Whether the knives then meet the grain as before: so if faces and ends are both swapped, or neither.

        >>> [turn.value for turn in Turn if turn.keeps_grain]
        ['as it lies', 'flipped end over end']
        """
        return self.swaps_faces == self.swaps_ends

    def then(self, after: Turn) -> Turn:
        """The one turn that does the same as this one and `after` it.

        >>> Turn.FLIPPED.then(Turn.ROLLED_OVER)
        <Turn.SWUNG_ROUND: 'swung round'>
        >>> Turn.FLIPPED.then(Turn.FLIPPED)
        <Turn.AS_IT_LIES: 'as it lies'>
        """
        faces = self.swaps_faces != after.swaps_faces
        ends = self.swaps_ends != after.swaps_ends
        return next(turn for turn in Turn if (turn.swaps_faces, turn.swaps_ends) == (faces, ends))


_AXIS: dict[Turn, Axis | None] = {
    Turn.AS_IT_LIES: None,
    Turn.FLIPPED: "width",
    Turn.ROLLED_OVER: "length",
    Turn.SWUNG_ROUND: "vertical",
}


@dataclass(frozen=True)
class Placement:
    """How a board lies before the planer: the face that is up, and the end that leads."""

    up: Face
    leads: End

    def turned(self, turn: Turn) -> Placement:
        """How the board lies after a turn.

        >>> FIRST_PLACEMENT.turned(Turn.FLIPPED)
        Placement(up='A', leads=2)
        >>> FIRST_PLACEMENT.turned(Turn.ROLLED_OVER)
        Placement(up='A', leads=1)
        """
        up: Face = self.up
        leads: End = self.leads
        if turn.swaps_faces:
            up = "A" if up == "B" else "B"
        if turn.swaps_ends:
            leads = 2 if leads == 1 else 1
        return Placement(up, leads)

    def turn_to(self, other: Placement) -> Turn:
        """The turn that brings the board from this placement to another.

        >>> FIRST_PLACEMENT.turn_to(Placement(up="A", leads=2))
        <Turn.FLIPPED: 'flipped end over end'>
        """
        return next(turn for turn in Turn if self.turned(turn) == other)


FIRST_PLACEMENT = Placement(up="B", leads=1)
"""How every board goes in first: its jointed face A on the bed, face B to the knives, end 1 leading."""
