"""Where there is no plan: which boards are in the way, by how much, and a cure that is one."""

import pytest
from lots import ask, lot, plan, settings


def test_a_board_of_just_the_planers_limits_is_planned():
    job = lot(("A", "1"), target="1/4", planer={"widest": "6", "shortest": "40", "thinnest": "1/4"})
    assert plan(job)["passes"]


def problems(job):
    answer = ask(job)
    assert not answer["ok"]
    return [(problem["at"], problem["text"]) for problem in answer["problems"]]


def test_boards_that_load_too_much_are_named_and_no_others():
    known = {"width": "6", "depth": "1/32", "feed": "20 ft/min"}
    job = lot(("at the target", "3/4"), ("narrow", "1"), ("wide", "1"), ("wider", "1"), planer={"known_cut": known})
    for board, width in zip(job["boards"], ("18", "5", "10", "12"), strict=True):
        board["width"] = width
    found = problems(job)
    assert [at for at, _ in found] == ["boards[2].width", "boards[3].width"]
    assert found[0][1].startswith("Board wide: at the slowest feed the proven cut allows 0.019 in a pass")
    assert all(
        "a pass near the target takes 1/32 in. Lower the finish cut to 1/64 in, rip it" in text for _, text in found
    )
    assert plan({**job, "practice": {"finish_cut": "1/64"}})["passes"]
    job["boards"][3]["width"] = "13"  # no cut that is a cut: only a narrower board helps
    assert all("1/32 in. Rip it narrower" in text for _, text in problems(job))


def test_steps_too_coarse_for_a_wide_board_are_told_with_the_cure():
    known = {"width": "6", "depth": "1/32", "feed": "20 ft/min"}
    job = lot(("A", "1"), planer={"known_cut": known, "step": "1/16"}, practice={"finish_cut": "1/32"})
    [(at, text)] = problems(job)
    assert at == "boards[0].width"
    assert "allows 1/32 in a pass, and the lightest of whole steps takes 1/16 in. Give a finer step, rip" in text
    job["planer"]["step"] = "1/64"
    assert plan(job)["passes"]


@pytest.mark.parametrize(
    ("planer", "practice", "cure"),
    [
        ({"deepest_cut": "1/64"}, {}, "Lower the finish cut."),
        ({}, {"cut": "1/64"}, "Lower the finish cut or raise the planned cut."),
        ({"lightest_cut": "3/64"}, {}, "Raise the finish cut or lower the lightest cut."),
        ({"lightest_cut": "3/32"}, {}, "Lower the lightest cut."),
    ],
)
def test_no_cure_is_told_that_is_none(planer, practice, cure):
    [(at, text)] = problems(lot(("A", "1"), planer=planer, practice=practice))
    assert at == "practice.finish_cut"
    assert text.endswith(f". {cure}")


@pytest.mark.parametrize(
    ("deepest", "step", "cut", "cure"),
    [
        ("1/32", "1/32", "1/64", "Lower the finish cut to 1/64 in."),
        ("3/64", "1/32", "1/64", "Lower the finish cut to 1/64 in or raise the planned cut."),
        ("1/32", "1/64", "1/32", None),
    ],
)
def test_a_last_pass_that_would_be_too_deep_is_told_with_the_cure(deepest, step, cut, cure):
    job = lot(
        ("A", "51/64"), planer={"deepest_cut": deepest, "step": step}, practice={"cut": cut, "finish_cut": "1/32"}
    )
    if cure is None:
        assert settings(job) == ["49/64 in", "3/4 in"]
        return
    [(at, text)] = problems(job)
    assert at == "practice.cut"
    assert text.endswith(f". {cure}")
    job["practice"]["finish_cut"] = "1/64"
    assert plan(job)["passes"]


def test_a_reading_a_thousand_passes_above_the_target_is_told_as_a_slip():
    [(at, text)] = problems(lot(("A", "1"), ("B", "70 in")))
    assert at == "boards[1].readings"
    assert (
        text
        == "Board B: its thick spot, 70 in, is more than 1,000 passes above the target. Check the number and its unit."
    )
    assert plan(lot(("A", "1"), ("B", "60 in")))["passes"]


def test_a_step_too_fine_to_be_told_in_inches_is_told_as_it_is():
    [(_, text)] = problems(lot(("A", "1"), planer={"step": "0.0001 mm"}))
    assert text.startswith("Finest step: 0.0001 mm is too fine")
