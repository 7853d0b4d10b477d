"""The tree of a piece of maths, as it was written; one tree for every reader and every writer.

A tree keeps what was written (order, brackets that mattered, a number's figures and unit). It knows nothing
of circuits: a `Name` is only a name until a circuit gives it a meaning. Equality ignores places.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from boardproof.quantities import Unit
from boardproof.source import Span

__all__ = [
    "Call",
    "Condition",
    "Ellipsis",
    "Expression",
    "Infinity",
    "Limit",
    "Line",
    "Name",
    "Negative",
    "Number",
    "Parallel",
    "Power",
    "Product",
    "Quotient",
    "Relation",
    "Statement",
    "Sum",
    "SumOver",
    "names_in",
    "written_length",
]

Comparison = Literal["=", "≈", "<", ">", "≤", "≥", "≠"]


@dataclass(frozen=True, slots=True)
class Number:
    """An exact number with its unit, and the figures it was typed with.

    Parameters
    ----------
    value : Fraction
        In SI units (a typed ``5 mA`` has 1/200).
    unit : Unit or None
        As typed; None for a bare number.
    figures : int or None
        Significant figures shown; None for a fraction or a whole number that is exact by nature.
    place : Fraction
        SI value of one unit of the last digit typed (``0.50 A``: 1/100; ``3/2``: 0, exact).
    typed : str
        As typed, without the unit.
    """

    value: Fraction
    unit: Unit | None = None
    figures: int | None = None
    place: Fraction = Fraction(0)
    typed: str = field(default="", compare=False)
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Name:
    """A letter with its subscript in normal form: ``E_1``, ``r_p``, ``E_bank.2.3``, ``I``; ε is read as E."""

    text: str
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Negative:
    """Minus `of`."""

    of: Expression
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Sum:
    """Terms added, in order; a subtracted term is a `Negative`; an `Ellipsis` may stand among them."""

    terms: tuple[Expression, ...]
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Ellipsis:
    """Three dots between the terms of a sum."""

    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Product:
    """Factors multiplied, in order."""

    factors: tuple[Expression, ...]
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Quotient:
    """`over` divided by `under`."""

    over: Expression
    under: Expression
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Power:
    """`base` to a whole power from -8 to 8."""

    base: Expression
    exponent: int
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Parallel:
    """Resistances side by side: one over the sum of the reciprocals."""

    branches: tuple[Expression, ...]
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Call:
    """A square root or a size without sign."""

    function: Literal["sqrt", "abs"]
    of: Expression
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class SumOver:
    """`term` added up for `index` from `first` to `last` (a count: a whole number or a letter)."""

    index: str
    first: int
    last: Expression
    term: Expression
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Infinity:
    """The limit of something that grows without end."""

    span: Span | None = field(default=None, compare=False)


Expression = (
    Number
    | Name
    | Negative
    | Sum
    | Ellipsis
    | Product
    | Quotient
    | Power
    | Parallel
    | Call
    | SumOver
    | Infinity
)


@dataclass(frozen=True, slots=True)
class Relation:
    """Two expressions compared. A chain ``a = b = c`` is two relations; `chain` counts from 0 within it."""

    left: Expression
    sign: Comparison
    right: Expression
    chain: int = 0
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Limit:
    """`of` goes to `to` as `letter` goes to `end`."""

    of: Expression
    to: Expression
    letter: str
    end: Expression
    span: Span | None = field(default=None, compare=False)


Statement = Relation | Limit


@dataclass(frozen=True, slots=True)
class Condition:
    """What a line is said under.

    Parameters
    ----------
    word : str
        "if" (also when, for), "every load", "no load", "with load" (nothing but the circuit as it stands), "only
        when", "exactly when" or "here".
    statements : tuple of Statement
        Joined by "and"; empty for "every load", "no load", "with load" and "here".
    """

    word: Literal["if", "every load", "no load", "with load", "only when", "exactly when", "here"]
    statements: tuple[Statement, ...] = ()
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of maths: statements, or a bare expression that asserts nothing.

    Parameters
    ----------
    statements : tuple of Statement
        Every relation of every chain, in order.
    bare : tuple of Expression
        Expressions that stand alone.
    condition : Condition or None
        Holds for every statement of the line.
    tag : str or None
        Name that the line is established under.
    """

    statements: tuple[Statement, ...]
    bare: tuple[Expression, ...] = ()
    condition: Condition | None = None
    tag: str | None = None
    span: Span | None = field(default=None, compare=False)


def names_in(tree: Expression | Statement) -> Iterator[Name]:
    """Every name in a tree, in writing order, repeats included.

    Parameters
    ----------
    tree : Expression or Statement
        What was read.

    Examples
    --------
    >>> [name.text for name in names_in(Sum((Name("E_1"), Negative(Name("E_2")))))]
    ['E_1', 'E_2']
    """
    match tree:
        case Name():
            yield tree
        case Negative(of=inner) | Call(of=inner) | Power(base=inner):
            yield from names_in(inner)
        case Sum(terms=many) | Product(factors=many) | Parallel(branches=many):
            for each in many:
                yield from names_in(each)
        case Quotient(over=first, under=second) | Relation(left=first, right=second):
            yield from names_in(first)
            yield from names_in(second)
        case SumOver(last=last, term=term):
            yield from names_in(last)
            yield from names_in(term)
        case Limit(of=of, to=to, letter=letter, end=end):
            yield from names_in(of)
            yield from names_in(to)
            yield Name(letter)
            yield from names_in(end)
        case Number() | Ellipsis() | Infinity():
            return


def written_length(tree: Expression) -> int:
    """Letters and numbers that have to be written, a bracket in a product counting as one.

    Parameters
    ----------
    tree : Expression
        What would stand on the board.

    Examples
    --------
    >>> written_length(Product((Name("I"), Sum((Name("R"), Name("r"))))))
    4
    """
    match tree:
        case Sum(terms=many):
            return sum(written_length(part) for part in many)
        case Product(factors=many):
            return sum(written_length(part) + (1 if isinstance(part, Sum) else 0) for part in many)
        case Power(base=base):
            return written_length(base) + 1
        case Negative(of=inner):
            return written_length(inner)
        case _:
            return 1
