"""Exact numbers and values as people type them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.quantities.units import PURE, Dimension, Unit, read_unit

__all__ = ["Quantity", "read_decimal", "read_quantity"]

MINUS: Final = "\u2212"
DIGITS_AT_MOST: Final = 15


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
    if text.isascii() and text.isdigit() and len(text) <= DIGITS_AT_MOST:  # most numbers are small whole ones
        return Fraction(int(text)), 0
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

    Parameters
    ----------
    text : str
        A number (decimal or fraction, perhaps with a sign) and a unit.
    decimal : str
        The course's decimal mark.

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
