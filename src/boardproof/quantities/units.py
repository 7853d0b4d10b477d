"""Units and dimensions: every spelling that is read, and the words for messages."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

__all__ = [
    "AMPERE",
    "BASES",
    "COULOMB",
    "FARAD",
    "JOULE",
    "OHM",
    "PREFIXES",
    "PURE",
    "SECOND",
    "VOLT",
    "WATT",
    "Dimension",
    "Unit",
    "compound",
    "dimension_words",
    "read_unit",
    "si_unit",
    "unit_spellings",
]


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

    def root(self) -> Dimension | None:
        """Dimension of a square root; None if a power is odd.

        Examples
        --------
        >>> (VOLT**2).root() == VOLT, VOLT.root()
        (True, None)
        """
        powers = (self.volt, self.ampere, self.second)
        return None if any(power % 2 for power in powers) else Dimension(*(power // 2 for power in powers))


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

    def joined(self, other: Unit, *, over: bool) -> Unit:
        """The unit times another, or over it: volts per ampere.

        Examples
        --------
        >>> Unit("V", VOLT).joined(Unit("A", AMPERE), over=True).symbol
        'V/A'
        """
        symbol = f"{self.symbol}/{other.symbol}" if over else f"{self.symbol}·{other.symbol}"
        dimension = self.dimension / other.dimension if over else self.dimension * other.dimension
        return Unit(symbol, dimension, self.scale / other.scale if over else self.scale * other.scale)

    def to_power(self, power: int) -> Unit:
        """The unit with a whole power, from 1: a volt squared.

        Examples
        --------
        >>> Unit("mA", AMPERE, Fraction(1, 1000)).to_power(2).symbol
        'mA²'
        """
        raised = str(power).translate(RAISED) if power != 1 else ""
        return Unit(self.symbol + raised, self.dimension**power, self.scale**power)


RAISED: Final = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
PURE: Final = Dimension()
VOLT: Final = Dimension(volt=1)
AMPERE: Final = Dimension(ampere=1)
SECOND: Final = Dimension(second=1)
OHM: Final = VOLT / AMPERE
WATT: Final = VOLT * AMPERE
JOULE: Final = WATT * SECOND
COULOMB: Final = AMPERE * SECOND
FARAD: Final = COULOMB / VOLT

# Prefix: symbols that are read (the first is shown), word, power of ten.
PREFIXES: Final = (
    (("p",), "pico", -12),
    (("n",), "nano", -9),
    (("µ", "μ", "u"), "micro", -6),
    (("m",), "milli", -3),
    (("",), "", 0),
    (("k",), "kilo", 3),
    (("M",), "mega", 6),
    (("G",), "giga", 9),
)
# Unit: shown, other symbols, words (the first is said), dimension, scale, said of it in messages.
BASES: Final = (
    ("V", (), ("volt",), VOLT, 1, "a p.d."),
    ("A", (), ("ampere", "amp"), AMPERE, 1, "a current"),
    ("Ω", ("\u2126", "ohm", "ohms"), ("ohm",), OHM, 1, "a resistance"),
    ("W", (), ("watt",), WATT, 1, "a power"),
    ("J", (), ("joule",), JOULE, 1, "an energy"),
    ("C", (), ("coulomb",), COULOMB, 1, "a charge"),
    ("F", (), ("farad",), FARAD, 1, "a capacitance"),
    ("s", (), ("second",), SECOND, 1, "a time"),
    ("A h", ("Ah", "A·h"), ("ampere hour", "amp hour", "ampere-hour", "amp-hour"), COULOMB, 3600, ""),
    ("W h", ("Wh", "W·h"), ("watt hour", "watt-hour"), JOULE, 3600, ""),
)
WHOLE_UNITS: Final = (("min", "minute", 60), ("h", "hour", 3600))
RARE: Final = {
    OHM**-1: "a conductance (1/Ω)",
    AMPERE**-1: "one over a current (1/A)",
    VOLT**-1: "one over a p.d. (1/V)",
    VOLT**2: "a p.d. squared (V²)",
    AMPERE**2: "a current squared (A²)",
    OHM**2: "a resistance squared (Ω²)",
    PURE: "a plain number",
}


def _spellings() -> dict[str, Unit]:
    table: dict[str, Unit] = {}
    for symbol, others, words, dimension, scale, _ in BASES:
        for prefixes, spoken, power in PREFIXES:
            unit = Unit(prefixes[0] + symbol, dimension, Fraction(10) ** power * scale)
            for prefix in prefixes:
                for each in (symbol, *others):
                    table[prefix + each] = unit
            for word in words:
                said = {
                    spoken + word,
                    spoken.removesuffix("o").removesuffix("a") + word if word == "ohm" else spoken + word,
                }
                for each in said:
                    table[each] = table[each + "s"] = unit
    for symbol, word, seconds in WHOLE_UNITS:
        table[symbol] = table[word] = table[word + "s"] = Unit(symbol, SECOND, Fraction(seconds))
    return table


UNITS: Final = _spellings()


def read_unit(text: str) -> Unit | None:
    """The unit that a text spells, by symbol, word or plural; None if it spells none.

    Parameters
    ----------
    text : str
        Symbol, word or plural, with or without a prefix.

    Examples
    --------
    >>> read_unit("mohm").symbol, read_unit("Mohm").symbol, read_unit("milliamperes").symbol
    ('mΩ', 'MΩ', 'mA')
    >>> read_unit("ghosts") is None
    True
    """
    wanted = " ".join(text.split())
    return UNITS.get(wanted) or (UNITS.get(wanted.lower()) if len(wanted) > 3 else None)


def unit_spellings() -> frozenset[str]:
    """Every spelling that `read_unit` knows as typed, for readers that look for the longest.

    Examples
    --------
    >>> {"mA", "ohm", "Ω"} <= unit_spellings()
    True
    """
    return frozenset(UNITS)


def si_unit(dimension: Dimension) -> Unit | None:
    """The unit without prefix of a dimension that has a name of its own; None for any other.

    Parameters
    ----------
    dimension : Dimension
        What a unit is wanted for.

    Examples
    --------
    >>> si_unit(OHM).symbol, si_unit(VOLT**3)
    ('Ω', None)
    """
    return next((Unit(row[0], row[3]) for row in BASES if row[3] == dimension and row[4] == 1), None)


def dimension_words(dimension: Dimension) -> str:
    """A dimension in words for messages.

    Parameters
    ----------
    dimension : Dimension
        Any dimension, named or not.

    Examples
    --------
    >>> dimension_words(VOLT), dimension_words(VOLT * OHM), dimension_words(PURE)
    ('a p.d. (V)', 'something in V Ω', 'a plain number')
    """
    if dimension in RARE:
        return RARE[dimension]
    for symbol, _, _, each, scale, words in BASES:
        if each == dimension and scale == 1:
            return f"{words} ({symbol})"
    return f"something in {compound(dimension)}"


def compound(dimension: Dimension) -> str:
    """A dimension by at most two named units if that can be done, else by volt, ampere and second.

    Parameters
    ----------
    dimension : Dimension
        One without a unit of its own.

    Examples
    --------
    >>> compound(VOLT / SECOND)
    'V/s'
    """
    named = [(row[0], row[3]) for row in BASES if row[4] == 1]
    for first, left in named:
        for second, right in named:
            if left * right == dimension:
                return f"{first}²" if first == second else f"{first} {second}"
            if left / right == dimension:
                return f"{first}/{second}"
    powers = (("V", dimension.volt), ("A", dimension.ampere), ("s", dimension.second))
    return " ".join(symbol + ("" if power == 1 else f"^{power}") for symbol, power in powers if power)
