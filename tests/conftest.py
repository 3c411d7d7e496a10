"""What all tests share: programs that they start find the core, and Hypothesis tries as many examples as `amounts` says."""

from __future__ import annotations

import os
from pathlib import Path

import amounts  # noqa: F401  (it sets how many are tried)

CORE = Path(__file__).resolve().parents[1] / "py"
os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, [str(CORE), os.environ.get("PYTHONPATH")]))
