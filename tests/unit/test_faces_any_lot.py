"""Every face of random lots: always well-formed, escaped, in step with the plan document, and within its width."""

import json
import random
import xml.etree.ElementTree as ET

import pytest
from lots import lot
from thickset.doors.api import handle

NAMES = ("<b>", "A&B", '"quoted"', "Brett ü", "板", "long " * 12, "x" * 60, "1", "-", "</svg>", "'", "a b")


def random_job(seed):
    chance = random.Random(seed)
    units = chance.choice(("in", "mm"))
    target = chance.choice(("3/4", "7/8", "0.8")) if units == "in" else chance.choice(("18", "22,5", "19.05"))
    least = 1.0 if units == "in" else 25.4

    def reading():
        inches = chance.uniform(0.6, chance.choice((0.9, 1.1, 2.0)))
        return f"{round(inches * 64)}/64" if units == "in" else f"{inches * least:.{chance.randint(0, 2)}f}"

    names = chance.sample(NAMES, len(NAMES))
    boards = []
    for n in range(chance.choice((1, 2, 5, 12, 33))):
        top = reading()
        board = {
            "readings": [top, *(reading() for _ in range(chance.randint(0, 3)))],
            "width": "6 in",
            "length": "40 in",
        }
        if chance.random() < 0.3:
            board["count"] = chance.randint(1, 40)
        if n < len(names) and chance.random() < 0.5:
            board["name"] = " ".join(names[n].split())
        boards.append(board)
    planer = {"moves": chance.choice(("table", "head"))}
    if chance.random() < 0.7:
        planer["turn"] = chance.choice(("1/16 in", "2 mm", "0.3 in"))
    if chance.random() < 0.5:
        planer["feeds"] = ["16 ft/min", "9 m/min"]
        planer["head"] = {"speed": 5000, "knives": 3}
    title = chance.choice(("", "Lot <1>", "A title that is sixty characters long, or very nearly so"))
    return lot(*boards, units=units, target=target, title=title, planer=planer)


def ask(ask, job, **more):
    return json.loads(handle(json.dumps({"ask": ask, "job": job, **more})))


def named(job, plan):
    return [board["board"] for board in plan["boards"]]


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(30))
def test_every_face_of_a_random_lot(seed):
    job = random_job(seed)
    answer = ask("show", job)
    assert answer["ok"], answer["problems"]
    plan = answer["plan"]
    pages = {place: ET.fromstring(html) for place, html in answer["html"].items()}
    for whole in ("sheet", "tags"):
        pages[whole] = ET.fromstring(ask(whole, job)["html"][whole])
        document = ask(whole, job, whole=True)["document"]
        ET.fromstring(document.partition("\n")[2])
    for page in pages.values():
        ids = [element.get("id") for element in page.iter() if element.get("id")]
        assert len(ids) == len(set(ids))
        for element in page.iter():
            assert not {key for key in element.attrib if key.startswith("on") or key in ("style", "src")}
            assert element.get("href", "#sign").startswith("#sign")
            assert all(value.strip() for value in element.get("class", "x").split(" "))

    rows = pages["schedule"].findall(".//*[@data-pass]") if plan["passes"] else []
    assert [float(row.get("data-setting-mm")) for row in rows] == [one["setting_mm"] for one in plan["passes"]]
    outcomes = [(row.get("data-board"), row.get("data-outcome")) for row in pages["boards"].iter("li")]
    assert outcomes == [(board["board"], board["outcome"]) for board in plan["boards"]]

    text = ask("text", job)["text"]
    assert all(len(line) <= 80 for line in text.splitlines())
    assert text.count("line of throw") == bool(plan["passes"])
    for one in plan["passes"]:
        assert f"Pass {one['number']} of {len(plan['passes'])}:" in text
    if len(plan["boards"]) > 1:
        flat = " ".join(text.split())
        assert all(" ".join(name.split()) in flat for name in named(job, plan))


@pytest.mark.parametrize("seed", range(6))
def test_the_order_of_the_boards_changes_no_pass_on_paper_or_screen(seed):
    job = random_job(seed)
    for n, board in enumerate(job["boards"]):
        board["name"] = f"b{n:02}"
    turned = {**job, "boards": job["boards"][::-1]}
    settings = [
        [
            row.get("data-setting-mm")
            for row in ET.fromstring(ask("show", one)["html"].get("schedule", "<p/>")).iter("li")
        ]
        for one in (job, turned)
    ]
    assert [one for one in settings[0] if one] == [one for one in settings[1] if one]
