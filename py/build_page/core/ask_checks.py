"""Runs in our own .venv: the list of published checks, from the file named first, as HTML on standard output."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from thickset.faces.paper.checks import checks

sys.stdout.write(str(checks(json.loads(Path(sys.argv[1]).read_text(encoding="utf-8")))))
