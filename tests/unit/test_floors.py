"""Each floor of the house, and within a floor each wing, imports only what stands below it; pint is met in one module."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "py" / "thickset"
FLOORS = ["ground", "trade", "planning", "faces", "doors"]
#: The wings of each floor, from the ground up: a wing imports only those before it.
WINGS = {
    "ground": ["notation", "woods", "job", "link"],
    "trade": [],
    "planning": ["passes", "run", "figures", "stock", "book", "why"],
    "faces": ["words", "picture", "why", "plan", "run", "stock", "planer", "paper"],
    "doors": [],
}
#: What a link knows is a copy on purpose: it must open for ever, whatever becomes of fields, woods and events.
ALONE = {"ground.link"}
MODULES = sorted(PACKAGE.rglob("*.py"))
#: What belongs to a browser, to files, to a clock or to chance.
NOT_IN_THE_CORE = {
    "js",
    "pyodide",
    "os",
    "pathlib",
    "io",
    "time",
    "datetime",
    "random",
    "secrets",
    "uuid",
    "tempfile",
    "socket",
}
#: The command line is the door to files.
AT_THE_DOOR = {"doors/command.py", "__main__.py"}


def imported(module: Path) -> set[str]:
    """The dotted names that a module imports, wherever in it that is done."""
    names: set[str] = set()
    package = ["thickset", *module.relative_to(PACKAGE).parent.parts]
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else []
            base = ".".join([*above, *([node.module] if node.module else [])])
            names |= {base, *(f"{base}.{alias.name}" for alias in node.names)}
    return names


def floor(dotted: str) -> int | None:
    """The floor that a name lives on, None outside the house."""
    parts = dotted.split(".")
    return FLOORS.index(parts[1]) if parts[0] == "thickset" and len(parts) > 1 and parts[1] in FLOORS else None


@pytest.mark.parametrize("module", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_module_imports_only_from_its_own_floor_and_those_below(module: Path) -> None:
    inside = module.relative_to(PACKAGE)
    own = FLOORS.index(inside.parts[0]) if inside.parts[0] in FLOORS else len(FLOORS)
    above = [name for name in imported(module) if (of := floor(name)) is not None and of > own]
    assert not above


def wing(dotted: str) -> tuple[str, str] | None:
    """The floor and the wing that a name lives in, None where it lives in none."""
    parts = dotted.split(".")
    in_one = len(parts) > 2 and parts[0] == "thickset" and parts[2] in WINGS.get(parts[1], [])
    return (parts[1], parts[2]) if in_one else None


@pytest.mark.parametrize("module", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_module_of_a_wing_imports_only_from_its_own_wing_and_those_below(module: Path) -> None:
    own = wing(".".join(["thickset", *module.relative_to(PACKAGE).parts]))
    if own is None:
        return
    on_this_floor = {of for name in imported(module) if (of := wing(name)) is not None and of[0] == own[0]}
    order = WINGS[own[0]]
    below = order[: order.index(own[1]) + 1] if ".".join(own) not in ALONE else [own[1]]
    assert {of for _, of in on_this_floor} <= set(below)


def test_every_wing_is_in_its_place() -> None:
    found = {floor: sorted(path.parent.name for path in (PACKAGE / floor).glob("*/__init__.py")) for floor in WINGS}
    assert found == {floor: sorted(wings) for floor, wings in WINGS.items()}


@pytest.mark.parametrize("module", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_the_core_knows_no_browser_no_files_no_clock_and_no_chance(module: Path) -> None:
    if module.relative_to(PACKAGE).as_posix() in AT_THE_DOOR:
        return
    roots = {name.split(".")[0] for name in imported(module)}
    assert not roots & NOT_IN_THE_CORE


def test_pint_is_met_in_one_module_only() -> None:
    meeting = [
        path.relative_to(PACKAGE).as_posix()
        for path in MODULES
        if any(n.split(".")[0] == "pint" for n in imported(path))
    ]
    assert len(meeting) == 1, meeting


def test_every_floor_holds_something() -> None:
    assert {path.relative_to(PACKAGE).parts[0] for path in MODULES} >= set(FLOORS)


def test_every_module_of_a_floor_with_wings_stands_in_one() -> None:
    loose = [
        path.relative_to(PACKAGE).as_posix()
        for name, wings in WINGS.items()
        if wings
        for path in (PACKAGE / name).iterdir()
        if path.name != "__init__.py" and path.suffix == ".py"
    ]
    assert loose == []
