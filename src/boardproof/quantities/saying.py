"""Values in spoken English, for the script and for text alternatives."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from boardproof.quantities.showing import NARROW_SPACE, Style, digits_of, fitting_unit
from boardproof.quantities.units import BASES, PREFIXES, Dimension, Unit, si_unit

__all__ = ["speech"]

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

    Parameters
    ----------
    value : Fraction
        In SI units.
    dimension : Dimension
        What it is a quantity of.
    style : Style, optional
        Figures and rounding.

    Examples
    --------
    >>> from boardproof.quantities.units import AMPERE, VOLT
    >>> speech(Fraction(1, 2), AMPERE), speech(Fraction(3, 2), VOLT), speech(Fraction(1, 20), AMPERE)
    ('half an ampere', 'one point five volts', 'fifty milliamperes')
    """
    style = style or Style()
    base = si_unit(dimension)
    unit = fitting_unit(value, base, style.figures, style.half) if base else None
    size = abs(value / unit.scale) if unit else abs(value)
    spoken = _unit_word(unit)
    part = PARTS.get((size.numerator, size.denominator))
    minus = "minus " if value < 0 else ""
    if part and spoken:
        article = "an" if spoken[0] in "aeiou" else "a"
        return f"{minus}{part} {article} {spoken}"
    digits = digits_of(size, Style(style.figures, style.half), style.figures).replace(NARROW_SPACE, "")
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
