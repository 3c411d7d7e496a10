"""Every public function shows an example that runs and says its units; a formula says them as arguments of its own
(`test_trade_formulas.py`)."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest
import thickset
from thickset.trade.formula import FORMULAS

UNIT = re.compile(r"\[[^\]\n]+\]")
NUMBER = re.compile(r"\b(Fraction|float|int|Decimal|Num)\b")


def all_modules():
    found = pkgutil.walk_packages(thickset.__path__, "thickset.")
    return [module.name for module in found if not module.ispkg and not module.name.endswith("__main__")]


def public_functions(module_name):
    module = importlib.import_module(module_name)
    for name, thing in vars(module).items():
        if inspect.isfunction(thing) and thing.__module__ == module_name and not name.startswith("_"):
            yield name, thing


MODULES = all_modules()
FUNCTIONS = {f"{module}.{name}": thing for module in MODULES for name, thing in public_functions(module)}


@pytest.mark.parametrize("name", FUNCTIONS)
def test_a_public_function_says_what_it_does_its_units_and_shows_an_example(name):
    text = inspect.getdoc(FUNCTIONS[name]) or ""
    assert text, f"{name} has no docstring"
    assert ">>> " in text, f"{name}: add a short worked example (>>>) to its docstring"


def takes_or_gives_numbers(function):
    signature = inspect.signature(function)
    kinds = " ".join(map(str, [*signature.parameters.values(), signature.return_annotation]))
    return NUMBER.search(kinds) is not None and function not in FORMULAS


@pytest.mark.parametrize("name", [name for name, thing in FUNCTIONS.items() if takes_or_gives_numbers(thing)])
def test_a_function_of_numbers_names_their_units(name):
    told, _, _ = inspect.getdoc(FUNCTIONS[name]).partition(">>>")
    assert UNIT.search(told), f"{name}: put the units of its numbers in square brackets"


@pytest.mark.parametrize("module_name", MODULES)
def test_the_examples_run(module_name):
    module = importlib.import_module(module_name)
    outcome = doctest.testmod(module, optionflags=doctest.IGNORE_EXCEPTION_DETAIL)
    assert outcome.failed == 0


def test_the_functions_were_found():
    assert len(FUNCTIONS) > 400
