"""Without a network: once loaded, the page plans for ever; a new version comes whole and when the person agrees."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import hand
import pytest
from deploys import ASK_WORKER, LOOK_FOR_UPDATE, READY, deploy_next, open_and_keep, plan_a_pile
from kit import FLAGS, Server, Watched, chromium_path, engine_ready, reply
from playwright.sync_api import Page, Playwright, expect
from test_engine import TRAPS

pytestmark = pytest.mark.deploys


def test_once_loaded_it_plans_without_a_server_in_a_new_browser(
    playwright: Playwright, server: Server, tmp_path: Path
) -> None:
    def start() -> Any:
        return playwright.chromium.launch_persistent_context(
            str(tmp_path / "profile"),
            executable_path=chromium_path(playwright),
            args=FLAGS,
            viewport={"width": 390, "height": 844},
            has_touch=True,
        )

    context = start()
    open_and_keep(context.new_page(), server)
    context.close()
    server.stop()

    context = start()
    watched = Watched(context, server)
    page = context.new_page()
    page.goto(server.url + "?from=home#plan")
    engine_ready(page)
    assert plan_a_pile(page)[-1] == 19.05
    expect(page.locator("#offline")).to_contain_text(READY)
    context.close()
    watched.check()
    server.start()


def test_a_device_that_needs_the_plain_start_has_it_without_a_network(
    page: Page, server: Server, deployed: Path, watched: Watched
) -> None:
    """The heap is whole, and this device cannot restore it."""
    worker = next(deployed.glob("app-*/worker.js"))
    text = worker.read_text(encoding="utf-8")
    spoiled = re.sub(r"(?<=\bmagic:)\d+", "1", text)
    assert spoiled != text
    worker.write_text(spoiled, encoding="utf-8")
    deploy_next(deployed)
    open_and_keep(page, server)
    page.close()
    server.stop()
    page = watched.new_page()
    page.goto(server.url)
    engine_ready(page)
    assert plan_a_pile(page)[-1] == 19.05
    expect(page.locator("#offline")).to_contain_text(READY)
    server.start()


SAVES_DATA = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"
SPOIL = """async (name) => {
  for (const one of await caches.keys()) {
    const cache = await caches.open(one)
    for (const request of await cache.keys()) if (request.url.endsWith(name)) await cache.put(request, new Response('spoiled'))
  }
}"""
HELD = """caches.keys()
  .then((names) => Promise.all(names.map(async (name) => (await caches.open(name)).keys())))
  .then((all) => all.flat().map(({url}) => url.split('/').pop()))"""


def test_what_is_rarely_needed_is_kept_but_where_data_are_saved_and_a_lack_is_said(
    page: Page, server: Server, app: str, deployed: Path, watched: Watched
) -> None:
    worker = deployed / app / "worker.js"
    worker.write_text(worker.read_text(encoding="utf-8") + TRAPS, encoding="utf-8")
    new = f"app-{deploy_next(deployed)}"
    for complaint in ("fatal error", "unreachable", "ERR_", "could not be fetched"):
        watched.expect_complaint(complaint)
    page.add_init_script(SAVES_DATA)
    open_and_keep(page, server)
    expect(page.locator("#offline")).to_contain_text("but for a part that is rarely needed")
    assert "pyodide.asm.wasm" in page.evaluate(HELD)
    assert "pyodide.asm.rest" not in page.evaluate(HELD)
    plan_a_pile(page)
    server.stop()
    hand.go(page, "jobs")
    page.locator("#title").fill("Fatal lot")
    engine_ready(page, state="failed")
    expect(page.locator("#boot-cure")).to_contain_text(
        "a part of the planner that is not kept on this device yet. Connect"
    )
    assert page.locator("#title").input_value() == "Fatal lot"
    server.start()
    page.locator('[data-do="restart"]').tap()
    engine_ready(page)
    hand.planned(page)
    assert hand.saved_job(page)["title"] == "Fatal lot"

    page.close()
    other = watched.new_page()
    open_and_keep(other, server)
    expect(other.locator("#offline")).to_have_text(f"{READY}.")
    assert "pyodide.asm.rest" in other.evaluate(HELD)
    assert other.evaluate(ASK_WORKER, [new, "VERIFY"])["missing"] == []
    other.evaluate(SPOIL, "pyodide.asm.rest")
    other.reload()  # the lot traps again, and the line has what is spoiled here
    engine_ready(other)
    hand.planned(other)
    expect(other.locator("#offline")).to_have_text(f"{READY}.")
    other.evaluate(SPOIL, "pyodide.asm.rest")
    server.stop()
    other.reload()
    engine_ready(other, state="failed")
    expect(other.locator("#boot-cure")).to_contain_text("Connect, then try again")
    server.start()
    other.locator('[data-do="restart"]').tap()
    engine_ready(other)
    other.reload()
    engine_ready(other)
    expect(other.locator("#offline")).to_have_text(f"{READY}.")
    server.stop()
    other.reload()
    engine_ready(other)
    hand.planned(other)
    assert not [path for path in server.asked if path.startswith("/shop/plain/")]
    server.start()


def test_a_host_that_knows_people_by_a_cookie_is_kept_as_well(page: Page, server: Server, watched: Watched) -> None:
    def closed(handler: Any) -> bool:
        if "member=1" in (handler.headers.get("Cookie") or ""):
            return False
        handler.send_error(403)
        return True

    server.breaks("", closed)
    watched.context.add_cookies([{"name": "member", "value": "1", "url": server.url}])
    open_and_keep(page, server)
    assert page.evaluate("fetch(document.querySelector('link[rel=manifest]').href).then((answer) => answer.ok)")
    server.stop()
    page.reload()
    engine_ready(page)
    server.start()


def test_it_proves_what_it_holds_and_mends_what_is_spoiled(page: Page, server: Server, app: str) -> None:
    open_and_keep(page, server)
    told = page.evaluate(ASK_WORKER, [app, "VERIFY"])
    assert told == {"id": app.removeprefix("app-"), "whole": True, "missing": []}
    page.evaluate(
        """async () => {
          for (const name of await caches.keys()) {
            const cache = await caches.open(name)
            for (const request of await cache.keys()) {
              if (request.url.endsWith('style.css')) await cache.delete(request)
              if (request.url.endsWith('pyodide.mjs')) await cache.put(request, new Response('spoiled'))
            }
          }
        }"""
    )
    told = page.evaluate(ASK_WORKER, [app, "VERIFY"])
    assert sorted(path.rsplit("/", 1)[-1] for path in told["missing"]) == ["pyodide.mjs", "style.css"]
    assert told["whole"]
    assert page.evaluate(ASK_WORKER, [app, "VERIFY"])["missing"] == []
    server.stop()
    page.evaluate("caches.keys().then((names) => caches.delete(names.find((name) => name.includes(' runtime '))))")
    assert not page.evaluate(ASK_WORKER, [app, "VERIFY"])["whole"]
    server.start()


def test_a_break_while_fetching_costs_one_file_and_no_half_version_is_used(
    page: Page, server: Server, watched: Watched
) -> None:
    watched.expect_complaint("")
    once = {"wasm": 0}

    def breaks(handler: Any) -> bool:
        once["wasm"] += 1
        if handler.headers.get("Sec-Fetch-Dest") == "empty" and once["wasm"] in (2, 3):
            handler.close_connection = True
            return True
        return False

    server.breaks("pyodide.asm.wasm", breaks)
    page.goto(server.url)
    engine_ready(page)
    page.evaluate(
        """async () => {
          const wait = (ms) => new Promise((resolve) => setTimeout(resolve, ms))
          while ((await caches.keys()).length < 2) await wait(50)
          while ((await navigator.serviceWorker.getRegistration())?.installing) await wait(50)
        }"""
    )
    assert READY not in page.inner_text("#offline")
    server.mends()
    server.asked.clear()
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#offline")).to_contain_text(READY, timeout=60_000)
    again = [path.rsplit("/", 1)[-1] for path in server.asked]
    assert "pyodide.asm.wasm" in again
    assert "engine.js" not in again, "what was fetched before the break is fetched again"


def test_what_lay_on_the_way_of_another_version_is_asked_for_anew(page: Page, server: Server) -> None:
    """A cache between answers a question whether its copy is still good, and not one that wants no copy."""
    asked: list[str] = []

    def between(handler: Any) -> bool:
        if handler.headers.get("Sec-Fetch-Dest") != "empty":
            return False
        asked.append(handler.headers["Cache-Control"])
        return asked[-1] != "no-cache" and reply(handler, b"spoiled")

    server.breaks("/checks.html", between)
    open_and_keep(page, server)
    assert asked == ["max-age=0", "no-cache"]


def test_a_host_that_sends_the_page_by_its_folder_alone_is_kept(page: Page, server: Server) -> None:
    def elsewhere(handler: Any) -> bool:
        handler.send_response(301)
        handler.send_header("Location", "./")
        handler.send_header("Content-Length", "0")
        handler.end_headers()
        return True

    server.breaks("/index.html", elsewhere)
    open_and_keep(page, server)
    server.stop()
    page.reload()
    engine_ready(page)
    server.start()


def test_what_is_not_whole_is_not_said_to_be_ready(page: Page, server: Server, app: str, watched: Watched) -> None:
    watched.expect_complaint("")
    open_and_keep(page, server)
    page.evaluate("caches.keys().then((names) => caches.delete(names.find((name) => name.includes(' runtime '))))")
    server.stop()
    page.clock.install()
    page.reload()
    engine_ready(page, state="failed")
    page.clock.run_for(4_000)
    assert not page.evaluate(ASK_WORKER, [app, "VERIFY"])["whole"]  # the page has asked by now, and is answered first
    assert READY not in page.inner_text("#offline")
    server.start()


def test_what_came_under_a_wrong_name_is_kept_under_the_right_one(
    page: Page, server: Server, deployed: Path, watched: Watched
) -> None:
    watched.expect_complaint("")

    def text(handler: Any) -> bool:
        return reply(handler, next(deployed.glob("runtime-*/pyodide.asm.wasm")).read_bytes(), "text/plain")

    server.breaks("asm.wasm", text)
    open_and_keep(page, server)
    assert page.locator("html").get_attribute("data-engine") == "failed"
    page.reload()
    engine_ready(page)


def test_it_answers_for_its_own_files_alone(page: Page, server: Server, deployed: Path) -> None:
    open_and_keep(page, server)
    (deployed / "other").mkdir()
    (deployed / "other" / "index.html").write_text("<!doctype html><title>Another page</title>", encoding="utf-8")
    page.goto(server.url + "other/")
    expect(page).to_have_title("Another page")


def test_it_tells_its_own_tabs_alone(page: Page, server: Server, app: str, watched: Watched) -> None:
    watched.expect_complaint("404")
    watched.expect_complaint("request to")
    open_and_keep(page, server)
    other = watched.new_page()
    other.goto(server.url.replace("/shop/", "/elsewhere/"))
    hear = "window.heard = []; void (navigator.serviceWorker.onmessage = ({data}) => heard.push(data.type))"
    for tab in (page, other):
        tab.evaluate(hear)
    page.evaluate("caches.keys().then((names) => caches.delete(names.find((name) => name.includes(' app '))))")
    assert page.evaluate(ASK_WORKER, [app, "VERIFY"])["whole"]
    assert page.evaluate("heard.length") > 0
    assert other.evaluate("heard.length") == 0


def test_when_nothing_can_be_read_from_what_is_kept_the_network_serves(
    page: Page, server: Server, deployed: Path
) -> None:
    with (deployed / "sw.js").open("a", encoding="utf-8") as worker:
        worker.write(
            "\nself.addEventListener('message', ({data}) => {"
            "if (data.type === 'break') CacheStorage.prototype.open = () => Promise.reject(new Error('broken'))})\n"
        )
    open_and_keep(page, server)
    page.evaluate("navigator.serviceWorker.getRegistration().then((all) => all.active.postMessage({type: 'break'}))")
    page.reload()
    engine_ready(page)


def test_the_tab_of_the_first_visit_stays_ready_and_takes_the_new_version(
    page: Page, server: Server, app: str, deployed: Path
) -> None:
    open_and_keep(page, server)
    new = deploy_next(deployed)
    page.evaluate(LOOK_FOR_UPDATE)
    expect(page.locator("#update button").first).to_be_visible(timeout=60_000)
    held = page.evaluate(ASK_WORKER, [app, "VERIFY"])["id"]
    assert f"app-{held}" == app, "a new version takes over without being let in"
    assert page.inner_text("#build") == held
    expect(page.locator("#offline")).to_contain_text(READY)
    page.click("#update button")
    expect(page.locator("#build")).to_have_text(new, timeout=30_000)


def test_what_this_tab_could_not_keep_holds_the_new_version_back(page: Page, server: Server, deployed: Path) -> None:
    open_and_keep(page, server)
    page.evaluate("void (Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') })")
    hand.own_lot(page)
    hand.near(page, "3/4")
    page.locator("#pad button", has_text="Done").tap()
    deploy_next(deployed)
    page.evaluate(LOOK_FOR_UPDATE)
    page.locator("#update button").first.click()
    expect(page.locator("#update")).to_contain_text("A tab has something not kept yet")


def test_a_new_version_waits_until_the_person_agrees(
    page: Page, server: Server, deployed: Path, watched: Watched
) -> None:
    old = next(deployed.glob("app-*")).name
    open_and_keep(page, server)
    new = deploy_next(deployed)
    server.asked.clear()
    page.goto(server.url)
    engine_ready(page)
    expect(page.locator("#update button").first).to_be_visible(timeout=60_000)
    assert page.inner_text("#build") == old.removeprefix("app-"), "half of a new version is in use"
    big = [path for path in server.asked if path.endswith((".bin", ".wasm", ".asm.mjs"))]
    assert not big, "what did not change is fetched again"
    other = watched.new_page()
    other.goto(server.url)
    engine_ready(other)
    assert other.inner_text("#build") == old.removeprefix("app-")
    watched.new_page().goto(server.url + "icon.svg")  # a tab where nothing can be typed does not stand in the way
    page.evaluate("caches.open('of another page')")
    page.click("#update button")
    for tab in (page, other):
        expect(tab.locator("#build")).to_have_text(new, timeout=30_000)
        engine_ready(tab)
    kept = page.evaluate("caches.keys()")
    assert len(kept) == 3, kept
    assert "of another page" in kept


def test_a_new_version_does_not_take_over_from_unsaved_work(
    page: Page, server: Server, app: str, deployed: Path, watched: Watched
) -> None:
    open_and_keep(page, server)
    new = deploy_next(deployed)
    other = watched.new_page()
    other.goto(server.url + "icon.svg")
    other.evaluate(
        """async (app) => {
          const {startOffline} = await import(new URL(`${app}/offline.js`, location.href))
          window.unsaved = true
          await new Promise((resolve) => {
            window.held = startOffline({onUpdateWaiting: resolve, hasUnsavedWork: () => window.unsaved})
          })
        }""",
        app,
    )
    assert other.evaluate("window.held.applyUpdate()") == {"busy": 1}
    page.reload()
    assert page.inner_text("#build") == app.removeprefix("app-")
    page.click("#update button")
    expect(page.locator("#update")).to_contain_text("A tab has something not kept yet")
    other.evaluate("window.unsaved = false")
    silent = watched.new_page()
    silent.add_init_script("ServiceWorkerContainer.prototype.addEventListener = () => {}")  # it hears nothing
    silent.goto(server.url)
    assert other.evaluate("window.held.applyUpdate()") == {"busy": 1}, "one that does not answer may hold something"
    silent.close()
    other.evaluate("void window.held.applyUpdate()")
    expect(page.locator("#build")).to_have_text(new, timeout=30_000)


def test_a_run_outlives_a_new_version(page: Page, server: Server, deployed: Path) -> None:
    open_and_keep(page, server)
    plan_a_pile(page)
    hand.go(page, "run")
    new = deploy_next(deployed)
    page.reload()
    expect(page.locator("#update button").first).to_be_visible(timeout=60_000)
    screen = page.locator("#at-machine")
    before = screen.inner_text()
    page.locator("#run .huge").tap()
    expect(screen).not_to_have_text(before, use_inner_text=True)
    after = screen.inner_text()
    page.click("#update button")  # before the last tap had the time to be stored on its own
    expect(page.locator("#build")).to_have_text(new, timeout=30_000)
    engine_ready(page)
    expect(screen).to_have_text(after, use_inner_text=True)
    assert len(hand.saved_job(page)["run"]) == 1


def test_there_is_a_way_back_from_a_bad_deploy(page: Page, server: Server, deployed: Path) -> None:
    open_and_keep(page, server)
    page.evaluate("localStorage.setItem('thickset.test', 'kept')")
    page.evaluate("caches.open('of another page')")
    (deployed / "sw.js").write_bytes((deployed / "sw-remove.js").read_bytes())
    (deployed / "index.html").write_text("<!doctype html><title>Mended</title>", encoding="utf-8")
    page.goto(server.url)
    expect(page).to_have_title("Mended", timeout=30_000)
    assert page.evaluate("caches.keys()") == ["of another page"]
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    assert page.evaluate("localStorage.getItem('thickset.test')") == "kept"


def test_it_can_be_installed(page: Page, server: Server) -> None:
    page.goto(server.url)
    touch = page.locator('link[rel="apple-touch-icon"]').get_attribute("href")
    manifest = page.evaluate("fetch(document.querySelector('link[rel=manifest]').href).then((r) => r.json())")
    assert {icon.get("purpose", "any") for icon in manifest["icons"]} == {"any", "maskable"}
    for icon in [*manifest["icons"], {"src": touch, "sizes": "180x180"}]:
        sized = page.evaluate(
            "async (src) => { const i = new Image(); i.src = src; await i.decode(); return [i.naturalWidth, i.naturalHeight] }",
            icon["src"],
        )
        if icon["sizes"] != "any":
            assert f"{sized[0]}x{sized[1]}" == icon["sizes"]
    devtools = page.context.new_cdp_session(page)
    assert devtools.send("Page.getAppId")["appId"] == server.url, "another page of the same host would be the same app"
    assert devtools.send("Page.getInstallabilityErrors")["installabilityErrors"] in (
        [],
        [{"errorId": "in-incognito", "errorArguments": []}],
    )


@pytest.mark.parametrize("how", ["typed", "half chosen on the pad"])
def test_a_reading_in_another_tab_that_is_not_entered_yet_holds_the_new_version_back(
    how: str, page: Page, server: Server, deployed: Path, watched: Watched
) -> None:
    open_and_keep(page, server)
    plan_a_pile(page)
    hand.go(page, "run")
    page.locator("#at-machine h2:not(details *, .before-run *)").tap()  # the cautions before it are past
    page.evaluate("document.querySelectorAll('#at-machine details').forEach((one) => { one.open = true })")
    field = page.locator("#at-machine input[data-pad]:visible").first
    field.tap()
    if how == "typed":
        field.fill("0.9")
    else:
        page.locator("#pad .key:is(.coarse, .middle):visible").first.tap()
    begun = field.input_value()
    assert begun
    other = watched.new_page()
    other.goto(server.url)
    engine_ready(other)
    new = deploy_next(deployed)
    other.evaluate(LOOK_FOR_UPDATE)
    use = other.locator("#update button").first
    use.click(timeout=60_000)
    expect(other.locator("#update")).to_contain_text("A tab has something not kept yet")
    assert field.input_value() == begun
    field.fill("")
    hand.rested(other)
    use.click()
    for tab in (page, other):
        expect(tab.locator("#build")).to_have_text(new, timeout=30_000)


def test_what_is_stored_is_seen_and_saved_without_a_network_and_without_the_planner(page: Page, server: Server) -> None:
    open_and_keep(page, server)
    plan_a_pile(page)
    hand.stored(page)
    server.stop()
    page.goto(server.url + "rescue.html")
    expect(page.locator("#entries")).to_contain_text("a job")
    with page.expect_download() as download:
        page.locator("#save").tap()
    saved = json.loads(download.value.path().read_text(encoding="utf-8"))
    there = page.evaluate("Object.fromEntries(Object.entries(localStorage))")
    assert {entry["key"]: entry["text"] for entry in saved["entries"]} == there
    assert any(key.startswith("thickset.job.") for key in there)
    server.start()
