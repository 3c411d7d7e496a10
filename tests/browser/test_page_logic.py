"""The page's pure parts: lengths as the pad knows them, the draft and its document, and what a damaged store holds."""

from __future__ import annotations

from typing import Any

import pytest
from amounts import examples
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from phone import Open
from playwright.sync_api import Page

SCRIPT: Any = {"content_type": "text/javascript"}


@pytest.fixture
def page(open_page: Open) -> Page:
    """The page's markup, of which nothing runs but the pure modules: they read its fields."""
    opened = open_page(before=lambda page: page.route("**/first.js", lambda script: script.fulfill(body="", **SCRIPT)))
    opened.evaluate("""async () => {
      const load = (name) => import(new URL(`beside/${name}`, location.href))
      window.pure = Object.assign({}, ...await Promise.all(['base/lengths.js', 'base/job.js', 'kept/mending.js', 'base/document.js', 'base/board_steps.js'].map(load)))
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
same = settings(examples(150), suppress_health_check=[HealthCheck.function_scoped_fixture])


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
