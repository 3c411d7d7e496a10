"""How long the core takes, natively, and how that grows. Run by hand: PYTHONPATH=py python tests/bench/native.py.

For each lot: reading the document, planning, and the whole answer through the one door; processor time, the best of several runs. The last
column divides the whole answer's time by n log n of the boards and by that of the smallest lot of the series: it
should not rise.
"""

import argparse
import json
import math
import random
import sys
import time

from thickset.doors.api import handle
from thickset.ground.job import document
from thickset.planning.passes.planner import make_plan

READINGS = 5


def lot(boards: int, units: str, seed: int = 1) -> dict:
    """Rough-sawn boards of mixed widths, lengths and woods, on a planer of two feeds with a known cut."""
    chance = random.Random(seed)

    def reading() -> str:
        if units == "in":
            return f"1 {chance.randint(1, 15)}/64"
        return f"{chance.randint(254, 300) / 10:g}"

    return {
        "thickset": 1,
        "units": units,
        "target": {"thickness": "3/4" if units == "in" else "20"},
        "boards": [
            {
                "name": f"B{n + 1}",
                "readings": [reading() for _ in range(READINGS)],
                "width": f"{chance.choice([4, 5, 6, 8])} in",
                "length": f"{chance.randint(24, 96)} in",
                "species": chance.choice(["Ash, white", "Cherry, black", "Walnut, black"]),
            }
            for n in range(boards)
        ],
        "planer": {
            "feeds": ["16 ft/min", "28 ft/min"],
            "turn": "1/16 in",
            "head": {"speed": "5000 rpm", "knives": 3},
            "known_cut": {"width": "12 in", "depth": "1/16 in", "feed": "28 ft/min", "species": "Oak, northern red"},
        },
    }


def best_of(runs: int, work: object, *given: object) -> float:
    """The least processor time of several runs [ms]: what the work costs, whatever else the machine does."""
    times = []
    for _ in range(runs):
        start = time.process_time()
        work(*given)
        times.append((time.process_time() - start) * 1000)
    return min(times)


def say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


def main() -> None:
    arguments = argparse.ArgumentParser(description="Times the core natively.")
    arguments.add_argument("--runs", type=int, default=9)
    runs = arguments.parse_args().runs
    say(f"{'lot':>16} {'read ms':>9} {'plan ms':>9} {'answer ms':>10} {'per n log n':>12}")
    for units in ("in", "mm"):
        first = 0.0
        for boards in (20, 100, 500, 2000):
            job = lot(boards, units)
            result = document.read(job)
            assert result.job is not None, result.problems
            request = json.dumps({"ask": "plan", "job": job})
            some = max(3, runs * 20 // boards) if boards > 100 else runs
            read, plan = best_of(some, document.read, job), best_of(some, make_plan, result.job)
            answer = best_of(some, handle, request)
            ratio = answer / (boards * math.log(boards))
            first = first or ratio
            say(f"{f'{boards} x {READINGS} {units}':>16} {read:9.2f} {plan:9.2f} {answer:10.2f} {ratio / first:12.2f}")


if __name__ == "__main__":
    main()
