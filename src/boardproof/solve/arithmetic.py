"""What a number is while a circuit is solved: an exact fraction, a ratio in letters, or an array of cases.

The solver only adds, subtracts, multiplies, divides and asks whether something is nought, so one solver serves all.
Structural ones and noughts (a wire, an ideal source) stay `Fraction` until they meet something else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, ClassVar, Literal

from boardproof.algebra.linear import Singular, solve_linear
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Count, Worth

__all__ = ["Arithmetic", "Number", "Way", "total"]

Way = Literal["exact", "letters", "batch"]
Number = Any
"""Fraction, RationalFunction, or float array of shape (cases,); mypy cannot name their common operations."""


@dataclass(frozen=True, eq=False)
class Arithmetic:
    """One of the three ways to calculate, and what the letters stand for in it.

    Parameters
    ----------
    way : {"exact", "letters", "batch"}
        Exact: letters with a value are fractions, one without stays a letter. Letters: all stay letters. Batch: arrays.
    values : mapping of str to number
        Letter to value in SI units; for a batch an array of shape (cases,) or a plain number.

    Examples
    --------
    >>> Arithmetic("exact", {"R": Fraction(3)}).letter("R")
    Fraction(3, 1)
    >>> Arithmetic("exact", {}).letter("R")
    R
    """

    way: Way
    values: Mapping[str, Number] = field(default_factory=dict)
    is_straight: ClassVar[bool] = False  # whether only straight-line steps are allowed, no library

    def letter(self, name: str, own: Fraction | None = None) -> Number:
        """What a letter is here; `own` is the value it has if `values` says nothing."""
        if self.way == "letters":
            return RationalFunction.letter(name)
        value = self.values.get(name, own)
        if value is None:
            return RationalFunction.letter(name)
        return float(value) if self.way == "batch" and isinstance(value, Fraction | int) else value

    def worth(self, worth: Worth | None) -> Number:
        """What a part's letter is here; nought if the part has none."""
        return Fraction(0) if worth is None else self.letter(worth.letter, worth.value)

    def count(self, counts: Sequence[Count]) -> Number:
        """Product of counts, plain or letters."""
        result: Number = Fraction(1)
        for count in counts:
            result = result * (Fraction(count) if isinstance(count, int) else self.letter(count))
        return self.plain(result)

    def plain(self, value: Number) -> Number:
        """A structural number as one that may meet arrays."""
        return float(value) if self.way == "batch" and isinstance(value, Fraction) else value

    @property
    def has_letters(self) -> bool:
        """Whether formulas may come out."""
        return self.way != "batch"

    @staticmethod
    def is_zero(value: Number) -> bool:
        """Whether it is nought, in all cases."""
        if isinstance(value, Fraction | int | float):
            return value == 0
        if isinstance(value, RationalFunction):
            return value.is_zero
        return not value.any()

    @staticmethod
    def solve(matrix: Sequence[Sequence[Number]], right: Sequence[Number]) -> tuple[Number, ...] | Singular:
        """Unknowns of linear equations with letters in them."""
        as_ratio = RationalFunction.constant
        lifted = [
            [entry if isinstance(entry, RationalFunction) else as_ratio(entry) for entry in row]
            for row in (*matrix, right)
        ]
        return solve_linear(lifted[:-1], lifted[-1])


def total(values: Sequence[Number]) -> Number:
    """Their sum; a plain nought if there are none.

    Parameters
    ----------
    values : sequence of number
        All of one sort, or plain numbers.

    Examples
    --------
    >>> total([RationalFunction.letter("R"), Fraction(2)])
    R + 2
    """
    result: Number = Fraction(0)
    for value in values:
        result = value if isinstance(result, Fraction) and result == 0 else result + value
    return result
