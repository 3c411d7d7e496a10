"""The fewest minutes of a larger lot, by a mixed-integer model; shares nothing with the product either.

One variable for each setting says whether it is used, one for each setting and feed whether it is used at that feed.
A cut is kept within its limit by asking for a used setting not further above than the limit, so no order of passes
and no cut appears in the model: it is not the shortest path that the product looks for.
"""

from fractions import Fraction

import numpy as np
from independent import Answer, Lot, last_settings, levels, read, run
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

MOST_NODES = 200


class TooHardError(Exception):
    """A model that takes the solver too long to be worth it in a test."""


def fewest_minutes(job: dict) -> Answer | None:
    lot = read(job)
    last = last_settings(lot)
    settings = [*levels(lot), *last]
    if not settings:
        return Answer((), (), Fraction(0), ())
    columns, costs, rows = _model(lot, settings)
    used = len(settings)
    entries = [(r, c, value) for r, (terms, _, _) in enumerate(rows) for c, value in terms]
    r, c, values = zip(*entries, strict=True)
    matrix = coo_array((values, (r, c)), shape=(len(rows), used + len(columns))).tocsr()
    fixed = np.array([0] * (used - len(last)) + [1] * len(last) + [0] * len(columns))
    solved = milp(
        c=costs,
        constraints=LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
        bounds=Bounds(fixed, np.ones(used + len(columns))),
        integrality=np.ones(used + len(columns)),
        options={"mip_rel_gap": 0.0, "node_limit": MOST_NODES},
    )
    if "limit" in solved.message.lower():
        raise TooHardError
    if solved.status == 2:  # proved to have no solution
        return None
    assert solved.status == 0, solved.message
    chosen = tuple(setting for setting, value in zip(settings, solved.x, strict=False) if value > 0.5)
    passes = run(lot, chosen)
    assert passes is not None, "the model let a pass through that breaks a limit"
    seconds = sum((fed.seconds for fed in passes), lot.seconds_for_scale(chosen[0]))
    return Answer(chosen, tuple(fed.feed for fed in passes), seconds / 60, ())


def _reach(lot: Lot, setting: Fraction, at: Fraction) -> Fraction:
    """How high the setting before may have been, for all boards to keep their limits; if there was one."""
    reach = lot.thick
    for board in lot.boards:
        limit = lot.limit(board, at)
        if board.thick > setting + limit:
            reach = min(reach, setting + limit)
    return reach


def _model(lot: Lot, settings: list[Fraction]) -> tuple[list, list[float], list]:
    """Columns of setting and feed, costs in seconds, and rows as (terms, least, most)."""
    columns: list[tuple[int, Fraction]] = []
    costs: list[float] = []
    feed_costs: list[float] = []
    rows: list[tuple[list[tuple[int, float]], float, float]] = []
    for place, setting in enumerate(settings):
        fed = [board for board in lot.boards if board.thick > setting]
        seconds = lot.set_seconds + sum(board.count for board in fed) * lot.handle_seconds
        if setting <= lot.target + lot.near:
            seconds += lot.measure_seconds
        costs.append(float(seconds))
        feeds = lot.feeds_tried(finish=place >= len(settings) - 2)
        faster = []
        for at in feeds:
            column = len(settings) + len(columns)
            columns.append((place, at))
            feed_costs.append(float(sum(board.count * board.length for board in fed) / at))
            faster.append((column, -1.0))
            reach = _reach(lot, setting, at)
            if reach < lot.thick:
                above = [(j, 1.0) for j in range(place) if settings[j] <= reach]
                rows.append(([*above, *faster], 0.0, np.inf))
        rows.append(([(place, 1.0), *faster], 0.0, 0.0))
        thickest = max(lot.boards, key=lambda board: board.thick)
        farthest = setting + lot.limit(thickest, lot.feeds[0])
        if farthest < lot.thick:  # used or not, there is a setting not far above, or the cut below is too deep
            rows.append(([(j, 1.0) for j in range(place) if settings[j] <= farthest], 1.0, np.inf))
        close = [(j, 1.0) for j in range(place + 1) if settings[j] - setting < lot.lightest]
        if len(close) > 1:
            rows.append((close, -np.inf, 1.0))
    return columns, costs + feed_costs, rows
