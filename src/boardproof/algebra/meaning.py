"""What a written expression stands for: an exact ratio of letters, or a number.

Sums with a letter for their end are turned into atoms (`sigma`). Terms written out, three dots and sigma signs lead to
the same atoms, so they can be compared.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from math import isqrt
from typing import Final

from boardproof.algebra.expression import (
    Call,
    Ellipsis,
    Expression,
    Infinity,
    Name,
    Negative,
    Number,
    Parallel,
    Power,
    Product,
    Quotient,
    Sum,
    SumOver,
)
from boardproof.algebra.pattern import folded, indexed
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.sigma import INDEX, changes, sum_of_family
from boardproof.record import record
from boardproof.source import Span

__all__ = ["Unknown", "number", "square_root", "typed_place", "value"]

WRITTEN_OUT_AT_MOST: Final = 200
ONE: Final = Number(Fraction(1))


@record
class Unknown:
    """Why an expression (or a name) has no value.

    Parameters
    ----------
    reason : str
        Goes after "I can't check this:".
    span : Span or None
        The smallest place that is to blame.
    """

    reason: str
    span: Span | None = None


Meaning = Callable[[str], RationalFunction | Unknown]


class _Stopped(Exception):  # ends one evaluation; `value` turns it into a record
    def __init__(self, unknown: Unknown) -> None:
        super().__init__(unknown.reason)
        self.unknown = unknown


def value(expression: Expression, meaning: Meaning, *, first: int = 1) -> RationalFunction | Unknown:
    r"""The expression as an exact ratio of letters.

    Parameters
    ----------
    expression : Expression
        What was written.
    meaning : callable
        Gives each name its value on the circuit at hand.
    first : int
        The index at which the circuit's own family begins; lower terms of a sum are split off.

    Examples
    --------
    >>> from boardproof.algebra.written import read_line
    >>> from boardproof.source import Source
    >>> def read(text):
    ...     line, _ = read_line(Source("x", text).slice(), known=())
    ...     return value(line.bare[0], RationalFunction.letter)
    >>> read("E_1/r_1 + E_2/r_2 + ... + E_n/r_n") == read(r"\sum_{i=1}^{n} E_i/r_i")
    True
    >>> read("r_1 || r_2")
    (r_1*r_2)/(r_1 + r_2)
    """
    try:
        return _value(expression, meaning, first)
    except _Stopped as stopped:
        return stopped.unknown
    except ZeroDivisionError:
        return Unknown("something is divided by nought", expression.span)
    except TooLarge:
        return Unknown("it has too many terms", expression.span)


def _value(tree: Expression, meaning: Meaning, first: int) -> RationalFunction:
    match tree:
        case Number(value=exact):
            return RationalFunction.constant(exact)
        case Name(text=name, span=span):
            found = meaning(name)
            if isinstance(found, Unknown):
                raise _Stopped(found if found.span else replace(found, span=span))
            return found
        case Negative(of=inner):
            return -_value(inner, meaning, first)
        case Sum(terms=terms):
            return _total([_value(term, meaning, first) for term in _written_out(terms, tree.span)])
        case Product(factors=factors):
            result = RationalFunction.constant(1)
            for factor in factors:
                result = result * _value(factor, meaning, first)
            return result
        case Quotient(over=over, under=under):
            return _value(over, meaning, first) / _value(under, meaning, first)
        case Power(base=base, exponent=exponent):
            return _value(base, meaning, first) ** exponent
        case Parallel(branches=branches):
            inverses = [each if isinstance(each, Ellipsis) else Quotient(ONE, each) for each in branches]
            return _value(Sum(tuple(inverses), tree.span), meaning, first).reciprocal()
        case Call(function=function, of=inner):
            return _called(function, _value(inner, meaning, first), tree.span)
        case SumOver():
            return _sum_over(tree, meaning, first)
        case Infinity() | Ellipsis():
            raise _Stopped(Unknown("it goes on without end", tree.span))


def _written_out(terms: tuple[Expression, ...], span: Span | None) -> tuple[Expression, ...]:
    """Terms without three dots."""
    if not any(isinstance(term, Ellipsis) for term in terms):
        return terms
    found = folded(terms)
    if isinstance(found, str):
        raise _Stopped(Unknown(found, span))
    return found


def _total(many: list[RationalFunction]) -> RationalFunction:
    result = RationalFunction.constant(0)
    for each in many:
        result = result + each
    return result


def _called(function: str, inner: RationalFunction, span: Span | None) -> RationalFunction:
    """A size or a root, where it is a ratio of letters for all positive values."""
    if inner.is_zero:
        return inner
    if function == "abs" and inner.one_signed:
        return inner * inner.one_signed
    root = square_root(inner) if function == "sqrt" else None
    if root is None:
        word = "the size of something that can have either sign" if function == "abs" else "this square root"
        raise _Stopped(Unknown(f"I don't calculate with {word}", span))
    return root


def square_root(inner: RationalFunction) -> RationalFunction | None:
    """The root of a square whose base has one sign for all positive values; None if there is none.

    Parameters
    ----------
    inner : RationalFunction
        What stands under the root; its letters stand for positive values.

    Examples
    --------
    >>> r = RationalFunction.letter("r")
    >>> square_root(r * r) == r, square_root(r) is None
    (True, True)
    """
    result = RationalFunction.constant(1)
    for part, upward in ((inner.numerator, 1), (inner.denominator, -1)):
        number_before, factors = part.factors()
        over, under = _whole_root(number_before.numerator), _whole_root(number_before.denominator)
        if (
            over is None
            or under is None
            or any(power % 2 or not factor.one_signed for factor, power in factors)
        ):
            return None
        result = result * RationalFunction.constant(Fraction(over, under)) ** upward
        for factor, power in factors:
            result = result * factor ** (upward * power // 2)
    return result * result.one_signed


def _whole_root(square: int) -> int | None:
    if square < 0:
        return None
    root = isqrt(square)
    return root if root * root == square else None


# Sums over an index


def _sum_over(tree: SumOver, meaning: Meaning, first: int) -> RationalFunction:
    term = indexed(tree.term, tree.index, INDEX)
    if isinstance(tree.last, Number):
        members = tree.last.value - tree.first + 1
        if members > WRITTEN_OUT_AT_MOST:
            raise _Stopped(Unknown(f"a sum of more than {WRITTEN_OUT_AT_MOST} terms", tree.span))
        each = range(tree.first, int(tree.last.value) + 1)
        return _total([_value(indexed(term, INDEX, str(k)), meaning, first) for k in each])
    if not isinstance(tree.last, Name):
        raise _Stopped(Unknown("a sum that ends neither at a number nor at a letter", tree.last.span))

    def general(name: str) -> RationalFunction | Unknown:
        found = RationalFunction.letter(name) if name == INDEX else meaning(name)
        return RationalFunction.letter(name) if isinstance(found, Unknown) and changes(name) else found

    whole = sum_of_family(_value(term, general, first), tree.last.text, first=first)
    low, high, sign = (tree.first, first, 1) if tree.first < first else (first, tree.first, -1)
    if high - low > WRITTEN_OUT_AT_MOST:
        raise _Stopped(Unknown("a sum that begins too far out", tree.span))
    split = [_value(indexed(term, INDEX, str(k)), meaning, first) for k in range(low, high)]
    return whole + _total(split) * sign


# Numbers


def number(expression: Expression) -> Fraction | None:
    """The exact SI value of an expression without letters; None if it holds a letter or has no value.

    Parameters
    ----------
    expression : Expression
        What was written.

    Examples
    --------
    >>> number(Quotient(Number(Fraction(16)), Number(Fraction(3))))
    Fraction(16, 3)
    """
    found = value(expression, Unknown)
    return found.as_number if isinstance(found, RationalFunction) else None


def typed_place(expression: Expression) -> Fraction:
    """Place of the last figure of a typed number (with its sign); 0 for working, which is exact.

    Parameters
    ----------
    expression : Expression
        One side of a comparison.

    Examples
    --------
    >>> from boardproof.algebra.expression import Product
    >>> typed_place(Number(Fraction("1.50"), typed="1.50", place=Fraction(1, 100)))
    Fraction(1, 100)
    """
    match expression:
        case Number(place=place):
            return place
        case Negative(of=Number(place=place)):
            return place
        case _:
            return Fraction(0)
