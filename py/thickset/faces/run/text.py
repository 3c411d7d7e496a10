"""What comes next in a run as plain text, for a terminal."""

from __future__ import annotations

from thickset.faces.plan.moisture import AGAIN, REST, THROUGH
from thickset.faces.run.beginning import before_the_first_feed_text
from thickset.faces.run.trying import alone
from thickset.faces.words import words
from thickset.faces.words.lines import wrapped
from thickset.planning.passes.lot import Piece
from thickset.planning.passes.model import Pass
from thickset.planning.passes.scale import ScaleSetting
from thickset.planning.run.next_step import Step, next_step, saving_target
from thickset.planning.run.state import State
from thickset.planning.stock.leaving import butted_now


def run_text(state: State) -> str:
    """The next thing to do, where the boards stand, and what was said last.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> lines = run_text(begin(small_job())).splitlines()
    >>> lines[0], next(line for line in lines if line.startswith("Pass"))
    ('At the machine', 'Pass 1 of 4, rough: set the planer to 23 mm.')
    """
    step = next_step(state)
    lines = (
        [*_at_work(state, step, step.one)] if step.one else _resting(state) if state.awaited else [_ended(state, step)]
    )
    if step.one and not state.job.run:
        lines = [*before_the_first_feed_text(state), "", *lines]
    lines += [*_under(state), *state.said, "", "The boards"]
    lines += [f"  {_board(piece, state)}" for piece in state.pieces]
    lines += [f"  {state.job.boards[gone.board].name}: gone, {gone.why}" for gone in state.gone]
    return "\n".join(wrapped(line, rest="    ") if line else "" for line in lines)


def _at_work(state: State, step: Step, one: Pass) -> list[str]:
    job, units = state.job, state.job.units
    way = step.way or ScaleSetting(one.setting, one.setting)
    read = words.setting(way.setting, units) if way.is_bare else " ".join(words.reading(way.scale, job)).rstrip()
    of = len(state.done) + len(state.rest)
    before = " before the rest" if state.proud else ""
    lines = [f"Pass {one.number} of {of}{before}, {one.stage}: set the planer to {read}."]
    if not way.is_bare:
        lines.append(f"It then opens to {words.setting(way.opens, units)}.")
    if step.turns:
        handle = words.direction(job.planer.moves, closer=step.turns > 0)
        lines.append(f"From where it stands: {words.turns(step.turns)}, {handle}.")
    if step.opens:
        lines.append("Open it a turn further, then close it to the reading: that takes up the slack of the screw.")
    lines.append(f"Feed {words.feed(one.feed, units)}.")
    if step.first_board is not None:
        thick = words.length(step.test_piece_least, units)
        lines.append(
            f"{words.FIRST_PIECE} Take a scrap as thick as the lot, {thick}. No scrap at hand? {alone(step.first_board, state)}"
        )
    elif step.kind == "test":
        enough = f"; {step.test_pieces} will do 99 times in 100" if step.test_pieces else ""
        lines.append(f"Run a test piece of at least {words.length(step.test_piece_least, units)} first{enough}.")
    lines += words.butted(butted_now(state), len(step.remaining), job)
    pieces = {piece.board: piece for piece in state.pieces}
    for board in step.remaining:
        lies = pieces[board].next_placement()
        lines.append(f"  {words.board(job.boards[board])}: face {lies.up} up, end {lies.leads} first")
    return lines


def _resting(state: State) -> list[str]:
    names = words.listed([words.board(state.job.boards[n]) for n in state.awaited])
    return [f"{THROUGH} {REST}", AGAIN, f"Still to be measured after the rest: {names}."]


def _ended(state: State, step: Step) -> str:
    if step.kind == "stuck":
        return (
            "There is no plan from here: take the last entry back, take a board out, or change what stands in the way."
        )
    if not state.pieces:
        return "No board is left in the lot."
    return "Done: every board is through its last pass." if state.done else "Done: no board is thicker than the target."


def _under(state: State) -> list[str]:
    job = state.job
    under = [piece for piece in state.pieces if piece.thin < job.target - job.tolerance]
    saving = saving_target(state)
    if not under:
        return []
    rescue = f" At a target of {words.setting(saving, job.units)} no board is short." if saving else ""
    lines = words.under_target(((job.boards[p.board].name, job.target - p.thin) for p in under), job.units)
    return [*lines[:-1], lines[-1] + rescue]


def _board(piece: Piece, state: State) -> str:
    units = state.job.units
    thin = f" to {words.length(piece.thin, units)}" if piece.thin != piece.thick else ""
    return f"{words.board(state.job.boards[piece.board])}: {words.length(piece.thick, units)}{thin}"
