"""Runs in Pyodide before its heap is frozen: load all that the core may ever need, have it plan, and let go of the rest.

`handle` and `renew` stay in the heap: the worker asks for them by name after the restore. `requests` comes from the build.
"""

from __future__ import annotations

import functools
import gc
import importlib
import linecache
import logging
import pkgutil
import random
import re
import sys
import time
import traceback  # noqa: F401  (a slip in the core is told by it)
import zipimport

import thickset
from thickset.doors.api import handle

#: Modules that were needed to get here and that nothing calls from now on: how packages are found, read and installed,
#: how definition files are read, how a program waits for many things at once, and documentation. With their submodules.
#: The answers to all requests are compared before and after; tests/browser/test_restore.py asks the restored core more.
DONE_WITH = (
    "annotationlib argparse asyncio base64 bz2 _compat_pickle compression concurrent dis email flexcache"
    " flexparser gettext gzip hashlib hmac http importlib.metadata importlib.readers importlib.resources inspect"
    " ipaddress locale lzma opcode _opcode_metadata pickle pint.babel_names pint.delegates"
    " pint.facets.context.definitions pint.facets.dask pint.facets.group.definitions pint.facets.measurement"
    " pint.facets.numpy pint.facets.system.definitions pint.formatting pint.registry_helpers pkgutil platform"
    " platformdirs _pyodide._core_docs _pyodide._future_helper _pyodide.docs_argspec _pyodide.docstring"
    " pyodide.webloop quopri segno.writers selectors shutil signal site socket ssl subprocess tempfile urllib"
    " xml zipfile"
).split()
#: Objects of JavaScript that Pyodide expects to find again, held by modules that are let go.
held: list[object] = []


def let_go(names: list[str]) -> None:
    """Forget modules and what they hold, so that it need not be shipped."""
    for name in sorted(sys.modules):
        if not any(name == each or name.startswith(each + ".") for each in names):
            continue
        module = sys.modules.pop(name)
        if type(module) is not type(sys):
            continue
        held.extend(value for value in vars(module).values() if "Js" in type(value).__name__)
        vars(module).clear()
        parent, _, child = name.rpartition(".")
        if parent in sys.modules:
            vars(sys.modules[parent]).pop(child, None)


def empty_caches(of: str = "") -> None:
    """Empty what functions remember of earlier calls; only in modules whose name starts so."""
    for each in gc.get_objects():
        if isinstance(each, functools._lru_cache_wrapper) and each.__module__.startswith(of):
            each.cache_clear()


def renew() -> None:
    """After the restore: seed chance anew, and set aside what was read from a clock at build time."""
    random.seed()
    logging._startTime = time.time_ns()  # type: ignore[attr-defined]


for module in pkgutil.walk_packages(thickset.__path__, "thickset."):
    if not module.name.endswith("__main__"):
        importlib.import_module(module.name)
asked = requests.split("\n")  # type: ignore[name-defined]  # noqa: F821
answers = [handle(request) for request in asked]
empty_caches()
let_go(DONE_WITH)
if [handle(request) for request in asked] != answers:
    raise SystemExit("A module on DONE_WITH is called after all")
empty_caches()
for request in asked[:6]:  # the demo's: what every plan needs is warm, and no more of other plans is shipped
    handle(request)
empty_caches("thickset.faces.")  # large, and quickly full again
del importlib, pkgutil, requests, asked, answers, request, module, let_go, empty_caches, DONE_WITH  # type: ignore[name-defined]  # noqa: F821
linecache.clearcache()
re.purge()
zipimport._zip_directory_cache.clear()  # type: ignore[attr-defined]
sys.path_importer_cache.clear()
gc.collect()
gc.collect()
