"""No expression over what people type takes more than linear time: each reader meets 100,000 of each sign in a process of its own
that has a minute of processor, of which it uses a few seconds. What grows with the square takes a hundred times that minute."""

import subprocess
import sys
from pathlib import Path

import pytest

PY = Path(__file__).parents[2] / "py"
pytestmark = pytest.mark.slow
MOST = 60
"""Seconds of processor [s] after which the process is ended: not by a clock, so that a busy machine decides nothing."""

MANY = 100_000
SIGNS = list(" 0159.,-/'\"°(:;[#=+@%\t\n½²½–√é")
SIGNS += [
    "1 ",
    "1,",
    "1.1 ",
    "-1",
    "''",
    ',"',
    '""',
    "1/2 ",
    "per ",
    "/ min",
    " min",
    "in",
    "to ",
    " to",
    "..",
    "e+",
    "E1",
]
AROUND = [
    ("", ""),
    ("5000", "x"),
    ("5000", "rpm"),
    ("1", "/"),
    ("'", "1"),
    ("70", "F"),
    ("6", "per board foot"),
    ("=", ""),
]

READ = """
import json, resource, sys
resource.setrlimit(resource.RLIMIT_CPU, (%(most)d, %(most)d))
from thickset.doors.api import handle
from thickset.ground.job import document, tables
from thickset.ground.job.fields import FIELDS
from thickset.ground.job.document import _Reader
from thickset.ground.notation import lengths, numbers, places, slips, units, names
from thickset.ground.woods import species

def tried(read, *given):
    try:
        return read(*given)
    except ValueError:
        return None

def entries(text):
    reader = _Reader("in")
    for path, one in FIELDS.items():
        reader.entry(text, one, path, one.label)

def notation(text):
    for read in (numbers.read, numbers.spelled_out, places.read_place, species.find, species.require, lengths.has_unit,
                 lengths.shown, slips.check_two_ways):
        tried(read, text)
    tried(lengths.read, text, "in")
    tried(units.factor, text, "mm")
    tried(slips.check_thousands, text, lengths.INCH, ("400", "60"))
    names.names_of([{"name": text}])

def table(text):
    for made in (text, "Board,T\\nA," + text, text + ",T\\n1,2", '"' + text + '","T"\\n1,2'):
        tried(tables.read, made, "in")

def written(text):
    tables.as_words(text)
    tables.write([[text]])
    tables.for_a_spreadsheet(text, False)

def links(text):
    handle(json.dumps({"ask": "open", "link": "#plan=2" + text}))
    handle(json.dumps({"ask": "link", "job": {"title": text, "boards": [{"name": text, "readings": [text]}]}}))

def forms(text):
    for ask, key in (("slab", "board"), ("buy", "need"), ("scrap", "scrap")):
        fields = ("length", "width", "cup", "middle", "thickness", "count", "waste", "rate", "moisture", "scale", "measured")
        handle(json.dumps({"ask": ask, key: {field: text for field in fields}}))
    handle(json.dumps({"ask": "species", "text": text}))

for before, after in %(around)s:
    for sign in %(signs)s:
        %(reader)s(before + sign * (%(many)d // len(sign)) + after)
"""


@pytest.mark.parametrize(
    ("reader", "many"),
    [("entries", MANY), ("notation", MANY), ("table", MANY), ("written", 10_000), ("forms", 10_000), ("links", 3000)],
)
def test_no_reader_grows_faster_than_what_is_typed(reader, many):
    said = READ % {"most": MOST, "around": AROUND, "signs": SIGNS, "many": many, "reader": reader}
    done = subprocess.run([sys.executable, "-c", said], env={"PYTHONPATH": str(PY)}, check=False, capture_output=True)
    assert done.returncode == 0, done.stderr.decode() or "It was ended: it takes more than linear time."
