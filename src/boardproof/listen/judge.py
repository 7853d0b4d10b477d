"""Is a spoken formula or value true? By the same exact algebra as everything else, every reading given a chance."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Comparison, Condition, Expression, Number, Relation, names_in
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.readings import readings
from boardproof.algebra.spoken import Token
from boardproof.prove.bench import compares, has_units, numbers_in
from boardproof.prove.judge import judge
from boardproof.prove.world import World
from boardproof.quantities import PURE, Dimension, agrees
from boardproof.record import record
from boardproof.source import Span

__all__ = ["Truth", "agrees_aloud", "formula", "in_place"]

MOST_PAIRS: Final = 160
LEAST_SLACK, MOST_SLACK = Fraction(7, 1000), Fraction(6, 100)
HEDGED: Final = Fraction(7, 100)
SPOKEN: Final = Span("speech", 0, 1)  # the judge wants a place for its findings


@record
class Truth:
    """What became of a spoken formula.

    Parameters
    ----------
    verdict : bool or None
        Whether one reading is true; None if it could not be decided.
    reason : str
        "dimension" if every reading mixes dimensions, "number", "formula", or why nothing was decided.
    """

    verdict: bool | None
    reason: str = ""


def agrees_aloud(exact: Fraction, said: Fraction, place: Fraction, *, hedged: bool = False) -> bool:
    """Whether a spoken number is a sensible rounding of the exact one.

    Parameters
    ----------
    exact, said : Fraction
        In SI units.
    place : Fraction
        Worth of the last spoken digit; 0 for a fraction.
    hedged : bool
        Whether "about", "nearly" or the like stands ahead.

    Examples
    --------
    >>> agrees_aloud(Fraction(16, 3), Fraction(533, 100), Fraction(1, 100))
    True
    >>> agrees_aloud(Fraction(5), Fraction(4), Fraction(1))
    False
    """
    size = abs(exact)
    if hedged:
        return abs(exact - said) <= HEDGED * size
    slack = max(LEAST_SLACK * size, min(place / 2, MOST_SLACK * size)) if place else LEAST_SLACK * size
    return abs(exact - said) <= slack


def formula(
    left: Sequence[Token],
    sign: Comparison,
    right: Sequence[Token],
    world: World,
    *,
    condition: Condition | None = None,
) -> Truth:
    """Judge a spoken relation: true if any reading is, wrong only if all are read and every one fails.

    Parameters
    ----------
    left, right : sequence of Token
        Numbers, letters and signs.
    sign : Comparison
        What stands between.
    world : World
        What the letters mean.
    condition : Condition, optional
        What it is said under.
    """
    sides = readings(left), readings(right)
    if not (sides[0].trees and sides[1].trees):
        return Truth(None, "unread")
    if any(world.trouble(name) for side in sides for name in names_in(side.trees[0])):
        return Truth(None, "unknown letter")
    pairs = list(product(sides[0].trees, sides[1].trees))
    if len(pairs) > MOST_PAIRS:
        return Truth(None, "too many readings")
    try:
        results = [_one(a, sign, b, world, condition) for a, b in pairs]
    except TooLarge:
        return Truth(None, "too large")
    if any(result == "true" for result in results):
        return Truth(True)
    if any(result == "open" for result in results) or not all(side.is_complete for side in sides):
        return Truth(None, "not decided")
    return Truth(
        False,
        "dimension"
        if all(result == "dimension" for result in results)
        else "number"
        if "number" in results
        else "formula",
    )


def in_place(
    script: tuple[Sequence[Token], Sequence[Token]],
    said: tuple[Sequence[Token], Sequence[Token]],
    signs: tuple[Comparison, Comparison],
    world: World,
    condition: Condition | None = None,
) -> Truth:
    """Judge what was said in place of a proved relation, grouped as the proved one must be grouped to be true.

    Parameters
    ----------
    script, said : pair of sequence of Token
        Both sides of the proved relation; what was said for them.
    signs : pair of str
        What stands between, proved and said.
    world, condition
        As for `formula`.
    """
    alike = all(_kinds(mine) == _kinds(theirs) for mine, theirs in zip(script, said, strict=True))
    if not alike:
        return formula(said[0], signs[1], said[1], world, condition=condition)
    left, right = (readings(mine, theirs) for mine, theirs in zip(script, said, strict=True))
    pairs = list(
        product(zip(left.trees, left.twins, strict=True), zip(right.trees, right.twins, strict=True))
    )
    if not pairs or len(pairs) > MOST_PAIRS:
        return Truth(None, "unread")
    try:
        right_ones = [
            (a, b)
            for (mine, a), (theirs, b) in pairs
            if _one(mine, signs[0], theirs, world, condition) == "true"
        ]
        results = [_one(a, signs[1], b, world, condition, strict=True) for a, b in right_ones]
    except TooLarge:
        return Truth(None, "too large")
    if not results or "open" in results:
        return Truth(None, "not decided")
    if "true" in results:
        return Truth(True)
    return Truth(
        False,
        "dimension"
        if all(result == "dimension" for result in results)
        else "number"
        if "number" in results
        else "formula",
    )


def _kinds(tokens: Sequence[Token]) -> list[tuple[str, str]]:
    """What decides how tokens are grouped."""
    shape = {"+": "±", "-": "±", "*": "×", "/": "×", "all/": "all/"}
    return [
        (
            token.kind if token.kind == "sign" else "operand",
            shape.get(token.text, token.text) if token.kind == "sign" else "",
        )
        for token in tokens
    ]


def _one(
    a: Expression,
    sign: Comparison,
    b: Expression,
    world: World,
    condition: Condition | None,
    *,
    strict: bool = False,
) -> str:
    dimensions = _dimension(a, world), _dimension(b, world)
    if "mixed" in dimensions or (
        isinstance(dimensions[0], Dimension)
        and isinstance(dimensions[1], Dimension)
        and dimensions[0] != dimensions[1]
    ):
        return "dimension"
    numeric = any(has_units(side) or not any(True for _ in names_in(side)) for side in (a, b))
    if numeric:
        return _in_numbers(a, sign, b, world, strict=strict)
    left, right = meaning.value(a, world.in_letters), meaning.value(b, world.in_letters)
    if not isinstance(left, RationalFunction) or not isinstance(right, RationalFunction):
        return "open"
    if sign in {"=", "≈"} and ((left - right).is_zero or condition is None):
        return "true" if (left - right).is_zero else "formula"
    ruling = judge(Relation(a, sign, b, span=SPOKEN), world, condition=condition)
    kind = ruling.verdict.kind
    return "true" if kind == "true" else "open" if kind == "not-checked" else "formula"


def _dimension(side: Expression, world: World) -> Dimension | str | None:
    """A side's dimension; None where bare numbers leave it open, "mixed" if no sense can be made of it."""
    bare = [number for number in numbers_in(side) if number.unit is None]
    found = dimensioned(side, world.dimension)
    if isinstance(found, Dimension):
        return None if bare and (found == PURE or not _only_factors(side)) else found
    return None if found is None or (bare and any(number.value != 1 for number in bare)) else "mixed"


def _only_factors(side: Expression) -> bool:
    """Whether its bare numbers can only be pure factors (beside letters)."""
    return any(True for _ in names_in(side)) or has_units(side)


def _in_numbers(a: Expression, sign: Comparison, b: Expression, world: World, *, strict: bool) -> str:
    left, right = meaning.value(a, world.constant), meaning.value(b, world.constant)
    if not isinstance(left, RationalFunction) or not isinstance(right, RationalFunction):
        return "open"
    one, other = left.as_number, right.as_number
    if one is None or other is None:
        return "open"
    if sign not in {"=", "≈"}:
        return "true" if compares(one, sign, other) else "number"
    places = [_place(side) for side in (a, b)]
    if strict and sign == "=":
        return "true" if agrees(one, other, places[1]) or agrees(other, one, places[0]) else "number"
    close = agrees_aloud(one, other, places[1], hedged=sign == "≈") or agrees_aloud(
        other, one, places[0], hedged=sign == "≈"
    )
    return "true" if close else "number"


def _place(side: Expression) -> Fraction:
    """Worth of the last digit of a side that is one number."""
    return side.place if isinstance(side, Number) else Fraction(0)
