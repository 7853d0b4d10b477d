"""Each module says exactly what is public."""

from __future__ import annotations

import ast
from typing import TYPE_CHECKING

import pytest

from house.tree import FUNCTIONS, Module, modules

if TYPE_CHECKING:
    from collections.abc import Iterable

MOST = 20


def bound(node: ast.stmt) -> list[str]:
    """Names that a statement at the top of a module binds."""
    match node:
        case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name) | ast.ClassDef(name=name):
            return [name]
        case ast.Assign(targets=targets):
            return [leaf.id for target in targets for leaf in ast.walk(target) if isinstance(leaf, ast.Name)]
        case ast.AnnAssign(target=ast.Name(id=name)):
            return [name]
        case ast.If(body=body, orelse=orelse):
            return [name for inner in (*body, *orelse) for name in bound(inner)]
        case ast.Import(names=names) | ast.ImportFrom(names=names):
            return [alias.asname or alias.name for alias in names]
    return []


def faults_of(module: Module) -> list[str]:
    public = module.public
    body = module.tree.body
    if public is None:
        is_bare = all(isinstance(node, ast.Expr) for node in body)
        return [] if module.is_package and is_bare else [f"{module.name}: no __all__"]
    here = [node for node in body if module.is_package or not isinstance(node, ast.Import | ast.ImportFrom)]
    names = {name for node in here for name in bound(node)}
    shown = {
        node.name for node in body if isinstance(node, (*FUNCTIONS, ast.ClassDef)) and node.name[0] != "_"
    }
    faults = [f"{module.name}: {name} is listed but not defined here" for name in public if name not in names]
    faults += [f"{module.name}: {name} is not in __all__" for name in sorted(shown - set(public))]
    if len(public) > MOST:
        faults.append(f"{module.name}: {len(public)} public names, {MOST} at most")
    if len(set(public)) < len(public):
        faults.append(f"{module.name}: a name is listed twice")
    return faults


def faults(found: Iterable[Module]) -> list[str]:
    return [fault for module in found for fault in faults_of(module)]


def test_public_names_are_exact() -> None:
    assert faults(modules()) == []


@pytest.mark.parametrize(
    "text",
    [
        "x = 1",
        "__all__ = ['f']",
        "__all__ = []\ndef f(): ...",
        "from a import f\n__all__ = ['f']",
        "__all__ = ['f', 'f']\ndef f(): ...",
        f"__all__ = {[f'n{i}' for i in range(21)]}\n" + "\n".join(f"n{i} = 0" for i in range(21)),
    ],
)
def test_an_inexact_list_is_seen(text: str) -> None:
    assert faults([Module("solve.a", text)])


def test_an_exact_list_is_left_alone() -> None:
    text = "__all__: list[str] = ['f', 'N']\nN = 1\ndef f(): ...\ndef _g(): ..."
    assert faults([Module("solve.a", text)]) == []
