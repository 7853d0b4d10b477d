"""An exact ratio of letters as the expression that a teacher would write, and polynomials as balanced comparisons."""

from __future__ import annotations

from fractions import Fraction

from boardproof.algebra.expression import (
    Comparison,
    Expression,
    Name,
    Negative,
    Number,
    Power,
    Product,
    Quotient,
    Relation,
    Sum,
    SumOver,
    written_length,
)
from boardproof.algebra.letter_order import natural
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.sigma import sums_of
from boardproof.algebra.written import read_line
from boardproof.source import Source

__all__ = ["balanced", "to_expression"]


def to_expression(function: RationalFunction) -> Expression:
    """The expression that a teacher would write for a ratio.

    Parameters
    ----------
    function : RationalFunction
        Any ratio.

    Returns
    -------
    Expression
        Letters in writing order, each side of the fraction bar factored where that is shorter.

    Examples
    --------
    >>> E, r, R = (RationalFunction.letter(name) for name in ("E", "r", "R"))
    >>> to_expression(E / (R + r)) == Quotient(Name("E"), Sum((Name("R"), Name("r"))))
    True
    """
    over, under = function.numerator, function.denominator
    # Its sign hangs on which letters were met first, not on how they are written.
    if _starts_with_minus(under):
        over, under = -over, -under
    turned = _leads_with_minus(over)
    above, below = _side(-over if turned else over), _side(under)
    whole = above if under == 1 else Quotient(above, below)
    return Negative(whole) if turned else whole


def balanced(polynomial: RationalFunction, sign: Comparison = "=") -> Relation:
    """``polynomial sign 0`` without a minus sign: what is subtracted goes to the other side.

    Parameters
    ----------
    polynomial : RationalFunction
        Only its numerator counts.
    sign : str
        The comparison.

    Examples
    --------
    >>> a, b = RationalFunction.letter("r_1"), RationalFunction.letter("r_2")
    >>> balanced(a - b, ">") == Relation(Name("r_1"), ">", Name("r_2"))
    True
    >>> balanced(b - a, "=") == Relation(Name("r_1"), "=", Name("r_2"))
    True
    """
    plus, minus = _parts(polynomial.numerator)
    left, right = plus, minus
    turned = minus and (
        not plus
        or (sign in {"=", "≠", "≈"} and _first(minus) < _first(plus))
        or _leans_right(plus, minus, sign)
    )
    if turned:
        left, right = minus, plus
        opposite: dict[Comparison, Comparison] = {"<": ">", ">": "<", "≤": "≥", "≥": "≤"}
        sign = opposite.get(sign, sign)
    return Relation(_side(_added(left)), sign, _side(_added(right)))


Term = tuple[tuple[tuple[str, int], ...], int]


def _leans_right(plus: list[Term], minus: list[Term], sign: Comparison) -> bool:
    """An inequality puts the lone letter, or else the letter that comes first, on its left."""
    if sign in {"=", "≠", "≈"}:
        return False
    lone = [len(side) == 1 and len(side[0][0]) == 1 for side in (plus, minus)]
    if lone[0] != lone[1]:
        return lone[1]
    return _first(minus) < _first(plus)


def _first(terms: list[Term]) -> tuple[object, ...]:
    return min(_key(term) for term in terms)


def _parts(polynomial: RationalFunction) -> tuple[list[Term], list[Term]]:
    terms: list[Term] = [
        (tuple(sorted(powers.items(), key=lambda pair: natural(pair[0]))), number)
        for powers, number in polynomial.terms()
    ]
    terms.sort(key=_key)
    return [term for term in terms if term[1] > 0], [
        (powers, -number) for powers, number in terms if number < 0
    ]


def _key(term: Term) -> tuple[object, ...]:
    """Order of terms in a sum: by their letters, the load before internal resistances, numbers last."""
    letters = tuple((_in_sum(letter), -power) for letter, power in term[0])
    return (not letters, letters)


def _in_sum(letter: str) -> tuple[object, ...]:
    key = natural(letter)
    return (5.5, *key[1:]) if letter.partition("_")[0] == "R" else key


def _added(terms: list[Term]) -> RationalFunction:
    total = RationalFunction.constant(0)
    for powers, number in terms:
        product = RationalFunction.constant(number)
        for letter, power in powers:
            product = product * RationalFunction.letter(letter) ** power
        total = total + product
    return total


def _starts_with_minus(polynomial: RationalFunction) -> bool:
    """Whether the first term in writing order is subtracted."""
    plus, minus = _parts(polynomial)
    return bool(minus) and (not plus or _first(minus) < _first(plus))


def _leads_with_minus(polynomial: RationalFunction) -> bool:
    return bool(polynomial) and not _parts(polynomial)[0]


def _side(polynomial: RationalFunction) -> Expression:
    """A polynomial, factored if that is shorter."""
    expanded = _sum(polynomial)
    if not isinstance(expanded, Sum):
        return expanded
    number, factors = polynomial.factors()
    if len(factors) == 1 and factors[0][1] == 1 and abs(number) == 1:
        return expanded
    pieces: list[Expression] = [] if abs(number) == 1 else [_number(abs(number))]
    for factor, power in sorted(factors, key=lambda pair: (len(pair[0].terms()), _first(_all(pair[0])))):
        turned = len(_parts(factor)[1]) > len(_parts(factor)[0])
        base = _sum(-factor if turned else factor)
        number = -number if turned and power % 2 else number
        pieces.append(base if power == 1 else Power(base, power))
    product = pieces[0] if len(pieces) == 1 else Product(tuple(pieces))
    factored = Negative(product) if number < 0 else product
    return factored if number > 0 and written_length(factored) <= written_length(expanded) else expanded


def _all(polynomial: RationalFunction) -> list[Term]:
    plus, minus = _parts(polynomial)
    return plus + minus


def _sum(polynomial: RationalFunction) -> Expression:
    plus, minus = _parts(polynomial)
    terms: list[Expression] = [_product(term) for term in plus]
    terms += [Negative(_product(term)) for term in minus]
    if not terms:
        return _number(Fraction(0))
    return terms[0] if len(terms) == 1 else Sum(tuple(terms))


def _product(term: Term) -> Expression:
    powers, number = term
    factors: list[Expression] = [] if number == 1 and powers else [_number(Fraction(number))]
    for letter, power in powers:
        base = _letter(letter)
        factors.append(base if power == 1 else Power(base, power))
    return factors[0] if len(factors) == 1 else Product(tuple(factors))


def _letter(letter: str) -> Expression:
    """A letter, or the sum that an atom stands for."""
    added = sums_of(letter)
    if added is None:
        return Name(letter)
    first, last, term = added
    line, _ = read_line(Source("", term).slice(), known=())
    assert line is not None
    return SumOver("k", first, Name(last), line.bare[0])


def _number(exact: Fraction) -> Expression:
    return Number(exact, typed=str(exact))
