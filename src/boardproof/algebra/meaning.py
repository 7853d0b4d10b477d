"""What a written expression stands for: an exact ratio of letters, a dimension, or a number.

Sums with a letter for their end are turned into *atoms*, letters of their own that stand for "this term, added up
from here to n". Terms written out, three dots and sigma signs lead to the same atoms, so they can be compared.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
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
from boardproof.algebra.polynomial import RationalFunction, TooLarge
from boardproof.quantities import PURE, Dimension, dimension_words
from boardproof.record import record
from boardproof.source import Span

__all__ = [
    "Mismatch",
    "Unknown",
    "dimension",
    "number",
    "square_root",
    "sum_of_family",
    "sums_of",
    "typed_place",
    "value",
]

INDEX: Final = "k"  # every atom's index, whatever the teacher calls it
WRITTEN_OUT_AT_MOST: Final = 200


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
            terms = _folded(tree) if any(isinstance(term, Ellipsis) for term in terms) else terms
            return _total([_value(term, meaning, first) for term in terms])
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
            return _total([_value(branch, meaning, first).reciprocal() for branch in branches]).reciprocal()
        case Call(function=function, of=inner):
            return _called(function, _value(inner, meaning, first), tree.span)
        case SumOver():
            return _sum_over(tree, meaning, first)
        case Infinity() | Ellipsis():
            raise _Stopped(Unknown("it goes on without end", tree.span))


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
    root = int(square**0.5)
    return next((near for near in (root - 1, root, root + 1) if near * near == square), None)


# Sums over an index


def sum_of_family(term: RationalFunction, last: str, *, first: int = 1) -> RationalFunction:
    """A term in letters such as ``E_k``, ``r_k`` added up from k = `first` to `last`, in atoms.

    Parameters
    ----------
    term : RationalFunction
        The term; letters with the subscript ``k`` change from member to member.
    last : str
        A letter that counts.
    first : int
        The family's own first index.

    Returns
    -------
    RationalFunction
        Letters that stay the same are taken out of the sum, a term that stays the same is multiplied.

    Examples
    --------
    >>> E, r = RationalFunction.letter("E"), RationalFunction.letter("r_k")
    >>> sum_of_family(E / r, "n", first=3)
    E*Σ(k=3..n: 1/r_k)
    >>> sum_of_family(E, "n", first=3)
    n*E - 2*E
    """
    under_fixed, under_changing = RationalFunction.constant(1), RationalFunction.constant(1)
    number_under, factors = term.denominator.factors()
    for factor, power in factors:
        if any(_changes(letter) for letter in factor.letters):
            under_changing = under_changing * factor**power
        else:
            under_fixed = under_fixed * factor**power
    total = RationalFunction.constant(0)
    for powers, number_before in term.terms():
        fixed, changing = RationalFunction.constant(number_before), RationalFunction.constant(1)
        for letter, power in powers.items():
            piece = RationalFunction.letter(letter) ** power
            fixed, changing = (fixed, changing * piece) if _changes(letter) else (fixed * piece, changing)
        whole = changing / under_changing
        if any(_changes(letter) for letter in whole.letters):
            added = RationalFunction.letter(f"Σ({INDEX}={first}..{last}: {_ratio(whole)})")
        else:
            added = whole * (RationalFunction.letter(last) - (first - 1))
        total = total + fixed * added
    return total / under_fixed / number_under


def _ratio(ratio: RationalFunction) -> str:
    """Text of a ratio that depends on nothing but its value."""
    over, under = repr(ratio.numerator), repr(ratio.denominator)
    if under == "1":
        return over
    return "/".join(f"({text})" if re.search(r"[ *]", text) else text for text in (over, under))


def _changes(letter: str) -> bool:
    """Whether a letter changes from member to member."""
    return letter == INDEX or INDEX in letter.partition("_")[2].split(".")


def sums_of(letter: str) -> tuple[int, str, str] | None:
    """First index, last letter and term of an atom; None for any other letter.

    Parameters
    ----------
    letter : str
        A letter of a `RationalFunction`.

    Examples
    --------
    >>> sums_of("Σ(k=3..n: 1/r_k)"), sums_of("E")
    ((3, 'n', '1/r_k'), None)
    """
    found = re.fullmatch(rf"Σ\({INDEX}=(\d+)\.\.(.+?): (.*)\)", letter)
    return (int(found[1]), found[2], found[3]) if found else None


def _sum_over(tree: SumOver, meaning: Meaning, first: int) -> RationalFunction:
    term = _indexed(tree.term, tree.index, INDEX)
    if isinstance(tree.last, Number):
        members = tree.last.value - tree.first + 1
        if members > WRITTEN_OUT_AT_MOST:
            raise _Stopped(Unknown(f"a sum of more than {WRITTEN_OUT_AT_MOST} terms", tree.span))
        each = range(tree.first, int(tree.last.value) + 1)
        return _total([_value(_indexed(term, INDEX, str(k)), meaning, first) for k in each])
    if not isinstance(tree.last, Name):
        raise _Stopped(Unknown("a sum that ends neither at a number nor at a letter", tree.last.span))

    def general(name: str) -> RationalFunction | Unknown:
        found = RationalFunction.letter(name) if name == INDEX else meaning(name)
        return RationalFunction.letter(name) if isinstance(found, Unknown) and _changes(name) else found

    whole = sum_of_family(_value(term, general, first), tree.last.text, first=first)
    low, high, sign = (tree.first, first, 1) if tree.first < first else (first, tree.first, -1)
    if high - low > WRITTEN_OUT_AT_MOST:
        raise _Stopped(Unknown("a sum that begins too far out", tree.span))
    split = [_value(_indexed(term, INDEX, str(k)), meaning, first) for k in range(low, high)]
    return whole + _total(split) * sign


def _indexed(tree: Expression, index: str, put: str) -> Expression:
    """The tree with another index (or a number) in place of an index."""

    def renamed(name: str) -> str:
        stem, mark, subscript = name.partition("_")
        return stem + mark + ".".join(put if piece == index else piece for piece in subscript.split("."))

    def turned(part: Expression) -> Expression:
        if isinstance(part, Name):
            if part.text == index:
                return Number(Fraction(put), span=part.span) if put.isdigit() else Name(put, part.span)
            return Name(renamed(part.text), part.span)
        return part

    return _mapped(tree, turned)


def _mapped(tree: Expression, change: Callable[[Expression], Expression]) -> Expression:
    """The tree with every leaf changed."""

    def go(part: Expression) -> Expression:
        return _mapped(part, change)

    match tree:
        case Negative(of=inner) | Call(of=inner):
            return replace(tree, of=go(inner))
        case Power(base=base):
            return replace(tree, base=go(base))
        case Sum(terms=many):
            return replace(tree, terms=tuple(go(part) for part in many))
        case Product(factors=many):
            return replace(tree, factors=tuple(go(part) for part in many))
        case Parallel(branches=many):
            return replace(tree, branches=tuple(go(part) for part in many))
        case Quotient(over=over, under=under):
            return replace(tree, over=go(over), under=go(under))
        case SumOver(term=term):
            return replace(tree, term=go(term))
        case _:
            return change(tree)


def _folded(tree: Sum) -> tuple[Expression, ...]:
    """The terms, with those around three dots turned into one sum over an index."""
    terms = tree.terms
    dots = [place for place, term in enumerate(terms) if isinstance(term, Ellipsis)]
    if len(dots) != 1 or dots[0] == len(terms) - 1:
        raise _Stopped(Unknown("I see no single pattern in the sum with dots", tree.span))
    last = terms[dots[0] + 1]
    for start in range(dots[0]):
        pattern = _pattern(terms[start], last)
        if pattern is None:
            continue
        term, first, end = pattern
        if any(
            _indexed(term, INDEX, str(first + k)) != each for k, each in enumerate(terms[start : dots[0]])
        ):
            break
        total = SumOver(INDEX, first, end, term, tree.span)
        return (*terms[:start], total, *terms[dots[0] + 2 :])
    raise _Stopped(Unknown("the terms before the dots don't show how the sum goes on", tree.span))


def _pattern(first: Expression, last: Expression) -> tuple[Expression, int, Expression] | None:
    """The term with an index, the first index and the last, if the two differ only in a subscript."""
    ends: set[tuple[str, str]] = set()

    def paired(left: Name, right: Name) -> Name | None:
        if left.text == right.text:
            return left
        stem, _, low = left.text.partition("_")
        other, _, high = right.text.partition("_")
        if stem != other or not low.isdigit() or not high:
            return None
        ends.add((low, high))
        return Name(f"{stem}_{INDEX}", left.span)

    term = _zipped(first, last, paired)
    if term is None or len(ends) != 1:
        return None
    low, high = ends.pop()
    return term, int(low), Number(Fraction(high)) if high.isdigit() else Name(high)


def _zipped(
    left: Expression, right: Expression, paired: Callable[[Name, Name], Name | None]
) -> Expression | None:
    """Two trees of one shape as one, names joined by `paired`; None if the shapes differ."""
    if isinstance(left, Name) and isinstance(right, Name):
        return paired(left, right)
    if type(left) is not type(right):
        return None
    ours, theirs = list(_children(left)), list(_children(right))
    if len(ours) != len(theirs):
        return None
    joined = [_zipped(one, other, paired) for one, other in zip(ours, theirs, strict=True)]
    if any(part is None for part in joined):
        return None
    whole = _rebuilt(left, [part for part in joined if part is not None])
    return whole if _rebuilt(right, [part for part in joined if part is not None]) == whole else None


def _children(tree: Expression) -> Iterator[Expression]:
    match tree:
        case Negative(of=inner) | Call(of=inner) | Power(base=inner) | SumOver(term=inner):
            yield inner
        case Sum(terms=many) | Product(factors=many) | Parallel(branches=many):
            yield from many
        case Quotient(over=over, under=under):
            yield over
            yield under


def _rebuilt(tree: Expression, parts: list[Expression]) -> Expression:
    match tree:
        case Negative() | Call():
            return replace(tree, of=parts[0])
        case Power():
            return replace(tree, base=parts[0])
        case SumOver():
            return replace(tree, term=parts[0])
        case Sum():
            return replace(tree, terms=tuple(parts))
        case Product():
            return replace(tree, factors=tuple(parts))
        case Parallel():
            return replace(tree, branches=tuple(parts))
        case Quotient():
            return replace(tree, over=parts[0], under=parts[1])
        case _:
            return tree


# Dimensions and numbers


class _Differ(Exception):  # ends one walk; `dimension` turns it into a record
    def __init__(self, mismatch: Mismatch) -> None:
        super().__init__(mismatch.left)
        self.mismatch = mismatch


def dimension(
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
    >>> from boardproof.quantities import OHM, VOLT
    >>> names = {"r_1": OHM, "E": VOLT}
    >>> tree = Sum((Name("r_1"), Quotient(Number(Fraction(1)), Name("r_1"))))
    >>> dimension(tree, names.get).right
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
