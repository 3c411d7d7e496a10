"""A fuzzer for what is stored: entries damaged by a seed, read by the page's own store. Every text found is still somewhere, whatever it is.

What is found becomes an entry of fuzz/corpus/stores.json and is tried first for ever.
"""

from __future__ import annotations

import copy
import json
import random
from pathlib import Path
from typing import Any

import pytest
from amounts import times
from garbage import anything, mutated
from kit import Server
from phone import PUT, Open
from playwright.sync_api import Page, expect

TESTS = Path(__file__).parents[1]
STORES: list[dict[str, str]] = [
    json.loads(path.read_text(encoding="utf-8"))["entries"]
    for path in sorted((TESTS / "kept" / "stores").glob("*.json"))
]
CORPUS = json.loads((TESTS / "fuzz" / "corpus" / "stores.json").read_text(encoding="utf-8"))
OF_ONE_SEED = 40
SCRIPT: Any = {"content_type": "text/javascript"}
LOAD = """async () => {
  const load = (name) => import(new URL(`beside/${name}`, location.href))
  const [{Store}, {State}, {toDocument}] = await Promise.all(['kept/storage.js', 'base/state.js', 'base/document.js'].map(load))
  const read = (kinds) => {
    const store = new Store({onTrouble: (told) => kinds.push(...told), onOther() {}})
    const state = new State(store, {}, () => {})
    const jobs = store.jobs()
    store.planers()
    store.answer()
    store.newer()
    for (const units of ['in', 'mm']) store.forms(units)
    JSON.stringify(toDocument(state.draft))
    store.flush()
    return JSON.stringify(jobs.map((job) => [job.id, toDocument(job).job]))
  }
  const lost = (entries) => {
    const aside = new Set(Object.keys(localStorage).filter((key) => key.startsWith('thickset.aside.')).map((key) => {
      try { return JSON.parse(localStorage.getItem(key)).text } catch { return null }
    }))
    return Object.entries(entries).filter(([key, text]) => localStorage.getItem(key) !== text && !aside.has(text)).map(([key]) => key)
  }
  // What is wrong with how a store is read; nothing where nothing is.
  window.wrong = (entries, sound) => {
    localStorage.clear()
    for (const [key, text] of Object.entries(entries)) localStorage.setItem(key, text)
    const kinds = []
    try {
      const first = read(kinds)
      if (lost(entries).length) return `lost ${lost(entries)}`
      const aside = Object.keys(localStorage).filter((key) => key.includes('.aside.')).length
      if (read(kinds) !== first) return 'the second start reads otherwise than the first'
      if (Object.keys(localStorage).filter((key) => key.includes('.aside.')).length !== aside) return 'set aside twice'
      if (lost(entries).length) return `lost at the second start: ${lost(entries)}`
      const read_as = new Map(JSON.parse(first).map(([id, job]) => [id, JSON.stringify(job)]))
      for (const [id, job] of sound) if (read_as.get(id) !== job) return `${id} went along with what is damaged`
      return ''
    } catch (error) {
      return `threw ${error.stack}`
    }
  }
  window.soundIn = (entries) => {
    localStorage.clear()
    for (const [key, text] of Object.entries(entries)) localStorage.setItem(key, text)
    return JSON.parse(read([])).map(([id, job]) => [id, JSON.stringify(job)])
  }
}"""


@pytest.fixture
def page(open_page: Open) -> Page:
    """The page's markup and its store; nothing else of it runs."""
    opened = open_page(before=lambda page: page.route("**/first.js", lambda script: script.fulfill(body="", **SCRIPT)))
    opened.evaluate(LOAD)
    return opened


def damaged(text: str, chance: random.Random) -> str:
    """An entry as a broken disk, an older or newer page, or a hand in the browser's tools may leave it."""
    kind = chance.randrange(6)
    at = chance.randrange(len(text) + 1)
    if kind == 0:
        return text[:at]
    if kind == 1:
        return text[:at] + str(anything(chance)) + text[at + chance.randrange(1, 20) :]
    if kind == 2:
        sign = chance.choice(["[", '{"a":', '{"draft":{"extra":', '{"boards":['])
        return text[:at] + sign * chance.choice([3, 40, 2500]) + text[at:]
    if kind == 3:
        return json.dumps(anything(chance))
    try:
        held = json.loads(text)
    except ValueError:
        return text[::-1]
    return json.dumps(mutated(held, chance))


def broken(store: dict[str, str], chance: random.Random) -> tuple[dict[str, str], set[str]]:
    """A store with some of its entries damaged, and which."""
    made = copy.copy(store)
    touched = set(chance.sample(sorted(made), k=min(len(made), chance.randrange(1, 4))))
    for key in touched:
        made[key] = damaged(made[key], chance)
    if chance.randrange(3) == 0:
        key = chance.choice(
            ["thickset.job.", "thickset.job.x", "thickset.planer.__proto__", "thickset.aside.1", "thickset.now"]
        )
        touched.add(key)
        made[key] = damaged(chance.choice(list(store.values())), chance)
    # A browser stores no half of a sign: it is gone before any page could read it.
    return {key: text.encode("utf-16", "replace").decode("utf-16") for key, text in made.items()}, touched


def shows_every_part(page: Page, server: Server, entries: dict[str, str]) -> None:
    """The page, started with this store, is wired and shows each of its parts; what complains fails the test at its end."""
    page.goto(server.url + "icon.svg")
    page.evaluate("localStorage.clear()")
    page.evaluate(PUT, entries)
    page.goto(server.url)
    page.wait_for_selector("html[data-wired]", state="attached")
    for view in ("lot", "planer", "run", "more", "jobs", "plan"):
        page.evaluate("view => document.querySelector(`[data-go=${view}]`).click()", view)
        expect(page.locator("html")).to_have_attribute("data-view", view)
    expect(page.locator("#boot-failed")).to_be_hidden()
    assert "cannot be shown" not in page.locator("#trouble").inner_text()


def test_the_whole_page_starts_on_a_damaged_store(open_page: Open, server: Server) -> None:
    chance = random.Random(7)
    page = open_page(before=lambda page: page.route("**/worker.js", lambda _route: None))
    for finding in CORPUS:
        shows_every_part(page, server, {key: text.replace("@", "[" * 2500) for key, text in finding["entries"].items()})
    for _ in range(times(12)):
        shows_every_part(page, server, broken(chance.choice(STORES), chance)[0])


@pytest.mark.parametrize("finding", CORPUS, ids=lambda one: one["found"])
def test_what_was_found_once_stays_cured(page: Page, finding: dict[str, Any]) -> None:
    entries = {key: text.replace("@", "[" * 2500) for key, text in finding["entries"].items()}
    assert page.evaluate("([entries]) => wrong(entries, [])", [entries]) == ""


@pytest.mark.parametrize("seed", range(times(4)))
def test_every_text_of_a_damaged_store_is_still_somewhere(page: Page, seed: int) -> None:
    chance = random.Random(seed)
    sound = [page.evaluate("soundIn", store) for store in STORES]
    for _ in range(OF_ONE_SEED):
        which = chance.randrange(len(STORES))
        entries, touched = broken(STORES[which], chance)
        whole = [one for one in sound[which] if f"thickset.job.{one[0]}" not in touched]
        said = page.evaluate("([entries, sound]) => wrong(entries, sound)", [entries, whole])
        assert said == "", json.dumps({"found": said, "entries": entries})
