"""What links of version 1 know of a job beforehand. Nothing here may change or move: a link opens for ever.

A later version of links gets tables of its own beside these.
"""

from __future__ import annotations

KEYS: dict[str, tuple[str, ...]] = {
    "": ("thickset", "title", "units", "target", "boards", "planer", "practice", "run"),
    "target": ("thickness", "tolerance"),
    "boards[]": ("name", "readings", "width", "length", "count", "species", "density"),
    "planer": (
        *("name", "moves", "deepest_cut", "lightest_cut", "step", "turn", "widest", "shortest", "thinnest", "feeds"),
        *("head", "known_cut", "snipe"),
    ),
    "planer.head": ("speed", "knives", "marking_knives", "diameter"),
    "planer.known_cut": ("width", "depth", "feed", "species", "density"),
    "planer.snipe": ("lead", "trail"),
    "practice": (
        *("cut", "finish_cut", "near", "rough_marks", "finish_marks"),
        *("set_seconds", "handle_seconds", "measure_seconds"),
    ),
    "run[]": ("did", "setting", "scale", "thickness", "boards", "board", "readings", "what", "why", "at"),
}
"""The keys of each object of a document, in the order in which they come back."""

SELDOM = {
    *("run", "target.tolerance", "boards[].count", "boards[].density", "planer.known_cut.density", "planer.moves"),
    *("planer.head.marking_knives", "run[].boards", "run[].why", "run[].what", "run[].board", "run[].readings"),
}
"""Keys that are more often left out than not."""

WORDS = {"title", "name", "moves", "species", "units", "did", "board", "boards[]", "what", "why"}
"""The last part of a place where words stand; elsewhere a text is most often a number."""

NUMBERS = {
    *("thickset", "count", "knives", "marking_knives", "rough_marks", "finish_marks"),
    *("set_seconds", "handle_seconds", "measure_seconds", "at"),
}
"""The last part of a place where a number of JSON stands."""

UNITS = {"feeds[]": (3, 4), "feed": (3, 4), "speed": (5, 5), "density": (6, 6)}
"""The unit that is likely behind the last part of a place, in inches and in mm; elsewhere none."""

LIKE = {
    "boards[].readings[]": ("boards[].readings[]", "target.thickness"),
    "boards[].width": ("boards[].width",),
    "boards[].length": ("boards[].length",),
    "planer.feeds[]": ("planer.feeds[]",),
    "planer.known_cut.feed": ("planer.feeds[]",),
    "planer.snipe.trail": ("planer.snipe.lead",),
    "run[].setting": ("run[].setting", "boards[].readings[]"),
    "run[].scale": ("run[].setting",),
    "run[].thickness": ("run[].thickness", "run[].setting"),
    "run[].readings[]": ("run[].readings[]", "boards[].readings[]"),
    "run[].at": ("run[].at",),
}
"""The places whose last number a number is likely to be near to, the better first."""

_SPECIES = (
    "Alder, red",
    "Ash, black",
    "Ash, green",
    "Ash, white",
    "Aspen, quaking",
    "Basswood, American",
    "Beech, American",
    "Birch, paper",
    "Birch, sweet",
    "Birch, yellow",
    "Butternut",
    "Cherry, black",
    "Chestnut, American",
    "Cottonwood, eastern",
    "Elm, American",
    "Hackberry",
    "Hickory, pecan",
    "Hickory, true: mockernut",
    "Hickory, true: shagbark",
    "Locust, black",
    "Maple, bigleaf",
    "Maple, red (soft maple)",
    "Maple, silver (soft maple)",
    "Maple, sugar (hard maple)",
    "Oak, northern red",
    "Oak, white",
    "Sassafras",
    "Sweetgum",
    "Sycamore, American",
    "Tupelo, black",
    "Tupelo, water",
    "Walnut, black",
    "Yellow-poplar",
    "Baldcypress",
    "Cedar, Atlantic white",
    "Cedar, eastern redcedar",
    "Cedar, incense",
    "Cedar, northern white",
    "Cedar, Port-Orford",
    "Cedar, western redcedar",
    "Cedar, yellow (Alaska)",
    "Douglas-fir, coast",
    "Douglas-fir, interior north",
    "Douglas-fir, interior west",
    "Fir, balsam",
    "Fir, grand",
    "Fir, noble",
    "Fir, white",
    "Hemlock, eastern",
    "Hemlock, western",
    "Larch, western",
    "Pine, eastern white",
    "Pine, jack",
    "Pine, loblolly",
    "Pine, lodgepole",
    "Pine, longleaf",
    "Pine, ponderosa",
    "Pine, red",
    "Pine, shortleaf",
    "Pine, slash",
    "Pine, sugar",
    "Pine, western white",
    "Redwood, old-growth",
    "Redwood, young-growth",
    "Spruce, Engelmann",
    "Spruce, red",
    "Spruce, Sitka",
    "Tamarack",
    "Mahogany, true (Swietenia macrophylla)",
    "Teak (Tectona grandis)",
)
_DID = ("test", "feed", "check", "measure", "remove", "see", "retarget")
_SIGHTS = ("tear-out", "ridges", "roller marks", "dents", "bog", "stop")

KNOWN: dict[str, tuple[str, ...]] = {
    "units": ("in", "mm"),
    "planer.moves": ("table", "head"),
    "boards[].species": _SPECIES,
    "planer.known_cut.species": _SPECIES,
    "run[].did": _DID,
    "run[].what": _SIGHTS,
}
"""Texts that are known at a place."""

SOURCES = ("same", "next", "known", "seen", "begun", "new")
"""Where a text comes from: the same as the last at its place, the next after it, known here, seen before, begun like one
seen before, or new."""

SOURCES_OF: dict[str, tuple[int, ...]] = {
    "title": (1, 1, 1, 1, 4, 60),
    "units": (1, 1, 90, 1, 4, 1),
    "planer.name": (1, 1, 1, 1, 4, 60),
    "planer.moves": (1, 1, 90, 1, 4, 1),
    "boards[].name": (1, 60, 1, 4, 4, 20),
    "boards[].species": (40, 1, 40, 6, 4, 4),
    "planer.known_cut.species": (1, 1, 60, 30, 4, 4),
    "run[].did": (30, 1, 40, 10, 4, 1),
    "run[].what": (10, 1, 60, 10, 4, 1),
    "": (20, 20, 20, 20, 20, 20),
}
"""How likely each of the sources is at a place; the last line is for all others."""

USUAL: dict[str, tuple[str | int, ...]] = {
    "thickset": (1,),
    "target.thickness": ("3/4", "7/8", "1", "5/8", "1/2", "20", "18", "22", "19", "15", "1 1/2", "1 1/4", "13/16"),
    "target.tolerance": ("0.005", "0.1", "0.2", "0.01", "1/64"),
    "boards[].count": (2, 3, 4, 6, 8, 10, 12, 5),
    "planer.deepest_cut": ("1/8", "3", "3/32", "1/16", "2", "3/16", "1/4", "4", "5"),
    "planer.lightest_cut": ("1/64", "0.4", "1/32", "0.5", "0.8"),
    "planer.step": ("1/64", "0.1", "1/32", "0.05", "0.2", "0.005", "1/128"),
    "planer.turn": ("1/16", "2", "1/8", "1", "1/32", "1.5", "4", "3"),
    "planer.widest": (
        "15",
        "12 1/2",
        "13",
        "20",
        "310",
        "300",
        "410",
        "260",
        "12",
        "16",
        "24",
        "18",
        "330",
        "400",
        "500",
    ),
    "planer.shortest": ("12", "14", "300", "200", "8", "6", "250", "350", "10", "9"),
    "planer.thinnest": ("1/4", "1/8", "3/16", "5", "6", "3", "4", "1/2"),
    "planer.feeds[]": (
        *("16 ft/min", "28 ft/min", "20 ft/min", "26 ft/min", "6 m/min", "8 m/min", "5 m/min", "7 m/min"),
        *("24 ft/min", "30 ft/min", "10 m/min", "12 m/min"),
    ),
    "planer.head.speed": ("5000 rpm", "4500 rpm", "4000 rpm", "10000 rpm", "8000 rpm", "5500 rpm", "6000 rpm"),
    "planer.head.knives": (3, 2, 4, 6),
    "planer.head.marking_knives": (1, 2, 3),
    "planer.head.diameter": ("3 1/4", "3", "70", "80", "2 1/2", "4", "100", "75", "95", "3 1/8"),
    "planer.known_cut.width": ("12", "10", "8", "6", "300", "200", "250", "150", "15"),
    "planer.known_cut.depth": ("1/16", "1.5", "1/8", "3/32", "2", "1/32", "1", "3"),
    "planer.known_cut.feed": (
        *("28 ft/min", "20 ft/min", "16 ft/min", "6 m/min", "8 m/min", "26 ft/min", "5 m/min", "7 m/min"),
    ),
    "planer.snipe.lead": ("3", "4", "2", "80", "100", "60", "50", "2 1/2", "0"),
    "planer.snipe.trail": ("3", "2 1/2", "2", "60", "80", "50", "100", "4", "0"),
    "practice.cut": ("1/16", "1.5", "1/32", "3/32", "1", "2", "1/8"),
    "practice.finish_cut": ("1/32", "0.8", "1/64", "0.5", "1/16", "1"),
    "practice.near": ("1/16", "1.5", "1/8", "1/32", "2", "1"),
    "practice.rough_marks": (10, 8, 12, 15),
    "practice.finish_marks": (20, 24, 16, 18, 25, 30),
    "practice.set_seconds": (20, 30, 15, 10, 25, 40, 60),
    "practice.handle_seconds": (8, 10, 6, 5, 12, 15),
    "practice.measure_seconds": (30, 20, 40, 45, 60),
}
"""Values that are usual at a place, the likelier first."""
