"""README opens with the job and is short; the table of fields is the one that the core reads documents by."""

import os
import re
from pathlib import Path

from build_page.page.serve import HEADERS
from thickset.faces.plan.cautions import ALL, MARKING
from thickset.ground.job.fields import as_markdown

ROOT = Path(__file__).resolve().parents[2]
README = ROOT / "README.md"
FIELDS = ROOT / "py" / "thickset" / "ground" / "job" / "README.md"
HOSTS = ROOT / "py" / "build_page" / "page" / "README.md"
BEGIN, END = "<!-- fields -->\n", "<!-- /fields -->"


def test_the_table_of_fields_is_the_core_s():
    text = FIELDS.read_text(encoding="utf-8")
    before, _, rest = text.partition(BEGIN)
    _, end, after = rest.partition(END)
    made = f"{before}{BEGIN}{as_markdown()}\n{end}{after}"
    if os.environ.get("THICKSET_GOLDEN") == "write":
        FIELDS.write_text(made, encoding="utf-8")
    assert FIELDS.read_text(encoding="utf-8") == made, "write it anew with THICKSET_GOLDEN=write"


def test_the_readme_opens_with_the_job_in_one_paragraph():
    paragraphs = README.read_text(encoding="utf-8").split("\n\n")
    assert paragraphs[0] == "# Thickset"
    assert "pass schedule" in paragraphs[1]


def test_the_readme_is_read_in_one_go():
    assert len(README.read_text(encoding="utf-8").splitlines()) <= 170


def test_a_host_is_told_each_header_with_its_reason_and_the_lines_for_it():
    """The same that our own servers send."""
    table = README.read_text(encoding="utf-8")
    nginx, _, apache = HOSTS.read_text(encoding="utf-8").partition("# Apache")
    for name, value in HEADERS.items():
        assert re.search(rf"^\| `{name}: {re.escape(value)}` \| \w.{{30,}} \|$", table, re.MULTILINE)
        assert f'add_header {name} "{value}";' in nginx
        assert f'Header set {name} "{value}"' in apache


def test_the_lot_page_says_how_boards_are_marked_and_how_end_1_is_chosen():
    page = " ".join((ROOT / "site" / "index.html").read_text(encoding="utf-8").split())
    for said in MARKING:
        assert said in page


def test_the_readme_holds_every_caution_and_names_its_sources():
    text = " ".join(README.read_text(encoding="utf-8").split())
    for caution in ALL:
        assert caution.text in text
        assert caution.source
    for source in ("WorkSafe New Zealand", "section 4318", "Tennessee", "Alabama", "MakeIt Labs", "Champaign"):
        assert source in text
        assert any(source in caution.source for caution in ALL)
