"""Units, dimensions and exact numbers: reading them as typed, showing them as people write them.

Values are exact fractions in SI units until they are shown. Rounding follows ISO 80000-1, annex B (half up by
default, half to even on request).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["Dimension", "Unit"]


@dataclass(frozen=True, slots=True)
class Dimension:
    """Whole powers of volt, ampere and second: enough for every quantity of a direct-current circuit.

    An ohm is V/A, a watt V A, a coulomb A s, a farad A s/V, a joule V A s.

    Examples
    --------
    >>> Dimension(volt=1) / Dimension(ampere=1)
    Dimension(volt=1, ampere=-1, second=0)
    """

    volt: int = 0
    ampere: int = 0
    second: int = 0

    def __mul__(self, other: Dimension) -> Dimension:
        """Dimension of a product."""
        return Dimension(self.volt + other.volt, self.ampere + other.ampere, self.second + other.second)

    def __truediv__(self, other: Dimension) -> Dimension:
        """Dimension of a quotient."""
        return self * other**-1

    def __pow__(self, exponent: int) -> Dimension:
        """Dimension of a power."""
        return Dimension(self.volt * exponent, self.ampere * exponent, self.second * exponent)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit with its prefix.

    Parameters
    ----------
    symbol : str
        As shown: ``V``, ``mA``, ``kΩ``, ``A h``.
    dimension : Dimension
        Its dimension.
    scale : Fraction
        Times this, a number in the unit is in SI units.
    """

    symbol: str
    dimension: Dimension
    scale: Fraction = Fraction(1)
