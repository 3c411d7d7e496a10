"""Whatever goes wrong with what the service worker holds, whenever: nothing entered is lost, and there is a way on.

A table of cases, each a moment and a fault. Every one ends alike: what was entered is there with a network and, where the page
was held before, without one; once the fault is over the page is held whole.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import hand
import pytest
from deploys import LOOK_FOR_UPDATE, READY, deploy_next, open_and_keep, plan_a_pile, spoils
from kit import Handler, Server, Watched, engine_ready
from playwright.sync_api import Error, Page, expect

pytestmark = pytest.mark.deploys

ASKS_WHETHER_FULL = """
const put = Cache.prototype.put
Cache.prototype.put = async function (...given) {
  const said = await fetch('full', {cache: 'no-store'})
  if ((await said.text()) === 'yes') throw new DOMException('no room', 'QuotaExceededError')
  return put.apply(this, given)
}
"""
OF_ALL_KEPT = """async ([ending, act]) => {
  for (const name of await caches.keys()) {
    const cache = await caches.open(name)
    for (const request of await cache.keys()) {
      if (!request.url.endsWith(ending)) continue
      if (act === 'spoil') await cache.put(request, new Response('<p>spoiled', {headers: {'content-type': 'text/html'}}))
      else await cache.delete(request)
    }
  }
}"""
DELETE_CACHES = """async (part) => {
  for (const name of await caches.keys()) if (name.includes(part)) await caches.delete(name)
}"""
NOT_INSTALLING = """async () => {
  const wait = () => new Promise((resolve) => setTimeout(resolve, 20))
  while ((await navigator.serviceWorker.getRegistration())?.installing) await wait()
}"""


@dataclass
class World:
    """A page, its host and its browser."""

    page: Page
    server: Server
    host: Path
    watched: Watched

    def kill_workers(self) -> None:
        """As a device does that is short of memory."""
        devtools = self.page.context.new_cdp_session(self.page)
        devtools.send("ServiceWorker.enable")
        devtools.send("ServiceWorker.stopAllWorkers")


def broken_line(handler: Handler) -> bool:
    """No answer comes."""
    asks = handler.headers.get("Sec-Fetch-Dest") == "empty"
    handler.close_connection = asks
    return asks


def half_a_file(handler: Handler) -> bool:
    """The line breaks in the middle of an answer."""
    if handler.headers.get("Sec-Fetch-Dest") != "empty":
        return False
    handler.send_response(200)
    handler.send_header("Content-Length", "100000")
    handler.end_headers()
    handler.wfile.write(b"half")
    handler.close_connection = True
    return True


def gone(handler: Handler) -> bool:
    """The host knows nothing of it."""
    handler.send_error(404)
    return True


Fault = Callable[[World], Any]


def full(world: World) -> None:
    (world.host / "full").write_text("yes", encoding="utf-8")


def another_release(world: World) -> None:
    deploy_next(world.host, "ab5e11111111")
    world.page.evaluate(f"{LOOK_FOR_UPDATE}.catch(() => {{}})")


FETCHING: dict[str, Fault] = {
    "the line breaks": lambda world: world.server.breaks("/style.css", broken_line),
    "half a file comes": lambda world: world.server.breaks("/style.css", half_a_file),
    "other bytes come": lambda world: spoils(world.server, "/style.css"),
    "the host fails": lambda world: spoils(world.server, "/style.css", status=503),
    "the device is full": full,
}
UPDATING: dict[str, Fault] = {
    **FETCHING,
    "the host is gone": lambda world: world.server.breaks("", gone),
    "the service worker is no script": lambda world: world.server.breaks(
        "/sw.js",
        lambda handler: not handler.wfile.write(b"HTTP/1.0 200 OK\r\nContent-Type: text/javascript\r\n\r\n<p>("),
    ),
}
WAITING: dict[str, Fault] = {
    "the worker is killed": lambda world: world.kill_workers(),
    "another release comes": another_release,
    "its caches are deleted": lambda world: world.page.evaluate(DELETE_CACHES, "feedc0ffee00"),
}
AT_REST: dict[str, Fault] = {
    "the worker is killed": lambda world: world.kill_workers(),
    "the page is spoiled": lambda world: world.page.evaluate(OF_ALL_KEPT, ["/index.html", "spoil"]),
    "the page is deleted": lambda world: world.page.evaluate(OF_ALL_KEPT, ["/index.html", "delete"]),
    "a script is spoiled": lambda world: world.page.evaluate(OF_ALL_KEPT, ["/main.js", "spoil"]),
    "a script is deleted": lambda world: world.page.evaluate(OF_ALL_KEPT, ["/main.js", "delete"]),
    "the style is spoiled": lambda world: world.page.evaluate(OF_ALL_KEPT, ["/style.css", "spoil"]),
    "the runtime is deleted": lambda world: world.page.evaluate(DELETE_CACHES, " runtime "),
    "all caches are deleted": lambda world: world.page.evaluate(DELETE_CACHES, ""),
}
WITHOUT_NETWORK = {
    "the page is spoiled": "rescue",
    "the page is deleted": "rescue",
    "a script is spoiled": "no planner",
    "a script is deleted": "no planner",
    "the runtime is deleted": "no planner",
    "all caches are deleted": "nothing",
}
"""What opens without a network while the fault is there; elsewhere the planner."""


def first_visit(world: World, fault: Fault) -> None:
    fault(world)
    is_full = (world.host / "full").read_text(encoding="utf-8") == "yes"
    with asked_for(world.server, "/full" if is_full else "/style.css"):
        world.page.goto(world.server.url)
        engine_ready(world.page)
        plan_a_pile(world.page)
    world.page.evaluate(NOT_INSTALLING)
    assert READY not in world.page.inner_text("#offline")


def update(world: World, fault: Fault) -> None:
    open_and_keep(world.page, world.server)
    plan_a_pile(world.page)
    deploy_next(world.host)
    fault(world)
    world.page.evaluate(f"{LOOK_FOR_UPDATE}.catch(() => {{}})")
    world.page.evaluate(NOT_INSTALLING)
    expect(world.page.locator("#update")).to_be_hidden()


def killed_while_updating(world: World, fault: Fault) -> None:
    open_and_keep(world.page, world.server)
    plan_a_pile(world.page)
    deploy_next(world.host)
    come = threading.Event()
    with asked_for(world.server, "/style.css", lambda _handler: not come.wait(60)):
        world.page.evaluate(f"void {LOOK_FOR_UPDATE}.catch(() => {{}})")
    fault(world)
    come.set()
    world.page.evaluate(NOT_INSTALLING)


def waiting(world: World, fault: Fault) -> None:
    open_and_keep(world.page, world.server)
    plan_a_pile(world.page)
    deploy_next(world.host)
    world.page.evaluate(LOOK_FOR_UPDATE)
    expect(world.page.locator("#update button").first).to_be_visible(timeout=60_000)
    fault(world)
    world.page.evaluate(NOT_INSTALLING)


def at_rest(world: World, fault: Fault) -> None:
    open_and_keep(world.page, world.server)
    plan_a_pile(world.page)
    hand.stored(world.page)
    fault(world)


@contextmanager
def asked_for(server: Server, ending: str, answer: Callable[[Handler], bool] | None = None) -> Iterator[None]:
    """Goes on once the service worker has asked for a file, which `answer` or what breaks already answers."""
    asked = threading.Event()
    before = server.mischief.get(ending)

    def hear(handler: Handler) -> bool:
        if handler.headers.get("Sec-Fetch-Dest") == "empty":
            asked.set()
            if answer:
                return answer(handler)
        return before(handler) if before else False

    server.breaks(ending, hear)
    yield
    assert asked.wait(60), f"{ending} was never asked for"


MOMENTS: dict[str, tuple[Callable[[World, Fault], None], dict[str, Fault]]] = {
    "first visit": (first_visit, FETCHING),
    "update": (update, UPDATING),
    "in the middle of an update": (killed_while_updating, {"the worker is killed": lambda world: world.kill_workers()}),
    "update waits": (waiting, WAITING),
    "at rest": (at_rest, AT_REST),
}
CASES = [(moment, fault) for moment, (_, faults) in MOMENTS.items() for fault in faults]


def opens_with_all(page: Page) -> None:
    """The page is there with what was entered, and plans."""
    page.reload()
    engine_ready(page)
    assert hand.shown(page, "pile.count") == "8"
    hand.planned(page)
    assert hand.settings(page)[-1] == 19.05


def opens_without_network(page: Page, way: str) -> None:
    """What was entered is there, by the planner or beside it."""
    if way == "planner":
        opens_with_all(page)
        return
    if way == "nothing":
        with pytest.raises(Error):
            page.reload()
        page.wait_for_url("chrome-error://**")  # the browser's own page, which comes a moment later
        return
    page.reload()
    if way == "no planner":
        page.wait_for_selector("#boot-failed:not([hidden]), #boot-late", state="attached")
        page.goto(page.url.split("#")[0] + "rescue.html")
    expect(page.locator("#entries")).to_contain_text("a job")
    expect(page.locator("#save")).to_be_enabled()


@pytest.mark.parametrize(("moment", "fault"), CASES, ids=[f"{moment}: {fault}" for moment, fault in CASES])
def test_nothing_is_lost_and_there_is_a_way_on(
    moment: str, fault: str, page: Page, server: Server, deployed: Path, watched: Watched
) -> None:
    watched.expect_complaint("")
    with (deployed / "sw.js").open("a", encoding="utf-8") as worker:
        worker.write(ASKS_WHETHER_FULL)
    (deployed / "full").write_text("no", encoding="utf-8")
    world = World(page, server, deployed, watched)
    reach, faults = MOMENTS[moment]
    reach(world, faults[fault])
    hand.stored(page)
    if moment != "first visit":
        server.stop()
        opens_without_network(page, WITHOUT_NETWORK.get(fault, "planner"))
        server.start()
    (deployed / "full").write_text("no", encoding="utf-8")
    server.mends()
    page.goto(server.url)
    opens_with_all(page)
    expect(page.locator("#offline")).to_contain_text(READY, timeout=90_000)
    server.stop()
    opens_with_all(page)
    server.start()
