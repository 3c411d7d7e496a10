"""A plan is handed over by its link or its code and taken in beside what is on the phone."""

from __future__ import annotations

import base64
import json
import random
from pathlib import Path

import hand
import numpy as np
import pypdfium2
import pytest
import zxingcpp
from kit import Server
from lots import board, lot
from phone import PHONE, Open
from playwright.sync_api import Browser, Page, expect
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.ground.link.link import from_link, to_link

JOB = lot(
    board("33/32", "1", name="A", species="Oak, white"),
    board("27,8 mm", name="B", width="5 1/2", length="42", count=3),
    title="Tabletop <b>boards</b>",
)
RUN = [{"did": "feed", "setting": "26.19375 mm", "scale": "26.19375 mm"}]
SHARING = """
window.shared = []
navigator.share = (what) => {
  if (!navigator.userActivation.isActive) return Promise.reject(new DOMException('no tap', 'NotAllowedError'))
  shared.push(what)
  return Promise.resolve()
}
"""
NO_SHARING = "delete Navigator.prototype.share\n"
COPYING = """
window.copied = []
navigator.clipboard.writeText = (text) => { copied.push(text); return Promise.resolve() }
"""
PIXELS = """async (png) => {
  const bytes = Uint8Array.from(atob(png), (letter) => letter.charCodeAt(0))
  const picture = await createImageBitmap(new Blob([bytes], {type: 'image/png'}))
  const canvas = new OffscreenCanvas(picture.width, picture.height)
  const context = canvas.getContext('2d')
  context.drawImage(picture, 0, 0)
  const {data, width, height} = context.getImageData(0, 0, picture.width, picture.height)
  let text = ''
  for (let n = 0; n < data.length; n += 4) text += String.fromCharCode((data[n] + data[n + 1] + data[n + 2]) / 3)
  return {width, height, gray: btoa(text)}
}"""


def read_code(page: Page, png: bytes) -> str:
    """What an independent decoder finds in a screenshot."""
    blank = page.context.new_page()
    told = blank.evaluate(PIXELS, base64.b64encode(png).decode())
    blank.close()
    gray = np.frombuffer(base64.b64decode(told["gray"]), dtype=np.uint8)
    found = zxingcpp.read_barcodes(gray.reshape(told["height"], told["width"]))
    return found[0].text if found else ""


def tap_send(page: Page, way: str) -> None:
    """Tap a way to send; where the page says that the link was still being made, once more when it is."""
    page.locator(f'[data-send="{way}"]').tap()
    said = page.locator("#send [role=status]")
    expect(said).not_to_have_text("The link is being made: tap again in a moment.")
    if said.inner_text() == "The link is ready.":
        hand.rested(page)
        page.locator(f'[data-send="{way}"]').tap()


def shared_link(page: Page) -> str:
    """Tap Send once the link is there, and give what the share sheet was given."""
    hand.planned(page)
    hand.hand_over(page)
    tap_send(page, "share")
    page.wait_for_function("() => window.shared.length > 0")
    return str(page.evaluate("shared.at(-1).url"))


def test_send_shares_within_the_tap(open_page: Open, server: Server) -> None:
    page = open_page(script=SHARING)
    hand.ready(page)
    hand.open_job(page, JOB)
    link = shared_link(page)
    assert link.startswith(f"{server.url}#plan=2")
    assert from_link(link) == JOB
    assert page.evaluate("shared.at(-1).title") == JOB["title"]


def test_without_a_share_sheet_the_link_is_copied(open_page: Open, server: Server) -> None:
    page = open_page(script=NO_SHARING + COPYING)
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    hand.hand_over(page)
    expect(page.locator('[data-send="share"]')).to_be_hidden()
    tap_send(page, "copy")
    expect(page.locator("#send [role=status]")).to_have_text("The link is copied.")
    assert from_link(page.evaluate("copied.at(-1)")) == JOB
    assert page.evaluate("copied.at(-1)").startswith(server.url)


def test_where_nothing_may_be_copied_the_link_is_shown(open_page: Open) -> None:
    page = open_page(script=NO_SHARING + "navigator.clipboard.writeText = () => Promise.reject(new Error('no'))")
    hand.ready(page)
    hand.planned(page)
    hand.hand_over(page)
    tap_send(page, "copy")
    expect(page.locator("#send-link")).to_be_visible()
    assert from_link(page.locator("#send-link").input_value()) == DEMO_IN


def test_where_sharing_fails_the_link_is_shown_and_where_it_is_given_up_nothing_is(open_page: Open) -> None:
    failing = """navigator.share = () => {
      const failed = Promise.reject(new DOMException('', window.failure))
      failed.catch(() => setTimeout(() => { window.failed = window.failure }))
      return failed
    }"""
    page = open_page(script=failing)
    hand.ready(page)
    hand.planned(page)
    hand.hand_over(page)
    page.evaluate("window.failure = 'AbortError'")
    tap_send(page, "share")
    page.wait_for_function("() => window.failed === 'AbortError'")
    expect(page.locator("#send-link")).to_be_hidden()
    hand.rested(page)
    page.evaluate("window.failure = 'DataError'")
    page.locator('[data-send="share"]').tap()
    expect(page.locator("#send-link")).to_be_visible()
    assert from_link(page.locator("#send-link").input_value()) == DEMO_IN


def test_a_lot_too_large_for_a_link_says_so_and_goes_as_a_file(open_page: Open) -> None:
    chance = random.Random(2)
    readings = [[f"1.{chance.randint(0, 9999):04}" for _ in range(8)] for _ in range(400)]
    boards = [{"name": f"{n}", "readings": each, "width": "6", "length": "40"} for n, each in enumerate(readings)]
    job = {**DEMO_IN, "boards": boards}
    page = open_page(script=SHARING)
    hand.ready(page)
    hand.open_job(page, job)
    hand.planned(page)
    hand.hand_over(page)
    for way in ("share", "copy"):
        tap_send(page, way)
        expect(page.locator("#send [role=status]")).to_contain_text("too large for a link")
    assert page.evaluate("shared") == []
    with page.expect_download() as download:
        page.locator('#send [data-do="save-job"]').tap()
    assert json.loads(Path(download.value.path()).read_text(encoding="utf-8")) == job


def test_the_run_goes_along_if_it_is_wanted(open_page: Open) -> None:
    page = open_page(script=SHARING)
    hand.ready(page)
    hand.hand_over(page)
    expect(page.locator("#send .check")).to_be_hidden()
    page.keyboard.press("Escape")
    hand.open_job(page, {**JOB, "run": RUN})
    assert from_link(shared_link(page)) == {**JOB, "run": RUN}
    page.locator("#send .check").tap()
    assert from_link(shared_link(page)) == JOB


def test_a_link_opens_beside_what_is_there_and_asks(open_page: Open, server: Server) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, DEMO_MM)
    hand.planned(page)
    page.goto("about:blank")
    page.goto(server.url + to_link(JOB))
    hand.ready(page)
    bar = page.locator("#incoming")
    expect(bar).to_contain_text("Tabletop <b>boards</b>, 4 boards")
    expect(page.locator("#job-title")).to_contain_text("stool seats")
    bar.locator("button", has_text="Open as a new job").tap()
    hand.planned(page)
    expect(page.locator("#job-title")).to_contain_text("Tabletop <b>boards</b>")
    assert page.url == server.url
    expect(bar).to_be_hidden()
    assert hand.saved_job(page) == JOB
    expect(page.locator(".job-open b")).to_have_text(["Tabletop <b>boards</b>", "Workshop stool seats (example)"])


def test_what_is_asked_is_in_sight_wherever_the_page_is(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, DEMO_MM)  # a phone without a job of its own opens the link by itself
    hand.planned(page)
    hand.go(page, "plan")
    page.locator("#plan footer a").first.scroll_into_view_if_needed()
    page.evaluate("(link) => { location.hash = link }", to_link(JOB))
    expect(page.locator("#incoming button").last).to_be_in_viewport(ratio=1)
    hand.go(page, "lot")
    page.locator("#target-thickness").tap()
    expect(page.locator("#incoming p")).to_be_in_viewport(ratio=1)
    bars, field = page.locator("#bars").bounding_box(), page.locator("#target-thickness").bounding_box()
    assert bars
    assert field
    assert bars["y"] + bars["height"] <= field["y"]
    page.locator("#pad button", has_text="Done").tap()
    page.locator("#incoming button", has_text="Leave it").tap()
    expect(page.locator("#incoming")).to_be_hidden()


def test_a_link_that_is_left_leaves_no_trace(open_page: Open, server: Server) -> None:
    page = open_page(before=lambda page: page.add_init_script("location.hash || 0"))
    hand.ready(page)
    hand.open_job(page, DEMO_MM)
    hand.planned(page)
    page.evaluate("(link) => { location.hash = link }", to_link(JOB))
    page.locator("#incoming button", has_text="Leave it").tap()
    assert page.url == server.url
    assert hand.saved_job(page) == DEMO_MM
    expect(page.locator(".job-open")).to_have_count(1)


def test_a_plan_that_is_here_already_is_not_taken_twice(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    page.evaluate("(link) => { location.hash = link }", to_link(JOB))
    expect(page.locator("#incoming")).to_contain_text("already")
    page.locator("#incoming button", has_text="Open it").tap()
    hand.go(page, "jobs")
    expect(page.locator(".job-open")).to_have_count(1)


@pytest.mark.parametrize(
    ("link", "words"),
    [
        (to_link(JOB)[:-5], "The end of this link is missing"),
        (to_link(JOB)[:-1] + "!x", "changed on its way"),
        ("#plan=3" + to_link(JOB)[7:], "Load the page anew"),
        ("#plan=<script>alert(1)</script>", "no plan link"),
    ],
)
def test_a_link_that_does_not_open_says_why(open_page: Open, server: Server, link: str, words: str) -> None:
    page = open_page(before=lambda page: page.goto(server.url + link))
    page.evaluate("(link) => { location.hash = link }", link)
    hand.ready(page)
    expect(page.locator("#incoming")).to_contain_text(words)
    expect(page.locator("#job-title")).to_contain_text("example")
    page.locator("#incoming button", has_text="Close").tap()
    assert page.url == server.url


def test_a_link_opens_without_a_network(browser: Browser, server: Server) -> None:
    context = browser.new_context(**{**PHONE, "service_workers": "allow"})
    page = context.new_page()
    page.goto(server.url)
    expect(page.locator("#offline")).to_contain_text("Ready without a network", timeout=90_000)
    page.close()
    server.stop()
    page = context.new_page()
    page.goto(server.url + to_link(JOB))
    hand.planned(page)
    expect(page.locator("#job-title")).to_contain_text("Tabletop")
    context.close()
    server.start()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_code_on_the_screen_is_read_by_another_decoder(open_page: Open, server: Server, scheme: str) -> None:
    page = open_page(color_scheme=scheme, device_scale_factor=2)
    hand.ready(page)
    hand.planned(page)
    hand.hand_over(page)
    page.locator('[data-send="code"]').tap()
    code = page.locator("#send-code svg")
    expect(code).to_be_visible()
    found = read_code(page, page.screenshot())
    assert found.startswith(f"{server.url}#plan=2")
    assert from_link(found) == DEMO_IN
    hand.hand_over(page)
    page.locator('[data-send="code"]').tap()
    expect(code).to_have_count(0)


def test_a_code_that_would_not_scan_well_is_not_drawn(open_page: Open) -> None:
    chance = random.Random(1)
    boards = [
        {
            "name": f"{n}",
            "readings": [f"1.{chance.randint(0, 9999):04}" for _ in range(6)],
            "width": "6",
            "length": "40",
        }
        for n in range(80)
    ]
    page = open_page()
    hand.ready(page)
    hand.open_job(page, json.dumps({**DEMO_IN, "boards": boards}))
    hand.planned(page)
    hand.hand_over(page)
    page.locator('[data-send="code"]').tap()
    expect(page.locator("#send [role=status]")).to_contain_text("too long for a code that scans well", timeout=30_000)
    expect(page.locator("#send-code svg")).to_have_count(0)


TABLE = "Board;T1 (mm);T2 (mm);Width;Length\nA;27,8;28,1;150;920\nQ;26,9;26,2;140;900\n"


def paste(page: Page, text: str) -> None:
    """Paste a table into its field."""
    hand.go(page, "jobs")
    page.locator("#tables > summary").tap()
    page.locator("#table-text").fill(text)
    expect(page.locator("#table-seen select").first).to_be_visible()


def test_a_table_is_shown_before_anything_changes_and_becomes_a_job(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, DEMO_MM)
    hand.planned(page)
    paste(page, TABLE)
    expect(page.locator("#table-seen")).to_contain_text("2 boards, 4 readings")
    assert hand.saved_job(page) == DEMO_MM
    page.locator('[data-table="new"]').tap()
    made = hand.saved_job(page)
    assert [board["readings"] for board in made["boards"]] == [["27,8", "28,1"], ["26,9", "26,2"]]
    assert made["planer"] == DEMO_MM["planer"]
    expect(page.locator(".job-open")).to_have_count(2)


def test_a_table_is_added_to_the_lot_and_taken_back(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, DEMO_MM)
    hand.planned(page)
    paste(page, TABLE)
    page.locator('[data-table="add"]').tap()
    hand.planned(page)
    names = [row.inner_text().split("\n")[0] for row in page.locator("#rows .row").all()]
    assert names == ["A", "B", "C", "D", "A 2", "Q"]
    page.locator("#undo button").tap()
    hand.planned(page)
    assert hand.saved_job(page) == DEMO_MM


def test_a_column_that_was_misunderstood_is_put_right(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    paste(page, "6,1 1/16,1\n7,1 1/32,31/32\n")
    page.locator("#table-seen select").nth(0).select_option("width")
    page.locator("#table-seen select").nth(1).select_option("reading")
    page.locator("#table-seen select").nth(2).select_option("reading")
    expect(page.locator("#table-seen")).to_contain_text("2 boards, 4 readings")
    page.locator('[data-table="new"]').tap()
    assert hand.saved_job(page)["boards"][0]["width"] == "6"


def test_a_file_that_is_no_table_of_boards_changes_nothing(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.go(page, "jobs")
    page.locator("#tables > summary").tap()
    page.locator("#open-table").set_input_files({"name": "x.csv", "mimeType": "text/csv", "buffer": b"Note\n<b>\n"})
    expect(page.locator("#tables [role=status]")).to_contain_text("no readings")
    expect(page.locator("#table-take")).to_be_hidden()


def test_passes_and_boards_are_saved_as_csv(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.go(page, "jobs")
    page.locator("#tables > summary").tap()
    for what, words in (("passes", "Pass,Stage,Setting"), ("boards", "Board,Reading 1 (in)")):
        with page.expect_download() as download:
            page.locator(f'[data-table="{what}"]').tap()
        text = Path(download.value.path()).read_bytes()
        assert text.startswith(b"\xef\xbb\xbf" + words.encode())
        assert download.value.suggested_filename.endswith(f"{what}.csv")
    page.locator('[data-table="results"]').tap()
    expect(page.locator("#tables [role=status]")).to_contain_text("nothing to save yet. No board was measured")
    hand.open_job(page, {**DEMO_IN, "run": [{"did": "measure", "board": "A", "readings": ["0.758"]}]})
    hand.planned(page)
    hand.go(page, "jobs")
    with page.expect_download() as download:
        page.locator('[data-table="results"]').tap()
    assert b"Board,Count,Measured 1 (in)" in Path(download.value.path()).read_bytes()


@pytest.mark.parametrize(("locale", "comma"), [("en-US", False), ("de-DE", True)])
def test_tables_are_saved_as_this_device_writes_numbers(open_page: Open, locale: str, comma: bool) -> None:
    page = open_page(locale=locale)
    hand.ready(page)
    hand.go(page, "jobs")
    page.locator("#tables").evaluate(
        "(part) => { const folded = part.closest('details'); if (folded) folded.open = true }"
    )
    expect(page.locator("#table-comma")).to_be_checked(checked=comma)
    page.locator("label", has_text="Decimal comma").tap()
    hand.go(page, "lot")
    hand.go(page, "jobs")
    expect(page.locator("#table-comma")).to_be_checked(checked=not comma)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_code_on_paper_is_read_by_another_decoder(open_page: Open, server: Server, paper: str) -> None:
    page = open_page(script="window.print = () => {}")
    hand.ready(page)
    hand.planned(page)
    page.locator('#top [data-do="print"]').tap()
    page.wait_for_selector("#paper .qr", state="attached")
    printed = pypdfium2.PdfDocument(page.pdf(format=paper, prefer_css_page_size=False))
    dots = printed[0].render(scale=300 / 72, grayscale=True).to_numpy()  # as a scan of 300 dots an inch
    found = zxingcpp.read_barcodes(np.ascontiguousarray(dots.squeeze()))
    assert [each.text.split("#")[0] for each in found] == [server.url]
    assert from_link(found[0].text) == DEMO_IN
