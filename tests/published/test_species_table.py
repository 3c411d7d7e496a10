"""The table of woods against the formula that ties its columns together."""

import pytest
from thickset.ground.woods import species
from thickset.trade.movement import coefficient_from_shrinkage

# The handbook gives some change coefficients by trade group and shrinkage by species, so these cannot agree.
GROUPED = [wood.name for wood in species.all_species() if wood.change_of]
WOODS = [wood for wood in species.all_species() if not wood.change_of]


@pytest.mark.parametrize("way", ["radial", "tangential"])
@pytest.mark.parametrize("wood", WOODS, ids=[wood.name for wood in WOODS])
def test_change_coefficient_follows_from_shrinkage(wood, way, check):
    check(
        name=f"species/{wood.name}/{way}",
        what=f"{way} change coefficient of {wood.name} from its shrinkage",
        source="Wood Handbook, change coefficients against C = (S/100/30) / (1 - (S/100)(20/30))",
        known=wood.change_known,
        expected=getattr(wood, f"{way}_change"),
        got=coefficient_from_shrinkage(getattr(wood, f"{way}_shrinkage"), wood.saturation),
        tolerance=1e-5,
        why="one unit of the last of five decimals; the shrinkage itself has only two figures",
    )


@pytest.mark.parametrize("name", GROUPED)
def test_a_grouped_wood_really_differs(name):
    wood = species.require(name)
    off = coefficient_from_shrinkage(wood.tangential_shrinkage) - wood.tangential_change
    assert abs(off) > 1e-4, "it could stand with the others"


def test_the_white_fir_board_of_the_handbook_ends_at_its_printed_width(check):
    wood = species.require("Fir, white")
    width = 9.15 * (1 + wood.tangential_change * (11 - 8))
    check(
        name="species/white fir board",
        what="width in inches of a 9.15 in flatsawn white fir board, 8 to 11 %",
        source="Wood Handbook ch. 13, worked example",
        known="read",
        expected=9.217,
        got=width,
        tolerance=0.0006,
        why="three decimals, and the example rounds the change to 0.067 first",
    )


def test_every_wood_is_whole():
    woods = species.all_species()
    assert len({wood.name for wood in woods}) == len(woods)
    for wood in woods:
        assert wood.group in {"hardwood", "softwood", "imported"}
        for known in (wood.change_known, wood.shrinkage_known):
            assert known in {"read", "transcribed", "memory", "derived"}
        assert 0.2 < wood.gravity_12 < 1
        assert wood.radial_change < wood.tangential_change
        assert wood.radial_shrinkage < wood.tangential_shrinkage
        assert (wood.defect_free is None) == (wood.planing_known == "")


def test_woods_that_the_laboratory_tried_as_one_have_one_share():
    shares = {}
    for wood in species.all_species():
        if wood.defect_free is not None:
            shares.setdefault(species._kind(wood.name), set()).add(wood.defect_free)
    assert not {kind: found for kind, found in shares.items() if len(found) > 1}


DAVIS = {
    "Oak, northern red": 91,
    "Hickory, pecan": 88,
    "Oak, white": 87,
    "Beech, American": 83,
    "Cherry, black": 80,
    "Hickory, true: shagbark": 76,
    "Ash, white": 75,
    "Yellow-poplar": 70,
    "Basswood, American": 64,
    "Birch, yellow": 63,
    "Walnut, black": 62,
    "Alder, red": 61,
    "Maple, sugar (hard maple)": 54,
    "Maple, bigleaf": 52,
    "Sweetgum": 51,
    "Birch, paper": 47,
    "Maple, red (soft maple)": 41,
    "Elm, American": 33,
    "Aspen, quaking": 26,
    "Sycamore, American": 22,
    "Cottonwood, eastern": 21,
}


@pytest.mark.parametrize("name", DAVIS)
def test_share_of_pieces_free_of_planing_defects(name, check):
    check(
        name=f"planing/{name}",
        what=f"{name}: pieces free of planing defects, per cent",
        source="USDA Technical Bulletin 1267 (Davis 1962), as reprinted in the Wood Handbook",
        known="memory",
        expected=DAVIS[name],
        got=species.planing_rank(species.require(name)).share,
        tolerance=0,
        why="whole numbers in the source",
    )
