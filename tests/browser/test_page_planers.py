"""Planers kept on the device: set up step by step, used by other jobs, each job with its own copy."""

from __future__ import annotations

import hand
from lots import fed_at, lot, metric_lot
from phone import Open
from playwright.sync_api import Page, expect


def set_up(page: Page) -> None:
    """Name a planer, its feeds and its cut, in the talk."""
    hand.go(page, "planer")
    page.locator('[data-planer="talk"]').tap()
    expect(page.locator("#talk h2")).to_contain_text("call this planer")
    hand.type_in(page, "planer.name", "Old green one")
    page.locator("#planer-fields button", has_text="Next").tap()
    assert page.locator("#planer-fields .field:visible").count() == 4
    hand.type_in(page, "planer.feeds[0]", "16 ft/min")
    while page.locator("#talk").is_visible():
        if page.locator('[data-field="practice.cut"]').is_visible():
            hand.type_in(page, "practice.cut", "3/64")
        page.locator("#planer-fields button", has_text="Next").tap()


def test_a_planer_is_set_up_step_by_step_and_kept(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    set_up(page)
    expect(page.locator("#planers b")).to_have_text(["Old green one"])
    expect(page.locator("#planers small")).to_have_text(["cut 3/64 · 16 ft/min"])
    expect(page.locator('[data-planer="keep"]')).to_be_hidden()
    job = hand.saved_job(page)
    assert job["planer"] == {"name": "Old green one", "feeds": ["16 ft/min"]}
    assert job["practice"] == {"cut": "3/64"}
    page.reload()
    hand.go(page, "planer")
    expect(page.locator("#planers b")).to_have_text(["Old green one"])


def test_another_job_takes_it_and_keeps_its_own_copy(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    set_up(page)
    hand.open_job(page, metric_lot())
    hand.go(page, "planer")
    assert hand.shown(page, "practice.cut") == ""
    page.locator("#planers .job-open").tap()
    assert hand.shown(page, "practice.cut") == "3/64 in"
    assert hand.shown(page, "planer.feeds[0]") == "16 ft/min"
    page.locator("#undo button").tap()
    assert hand.shown(page, "practice.cut") == ""
    page.locator("#planers .job-open").tap()
    page.locator("#planers [aria-label^=Delete]").tap()
    expect(page.locator("#planers b")).to_have_count(0)
    assert hand.shown(page, "practice.cut") == "3/64 in"
    page.locator("#undo button").tap()
    expect(page.locator("#planers b")).to_have_text(["Old green one"])


def to_the_scrap(page: Page) -> None:
    """In the talk, to the step that asks for a scrap."""
    hand.go(page, "planer")
    page.locator('[data-planer="talk"]').tap()
    while not page.locator("#scrap-scale").is_visible():
        page.locator("#planer-fields button", has_text="Next").tap()


def test_a_scrap_tells_how_far_off_the_scale_is(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    to_the_scrap(page)
    page.locator("#scrap-scale").fill("3/4")
    page.locator("#scrap-measured").fill("wide")
    expect(page.locator("[data-step=scrap]")).to_contain_text("cannot be read")
    page.locator("#scrap-measured").fill("0.758")
    expect(page.locator("[data-step=scrap]")).to_contain_text("0.008 in more")
    page.locator('[data-why="scrap"]').tap()
    expect(page.locator("#why .pane-body")).to_contain_text("0.758 − 3/4")
    expect(page.locator("#why .pane-body")).to_contain_text("readings that the scale known before is worth")
    page.locator("#why [data-close]").tap()
    page.locator("[data-step=scrap] button", has_text="Keep this").tap()
    expect(page.locator("[data-step=scrap]")).to_contain_text("rests on 1 scrap or run")
    assert page.locator("#scrap-scale").input_value() == ""
    page.locator("#scrap-scale").fill("1/2")
    page.locator("#scrap-measured").fill("0.508")
    page.locator("#planer-fields button", has_text="Next").tap()
    page.locator("#planer-fields button", has_text="Back").tap()
    expect(page.locator("[data-step=scrap]")).to_contain_text("rests on 2 scraps and runs")
    record = hand.saved_job(page)["planer"]["record"]
    assert abs(record["offset"] - 0.2) < 0.01
    assert record["runs"] == 2


def test_what_a_scrap_told_goes_with_the_kept_planer_and_can_be_forgotten(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    set_up(page)
    expect(page.locator('[data-planer="keep"]')).to_be_hidden()
    to_the_scrap(page)
    page.locator("#scrap-scale").fill("3/4")
    page.locator("#scrap-measured").fill("0.758")
    expect(page.locator("[data-step=scrap]")).to_contain_text("0.008 in more")
    page.locator("[data-step=scrap] button", has_text="Keep this").tap()
    expect(page.locator("#undo")).to_contain_text("The scrap is kept with Old green one.")
    page.locator("#planer-fields button", has_text="All fields").tap()
    expect(page.locator('[data-planer="keep"]')).to_be_hidden()
    record = hand.saved_job(page)["planer"]["record"]
    hand.open_job(page, metric_lot())
    hand.go(page, "planer")
    page.locator("#planers .job-open").tap()
    assert hand.saved_job(page)["planer"]["record"] == record
    hand.go(page, "planer")
    page.locator("summary", has_text="How far off").tap()
    page.locator("[data-step=scrap] button", has_text="Forget").tap()
    expect(page.locator("[data-step=scrap] button", has_text="Forget")).to_be_hidden()
    page.locator("#undo button").tap()
    assert hand.saved_job(page)["planer"]["record"] == record


KNOWN = hand.scale_known(lot(planer={"name": "Old green one"}))


def test_a_machine_under_a_new_name_takes_nothing_over_that_was_learned_of_another(open_page: Open) -> None:
    page = open_page()
    hand.open_job(page, KNOWN)
    hand.go(page, "planer")
    page.locator('[data-planer="keep"]').tap()
    expect(page.locator("#planers b")).to_have_text(["Old green one"])
    page.locator("#planer-fields summary", has_text="Name and kind").tap()
    hand.type_in(page, "planer.name", "Small red")
    hand.rested(page)
    page.locator('[data-planer="keep"]').tap()
    expect(page.locator("#undo")).to_contain_text("What was learned of Old green one stays with that one.")
    assert "record" not in hand.saved_job(page)["planer"]
    hand.go(page, "planer")
    page.locator("#planers .job-open", has_text="Old green one").tap()
    assert "record" in hand.saved_job(page)["planer"]


def test_another_planer_begins_with_nothing_known(open_page: Open) -> None:
    page = open_page()
    hand.open_job(page, KNOWN)
    hand.go(page, "planer")
    expect(page.locator('[data-planer="another"]')).to_be_hidden()
    page.locator('[data-planer="keep"]').tap()
    hand.rested(page)
    page.locator('[data-planer="another"]').tap()
    expect(page.locator("#talk h2")).to_contain_text("call this planer")
    assert "planer" not in hand.saved_job(page)
    page.locator("#undo button").tap()
    job = hand.saved_job(page)
    assert "record" in job["planer"]
    hand.open_job(page, {**job, "run": [{"did": "feed", "setting": "7/8", "scale": "7/8", "boards": ["A"]}]})
    hand.go(page, "planer")
    expect(page.locator('[data-planer="another"]')).to_be_hidden()


def test_a_record_that_makes_no_sense_leads_to_where_it_is_forgotten(open_page: Open) -> None:
    record = {"offset": 99, "offset_worth": 1, "spread": 0.05, "spread_worth": 5}
    board = {"name": "A", "readings": ["1"], "width": "6", "length": "40"}
    job = lot(board)
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {**job, "planer": {"record": record}})
    page.locator('#problems li[data-at="planer.record.offset"] button').tap()
    forget = page.locator("[data-step=scrap] button", has_text="Forget")
    expect(forget).to_be_focused()
    forget.tap()
    hand.planned(page)
    assert hand.saved_job(page) == job


def test_changes_to_a_planer_are_kept_when_asked(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    set_up(page)
    hand.type_in(page, "practice.cut", "1/32")
    keep = page.locator('[data-planer="keep"]')
    expect(keep).to_have_text("Keep the changes to Old green one")
    keep.tap()
    expect(page.locator("#planers small")).to_have_text(["cut 1/32 · 16 ft/min"])
    page.locator("#undo button").tap()
    expect(page.locator("#planers small")).to_have_text(["cut 3/64 · 16 ft/min"])


def test_a_problem_leads_out_of_the_talk(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.pile(page)
    hand.planned(page)
    hand.go(page, "planer")
    hand.type_in(page, "planer.step", "x")
    page.locator('[data-planer="talk"]').tap()
    page.locator("#at-a-glance").tap()
    expect(page.locator('[data-field="planer.step"] input')).to_be_focused()


KEPT = """(runs) => {
  const key = Object.keys(localStorage).find((one) => one.startsWith('thickset.planer.'))
  return key && (JSON.parse(localStorage.getItem(key)).record?.runs ?? 0) === runs
}"""


def test_a_kept_planer_learns_with_the_next_lot_and_unlearns_when_that_is_undone(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    run = [*fed_at("15/16"), {"did": "check", "thickness": "0.945"}]
    hand.open_job(page, lot(("A", "1", "63/64"), planer={"name": "Old green"}, run=run))
    hand.planned(page)
    hand.go(page, "planer")
    page.locator("#planers button", has_text="Keep this planer").tap()

    def kept(runs: int) -> None:
        """Wait for what is stored of the planer to rest on so many runs."""
        page.wait_for_function(KEPT, arg=runs)

    kept(0)
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    page.locator("#more-after > summary").tap()
    page.locator('#more-after [data-do="learn"]').tap()
    expect(page.locator("#undo")).to_contain_text("Old green has learned")
    kept(1)
    page.locator("#undo button").tap()
    kept(0)


def test_an_older_job_teaches_a_planer_its_run_once_and_takes_nothing_back_from_it(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    run = [*fed_at("15/16"), {"did": "check", "thickness": "0.945"}]
    boards = [{"name": "A", "readings": ["1", "63/64"], "width": "6", "length": "40"}]
    older = lot(*boards, units=None, title="Older", run=run)
    record = {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 6, "runs": 7, "fed": 100}
    hand.open_job(
        page, {**older, "title": "Newer", "planer": {"name": "Old green", "deepest_cut": "3/32", "record": record}}
    )
    hand.planned(page)
    hand.go(page, "planer")
    page.locator("#planers button", has_text="Keep this planer").tap()
    page.wait_for_function(KEPT, arg=7)

    def planer() -> dict:
        return page.evaluate(
            "JSON.parse(localStorage.getItem(Object.keys(localStorage).find((one) => one.startsWith('thickset.planer.'))))"
        )

    def learn() -> None:
        hand.planned(page)
        hand.go(page, "plan")
        page.locator('#plan [data-go="more"]').tap()
        if not page.locator("#more-after [data-do=learn]").is_visible():
            page.locator("#more-after > summary").tap()
        expect(page.locator("#more-after")).to_contain_text("The run is not through: 1 pass done")
        page.locator('#more-after [data-do="learn"]').tap()

    hand.open_job(page, {**older, "planer": {"name": "Old green", "deepest_cut": "1/8"}})
    learn()
    expect(page.locator("#undo")).to_contain_text("Old green has learned")
    page.wait_for_function(KEPT, arg=8)
    assert planer()["record"]["fed"] > 100
    assert planer()["settings"]["planer.deepest_cut"] == "3/32"
    job = hand.saved_job(page)
    assert job["planer"]["record"]["runs"] == 8
    assert job["planer"]["deepest_cut"] == "3/32"
    hand.go(page, "jobs")
    page.locator("#jobs .job-open", has_text="Older").tap()
    learn()
    expect(page.locator("#undo")).to_contain_text("had learned before")
    assert planer()["record"]["runs"] == 8


def test_new_knives_are_told_to_the_kept_planer_and_can_be_taken_back(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    record = {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 6, "runs": 7, "fed": 100}
    boards = [{"name": "A", "readings": ["1", "63/64"], "width": "6", "length": "40"}]
    run = fed_at("15/16")
    planer = {"name": "Old green", "record": record}
    hand.open_job(page, lot(*boards, units=None, planer=planer, run=run))
    hand.planned(page)
    hand.go(page, "planer")
    page.locator("#planers button", has_text="Keep this planer").tap()
    page.wait_for_function(KEPT, arg=7)
    fed = """(far) => JSON.parse(localStorage.getItem(
        Object.keys(localStorage).find((one) => one.startsWith('thickset.planer.')))).record.fed === far"""
    hand.go(page, "plan")
    page.locator('#plan [data-go="more"]').tap()
    page.locator("#more-after > summary").tap()
    page.locator('#more-after [data-do="new-knives"]').tap()
    page.wait_for_function(fed, arg=0)
    page.locator("#undo button").tap()
    page.wait_for_function(fed, arg=100)
    assert hand.saved_job(page)["planer"]["record"]["fed"] == 100


def test_a_kept_planer_says_nothing_of_how_boards_are_cut_and_what_they_cost(open_page: Open) -> None:
    job = lot()
    own = {"cutting": {"kerf": "1/8", "trim": "1", "ends": "butted"}, "rates": {"people": 40, "wood": 6.5}}
    page = open_page()
    hand.open_job(page, {**job, **own, "planer": {"name": "Green", "step": "1/64"}})
    hand.go(page, "planer")
    page.locator('[data-planer="keep"]').tap()
    other = {"cutting": {"kerf": "3"}, "rates": {"wood": 2800}}
    hand.open_job(page, {**job, **other, "units": "mm", "target": {"thickness": "20"}})
    hand.go(page, "planer")
    page.locator("#planers .job-open").tap()
    expect(page.locator("#planers .job-open")).to_have_attribute("aria-current", "true")
    saved = hand.saved_job(page)
    assert saved["planer"] == {"name": "Green", "step": "1/64 in"}
    assert saved["cutting"] == other["cutting"]
    assert saved["rates"] == {"people": 40, "wood": 2800}


def test_the_price_of_wood_costs_the_same_in_other_units(open_page: Open) -> None:
    board = {"name": "A", "readings": ["1"], "width": "6", "length": "48"}
    job = lot(board, rates={"wood": 6.5})
    page = open_page()
    hand.open_job(page, job)
    hand.go(page, "more")
    page.locator("#more-time summary").first.tap()
    cost = page.locator('[data-more="time"]', has_text="13")
    expect(cost).to_contain_text("13.00")
    hand.units(page, "mm")
    hand.to_more(page)
    hand.planned(page)
    assert hand.shown(page, "rates.wood") == "6.5 per board foot"
    expect(cost).to_contain_text("13.00")
    hand.units(page, "in")
    assert hand.saved_job(page)["rates"] == {"wood": 6.5}
