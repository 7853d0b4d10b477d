"""Values that make a statement true: ``R that makes I_2 = 0``, solved for the letter.

A statement that is linear in the letter is solved in letters. A quadratic one is solved only where its root is a
ratio of letters, or of the scene's numbers; of two roots the positive one is taken, and two positive ones are none.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import isqrt
from types import MappingProxyType
from typing import Final, Protocol

from boardproof.algebra import meaning
from boardproof.algebra.expression import Relation
from boardproof.algebra.meaning import Unknown, square_root
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.written import read_line
from boardproof.circuit.quantity import QuantityRef
from boardproof.source import Source

__all__ = ["Making", "value_that_makes"]


NOTHING: Final[Mapping[str, Fraction]] = MappingProxyType({})


class Making(Protocol):
    """The world of the circuit that a value is looked for in."""

    def in_letters(self, name: str) -> RationalFunction | Unknown:
        """The exact ratio of letters that a name stands for."""

    @property
    def first_index(self) -> int:
        """Where the circuit's own family of parts begins."""

    def names(self) -> frozenset[str]:
        """Names into which letters side by side may be cut."""


def value_that_makes(
    ref: QuantityRef, world: Making, values: Mapping[str, Fraction] = NOTHING
) -> RationalFunction | Unknown:
    """The value of a letter that makes a statement true.

    Parameters
    ----------
    ref : QuantityRef
        Of kind "value_that_makes": the letter, then the statement as typed.
    world : Making
        The world of its circuit.
    values : mapping of str to Fraction
        The scene's values; without them the root must be a ratio of letters.

    Returns
    -------
    RationalFunction or Unknown
        In letters, or (from a quadratic equation) a number for the scene's values.

    Examples
    --------
    >>> class Cell:
    ...     first_index = 1
    ...     def in_letters(self, name):
    ...         E, r, R = (RationalFunction.letter(each) for each in "ErR")
    ...         return {"V": E * R / (R + r)}.get(name) or RationalFunction.letter(name)
    ...     def names(self):
    ...         return frozenset("VErR")
    >>> value_that_makes(QuantityRef("value_that_makes", ("R", "V = E/2"), "x"), Cell())
    r
    """
    letter, typed = ref.of
    line, _ = read_line(Source("", typed).slice(), known=world.names())
    statement = line.statements[0] if line is not None and len(line.statements) == 1 else None
    if not isinstance(statement, Relation) or statement.sign != "=" or (line is not None and line.condition):
        return Unknown(f"“{typed}” is not one equation, so it fixes no {letter}")
    left, right = (
        meaning.value(side, world.in_letters, first=world.first_index)
        for side in (statement.left, statement.right)
    )
    if isinstance(left, Unknown):
        return left
    if isinstance(right, Unknown):
        return right
    try:
        return _root(left - right, letter, typed, values)
    except (TooLarge, ZeroDivisionError):
        return Unknown("it has too many terms")


def _root(
    function: RationalFunction, letter: str, typed: str, values: Mapping[str, Fraction]
) -> RationalFunction | Unknown:
    if function.is_zero:
        return Unknown(f"{typed} holds for every {letter}")
    factors = [
        each for each, _ in function.factors()[1] if letter in each.letters and not each.one_signed
    ]  # a factor of one sign is nought for no positive values
    if not factors:
        return Unknown(f"no {letter} makes {typed}")
    found: list[RationalFunction] = []
    for factor in factors:
        roots = _roots(factor, letter, values)
        if isinstance(roots, Unknown):
            return roots
        found += roots
    fitting = list(dict.fromkeys(each for each in found if _may_be_positive(each, values)))
    if not fitting:
        return Unknown(f"no positive {letter} makes {typed}")
    if len(fitting) > 1:
        return Unknown(f"more than one {letter} makes {typed}")
    return fitting[0]


def _roots(
    factor: RationalFunction, letter: str, values: Mapping[str, Fraction]
) -> list[RationalFunction] | Unknown:
    parts = factor.coefficients(letter)
    if len(parts) == 2:
        return [-parts[0] / parts[1]]
    if len(parts) > 3:
        return Unknown(f"{letter} would come from an equation of degree {len(parts) - 1}")
    c, b, a = parts
    inside = b * b - a * c * 4
    root = square_root(inside)
    if root is None:
        numbers = [part.substitute(values) for part in parts]
        exact = [part.as_number for part in numbers]
        if any(each is None for each in exact):
            return Unknown(f"{letter} would be a square root here")
        c, b, a = numbers
        number = (b * b - a * c * 4).as_number
        root_number = _exact_root(number) if number is not None and number >= 0 else None
        if root_number is None:
            below = number is not None and number < 0
            return [] if below else Unknown(f"{letter} would be a square root that has no end")
        root = RationalFunction.constant(root_number)
    return [(-b + root) / (a * 2), (-b - root) / (a * 2)]


def _exact_root(number: Fraction) -> Fraction | None:
    over, under = isqrt(number.numerator), isqrt(number.denominator)
    return (
        Fraction(over, under)
        if (over * over, under * under) == (number.numerator, number.denominator)
        else None
    )


def _may_be_positive(root: RationalFunction, values: Mapping[str, Fraction]) -> bool:
    """Whether a root may be the value of a part: above nought, in this scene if it has values."""
    if root.one_signed:
        return root.one_signed > 0
    if root.letters <= set(values):
        return root.evaluate(values) > 0
    return not root.is_zero
