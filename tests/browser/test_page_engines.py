"""The page itself in each browser: the example at once, a lot of one's own planned, there again later, and without a network."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from typing import Any

import pytest
from drivers import ENGINES, Driver
from kit import Server

ENTER = """(() => {
  document.querySelector('#plan [data-do="own-lot"]').click()
  for (const [id, text] of Object.entries(%s)) {
    const field = document.getElementById(id)
    field.value = text
    field.dispatchEvent(new Event('input', {bubbles: true}))
  }
  return 'entered'
})()"""
LOT = {
    "target-thickness": "3/4",
    "pile-thickest": "1 1/32",
    "pile-thinnest": "15/16",
    "pile-count": "8",
    "pile-widest": "6 1/2",
    "pile-longest": "49",
}
SEEN = """JSON.stringify({
  ...document.documentElement.dataset, passes: document.querySelectorAll('#plan [data-pass]').length,
  words: document.querySelector('[data-show="summary"]').textContent, target: document.getElementById('target-thickness')?.value,
  offline: document.getElementById('offline')?.textContent,
  error: document.getElementById('boot-failed').hidden ? '' : document.getElementById('boot-reason').textContent,
})"""


def seen(driver: Driver, **wanted: str) -> dict[str, Any]:
    """What the page shows, once its root says what is wanted."""
    end = time.monotonic() + 120
    while True:
        told: dict[str, Any] = json.loads(driver.evaluate(SEEN))
        if all(told.get(key) == value for key, value in wanted.items()):
            return told
        assert time.monotonic() < end, told
        time.sleep(0.2)


@pytest.mark.parametrize("name", ENGINES)
def test_a_lot_is_planned_and_is_there_again(name: str, drive: Callable[[str], Driver], server: Server) -> None:
    driver = drive(name)
    driver.open(server.url)
    assert json.loads(driver.evaluate(SEEN))["passes"], "the example's plan is there before the planner"
    seen(driver, engine="ready", plan="fresh")
    assert driver.evaluate(ENTER % json.dumps(LOT)) == "entered"
    planned = seen(driver, lot="own", plan="fresh")
    assert "8 boards will be planed on both faces" in planned["words"]
    seen(driver, offline="Ready without a network.")
    driver.open(server.url)
    assert seen(driver, engine="ready", plan="fresh", target="3/4")["words"] == planned["words"]
    server.stop()
    driver.open(server.url)
    assert seen(driver, engine="ready", plan="fresh", target="3/4")["words"] == planned["words"]
    server.start()
