"""What to keep in mind at any planer, said once with every plan.

Sources: WorkSafe New Zealand, thickness planers (stand out of the line of throw; ear, eye and dust protection; know the
machine's shortest board; a thinner board between two thicker ones can be thrown). California Code of Regulations,
Title 8, section 4318 (several boards at once only with sectional infeed rolls or anti-kickback devices).
"""

from __future__ import annotations

from thickset.ground.job.job import Job

HEADING = "At the machine"

CAUTIONS = (
    "The machine's manual, local codes and qualified instruction come first; this plan comes after them.",
    "Stand out of the line of throw. Never reach in.",
    "Eyes, ears and dust: protect all three.",
    "Know the machine's shortest board, and feed none shorter.",
    "One board at a time, unless the manual allows more: a thinner one beside a thicker one can be thrown.",
)

ALIKE = "Of boards entered as one, those already under the setting wait too."

MARKING = (
    "Mark every board first: side A is the jointed face and rides the bed first, B is the other; end 1 leads on the first pass.",
    "End for end: the other side up and the other end first.",
)


def handling(job: Job) -> tuple[str, ...]:
    """What to know about the boards before the first pass.

    >>> from thickset.ground.job.example import small_job
    >>> len(handling(small_job())) - len(MARKING)
    0
    """
    uneven = any(board.count > 1 and board.thick > board.thin for board in job.boards)
    return (*MARKING, ALIKE) if uneven else MARKING
