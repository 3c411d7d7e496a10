"""Small lots for the worked examples of this floor."""

from __future__ import annotations

from thickset.ground.job.document import read
from thickset.ground.job.job import ProblemsError
from thickset.planning.passes.model import Plan
from thickset.planning.passes.planner import make_plan


def lot(*boards: str, target: str = "3/4") -> Plan:
    """The plan of boards given by their readings [in], named A, B, C ..., for a target [in].

    >>> [len(one.fed) for one in lot("7/8", "13/16").passes]
    [1, 2, 2]
    """
    result = read(
        {
            "thickset": 1,
            "target": {"thickness": target},
            "boards": [{"readings": board.split(), "width": "6", "length": "40"} for board in boards],
            "planer": {"turn": "1/16"},
        }
    )
    if result.job is None:
        raise ProblemsError(result.problems)
    return make_plan(result.job)
