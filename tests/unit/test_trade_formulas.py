"""The written formulas work out to what the functions give, and say what the functions say."""

import importlib
import inspect
import math
import pkgutil
import random
import re
from statistics import NormalDist

import pytest
from thickset import trade
from thickset.planning.passes import descent, outcomes, planner, pricing, stages
from thickset.planning.why.arithmetic import worked_steps
from thickset.trade.formula import FORMULAS as BY_FUNCTION
from thickset.trade.formula import worked

LAW = NormalDist()
SYMBOLS = {
    "×": "*",
    "^": "**",
    "√": "sqrt",
    "−": "-",
    "π": "pi",
    "φ": "phi",
    "ρ": "rho",
    "σ": "sigma",
    "μ": "mu",
    "Φ": "Phi",
    "′": "_dash",
}
TOOLS = {
    **{name: getattr(math, name) for name in ("sqrt", "acos", "sin", "cos", "log10", "floor", "pi")},
    "min": min,
    "max": max,
    "Phi": LAW.cdf,
    "z": LAW.inv_cdf,
}

# Sensible numbers for every symbol that a written formula uses, by the function's own name.
RANGES = {
    "speed": (1000, 8000),
    "knives": (1, 4),
    "feed": (2, 30),
    "marks": (5, 40),
    "all_knives_pitch": (0.1, 2),
    "pitch": (0.1, 2),
    "diameter": (40, 150),
    "height": (0.001, 0.02),
    "width": (50, 400),
    "gravity": (0.3, 0.8),
    "known_width": (50, 400),
    "known_depth": (0.5, 3),
    "known_feed": (2, 30),
    "known_gravity": (0.3, 0.8),
    "depth": (0.2, 3),
    "ratio": (0.1, 2),
    "chip_ratio": (0.3, 3),
    "energy": (10, 60),
    "temperature": (30, 54),
    "humidity": (5, 95),
    "moisture": (6, 14),
    "density": (300, 900),
    "shrinkage": (2, 12),
    "saturation": (20, 30),
    "size": (10, 300),
    "coefficient": (0.0005, 0.004),
    "now": (6, 14),
    "later": (6, 14),
    "wanted": (10, 300),
    "in_service": (6, 14),
    "hours": (0.1, 8),
    "level": (75, 110),
    "criterion": (80, 95),
    "exchange": (3, 5),
    "target": (10, 60),
    "allowance": (0, 5),
    "length": (100, 900),
    "thickness": (10, 50),
    "needed": (1, 90),
    "waste": (0, 60),
    "amount": (1, 90),
    "rate": (1, 20),
    "stiffness": (6, 16),
    "area": (0.1, 9),
    "solid": (1, 90),
    "flow": (300, 3000),
    "dose": (5, 300),
    "limit": (10, 30),
    "mean": (10, 30),
    "spread": (0.02, 0.3),
    "share": (0.001, 0.6),
    "resolution": (0.001, 1),
    "number": (1, 6),
    "tolerance": (0.05, 0.5),
    "offset_uncertainty": (0.05, 0.6),
    "aim": (0, 1),
    "risk": (0.001, 0.3),
    "final": (10, 30),
    "planing": (0, 4),
    "deviations": (0, 3),
    "board": (31, 40),
    "table": (50, 500),
    "first_takes": (0, 1),
    "finish_cut": (0.5, 2),
    "thickest": (61, 64),
    "step": (0.1, 1),
    "steps_above": (0, 30),
    "before": (20, 30),
    "setting": (10, 20),
    "turn": (1, 2),
    "thin": (10, 60),
    "set_seconds": (5, 60),
    "boards": (1, 40),
    "handle_seconds": (0, 20),
    "measure_seconds": (0, 60),
}
MODULES = [
    importlib.import_module(f"thickset.trade.{item.name}")
    for item in pkgutil.iter_modules(trade.__path__)
    if item.name not in {"limits", "formula"}
]
IN_THE_PLAN = (descent, outcomes, planner, pricing, stages)
FORMULAS = {
    function.__name__: formula
    for function, formula in BY_FUNCTION.items()
    if importlib.import_module(function.__module__) in (*MODULES, *IN_THE_PLAN)
}
OF_THE_TRADE = [name for name, formula in FORMULAS.items() if formula.function.__module__.startswith("thickset.trade.")]
WHOLE = {"knives", "number", "steps_above", "boards"}
WRITTEN = [name for name, formula in FORMULAS.items() if formula.steps]


def in_python(expression):
    for symbol, code in SYMBOLS.items():
        expression = expression.replace(symbol, code)
    return expression


def by_hand(formula, numbers):
    """Work the written steps out, as an apprentice would."""
    known = {in_python(each.symbol): numbers[each.name] for each in formula.inputs}
    values = []
    for symbol, expression in formula.steps:
        known[in_python(symbol)] = eval(in_python(expression), {"__builtins__": {}}, {**TOOLS, **known})  # noqa: S307
        values.append(known[in_python(symbol)])
    return values


@pytest.mark.parametrize("name", WRITTEN)
def test_the_written_steps_work_out_to_the_result(name):
    rng = random.Random(name)
    formula = FORMULAS[name]
    for _ in range(25):
        numbers = {}
        for each in formula.inputs:
            low, high = RANGES[each.name]
            numbers[each.name] = rng.randint(low, high) if each.name in WHOLE else rng.uniform(low, high)
        answer = worked(formula.function, **numbers)
        steps = by_hand(formula, numbers)
        if isinstance(answer.value, tuple):
            assert steps[-len(answer.value) :] == pytest.approx(list(answer.value), rel=1e-9, abs=1e-12)
        else:
            # A short wave worked as it is written loses digits: R and the root are nearly the same.
            assert steps[-1] == pytest.approx(float(answer.value), rel=1e-8, abs=1e-12)
        assert [value for _, value in answer.put_in] == [numbers[each.name] for each in formula.inputs]


@pytest.mark.parametrize("name", OF_THE_TRADE)
def test_a_formula_is_said_in_sentences_and_how_it_is_known_in_its_source(name):
    formula = FORMULAS[name]
    assert formula.known in formula.source
    for sentence in (formula.words, formula.limits, formula.source):
        assert sentence.endswith(".")
    for sentence in (formula.words, formula.limits):
        assert not sentence[0].islower()
        assert ";" not in sentence, "one thought a sentence"
    for sentence in (formula.words, formula.limits, formula.source):
        assert not re.search(r"`|[a-z]_[a-z]{2}", sentence), "names of the code are no words for a person"


@pytest.mark.parametrize("name", FORMULAS)
def test_a_formula_says_units_range_source_and_every_input(name):
    formula = FORMULAS[name]
    assert formula.known in {"read", "transcribed", "memory", "derived", "common practice"}
    assert [each.name for each in formula.inputs] == list(inspect.signature(formula.function).parameters)
    symbols = [each.symbol for each in formula.inputs]
    assert len(set(symbols)) == len(symbols)
    for each in (formula, *formula.inputs):
        assert each.unit
        assert each.words
    for text in (formula.title, formula.words, formula.limits, formula.source):
        assert text


def test_every_function_of_the_trade_is_a_formula():
    missing = [
        name
        for module in MODULES
        for name, thing in vars(module).items()
        if inspect.isfunction(thing) and thing.__module__ == module.__name__ and not name.startswith("_")
        if thing not in BY_FUNCTION
    ]
    assert missing == []
    assert len(OF_THE_TRADE) > 50
    assert {name for name in FORMULAS if name not in OF_THE_TRADE} > {"rough_setting", "pass_minutes", "turns_between"}
    assert len(WRITTEN) > 30


def test_a_wrong_formula_would_be_found():
    formula = FORMULAS["removal_rate"]
    numbers = {"width": 300.0, "depth": 1.5, "feed": 8.0}
    assert by_hand(formula, numbers) == [formula.function(**numbers)] != [0]


@pytest.mark.parametrize("name", WRITTEN)
def test_what_the_page_works_out_between_is_what_the_steps_come_to(name):
    rng = random.Random(name)
    formula = FORMULAS[name]
    numbers = {
        each.name: rng.randint(*RANGES[each.name]) if each.name in WHOLE else rng.uniform(*RANGES[each.name])
        for each in formula.inputs
    }
    found = list(worked_steps(formula.steps, {each.symbol: float(numbers[each.name]) for each in formula.inputs}))
    assert [symbol for symbol, _ in found] == [symbol for symbol, _ in formula.steps]
    assert [value for _, value in found] == pytest.approx(by_hand(formula, numbers), rel=1e-6, abs=1e-9)
