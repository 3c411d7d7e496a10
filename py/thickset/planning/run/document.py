"""The state of a run and its next step as plain JSON values."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from thickset.ground.notation.lengths import near
from thickset.planning.passes.document import pass_document
from thickset.planning.passes.model import Pass
from thickset.planning.passes.scale import set_by_scale
from thickset.planning.run.next_step import certainty, next_step, saving_target
from thickset.planning.run.state import State


def to_document(state: State) -> dict[str, Any]:
    """Where the run stands and what is next: lengths in mm as numbers, settings in words too.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> to_document(begin(small_job()))["step"]["kind"]
    'test'
    """
    boards, units = state.job.boards, state.job.units
    step = next_step(state)
    sure = certainty(state)
    saving = saving_target(state)
    return {
        "step": {
            "kind": step.kind,
            "pass": pass_document(state.job, step.one) if step.one else None,
            "next": _to_come(state, step.following) if step.following else None,
            "scale_mm": _number(step.scale),
            "scale": None if step.scale is None else near(step.scale, units),
            "turns": _number(step.turns),
            "opens": step.opens,
            "remaining": [boards[n].name for n in step.remaining],
            "test_pieces": step.test_pieces,
            "test_piece_least_mm": _number(step.test_piece_least),
            "aim_mm": _number(step.aim),
            **({} if step.first_board is None else {"first_board": boards[step.first_board].name}),
        },
        "scale": {
            "readings": sure.readings,
            "offset_mm": round(sure.offset, 4),
            "low_mm": round(sure.low, 4),
            "high_mm": round(sure.high, 4),
            "spread_mm": round(sure.spread, 4),
            "chance_next_is_right": round(sure.hit, 4),
        },
        "tests": [
            {"scale_mm": _number(trial.scale), "thickness_mm": _number(trial.thickness), "verdict": trial.verdict}
            for trial in state.tries
        ],
        "done": [
            {
                "number": one.number,
                "wanted_mm": _number(one.wanted),
                "opening_mm": _number(one.opening),
                "boards": [boards[n].name for n in one.boards],
            }
            for one in state.done
        ],
        "boards": [
            {
                "board": boards[piece.board].name,
                "thick_mm": _number(piece.thick),
                "thin_mm": _number(piece.thin),
                "up": piece.placement.up,
                "leads": piece.placement.leads,
                "top_clean": piece.top_clean,
                "under_mm": _number(max(state.job.target - piece.thin, Fraction(0))),
            }
            for piece in state.pieces
        ],
        "gone": [{"board": boards[gone.board].name, "why": gone.why} for gone in state.gone],
        "saving_target_mm": _number(saving),
        "rest": [_to_come(state, one) for one in state.rest],
        "said": list(state.said),
        **_resting(state),
    }


def _to_come(state: State, one: Pass) -> dict[str, Any]:
    """A pass to come, as it is set by what is known of the scale now."""
    return pass_document(state.job, one, set_by_scale(state.job, state.belief, one.setting))


def _resting(state: State) -> dict[str, Any]:
    """Of a job in two stages: where the first one stops while it lasts, the boards to be measured again while they rest."""
    if state.proud:
        return {"stage": 1, "stop_mm": _number(state.goal)}
    return {"stage": 1, "resting": [state.job.boards[n].name for n in state.awaited]} if state.awaited else {}


def _number(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
