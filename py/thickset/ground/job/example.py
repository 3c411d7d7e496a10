"""A small lot that the worked examples of the docstrings share; invented."""

from __future__ import annotations

from thickset.ground.job import document
from thickset.ground.job.job import Job


def small_job() -> Job:
    """Two boards of 24 and 23 mm to a target of 20 mm.

    >>> [board.name for board in small_job().boards]
    ['A', 'B']
    """
    boards = [
        {"name": "A", "readings": ["24", "23.4"], "width": "150", "length": "900"},
        {"name": "B", "readings": ["22.6", "22.6"], "width": "120", "length": "900"},
    ]
    result = document.read({"thickset": 1, "units": "mm", "target": {"thickness": "20"}, "boards": boards})
    if result.job is None:
        raise AssertionError(result.problems)
    return result.job
