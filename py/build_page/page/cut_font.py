"""cut_font.py SOURCE OUT: a font with the signs of ASCII, Latin-1 and what our sentences use beside them, all weights.

Letters of other scripts come from the device's own font, sign by sign.
"""

import sys

from fontTools import subset  # type: ignore[import-not-found]
from fontTools.ttLib import TTFont  # type: ignore[import-not-found]

SIGNS = [*range(0x20, 0x7F), *range(0xA0, 0x100), *map(ord, "–—‘’“”•…‹›€−")]


def main(source: str, out: str) -> None:
    """Cut it; no time is written into it."""
    font = TTFont(source, recalcTimestamp=False)
    options = subset.Options(layout_features=["ccmp", "kern", "mark", "tnum"], hinting=False, notdef_outline=True)
    options.name_IDs = [0, 1, 2, 13, 14]
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=SIGNS)
    cutter.subset(font)
    font.flavor = "woff2"
    font.save(out)


if __name__ == "__main__":
    main(*sys.argv[1:])
