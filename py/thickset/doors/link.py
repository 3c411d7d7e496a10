"""Answers about the plan link: a job as a link, and the job of a link."""

from __future__ import annotations

from thickset.doors.request import Answers, Json
from thickset.ground.job.job import Problem, ProblemsError
from thickset.ground.link.link import LinkError, from_link, to_link

LONGEST_ADDRESS = 300


def link(asked: Json) -> Json:
    """The plan link of a job, with its run unless that is declined; and the whole address, where a `page` is told.

    >>> link({"job": {"thickset": 1}})["link"][:7]
    '#plan=2'
    """
    try:
        made = to_link(asked.get("job"), asked.get("run", True) is not False)
    except LinkError as error:
        raise ProblemsError([Problem("job", str(error))]) from error
    address = {"address": f"{page_of(asked)}{made}"} if asked.get("page") else {}
    return {"ok": True, "link": made, "characters": len(made), **address}


def opened(asked: Json) -> Json:
    """The job of a plan link.

    >>> opened({"link": to_link({"thickset": 1})})["job"]
    {'thickset': 1}
    """
    given = asked.get("link")
    try:
        return {"ok": True, "job": from_link(given if isinstance(given, str) else "")}
    except LinkError as error:
        raise ProblemsError([Problem("link", str(error))]) from error


def page_of(asked: Json) -> str:
    """The address of the page [`page`], without what stands behind #.

    >>> page_of({"page": "https://example.org/#plan"})
    'https://example.org/'
    """
    page = asked.get("page")
    sound = isinstance(page, str) and len(page) <= LONGEST_ADDRESS and page.isascii() and page.isprintable()
    if not isinstance(page, str) or not sound or not page.startswith(("https://", "http://")):
        raise ProblemsError(
            [Problem("page", "The address of the page is wanted here, like https://example.org/thickset/.")]
        )
    return page.partition("#")[0]


ANSWERS: Answers = {
    "link": link,
    "open": opened,
}
