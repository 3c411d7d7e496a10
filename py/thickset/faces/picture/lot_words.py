"""The picture of the lot in words, for whoever does not see it or wants the figures."""

from __future__ import annotations

from collections.abc import Sequence

from thickset.faces.picture.columns import Column
from thickset.faces.words import words
from thickset.faces.words.figures import figure
from thickset.faces.words.markup import EMPTY, Markup, el
from thickset.ground.job.job import Job
from thickset.planning.passes.model import Plan


def described(plan: Plan) -> str:
    """The picture in one sentence.

    >>> from thickset.faces.words.example import lot
    >>> described(lot("7/8", "13/16"))
    '2 boards from 13/16 in to 7/8 in thick, and 3 settings from 13/16 in down to 3/4 in.'
    """
    job = plan.job
    thin = words.length(min(board.thin for board in job.boards), job.units)
    thick = words.length(plan.decides.thickness, job.units)
    lot = f"{words.boards(plan.pieces)} from {thin} to {thick} thick"
    target = words.length(job.target, job.units)
    if not plan.passes:
        return f"{lot}, none of it above the target of {target}."
    if len(plan.passes) == 1:
        return f"{lot}, and one setting, {target}."
    first = words.length(plan.passes[0].setting, job.units)
    return f"{lot}, and {len(plan.passes)} settings from {first} down to {target}."


def in_words(plan: Plan, shown: Sequence[Column], signs: Markup = EMPTY) -> Markup:
    """What the signs of the picture mean, and each column as a sentence, in the same order.

    >>> from thickset.faces.picture.columns import columns
    >>> from thickset.faces.words.example import lot
    >>> plan = lot("7/8 27/32", "13/16")
    >>> "goes in at passes 2 and 3" in in_words(plan, columns(plan))
    True
    """
    rows = [el("li", figure(f"{_who(one, plan.job)}: {_what(one, plan)}.")) for one in shown]
    return el(
        "details",
        el("summary", "The picture in words"),
        signs,
        el("p", figure(described(plan))),
        el("ol", *rows),
        class_="in-words",
    )


def _who(one: Column, job: Job) -> str:
    if len(one.boards) == 1:
        return words.board(job.boards[one.boards[0]])
    return f"{words.boards(one.count)} ({words.listed(words.stretches(one.boards, job))})"


def _what(one: Column, plan: Plan) -> str:
    job = plan.job
    thin = words.length(min(job.boards[n].thin for n in one.boards), job.units)
    thick = words.length(max(job.boards[n].thick for n in one.boards), job.units)
    size = f"{thin} to {thick}" if thin != thick else thick
    if not one.cuts:
        return f"{size}, not cut"
    return f"{size}, goes in at {words.pass_numbers([cut.place + 1 for cut in one.cuts])}, {_END[one.outcome]}"


_END = {
    "both faces": "comes out planed on both faces",
    "one face": "comes out planed on face B only",
    "short": "stays short of the target at its thin spot",
    "untouched": "is not cut",
}
