"""A unit that stands behind the maths, in the words: "the current is $0.5$ A"."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import (
    Expression,
    Line,
    Negative,
    Number,
    Quotient,
    Relation,
)
from boardproof.algebra.number_words import SaidNumber
from boardproof.quantities import (
    PURE,
    Dimension,
    Style,
    Unit,
    read_unit,
    shown,
    unit_spellings,
)
from boardproof.source import Span

__all__ = ["said_as_number", "with_unit_behind"]

UNIT_BEHIND: Final = re.compile(
    r"[ \u00a0\u202f]?("
    + "|".join(sorted(map(re.escape, unit_spellings()), key=len, reverse=True))
    + r")(?![\w/^])"
)


def said_as_number(said: SaidNumber, words: str, span: Span) -> Number:
    """A number in a sentence as maths, with the figures it was said with.

    Parameters
    ----------
    said : SaidNumber
        What the words mean.
    words : str
        As they stand: ``1.50 V``, ``half an ampere``.
    span : Span
        Their place.
    """
    digits = re.search(r"\d[\d\s.,/]*", words)
    typed = digits[0].strip() if digits else ""
    if not typed:
        typed = shown(said.value / said.unit.scale, PURE, Style(figures=6))
    figures = sum(map(str.isdigit, typed.lstrip("0.,"))) if said.place else None
    return Number(said.value, said.unit, figures, said.place, typed, span)


def with_unit_behind(line: Line, words: str, dimension: Callable[[str], Dimension | None]) -> Line:
    """A line whose last number has its unit outside the dollar signs: ``$V = 5$ V``.

    Parameters
    ----------
    line : Line
        As read.
    words : str
        What stands behind it.
    dimension : callable
        Gives the dimension of a name.
    """
    behind = UNIT_BEHIND.match(words)
    last = line.statements[-1] if line.statements else None
    if behind is None or not isinstance(last, Relation):
        return line
    unit = read_unit(behind[1])
    first = next(each for each in reversed(line.statements) if isinstance(each, Relation) and not each.chain)
    wanted = dimensioned(first.left, dimension)
    if unit is None or not isinstance(wanted, Dimension) or wanted == PURE:
        return line
    return replace(line, statements=(*line.statements[:-1], replace(last, right=_measured(last.right, unit))))


def _measured(side: Expression, unit: Unit) -> Expression:
    """A number without unit, given one; anything else as it is."""
    match side:
        case Number(unit=None):
            return replace(side, value=side.value * unit.scale, unit=unit, place=side.place * unit.scale)
        case Negative(of=Number(unit=None) as inner):
            return replace(side, of=_measured(inner, unit))
        case Quotient(over=Number(unit=None) as over, under=Number(unit=None)):
            return replace(side, over=_measured(over, unit))
        case _:
            return side
