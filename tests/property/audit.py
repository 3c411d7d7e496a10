"""Holds a plan document against rules 1 to 10, one by one; shares nothing with the product."""

import itertools
from dataclasses import replace
from fractions import Fraction

from independent import INCH, Board, Lot, last_settings, levels, read

CLOSE = 1e-9


def near(one: float, other: Fraction | float) -> bool:
    return abs(one - float(other)) <= CLOSE * max(1.0, abs(float(other)))


def exact_settings(lot: Lot, plan: dict) -> list[Fraction]:
    """The exact settings behind the plan's millimetres; rule 1 tells what they may be."""
    possible = [*levels(lot), *last_settings(lot)]
    settings = []
    for row in plan["passes"]:
        found = [setting for setting in possible if near(row["setting_mm"], setting)]
        assert len(found) == 1, f"{row['setting_mm']} mm is no setting of this lot"
        settings += found
    return settings


def audit(job: dict, plan: dict) -> None:
    """Fail with the rule that the plan breaks."""
    lot = read(job)
    settings = exact_settings(lot, plan)
    _settings(lot, settings)
    feeds = _passes(lot, settings, plan["passes"])
    _order_of_work(lot, settings, plan["passes"])
    _minutes(lot, settings, feeds, plan)
    _turns_of_handle(job, lot, settings, plan["passes"])
    _outcomes(lot, settings, plan)


def _settings(lot: Lot, settings: list[Fraction]) -> None:
    last = list(last_settings(lot))
    assert settings[len(settings) - len(last) :] == last, "rule 1: the last settings"
    assert settings == sorted(set(settings), reverse=True), "rule 1: settings come down"
    for high, low in itertools.pairwise(settings):
        assert high - low >= lot.lightest, "rule 4"


def _passes(lot: Lot, settings: list[Fraction], rows: list[dict]) -> list[Fraction]:
    """Who is fed, the cuts, their limits, and the feeds; returns the exact feeds."""
    now = {board.name: board.thick for board in lot.boards}
    feeds = []
    for number, (setting, row) in enumerate(zip(settings, rows, strict=True), start=1):
        assert row["number"] == number
        assert row["stage"] == ("finish" if number > len(settings) - 2 else "rough"), "rule 1: stages"
        fed = [board for board in lot.boards if now[board.name] > setting]
        assert [entry["board"] for entry in row["fed"]] == [board.name for board in fed], "rule 2"
        cuts = {board.name: now[board.name] - setting for board in fed}
        at = _feed(lot, [(board, cuts[board.name]) for board in fed], row["stage"] == "finish")
        assert at is not None, "rule 3: a cut is over its limit at every feed"
        assert near(row["feed_mm_per_s"], at), "rule 6"
        feeds.append(at)
        if lot.marks_a_second is None:
            assert row["marks_per_inch"] is None
        else:
            assert near(row["marks_per_inch"], lot.marks_a_second * INCH / at), "marks per inch"
        for board, entry in zip(fed, row["fed"], strict=True):
            cut = cuts[board.name]
            assert near(entry["cut_mm"], cut), "rule 3: cut"
            assert cut <= lot.most, "rule 3"
            if lot.known_cut is None:
                assert entry["load"] is None
            else:
                load = cut / _load_limit(lot, board, at)
                assert load <= 1, "rule 5"
                assert near(entry["load"], load), "load"
            assert entry["clean"] == (setting <= board.thin), "clean"
            now[board.name] = setting
    return feeds


def _load_limit(lot: Lot, board: Board, at: Fraction) -> Fraction:
    width, depth, feed, gravity = lot.known_cut
    limit = depth * (width / board.width) * (feed / at)
    return limit * gravity / board.gravity if gravity and board.gravity else limit


def _feed(lot: Lot, cuts: list[tuple[Board, Fraction]], finish: bool) -> Fraction | None:
    """Rule 6, word by word."""
    keeping = [
        at
        for at in lot.feeds
        if all(cut <= lot.most and (not lot.known_cut or cut <= _load_limit(lot, b, at)) for b, cut in cuts)
    ]
    if not keeping:
        return None
    if lot.marks_a_second is None:
        return min(keeping) if finish else max(keeping)
    wanted = lot.finish_marks if finish else lot.rough_marks
    reaching = [at for at in keeping if lot.marks_a_second * INCH / at >= wanted]
    return max(reaching) if reaching else min(keeping)


def _order_of_work(lot: Lot, settings: list[Fraction], rows: list[dict]) -> None:
    """Rule 7: the same way up until the top is clean, then end for end before every pass."""
    for board in lot.boards:
        way, top_clean = ("B", 1), False
        for setting, row in zip(settings, rows, strict=True):
            entries = [entry for entry in row["fed"] if entry["board"] == board.name]
            for entry in entries:
                if top_clean:
                    way = {"B": "A", "A": "B"}[way[0]], 3 - way[1]
                assert (entry["up"], entry["leads"]) == way, "rule 7"
                top_clean = top_clean or setting <= board.thin


def _minutes(lot: Lot, settings: list[Fraction], feeds: list[Fraction], plan: dict) -> None:
    total = Fraction(0)
    for setting, at, row in zip(settings, feeds, plan["passes"], strict=True):
        near_target = setting <= lot.target + lot.near
        for_scale = row["number"] == 1 and not near_target and not lot.scale_known
        assert row["checked"] == (near_target or for_scale), "rule 8: a piece is measured first"
        assert ("for_scale" in row) == for_scale, "rule 8: the piece that tells of the scale"
        seconds = lot.set_seconds + (lot.measure_seconds if near_target or for_scale else 0)
        for board in lot.boards:
            if board.thick > setting:
                seconds += board.count * (lot.handle_seconds + board.length / at)
        assert near(row["minutes"], seconds / 60), "rule 8: minutes of a pass"
        total += seconds
    assert near(plan["minutes"], total / 60), "rule 8: minutes"


def _turns_of_handle(job: dict, lot: Lot, settings: list[Fraction], rows: list[dict]) -> None:
    known = "turn" in job.get("planer", {})
    for place, row in enumerate(rows):
        if place == 0 or not known:
            assert row["turns"] is None, "turns"
        else:
            assert near(row["turns"], (settings[place - 1] - settings[place]) / lot.turn), "turns"


def _outcomes(lot: Lot, settings: list[Fraction], plan: dict) -> None:
    assert [entry["board"] for entry in plan["boards"]] == [board.name for board in lot.boards]
    for board, entry in zip(lot.boards, plan["boards"], strict=True):
        short = max(lot.target - board.thin, Fraction(0))
        assert entry["outcome"] == _outcome(lot, settings, board), "rule 10"
        assert near(entry["short_mm"], short), "rule 10: short by"
        taken = {"A": 0.0, "B": 0.0}
        for row in plan["passes"]:
            for fed in row["fed"]:
                if fed["board"] == board.name:
                    taken[fed["up"]] += fed["cut_mm"]
        for side in ("A", "B"):
            assert near(entry["taken_mm"][side], taken[side]), "taken"
        assert near(sum(taken.values()), max(board.thick - lot.target, Fraction(0))), "all of it is taken"


def _outcome(lot: Lot, settings: list[Fraction], board: Board) -> str:
    if board.thick <= lot.target:
        return "untouched"
    if board.thin < lot.target:
        return "short"
    if len(settings) > 1 and board.thin >= settings[-2]:
        # A board that is the second-last setting thick all over waits there, and goes through once only.
        return "both faces" if board.thick > settings[-2] else "one face"
    return "one face"


def both_faces_at(lot: Lot, target: Fraction) -> int:
    """How many boards another target would leave planed on both faces."""
    other = replace(lot, target=target)
    settings = list(last_settings(other))
    return sum(board.count for board in lot.boards if _outcome(other, settings, board) == "both faces")
