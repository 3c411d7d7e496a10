"""The print sheet: the whole plan on one page for up to 20 boards, to hang at the machine and tick off.

The passes are a table with a column for every board. A cell says how the board goes in, ringed when it is turned first,
and has a box to tick. More boards than fit side by side are listed pass by pass, on as many pages as it takes.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from thickset.faces.picture.columns import columns
from thickset.faces.picture.legend import legend
from thickset.faces.picture.lot import drawing
from thickset.faces.plan import summary
from thickset.faces.plan.boards import outcome_words
from thickset.faces.plan.cautions import ALIKE, CAUTIONS, HEADING, handling
from thickset.faces.plan.order import Station, stations
from thickset.faces.plan.schedule import HOW_WORDS
from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el, join
from thickset.faces.words.short_names import short_names
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Outcome, Plan, Rest
from thickset.planning.passes.scale import ScaleSetting
from thickset.planning.stock.leaving import butted_if_wanted

SIDE_BY_SIDE = 20
"""Boards that have room for a column each on a page of Letter or A4."""

LONGEST_NAME = 12
"""Characters of a name that stand upright over a column."""
LONGEST_IN_A_LINE = 30
"""Characters of a name that begins a line."""

FEW_PASSES = 8
"""Passes that have room for tall rows."""
TWO_COLUMNS = 12
"""More passes than that of a few boards stand in two tables side by side."""
FEW_BOARDS = 2
NO_PICTURE = 16
"""More passes than that of many boards leave no room for the picture; half as many again make it too fine to read anyway."""

TICK = el("span", class_="box")
BLANK = el("span", class_="blank")


def sheet(plan: Plan, code: Markup = EMPTY) -> Markup:
    """The print sheet of a plan; `code` is a picture that leads back to the job, when there is one.

    >>> from thickset.faces.words.example import lot
    >>> sheet(lot("7/8", "13/16")).count('class="box"')
    8
    """
    order = stations(plan)
    boards = plan.job.boards
    rows = len(order) + (2 if plan.rest else 0)
    # The order in which boards are butted stands in every row.
    tall = FEW_PASSES // 2 if plan.job.cutting.ends == "butted" else FEW_PASSES
    tight = rows > tall and len(boards) <= SIDE_BY_SIDE
    most = NO_PICTURE if len(boards) > SIDE_BY_SIDE // 2 else NO_PICTURE * 3 // 2
    full = tight and rows > most
    below = (
        (_boards(plan, 0, 2), _boards(plan, 1, 2))
        if full
        else (_picture(order, plan), _results(order, plan, tight=tight))
    )
    return el(
        "article",
        _head(plan, code),
        el("p", el("b", summary.BEGUN), class_="care") if plan.job.run else None,
        _cautions(),
        _passes(order, plan, tight=tight) if order else EMPTY,
        _test_pieces(order, plan) if tight else None,
        el(
            "div",
            *below,
            class_="below wide" if max(len(one.name) for one in boards) > LONGEST_NAME and not full else "below",
        ),
        class_="sheet tight" if tight else "sheet",
    )


def _picture(order: Sequence[Station], plan: Plan) -> Markup:
    shown = columns(plan)
    settings = [float(station.one.setting) for station in order]
    signs = legend(shown, settings, float(plan.job.target), "sheet")
    return el("div", drawing(plan, shown, "sheet"), signs, class_="picture")


def _results(order: Sequence[Station], plan: Plan, *, tight: bool) -> Markup:
    return el("div", None if tight else _test_pieces(order, plan), _boards(plan), class_="results")


def _head(plan: Plan, code: Markup) -> Markup:
    job = plan.job
    written = [f"Planer: {job.planer.name}"] if job.planer.name else []
    return el(
        "header",
        el(
            "div",
            el("h1", job.title or "The plan"),
            el("p", el("b", figure(summary.headline(plan))), " · ", figure(" ".join(summary.lines(plan)))),
        ),
        el("p", join([*written, join(["Date ", BLANK])], " · "), class_="when"),
        el("div", code, class_="code") if code else None,
    )


def _cautions() -> Markup:
    return el("p", el("b", f"{HEADING}: "), " ".join(CAUTIONS), class_="care")


def _passes(order: Sequence[Station], plan: Plan, *, tight: bool) -> Markup:
    many = len(plan.job.boards) > SIDE_BY_SIDE
    to = (
        "Set to"
        if all(station.way.is_bare for station in order)
        else "Scale reads, opens to"
        if tight
        else "Scale reads"
    )
    heads = [el("th", said, scope="col") for said in ("Pass", to, "Handle", "Feed", "Test piece")]
    boards = [el("th", "Boards", scope="col")] if many else [_board_head(n, plan.job) for n in _everyone(plan)]
    rows = [_row(station, plan, many=many, tight=tight) for station in order]
    if plan.rest:
        rows.insert(plan.rest.after, _rest(plan.rest, plan.job, len(heads) + len(boards)))
    halves = len(order) > TWO_COLUMNS and len(plan.job.boards) <= FEW_BOARDS
    half = -(-len(rows) // 2) if halves else len(rows)
    class_ = "rota listed" if many else "rota"
    head = el("thead", el("tr", *heads, *boards))
    tables = [el("table", head, el("tbody", *part), class_=class_) for part in (rows[:half], rows[half:]) if part]
    key = "B1: face B up, end 1 first."
    if not many:
        key += " Ringed: flip it end over end before this pass, the other face up and the other end first. Empty: it waits."
    if ALIKE in handling(plan.job):
        key += f" {ALIKE}"
    return join(
        [
            el("div", *tables, class_="halves") if halves else tables[0],
            el("p", key, class_="reads"),
            _butted(plan),
        ]
    )


def _butted(plan: Plan) -> Markup:
    """Which boards are butted end to end, passes with the same ones together; nothing where each is fed alone."""
    job = plan.job
    alike: dict[str, list[int]] = {}
    for one, rows in zip(plan.passes, butted_if_wanted(plan), strict=True):
        said = " ".join(words.butted(rows, len(one.fed), job))
        if said:
            alike.setdefault(said, []).append(one.number)
    told = (
        join([el("b", words.pass_numbers(numbers).capitalize(), ": "), said, " "]) for said, numbers in alike.items()
    )
    return el("p", *told, class_="reads") if alike else EMPTY


def _rest(rest: Rest, job: Job, wide: int) -> Markup:
    """Between the two stages: the boards rest, and what they measure after it has a column below."""
    stop = words.setting(rest.stop, job.units)
    said = (
        "Let the boards rest, on edge or on stickers. Measure each again and enter it: the finish is planned from that. ",
        "The passes below are for boards that did not move. Rested from ",
        BLANK,
        " to ",
        BLANK,
    )
    return el("tr", el("td", el("b", "Rest at ", figure(stop), ". "), *said, TICK, colspan=wide), class_="rest")


def _everyone(plan: Plan) -> range:
    return range(len(plan.job.boards))


def _board_head(place: int, job: Job) -> Markup:
    board = job.boards[place]
    if len(job.boards) == 1:
        return el("th", words.all_of(board.count), scope="col")
    name = short_names(job)[place]
    count = el("small", f"×{board.count}") if board.count > 1 else None
    kind = "upright" if max(len(one) for one in short_names(job)) > 3 else None
    return el("th", el("span", name, count), scope="col", class_=kind)


def _row(station: Station, plan: Plan, *, many: bool, tight: bool) -> Markup:
    one, job = station.one, plan.job
    return el(
        "tr",
        el("th", one.number, el("small", one.stage), scope="row"),
        _set_to(station.way, job, tight=tight),
        el("td", _handle(station, job)),
        el("td", words.feed(one.feed, job.units)),
        el("td", TICK, BLANK) if one.checked else el("td", "–"),
        *([el("td", _listed(station, job))] if many else _cells(station, plan)),
    )


def _set_to(way: ScaleSetting, job: Job, *, tight: bool) -> Markup:
    """What the scale reads; where that is not the setting, what it then opens to, small beside it. Tight rows have room for figures only."""
    if way.is_bare:
        return el("td", figure(words.setting(way.setting, job.units)), class_="to")
    if tight:
        opens = words.setting(way.opens, job.units)
        small = f"for the first try, proud of {words.setting(way.setting, job.units)}" if way.aim else opens
        return el("td", figure(words.length(way.scale, job.units)), el("small", " ", figure(small)), class_="to")
    mark, between = words.reading(way.scale, job)
    small = ", ".join(part for part in (between, words.opening(way, job)) if part)
    return el("td", figure(mark), el("small", " ", figure(small)), class_="to")


def _handle(station: Station, job: Job) -> Markup:
    if station.closer is None:
        return Markup("by the scale")
    way = words.direction(job.planer.moves, closer=station.closer > 0)
    turns = station.one.turns
    moved = words.turns(turns) if turns is not None else words.length(abs(station.closer), job.units)
    return join([way, " ", el("br"), figure(moved)])


def _cells(station: Station, plan: Plan) -> list[Markup]:
    how = {n: group for group in station.groups for n in group.boards}
    cells = []
    for n in _everyone(plan):
        group = how.get(n)
        if group is None:
            cells.append(el("td"))
            continue
        said = f"{group.placement.up}{group.placement.leads}"
        cells.append(el("td", el("span", said, class_="turned" if group.how == "turned" else None), TICK, class_="in"))
    return cells


def _listed(station: Station, job: Job) -> Markup:
    lines = []
    for group in station.groups:
        how = f"{HOW_WORDS[group.how]}, {group.placement.up}{group.placement.leads}: "
        lines.append(el("p", el("b", how), ", ".join(words.stretches(group.boards, job)), " ", TICK))
    if station.waiting:
        lines.append(el("p", "Wait: ", ", ".join(words.others(station.waiting, job))))
    return join(lines)


def _test_pieces(order: Sequence[Station], plan: Plan) -> Markup:
    """How thick a test piece must be, when it runs, and what it should measure."""
    checked = [station.one for station in order if station.one.checked and not station.one.for_scale]
    if not checked:
        return EMPTY
    job = plan.job
    passes = words.pass_numbers([one.number for one in checked])
    over = words.length(checked[0].setting, job.units)
    off = words.length(job.tolerance, job.units)
    said = (
        f"Scrap, thicker than {over} and {words.long_enough(job)}. Run it first at {passes} and write what it "
        f"measures. At the target it may be off by {off}."
    )
    if order[0].one.for_scale:
        thick = words.length(max(board.thick for board in job.boards), job.units)
        said += f" Before pass 1 run one as thick as the lot, {thick}: what it is off by, every setting is off by."
    return el("p", el("b", "Test piece: "), figure(said), class_="scrap")


def _boards(plan: Plan, part: int = 0, parts: int = 1) -> Markup:
    """What the boards were, how they come out, and room for what they measure; one of so many parts of them."""
    again = ("After the rest",) if plan.rest else ()
    size = -(-len(plan.outcomes) // parts)
    names = short_names(plan.job, LONGEST_IN_A_LINE)
    heads = (el("th", said, scope="col") for said in ("Board", "Thin to thick", *again, "Comes out", "Measured"))
    return el(
        "table",
        el("thead", el("tr", *heads)),
        el(
            "tbody",
            *(
                _board(outcome, plan, names[outcome.board])
                for outcome in plan.outcomes[part * size : (part + 1) * size]
            ),
        ),
        class_="outcomes",
    )


_COMES_OUT = {"both faces": "both faces", "one face": "B only", "untouched": "not cut"}


def _board(outcome: Outcome, plan: Plan, name: str) -> Markup:
    job = plan.job
    board = job.boards[outcome.board]
    spots: list[Fraction] = [board.thin] if board.thin == board.thick else [board.thin, board.thick]
    size = [words.length(spot, job.units).removesuffix(f" {job.units}") for spot in spots]
    comes = _COMES_OUT.get(outcome.name) or outcome_words(outcome, job)[0].partition(" at ")[0]
    return el(
        "tr",
        el(
            "th",
            name,
            f" ×{board.count}" if board.count > 1 else None,
            scope="row",
        ),
        el("td", figure(" – ".join(size))),
        el("td") if plan.rest else None,
        el("td", figure(comes)),
        el("td"),
    )
