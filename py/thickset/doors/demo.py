"""Two lots of our own, to look at before there is one's own; the data are invented."""

from __future__ import annotations

from typing import Any

DEMO_IN: dict[str, Any] = {
    "thickset": 1,
    "title": "Reading room shelves (example)",
    "units": "in",
    "target": {"thickness": "3/4"},
    "boards": [
        {"name": "A", "readings": ["63/64", "1", "31/32"], "width": "7 1/4", "length": "38", "species": "Ash, white"},
        {"name": "B", "readings": ["15/16", "1 1/64", "61/64"], "width": "8", "length": "38", "species": "Ash, white"},
        {
            "name": "C",
            "readings": ["29/32", "59/64", "57/64"],
            "width": "6 1/2",
            "length": "36",
            "species": "Ash, white",
        },
        {
            "name": "D",
            "readings": ["31/32", "61/64", "31/32"],
            "width": "7 3/4",
            "length": "36 1/2",
            "species": "Ash, white",
        },
        {"name": "E", "readings": ["7/8", "57/64", "49/64"], "width": "6", "length": "38", "species": "Ash, white"},
        {"name": "F", "readings": ["15/16", "59/64", "15/16"], "width": "7", "length": "37", "species": "Ash, white"},
    ],
    "planer": {
        "name": "Shop planer",
        "turn": "1/16",
        "widest": "15",
        "shortest": "12",
        "thinnest": "1/4",
        "feeds": ["16 ft/min", "28 ft/min"],
        "head": {"speed": "5000 rpm", "knives": 3, "diameter": "3 1/4"},
        "known_cut": {"width": "12", "depth": "1/16", "feed": "28 ft/min", "species": "Oak, northern red"},
        "snipe": {"lead": "3", "trail": "2 1/2"},
    },
}

DEMO_MM: dict[str, Any] = {
    "thickset": 1,
    "title": "Workshop stool seats (example)",
    "units": "mm",
    "target": {"thickness": "22"},
    "boards": [
        {
            "name": "A",
            "readings": ["27,8", "28.1", "27.2"],
            "width": "180",
            "length": "920",
            "species": "Beech, European",
        },
        {
            "name": "B",
            "readings": ["26.4", "26.9", "26.5"],
            "width": "165",
            "length": "920",
            "species": "Beech, European",
        },
        {
            "name": "C",
            "readings": ["29.3", "28.6", "28.8"],
            "width": "140",
            "length": "900",
            "species": "Beech, European",
        },
        {
            "name": "D",
            "readings": ["25.9", "26.2", "25.7"],
            "width": "210",
            "length": "940",
            "count": 2,
            "species": "Beech, European",
        },
    ],
    "planer": {
        "name": "School planer",
        "turn": "2",
        "widest": "310",
        "shortest": "200",
        "thinnest": "5",
        "feeds": ["5 m/min", "8 m/min"],
        "head": {"speed": "4500 rpm", "knives": 2, "diameter": "70"},
        "snipe": {"lead": "80", "trail": "60"},
    },
}
