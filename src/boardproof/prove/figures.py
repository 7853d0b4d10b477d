"""Typed numbers against exact values: right to the figures shown, rounded too early, other direction, or off.

A number that stands alone must be the exact value, or the exact value correctly rounded to its last place. A
working such as ``5.33 V/10.67 ohm`` is right if the exact value lies in the range that its rounded numbers allow;
a number that is exactly a value of the scene, a short whole number or one of a single figure is taken as exact.
"""

from __future__ import annotations

from collections.abc import Collection
from fractions import Fraction
from typing import Literal

from boardproof.algebra.expression import (
    Expression,
    Negative,
    Number,
    Parallel,
    Power,
    Product,
    Quotient,
    Sum,
)
from boardproof.quantities import agrees, round_to_place
from boardproof.record import record

__all__ = ["Fit", "Range", "alone", "fit", "range_of"]

Range = tuple[Fraction, Fraction]


@record
class Fit:
    """How a typed number or working fits an exact value.

    Parameters
    ----------
    kind : str
        "right", "last digit" (one unit of the last place off), "early" (it is the rounding of a rounded working),
        "direction" (right size, other sign) or "off".
    better : Fraction or None
        What the number should be at the figures it was typed with.
    """

    kind: Literal["right", "last digit", "early", "direction", "off"]
    better: Fraction | None = None


def alone(member: Expression) -> Number | None:
    """The number, sign included, if a member is nothing else.

    Parameters
    ----------
    member : Expression
        One member of a chain.

    Examples
    --------
    >>> alone(Negative(Number(Fraction(3)))).value
    Fraction(-3, 1)
    """
    match member:
        case Number():
            return member
        case Negative(of=Number() as inner):
            return Number(-inner.value, inner.unit, inner.figures, inner.place, inner.typed, inner.span)
        case _:
            return None


def fit(
    member: Expression, exact: Fraction, *, before: Fraction | None = None, known: Collection[Fraction] = ()
) -> Fit:
    """Compare a member without letters with the exact value that it should have.

    Parameters
    ----------
    member : Expression
        A number or a working, without names.
    exact : Fraction
        The value of the quantity, in SI units.
    before : Fraction or None
        Value of the working just before it in the chain, as typed.
    known : collection of Fraction
        Values that are exact here: those of the scene.

    Examples
    --------
    >>> typed = Number(Fraction(533, 100), None, 3, Fraction(1, 100))
    >>> fit(typed, Fraction(16, 3)).kind
    'right'
    >>> fit(Negative(typed), Fraction(16, 3)).kind
    'direction'
    """
    number = alone(member)
    if number is None:
        allowed = range_of(member, known)
        right = allowed is not None and allowed[0] <= exact <= allowed[1]
        turned = allowed is not None and allowed[0] <= -exact <= allowed[1]
        return Fit("right" if right else "direction" if turned and exact else "off")
    if not number.value and number.place >= (number.unit.scale if number.unit else 1):
        return Fit("off" if exact else "right", exact)  # a bare 0 has no figures: nothing rounds to it
    if agrees(exact, number.value, number.place):
        return Fit("right")
    better = round_to_place(exact, number.place) if number.place else exact
    if exact and agrees(-exact, number.value, number.place):
        return Fit("direction", better)
    if number.place and before is not None and agrees(before, number.value, number.place):
        return Fit("early", better)
    # One unit of the last place is a slip of rounding only where that place is small beside the number.
    fine = number.place and abs(number.value - better) == number.place and number.place * 50 <= abs(exact)
    return Fit("last digit" if fine else "off", better)


def range_of(member: Expression, known: Collection[Fraction] = ()) -> Range | None:
    """Least and greatest value that a working without letters can have, its numbers being rounded ones.

    Parameters
    ----------
    member : Expression
        One member of a chain, without letters.
    known : collection of Fraction
        Values that the circuit gives exactly, in SI units: typed ``1.50``, they are not rounded.

    Returns
    -------
    (Fraction, Fraction) or None
        None where it cannot be bounded (a divisor that may be nought, roots, sums over an index).

    Examples
    --------
    >>> range_of(Quotient(Number(Fraction(6)), Number(Fraction(4))))
    (Fraction(3, 2), Fraction(3, 2))
    """
    match member:
        case Number(value=value, place=place, typed=typed, figures=figures):
            is_measured = figures != 1 and (
                any(mark in typed for mark in ".,") or sum(map(str.isdigit, typed)) > 2
            )
            loose = place if is_measured and value not in known else Fraction(0)
            return value - loose / 2, value + loose / 2
        case Negative(of=inner):
            found = range_of(inner, known)
            return found and (-found[1], -found[0])
        case Sum(terms=terms):
            parts = [range_of(term, known) for term in terms]
            if any(part is None for part in parts):
                return None
            low = sum((part[0] for part in parts if part), Fraction(0))
            return low, sum((part[1] for part in parts if part), Fraction(0))
        case Product(factors=factors):
            return _folded([range_of(factor, known) for factor in factors])
        case Quotient(over=over, under=under):
            return _folded([range_of(over, known), _turned_over(range_of(under, known))])
        case Power(base=base, exponent=exponent):
            part = range_of(base, known)
            part = _turned_over(part) if exponent < 0 else part
            return _folded([part] * abs(exponent)) if exponent else (Fraction(1), Fraction(1))
        case Parallel(branches=branches):
            parts = [_turned_over(range_of(branch, known)) for branch in branches]
            if any(part is None for part in parts):
                return None
            whole = sum((p[0] for p in parts if p), Fraction(0)), sum((p[1] for p in parts if p), Fraction(0))
            return _turned_over(whole)
        case _:
            return None


def _folded(parts: list[Range | None]) -> Range | None:
    low, high = Fraction(1), Fraction(1)
    for part in parts:
        if part is None:
            return None
        ends = [left * right for left in (low, high) for right in part]
        low, high = min(ends), max(ends)
    return low, high


def _turned_over(part: Range | None) -> Range | None:
    if part is None or part[0] <= 0 <= part[1]:
        return None
    return 1 / part[1], 1 / part[0]
