"""A plan link is as short as it has to be, over lots by chance; tests/bench/links.py measures more of them."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from thickset.ground.link.link import from_link, to_link

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

import links


@pytest.mark.slow
@pytest.mark.parametrize("kind", links.LIMITED)
@pytest.mark.parametrize(("count", "most"), [(6, 200), (20, 450)])
def test_a_link_is_short(count: int, most: int, kind: str) -> None:
    sizes = [len(to_link(links.lot(seed, count, kind=kind))) for seed in range(60)]
    assert max(sizes) <= most
    assert links.MOST[count] == most


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["rule", "caliper", "places", "micrometer", "named"])
def test_lots_of_each_kind_come_back(kind: str) -> None:
    assert kind in links.KINDS
    for seed in range(12):
        job = links.lot(seed, 20, kind=kind)
        assert from_link(to_link(job)) == job
