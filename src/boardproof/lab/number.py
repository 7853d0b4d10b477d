"""One cell of a table as a number: what it says, or why it can't be told.

A comma may part thousands or mark decimals. Where a cell can be read in both ways neither is chosen: a point moved by
three places is a class's favourite surprise.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from boardproof.quantities import Unit, read_decimal, read_unit
from boardproof.record import record

__all__ = ["Amount", "Unsure", "mark_of", "read_amount"]

MINUS: Final = "\u2212\u2013"
TIME: Final = re.compile(
    r"\d{1,2}:\d{2}(:\d{2}([.,]\d+)?)?(\s*[ap]m)?|\d{4}-\d{1,2}-\d{1,2}.*|\d{1,2}[./]\d{1,2}[./]\d{2,4}.*",
    re.IGNORECASE,
)
THOUSANDS: Final = re.compile(r"[1-9][0-9]{0,2}([.,])[0-9]{3}")
BOTH: Final = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+\.[0-9]+|[1-9][0-9]{0,2}(?:\.[0-9]{3})+,[0-9]+")
NUMBER: Final = re.compile(
    rf"([-+{MINUS}]?)\s*([0-9.,\u00a0\u2009\u202f ]*[0-9]|[0-9]+\s*/\s*[0-9]+)(?:[eE]([-+]?[0-9]{{1,3}}))?\s*(.*)",
    re.DOTALL,
)
MOST_POWER: Final = 30


@record
class Amount:
    """A number as it stands in a cell, the decimal places typed (-1 for a fraction), and a unit if one is there."""

    value: Fraction
    places: int
    unit: Unit | None


@record
class Unsure:
    """Why a cell gives no number; `either` holds both readings of an unclear one."""

    why: str
    either: tuple[str, str] | None = None


def mark_of(cells: Iterable[str], default: str = ".") -> str:
    """The decimal mark of a table, from those cells that leave no doubt; both or neither give the default.

    Parameters
    ----------
    cells : iterable of str
        As typed.
    default : str
        The course's mark.

    Examples
    --------
    >>> mark_of(["0,1", "1,500"]), mark_of(["1,500"]), mark_of(["1.46", "1,500"])
    (',', '.', '.')
    """
    seen: set[str] = set()
    for cell in cells:
        found = re.match(rf"\s*[-+{MINUS}]?\s*([0-9]+)([.,])([0-9]+)(?![0-9.,])", cell)
        if found and not TIME.fullmatch(cell.strip()) and not THOUSANDS.fullmatch("".join(found.groups())):
            seen.add(found[2])
    return seen.pop() if len(seen) == 1 else default


def read_amount(cell: str, mark: str = ".") -> Amount | Unsure:
    """Read one cell.

    Parameters
    ----------
    cell : str
        As typed; a unit may follow.
    mark : str
        The table's decimal mark.

    Examples
    --------
    >>> read_amount("1.46").value, read_amount("1,500").either, read_amount("0,5", ",").value
    (Fraction(73, 50), ('1.5', '1500'), Fraction(1, 2))
    >>> read_amount("12:03").why, read_amount("2oo").why
    ('12:03 is a time', '2oo is not one number')
    """
    text = cell.strip()
    if not text:
        return Unsure("the cell is empty")
    if TIME.fullmatch(text):
        return Unsure(f"{text[:40]} is a time")
    found = NUMBER.fullmatch(text)
    unit = read_unit(found[4]) if found and found[4].strip() else None
    if found is None or (found[4].strip() and unit is None):
        return Unsure(f"{text[:40]} is not one number")
    value = _value(found[2].strip(), mark)
    if isinstance(value, Unsure):
        return value
    power = int(found[3] or 0)
    if abs(power) > MOST_POWER:
        return Unsure(f"{text[:40]} is no reading")
    number = value[0] * Fraction(10) ** power * (-1 if found[1] and found[1] in "-" + MINUS else 1)
    return Amount(number, value[1] - power if value[1] >= 0 else -1, unit)


def _value(digits: str, mark: str) -> tuple[Fraction, int] | Unsure:
    other = "," if mark == "." else "."
    if BOTH.fullmatch(digits):  # 1,234.5: both marks stand there, so both are known
        last = max(digits.rfind("."), digits.rfind(","))
        digits = re.sub("[.,]", "", digits[:last]) + mark + digits[last + 1 :]
    grouped = THOUSANDS.fullmatch(digits)
    if grouped and grouped[1] == other:
        a, b = digits.replace(other, mark).rstrip("0").rstrip(mark), digits.replace(other, "")
        return Unsure(f"{digits} can be read as {a} or as {b}", (a, b))
    if mark == "." and digits.count(other) == 1 and mark not in digits:
        return Unsure(f"{digits} has the other decimal mark: {digits.replace(other, mark)}?")
    read = read_decimal(digits, mark)
    return read if read is not None else Unsure(f"{digits[:40]} is not one number")
