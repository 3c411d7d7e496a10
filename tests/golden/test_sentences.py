"""The list of all sentences, kept current. THICKSET_GOLDEN=write writes it anew; read what changed before keeping it."""

import os
import re
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


GONE = re.compile(
    r"end for end|[Ss]ide [AB]\b|both sides(?! \(S2S\))|[Kk]nown cut|[Aa]ll 2 |[Kk]eeps it from a turn|teaches once|too badly|A scrap tells"
    r"|\(from memory\)|[Gg]loves (on|help)|sticks between|[Ff]low of air|\d\.\d{3,} min\b|took [0-9]"
)
"""Words that the trade has better ones for, and figures finer than their use."""


def test_no_sentence_goes_back_to_words_that_were_given_up():
    said = LIST.read_text(encoding="utf-8").splitlines()
    assert [line for line in said if GONE.search(line)] == []
