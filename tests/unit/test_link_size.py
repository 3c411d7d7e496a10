"""A plan link is as short as it has to be, over lots by chance; tests/bench/links.py measures more of them."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from thickset.ground.link import to_link

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

import links


@pytest.mark.parametrize(("count", "most"), [(6, 200), (20, 450)])
def test_a_link_is_short(count: int, most: int) -> None:
    sizes = [len(to_link(links.lot(seed, count))) for seed in range(60)]
    assert max(sizes) <= most
    assert links.MOST[count] == most
