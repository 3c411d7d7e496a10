#!/usr/bin/env python3
"""Build, serve and test Thickset with nothing but Python 3.11 or newer at hand.

    python3 build.py            build dist/, which any static host can serve
    python3 build.py serve      build it and serve it on this machine
    python3 build.py test       set up all that the tests need, a browser included, and run them
    python3 build.py test --quick  the moment before a commit: lint, most of the core's tests, the page once
    python3 build.py long       what takes patience: searches by chance, and the core in an empty environment
    python3 build.py profile    list anew which functions of the runtime the core calls
    python3 build.py bench      measure starts, answers and growth, as tables with ratios

The parts stand in py/build_page/. Whatever is fetched is pinned by hash and goes to .venv/ and .cache/; a step that fails leaves
what was there before.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE / "py"))
sys.dont_write_bytecode = True


def main(words: list[str]) -> int:
    """Do what the command line asks; the exit status tells how it went."""
    if sys.version_info < (3, 11):  # noqa: UP036  (that is what it finds out)
        print("Thickset's build needs Python 3.11 or newer; this is " + sys.version.split()[0], file=sys.stderr)
        return 2
    from build_page import checks, profile  # noqa: PLC0415  (these need 3.11, so they wait for the check above)
    from build_page.fetch import tools  # noqa: PLC0415
    from build_page.page import assemble, serve  # noqa: PLC0415

    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    commands = parser.add_subparsers(dest="command")
    serving = commands.add_parser("serve", help="build dist/ and serve it")
    serving.add_argument("--port", type=int, default=8000)
    serving.add_argument("--host", default="127.0.0.1")
    testing = commands.add_parser("test", help="run every check and test; what else is said is passed on to pytest")
    testing.add_argument("--only", choices=list(checks.STEPS), action="append", help="run this step alone")
    testing.add_argument(
        "--quick", action="store_true", help="lint, the core but for what is slow, the page once in a browser"
    )
    commands.add_parser("long", help="twenty times the examples, and what else takes patience")
    commands.add_parser("profile", help="list anew which functions of the runtime the core calls")
    commands.add_parser("bench", help="measure starts, answers and growth")
    asked, more = parser.parse_known_args(words)
    if more and asked.command not in {"test", "long", "profile", "bench"}:
        parser.error("unknown: " + " ".join(more))

    try:
        tools.writable()
        if asked.command == "test" and asked.quick:
            return checks.quick(more)
        if asked.command == "long":
            return checks.long(more)
        if asked.command == "test":
            return checks.run(asked.only, more)
        if asked.command == "profile":
            return profile.profile(more)
        if asked.command == "bench":
            return checks.bench(more)
        server = serve.door(tools.DIST, asked.host, asked.port) if asked.command == "serve" else None
        assemble.build()
        if server:
            serve.serve(server)
    except tools.Stop as stop:
        print(f"build.py: {stop}", file=sys.stderr)
        return 1
    except OSError as error:
        print(f"build.py: {tools.trouble(error)}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
