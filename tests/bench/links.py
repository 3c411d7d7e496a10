"""How long a plan link is, over lots by chance. Run by hand: PYTHONPATH=py python tests/bench/links.py.

Each lot has a title, a whole planer and a whole practice, and boards as people measure them: readings on a rule's marks or in decimals,
widths and lengths to a sixteenth or a millimetre, one wood or several, names in a row or words of one's own.
"""

from __future__ import annotations

import json
import random
import statistics
import sys

from thickset.ground.link.link import from_link, to_link
from thickset.ground.link.tables_1 import KNOWN
from thickset.ground.woods.species import all_species

LOTS = 300
MOST = {6: 200, 20: 450}
KINDS = ("rule", "caliper", "places", "micrometer", "named")
"""How the boards of a lot are measured: on a rule's marks or in thousandths of an inch and tenths of a mm; in thousandths and hundredths
of a mm; the same, each reading with its spot; in ten-thousandths and thousandths of a mm; as by the caliper, with words for names."""
LIMITED = ("rule", "caliper", "places", "micrometer")
"""The kinds that the limits hold for. On a rule one lot in five has words for names, of the others none."""
PLACES = {"rule": (3, 1), "micrometer": (4, 3)}
SPOTS = [f"{along} {across}" for along in ("end 1", "middle", "end 2") for across in ("left", "center", "right")]
WORDS = (
    "hall bench slats top rail leg drawer front shelf left right wide good face kitchen table panel oak door".split()
)
WOODS = [wood.name for wood in all_species() if wood.name in KNOWN["boards[].species"]]
"""The woods that a link's tables hold; one that came later travels as text."""


def mixed(number: int, bottom: int) -> str:
    """Marks of a rule as text."""
    while number % 2 == 0 and bottom > 1:
        number, bottom = number // 2, bottom // 2
    whole, top = divmod(number, bottom)
    return f"{whole} {top}/{bottom}" if whole and top else f"{top}/{bottom}" if top else str(whole)


def _letter(n: int) -> str:
    """A, B ... Z, AA."""
    return chr(65 + n) if n < 26 else _letter(n // 26 - 1) + chr(65 + n % 26)


def lot(seed: int, count: int, readings: int = 5, kind: str = "rule") -> dict[str, object]:
    """A job document by chance."""
    chance = random.Random(seed)
    inches = chance.random() < 0.5
    decimals = not inches or chance.random() < 0.3 or kind != "rule"
    places = PLACES.get(kind, (3, 2))[0 if inches else 1]
    same_spots = chance.random() < 0.7
    spots = chance.sample(SPOTS, readings)
    fine = chance.choice([16, 32, 64, 64, 64])
    spread = chance.choice([0.06, 0.15, 0.3])
    comma = not inches and chance.random() < 0.3
    target = chance.choice([0.75, 0.875, 1.0, 0.625])
    several = chance.random() < 0.3
    wood = chance.choice(WOODS)
    own_names = kind == "named" or (chance.random() < 0.2 and kind == "rule")
    numbered = chance.random() < 0.5

    def thick() -> str:
        size = target + 0.1 + chance.random() * spread
        if decimals:
            text = f"{size if inches else size * 25.4:.{places}f}"
            return text.replace(".", ",") if comma else text
        return mixed(round(size * fine), fine)

    def along(low: int, high: int) -> str:
        return mixed(chance.randint(low * 8, high * 8), 8) if inches else str(chance.randint(low * 25, high * 25))

    boards = []
    for n in range(count):
        name = f"{chance.choice(WORDS)} {n + 1}" if own_names else str(n + 1) if numbered else _letter(n)
        board = {"name": name, "readings": [thick() for _ in range(readings)]}
        if kind == "places":
            board["places"] = spots if same_spots else chance.sample(SPOTS, readings)
        board |= {"width": along(4, 12), "length": along(20, 80)}
        if chance.random() < 0.9:
            board["species"] = chance.choice(WOODS) if several else wood
        boards.append(board)

    def either(inch: str, metric: str) -> str:
        return inch if inches else metric

    feeds = [either(f"{feed} ft/min", f"{feed / 3:.1f} m/min") for feed in sorted(chance.sample(range(12, 40), 2))]
    return {
        "thickset": 1,
        "title": " ".join(chance.sample(WORDS, 3)).capitalize(),
        "units": "in" if inches else "mm",
        "target": {"thickness": mixed(round(target * 64), 64) if inches else f"{target * 25.4:.0f}"},
        "boards": boards,
        "planer": {
            "name": "Shop planer",
            "deepest_cut": either("1/8", "3"),
            "lightest_cut": either("1/64", "0.4"),
            "step": either("1/64", "0.1"),
            "turn": either("1/16", "2"),
            "widest": either("15", "381"),
            "shortest": either("12", "300"),
            "thinnest": either("1/4", "6"),
            "feeds": feeds,
            "head": {"speed": "5000 rpm", "knives": 3, "diameter": either("3 1/4", "82")},
            "known_cut": {
                "width": either("12", "300"),
                "depth": either("1/16", "1.6"),
                "feed": feeds[1],
                "species": wood,
            },
            "snipe": {"lead": either("4", "100"), "trail": either("3", "80")},
        },
        "practice": {
            "cut": either("1/16", "1.5"),
            "finish_cut": either("1/32", "0.8"),
            "near": either("1/16", "1.5"),
            "rough_marks": 10,
            "finish_marks": 20,
            "set_seconds": 20,
            "handle_seconds": 8,
            "measure_seconds": 30,
        },
    }


def say(line: str) -> None:
    """One line of the table."""
    sys.stdout.write(f"{line}\n")


def main() -> int:
    """Print the table; fails when a link is longer than it may be."""
    say(f"{'lots':>10} {'boards':>7} {'JSON':>8} {'median':>8} {'worst':>8} {'at most':>8}")
    bad = 0
    for kind in KINDS:
        for count in (1, 6, 20, 60, 200):
            sizes, raw = [], []
            for seed in range(LOTS if count <= 20 else 20):
                job = lot(seed, count, kind=kind)
                link = to_link(job)
                if from_link(link) != job:
                    say(f"lot {seed} of {count} boards does not come back")
                    bad += 1
                sizes.append(len(link))
                raw.append(len(json.dumps(job, separators=(",", ":"))))
            most = MOST.get(count) if kind in LIMITED else None
            middle = statistics.median(sizes)
            say(f"{kind:>10} {count:>7} {statistics.median(raw):>8.0f} {middle:>8.0f} {max(sizes):>8} {most or '':>8}")
            bad += most is not None and max(sizes) > most
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
