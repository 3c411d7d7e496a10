"""Figures a person reads at arm's length: fractions drawn as fractions, boards as tags."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from thickset.faces.words import words
from thickset.faces.words.markup import Markup, el, join, text
from thickset.faces.words.short_names import short_names
from thickset.ground.job.job import Job
from thickset.planning.passes.scale import ScaleSetting

_FRACTION = re.compile(r"(\d+(?:,\d{3})* )?(\d+)/(\d+)")

_LISTED = re.compile(r"<(/?)(?:ul|li)\b")


@lru_cache(maxsize=2048)
def figure(said: str) -> Markup:
    """A text with its fractions stacked, on one line with the whole number before them.

    Read, heard or copied it is the same text, and a mixed number is one piece of it: what is seen is drawn beside that.

    >>> figure("15/16 in")
    '<span class="fraction" data-above="15" data-below="16"><span>15/16</span></span> in'
    >>> figure("1 3/32 in")[:45]
    '<span class="mixed" data-whole="1"><span clas'
    """
    parts: list[Markup] = []
    end = 0
    for found in _FRACTION.finditer(said):
        whole, above, below = found.groups()
        drawn = el("span", el("span", text(found[0])), class_="fraction", data_above=above, data_below=below)
        parts.append(text(said[end : found.start()]))
        parts.append(el("span", drawn, class_="mixed", data_whole=whole.strip()) if whole else drawn)
        end = found.end()
    return join([*parts, text(said[end:])])


def setting(value: Fraction, job: Job) -> list[Markup]:
    """A setting [mm], its unit apart; in the other unit too where the scale has no mark for it.

    >>> from thickset.ground.job.example import small_job
    >>> "".join(setting(Fraction("26.6"), small_job()))
    '26.6<small> mm</small>'
    """
    return _large(words.setting(value, job.units))


def reading(scale: Fraction, job: Job) -> list[Markup]:
    """What a scale reads [mm]: the nearest mark, and what it is over or under where it lies between two.

    >>> from thickset.ground.job.example import small_job
    >>> "".join(reading(Fraction("22.83"), small_job()))
    '22.8<small> mm</small><span class="between"> and a quarter mark over (0.03 mm)</span>'
    """
    mark, between = words.reading(scale, job)
    return [*_large(mark), *([el("span", f" {between}", class_="between")] if between else [])]


def set_to(way: ScaleSetting, job: Job) -> list[Markup]:
    """A setting as it is set: what the scale reads large, what it then opens to small beside it.

    >>> from thickset.ground.job.example import small_job
    >>> "".join(set_to(ScaleSetting(Fraction(23), Fraction("22.8")), small_job()))
    '<span class="by-scale">scale at </span>22.8<small> mm</small><span class="opens"> opens to 23 mm</span>'
    """
    if way.is_bare:
        return setting(way.setting, job)
    at = el("span", "scale at ", class_="by-scale")
    return [at, *reading(way.scale, job), el("span", " ", figure(words.opening(way, job)), class_="opens")]


def _large(setting: str) -> list[Markup]:
    told, _, exact = setting.partition(" (")
    said, _, unit = told.rpartition(" ")
    other = [el("span", f"({exact}", class_="exact")] if exact else []
    return [figure(said), el("small", f" {unit}"), *other]


def tags(places: Sequence[int], job: Job, *, others: bool = False) -> Markup:
    """Boards [index] as a list of tags; of `others`, which stay out, very many are not named.

    >>> from thickset.faces.words.example import lot
    >>> tags([1], lot("15/16", "7/8").job)
    '<ul class="tags"><li><bdi>B</bdi></li></ul>'
    """
    if len(places) == len(job.boards) == 1:
        return el("ul", el("li", words.all_of(job.boards[0].count)), class_="tags")
    if len(places) > words.LISTED_ONE_BY_ONE:
        names = words.others(places, job) if others else words.stretches(places, job)
        return el("ul", *(el("li", el("bdi", name)) for name in names), class_="tags")
    short = short_names(job)
    return el("ul", *[_tag(job.boards[n].name, short[n], job.boards[n].count) for n in places], class_="tags")


def in_a_line(tags: Markup) -> Markup:
    """The same tags where the standard has no lists, as in what unfolds.

    >>> from thickset.faces.words.example import lot
    >>> in_a_line(tags([1], lot("15/16", "7/8").job))
    '<span class="tags"><span><bdi>B</bdi></span></span>'
    """
    return Markup(_LISTED.sub(r"<\1span", tags))


@lru_cache(maxsize=2048)
def _tag(name: str, short: str, count: int) -> Markup:
    many = el("small", f"×{count}") if count > 1 else None
    if short == name:
        return el("li", el("bdi", name), many)
    return el("li", el("bdi", short, aria_hidden="true"), el("bdi", name, class_="unseen"), many)
