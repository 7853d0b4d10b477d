"""A worked solution: the argument that the derivation engine writes, or the formula, then this paper's numbers."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from itertools import permutations
from typing import Final

from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.derive.routes import ROUTES, derive
from boardproof.derive.steps import Derivation
from boardproof.practice.prepared import Prepared, PreparedPart
from boardproof.practice.records import Solved
from boardproof.practice.variants import amount
from boardproof.prove.world import World
from boardproof.record import record

__all__ = ["Worked", "worked"]

PREFERRED: Final = (
    "same current",
    "by symmetry",
    "same terminal p.d.",
    "inside out",
    "factor pairs",
    "junctions and loops",
)
LONGEST: Final = 7


@record
class Worked:
    """One line of a worked solution: its maths as text, and why."""

    maths: str
    why: str


def worked(prepared: Prepared, at: int, draw: Mapping[str, Fraction], key: Solved) -> tuple[Worked, ...]:
    """The working of one part.

    Parameters
    ----------
    prepared : Prepared
        The question.
    at : int
        Number of the part, from 0.
    draw : mapping of str to Fraction
        This paper's.
    key : Solved
        Its answer.
    """
    part = prepared.parts[at]
    form = part.asked.form
    if form == "words":
        return tuple(Worked("", point.words) for point in part.asked.points)
    if form in {"ranking", "arrow"}:
        return (*_valued(prepared, part, draw), Worked("", _direction(form, key.shown)))
    ends = _formula(prepared, part, draw)
    before = [line for line in _argument(prepared, part) if line.maths != ends[0].maths]
    return (*before, *ends)


def _direction(form: str, shown: str) -> str:
    if form == "ranking":
        return f"so, the largest first: {shown}"
    return "so the current runs " + (
        "the way it is counted" if shown == "along" else "against the way it is counted"
    )


def _valued(prepared: Prepared, part: PreparedPart, draw: Mapping[str, Fraction]) -> list[Worked]:
    values = prepared.all_values(draw)
    names = [each.strip() for each in part.asked.name.split(",")]
    rows = zip(names, part.formulas, strict=True)
    return [
        Worked(f"{name} = {amount(each.evaluate(values), part.asked.dimension)}", "") for name, each in rows
    ]


def _formula(prepared: Prepared, part: PreparedPart, draw: Mapping[str, Fraction]) -> list[Worked]:
    formula, name = part.formulas[0], part.asked.name
    letters = plain(to_expression(formula))
    lead = name if " " not in name else name[:1].upper() + name[1:]
    if part.asked.form == "expression":
        return [Worked(f"{lead} = {letters}", "in letters")]
    value = amount(formula.evaluate(prepared.all_values(draw)), part.asked.dimension, part.asked.figures)
    if letters == name:
        letters = _from_given(prepared, part)
    return [
        Worked(f"{lead} = {letters}", "in letters"),
        Worked(f"{lead} = {value}", "with the numbers put in"),
    ]


def _from_given(prepared: Prepared, part: PreparedPart) -> str:
    """A cell's own letter from what was read: a quotient of two values, or of two differences, or the way back."""
    formula = part.formulas[0]
    read = [(name, each.formula) for name, each in prepared.given.items() if each.formula.letters - {name}]
    known = [
        (p.asked.name, p.formulas[0])
        for p in prepared.parts
        if p.formulas and p.asked.label in part.asked.after
    ]
    for (a, x), (b, y) in permutations(read, 2):
        if x / y == formula:
            return f"{a}/{b}"
        for r, z in known:
            if x + y * z == formula:
                return f"{a} + {b} {r}"
    for (a, x), (b, y), (c, z), (d, w) in permutations(read, 4):
        if w != z and (x - y) / (w - z) == formula:
            return f"({a} - {b})/({d} - {c})"
    return next((name for name, each in read if each == formula), part.asked.name)


def _argument(prepared: Prepared, part: PreparedPart) -> tuple[Worked, ...]:
    """The engine's own steps where the answer is a name for which a short route is known."""
    if prepared.world is None or " " in part.asked.name:
        return ()
    return _steps(part.asked.name, prepared.world)


@lru_cache(maxsize=512)
def _steps(name: str, world: World) -> tuple[Worked, ...]:
    for route in PREFERRED:
        if route not in ROUTES:
            continue
        found = derive(world, [name], route, briefly=True)
        if isinstance(found, Derivation) and found.steps and len(found.steps) <= LONGEST:
            return tuple(Worked(step.maths, step.words) for step in found.steps[:-1])
    return ()
