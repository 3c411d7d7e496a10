"""A job document as a short text that may stand in an address, and back: the plan link.

A link is lossless: texts come back to the letter, numbers as they were. It is version, length, and one whole number that
holds the packed document and its check, all in letters and digits, so that nothing on the way cuts or rewrites it.
The order of keys is not kept.
"""

from __future__ import annotations

import binascii
import re
import string
from typing import Any

from thickset.ground.link.packing import Packer, PackingError, Unpacker
from thickset.ground.link.walk import UnlinkableError, walk
from thickset.ground.link.walk_lot import walk_lot

VERSION = "2"
_WALKS = {"1": walk, "2": walk_lot}
"""How each version of links is walked; links of all of them open."""

MOST_CHARACTERS = 3800
"""The longest link. A job that needs more goes as a file."""

_DIGITS = string.digits + string.ascii_uppercase + string.ascii_lowercase
_PLACE = {digit: place for place, digit in enumerate(_DIGITS)}
_BASE = len(_DIGITS)
_HEAD = 3
_CHECK = 32
_CURE = "Ask for it again, or for the job as a file."

Json = dict[str, Any]


class LinkError(ValueError):
    """A job that makes no link, or a link that does not open; the message says why and what helps."""


def to_link(job: object, run: bool = True) -> str:
    """The link of a job document (parsed JSON), to be put behind the page's address; with its run or without.

    Valid: any JSON object of at most 3,800 characters as a link.

    >>> link = to_link({"thickset": 1, "units": "mm", "target": {"thickness": "20"}, "boards": []})
    >>> link
    '#plan=20CfbQs7oTSB'
    """
    if not isinstance(job, dict):
        raise LinkError("This is no job document, so there is no link to it.")
    packer = Packer()
    try:
        _WALKS[VERSION](packer, {key: value for key, value in job.items() if run or key != "run"})
        body = packer.packed()
    except (UnlinkableError, PackingError) as error:
        raise LinkError(f"This job does not go into a link: {error}. Save it to a file and send that.") from error
    digits = _written(body << _CHECK | _check(body, VERSION))
    if len(digits) + _HEAD > MOST_CHARACTERS:
        raise LinkError(
            f"This job is too large for a link: {len(digits) + _HEAD:,} characters of at most {MOST_CHARACTERS:,}. "
            "Save it to a file and send that."
        )
    return f"#plan={VERSION}{_written(len(digits) + _HEAD).zfill(2)}{digits}"


def from_link(link: str) -> Json:
    """The job document of a link: an address with a plan in it, or the plan alone.

    >>> from_link("https://example.org/#plan=20CfbQs7oTSB")["target"]
    {'thickness': '20'}
    >>> from_link("#plan=20CfbQs7")
    Traceback (most recent call last):
    thickset.ground.link.link.LinkError: The end of this link is missing: 8 of its 12 characters are here. Ask for it again, or for the job as a file.
    """
    text = _plan_in(link)
    meant = _PLACE[text[1]] * _BASE + _PLACE[text[2]]
    if len(text) < meant:
        raise LinkError(f"The end of this link is missing: {len(text)} of its {meant} characters are here. {_CURE}")
    damaged = LinkError(f"This link was changed on its way: its check does not fit. {_CURE}")
    if len(text) > meant or text[_HEAD : _HEAD + 1] in ("", "0"):
        raise damaged
    number = 0
    for digit in text[_HEAD:]:
        number = number * _BASE + _PLACE[digit]
    body, check = number >> _CHECK, number & (1 << _CHECK) - 1
    if check != _check(body, text[0]):
        raise damaged
    unpacker = Unpacker(body)
    try:
        job = _WALKS[text[0]](unpacker, None)
        unpacker.close()
    except (UnlinkableError, PackingError, ValueError, OverflowError) as error:
        raise LinkError(f"This link holds no job that can be opened: {error}. {_CURE}") from error
    if not isinstance(job, dict):
        raise LinkError(f"This link holds no job document. {_CURE}")
    return job


def _plan_in(link: str) -> str:
    """The plan of a link, once it is sure to be one of a version that is known."""
    if len(link) > 10 * MOST_CHARACTERS:
        raise LinkError(f"This is too long for a plan link: {len(link):,} characters. {_CURE}")
    text = re.sub(r"\s+", "", link)
    text = text.rpartition("plan=")[2].rstrip(".,;:!?)]}>'\"")
    if len(text) < _HEAD or not text[0].isdecimal() or any(digit not in _PLACE for digit in text):
        raise LinkError(f"This is no plan link, or it was changed on its way. {_CURE}")
    if text[0] not in _WALKS:
        raise LinkError(
            "This link is of a version that this page does not know. Load the page anew, with a network, and open the link again."
        )
    if len(text) > MOST_CHARACTERS:
        raise LinkError(f"This is too long for a plan link: {len(text):,} characters. {_CURE}")
    return text


def _check(body: int, version: str) -> int:
    whole = body.to_bytes((body.bit_length() + 7) // 8, "big")
    return binascii.crc32(whole, binascii.crc32(version.encode()))


def _written(number: int) -> str:
    digits = []
    while number:
        number, digit = divmod(number, _BASE)
        digits.append(_DIGITS[digit])
    return "".join(reversed(digits))
