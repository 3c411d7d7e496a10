"""How many examples, and which. The same ones on every run, unless more are asked for.

THICKSET_LOTS=20 tries twenty times as many, and others on each run.
"""

import os
import sys
from pathlib import Path

from hypothesis import HealthCheck, settings

sys.path.insert(0, str(Path(__file__).parent))

TIMES = int(os.environ.get("THICKSET_LOTS", "1"))

settings.register_profile(
    "thickset",
    derandomize=TIMES == 1,
    database=None,
    deadline=None,
    max_examples=100 * TIMES,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
    print_blob=True,
)
settings.load_profile("thickset")
