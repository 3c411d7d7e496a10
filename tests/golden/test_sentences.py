"""The list of all sentences, kept current. THICKSET_GOLDEN=write writes it anew; read what changed before keeping it."""

import os
from pathlib import Path

import pytest
import sentences

LIST = Path(__file__).parent / "sentences.txt"


@pytest.mark.slow
def test_the_list_of_all_sentences_is_current():
    made = sentences.everything()
    if os.environ.get("THICKSET_GOLDEN") == "write":
        LIST.write_text(made, encoding="utf-8")
    kept = LIST.read_text(encoding="utf-8").splitlines()
    new = [line for line in made.splitlines() if line not in set(kept)]
    assert made.splitlines() == kept, f"write the list anew with THICKSET_GOLDEN=write and read it; new: {new[:5]}"
