"""Rooms stand in rows; an import goes from a row to a lower one, or stays within its room."""

from __future__ import annotations

import ast
import sys
import tomllib
from graphlib import CycleError, TopologicalSorter
from typing import TYPE_CHECKING

import pytest

from house.tree import FUNCTIONS, ROOT, Module, modules

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

# Rows from the ground up. The ground's modules may know each other; other rooms in one row may not.
ROWS = (
    ("record", "source", "findings", "quantities", "__init__"),
    ("algebra", "lesson"),
    ("circuit",),
    ("solve",),
    ("belief", "caution", "lab"),
    ("prove",),
    ("derive",),
    ("picture", "practice", "pack", "listen"),
    ("publish",),
    ("kit", "files"),
    ("cli", "studio"),
    ("__main__",),
)
ROW = {room: number for number, rooms in enumerate(ROWS) for room in rooms}
SIDEWAYS = {("kit", "files")}
# One module each may open these; all others go through it.
DOORS = {
    "flint": "algebra.ring",
    "typst": "publish.typeset",
    "z3": "algebra.solver",
    "av": "publish.video",
}
# Slow to import, so a function may do it when it needs them, giving the reason beside it.
SLOW = {
    "alembic", "av", "distributed", "flint", "jinja2", "lxml", "markdown_it", "numpy", "openpyxl", "polars",
    "rich", "scipy", "segno", "sqlalchemy", "starlette", "typst", "uvicorn", "watchfiles", "z3",
}  # fmt: skip


def imports(module: Module) -> Iterator[tuple[ast.stmt, str]]:
    """Each import statement with each dotted name that it reaches."""
    package = module.name.split(".") if module.is_package else module.name.split(".")[:-1]
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            yield from ((node, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = ["boardproof", *package][: len(package) + 2 - node.level] if node.level else []
            start = ".".join([*above, *([node.module] if node.module else [])])
            yield from ((node, f"{start}.{alias.name}") for alias in node.names)


def own(name: str) -> str | None:
    """Name within the package, or None for somebody else's."""
    package, _, inside = name.partition(".")
    return inside if package == "boardproof" else None


def arrow_faults(found: Iterable[Module]) -> list[str]:
    faults = []
    for module in found:
        if module.room not in ROW:
            faults.append(f"{module.name}: the room {module.room} stands in no row")
            continue
        for node, name in imports(module):
            target = own(name)
            room = None if target is None else target.split(".")[0]
            if room is None or room == module.room or room not in ROW:
                continue
            is_ground = ROW[room] == ROW[module.room] == 0
            if ROW[room] >= ROW[module.room] and not is_ground and (module.room, room) not in SIDEWAYS:
                faults.append(f"{module.name}:{node.lineno} imports {target}, which does not stand below it")
    return faults


def cycle_faults(found: Iterable[Module]) -> list[str]:
    known = {module.name: module for module in found if module.name}
    graph: dict[str, set[str]] = {name: set() for name in known}
    for name, module in known.items():
        for _, reached in imports(module):
            target = own(reached) or ""
            while target and target not in known:
                target = target.rpartition(".")[0]
            if target and target != name:
                graph[name].add(target)
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as cycle:
        return [f"import cycle: {' -> '.join(cycle.args[1])}"]
    return []


def late_faults(found: Iterable[Module]) -> list[str]:
    """Imports inside functions without need or reason; the command line may be late with its jobs."""
    faults = []
    for module in found:
        inside = {id(node) for function in module.functions for node in ast.walk(function)}
        for node, name in imports(module):
            if id(node) not in inside:
                continue
            nearby = module.lines[max(node.lineno - 2, 0) : node.lineno]
            has_reason = "#" in nearby[-1] or nearby[0].lstrip().startswith("#")
            may_be_late = name.split(".")[0] in SLOW or (module.room == "cli" and own(name) is not None)
            if not (has_reason and may_be_late):
                faults.append(f"{module.name}:{node.lineno} imports {name} inside a function")
    return faults


def foreign_faults(found: Iterable[Module], allowed: set[str]) -> list[str]:
    faults = []
    for module in found:
        for node, name in imports(module):
            top = name.split(".")[0]
            if own(name) is None and top not in allowed | set(sys.stdlib_module_names):
                faults.append(
                    f"{module.name}:{node.lineno} imports {top}, which pyproject.toml does not list"
                )
            if top in DOORS and module.name != DOORS[top]:
                faults.append(f"{module.name}:{node.lineno} imports {top}; only {DOORS[top]} may")
    return faults


def declared() -> set[str]:
    """Import names of the product's dependencies."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = [
        *project["dependencies"],
        *(each for some in project["optional-dependencies"].values() for each in some),
    ]
    named = {line.split(">")[0] for line in asked}
    imported = {"python-flint": "flint", "markdown-it-py": "markdown_it", "z3-solver": "z3"}
    return {imported.get(name, name) for name in named}


def test_rooms_import_from_lower_rows_only() -> None:
    assert arrow_faults(modules()) == []


def test_no_import_cycles() -> None:
    assert cycle_faults(modules()) == []


def test_imports_inside_functions_are_slow_ones_with_a_reason() -> None:
    assert late_faults(modules()) == []


def test_foreign_packages_are_declared_and_come_through_their_door() -> None:
    assert foreign_faults(modules(), declared()) == []


@pytest.mark.parametrize(
    ("name", "text", "fault"),
    [
        ("algebra.compare", "from boardproof.prove import check", "does not stand below"),
        ("algebra.compare", "from ..lesson import model", "does not stand below"),
        ("kit.build", "from boardproof import cli", "does not stand below"),
        ("attic", "", "stands in no row"),
        ("solve.network", "def f():\n    import numpy", "inside a function"),
        ("solve.network", "def f():\n    # quicker\n    import json", "inside a function"),
        ("solve.network", "import flint", "only algebra.ring"),
        ("solve.network", "import sympy", "does not list"),
    ],
)
def test_a_forbidden_import_is_seen(name: str, text: str, fault: str) -> None:
    made = [Module(name, text)]
    faults = arrow_faults(made) + late_faults(made) + foreign_faults(made, declared())
    assert [told for told in faults if fault in told]


def test_a_cycle_is_seen() -> None:
    made = [Module("solve.a", "from boardproof.solve import b"), Module("solve.b", "from .a import x")]
    assert cycle_faults(made)


def test_an_allowed_import_is_left_alone() -> None:
    text = "from boardproof.algebra.compare import same\ndef f():\n    # slow\n    import scipy.sparse"
    made = [Module("solve.network", text), Module("kit.build", "from boardproof import files, publish")]
    assert arrow_faults(made) + late_faults(made) + cycle_faults(made) == []
    assert all(isinstance(node, FUNCTIONS) for node in made[0].functions)
