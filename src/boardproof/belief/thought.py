"""The value that a believer gets: a formula, or one of several where the belief goes by which is the greatest."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from boardproof.algebra.polynomial import RationalFunction
from boardproof.record import record

__all__ = ["Thought", "best_of", "in_numbers", "just"]


@record
class Thought:
    """What a belief makes of a quantity.

    Parameters
    ----------
    cases : tuple of (RationalFunction, RationalFunction)
        A rank and a value each; the value with the greatest rank counts, the first of equal ones.
    """

    cases: tuple[tuple[RationalFunction, RationalFunction], ...]

    @property
    def formula(self) -> RationalFunction | None:
        """The formula, where there is no choice."""
        return self.cases[0][1] if len(self.cases) == 1 else None

    @property
    def letters(self) -> frozenset[str]:
        """All that it depends on."""
        return frozenset().union(*(each.letters for pair in self.cases for each in pair))

    def with_values(self, values: Mapping[str, Fraction]) -> Thought:
        """With numbers for some of its letters."""
        return Thought(
            tuple((rank.substitute(values), value.substitute(values)) for rank, value in self.cases)
        )

    def at(self, values: Mapping[str, Fraction]) -> Fraction | None:
        """The exact value with numbers for letters; None where something is over nought.

        Parameters
        ----------
        values : mapping of str to Fraction
            In SI units.

        Examples
        --------
        >>> small, large = RationalFunction.letter("a"), RationalFunction.letter("b")
        >>> best_of((small, small), (large, large)).at({"a": Fraction(2), "b": Fraction(3)})
        Fraction(3, 1)
        """
        try:
            ranked = [(rank.evaluate(values), value) for rank, value in self.cases]
            return max(ranked, key=lambda pair: pair[0])[1].evaluate(values)
        except ZeroDivisionError:
            return None

    def many(self, values: Mapping[str, Any]) -> Any:
        """The values for many cases at once, as floats; not a number where something is over nought.

        Parameters
        ----------
        values : mapping of str to ndarray of shape (cases,)
            In SI units.
        """
        import numpy as np  # numbers by the thousand only

        with np.errstate(all="ignore"):
            if len(self.cases) == 1:
                return in_numbers(self.cases[0][1], values)
            ranks = np.stack([in_numbers(rank, values) for rank, _ in self.cases])
            found = np.stack([in_numbers(value, values) for _, value in self.cases])
            return np.take_along_axis(found, ranks.argmax(axis=0)[None], axis=0)[0]


def in_numbers(formula: RationalFunction, values: Mapping[str, Any]) -> Any:
    """A formula for many cases, as floats.

    Parameters
    ----------
    formula : RationalFunction
        In letters.
    values : mapping of str to ndarray of shape (cases,)
        In SI units.
    """
    import numpy as np  # numbers by the thousand only

    size = len(next(iter(values.values())))
    above, below = (
        sum((_term(powers, times, values) for powers, times in part.terms()), np.zeros(size))
        for part in (formula.numerator, formula.denominator)
    )
    return above / below


def _term(powers: Mapping[str, int], times: int, values: Mapping[str, Any]) -> Any:
    found: Any = float(times)
    for name, power in powers.items():
        found = found * values[name] ** power
    return found


def just(*values: RationalFunction | None) -> tuple[Thought, ...]:
    """Formulas without a choice; what is None is left out."""
    zero = RationalFunction.constant(0)
    return tuple(Thought(((zero, value),)) for value in values if value is not None)


def best_of(*cases: tuple[RationalFunction, RationalFunction]) -> Thought:
    """The value of greatest rank."""
    return Thought(cases)
