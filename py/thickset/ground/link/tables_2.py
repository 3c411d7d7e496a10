"""What links of version 2 know of a job besides. Nothing here may change or move: a link opens for ever."""

from __future__ import annotations

from thickset.ground.link.tables_1 import KEYS as FIRST_KEYS
from thickset.ground.link.tables_1 import SELDOM as FIRST_SELDOM

_SINCE: dict[str, tuple[str, ...]] = {
    "": ("parts", "cutting", "rates", "service", "shop"),
    "boards[]": ("places", "defects"),
    "planer": ("table", "record"),
    "run[]": ("places", "lead", "trail", "after"),
}
_NEW: dict[str, tuple[str, ...]] = {
    "boards[].defects[]": ("from", "to"),
    "parts[]": ("name", "length", "count", "width"),
    "cutting": ("kerf", "trim", "ends"),
    "rates": ("people", "machine", "wood"),
    "service": (*("moisture_now", "moisture_then", "temperature", "humidity", "grain", "thickness", "rest"),),
    "shop": ("bag", "air", "duct", "noise"),
    "planer.record": (
        *("offset", "offset_worth", "spread", "spread_worth", "runs", "fed"),
        *("set_seconds", "handle_seconds", "timed", "lead", "trail", "sniped"),
    ),
}
KEYS = {part: (*keys, *_SINCE.get(part, ())) for part, keys in FIRST_KEYS.items()} | _NEW
"""The keys of each object of a document, in the order in which they come back."""

SELDOM = dict.fromkeys(sorted(FIRST_SELDOM), (30, 10)) | {
    f"{part}.{key}" if part else key: (90, 6) for part, keys in _SINCE.items() for key in keys
}
"""How likely it is that a key is not there, and that it is."""

SPOTS = (
    *("end 1 left", "end 1 center", "end 1 right", "middle left", "middle center", "middle right"),
    *("end 2 left", "end 2 center", "end 2 right", ""),
)
"""Where on a board a reading may have been taken, as the page writes it."""

SERIES = ("boards[].readings[]", "boards[].width", "boards[].length")
"""The places whose numbers may stand on one grid for the whole lot."""
