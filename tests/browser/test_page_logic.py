"""The page's pure parts: lengths as the pad knows them, the draft and its document, and what a damaged store holds."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from amounts import examples
from hypothesis import given
from hypothesis import strategies as st
from kit import ROOT, Server
from phone import Open, opening
from playwright.sync_api import Browser, Page

SCRIPT: Any = {"content_type": "text/javascript"}


@pytest.fixture(scope="module")
def page(browser: Browser, dist: Path) -> Iterator[Page]:
    """The page's markup, of which nothing runs but the pure modules: they read its fields. Nothing changes it, so all share it."""
    server = Server(dist, beside=ROOT / "site")
    with opening(browser, server) as open_page:
        yield loaded(open_page)
    server.stop()


def loaded(open_page: Open) -> Page:
    """The page with its pure modules under one name."""
    opened = open_page(before=lambda page: page.route("**/first.js", lambda script: script.fulfill(body="", **SCRIPT)))
    opened.evaluate("""async () => {
      const load = (name) => import(new URL(`beside/${name}`, location.href))
      window.pure = Object.assign({}, ...await Promise.all(['base/lengths.js', 'base/job.js', 'kept/mending.js', 'base/document.js', 'base/board_steps.js', 'lot/pad_keys.js'].map(load)))
    }""")
    return opened


def call(page: Page, name: str, *words: Any) -> Any:
    """Call a pure function of the page."""
    return page.evaluate("([name, words]) => pure[name](...words)", [name, list(words)])


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        ("1 3/32", "in", 27.78125),
        ("1-3/32", "in", 27.78125),
        ("35/32", "in", 27.78125),
        (".75", "in", 19.05),
        ("½", "in", 12.7),
        ("1 ½ ″", "mm", 38.1),
        ("1½", "in", 38.1),
        ("27,8", "mm", 27.8),
        ("27.8 mm", "in", 27.8),
        ("2.5 cm", "in", 25),
        ('3/4"', "mm", 19.05),
        ("1–1/16", "in", 26.9875),
    ],
)
def test_the_pad_knows_about_where_a_length_is(page: Page, text: str, units: str, mm: float) -> None:
    assert call(page, "aboutMm", text, units) == pytest.approx(mm)


def test_what_is_no_length_is_nowhere(page: Page) -> None:
    for text in ("", "1/0", "3//4", "--1", "1 3", "abc", "9" * 5000 + "x", "1 kg"):
        assert page.evaluate("(text) => Number.isNaN(pure.aboutMm(text, 'in'))", text), text


def test_every_64th_is_said_in_lowest_terms(page: Page) -> None:
    said = page.evaluate("Array.from({length: 257}, (_, n) => pure.inchText(n))")
    assert (said[0], said[1], said[32], said[70], said[128], said[129]) == ("0", "1/64", "1/2", "1 3/32", "2", "2 1/64")
    read = page.evaluate(
        "Array.from({length: 257}, (_, n) => Math.round(pure.aboutMm(pure.inchText(n), 'in') / 25.4 * 64))"
    )
    assert read[1:] == list(range(1, 257))


def test_a_change_of_units_and_back_is_exact(page: Page) -> None:
    for text in ("1 3/32", "27,8 mm", "1 in", " 2 ", "nonsense", "5 ft", "5–1/2", "5—1/2"):
        there = call(page, "restate", text, "in", "mm")
        assert call(page, "aboutMm", there, "mm") == call(page, "aboutMm", text, "in") or "nonsense" in text
        assert call(page, "restate", there, "mm", "in").strip() == text.strip().removesuffix(" in")


def test_a_price_of_wood_keeps_its_meaning(page: Page) -> None:
    for text, there in {"6.50": "6.50 per board foot", " 6,5 ": "6,5 per board foot", "dear": "dear", "": ""}.items():
        assert call(page, "restatePrice", text, "in", "mm") == there
        assert call(page, "restatePrice", there, "mm", "in").strip() == text.strip()
    assert call(page, "restatePrice", "2800", "mm", "in") == "2800 per m3"


def test_what_a_run_holds_keeps_its_meaning_in_other_units(page: Page) -> None:
    run = [
        {"did": "test", "setting": "7/8", "scale": "7/8 in", "thickness": 0.88},
        {"did": "measure", "board": "A", "readings": ["3/4", "19.1 mm", 0.75], "places": ["middle left"]},
        {"did": "snipe", "lead": "3", "trail": "2"},
        None,
    ]
    draft = call(page, "newDraft", "in")
    there = call(page, "withUnits", {**draft, "extra": {"run": run}}, "mm")
    assert there["extra"]["run"] == [
        {"did": "test", "setting": "7/8 in", "scale": "7/8 in", "thickness": "0.88 in"},
        {"did": "measure", "board": "A", "readings": ["3/4 in", "19.1", "0.75 in"], "places": ["middle left"]},
        {"did": "snipe", "lead": "3 in", "trail": "2 in"},
        None,
    ]


same = examples(150)

LADDERS = [
    *(("thickness", "in", scale) for scale in (16, 32, 64)),
    ("thickness", "mm", "tenths"),
    ("fine", "in", "thousandths"),
    ("fine", "mm", "fiftieths"),
    ("count", "in", 32),
]
KEYS = """([kind, units, scale, near, text]) => {
  const ladder = pure.ladderOf(kind, units, scale)
  return pure.laddered(ladder, pure.placesNear(ladder, near), text, units, 0).map(line => line.keys.map(key => key.text))
}"""


@pytest.mark.parametrize(
    ("asked", "coarse", "middle", "ready"),
    [
        (("thickness", "in", 32, 22.225), "1 6", "1/4 3/4", "5/8 1 5/32"),
        (("thickness", "in", 64, 25.4), "1 6", "1/4 3/4", "7/8 1 9/64"),
        (("thickness", "in", 16, 152.4), "3 8", "1/4 3/4", "5 1/2 6 9/16"),
        (("thickness", "mm", "tenths", 20), "1 50", "15 26", "19.5 20.6"),
        (("fine", "in", 32, 19.05), "1 6", "1/4 3/4", "1/2 1 1/32"),
        (("fine", "in", "thousandths", 19.05), "0.4 0.9", "0.70 0.81", "0.745 0.756"),
        (("fine", "mm", "fiftieths", 20), "17 22", "19.5 20.6", "19.90 20.12"),
        (("count", "in", 32, 1), "20 120", "", "1 24"),
    ],
    ids=str,
)
def test_keys_lie_around_what_is_expected(
    page: Page, asked: tuple[Any, ...], coarse: str, middle: str, ready: str
) -> None:
    lines = page.evaluate(KEYS, [*asked, ""])
    many = 0 if not middle else 2 if asked[0] != "count" and len(lines[1]) == 6 else 1
    parts = [lines[:1], lines[1 : 1 + many], lines[1 + many :]]
    ends = [" ".join([part[0][0], part[-1][-1]]) if part else "" for part in parts]
    assert ends == [coarse, middle, ready]


@same
@given(
    st.sampled_from(LADDERS),
    st.floats(0, 300),
    st.floats(0, 300),
    st.integers(0, 5),
    st.integers(0, 11),
)
def test_every_key_says_what_it_enters_and_a_light_key_moves_no_key_of_its_own_row(
    page: Page, asked: tuple[Any, ...], near: float, marked: float, coarse: int, middle: int
) -> None:
    page.evaluate(
        """([kind, units, scale, near, marked, coarse, middle]) => {
      const ladder = pure.ladderOf(kind, units, scale)
      const texts = (places, text) => pure.laddered(ladder, places, text, units, marked).flatMap(line => line.keys)
      const mm = (text) => kind === 'count' ? Number(text) : pure.aboutMm(text, units)
      let places = pure.placesNear(ladder, near)
      let text = ''
      for (const [of, n] of [['coarse', coarse], ['middle', middle]]) {
        const all = texts(places, text)
        const row = all.filter(key => key.kind === of)
        const key = row[n % row.length]
        if (!key) continue
        for (const one of all) if (!(mm(one.does.enter ?? one.does.text) > 0)) throw new Error(`${one.text} enters nothing`)
        places = pure.placesFrom(ladder, places, key)
        text = key.does.text
        const after = texts(places, text)
        if (after.filter(key => key.kind === of).map(key => key.text).join() !== row.map(key => key.text).join()) throw new Error('the row moved')
        const ready = after.filter(key => key.kind === 'ready').map(key => mm(key.does.enter))
        if (Math.abs(ready[0] - mm(text)) > 1e-6) throw new Error(`${ready[0]} does not begin at ${text}`)
        if (!after.some(key => key.extra['aria-pressed'] === 'true')) throw new Error(`${text} is not seen pressed`)
      }
    }""",
        [*asked, near, marked, coarse, middle],
    )


def test_what_is_expected_is_said_as_one_would_write_it(page: Page) -> None:
    said = [
        (19.05, "in", "3/4"),
        (20.64, "in", "13/16"),
        (20.828, "in", "0.82"),
        (20, "mm", "20"),
        (19.999, "mm", "20"),
    ]
    for mm, units, text in said:
        assert call(page, "written", mm, units) == text


words = st.one_of(
    st.text(max_size=12),
    st.sampled_from(["1 3/32", "7/8", "27.8 mm", "5 1/2", ""]),
    st.integers(-(10**9), 10**9),
    st.floats(-1e6, 1e6),
    st.none(),
)
board = st.fixed_dictionaries(
    {"readings": st.lists(words, max_size=4), "width": words, "length": words},
    optional={"name": st.text(max_size=5), "count": words, "species": words, "density": words, "unknown": words},
)
documents = st.fixed_dictionaries(
    {"thickset": st.just(1), "units": st.sampled_from(["in", "mm"]), "boards": st.lists(board, max_size=4)},
    optional={
        "title": words,
        "target": st.fixed_dictionaries({}, optional={"thickness": words, "tolerance": words, "extra": words}),
        "planer": st.one_of(
            words,
            st.fixed_dictionaries({}, optional={"feeds": st.lists(words, max_size=6), "step": words, "head": words}),
        ),
        "run": st.dictionaries(st.text(max_size=4), words, max_size=2),
    },
)


@same
@given(documents)
def test_a_document_goes_through_the_page_unchanged(page: Page, document: Any) -> None:
    once = page.evaluate("(job) => pure.toDocument(pure.fromDocument(job)).job", document)
    twice = page.evaluate("(job) => pure.toDocument(pure.fromDocument(job)).job", once)
    assert once == twice
    for key in document:
        if key in {"run", "units", "thickset"}:
            assert once[key] == document[key]
    assert len(once["boards"]) == len(document["boards"])
    for before, after in zip(document["boards"], once["boards"], strict=True):
        assert "unknown" not in before or after.get("unknown") == before["unknown"]


junk = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=6)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(
            st.sampled_from(
                [
                    "id",
                    "draft",
                    "boards",
                    "readings",
                    "pile",
                    "thickest",
                    "settings",
                    "target.thickness",
                    "extra",
                    "units",
                    "title",
                ]
            ),
            inner,
            max_size=4,
        ),
    ),
    max_leaves=12,
)


@same
@given(junk)
def test_whatever_is_stored_becomes_a_draft(page: Page, stored: Any) -> None:
    draft = page.evaluate(
        "(stored) => { const d = pure.mend(stored); pure.toDocument(d); pure.withUnits(d, 'mm'); pure.fiveNumbers(d); return d }",
        stored,
    )
    assert isinstance(draft["title"], str)
    assert all(isinstance(text, str) for board in draft["boards"] for text in board["readings"])


@same
@given(documents)
def test_nothing_is_lost_of_what_the_page_itself_stores(page: Page, document: Any) -> None:
    assert not page.evaluate(
        "(job) => { const d = JSON.parse(JSON.stringify(pure.fromDocument(job))); return pure.isLost(d, pure.mend(d)) }",
        document,
    )


@pytest.mark.parametrize(
    ("raw", "lost"),
    [
        ({"boards": [{"readings": "1 1/16"}]}, False),
        ({"boards": ["A 1 1/16"]}, True),
        ({"boards": {"A": ["1 1/16"]}}, True),
        ({"boards": [{"readings": ["1"], "knots": 3}]}, True),
        ({"boards": [{"readings": ["", "1"], "places": ["a1", "b2"]}]}, True),
        ({"settings": {"planer.color": "green"}}, True),
        ({"settings": {"planer.step": 0.1}}, False),
        ({"run": [{"did": "feed"}], "parts": [{"length": "30"}]}, False),
        ({"run": [{"did": "feed"}], "extra": {"run": [{"did": "check"}]}}, True),
        ({"pile": {"count": 8}, "notes": "keep"}, True),
        ({"units": "cm"}, True),
        ({"title": None, "pile": None, "boards": None}, False),
    ],
    ids=range(12),
)
def test_what_is_lost_in_mending_is_noticed(page: Page, raw: Any, lost: bool) -> None:
    assert page.evaluate("(raw) => pure.isLost(raw, pure.mend(raw))", raw) is lost


def test_each_reading_keeps_its_place_when_an_empty_one_goes(page: Page) -> None:
    board = call(page, "mend", {"boards": [{"readings": [None, "1"], "places": ["", "b2"]}]})["boards"][0]
    assert (board["readings"], board["places"]) == (["1"], ["b2"])


steps = st.lists(st.sampled_from(["type", "take", "next", "copy", "delete", "back", "choose"]), max_size=14)


@same
@given(steps)
def test_no_order_of_steps_leaves_the_boards_without_one_in_hand(page: Page, order: list[str]) -> None:
    page.evaluate(
        """(order) => {
      let state = pure.settled(pure.newDraft(), {board: '', chosen: null})
      let typed = 0
      const does = {
        type: ({draft, hand}) => pure.readingTyped(draft, hand, `1 ${++typed}/64`),
        take: ({draft, hand}) => pure.readingTaken(draft, hand),
        next: ({draft, hand}) => pure.nextBoard(draft, hand),
        copy: ({draft, hand}) => pure.boardCopied(draft, hand),
        delete: ({draft, hand}) => pure.boardDeleted(draft, hand),
        back: ({draft, hand}) => pure.readingTakenBack(draft, hand),
        choose: ({draft, hand}) => ({draft, hand: {...hand, chosen: 0}}),
      }
      for (const step of order) {
        const done = does[step](state)
        state = pure.settled(done.draft, done.hand)
        const names = state.draft.boards.map((board) => board.name)
        if (!state.draft.boards.some((board) => board.id === state.hand.board)) throw new Error(`no board after ${step}`)
        if (new Set(names).size !== names.length) throw new Error(`two boards of one name after ${step}`)
        if (state.draft.boards.some((board) => board.readings.some((text) => !text.trim()))) throw new Error(`an empty reading after ${step}`)
      }
    }""",
        order,
    )
