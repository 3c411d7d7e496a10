"""A planer's book: what is read of it, what it says of scale and knives, and that nothing of it goes along with a job."""

from __future__ import annotations

import json
import re
from fractions import Fraction

import pytest
from lots import fed_at, metric, metric_lot
from thickset.doors import request
from thickset.doors.api import handle
from thickset.faces.planer.book import advice
from thickset.ground.job import document
from thickset.planning.book.book import book_of
from thickset.planning.book.entry import of_run, read
from thickset.planning.passes.planner import make_plan
from thickset.planning.run.record import record_document

RECORD = {"offset": 0.1, "offset_worth": 4, "spread": 0.05, "spread_worth": 5, "runs": 3, "fed": 100}
LOT = metric_lot(
    metric("24", "23.4", name="A", length="900"), metric("24", "23.4", name="B", length="900", count=3), title="Slats"
)
QUIET = [0.11, 0.09, 0.12, 0.1, 0.13, 0.08, 0.1, 0.11, 0.09, 0.12, 0.1, 0.13, 0.08, 0.1]


def scraps(*offs: float) -> list[dict]:
    return [{"kind": "scrap", "offs": [off]} for off in offs]


def test_an_old_record_is_the_first_entry_to_the_last_figure() -> None:
    record = {
        **RECORD,
        "set_seconds": 25.5,
        "handle_seconds": 8.0,
        "timed": 2,
        "lead": 80.0,
        "trail": 60.0,
        "sniped": 1,
    }
    assert record_document(book_of([{"kind": "carried", "record": record}]).record) == record
    assert book_of([{"kind": "carried", "record": None}]).record is None


def test_a_run_leaves_what_happened_in_it() -> None:
    run = [
        *fed_at("23.2", "21.6"),
        {"did": "see", "what": "tear-out", "board": "A"},
        {"did": "see", "what": "bog"},
        {"did": "check", "thickness": "21.7 mm"},
        {"did": "remove", "board": "A", "why": "split"},
        *fed_at("20.8", "20"),
        {"did": "measure", "board": "B", "readings": ["20.3 mm", "19.9 mm"]},
    ]
    job = document.read({**LOT, "run": run}).job
    assert job
    entry = of_run(job)
    assert entry["lot"] == "Slats"
    assert (entry["boards"], entry["torn"], entry["bogs"], entry["lost"]) == (4, 1, 1, {"split": 1})
    assert entry["offs"] == [pytest.approx(0.1)]
    assert (entry["measured"], entry["out"], entry["worst"]) == (1, 1, 0.3)
    assert entry["planned"] > 0
    assert "taken" not in entry
    assert read(entry).worst == Fraction(3, 10)


def test_a_knock_is_told_and_the_belief_rests_on_what_came_after() -> None:
    book = book_of(scraps(*QUIET, 0.4, 0.42))
    assert [n for n, line in enumerate(book.lines) if line.knocked] == [len(QUIET)]
    assert float(book.record.offset) == pytest.approx(0.41, abs=0.01)
    assert book.record.since_knock == 2
    assert not any(line.knocked for line in book_of(scraps(*QUIET)).lines)
    # Taken back, the knock is gone as well.
    assert float(book_of(scraps(*QUIET)).record.offset) == pytest.approx(0.1, abs=0.02)


def test_of_too_few_values_nothing_is_told() -> None:
    assert not any(line.knocked for line in book_of(scraps(0.1, 0.12, 0.5)).lines)


def test_new_knives_begin_the_length_fed_anew_and_change_nothing_else() -> None:
    entries = [
        {"kind": "carried", "record": RECORD},
        {"kind": "run", "fed": 12.5},
        {"kind": "changed"},
        {"kind": "run", "fed": 4},
    ]
    assert [float(line.record.fed) for line in book_of(entries).lines] == [100, 112.5, 0, 4]
    assert book_of([{"kind": "turned"}]).record is None
    assert book_of(entries).record.offset == Fraction("0.1")


@pytest.mark.parametrize(
    ("entry", "wrong"),
    [
        ("x", "'x' stands where an entry is wanted"),
        ({"kind": "run", "on": "yesterday"}, "no date"),
        ({"kind": "run", "fed": "far"}, "fed: 'far' is no number"),
        ({"kind": "run", "fed": True}, "fed"),
        ({"kind": "run", "offs": [30]}, "offs: '30' is no number from -25 to 25"),
        ({"kind": "run", "offs": 3}, "a list of numbers"),
        ({"kind": "run", "word": "sharp"}, "none of clean, fair, dull"),
        ({"kind": "run", "lost": ["A"]}, "by why they were lost"),
        ({"kind": "run", "note": "a" * 201}, "at most 200"),
        ({"kind": "carried", "record": {"offset": 1}}, "Record"),
    ],
)
def test_what_cannot_be_read_says_why(entry: object, wrong: str) -> None:
    line = book_of([{"kind": "scrap", "offs": [0.2]}, entry]).lines[1]
    assert wrong in line.wrong
    assert line.record == book_of([{"kind": "scrap", "offs": [0.2]}]).record


@pytest.mark.parametrize(("since", "said"), [(1, "the last run or scrap alone"), (3, "the last 3 runs and scraps")])
def test_the_run_says_that_the_scale_was_knocked_when_it_asks_for_the_first_test_piece(since: int, said: str) -> None:
    lot = {**LOT, "planer": {"record": {**RECORD, "since_knock": since}}}

    def follow(events: list[dict]) -> dict:
        return dict(json.loads(handle(json.dumps({"ask": "follow", "job": {**lot, "run": events}}))))

    events: list[dict] = []
    while (step := follow(events)["run"]["step"])["kind"] == "feed":
        events += fed_at(str(step["pass"]["setting_mm"]))
    assert events, "the first test piece comes when boards went through already"
    assert f"The scale was knocked not long ago. What is known of it rests on {said}." in follow(events)["html"]["run"]
    wanted = str(step["pass"]["setting_mm"])
    tried = {"did": "test", "setting": wanted, "scale": wanted, "thickness": wanted}
    assert "knocked" not in follow([*events, tried])["html"]["run"]


def ask(**asked: object) -> dict:
    return dict(json.loads(handle(json.dumps(asked))))


def test_a_record_that_the_book_does_not_say_is_carried_over_and_the_two_are_one_again() -> None:
    made = ask(ask="book", units="mm", book=[], record=RECORD, on="2026-11-29")
    assert made["record"] == {**RECORD, "offset_worth": 4.0, "spread_worth": 5.0, "fed": 100.0}
    assert [(entry["kind"], entry["on"]) for entry in made["book"]] == [("carried", "2026-11-29")]
    # What the book says itself is carried over no second time.
    assert (
        ask(ask="book", units="mm", book=made["book"], record=made["record"], on="2026-11-30")["book"] == made["book"]
    )
    forgotten = ask(ask="book", units="mm", book=made["book"], record=None, on="2026-11-30")
    assert (forgotten["record"], len(forgotten["book"])) == (None, 2)


def test_an_entry_is_added_said_a_word_on_and_taken_back() -> None:
    run = ask(ask="plan", job=LOT)["plan"]["passes"]
    job = {**LOT, "run": fed_at(*(one["setting"] for one in run))}
    made = ask(ask="book", units="mm", book=[], record=None, on="2026-11-29", run=job)
    assert [(entry["kind"], entry["lot"], entry["on"]) for entry in made["book"]] == [("run", "Slats", "2026-11-29")]
    assert made["record"] == ask(ask="learn", job=job)["record"]
    said = ask(ask="book", units="mm", book=made["book"], change={"n": 0, "word": "dull", "note": "<wavy>"})
    assert "Surface: too dull. &lt;wavy&gt;" in said["html"]["book"]
    assert ask(ask="book", units="mm", book=said["book"], drop=0)["book"] == []
    for wrong in (
        {"drop": 1},
        {"drop": True},
        {"change": {"n": 0, "word": "sharp"}},
        {"add": {"kind": "walk"}},
        {"run": LOT},
    ):
        refused = ask(ask="book", units="mm", book=said["book"], **wrong)
        assert refused["problems"], wrong


def test_a_run_is_one_entry_that_follows_it_and_keeps_the_word_on_it() -> None:
    done = {**LOT, "run": fed_at("23.2", "21.6", "20.8", "20")}
    thick = {"did": "measure", "board": "A", "readings": ["20.5 mm"]}

    def told(book: list, run: list, **more: object) -> list:
        job = {**LOT, "run": run}
        return ask(ask="book", units="mm", book=book, on="2026-11-30", run=job, of="j", **more)["book"]

    once = told([], done["run"], follows=True)
    said = ask(ask="book", units="mm", book=once, change={"n": 0, "word": "clean", "note": "birch"})["book"]
    (again,) = told(said, [*done["run"], thick], follows=True)
    assert (again["of"], again["on"], again["word"], again["note"]) == ("j", "2026-11-30", "clean", "birch")
    assert (again["measured"], again["out"]) == (1, 1)
    # Not through any more, it goes; one that was entered before it was through stays, and is one.
    assert told([again], done["run"][:-1], follows=True) == []
    early = told([], done["run"][:-1], follows=True)
    assert early == []
    tried = [*done["run"][:-1], {"did": "check", "thickness": "20.9"}]
    (early,) = told([], tried)
    assert early["early"]
    (later,) = told([early], [*tried, *done["run"][-1:]], follows=True)
    assert "early" not in later
    assert told([early], done["run"][:1], follows=True) == []
    # Of another job it is another entry.
    assert len(ask(ask="book", units="mm", book=once, run=done, of="k", jobs=["j", "k"], on="")["book"]) == 2
    # The job that came back from a file with another id is the same; a lot of another name is not.
    (same,) = ask(ask="book", units="mm", book=said, run=done, of="k", jobs=["k"], on="2026-12-01")["book"]
    assert (same["of"], same["on"], same["word"], same["note"]) == ("k", "2026-11-30", "clean", "birch")
    legs = {**done, "title": "Legs"}
    assert len(ask(ask="book", units="mm", book=["torn", *said], run=legs, of="k", jobs=["k"])["book"]) == 3


def test_minutes_taken_are_those_from_the_first_feed_to_the_last() -> None:
    fed = [{**event, "after": 60} if n else event for n, event in enumerate(fed_at("23.2", "21.6", "20.8", "20"))]
    final = {"did": "measure", "board": "A", "readings": ["20 mm"]}

    def taken(*events: dict) -> object:
        job = document.read({**LOT, "run": [*fed, *events]}).job
        assert job
        return of_run(job).get("taken")

    assert taken() == taken({**final, "after": 300}) == taken(final) == (len(fed) - 1)


def test_a_full_book_is_read_and_made_shorter_and_takes_no_more() -> None:
    full = [{"kind": "scrap"}] * 5000
    assert ask(ask="book", units="mm", book=full)["ok"]
    assert len(ask(ask="book", units="mm", book=full, drop=0)["book"]) == 4999
    assert ask(ask="book-csv", units="mm", book=full)["ok"]
    assert len(ask(ask="book", units="mm", book=full[1:], add={"kind": "changed"})["book"]) == 5000
    (refused,) = ask(ask="book", units="mm", book=full, add={"kind": "changed"})["problems"]
    assert "The book is full" in refused["text"]


def test_the_newest_run_is_asked_of_whatever_came_after_it() -> None:
    book = [{"kind": "run", "fed": 3}, {"kind": "run", "fed": 4}, {"kind": "changed"}]
    told = ask(ask="book", units="mm", book=book)["html"]["book"]
    assert re.findall(r'data-(?:word|note)="(\d+)"', told) == ["1", "1"]


def test_the_page_of_a_book_says_less_or_more_in_words_and_where_the_scale_was_last_knocked() -> None:
    less = ask(ask="book", units="mm", book=scraps(-0.12, -0.1, -0.11))["html"]["book"]
    assert re.search(r"less than its scale reads, .*0\.0\d mm.* to .*0\.\d\d mm", less)
    assert "-0" not in re.sub("<svg.*?</svg>", "", less, flags=re.DOTALL)
    both = ask(ask="book", units="mm", book=scraps(-0.03, 0.02, 0.02))["html"]["book"]
    assert re.search(r"from .*less.* to .*more", both)
    for more, rests in (([], "that scrap alone"), ([0.5], "that scrap and the 1 after it")):
        told = re.sub("<[^>]*>", "", ask(ask="book", units="mm", book=scraps(*QUIET, 0.5, *more))["html"]["book"])
        said = f"The scale was last knocked before this scrap: Scrap measured. What is known of it rests on {rests}."
        assert said in told.replace("\u00a0", " ")


def test_older_entries_are_listed_when_all_are_asked_for_each_with_its_number() -> None:
    book = scraps(*(0.1 + n % 5 / 100 for n in range(45)))
    newest, every = (ask(ask="book", units="mm", book=book, all=one)["html"]["book"] for one in (False, True))
    assert newest.count("data-take-back") == 40
    assert "Show all 45 entries" in newest
    assert [int(one) for one in re.findall(r'data-take-back="(\d+)"', every)] == [*range(44, -1, -1)]
    assert "Show all" not in every


def number(text: str) -> float:
    """The number in what a reason comes to."""
    return float(re.search(r"-?[0-9.]+", text)[0])


def test_why_a_book_says_so_is_worked_out_from_its_entries() -> None:
    runs = [{"kind": "run", "offs": [off], "fed": 30, "planned": 10, "taken": 12} for off in QUIET]
    worn = [{"kind": "run", "fed": 10, "word": "dull"}, {"kind": "run", "fed": 5}, {"kind": "changed"}]
    book = [*runs, *worn, {"kind": "scrap", "on": "2030-03-01", "offs": [0.4]}, {"kind": "run", "fed": 12}]

    def why(what: str) -> list:
        found = ask(ask="why", form="book", units="mm", book=book, what=what)["why"]
        return found if isinstance(found, list) else [found]

    offset, spread = why("book.scale")
    assert (offset["at"], spread["at"]) == ("book.scale.offset", "book.scale.spread")
    assert number(offset["result"]) == pytest.approx(float(book_of(book).record.offset), abs=1e-3)
    (knock,) = why("book.knock")
    assert knock["title"] == "The scale was knocked, 2030-03-01"
    assert number(knock["result"]) == pytest.approx(0.4 - sum(QUIET) / len(QUIET), abs=1e-3)
    assert [check["holds"] for check in knock["checks"]] == [True]
    fed, dull = why("book.knives")
    assert (fed["result"], dull["result"]) == ("12 m", "430 m")
    (minutes,) = why("book.minutes")
    assert minutes["result"] == "20 %"
    assert ask(ask="why", form="book", units="mm", book=[], what="book.knock")["problems"]


def test_a_reading_in_a_run_that_cannot_be_is_a_knock_of_the_book_too() -> None:
    book = [*scraps(*QUIET), {"kind": "run", "offs": [0.1, 0.6, 0.61]}]
    line = book_of(book).lines[-1]
    assert line.knocked
    assert line.by_run
    assert line.off == pytest.approx(0.605)
    told = ask(ask="book", units="mm", book=book)["html"]["book"]
    assert "In it the scale was moved" in told
    assert "knocked once" in told
    why = ask(ask="why", form="book", units="mm", book=book, what="book.knock")["why"]
    assert number(why["result"]) == pytest.approx(0.5, abs=0.01)


def test_no_entry_of_a_book_goes_along_with_a_job_or_a_link() -> None:
    made = ask(
        ask="book",
        units="mm",
        book=[],
        record=None,
        on="2026-11-29",
        add={"kind": "scrap", "offs": [0.2], "note": "secret"},
    )
    job = {**LOT, "planer": {"record": made["record"]}}
    assert ask(ask="plan", job=job)["ok"]
    opened = ask(ask="open", link=ask(ask="link", job=job)["link"])["job"]
    assert opened["planer"] == {"record": made["record"]}
    assert "secret" not in json.dumps(opened)
    smuggled = ask(ask="plan", job={**LOT, "planer": {"book": made["book"]}})
    assert [problem["at"] for problem in smuggled["problems"]] == ["planer.book"]


def test_a_lot_is_planned_once_on_each_planer_and_a_bad_one_takes_no_other_along(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    planned = []
    monkeypatch.setattr(request, "make_plan", lambda job: planned.append(job.planer.name) or make_plan(job))
    jobs = [
        {"id": str(n), "name": name, "job": {**LOT, "planer": {"name": name, **more}}}
        for n, (name, more) in enumerate([("Old", {}), ("Narrow", {"widest": "100"}), ("Torn", {"widest": "wide"})])
    ]
    answer = ask(ask="which-planer", jobs=jobs)
    assert planned == ["Old", "Narrow"]
    assert [len(one["problems"]) for one in answer["planers"]] == [0, 2, 1]
    assert answer["planers"][0]["minutes"] == ask(ask="plan", job=jobs[0]["job"])["plan"]["minutes"]
    assert ask(ask="which-planer", jobs=[])["problems"]


def test_the_book_says_what_to_do_next_with_its_figures_and_nothing_when_there_is_too_little() -> None:
    def said(entries: list[dict]) -> list[str]:
        return list(advice(book_of(entries), "mm"))

    assert said([{"kind": "run", "fed": 30}]) == []
    worn = [{"kind": "run", "fed": 300, "word": "dull"}, {"kind": "changed"}, {"kind": "run", "fed": 299}]
    assert said(worn) == []
    assert said([*worn, {"kind": "run", "fed": 2, "handle_seconds": 8}]) == [
        "See to the knives: they were fed 301 m. They were too dull after 300 m, last time."
    ]
    assert said(scraps(*QUIET, 0.5)) == [
        "Measure a scrap: the scale was knocked, and what is known of it since rests on 1 reading."
    ]
    assert said(scraps(*QUIET, 0.5, 0.5)) == []
