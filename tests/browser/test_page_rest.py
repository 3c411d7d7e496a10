"""Two stages of one job on the page: the rest between them, the readings after it, the page killed meanwhile."""

from __future__ import annotations

import hand
from phone import Open
from playwright.sync_api import expect
from test_page_look import fit
from test_page_run import JOB, screen, step_on, tap_on


def test_a_job_rests_between_its_stages_and_is_finished_from_its_new_readings(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    hand.open_job(page, {**JOB, "service": {"rest": "1/16"}})
    hand.planned(page)
    hand.go(page, "plan")
    expect(page.locator("#plan .pass.rest")).to_contain_text("Let the boards rest, measure again")
    fit(page)
    hand.go(page, "run")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("before the rest")
    while page.locator("#run .huge").count():
        step_on(page)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Let the boards rest")
    fit(page)
    before, context, address = screen(page), page.context, page.url
    page.close()
    page = context.new_page()
    page.goto(address)
    hand.ready(page)
    page.wait_for_function("before => document.querySelector('#at-machine').innerText === before", arg=before)
    thickest, thinnest = (page.locator("#run .after-rest input").nth(n) for n in (0, 1))
    thickest.fill("27/32")
    thinnest.fill("13/16")
    page.locator("#run .after-rest .measure button").tap()
    expect(page.locator("#run .after-rest h3")).to_contain_text("Board B")
    tap_on(page, "Measured: B is still")
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_contain_text("Pass 5")
    while page.locator("#run .huge").count():
        step_on(page)
    expect(page.locator("#at-machine h2:not(details *, .before-run *)")).to_have_text("Done")
    measured = [event for event in hand.saved_job(page)["run"] if event["did"] == "measure"]
    assert [event["board"] for event in measured] == ["A", "B"]
    assert measured[0]["readings"] == ["27/32", "13/16"]


def test_todays_thickness_is_taken_as_the_target_by_a_tap_and_given_back_by_another(open_page: Open) -> None:
    page = open_page()
    hand.ready(page)
    boards = [{**board, "species": "Beech, American"} for board in JOB["boards"]]
    hand.open_job(page, {**JOB, "boards": boards, "service": {"moisture_now": 12, "moisture_then": 6}})
    hand.planned(page)
    hand.go(page, "plan")
    expect(page.locator("#plan .notes")).to_contain_text("more than the tolerance")
    expect(page.locator("#plan .pass:last-of-type .for-today")).to_be_visible()
    page.locator('#plan .pass:last-of-type [data-do="take-today"]').tap()
    expect(page.locator("#plan .movement > summary")).to_contain_text("0.759 in is today's thickness")
    expect(page.locator("#plan .notes")).to_have_count(0)
    page.locator("#undo button").tap()
    expect(page.locator("#plan .notes")).to_contain_text("more than the tolerance")
    job = hand.saved_job(page)
    assert job["target"]["thickness"] == "3/4"
    assert "thickness" not in job["service"]
