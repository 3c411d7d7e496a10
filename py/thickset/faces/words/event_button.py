"""What a button of the run screen does: it carries the event that it adds."""

from __future__ import annotations

import json


def event(**fields: object) -> str:
    """An event of the run as the text that a button carries.

    >>> event(did="retarget", thickness="3/4 in")
    '{"did": "retarget", "thickness": "3/4 in"}'
    """
    return json.dumps(fields, ensure_ascii=False)
