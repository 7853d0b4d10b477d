"""Values before and after: what a number in a lesson may be, and what a working made of such numbers gives."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from boardproof.algebra import meaning
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
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.number_words import SaidNumber
from boardproof.algebra.polynomial import RationalFunction
from boardproof.prove.world import World
from boardproof.quantities import Dimension, agrees
from boardproof.record import record

__all__ = ["COMBINATIONS", "NewValue", "evaluated", "fits", "is_letterless", "number_in", "places_of"]

COMBINATIONS: Final = 4096


@record
class NewValue:
    """What a number may be: its words, its exact value before and after."""

    of: str
    old: Fraction
    new: Fraction
    dimension: Dimension | None


def fits(value: Fraction, said: SaidNumber) -> bool:
    """Whether a number as said is that value, to the figures it was said with.

    Parameters
    ----------
    value : Fraction
        Exact.
    said : SaidNumber
        As it stands in a sentence.
    """
    return value == said.value or (said.place != 0 and agrees(value, said.value, said.place))


def is_letterless(member: Expression) -> bool:
    """Whether a member is a number alone, with or without a sign.

    Parameters
    ----------
    member : Expression
        Of a chain.

    Examples
    --------
    >>> is_letterless(Negative(Number(Fraction(2))))
    True
    """
    return isinstance(member, Number) or (isinstance(member, Negative) and isinstance(member.of, Number))


def number_in(member: Expression, world: World) -> Fraction | None:
    """The value of a member in one circuit; None if it has no single one.

    Parameters
    ----------
    member : Expression
        Of a chain.
    world : World
        What its names mean.
    """

    def of(name: str) -> RationalFunction | Unknown:
        value = world.in_numbers(name)
        return value if isinstance(value, Unknown) else RationalFunction.constant(value)

    found = meaning.value(member, of, first=world.first_index)
    return None if isinstance(found, Unknown) else found.as_number


def evaluated(tree: Expression, put: Mapping[int, NewValue | None], *, use_new: bool) -> Fraction | None:
    """A working without letters, each number replaced by what it is; None if it can't be worked out.

    Parameters
    ----------
    tree : Expression
        The working.
    put : mapping of int to NewValue or None
        By the identity of the number; None leaves it as it stands.
    use_new : bool
        Whether the values after are put, or those before.
    """

    def of(inner: Expression) -> Fraction:
        found = evaluated(inner, put, use_new=use_new)
        if found is None:
            raise ZeroDivisionError
        return found

    try:
        match tree:
            case Number(value=typed):
                value = put.get(id(tree))
                return typed if value is None else value.new if use_new else value.old
            case Negative(of=inner):
                return -of(inner)
            case Sum(terms=terms):
                return sum(map(of, terms), Fraction(0))
            case Product(factors=factors):
                return math.prod(map(of, factors), start=Fraction(1))
            case Quotient(over=over, under=under):
                return of(over) / of(under)
            case Power(base=base, exponent=exponent):
                return of(base) ** exponent
            case Parallel(branches=branches):
                return 1 / sum((1 / of(each) for each in branches), Fraction(0))
            case _:
                return None
    except ZeroDivisionError:
        return None


def places_of(value: Fraction) -> int | None:
    """Decimal places that a value needs; None if it never ends.

    Parameters
    ----------
    value : Fraction
        Exact.

    Examples
    --------
    >>> places_of(Fraction(1, 8)), places_of(Fraction(1, 3))
    (3, None)
    """
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None
