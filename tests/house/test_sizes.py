"""Modules and functions stay short enough to be read at a sitting."""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING

from house.tree import Function, Module, modules

if TYPE_CHECKING:
    from collections.abc import Iterable

MEDIAN_MODULE, LONGEST_MODULE = 200, 600
USUAL_FUNCTION, LONGEST_FUNCTION = 30, 80
USUAL_SHARE = 0.9


def code_lines(module: Module, function: Function) -> int:
    """Lines of a function that hold code: no blank lines, comments or docstring."""
    body = module.lines[function.lineno - 1 : function.end_lineno]
    count = sum(bool(line.strip()) and not line.lstrip().startswith("#") for line in body)
    first = function.body[0]
    text = getattr(getattr(first, "value", None), "value", None)
    if isinstance(text, str):
        said = module.lines[first.lineno - 1 : first.end_lineno]
        count -= sum(bool(line.strip()) for line in said)
    return count


def functions(found: Iterable[Module]) -> list[tuple[int, str]]:
    """Size and name of every function, longest first."""
    sized = (
        (code_lines(module, node), f"{module.name}.{node.name}")
        for module in found
        for node in module.functions
    )
    return sorted(sized, reverse=True)


def test_no_module_is_long() -> None:
    assert {m.name: len(m.lines) for m in modules() if len(m.lines) > LONGEST_MODULE} == {}


def test_half_of_the_modules_are_short() -> None:
    lengths = [len(module.lines) for module in modules() if not module.is_package]
    assert not lengths or median(lengths) <= MEDIAN_MODULE


def test_no_function_is_long() -> None:
    assert [each for each in functions(modules()) if each[0] > LONGEST_FUNCTION] == []


def test_nine_functions_in_ten_are_short() -> None:
    sizes = functions(modules())
    above = [each for each in sizes if each[0] > USUAL_FUNCTION]
    assert not sizes or len(above) <= (1 - USUAL_SHARE) * len(sizes), above


def test_code_lines_leave_out_words_and_gaps() -> None:
    text = 'def f(x):\n    """Say.\n\n    More.\n    """\n    # why\n\n    return (\n        x\n    )\n'
    assert functions([Module("a", text)]) == [(4, "a.f")]
