"""Dimensions of written expressions: volts, ohms, or where the two sides of a sum break."""

from __future__ import annotations

from collections.abc import Callable

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
from boardproof.quantities import PURE, Dimension, dimension_words
from boardproof.record import record
from boardproof.source import Span

__all__ = ["Mismatch", "dimensioned"]


@record
class Mismatch:
    """Two things of different dimension, added or compared.

    Parameters
    ----------
    left, right : str
        Their dimensions in words.
    span : Span or None
        The second of the two.
    """

    left: str
    right: str
    span: Span | None = None


class _Differ(Exception):  # ends one walk; `dimensioned` turns it into a record
    def __init__(self, mismatch: Mismatch) -> None:
        super().__init__(mismatch.left)
        self.mismatch = mismatch


def dimensioned(
    expression: Expression, dimension_of: Callable[[str], Dimension | None]
) -> Dimension | Mismatch | None:
    """The dimension of an expression, or where it breaks.

    Parameters
    ----------
    expression : Expression
        What was written.
    dimension_of : callable
        Gives a name's dimension; None for a name that nothing is known of.

    Returns
    -------
    Dimension, Mismatch or None
        None fits every dimension: nought, or something with an unknown name in it.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from boardproof.quantities import OHM, VOLT
    >>> names = {"r_1": OHM, "E": VOLT}
    >>> tree = Sum((Name("r_1"), Quotient(Number(Fraction(1)), Name("r_1"))))
    >>> dimensioned(tree, names.get).right
    'a conductance (1/Ω)'
    """
    try:
        return _dimension(expression, dimension_of)
    except _Differ as differ:
        return differ.mismatch


def _dimension(tree: Expression, of: Callable[[str], Dimension | None]) -> Dimension | None:
    match tree:
        case Number(value=exact, unit=unit):
            return (unit.dimension if unit else PURE) if exact else None
        case Name(text=name):
            return of(name)
        case Negative(of=inner) | SumOver(term=inner):
            return _dimension(inner, of)
        case Sum(terms=many) | Parallel(branches=many):
            return _alike(tuple(part for part in many if not isinstance(part, Ellipsis)), of)
        case Product(factors=many):
            return _multiplied([_dimension(part, of) for part in many])
        case Quotient(over=over, under=under):
            above, below = _dimension(over, of), _dimension(under, of)
            return None if above is None or below is None else above / below
        case Power(base=base, exponent=exponent):
            inner_dimension = _dimension(base, of)
            return None if inner_dimension is None else inner_dimension**exponent
        case Call(function=function, of=inner):
            return _of_call(function, _dimension(inner, of), tree.span)
        case Infinity() | Ellipsis():
            return None


def _alike(many: tuple[Expression, ...], of: Callable[[str], Dimension | None]) -> Dimension | None:
    known: Dimension | None = None
    for part in many:
        mine = _dimension(part, of)
        if known is not None and mine is not None and mine != known:
            raise _Differ(Mismatch(dimension_words(known), dimension_words(mine), part.span))
        known = known if known is not None else mine
    return known


def _multiplied(many: list[Dimension | None]) -> Dimension | None:
    result = PURE
    for each in many:
        if each is None:
            return None
        result = result * each
    return result


def _of_call(function: str, inner: Dimension | None, span: Span | None) -> Dimension | None:
    if inner is None or function == "abs":
        return inner
    root = inner.root()
    if root is None:
        raise _Differ(Mismatch(dimension_words(inner), "something that has a square root", span))
    return root
