"""What stands before the first feed of a run: all cautions, how the boards are marked, what the first opening may hide."""

from __future__ import annotations

from thickset.faces.plan.cautions import CAUTIONS, HEADING, LINE, handling
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.ground.job.job import Job
from thickset.planning.run.state import State


def before_the_first_feed(state: State) -> Markup:
    """Read once a run: one tap, and the first pass stands there. The tap is the page's own and no event of the run.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> before_the_first_feed(begin(small_job())).count("<li>") == len(CAUTIONS)
    True
    """
    unsure = first_opening(state)
    return el(
        "section",
        el("h2", f"{HEADING}, before the first feed"),
        el("ul", *(el("li", one) for one in CAUTIONS)),
        el("p", " ".join(handling(state.job)), class_="marking"),
        el("p", figure(unsure), class_="unsure") if unsure else None,
        el("button", "Read. On to pass 1", type="button", class_="strong", data_begin=True),
        class_="before-run",
    )


def cautions_at_hand(job: Job) -> Markup:
    """The same cautions, folded under their line, at every later step: for who takes up a run that others or other days began.

    >>> from thickset.ground.job.example import small_job
    >>> cautions_at_hand(small_job())
    ''
    """
    if not job.run:
        return EMPTY
    return el(
        "details", el("summary", f"{HEADING}: {LINE}"), el("ul", *(el("li", one) for one in CAUTIONS)), class_="at-hand"
    )


def before_the_first_feed_text(state: State) -> list[str]:
    """The same as lines of text.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> before_the_first_feed_text(begin(small_job()))[0]
    'At the machine'
    """
    unsure = first_opening(state)
    return [
        HEADING,
        *(f"  - {one}" for one in (*CAUTIONS, *handling(state.job))),
        *([f"  - {unsure}"] if unsure else []),
    ]


def first_opening(state: State) -> str:
    """That the first piece may be cut deeper than planned, with the cure; nothing where a scrap or a run told of the scale.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> first_opening(begin(small_job()))
    'Nothing is known yet of how far off the scale is: the first piece may be cut deeper than planned. Take a scrap for it, and measure it before the boards follow.'
    """
    if not _is_unsure(state):
        return ""
    return (
        "Nothing is known yet of how far off the scale is: the first piece may be cut deeper than planned. "
        "Take a scrap for it, and measure it before the boards follow."
    )


def first_opening_in_short(state: State) -> str:
    """The same beside the setting of pass 1.

    >>> from thickset.ground.job.example import small_job
    >>> from thickset.planning.run.follow import begin
    >>> first_opening_in_short(begin(small_job()))
    'Scale not known yet: the first piece may be cut deeper.'
    """
    return "Scale not known yet: the first piece may be cut deeper." if _is_unsure(state) else ""


def _is_unsure(state: State) -> bool:
    return bool(state.rest) and state.rest[0].for_scale and state.scale_is_unknown
