"""Lines: none breaks a number like 1 3/32, which would read as another number."""

from __future__ import annotations

import re
from textwrap import fill

COLUMNS = 80
NO_BREAK = "\N{NO-BREAK SPACE}"
_INSIDE = re.compile(r"(?<=\d) (?=\d+/\d)")


def unbroken(said: str) -> str:
    """A text whose mixed numbers no line can break.

    >>> unbroken("1 3/32 in, not 2 in").split(" ")
    ['1\\xa03/32', 'in,', 'not', '2', 'in']
    """
    return _INSIDE.sub(NO_BREAK, said) if "/" in said else said


def wrapped(line: str, first: str = "", rest: str = "") -> str:
    """A line of plain text as lines that a terminal shows whole; it breaks between words, and the words stay as they are.

    >>> wrapped("set to 1 3/32 in", "a" * 71 + " ")[72:]
    'set to\\n1 3/32 in'
    """
    made = fill(unbroken(line), COLUMNS, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return made.replace(NO_BREAK, " ")
