"""The command line: what it prints, where it prints it, and its status."""

import io
import json
import os
import random
import re
import subprocess
import sys

import pytest
from lots import fed_at
from thickset.doors.api import handle
from thickset.doors.command import main
from thickset.doors.demo import DEMO_IN, DEMO_MM
from thickset.ground.link.link import to_link


def start(*arguments, stdin=b"", **more):
    """The command line as a program of its own."""
    return subprocess.run(
        [sys.executable, "-m", "thickset", *arguments],
        input=stdin,
        capture_output=True,
        check=False,
        timeout=120,
        env={**os.environ, **more},
    )


def run(*arguments, stdin=b""):
    """The same in this process, which is sooner."""
    given, said, told = (io.TextIOWrapper(io.BytesIO(text), encoding="utf-8") for text in (stdin, b"", b""))
    with pytest.MonkeyPatch.context() as instead:
        for name, stream in (("stdin", given), ("stdout", said), ("stderr", told)):
            instead.setattr(sys, name, stream)
        try:
            status = main(list(arguments))
        except SystemExit as ended:
            status = ended.code
    for stream in (said, told):
        stream.flush()
    return subprocess.CompletedProcess(arguments, status, said.buffer.getvalue(), told.buffer.getvalue())


@pytest.fixture
def job(tmp_path):
    def saved(content, name="job.json"):
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else json.dumps(content).encode())
        return str(path)

    return saved


@pytest.mark.slow
@pytest.mark.parametrize("demo", [DEMO_IN, DEMO_MM], ids=["in", "mm"])
def test_plan_prints_the_schedule_within_80_columns(job, demo):
    done = start("plan", job(demo))
    assert (done.returncode, done.stderr) == (0, b"")
    said = done.stdout.decode()
    assert all(len(line) <= 80 for line in said.splitlines())
    plan = json.loads(handle(json.dumps({"ask": "plan", "job": demo})))["plan"]
    for one in plan["passes"]:
        assert f"Pass {one['number']} of {len(plan['passes'])}:  {one['setting']}  (" in said
    for_scale = sum(one.get("for_scale", False) for one in plan["passes"])
    assert said.count("Run a test piece first.") == sum(one["checked"] for one in plan["passes"]) - for_scale
    assert said.count("Scale unknown: measure one piece first.") == for_scale == 1
    assert "line of throw" in said
    assert said.count("manual, local codes") == 1


def test_plan_as_json_is_the_plan_document(job):
    done = run("plan", "--json", job(DEMO_MM))
    assert json.loads(done.stdout) == json.loads(handle(json.dumps({"ask": "plan", "job": DEMO_MM})))["plan"]


def test_a_dash_reads_standard_input_with_or_without_a_mark_of_order():
    text = json.dumps(DEMO_IN).encode()
    plain, marked = start("plan", "-", stdin=text), run("plan", "-", stdin=b"\xef\xbb\xbf" + text)
    assert plain.returncode == 0
    assert plain.stdout == marked.stdout


def test_problems_go_to_standard_error_each_on_its_line_with_status_2(job):
    bad = {**DEMO_IN, "target": {"thickness": "1/0"}, "extra": 1}
    done = run("plan", job(bad))
    assert (done.returncode, done.stdout) == (2, b"")
    lines = done.stderr.decode().splitlines()
    assert [line.partition(": ")[0] for line in lines] == ["extra", "target.thickness"]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "this is no JSON"),
        (b'{"thickset": 1', "this is no JSON"),
        (b"\xff\xfe{}", "this is no UTF-8 text"),
        (b"[" * 100_000, "this is nested too deep"),
        (b'{"boards": ' + b"[" * 2500 + b"]" * 2500 + b"}", "this is nested too deep"),
        (b'{}, "ask": "about"', "this is no JSON"),
    ],
)
def test_a_file_that_is_no_job_is_named_with_what_is_wrong(job, content, said):
    done = run("plan", job(content))
    assert (done.returncode, done.stdout) == (2, b"")
    assert len(done.stderr.splitlines()) == 1
    assert "job.json" in done.stderr.decode()
    assert said in done.stderr.decode()


def test_a_file_that_is_not_there_is_named():
    done = run("plan", "no such file.json")
    assert done.returncode == 2
    assert "no such file.json: it cannot be opened" in done.stderr.decode()


def test_a_number_is_taken_as_it_is_written(job):
    text = json.dumps(DEMO_MM).replace('"22"', "22.10000000000000000001")
    done = run("plan", "--json", job(text.encode()))
    asked = handle(f'{{"ask": "plan", "job": {text}}}')
    assert json.loads(done.stdout) == json.loads(asked)["plan"]


@pytest.mark.slow
def test_names_of_every_script_come_out_even_where_the_terminal_is_plain(job):
    named = {**DEMO_IN, "title": "Ω 板", "boards": [{**DEMO_IN["boards"][0], "name": "Brett ü"}]}
    done = start("plan", job(named), PYTHONIOENCODING="ascii", LC_ALL="C")
    assert done.returncode == 0
    assert "Brett ü" in done.stdout.decode()


@pytest.mark.slow
def test_without_a_command_it_says_how():
    done = start()
    assert done.returncode == 2
    assert b"usage: thickset" in done.stderr
    assert start("--version").stdout.startswith(b"thickset 0")


@pytest.mark.slow
def test_the_reader_may_stop_early(job):
    many = {**DEMO_IN, "boards": [{**DEMO_IN["boards"][0], "name": str(n)} for n in range(3000)]}
    whole = subprocess.Popen(
        [sys.executable, "-m", "thickset", "plan", job(many)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert whole.stdout.read(10)
    whole.stdout.close()
    assert whole.stderr.read() == b""
    whole.stderr.close()
    assert whole.wait(120) == 0


@pytest.mark.slow
def test_why_prints_the_reasons_and_gives_them_as_json(job):
    path = job(DEMO_IN)
    done = run("why", path, "passes[2].setting")
    assert (done.returncode, done.stderr) == (0, b"")
    said = done.stdout.decode()
    assert said.startswith("Setting of pass 3: 7/8 in\n")
    assert "S = (3/4) + 2 × (1/32) + 4 × (1/64)" in said
    every = run("why", path).stdout.decode()
    assert said in every
    assert all(len(line) <= 80 for line in every.splitlines())
    asked = json.loads(handle(json.dumps({"ask": "why", "job": DEMO_IN, "what": "passes[2]"})))
    assert json.loads(run("why", "--json", path, "passes[2]").stdout) == asked["why"]


def test_why_of_what_is_no_number_of_the_plan_has_status_2(job):
    done = run("why", job(DEMO_IN), "passes[9]")
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.decode().startswith("what: ")


@pytest.mark.parametrize("ask", ["sheet", "tags"])
def test_what_goes_on_paper_is_printed_as_a_whole_document(job, ask):
    done = run(ask, job(DEMO_IN))
    assert (done.returncode, done.stderr) == (0, b"")
    answer = json.loads(handle(json.dumps({"ask": ask, "whole": True, "job": DEMO_IN})))
    assert done.stdout.decode() == answer["document"]
    assert run(ask, job({"thickset": 1}, "none.json")).returncode == 2


RUN = fed_at("26.19375 mm")
PAGE = "https://example.org/thickset/"


def test_link_prints_the_plan_link_with_the_run_or_without(job):
    begun = {**DEMO_IN, "run": RUN}
    path = job(begun)
    done = run("link", path)
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.decode() == f"{to_link(begun)}\n"
    assert run("link", "--no-run", path).stdout.decode() == f"{to_link(DEMO_IN)}\n"
    there = run("link", path, "--page", f"{PAGE}#old").stdout.decode()
    assert there == f"{PAGE}{to_link(begun)}\n"


def test_open_prints_the_job_document_of_a_link(job):
    begun = {**DEMO_MM, "title": "Ω 板", "run": RUN}
    address = run("link", job(begun), "--page", PAGE).stdout.decode().strip()
    done = run("open", address)
    assert (done.returncode, done.stderr) == (0, b"")
    assert json.loads(done.stdout) == begun
    assert run("link", "-", stdin=done.stdout).stdout.decode().strip() == to_link(begun)


@pytest.mark.parametrize("damage", ["", "nothing", "#plan=9", to_link(DEMO_IN)[:-4], to_link(DEMO_IN) + "0"])
def test_a_link_that_does_not_open_has_status_2_and_says_why(damage):
    done = run("open", damage)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.decode().startswith("link: ")


def test_the_sheet_carries_the_code_where_a_page_is_told(job):
    plain, coded = (run("sheet", job(DEMO_IN), *more).stdout.decode() for more in ([], ["--page", PAGE]))
    assert 'class="qr"' not in plain
    asked = {"ask": "code", "job": DEMO_IN, "run": False, "page": PAGE}
    drawn = json.loads(handle(json.dumps(asked)))["html"]["code"]
    assert re.search(r'<path d="[^"]*"', drawn)[0] in coded


def test_a_lot_too_large_for_a_code_says_so_on_the_sheet(job):
    chance = random.Random(1)
    readings = [[f"1.{chance.randint(0, 9999):04} in" for _ in range(6)] for _ in range(80)]
    boards = [{"name": str(n), "readings": each, "width": "6", "length": "40"} for n, each in enumerate(readings)]
    done = run("sheet", "--page", PAGE, job({**DEMO_IN, "boards": boards}))
    assert done.returncode == 0
    assert 'class="qr"' not in done.stdout.decode()
    assert "Too large for a code that scans well: hand it over as a link or a file." in done.stdout.decode()


@pytest.mark.parametrize("page", ["example.org", "ftp://example.org/", "https://" + "x" * 400, "javascript:alert(1)"])
@pytest.mark.parametrize("ask", ["sheet", "link"])
def test_what_is_no_address_of_a_page_is_refused(job, ask, page):
    done = run(ask, job(DEMO_IN), "--page", page)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.decode().startswith("page: ")


@pytest.mark.parametrize("what", [[], ["passes"], ["boards"]])
@pytest.mark.parametrize("comma", [False, True])
def test_csv_prints_the_tables_of_the_plan(job, what, comma):
    done = run("csv", job(DEMO_MM), *what, *(["--comma"] if comma else []))
    assert (done.returncode, done.stderr) == (0, b"")
    asked = {"ask": "csv", "job": DEMO_MM, "what": "".join(what), "comma": comma}
    assert done.stdout.decode().splitlines() == json.loads(handle(json.dumps(asked)))["text"].splitlines()
    assert run("csv", job({"thickset": 1}, "none.json"), *what).returncode == 2


@pytest.mark.parametrize("command", [("plan",), ("plan", "--json"), ("why",), ("follow",), ("csv",)])
def test_no_sign_of_a_name_steers_the_terminal(job, command):
    steering = ("\x1b[2J", "\x9b31m", "\u202e", "\x07")
    for n, sign in enumerate(steering):
        lot = json.loads(json.dumps(DEMO_IN))
        lot["boards"][0] |= {"name": f"A{sign}", "width": "1/0"}
        lot["title"] = lot["planer"]["name"] = lot[f"field {sign}"] = f"Shelves {sign}"
        done = run(*command, job(lot, f"job{n}.json"))
        said = (done.stdout + done.stderr).decode()
        assert done.returncode == 2
        assert all(char.isprintable() or char == "\n" for char in said), ascii(said)


def test_a_link_that_carries_steering_signs_is_printed_as_json_that_says_the_same():
    lot = {"thickset": 1, "title": "A\x1b\x9b\u202e\U000e0001"}
    done = run("open", to_link(lot))
    assert all(char.isprintable() or char == "\n" for char in done.stdout.decode())
    assert json.loads(done.stdout) == lot
