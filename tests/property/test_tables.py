"""Tables go out and come back as they were, whoever opens them in between, and nothing that is pasted breaks anything."""

from __future__ import annotations

import csv
import io
import json
from itertools import chain

from hypothesis import assume, given
from hypothesis import strategies as st
from strategies import cells, hostile_names, jobs, table_texts
from thickset.doors.api import FAULT, handle
from thickset.ground.job.tables import TableError, read, write
from thickset.ground.notation.numbers import read as number

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def ask(**asked: object) -> dict:
    return json.loads(handle(json.dumps(asked)))


SPOTS = [f"{along} {across}" for along in ("end 1", "middle", "end 2") for across in ("left", "center", "right")]


def plain(entry: object) -> str:
    """A length as it was typed, with one decimal mark."""
    return str(entry).strip().replace(",", ".")


@given(jobs(), st.booleans(), st.data())
def test_boards_come_back_as_they_were(job: dict, comma: bool, data: st.DataObject) -> None:
    names = data.draw(st.lists(hostile_names(), min_size=len(job["boards"]), max_size=len(job["boards"])))
    named = [" ".join(f"{name} {n}".split()) for n, name in enumerate(names)]
    boards = [{**board, "name": name} for board, name in zip(job["boards"], named, strict=True)]
    for board in boards:
        many = len(board["readings"]) if isinstance(board["readings"], list) else 1
        board["places"] = data.draw(st.lists(st.sampled_from(["", *SPOTS]), max_size=many))
    assume(ask(ask="csv", job=job)["ok"])
    text = ask(ask="csv", what="boards", comma=comma, job={**job, "boards": boards})["text"]
    answer = ask(ask="table", text=text, units=job.get("units", "in"))
    assert answer["problems"] == []
    assert len(answer["boards"]) == len(boards)
    for back, board in zip(answer["boards"], boards, strict=True):
        assert back["name"] == board["name"]
        readings = board["readings"] if isinstance(board["readings"], list) else [board["readings"]]
        assert list(map(plain, back["readings"])) == list(map(plain, readings))
        assert [plain(back[key]) for key in ("width", "length")] == [plain(board[key]) for key in ("width", "length")]
        assert back.get("places", []) == (board["places"] if any(board["places"]) else [])
        assert back.get("species", "") == (board.get("species") or "")
        assert back["count"] == str(board.get("count") or 1)


@given(jobs(most_free=6), st.booleans(), st.sampled_from(["passes", "boards"]))
def test_no_cell_is_a_formula_and_every_number_is_one(job: dict, comma: bool, what: str) -> None:
    boards = [{**board, "name": f"={n}"} for n, board in enumerate(job["boards"])]
    assume(ask(ask="csv", job=job)["ok"])
    text = ask(ask="csv", what=what, comma=comma, job={**job, "boards": boards})["text"]
    heads, *rows = csv.reader(io.StringIO(text, newline=""), delimiter=";" if comma else ",")
    for row in rows:
        assert len(row) == len(heads)
        for head, cell in zip(heads, row, strict=True):
            computed = head in ("Turns", "Minutes") or head.startswith(
                ("Setting (", "Feed (", "Pitch (", "Short", "Off")
            )
            if computed and cell:
                assert ("." if comma else ",") not in cell
                number(cell.removeprefix("-"))
            else:
                assert not cell.startswith(FORMULA)


@given(st.lists(st.lists(cells(), min_size=2, max_size=4), min_size=1, max_size=5), st.booleans())
def test_a_text_is_written_as_it_is_or_with_a_mark_that_it_is_no_formula(rows: list, comma: bool) -> None:
    written = write(rows, comma)
    back = list(csv.reader(io.StringIO(written, newline=""), delimiter=";" if comma else ","))
    assert list(map(len, back)) == list(map(len, rows))
    for cell, meant in zip(chain(*back), chain(*rows), strict=True):
        flat = " ".join(meant.split())
        assert cell in (flat, f"'{flat}")
        assert not cell.startswith(FORMULA)


@given(table_texts(), st.sampled_from(["in", "mm"]))
def test_whatever_is_pasted_is_read_or_refused_in_words(text: str, units: str) -> None:
    answer = ask(ask="table", text=text, units=units)
    if answer["ok"]:
        for board in answer["boards"]:
            assert set(board) <= {"name", "readings", "width", "length", "count", "species", "density"}
    else:
        assert not answer["problems"][0]["text"].startswith(FAULT)
        assert answer["problems"][0]["at"] == "text"


@given(
    st.lists(st.lists(cells(), min_size=3, max_size=3), min_size=1, max_size=6), st.sampled_from(["\n", "\r\n", "\r"])
)
def test_ends_of_lines_quotes_and_the_mark_of_order_change_nothing(rows: list, end: str) -> None:
    text = write([["Board", "T", "Width"], *rows])
    written = csv.reader(io.StringIO(text, newline=""))
    quoted = [",".join(f'"{quotes(cell)}"' for cell in row) for row in written]
    other = "\ufeff" + end.join(line.replace(" ", end) for line in quoted)
    assert boards_of(other) == boards_of(text)


def quotes(cell: str) -> str:
    """A cell as it stands between quotes."""
    return cell.replace('"', '""')


def boards_of(text: str) -> object:
    """The boards of a table, or why there are none."""
    try:
        return read(text, "mm").boards("mm")
    except TableError as error:
        return str(error)
