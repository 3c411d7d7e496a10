"""What keeps hands, eyes, ears and lungs whole at any planer: all of it, said once here and shown wherever it counts.

All of it stands before the first feed of a run, on the sheet, in the text and in README; on the plan it is one line that
unfolds. The unit tests hold README to this list.
"""

from __future__ import annotations

from typing import NamedTuple

from thickset.ground.job.job import Job

HEADING = "At the machine"

LINE = "No gloves. Eyes, ears and lungs protected. Stand aside. Hands out."
"""The cautions in a line."""

WORKSAFE = "WorkSafe New Zealand, thickness planers"
CALIFORNIA = "California Code of Regulations, Title 8, section 4318"
TENNESSEE = "University of Tennessee, shop safety plan, section 17.4.2, planers"
ALABAMA = "University of Alabama, shop rules"
MAKERSPACE = "rules of a makerspace, MakeIt Labs, thickness planer"
CLUB = "Champaign Woodworkers, safe operating procedures, thickness planer"
IARC = "IARC: wood dust, Group 1; OSHA, NIOSH, ACGIH: limits that differ by wood"
PRACTICE = "common practice, no source"


class Caution(NamedTuple):
    """One thing to keep to, and where it is from."""

    text: str
    source: str


ALL = (
    Caution(
        "The machine's manual, local codes and qualified instruction come first. This plan comes after them.", PRACTICE
    ),
    Caution("No gloves, no loose sleeves, no cords, no rings. Tie long hair back.", f"{ALABAMA}; {MAKERSPACE}"),
    Caution(
        "Protect eyes, ears and lungs. The dust of some woods harms more than that of others.", f"{WORKSAFE}; {IARC}"
    ),
    Caution("Switch the dust collection on before the first board. Else shavings are pressed into the face.", PRACTICE),
    Caution("The face that rides the bed must be flat: joint it first.", CLUB),
    Caution("Feed no board shorter than the machine's shortest.", f"{WORKSAFE}; {MAKERSPACE}"),
    Caution("No loose knots, no metal, no grit, no paint, no glue squeeze-out.", f"{TENNESSEE}; {CLUB}"),
    Caution("No end grain, no cross grain, no board that is wider than it is long.", PRACTICE),
    Caution(
        "One board at a time, unless the manual allows more. A thinner one beside a thicker one can be thrown.",
        f"{CALIFORNIA}; {WORKSAFE}",
    ),
    Caution(
        "Stand aside of the line of throw, at both ends: kickback throws boards and splinters.",
        f"{WORKSAFE}; {MAKERSPACE}",
    ),
    Caution(
        "Keep fingers clear of the rollers and never under the board. Let go when the rollers take it.",
        f"{TENNESSEE}; {MAKERSPACE}",
    ),
    Caution("Never reach in. Never stoop to look in.", CLUB),
    Caution(
        "Before you clear anything, switch off, let the cutterhead stop and lock out the power.",
        f"{ALABAMA}; {TENNESSEE}",
    ),
)

CAUTIONS = tuple(one.text for one in ALL)

ALIKE = "Boards entered as one can differ: any that is already under the setting waits too."

END_1 = (
    "End 1 leads on the first pass. Choose it by the grain: with face B up, the lines on the edge rise from end 1 towards end 2. "
    "Then the knives press the grain down and do not lift it."
)

MARKING = (
    "Mark every board on its end grain, never on a face. Face A is jointed (UK: surfaced) and rides the bed first. Face B is the other.",
    END_1,
    "Flip end over end: the other face up and the other end first.",
)


def handling(job: Job) -> tuple[str, ...]:
    """What to know about the boards before the first pass.

    >>> from thickset.ground.job.example import small_job
    >>> len(handling(small_job())) - len(MARKING)
    0
    """
    uneven = any(board.count > 1 and board.thick > board.thin for board in job.boards)
    return (*MARKING, ALIKE) if uneven else MARKING
