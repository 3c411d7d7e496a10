"""The code of a job is a QR code that another decoder reads."""

from __future__ import annotations

import json
import re

import numpy as np
import pytest
import zxingcpp
from thickset.doors.api import handle
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.faces.paper.code import CodeError, code
from thickset.ground.link.link import from_link

PAGE = "https://example.org/shop/thickset/"


def drawn(svg: str, scale: int = 4) -> np.ndarray:
    """The picture of a code, black on white."""
    size = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    squares = np.full((size, size), 255, dtype=np.uint8)
    steps = re.findall(r"M(\d+) (\d+)h(\d+)v1h-\3z", svg)
    assert "".join(f"M{x} {y}h{w}v1h-{w}z" for x, y, w in steps) == re.search(r' d="([^"]*)"', svg)[1]
    for x, y, w in steps:
        squares[int(y), int(x) : int(x) + int(w)] = 0
    border = np.concatenate(
        [squares[:4].ravel(), squares[-4:].ravel(), squares[:, :4].ravel(), squares[:, -4:].ravel()]
    )
    assert border.min() == 255, "the quiet zone is four squares wide"
    return np.kron(squares, np.ones((scale, scale), dtype=np.uint8))


def read(svg: str) -> str:
    (found,) = zxingcpp.read_barcodes(drawn(svg))
    return str(found.text)


def ask(**asked: object) -> dict:
    return json.loads(handle(json.dumps({"ask": "code", **asked})))


@pytest.mark.parametrize("job", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
def test_another_decoder_finds_the_job(job: dict) -> None:
    answer = ask(job=job, page=PAGE)
    found = read(answer["html"]["code"])
    assert found == answer["address"]
    assert found.startswith(PAGE + "#plan=")
    assert len(found) == answer["characters"]
    assert from_link(found) == job


@pytest.mark.parametrize("length", [1, 40, 150, 271, 412, 413, 520])
def test_each_size_is_read(length: int) -> None:
    text = ("https://example.org/#plan=" + "1aB" * 200)[:length]
    assert read(code(text, "It")) == text


def test_what_would_not_scan_well_is_refused() -> None:
    with pytest.raises(CodeError, match="save the job to a file"):
        code("x" * 521, "It")
    with pytest.raises(CodeError):
        code("x" * 5000, "It")


def test_the_picture_has_no_style_and_its_words_are_escaped() -> None:
    svg = code("https://example.org/", "<b>")
    assert "style" not in svg
    assert "<b>" not in svg


@pytest.mark.parametrize(
    "page", [None, "", 3, "javascript:alert(1)", "https://ex\nample.org", "https://é.example/", "x" * 400]
)
def test_the_page_must_be_an_address(page: object) -> None:
    assert ask(job=DEMO_IN, page=page)["problems"][0]["at"] == "page"


def test_the_sheet_carries_the_code_when_it_is_told_the_page() -> None:
    sheet = {"ask": "sheet", "job": DEMO_IN}
    with_code = json.loads(handle(json.dumps({**sheet, "page": PAGE})))["html"]["sheet"]
    without = json.loads(handle(json.dumps(sheet)))["html"]["sheet"]
    assert 'class="qr"' not in without
    svg = re.search(r'<svg[^>]*class="qr".*?</svg>', with_code)
    assert from_link(read(svg[0])) == DEMO_IN
