"""Beside the plan: minutes, two lots, lengths, stock, support, butting, after the run."""

from __future__ import annotations

from typing import Any

import hand
import pytest
from lots import board, fed_at, lot
from phone import Open
from playwright.sync_api import Locator, Page, expect
from test_page_look import fit

JOB: dict[str, Any] = lot(
    board("1", "63/64", name="A", length="70"),
    board("51/64", "49/64", name="B", width="7"),
    title="Bench slats",
    planer={"snipe": {"lead": "3", "trail": "2"}},
)


def at_more(page: Page, job: dict[str, Any] = JOB) -> None:
    hand.ready(page)
    hand.open_job(page, job)
    hand.planned(page)
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    expect(page.locator("#more-time [data-more]")).to_contain_text("This plan saves")


def unfold(page: Page, name: str) -> None:
    page.locator(f"#more-{name} > summary").tap()


def test_a_schedule_alone_never_meets_it(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    expect(page.locator("#more")).to_be_hidden()
    assert page.locator('#nav [data-go="more"]').count() == 0


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_part_unfolded_fits_the_hand_and_the_eye(open_page: Open, scheme: str) -> None:
    page = open_page(color_scheme=scheme)
    at_more(page)
    for folded in page.locator("#more > details > summary").all():
        folded.tap()
    page.locator("#part-0-length").fill("30")
    expect(page.locator("#more-leave .cuts")).to_contain_text("B: Part 1")
    fit(page)


def test_minutes_and_cost(open_page: Open) -> None:
    page = open_page()
    at_more(page)
    unfold(page, "time")
    expect(page.locator("#more-time svg.bars")).to_be_visible()
    hand.type_in(page, "rates.people", "30")
    expect(page.locator("#more-time .cost")).to_contain_text("Cost:")
    assert hand.saved_job(page)["rates"] == {"people": 30}


def test_two_lots_are_two_jobs_by_one_tap_and_undone_by_another(open_page: Open) -> None:
    page = open_page()
    at_more(page)
    unfold(page, "split")
    expect(page.locator("#more-split")).to_contain_text("1 board more")
    page.locator('#more-split [data-do="split-job"]').tap()
    expect(page.locator("#job-title")).to_contain_text("the thicker boards")
    page.locator("#job-title").dispatch_event("click")  # the undo stands over it for a while
    expect(page.locator("#job-list")).to_contain_text("the thinner boards")
    expect(page.locator("#job-list .job")).to_have_count(3)
    page.locator("#undo button").tap()
    expect(page.locator("#job-title")).to_contain_text("Bench slats")


def test_parts_become_a_cutting_plan_and_stay_in_the_job(open_page: Open) -> None:
    page = open_page()
    at_more(page)
    unfold(page, "leave")
    page.locator("#part-0-name").fill("slat")
    page.locator("#part-0-length").fill("30")
    page.locator("#part-0-count").fill("3")
    expect(page.locator("#more-leave .cuts")).to_contain_text("slat 3 to 33 in")
    expect(page.locator("#more-leave svg.bars")).to_be_visible()
    job = hand.saved_job(page)
    assert job["parts"] == [{"name": "slat", "length": "30", "count": 3}]


def test_will_this_board_make_it_and_what_to_buy(open_page: Open) -> None:
    page = open_page()
    at_more(page)
    unfold(page, "slab")
    for name, text in (("length", "72"), ("width", "6"), ("middle", "1 1/16"), ("bow", "1/4")):
        page.locator(f"#slab-{name}").fill(text)
    expect(page.locator("#more-slab [data-more]")).to_contain_text("Still to enter: Part, thickness")
    page.locator("#slab-part_thickness").fill("7/8")
    expect(page.locator("#more-slab [data-more]")).to_contain_text("No: it is 1/16 in too thin")
    page.locator("#slab-part_length").fill("30")
    expect(page.locator("#more-slab [data-more]")).to_contain_text("Yes: it makes 7/8 in")
    why(page, "slab")
    expect(page.locator("#why details").first).to_contain_text("What the slab has to spare")
    expect(page.locator("#why details").nth(1)).to_contain_text("its weight")
    page.locator("#why [data-close]").tap()
    unfold(page, "buy")
    page.locator("#buy-thickness").fill("7/8")
    expect(page.locator("#more-buy [data-more]")).to_contain_text("Buy 5/4 rough")
    why(page, "buy")
    expect(page.locator("#why details").first).to_contain_text("1 3/16 − 7/8 − 3/32 − 3/32")


def why(page: Page, what: str) -> None:
    """The sheet, answered, for a form of its own."""
    button = page.locator(f'[data-why="{what}"]')
    box = button.bounding_box()
    assert box
    assert box["height"] >= 48
    button.tap()
    expect(page.locator("#why .why")).to_be_visible(timeout=20_000)


def test_after_the_run_boards_are_measured_and_the_next_lot_starts_from_what_was_learned(open_page: Open) -> None:
    run = [*fed_at("15/16"), {"did": "check", "thickness": "0.945"}]
    page = open_page()
    at_more(page, {**JOB, "run": run})
    unfold(page, "after")
    why(page, "ends")
    expect(page.locator("#why details").first).to_contain_text("Board A: cut off end 1")
    page.locator("#why [data-close]").tap()
    page.locator("#more-after button", has_text="Enter what came out").tap()
    page.locator("#final-0").fill("0.745")
    page.locator("#final-1").fill("0.76")
    hand.rested(page)
    page.locator("#finals button", has_text="Enter these").tap()
    expect(page.locator("#finals [role=status]")).to_contain_text("Board A is entered")
    expect(told(page)).to_contain_text("Board A")
    expect(page.locator("#more-after")).to_contain_text("With this run (1 run")
    why(page, "record")
    expect(page.locator("#why details").first).to_contain_text("opens more than its scale reads")
    page.locator("#why [data-close]").tap()
    page.locator('#more-after [data-do="learn"]').tap()
    record = hand.saved_job(page)["planer"]["record"]
    assert record["runs"] == 1
    assert record["offset"] > 0


def at_finals(page: Page, job: dict[str, object]) -> None:
    """To what came out of a run, by way of what stands beside the plan."""
    at_more(page, job)
    unfold(page, "after")
    page.locator("#more-after button", has_text="Enter what came out").tap()
    expect(page.locator("#finals h2")).to_be_in_viewport(ratio=1)


def told(page: Page) -> Locator:
    """What came of it."""
    hand.to_more(page)
    return page.locator("#more-after .finals")


RUN = [*fed_at("15/16"), {"did": "check", "thickness": "0.945"}]


def test_a_reading_after_the_run_that_no_one_can_read_stays_at_its_field(open_page: Open) -> None:
    page = open_page()
    at_finals(page, {**JOB, "run": RUN})
    page.locator("#final-0").fill("0.745")
    page.locator("#final-2").fill("1/0")
    enter = page.locator("#finals button", has_text="Enter these")
    hand.rested(page)
    enter.tap()
    place = page.locator('#finals .field[data-spot="end 2 center"]')
    expect(place.locator(".problem")).to_contain_text("Write")
    expect(page.locator("#final-2")).to_have_value("1/0")
    expect(page.locator("#final-0")).to_have_value("0.745")
    expect(page.locator("#final-board")).to_have_value("A")
    page.locator("#final-2").fill("0.75")
    expect(place.locator(".problem")).to_have_text("")
    hand.rested(page)
    enter.tap()
    expect(page.locator("#final-2")).to_have_value("")
    expect(told(page)).to_contain_text("Board A")
    page.locator("#snipe-lead").fill("2")
    page.locator("#snipe-trail").fill("wide")
    page.locator("#more-after button", has_text="Enter the snipe").tap()
    expect(page.locator("#snipe .field.wrong .problem")).to_contain_text("Write")
    run = hand.saved_job(page)["run"]
    assert len(run) == len(RUN) + 1
    assert run[-1]["readings"] == ["0.745", "0.75"]
    assert run[-1]["places"] == ["end 1 center", "end 2 center"]


def test_what_came_out_is_tapped_board_after_board_without_those_that_are_out(open_page: Open) -> None:
    page = open_page()
    dropped = {"did": "remove", "board": "B", "why": "dropped"}
    three = [*JOB["boards"], {**JOB["boards"][0], "name": "C"}]
    at_finals(page, {**JOB, "boards": three, "run": [*RUN, dropped]})
    expect(page.locator("#final-board option")).to_have_text(["A", "C"])
    page.locator("#final-0").tap()
    for name in "AC":
        hand.press(page, "On the mark 3/4")
        expect(page.locator("#final-1")).to_be_focused()
        hand.press(page, "Same as the last 3/4")
        hand.near(page, "0.750")
        expect(page.locator("#finals [role=status]")).to_contain_text(f"Board {name} is entered")
    page.wait_for_selector("#pad", state="hidden")
    hand.to_more(page)
    expect(page.locator("#more-after")).to_contain_text("2 of 2 measured")
    run = hand.saved_job(page)["run"]
    assert [(one["board"], one["readings"]) for one in run[-2:]] == [
        ("A", ["3/4", "3/4", "0.750"]),
        ("C", ["3/4", "3/4", "0.750"]),
    ]


def test_what_came_out_is_entered_by_the_picture_of_the_board(open_page: Open) -> None:
    page = open_page()
    at_finals(page, {**JOB, "run": RUN})
    page.locator("#final-1").fill("0.75")
    page.locator("#final-spots > summary").tap()
    spots = page.locator("#final-spots .spots")
    for spot, text in (("End 2, right", "0.7"), ("End 1, left", "1/0")):
        spots.locator(f'button[aria-label^="{spot}"]').tap()
        page.locator("#final-here").fill(text)
    expect(spots.locator("button", has_text="0.75")).to_have_attribute("aria-label", "Middle, center: 0.75")
    fit(page)
    hand.rested(page)
    spots.locator('button[aria-label^="Middle, left"]').tap()
    hand.rested(page)
    page.locator("#finals button", has_text="Enter these").tap()
    expect(page.locator("#final-spots .problem")).to_contain_text("Write")
    expect(page.locator("#final-here")).to_have_value("1/0")
    expect(page.locator("#final-here")).to_be_focused()
    page.locator("#final-here").fill("0.749")
    hand.rested(page)
    page.locator("#finals button", has_text="Enter these").tap()
    expect(page.locator("#final-board")).to_have_value("B")
    expect(told(page)).to_contain_text("too thin at end 2, right")
    why(page, "rescue")
    expect(page.locator("#why details").first).to_contain_text("Board A: the shorter part")
    page.locator("#why [data-close]").tap()
    event = hand.saved_job(page)["run"][-1]
    assert event["places"] == ["end 1 left", "middle center", "end 2 right"]
    assert event["readings"] == ["0.749", "0.75", "0.7"]
