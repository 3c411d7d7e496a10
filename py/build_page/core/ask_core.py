"""Runs in the .venv: print the demo jobs, the page's fields, the form of a job and the demo's plan as HTML."""

from __future__ import annotations

import json
import sys

from thickset.doors import api, demo
from thickset.faces.paper import paper
from thickset.ground.job.schema import schema

from build_page.core import page_fields

html = {}
for ask in ("show", "mechanics"):
    shown = json.loads(api.handle(json.dumps({"ask": ask, "job": demo.DEMO_IN})))
    if not shown["ok"]:
        sys.exit(f"error: the core has problems with its own demo: {shown['problems']}")
    html.update(shown["html"])
json.dump(
    {
        "html": html,
        "paper.css": paper.STYLE,
        "demo-job": demo.DEMO_IN,
        "demo-job-mm": demo.DEMO_MM,
        "markup": page_fields.markup(),
        "fields": page_fields.facts(),
        "schema": schema(),
    },
    sys.stdout,
)
