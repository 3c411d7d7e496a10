"""At the machine: the screen stays awake, every surprise has its advice, and the rehearsal works without eyes, mouse or motion."""

from __future__ import annotations

import json
import threading

import hand
import pytest
from kit import Server
from phone import Open
from playwright.sync_api import Locator, Page, expect
from test_page_run import JOB, at_the_machine, changed, screen, step_on, tap_on
from thickset.doors.api import handle
from thickset.ground.job.run_events import SIGHTS, Sight
from thickset.planning.run.surprises import surprise as surprise_of

WAKE_LOCK = """
window.asked = []
Object.defineProperty(navigator, 'wakeLock', {value: {
  async request(kind) {
    const lock = new EventTarget()
    lock.release = async () => { window.asked.push('released'); lock.dispatchEvent(new Event('release')) }
    window.asked.push(kind)
    window.lock = lock
    return lock
  },
}})
"""
NO_WAKE_LOCK = (
    "Object.defineProperty(navigator, 'wakeLock', {value: {request: async () => { throw new DOMException('no') }}})"
)


LONG_LOT = {
    "thickset": 1,
    "title": "Eight boards",
    "units": "mm",
    "target": {"thickness": "20"},
    "boards": [
        {"name": name, "readings": [str(24.4 - 0.1 * n), "22"], "width": "140", "length": "1200"}
        for n, name in enumerate("ABCDEFGHIJKLMNOP")
    ],
    "planer": {"turn": "1.5"},
}
BOXES = """selector => [...document.querySelectorAll(selector)].map(one => {
  const {top, bottom} = one.getBoundingClientRect()
  return [top, bottom]
})"""


def asked(page: Page, *wanted: str) -> None:
    page.wait_for_function(
        "wanted => JSON.stringify(window.asked) === wanted", arg=str(list(wanted)).replace("'", '"').replace(", ", ",")
    )


def test_the_screen_stays_awake_at_the_machine_and_only_there(open_page: Open) -> None:
    page = open_page(script=WAKE_LOCK)
    hand.ready(page)
    asked(page)
    hand.go(page, "run")
    asked(page, "screen")
    # The phone was locked, and is unlocked again.
    page.evaluate(
        "window.lock.dispatchEvent(new Event('release')); document.dispatchEvent(new Event('visibilitychange'))"
    )
    asked(page, "screen", "screen")
    hand.go(page, "plan")
    asked(page, "screen", "screen", "released")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    hand.go(page, "lot")
    asked(page, "screen", "screen", "released")


@pytest.mark.parametrize("script", [NO_WAKE_LOCK, "Object.defineProperty(navigator, 'wakeLock', {value: undefined})"])
def test_nothing_is_said_where_the_screen_cannot_be_kept_awake(open_page: Open, script: str) -> None:
    page = open_page(script=script)
    at_the_machine(page)
    assert "awake" not in screen(page)
    expect(page.locator("#bars .bar:visible")).to_have_count(0)


def surprise(page: Page, *labels: str) -> None:
    """Tap a surprise, and in it whatever else is asked."""
    hand.rested(page)
    before = screen(page)
    page.locator("#run .surprises > summary").tap()
    page.locator("#run .surprises > button, #run .surprises > details > summary", has_text=labels[0]).tap()
    for label in labels[1:]:
        page.locator("#run .surprises > details[open] button", has_text=label).tap()
    changed(page, before)


@pytest.mark.parametrize("what", SIGHTS)
def test_every_surprise_has_its_advice_and_can_be_undone(open_page: Open, what: Sight) -> None:
    page = open_page()
    at_the_machine(page)
    before = screen(page)
    job, row = hand.saved_job(page), surprise_of(what)
    hand.go(page, "run")
    event = {"did": "see", "what": what, **({"board": "A"} if row.of_a_board else {})}
    answer = json.loads(handle(json.dumps({"ask": "follow", "job": {**job, "run": [event]}})))
    surprise(page, row.button, *(["A"] if row.of_a_board else []))
    assert hand.saved_job(page)["run"][0].items() >= event.items()
    hand.go(page, "run")
    for advice in answer["run"]["said"]:
        expect(page.locator("#run .said")).to_contain_text(advice)
    assert answer["run"]["said"]
    expect(page.locator("#run .huge")).to_be_visible()
    tap_on(page, "Undo: ")
    assert screen(page) == before


def not_clean(page: Page) -> Locator:
    """The opened form for a board that did not come out clean."""
    page.locator("#run .surprises > summary").tap()
    page.locator("#run .surprises summary", has_text="not clean").tap()
    return page.locator("#run .surprises > details[open]")


def test_a_board_that_is_not_clean_is_measured_and_planned_anew(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    before = screen(page)
    form = not_clean(page)
    form.locator("select").select_option("B")
    form.locator("input").first.fill("1 1/16 in")
    form.locator("input").last.fill("15/16")
    page.keyboard.press("Enter")
    expect(form.locator(".problem").first).to_contain_text("if it is meant, enter 1\u00a01/16 in")
    hand.rested(page)
    page.keyboard.press("Enter")
    changed(page, before)
    expect(page.locator("#run .feeding .ticks button")).to_have_text(["B"])


def test_a_reading_that_can_hardly_be_true_is_asked_about_whatever_its_unit_and_taken_when_entered_again(
    open_page: Open,
) -> None:
    page = open_page()
    at_the_machine(page)
    before = screen(page)
    form = not_clean(page)
    form.locator("input").first.fill("63.5 mm")
    form.locator("input").last.fill("15/16")
    page.keyboard.press("Enter")
    problem = form.locator(".problem").first
    expect(problem).to_have_text(
        "Board A was at its thickest 1 in, and 2 1/2 in is 1 1/2 in more. Measure again; if it is meant, enter 2 1/2 in."
    )
    expect(form.locator("input").first).to_be_focused()
    form.locator("input").first.fill("2 1/2 in")
    page.keyboard.press("Enter")
    changed(page, before)
    page.wait_for_selector("#pad", state="hidden")
    [event] = hand.saved_job(page)["run"]
    assert event["readings"] == ["2 1/2 in", "15/16"]


def test_the_focus_goes_on_at_the_top_of_the_screen_that_comes_and_to_no_button(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    for pass_ in ("Pass 2", "Pass 3"):
        hand.rested(page)
        page.locator("#run .huge").focus()
        page.keyboard.press("Enter")
        expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text(pass_)
        expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_be_focused()
        page.keyboard.press("Enter")
    assert len(hand.saved_job(page)["run"]) == 2


def test_a_measurement_that_is_asked_about_is_answered_on_the_pad(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    form = not_clean(page)
    form.locator("input").last.fill("15/16")
    form.locator("input").first.tap()
    hand.far(page, "2", "1/2", "2 1/2")
    expect(form.locator(".problem").first).to_contain_text("Measure again")
    before = screen(page)
    hand.press(page, "2 1/2 in?")
    changed(page, before)
    expect(page.locator("#run .said")).to_contain_text("Board A is now 15/16 in to 2 1/2 in")
    page.wait_for_selector("#pad", state="hidden")
    assert hand.saved_job(page)["run"][0]["readings"] == ["2 1/2 in", "15/16"]


def test_where_there_is_no_screen_for_a_run_the_last_entry_can_be_undone(open_page: Open) -> None:
    page = open_page()
    undone = page.evaluate("""async () => {
      const {createRun} = await import(new URL('beside/machine/run.js', location.href))
      const root = document.createElement('div')
      root.innerHTML = '<div id="at-machine"></div>'
      document.body.append(root)
      let undone = 0
      const run = createRun(root, {inHand: () => 'a', runNow: () => [{did: 'feed'}], onUndo: () => { undone += 1 }})
      run.paint('', [{at: 'request', text: 'It failed.'}])
      root.querySelector('[data-undo]').click()
      return [undone, root.querySelector('.hint').textContent]
    }""")
    assert undone == [1, "It failed."]


def test_while_the_planner_starts_nothing_covers_the_button_of_the_pass(open_page: Open, server: Server) -> None:
    page = open_page()
    at_the_machine(page)
    held = threading.Event()
    server.breaks("asm.wasm", lambda _handler: held.wait(60) and False)
    server.breaks(".bin", lambda _handler: held.wait(60) and False)
    page.reload()
    expect(page.locator("#boot")).to_be_visible()
    button, bar = page.locator("#run .huge").bounding_box(), page.locator("#boot").bounding_box()
    held.set()
    assert button
    assert bar
    assert button["y"] + button["height"] <= bar["y"]


def test_a_board_that_is_through_and_too_thick_moves_the_next_setting(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    step_on(page)
    before = screen(page)
    page.locator("#run .surprises > summary").tap()
    page.locator("#run .surprises summary", has_text="too thick or too thin").tap()
    page.locator("#run .surprises > details[open] input").fill("0.95")
    page.keyboard.press("Enter")
    changed(page, before)
    expect(page.locator("#run .scale-says")).to_contain_text("thicker than the scale reads")


def covered(page: Page) -> list[str]:
    """The boards whose button lies under a bar, each brought into view as a browser does it."""
    found: list[str] = (
        page.evaluate("""() => [...document.querySelectorAll('#run .feeding .ticks button')].filter(one => {
      one.scrollIntoView({block: 'nearest'})
      const {left, right, top, bottom} = one.getBoundingClientRect()
      return [top + 2, bottom - 2].some(y => !one.contains(document.elementFromPoint((left + right) / 2, y)))
    }).map(one => one.textContent)""")
    )
    page.evaluate("scrollTo(0, 0)")
    return found


@pytest.mark.parametrize("size", [{"width": 360, "height": 740}, {"width": 390, "height": 844}])
@pytest.mark.parametrize("job", [JOB, LONG_LOT], ids=["in", "mm"])
def test_no_board_is_under_a_bar_and_the_first_ones_are_seen_at_once(
    open_page: Open, job: dict[str, object], size: dict[str, int]
) -> None:
    page = open_page(viewport=size)
    at_the_machine(page, job)
    feeding = 0
    while page.locator("#run .huge").count():
        if page.locator("#run .feeding").count():
            feeding += 1
            [[bar, _]] = page.evaluate(BOXES, "#run .huge")
            first = page.evaluate(BOXES, "#run .feeding .ticks button")[0]
            assert first[1] < bar or page.locator("#run .said").count()
            assert not covered(page)
        step_on(page)
    assert feeding >= 4


def test_a_warning_leaves_in_sight_how_the_next_board_goes_in(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, LONG_LOT)
    step_on(page)
    surprise(page, "Torn grain", "A")
    expect(page.locator("#run .huge")).to_be_visible()
    [[bar, _]] = page.evaluate(BOXES, "#run .huge")
    assert page.evaluate(BOXES, "#run .how")[0][1] < bar
    assert not covered(page)


def test_boards_are_ticked_off_without_the_screen_moving_under_the_finger(open_page: Open) -> None:
    page = open_page()
    boards = [{**LONG_LOT["boards"][0], "name": f"N{n}"} for n in range(40)]  # type: ignore[index]
    at_the_machine(page, {**LONG_LOT, "boards": boards})
    for name in ("N39", "N38"):
        button = page.locator("#run .feeding .ticks button", has_text=name)
        button.evaluate("one => one.scrollIntoView({block: 'center'})")
        assert page.evaluate("scrollY") > 0
        [before] = page.evaluate(BOXES, "#run .feeding")
        tap_on(page, name)
        [after] = page.evaluate(BOXES, "#run .feeding")
        assert abs(after[0] - before[0]) < 2
    step_on(page)
    assert page.evaluate("scrollY") == 0


def test_the_letters_of_both_sides_stand_apart_in_the_small_pictures_too(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    step_on(page)
    expect(page.locator("#run .turning .wrong").first).to_be_visible()
    ups, downs = (page.evaluate(BOXES, f"#run .turning .wrong .face-{side}") for side in ("up", "down"))
    assert ups
    assert all(up[1] <= down[0] for up, down in zip(ups, downs, strict=True))


def test_the_rehearsal_honours_reduced_motion_and_speaks(open_page: Open) -> None:
    page = open_page(reduced_motion="reduce")
    hand.ready(page)
    page.locator("#rehearse > summary").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#frame h3")).to_have_text("Before the first pass")
    expect(page.locator("#rehearse [data-play]")).to_be_hidden()
    assert page.locator("#frame").get_attribute("aria-live") == "polite"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("#frame h3")).to_contain_text("After pass 1")
    picture = page.locator("#frame svg.lot")
    assert picture.get_attribute("role") == "img"
    told = page.locator(f"#{(picture.get_attribute('aria-labelledby') or '').split()[0]}")
    expect(told).not_to_be_empty()
    expect(page.locator("#frame .lying > li").first).to_contain_text("face B up, end 1 first")
