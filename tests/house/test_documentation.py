"""Everything public is documented, most of it with its parameters and an example."""

from __future__ import annotations

import ast
from typing import TYPE_CHECKING

from house.tree import FUNCTIONS, Function, Module, modules

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

WITH_PARAMETERS = 0.8
WITH_EXAMPLE = 0.6


def public_nodes(module: Module) -> Iterator[tuple[str, ast.ClassDef | Function]]:
    """Public functions and classes, and the public methods of those classes."""
    listed = module.public or []
    for node in module.tree.body:
        if isinstance(node, (*FUNCTIONS, ast.ClassDef)) and node.name in listed:
            yield node.name, node
        if isinstance(node, ast.ClassDef) and node.name in listed:
            for inner in node.body:
                if isinstance(inner, FUNCTIONS) and not inner.name.startswith("_"):
                    yield f"{node.name}.{inner.name}", inner


def undocumented(found: Iterable[Module]) -> list[str]:
    faults = []
    for module in found:
        if not ast.get_docstring(module.tree):
            faults.append(f"{module.name or 'boardproof'}: no docstring")
        nodes = public_nodes(module)
        faults += [
            f"{module.name}.{name}: no docstring" for name, node in nodes if not ast.get_docstring(node)
        ]
    return faults


def lacking(found: Iterable[Module], section: str) -> tuple[list[str], float]:
    """Public functions without a section, and the share that has it (1 if there is none to ask)."""
    asked, without = 0, []
    for module in found:
        for name, node in public_nodes(module):
            if (
                not isinstance(node, FUNCTIONS)
                or "." in name
                or (section == "Parameters" and not takes_any(node))
            ):
                continue
            asked += 1
            if f"{section}\n---" not in (ast.get_docstring(node) or ""):
                without.append(f"{module.name}.{name}")
    return without, 1 - len(without) / asked if asked else 1.0


def takes_any(node: Function) -> bool:
    given = node.args
    return bool(given.posonlyargs or given.args or given.kwonlyargs or given.vararg or given.kwarg)


def test_everything_public_has_a_docstring() -> None:
    assert undocumented(modules()) == []


def test_most_public_functions_describe_their_parameters() -> None:
    without, share = lacking(modules(), "Parameters")
    assert share >= WITH_PARAMETERS, f"{share:.0%}; without: {without}"


def test_more_than_half_of_the_public_functions_give_an_example() -> None:
    without, share = lacking(modules(), "Examples")
    assert share >= WITH_EXAMPLE, f"{share:.0%}; without: {without}"


def test_what_is_missing_is_seen() -> None:
    text = '__all__ = ["f", "C"]\ndef f(x): ...\nclass C:\n    """A."""\n    def g(self): ...'
    made = [Module("solve.a", text)]
    assert undocumented(made) == [
        "solve.a: no docstring",
        "solve.a.f: no docstring",
        "solve.a.C.g: no docstring",
    ]
    assert lacking(made, "Parameters") == (["solve.a.f"], 0.0)
    assert lacking([Module("a", '__all__ = ["f"]\ndef f(): ...')], "Parameters") == ([], 1.0)
