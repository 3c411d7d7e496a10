"""A link as a QR code: black on white whatever the page's colors, drawn as one path. The only module that meets segno."""

from __future__ import annotations

import segno

from thickset.faces.words.markup import Markup, el

LARGEST = 15
"""The largest version drawn: 77 squares a side, 0.35 mm each where the code is 30 mm wide. Common practice, no source."""

QUIET = 4
"""The white border [squares] that a QR code needs (ISO/IEC 18004, from memory)."""

LEVELS = ("m", "l")
"""How much may be hidden or smudged, tried in order: 15 %, then 7 % (ISO/IEC 18004, from memory)."""


class CodeError(ValueError):
    """A text that is too long for a code that scans well."""


def code(text: str, label: str) -> Markup:
    """The QR code of a text as SVG; `label` says what it leads to.

    Valid: ASCII, at most 520 characters, which version 15 at level L holds.

    >>> code("https://example.org/#plan=1", "The plan")[:59]
    '<svg viewBox="0 0 37 37" class="qr" role="img" aria-label="'
    """
    for level in LEVELS:
        try:
            made = segno.make_qr(text, error=level, boost_error=True)
        except segno.DataOverflowError:
            continue
        if int(made.version) <= LARGEST:
            return _drawn([bytes(row) for row in made.matrix], label)
    raise CodeError(
        f"The link is too long for a code that scans well: {len(text):,} characters. Send the link, or save the job to a file."
    )


def _drawn(rows: list[bytes], label: str) -> Markup:
    size = len(rows) + 2 * QUIET
    steps = [
        f"M{at + QUIET} {line + QUIET}h{wide}v1h-{wide}z" for line, row in enumerate(rows) for at, wide in _runs(row)
    ]
    return el(
        "svg",
        el("rect", width=size, height=size, fill="#fff"),
        el("path", d="".join(steps), fill="#000"),
        viewBox=f"0 0 {size} {size}",
        class_="qr",
        role="img",
        aria_label=label,
        shape_rendering="crispEdges",
    )


def _runs(row: bytes) -> list[tuple[int, int]]:
    """Where dark squares begin in a row, and how many stand side by side."""
    runs: list[tuple[int, int]] = []
    for at, dark in enumerate(row):
        if dark and runs and sum(runs[-1]) == at:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((at, 1))
    return runs
