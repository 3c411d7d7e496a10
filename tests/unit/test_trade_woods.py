"""Finding a wood as people name it."""

import itertools
from fractions import Fraction

import pytest
from thickset.ground.woods import species


@pytest.mark.slow
@pytest.mark.parametrize("wood", species.all_species(), ids=lambda wood: wood.name)
def test_every_wood_is_found_by_its_name_in_any_case_and_by_any_start_of_it(wood):
    assert species.find(wood.name.upper()) is wood
    assert species.find(f"  {wood.name.lower()} ") is wood
    for end in range(2, len(wood.name) + 1):
        assert wood in species.search(wood.name[:end])
    assert species.search(wood.name)[0] is wood


@pytest.mark.parametrize(
    ("wood", "name"), [(wood, name) for wood in species.all_species() for name in wood.also_called]
)
def test_every_common_name_finds_its_wood(wood, name):
    assert wood in species.search(name)
    assert wood in species.search(name.upper())


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("hard maple", "Maple, sugar (hard maple)"),
        ("red oak", "Oak, northern red"),
        ("oak red", "Oak, northern red"),
        ("poplar", "Yellow-poplar"),
        ("walnut", "Walnut, black"),
        ("mahog", "Mahogany, true (Swietenia macrophylla)"),
        ("cypress", "Baldcypress"),
        ("douglas fir", "Douglas-fir, coast"),
        ("tectona", "Teak (Tectona grandis)"),
    ],
)
def test_what_people_type_finds_the_wood_they_mean(typed, first):
    assert species.search(typed)[0].name == first


def test_every_other_name_of_a_wood_finds_it():
    named = [(name, wood) for wood in species.all_species() for name in wood.also_called]
    assert named
    for name, wood in named:
        assert name == name.strip()
        assert wood in species.search(name), name


@pytest.mark.parametrize("typed", ["", "   ", ",", "(("])
def test_nothing_typed_lists_all(typed):
    assert species.search(typed) == list(species.all_species())


@pytest.mark.parametrize("typed", ["ebony", "xyz", "<script>"])
def test_an_unknown_wood_is_not_found(typed):
    assert species.find(typed) is None
    assert species.search(typed) == []
    with pytest.raises(ValueError, match="density"):
        species.require(typed)


def test_a_near_miss_is_offered():
    with pytest.raises(ValueError, match="Did you mean 'Oak, northern red'"):
        species.require("red oak")


def test_a_wood_by_density_has_that_density_at_twelve_per_cent():
    assert species.by_density(560).gravity_12 == Fraction(1, 2)
    assert species.by_density(700, 8).gravity_12 == Fraction(700, 1080)


def test_ranks_run_from_the_best_to_the_worst_with_ties():
    ranks = [species.planing_rank(wood) for wood in species.all_species()]
    tried = sorted((rank for rank in ranks if rank), key=lambda rank: rank.place)
    assert tried[0].place == 1
    assert [rank.share for rank in tried] == sorted((rank.share for rank in tried), reverse=True)
    for one, other in itertools.pairwise(tried):
        assert (one.place == other.place) == (one.share == other.share)
    # The two true hickories were tried as one wood, and the two soft maples.
    assert all(rank.of == len(tried) - 2 and rank.known == "memory" for rank in tried)


def test_woods_that_were_tried_as_one_count_once_in_a_rank():
    ash, last = (species.planing_rank(species.require(name)) for name in ("Ash, white", "Cottonwood, eastern"))
    # Better than ash: red oak, pecan, white oak, beech, cherry and hickory.
    assert ash.place == 7
    assert last.place == last.of == 25


def test_a_wood_not_tried_has_no_rank():
    assert species.planing_rank(species.require("Ash, black")) is None
    assert species.planing_rank(species.by_density(600)) is None


def test_a_name_that_two_woods_share_is_answered_by_both():
    for typed, both in (
        ("beech", {"Beech, American", "Beech, European"}),
        ("walnut", {"Walnut, black", "Walnut, European"}),
        ("ash", {"Ash, white", "Ash, European"}),
    ):
        assert both <= {wood.name for wood in species.search(typed)}
    with pytest.raises(ValueError, match="'Beech, American' or 'Beech, European'"):
        species.require("Beech")


@pytest.mark.parametrize(
    "typed",
    [
        "beech",
        "sessile oak",
        "pedunculate oak",
        "european ash",
        "sycamore",
        "scots pine",
        "norway spruce",
        "larch",
        "silver birch",
        "european walnut",
        "wild cherry",
        "european alder",
        "lime",
        "linden",
        "hornbeam",
        "sweet chestnut",
        "silver fir",
    ],
)
def test_the_woods_of_europe_are_known_with_shrinkage_density_and_source(typed):
    wood = next(wood for wood in species.search(typed) if wood.source != "Wood Handbook")
    assert wood.radial_shrinkage
    assert wood.tangential_shrinkage
    assert wood.gravity_12
    assert wood.shrinkage_known in {"memory", "transcribed"}
