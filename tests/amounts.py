"""How many examples a test tries, and which. One word in THICKSET_TESTS says it: quick, usual (when left out) or long.

`quick` is for the moment before a commit. `long` tries twenty times as many, and others on each run; it prints what it takes to
see a failure again. A test says what it tries in a usual run: `@examples(60)`, or `times(2000)` for what draws by itself.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

TIMES = {"quick": 0.1, "usual": 1, "long": 20}
HOW = os.environ.get("THICKSET_TESTS", "usual")


def times(usual: int) -> int:
    """So many in a usual run, as many now."""
    return max(1, round(usual * TIMES[HOW]))


def examples(usual: int) -> settings:
    """The same for Hypothesis."""
    return settings(max_examples=times(usual))


settings.register_profile(
    "thickset",
    derandomize=HOW != "long",
    database=None,
    deadline=None,
    max_examples=times(100),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
    print_blob=True,
)
settings.load_profile("thickset")
