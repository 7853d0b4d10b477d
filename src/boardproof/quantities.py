"""Units, dimensions and exact numbers: reading them as typed, showing them as people write them.

Values are exact fractions in SI units until they are shown. Rounding follows ISO 80000-1, annex B (half up by
default, half to even on request). The words for numbers are English.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

__all__ = [
    "AMPERE",
    "COULOMB",
    "FARAD",
    "JOULE",
    "OHM",
    "PURE",
    "SECOND",
    "VOLT",
    "WATT",
    "Dimension",
    "Quantity",
    "Style",
    "Unit",
    "agrees",
    "dimension_words",
    "read_decimal",
    "read_quantity",
    "read_unit",
    "round_figures",
    "round_to_place",
    "shown",
    "si_unit",
    "speech",
    "unit_spellings",
]

Half = Literal["up", "even"]
NARROW_SPACE: Final = "\u202f"
MINUS: Final = "\u2212"
DIGITS_AT_MOST: Final = 15


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
    """Every spelling that `read_unit` knows as typed, for readers that look for the longest."""
    return frozenset(UNITS)


def si_unit(dimension: Dimension) -> Unit | None:
    """The unit without prefix of a dimension that has a name of its own; None for any other.

    Examples
    --------
    >>> si_unit(OHM).symbol, si_unit(VOLT**3)
    ('Ω', None)
    """
    return next((Unit(row[0], row[3]) for row in BASES if row[3] == dimension and row[4] == 1), None)


def dimension_words(dimension: Dimension) -> str:
    """A dimension in words for messages.

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
    return f"something in {_compound(dimension)}"


def _compound(dimension: Dimension) -> str:
    """A dimension by at most two named units if that can be done, else by volt, ampere and second."""
    named = [(row[0], row[3]) for row in BASES if row[4] == 1]
    for first, left in named:
        for second, right in named:
            if left * right == dimension:
                return f"{first}²" if first == second else f"{first} {second}"
            if left / right == dimension:
                return f"{first}/{second}"
    powers = (("V", dimension.volt), ("A", dimension.ampere), ("s", dimension.second))
    return " ".join(symbol + ("" if power == 1 else f"^{power}") for symbol, power in powers if power)


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact value in SI units with its dimension.

    Parameters
    ----------
    value : Fraction
        In SI units.
    dimension : Dimension
        What it is a quantity of; `PURE` for a plain number.
    """

    value: Fraction
    dimension: Dimension


GROUPED = re.compile(r"[0-9]{1,3}(?:[ \u00a0\u2009\u202f][0-9]{3})+(?![0-9])|[0-9]+")


def read_decimal(text: str, decimal: str = ".") -> tuple[Fraction, int] | None:
    """An unsigned number as typed, exact, with the number of its decimal places; None if it is none.

    Parameters
    ----------
    text : str
        ``1.5``, ``10 000``, ``.5``; a fraction ``1/3`` has places -1 (exact by nature).
    decimal : str
        The course's decimal mark. A point is read in every course, unless it may part thousands.

    Examples
    --------
    >>> read_decimal("10 000.50"), read_decimal("1/3"), read_decimal("1,5"), read_decimal("1,5", ",")
    ((Fraction(20001, 2), 2), (Fraction(1, 3), -1), None, (Fraction(3, 2), 1))
    """
    if sum(char.isdigit() for char in text) > DIGITS_AT_MOST:
        return None
    over, slash, under = text.partition("/")
    if slash:
        left, right = re.fullmatch(r"[0-9]+\s*", over), re.fullmatch(r"\s*[0-9]+", under)
        return (Fraction(int(over), int(under)), -1) if left and right and int(under) else None
    marks = "[.]" if decimal == "." else "[.,]"
    found = re.fullmatch(rf"({GROUPED.pattern})?(?:({marks})([0-9]+))?", text)
    if not found or not text or (decimal == "," and found[2] == "." and len(found[3]) == 3):
        return None
    whole, tail = re.sub(r"[^0-9]", "", found[1] or ""), found[3] or ""
    return Fraction(int(whole + tail or "0"), 10 ** len(tail)), len(tail)


def read_quantity(text: str, decimal: str = ".") -> Quantity | None:
    """A value with its unit as it stands in a circuit; a bare number is a plain number.

    Examples
    --------
    >>> read_quantity("0.2 ohm").value, read_quantity("10 000 ohm").value, read_quantity("1/3 A").value
    (Fraction(1, 5), Fraction(10000, 1), Fraction(1, 3))
    >>> read_quantity("6 apples") is None
    True
    """
    found = re.fullmatch(rf"\s*([-+{MINUS}]?)\s*([0-9., \u00a0\u2009\u202f/]*[0-9])\s*(\D*)", text[:100])
    number = found and read_decimal(found[2].strip(), decimal)
    if not found or not number:
        return None
    unit = read_unit(found[3]) if found[3].strip() else Unit("", PURE)
    sign = -1 if found[1] in {"-", MINUS} else 1
    return Quantity(sign * number[0] * unit.scale, unit.dimension) if unit else None


def round_to_place(value: Fraction, place: Fraction, half: Half = "up") -> Fraction:
    """`value` rounded to a multiple of `place` (ISO 80000-1, annex B); "up" means away from nought.

    Examples
    --------
    >>> tenth = Fraction(1, 10)
    >>> round_to_place(Fraction(1, 4), tenth), round_to_place(Fraction(1, 4), tenth, "even")
    (Fraction(3, 10), Fraction(1, 5))
    """
    units, rest = divmod(abs(value) / place, 1)
    doubled = rest * 2
    up = doubled > 1 or (doubled == 1 and (half == "up" or units % 2 == 1))
    return (units + up) * place * (-1 if value < 0 else 1)


def _place(value: Fraction, figures: int) -> Fraction:
    """Place of the last of `figures` significant figures of `value`."""
    size = abs(value)
    power = len(str(size.numerator)) - len(str(size.denominator))
    while Fraction(10) ** power > size:
        power -= 1
    while Fraction(10) ** (power + 1) <= size:
        power += 1
    return Fraction(10) ** (power - figures + 1)


def round_figures(value: Fraction, figures: int, half: Half = "up") -> tuple[Fraction, Fraction]:
    """`value` rounded to significant figures, with the place of the last of them.

    Examples
    --------
    >>> round_figures(Fraction(9996, 1000), 3)
    (Fraction(10, 1), Fraction(1, 10))
    """
    if not value:
        return value, Fraction(1)
    rounded = round_to_place(value, _place(value, figures), half)
    return rounded, _place(rounded, figures)


def agrees(exact: Fraction, typed: Fraction, place: Fraction, half: Half = "up") -> bool:
    """Whether a typed number is the exact value, or the exact value correctly rounded to the typed place.

    Examples
    --------
    >>> agrees(Fraction(16, 3), Fraction(533, 100), Fraction(1, 100))
    True
    >>> agrees(Fraction(16, 3), Fraction(534, 100), Fraction(1, 100))
    False
    """
    return typed == exact or (place > 0 and round_to_place(exact, place, half) == typed)


@dataclass(frozen=True, slots=True)
class Style:
    """How values are shown.

    Parameters
    ----------
    figures : int
        Significant figures of a rounded value.
    half : {"up", "even"}
        What becomes of a five at the end.
    decimal : {".", ","}
        Decimal mark.
    ohm : str
        ``Ω`` or ``ohm``.
    """

    figures: int = 3
    half: Half = "up"
    decimal: str = "."
    ohm: str = "Ω"


def _decimals(value: Fraction) -> int | None:
    """Decimal places that `value` needs to be exact; None if it never ends."""
    twos = fives = 0
    rest = value.denominator
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None


def _typed(value: Fraction, decimals: int, style: Style) -> str:
    """Fixed-point digits without sign, groups of three from five digits up."""
    scaled = str(int(abs(value) * 10**decimals)).rjust(decimals + 1, "0")
    whole, tail = (scaled[:-decimals], scaled[-decimals:]) if decimals else (scaled, "")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", NARROW_SPACE)
    return whole + (style.decimal + tail if tail else "")


def _digits(value: Fraction, style: Style, figures: int) -> str:
    """Shown without unit: exact if short, as a fraction if its denominator is small, else rounded."""
    exact = _decimals(value)
    if value.denominator == 1 and abs(value) < 10**figures:
        return _typed(value, 0, style)
    if exact is not None and (value / _place(value, figures)).denominator == 1:
        return _typed(value, exact, style)
    if 1 < value.denominator <= 20 and exact is None and abs(value.numerator) < 1000:
        return f"{abs(value.numerator)}/{value.denominator}"
    rounded, place = round_figures(value, figures, style.half)
    return _typed(rounded, _decimals(place) or 0, style)


def _fitting(value: Fraction, base: Unit, figures: int, half: Half) -> Unit:
    """The prefix that leaves a number from 1 up to 1000; none between a tenth and a thousand."""
    size = abs(round_figures(value, figures, half)[0])
    small = value.denominator <= 20 and _decimals(value) is None
    if not size or Fraction(1, 10) <= size < 1000 or (small and size < 1):
        return base
    steps = [(names[0], Fraction(10) ** power) for names, _, power in PREFIXES]
    name, scale = next((step for step in reversed(steps) if size >= step[1]), steps[0])
    return Unit(name + base.symbol, base.dimension, scale)


def shown(
    value: Fraction,
    dimension: Dimension,
    style: Style | None = None,
    *,
    unit: Unit | None = None,
    figures: int | None = None,
) -> str:
    """A value with its unit, as people write it.

    Parameters
    ----------
    value : Fraction
        In SI units.
    dimension : Dimension
        What it is a quantity of.
    style : Style, optional
        Figures, rounding, decimal mark and the sign for ohm.
    unit : Unit, optional
        Show it in this unit; the best prefix is chosen if none is given.
    figures : int, optional
        Round to these figures, whatever the style says.

    Returns
    -------
    str
        Exact if that needs no more than `figures` figures, a fraction if its denominator is at most 20 and it
        has no end as a decimal, else rounded with its zeros kept.

    Examples
    --------
    >>> [shown(Fraction(v), OHM).replace(NARROW_SPACE, " ") for v in ("1500", "16/3", "1501", "1/20", "-2")]
    ['1.5 kΩ', '16/3 Ω', '1.50 kΩ', '50 mΩ', '−2 Ω']
    """
    style = style or Style()
    sign = MINUS if value < 0 else ""
    wanted = figures or style.figures
    base = unit or si_unit(dimension)
    if dimension == PURE and unit is None:
        whole = value.denominator == 1 and abs(value) < 10**9
        return sign + (
            _typed(value, 0, style) if whole and figures is None else _show(value, style, wanted, figures)
        )
    if base is None:
        return f"{sign}{_show(value, style, wanted, figures)}{NARROW_SPACE}{_compound(dimension)}"
    best = unit or _fitting(value, base, wanted, style.half)
    symbol = best.symbol.replace("Ω", style.ohm)
    return f"{sign}{_show(value / best.scale, style, wanted, figures)}{NARROW_SPACE}{symbol}"


def _show(value: Fraction, style: Style, wanted: int, forced: int | None) -> str:
    if forced is None or not value:
        return _digits(value, style, wanted)
    rounded, place = round_figures(value, forced, style.half)
    return _typed(rounded, _decimals(place) or 0, style)


ONES: Final = [
    "nought",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
TENS: Final = ["-", "-", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
PARTS: Final = {
    (1, 2): "half",
    (1, 4): "a quarter of",
    (3, 4): "three quarters of",
    (1, 3): "a third of",
    (2, 3): "two thirds of",
}


def _whole_words(number: int) -> str:
    if number < 20:
        return ONES[number]
    if number < 100:
        return TENS[number // 10] + (f"-{ONES[number % 10]}" if number % 10 else "")
    for size, word in ((10**9, "billion"), (10**6, "million"), (1000, "thousand"), (100, "hundred")):
        if number >= size:
            rest = number % size
            joint = " and " if rest < 100 else " "
            return f"{_whole_words(number // size)} {word}" + (joint + _whole_words(rest) if rest else "")
    raise AssertionError(number)  # every number from 100 up is one of the sizes above


def speech(value: Fraction, dimension: Dimension, style: Style | None = None) -> str:
    """A value in spoken English, for the script and for text alternatives.

    Examples
    --------
    >>> speech(Fraction(1, 2), AMPERE), speech(Fraction(3, 2), VOLT), speech(Fraction(1, 20), AMPERE)
    ('half an ampere', 'one point five volts', 'fifty milliamperes')
    """
    style = style or Style()
    base = si_unit(dimension)
    unit = _fitting(value, base, style.figures, style.half) if base else None
    size = abs(value / unit.scale) if unit else abs(value)
    spoken = _unit_word(unit)
    part = PARTS.get((size.numerator, size.denominator))
    minus = "minus " if value < 0 else ""
    if part and spoken:
        article = "an" if spoken[0] in "aeiou" else "a"
        return f"{minus}{part} {article} {spoken}"
    digits = _digits(size, Style(style.figures, style.half), style.figures).replace(NARROW_SPACE, "")
    words = _digits_words(digits)
    return minus + words + (f" {spoken}{'' if size == 1 else 's'}" if spoken else "")


def _digits_words(digits: str) -> str:
    over, slash, under = digits.partition("/")
    if slash:
        return f"{_whole_words(int(over))} over {_whole_words(int(under))}"
    whole, point, tail = digits.partition(".")
    return _whole_words(int(whole)) + (
        " point " + " ".join(ONES[int(each)] for each in tail) if point else ""
    )


def _unit_word(unit: Unit | None) -> str:
    if unit is None:
        return ""
    base = next(row for row in BASES if row[3] == unit.dimension and row[4] == 1)
    prefix = next(word for _, word, power in PREFIXES if Fraction(10) ** power == unit.scale)
    word = prefix + base[2][0]
    return {"kiloohm": "kilohm", "megaohm": "megohm"}.get(word, word)
