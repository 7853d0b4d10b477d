"""Numbers as students write them: comma and point, groups of three, powers of ten, mixed and recurring ones."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final, NamedTuple

from boardproof.algebra.answered_text import DECIMAL, RECURS, Unclear
from boardproof.algebra.answered_words import EXACT

__all__ = ["NUMBER", "Written", "check_size", "read_literal"]


class Written(NamedTuple):
    """One reading of one number.

    Parameters
    ----------
    value : Fraction
        What it is, exactly.
    least, most : int
        Significant figures; a whole number that ends in noughts has a range. Nought if they are not counted.
    """

    value: Fraction
    least: int = 0
    most: int = 0


MARK: Final = f"[.,{DECIMAL}]"
DIGITS: Final = rf"\d{{1,3}}(?:[ ']\d{{3}})+(?!\d)(?: ?{MARK}(?! ?\d{{1,3}}(?:[ ']\d{{3}})) ?\d+)?"
ENDING: Final = rf"(?: ?[.{DECIMAL}](?![\d.])| ?,(?! ?\d|,))"  # a mark with nothing behind it
MARKED: Final = rf"\d*(?: ?[.{DECIMAL}] ?\d+| ?,\d+)+{ENDING}?|\d+{ENDING}?"
POWER: Final = (
    r"(?:(?P<e>[eE][+-]?\d+)"
    r"| ?[*xX] ?10 ?\^ ?(?P<ten>[+-]?\d+|\( ?[+-]? ?\d+ ?\))(?![\d.,]))"
)
NUMBER: Final = re.compile(
    rf"(?P<exact>{EXACT[0]}[\d/]+{EXACT[1]})"
    rf"|(?P<hex>0[xX](?=[0-9A-Fa-f]))"
    rf"|(?P<mixed>(?<![\d.,])\d{{1,30}} \d{{1,30}} ?/ ?\d{{1,30}}(?![\d.,]))"
    rf"|(?P<plain>{DIGITS}|{MARKED})(?P<recurring> ?\.\.\.|{RECURS})?(?P<power>{POWER})?"
)
MOST: Final = 10**100
LONGEST_POWER: Final = 4


def check_size(value: Fraction | float) -> None:
    """Stop if a value that is not nought lies outside 10^-100 to 10^100.

    Parameters
    ----------
    value : Fraction or float
        A number or a result on the way.

    Raises
    ------
    Unclear
        If so.
    """
    if isinstance(value, float):
        if value and not 1e-100 <= abs(value) <= 1e100:
            raise Unclear("a number on the way is too large or too small")
        return
    top, bottom = value.numerator.bit_length(), value.denominator.bit_length()
    if -330 < top - bottom < 330 or not value:
        return
    if abs(value) > MOST or abs(value) * MOST < 1:
        raise Unclear("a number on the way is too large or too small")


def read_literal(match: re.Match[str]) -> tuple[Written, ...]:
    """The readings of one number: two where a mark may be the decimal mark or may part thousands.

    Parameters
    ----------
    match : re.Match
        Of `NUMBER`.

    Raises
    ------
    Unclear
        If it is no number.

    Examples
    --------
    >>> [str(each.value) for each in read_literal(NUMBER.match("12,000"))]
    ['12', '12000']
    >>> read_literal(NUMBER.match("1 1/2"))[0].value
    Fraction(3, 2)
    """
    if match["exact"]:
        return (Written(Fraction(match["exact"][1:-1])),)
    if match["hex"]:
        raise Unclear("it is no decimal number")
    if match["mixed"]:
        whole, rest = match["mixed"].split(" ", 1)
        top, bottom = (int(each) for each in rest.split("/"))
        if not 0 < top < bottom:
            raise Unclear("two numbers stand side by side")
        return (Written(int(whole) + Fraction(top, bottom)),)
    found = _plain(match["plain"], recurring=bool(match["recurring"]))
    if match["power"]:
        digits = (match["e"] or "")[1:] or match["ten"].strip("( )").replace(" ", "")
        if len(digits.lstrip("+-")) > LONGEST_POWER or abs(int(digits)) > 700:
            raise Unclear("a power is too large")
        scale = Fraction(10) ** int(digits)
        found = tuple(Written(each.value * scale, each.least, each.most) for each in found)
    for each in found:
        check_size(each.value)
    return found


def _plain(text: str, *, recurring: bool) -> tuple[Written, ...]:
    """Digits with marks and groups."""
    grouped = "'" in text or re.search(r"\d \d", text) is not None
    text = text.replace("'", "").replace(" ", "")
    marks = [each for each in text if not each.isdigit()]
    if not marks:
        if recurring and not grouped:
            return _recurring(text, "")
        return (_counted(text, None),)
    last = marks[-1]
    *heads, tail = re.split(MARK, text)
    head = "".join(heads)
    if len(marks) == 1:
        if recurring:
            return _recurring(head, tail)
        decimal = _counted(head, tail)
        doubtful = (
            last != DECIMAL and not grouped and len(tail) == 3 and 1 <= len(head) <= 3 and head[0] != "0"
        )
        return (decimal, _counted(head + tail, None)) if doubtful else (decimal,)
    threes = all(len(each) == 3 for each in heads[1:]) and 1 <= len(heads[0]) <= 3 and not grouped
    if recurring or not threes:
        raise Unclear("commas and points in it fit no number")
    if len(set(marks)) == 1 and last != DECIMAL and len(tail) == 3:
        return (_counted(head + tail, None),)
    if len(set(marks[:-1])) == 1 and marks[-2] != last:
        return (_counted(head, tail),)
    raise Unclear("commas and points in it fit no number")


def _counted(head: str, tail: str | None) -> Written:
    digits = (head + (tail or "")).lstrip("0")
    value = Fraction(int(head + (tail or "")), 10 ** len(tail or ""))
    if not digits:
        return Written(value)
    ends_in_noughts = tail is None
    return Written(value, len(digits.rstrip("0")) if ends_in_noughts else len(digits), len(digits))


def _recurring(head: str, tail: str) -> tuple[Written, ...]:
    """The last digit of a decimal, for ever."""
    if not tail:
        raise Unclear("only a decimal can recur")
    before = Fraction(int(head + tail[:-1] or "0"), 10 ** (len(tail) - 1))
    return (Written(before + Fraction(int(tail[-1]), 9 * 10 ** (len(tail) - 1))),)
