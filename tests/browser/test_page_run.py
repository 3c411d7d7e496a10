"""At the machine: a whole run by taps, the caliper's say, undo, and the page killed at every step."""

from __future__ import annotations

import json
import re

import hand
import pytest
from amounts import HOW
from lots import board, lot
from phone import Open
from playwright.sync_api import Page, expect
from thickset.ground.link.link import to_link

JOB = lot(("A", "1", "63/64"), board("7/8", "55/64", name="B", width="7"), title="Two boards", planer={"turn": "1/16"})


def at_the_machine(page: Page, job: dict[str, object] = JOB, *, known: bool = True) -> None:
    """At pass 1, on a planer whose scale is `known`."""
    hand.ready(page)
    hand.open_job(page, hand.scale_known(job) if known else job)
    hand.planned(page)
    hand.go(page, "run")
    hand.begin(page)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")


def screen(page: Page) -> str:
    return page.locator("#at-machine").inner_text()


def settle(page: Page) -> None:
    """Wait until the screen is that of the run as it is."""
    for part in ("#finals", "#at-machine"):
        page.wait_for_selector(f"{part}:not([aria-busy=true])", state="attached")


def changed(page: Page, before: str) -> None:
    """Wait until the screen that follows is there."""
    page.wait_for_function("before => document.querySelector('#at-machine').innerText !== before", arg=before)
    settle(page)


def tap_on(page: Page, label: str) -> None:
    """Tap a button of the run and wait for the screen that follows."""
    hand.rested(page)
    before = screen(page)
    page.locator("#run button", has_text=label).first.tap()
    changed(page, before)


def step_on(page: Page) -> None:
    """Do what the screen asks for: the test piece is right, or all boards are through."""
    hand.begin(page)
    before = screen(page)
    page.locator("#run .huge").tap()
    changed(page, before)


def test_a_whole_run_by_taps(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, known=False)
    steps = 0
    while page.locator("#run .huge").count():
        step_on(page)
        steps += 1
        assert steps < 30
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_have_text("Done")
    expect(page.locator("#run .outcome li")).to_contain_text(["A, B"])
    expect(page.locator("#run .outcome li")).to_contain_text(["on target"])
    expect(page.locator("#run button", has_text="Enter what came out")).to_be_in_viewport(ratio=1)
    page.locator("#run button", has_text="Enter what came out").tap()
    heading = page.locator("#finals h2")
    expect(heading).to_be_in_viewport(ratio=1)
    top = page.locator("#top").bounding_box()
    box = heading.bounding_box()
    assert top
    assert box
    assert 0 <= box["y"] - top["height"] < 24, "nothing stands above it"
    expect(page.locator("#final-0")).to_be_in_viewport()
    expect(page.locator('#nav [data-go="run"]')).to_have_attribute("aria-current", "page")
    page.locator("#on-target").tap()
    expect(page.locator("#final-board")).to_have_value("B")
    expect(page.locator("#run [data-undo]")).to_have_text("Undo: A measured")
    hand.rested(page)
    page.locator("#final-0").fill("3/4")
    page.locator("#finals button", has_text="Enter these").tap()
    expect(page.locator("#finals [role=status]")).to_contain_text("Every board is measured")
    page.locator("#finals button", has_text="what was learned").tap()
    expect(page.locator("#more-after .finals li")).to_have_text(["Board A: right", "Board B: right"])
    expect(page.locator("#plan .begun")).to_contain_text("The run has begun")
    events = hand.saved_job(page)["run"]
    assert [event["did"] for event in events].count("feed") == 5
    assert events[-1]["did"] == "measure"


def test_on_an_unknown_scale_one_piece_is_measured_and_the_boards_follow_at_a_scale_set_anew(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page, known=False)
    heading = page.locator("#at-machine h2:not(details *, .before-run *)")
    expect(page.locator("#plan .first-piece")).to_have_count(1)
    expect(page.locator("#run .test-piece h3")).to_have_text("Measure the first piece")
    expect(page.locator("#run .feeding")).to_have_count(0)
    page.locator("#run .test-piece [data-why]").tap()
    expect(page.locator("#why .pane-body")).to_contain_text("one is measured before the boards follow")
    page.locator("#why [data-close]").tap()
    page.locator("#run .test-piece input").first.fill("0.97")
    page.locator("#run .test-piece .measure button").first.tap()
    expect(page.locator("#run .said")).to_contain_text("too thick. Set the planer anew by that")
    expect(page.locator("#run .set")).to_contain_text("scale reads")
    expect(page.locator("#run .huge")).to_contain_text("All through")
    expect(heading).to_contain_text("Pass 1")
    tap_on(page, "Undo: test piece 0.97 in")
    page.locator("#run .test-piece summary").tap()
    page.locator("#run .test-piece details input").fill("0.95")
    page.locator("#run .test-piece details .measure button").tap()
    expect(page.locator("#run .said")).to_contain_text("Board A came out")
    assert hand.saved_job(page)["run"][0]["board"] == "A"


def test_boards_are_ticked_off_and_taken_back(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    while page.locator("#run .feeding .ticks button").count() != 2:
        step_on(page)
    expect(page.locator("#run .feeding .ticks button")).to_have_text(["A", "B"])
    tap_on(page, "B")
    through = page.locator('#run .feeding .ticks [aria-pressed="true"]')
    expect(through).to_have_text(["B"])
    expect(page.locator("#run .feeding .ticks button")).to_have_text(["A", "B"])
    expect(page.locator("#run .huge")).to_have_text("All through1 of 2 left")
    tap_on(page, "Undo: B through")
    expect(through).to_have_count(0)


def test_the_cautions_take_one_tap_once_a_run(open_page: Open) -> None:
    page = open_page(reads=False)
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    hand.go(page, "run")
    begin = page.locator("#run [data-begin]")
    expect(begin).to_be_visible()
    expect(page.locator("#run .huge")).to_be_hidden()
    expect(page.locator("#run .before-run")).to_contain_text("kickback")
    begin.tap()
    expect(begin).to_have_count(0)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
    for view in ("plan", "run"):
        hand.go(page, view)
    expect(page.locator("#run .huge")).to_be_visible()
    step_on(page)
    tap_on(page, "Undo")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
    expect(page.locator("#run .huge")).to_be_visible()
    assert hand.saved_job(page).get("run") in (None, [])


def test_a_tap_that_bounces_counts_once(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    page.locator("#run .huge").evaluate("button => { button.click(); button.click() }")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
    step_on(page)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 3")
    page.locator("#run [data-undo]").evaluate("button => { button.click(); button.click() }")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
    run = hand.saved_job(page)["run"]
    assert [event["did"] for event in run] == ["feed"]


def test_a_thick_test_piece_closes_the_planer(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    while "Test piece first" not in screen(page):
        step_on(page)
    page.locator("#run .test-piece .measure input").tap()
    hand.press(page, "0.87", "0.875")
    expect(page.locator("#run .verdict")).to_contain_text("Too thick. Close the planer by 1/32 in")
    expect(page.locator("#run .set")).to_contain_text("scale reads")
    assert "Test piece first" in screen(page)


def test_a_thin_test_piece_opens_it_and_costs_no_board(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    while "Test piece first" not in screen(page):
        step_on(page)
    page.locator("#run .test-piece .measure input").fill("0.79")
    page.locator("#run .test-piece .measure button").tap()
    expect(page.locator("#run .verdict")).to_contain_text("Too thin")
    expect(page.locator("#run .slack")).to_be_visible()


def test_an_empty_reading_is_asked_for(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    while "Test piece first" not in screen(page):
        step_on(page)
    page.locator("#run .test-piece .measure button").tap()
    expect(page.locator("#run .test-piece .measure .problem")).to_contain_text("Nothing is entered")


def test_surprises_change_the_plan_and_can_be_undone(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    page.locator("#run .surprises > summary").tap()
    page.locator("#run .surprises > details summary", has_text="dropped").tap()
    page.locator("#run .surprises > details[open] button", has_text="A").tap()
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("of 3")
    tap_on(page, "Undo: A taken out")
    expect(page.locator("#run .feeding .ticks button").first).to_have_text("A")


def killed(page: Page) -> Page:
    """The page is killed and opened again: it shows what it showed."""
    before, context, address = screen(page), page.context, page.url
    page.close()
    page = context.new_page()
    page.goto(address)
    expect(page.locator("#at-machine")).to_contain_text(before.split("\n")[0].strip())
    hand.ready(page)
    hand.begin(page)
    page.wait_for_function("before => document.querySelector('#at-machine').innerText === before", arg=before)
    return page


def enter(page: Page, form: str, *texts: str) -> None:
    """Type readings into a form of the run."""
    hand.rested(page)
    before = page.locator("#run [data-undo]").inner_text()
    for place, text in zip(page.locator(f"{form} input").all(), texts, strict=True):
        place.fill(text)
    page.locator(f"{form} button").first.tap()
    expect(page.locator("#run [data-undo]")).not_to_have_text(before)
    settle(page)


KILLED = [
    # job, {wanted opening: what the first piece there measures}, the verdicts, a surprise and its board
    ({}, {}, [], None),
    ({}, {"13/16": "0.83", "25/32": "0.76", "3/4": "0.74"}, ["Too thick", "Too thin", "Too thin"], ("Torn grain", "B")),
    ({"service": {"rest": "1/16"}}, {"27/32": "0.87", "3/4": "0.742"}, ["Too thick", "Too thin"], ("dropped", "A")),
]


KILLED_NAMES = ["right", "off", "rest"]
TRIED = slice(None) if HOW == "long" else slice(1, 2)


@pytest.mark.parametrize(("more", "readings", "verdicts", "surprise"), KILLED[TRIED], ids=KILLED_NAMES[TRIED])
def test_the_page_is_killed_at_every_step_and_the_run_is_where_it_was(
    open_page: Open,
    more: dict[str, object],
    readings: dict[str, str],
    verdicts: list[str],
    surprise: tuple[str, str] | None,
) -> None:
    page = open_page()
    at_the_machine(page, {**JOB, **more})
    left, heard, steps = dict(readings), [], 0
    while "Done" not in screen(page):
        page = killed(page)
        steps += 1
        assert steps < 40
        huge = page.locator("#run .huge")
        wanted = next(
            (one for one in left if huge.count() and f"measures {one} in" in (huge.text_content() or "")), None
        )
        if wanted:
            enter(page, "#run .test-piece .measure", left.pop(wanted))
            heard += [verdict for verdict in ("Too thick", "Too thin") if verdict in screen(page)]
        elif page.locator("#run .after-rest").count():
            enter(page, "#run .after-rest .measure", "27/32", "13/16")
        elif surprise and steps > 3:
            page.locator("#run .surprises > summary").tap()
            page.locator("#run .surprises > details > summary", has_text=surprise[0]).tap()
            page.locator("#run .surprises > details[open] button", has_text=surprise[1]).first.tap()
            expect(page.locator("#run .surprises")).not_to_have_attribute("open", "")
            settle(page)
            surprise = None
        else:
            step_on(page)
    killed(page)
    assert heard == verdicts
    assert not left
    assert not surprise


def test_two_tabs_on_one_run_stay_together(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    page.wait_for_function(
        "() => localStorage.getItem('thickset.now')?.includes('\"view\":\"run\"')"
    )  # kept a moment later
    other = page.context.new_page()
    other.goto(page.url)
    hand.ready(other)
    expect(other.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
    step_on(page)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
    expect(other.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")
    hand.take_pen(other)
    step_on(other)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 3")
    assert len(hand.saved_job(page)["run"]) == 2


def test_a_tab_that_slept_does_not_undo_what_another_did(open_page: Open) -> None:
    asleep = "addEventListener('storage', (event) => window.asleep && event.stopImmediatePropagation(), true)"
    page = open_page(script=asleep)
    at_the_machine(page)
    hand.stored(page)
    page.evaluate("window.asleep = true")
    other = page.context.new_page()
    other.goto(page.url)
    hand.ready(other)
    hand.take_pen(other)
    step_on(other)
    hand.stored(other)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 2")


def test_of_two_changes_at_once_none_is_lost(open_page: Open) -> None:
    alone = """
    addEventListener('storage', (event) => event.stopImmediatePropagation(), true)
    delete Navigator.prototype.locks
    delete window.BroadcastChannel
    """
    page = open_page(script=alone)
    at_the_machine(page)
    hand.stored(page)
    other = page.context.new_page()
    other.add_init_script(alone)
    other.goto(page.url)
    hand.ready(other)
    step_on(other)
    step_on(other)
    hand.stored(other)
    step_on(page)
    hand.stored(page)
    hand.go(page, "jobs")
    expect(page.locator(".job b")).to_have_text(
        ["Two boards", re.compile(r"^Two boards, as another tab left it at \d+:\d+")]
    )
    assert len(hand.saved_job(page)["run"]) == 1
    page.locator(".job-open", has_text="another tab").tap()
    assert len(hand.saved_job(page)["run"]) == 2


def test_a_link_that_comes_while_a_run_is_on_leaves_the_run_alone(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    step_on(page)
    before = screen(page)
    page.evaluate("(link) => { location.hash = link }", to_link({**JOB, "title": "Of a friend"}))
    expect(page.locator("#incoming")).to_contain_text("Of a friend, 2 boards")
    assert screen(page) == before
    page.locator("#incoming button", has_text="Open as a new job").tap()
    hand.planned(page)
    hand.go(page, "run")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 1")
    hand.go(page, "jobs")
    row = page.locator(".job", has_text="Two boards")
    expect(row.locator("small")).to_contain_text("run begun, last fed at")
    row.locator(".job-open").tap()
    hand.go(page, "run")
    page.wait_for_function("before => document.querySelector('#at-machine').innerText === before", arg=before)


@pytest.mark.parametrize(("name", "word"), [("QuotaExceededError", "full"), ("SecurityError", "does not let")])
def test_a_storage_that_fails_in_the_middle_of_a_run_is_told_and_the_run_goes_on(
    open_page: Open, name: str, word: str
) -> None:
    page = open_page()
    at_the_machine(page)
    step_on(page)
    hand.stored(page)
    page.evaluate("(name) => { Storage.prototype.setItem = () => { throw new DOMException('no', name) } }", name)
    step_on(page)
    expect(page.locator("#trouble")).to_contain_text(word)
    step_on(page)
    with page.expect_download() as download:
        page.locator("#trouble button").first.tap()
    saved = json.loads(download.value.path().read_text(encoding="utf-8"))
    assert len(saved["run"]) == 3
    expect(page.locator("#at-machine")).to_be_visible()


def test_the_plan_is_rehearsed_step_by_step(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, JOB)
    hand.planned(page)
    page.locator("#rehearse > summary").tap()
    expect(page.locator("#frame h3")).to_have_text("Before the first pass")
    expect(page.locator("#frame .lying > li")).to_have_count(2)
    passes = len(hand.settings(page))
    onward = page.locator("#rehearse [data-step='1']")
    onward.focus()
    for number in range(1, passes + 1):
        hand.rested(page)
        page.keyboard.press("Enter")
        expect(page.locator("#frame h3")).to_contain_text(f"After pass {number} of {passes}")
    expect(onward).to_be_disabled()
    expect(page.locator("#frame .lying > li").first).to_contain_text("3/4 in")
    page.locator("#rehearse [data-play]").tap()
    expect(page.locator("#frame h3")).to_contain_text("After pass 1", timeout=10_000)


def test_snipe_and_seconds_are_learned_when_told_and_the_next_lot_starts_from_them(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    while page.locator("#run .huge").count():
        step_on(page)
    run = hand.saved_job(page)["run"]
    assert "after" not in run[0]
    assert all(isinstance(event["after"], int) for event in run[1:])
    timed = [{**event, "after": 60} if n else event for n, event in enumerate(run)]
    hand.open_job(page, {**JOB, "run": timed})
    hand.planned(page)
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    page.locator("#more-after > summary").tap()
    page.locator("#snipe-lead").fill("3")
    page.locator("#snipe-trail").fill("2 1/2")
    page.locator("#more-after button", has_text="Enter the snipe").tap()
    expect(page.locator("#more-after")).to_contain_text("1 run with snipe measured")
    expect(page.locator("#more-after")).to_contain_text("1 run timed by its taps")
    page.locator('#more-after [data-do="learn"]').tap()
    job = hand.saved_job(page)
    assert job["planer"]["snipe"] == {"lead": "3 in", "trail": "2 1/2 in"}
    assert job["practice"]["handle_seconds"] > 0
    assert job["planer"]["record"]["sniped"] == job["planer"]["record"]["timed"] == 1


def test_undo_stands_at_one_place_at_every_step_with_a_pad_and_at_what_came_out(open_page: Open) -> None:
    page = open_page()
    at_the_machine(page)
    undo, seen = page.locator("#run [data-undo]"), set()

    def look() -> None:
        expect(undo).to_be_in_viewport(ratio=1)
        seen.add(json.dumps(undo.bounding_box()))
        assert undo.evaluate("""one => {
          const {left, right, top, bottom} = one.getBoundingClientRect()
          return one.disabled || one.contains(document.elementFromPoint((left + right) / 2, (top + bottom) / 2))
        }""")

    tried = False
    while page.locator("#run .huge").count():
        look()
        field = page.locator("#run .test-piece .measure input")
        if field.count() and not tried:
            tried = True
            field.tap()
            expect(page.locator("#pad")).to_be_visible()
            look()
            hand.press(page, "0.76", "0.760")
            expect(page.locator("#run .verdict")).to_contain_text("Too thin")
            settle(page)
            assert field.evaluate("""one => one.getBoundingClientRect().bottom
              <= document.querySelector('#run .huge').getBoundingClientRect().top"""), "no field is under the act"
        else:
            step_on(page)
    look()
    page.locator("#run button", has_text="Enter what came out").tap()
    look()
    page.locator("#final-0").tap()
    expect(page.locator("#pad")).to_be_visible()
    look()
    assert len(seen) == 1
    for n in range(3):
        expect(page.locator(f"label[for=final-{n}]")).to_be_in_viewport(ratio=1)
        hand.press(page, "On the mark 3/4")
    expect(page.locator("#final-board")).to_have_value("B")
    hand.rested(page)
    undo.tap()
    expect(page.locator("#final-board")).to_have_value("A")
    page.locator("#final-1").fill("0.7")
    hand.open_job(page, {**JOB, "title": "Another", "run": [{"did": "feed", "setting": "15/16", "scale": "15/16"}]})
    hand.planned(page)
    expect(page.locator("#pad")).to_be_hidden()
    hand.go(page, "run")
    expect(page.locator("#finals")).to_be_hidden()
    expect(page.locator("#final-1")).to_have_value("")
    expect(page.locator("#final-board")).to_have_value("A")
