"""Follows a run: from what was done, measured and seen to where the boards are, and what comes next.

The state is a fold over the events of the run; undoing is leaving out the last one. README.md states the rules.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from thickset.ground.job.job import Job
from thickset.ground.job.run_events import Did, Event
from thickset.ground.notation.lengths import alike, near
from thickset.planning.passes.limits import thin_target
from thickset.planning.passes.lot import Piece, pieces_of
from thickset.planning.passes.model import Feeding, Pass
from thickset.planning.passes.planner import make_plan
from thickset.planning.passes.scale import prior
from thickset.planning.run.record import read_off
from thickset.planning.run.replan import closed, numbered, replan, replan_with
from thickset.planning.run.state import Gone, State, Trial, Verdict
from thickset.planning.run.surprises import Change, Seen, surprise

MOVED = "This reading does not fit those before. The scale was moved, or the reading is wrong. Measure again. If it was wrong, undo it."
"""Said when a reading is hardly possible by the readings before it (trade.caliper)."""

SLIP = "That is too far off the scale to be meant. Measure again."
"""Said when the piece that was to tell of the scale told nothing."""


def begin(job: Job) -> State:
    """Before the first pass. Raises ProblemsError when the job has no plan.

    >>> from thickset.ground.job.example import small_job
    >>> begin(small_job()).remaining()
    (0,)
    """
    plan = make_plan(job)
    pieces = tuple(pieces_of(job.boards, job.planer.known_cut))
    state = State(job=job, pieces=pieces, rest=plan.passes, known=prior(job), belief=prior(job))
    if plan.rest is None:
        return state
    return replace(state, rest=plan.passes[: plan.rest.after], proud=plan.rest.stop - job.target)


def follow(job: Job) -> State:
    """Where the run of a job stands after all of its events. Raises ProblemsError when the job has no plan.

    >>> from thickset.ground.job.example import small_job
    >>> len(follow(small_job()).done)
    0
    """
    state = begin(job)
    for event in job.run:
        state = after(state, event)
    return state


def after(state: State, event: Event) -> State:
    """The state after one more event; what cannot be done leaves it as it is and says so.

    >>> from thickset.ground.job.example import small_job
    >>> state = begin(small_job())
    >>> setting = state.rest[0].setting
    >>> after(state, Event("feed", setting=setting, scale=setting)).done[0].boards
    (0,)
    """
    return _at_rest(_passed_over(_HANDLERS[event.did](replace(state, said=()), event)))


def _passed_over(state: State) -> State:
    """A pass is left out when its test piece came out right and no board is thicker than that."""
    if state.awaited or not state.tries or state.remaining() or state.fed or not state.is_tested():
        return state
    said = (*state.said, "No board is thicker than that: this pass is left out.")
    return replace(state, rest=numbered(state.rest[1:], len(state.done) + 1), trials=(), said=said)


def _at_rest(state: State) -> State:
    """The first stage is through: the boards rest, and each is measured again before the second is planned."""
    if not state.proud or state.rest or state.stuck:
        return state
    awaited = tuple(piece.board for piece in state.pieces)
    return replace(state, proud=Fraction(0), awaited=awaited, trials=(), fed=(), stands=None)


def verdict_on(thickness: Fraction, wanted: Fraction, accepted: Fraction) -> Verdict:
    """What a test piece says of a setting: thickness, what was wanted, how far off a reading may be to count as right [mm].

    >>> verdict_on(Fraction("20.1"), Fraction(20), Fraction("0.1")), verdict_on(Fraction("19.8"), Fraction(20), Fraction("0.1"))
    ('right', 'thin')
    """
    if abs(thickness - wanted) <= accepted:
        return "right"
    return "thick" if thickness > wanted else "thin"


def _test(state: State, event: Event) -> State:
    verdict = verdict_on(event.thickness, event.setting, state.job.accepted)
    trial = Trial(event.setting, event.scale, event.thickness, verdict)
    mine = [one for one in state.trials if one.wanted == event.setting]
    tried = replace(_learn(state, event.thickness - event.scale), trials=(*mine, trial), stands=event.scale)
    return (
        _first_piece(tried, event, trial)
        if state.rest and state.rest[0].for_scale and state.scale_is_unknown
        else tried
    )


def _first_piece(state: State, event: Event, trial: Trial) -> State:
    """The one piece was measured that tells of the scale, a scrap or a board. The others follow, at a scale set anew if it was not right."""
    # Of boards alike the one that was measured is not told from the others: it is a scrap to the run.
    board = next((piece for piece in state.pieces if piece.count == 1 and _name(state, piece) in event.boards), None)
    if trial.verdict == "right":
        return _feed(state, replace(event, did="feed")) if board else state
    anew = replace(state, trials=())
    if state.scale_is_unknown:
        return replace(anew, said=(*state.said, SLIP))
    units = state.job.units
    off = near(abs(trial.thickness - trial.wanted), units)
    if board is None:
        said = f"It came out {off} too {trial.verdict}. Set the planer anew by that; then the boards follow."
        return replace(anew, said=(*state.said, said))
    cut = max(board.thick - trial.thickness, Fraction(0))
    moved = _through(anew, {board.board} if cut else set(), trial.thickness)
    moved = moved if moved.remaining() else closed(replace(moved, fed=(board.board,)))
    took, planned = alike([cut, board.thick - trial.wanted], units)
    said = f"Board {event.boards[0]} came out {off} too {trial.verdict}: {took} came off, not {planned}."
    if not cut:
        said = f"The knives did not touch board {event.boards[0]}: the planer opens at least {off} more than its scale reads."
    return replan(replace(moved, said=(*moved.said, f"{said} The rest is planned from that.")))


def _name(state: State, piece: Piece) -> str:
    return state.job.boards[piece.board].name


def _feed(state: State, event: Event) -> State:
    if not state.rest or event.setting != state.rest[0].setting:
        if state.awaited or not any(piece.thick > event.setting for piece in state.pieces):
            return replace(state, said=("There is no pass left to feed.",))
        state = _off_plan(state, event.setting)
    opening = state.opening()
    named = {n for n in state.remaining() if not event.boards or state.job.boards[n].name in event.boards}
    if not named:
        return replace(state, said=("No board is thicker than the planer now opens to. Nothing went through.",))
    fed = (*state.fed, *sorted(named))
    return _over(replace(_through(state, named, opening), fed=fed, stands=event.scale))


def _over(moved: State) -> State:
    """The next pass is in hand once no board waits for this one; the rest is planned anew where it opened to something else."""
    if moved.remaining():
        return moved
    wanted, later = moved.rest[0].setting, moved.rest[1:]
    finished = closed(moved)
    if abs(finished.done[-1].opening - wanted) <= moved.job.tolerance and (later or wanted == moved.goal):
        return replace(finished, rest=numbered(later, len(finished.done) + 1))
    return replan(finished)


def _through(state: State, named: set[int], opening: Fraction) -> State:
    """Boards [index] went through the pass in hand at an opening [mm]."""
    pieces = tuple(piece.after(opening) if piece.board in named else piece for piece in state.pieces)
    planed = {way.board for way in state.feedings}
    feedings = tuple(
        Feeding(len(state.done) + 1, was.board, now.placement, was.thick, was.thin, opening, was.board in planed)
        for was, now in zip(state.pieces, pieces, strict=True)
        if was.board in named
    )
    return replace(state, pieces=pieces, feedings=(*state.feedings, *feedings))


def _off_plan(state: State, setting: Fraction) -> State:
    """The pass in hand is another than the plan's: boards were fed at this setting [mm] before the plan changed."""
    state = closed(state)
    one = Pass(len(state.done) + 1, "rough", setting, state.job.planer.feeds[0], None, False, None, (), Fraction(0))
    return replace(state, rest=(one,))


def _check(state: State, event: Event) -> State:
    """A board measured after its pass tells what the planer really opened to."""
    if state.just_fed(event.setting) and state.stands is not None:
        return _check_in_hand(state, event.thickness, state.stands)
    if not state.done:
        return replace(state, said=("No board is through yet. There is nothing to measure.",))
    last, opened = state.done[-1], event.thickness
    known = replace(
        _opened(_learn(state, opened - last.scale), last.number, last.opening, opened),
        done=(*state.done[:-1], replace(last, opening=opened)),
    )
    return known if abs(opened - last.opening) <= state.job.tolerance else replan(known)


def _check_in_hand(state: State, opened: Fraction, scale: Fraction) -> State:
    """A board of the pass in hand tells of its opening [mm] at a scale [mm], as a test piece would.

    Where that is off, the pass goes on at a scale set anew, and what came out thick goes through once more. So no cut is deeper than
    the plan's, which stays.
    """
    was, wanted = state.opening(), state.rest[0].setting
    verdict = verdict_on(opened, was, state.job.tolerance)
    known = _opened(_learn(state, opened - scale), len(state.done) + 1, was, opened)
    known = replace(known, trials=(*state.tries, Trial(wanted, scale, opened, verdict, of_board=True)))
    if verdict == "right":
        return _over(known)
    off = near(abs(opened - was), state.job.units)
    thick = {piece.board for piece in known.pieces if piece.thick > wanted}
    following = "Then they go through once more." if thick.intersection(known.fed) else "Then the others follow."
    said = f"The boards that are through came out {off} too {verdict}. Set the planer anew. {following}"
    fed = tuple(n for n in known.fed if n not in thick)
    return _over(replace(known, fed=fed, said=(*known.said, said)))


def _opened(state: State, number: int, was: Fraction, opened: Fraction) -> State:
    """What went through a pass [its number] that was taken to open to `was` came out at `opened` [mm]."""
    thin_before = {way.board: way.thin for way in state.feedings if way.number == number}

    def as_it_opened(piece: Piece) -> Piece:
        """As the pass left it; a board that was fed or measured since is what it is."""
        thin = thin_before.get(piece.board)
        if thin is None or (piece.thick, piece.thin) != (was, min(thin, was)):
            return piece
        # A top that was clean before the pass had no spot above any opening since.
        return replace(piece, thick=opened, thin=min(thin, opened), top_clean=opened <= thin)

    return replace(
        state,
        pieces=tuple(as_it_opened(piece) for piece in state.pieces),
        feedings=tuple(
            feeding._replace(setting=opened) if (feeding.number, feeding.setting) == (number, was) else feeding
            for feeding in state.feedings
        ),
    )


def _measure(state: State, event: Event) -> State:
    board = _index(state, event.boards[0])
    pieces = tuple(
        replace(
            piece,
            thick=max(event.readings),
            thin=min(event.readings),
            top_clean=piece.top_clean and max(event.readings) - min(event.readings) <= state.job.tolerance,
        )
        if piece.board == board
        else piece
        for piece in state.pieces
    )
    again = state.fed and max(event.readings) > state.opening()
    fed = tuple(n for n in state.fed if n != board) if again else state.fed
    planned = replan(_back(replace(state, pieces=pieces, fed=fed), board))
    if state.awaited or not planned.rest:
        return planned
    spots = dict.fromkeys(near(spot, state.job.units, 3) for spot in (min(event.readings), max(event.readings)))
    taken = f"Board {event.boards[0]} is now {' to '.join(spots)}: the rest is planned from that."
    return replace(planned, said=(taken, *planned.said))


def _back(state: State, board: int) -> State:
    """A board that rested is measured again, or is gone: it is no longer awaited."""
    return replace(state, awaited=tuple(n for n in state.awaited if n != board))


def _remove(state: State, event: Event) -> State:
    board = _index(state, event.boards[0])
    if board not in {piece.board for piece in state.pieces}:
        return replace(state, said=(f"Board {event.boards[0]} has left the lot already.",))
    pieces = tuple(piece for piece in state.pieces if piece.board != board)
    gone = (*state.gone, Gone(board, event.why or "taken out"))
    said = (f"Board {event.boards[0]} is out of the lot.",)
    return replan(_back(replace(state, pieces=pieces, gone=gone, said=said), board))


def _retarget(state: State, event: Event) -> State:
    job = replace(state.job, target=event.thickness)
    return replan_with(state, [Change(thin_target(job), job)])


def _see(state: State, event: Event) -> State:
    board = _index(state, event.boards[0]) if event.boards else None
    feeding = state.rest[0] if state.rest else None
    if event.what is None:
        return state
    answer = surprise(event.what).answer(Seen(state.job, state.pieces, feeding, board, state.swung))
    told = replace(state, said=answer.said)
    if answer.pieces is not None and board is not None:
        return replan(replace(told, pieces=answer.pieces, swung=state.swung | {board}))
    return replan_with(told, answer.changes)


def _index(state: State, name: str) -> int:
    return next(n for n, board in enumerate(state.job.boards) if board.name == name)


def _learn(state: State, off: Fraction) -> State:
    """A reading more than 25 mm off the scale is a slip, and teaches nothing; one that cannot be, says that the scale was moved."""
    if abs(off) > 25:
        return state
    now = read_off(state.belief, [float(off)])
    if now.moved:
        said = () if state.scale_is_unknown else (MOVED,)
        state = replace(state, known=now.known, offs=(), said=(*state.said, *said))
    return replace(state, belief=now.belief, offs=(*state.offs, off), read=(*state.read, off))


_HANDLERS: dict[Did, Callable[[State, Event], State]] = {
    "test": _test,
    "feed": _feed,
    "check": _check,
    "measure": _measure,
    "remove": _remove,
    "see": _see,
    "retarget": _retarget,
    "snipe": lambda state, _: state,
}
