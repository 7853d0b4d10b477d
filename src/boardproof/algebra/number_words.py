"""Numbers with a unit in a sentence, in digits or in English words.

It finds "0.5 A", "half an ampere", "a quarter of a volt", "one and a half volts", "ten ohms" and gives the
exact value with the place of its last digit. What quantity such a number belongs to is decided by whoever
knows the circuit.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.quantities import Unit, read_decimal, read_unit, unit_spellings
from boardproof.record import record

__all__ = ["SaidNumber", "said_numbers"]

ONES: Final = {
    "nought": 0, "zero": 0, "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14,
    "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS: Final = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
PARTS: Final = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fifth": 5, "fifths": 5,
    "sixth": 6, "sixths": 6, "eighth": 8, "eighths": 8, "tenth": 10, "tenths": 10, "twentieth": 20,
    "twentieths": 20,
}  # fmt: skip
WHOLE: Final = "|".join(sorted([*ONES, *TENS, "hundred", "thousand"], key=len, reverse=True))
WORD_UNITS: Final = "|".join(
    sorted(
        (re.escape(each) for each in unit_spellings() if len(each) > 2 and each.islower()),
        key=len,
        reverse=True,
    )
)
ANY_UNIT: Final = "|".join(sorted((re.escape(each) for each in unit_spellings()), key=len, reverse=True))
DIGITS: Final = re.compile(
    rf"(?<![\w.,/^])(?P<sign>[-−]\s?)?"
    rf"(?P<number>\d{{1,15}}(?:[ \u202f]\d{{3}})*(?:[.,]\d{{1,15}})?(?:/\d{{1,15}})?)"
    rf"(?P<gap>[ \u00a0\u202f-]?)(?P<unit>{ANY_UNIT})(?![\w/^])"
)
WORDS: Final = re.compile(
    rf"\b(?P<whole>(?:{WHOLE})(?:[ -](?:and[ -])?(?:{WHOLE})){{0,9}}?)?"
    rf"(?:[ -]point(?P<tail>(?:[ -](?:{WHOLE}))+))?"
    rf"(?P<half>(?:[ -]and[ -]|[ -])?(?:(?:an?|one)[ -])?\b(?P<part>{'|'.join(PARTS)}))?"
    rf"(?:[ -]of)?(?:[ -]an?)?(?P<entire>[ -]whole)?[ -](?P<unit>{WORD_UNITS})\b",
    re.IGNORECASE,
)


@record
class SaidNumber:
    """A number with its unit as it stands in a sentence.

    Parameters
    ----------
    start, end : int
        Where, within the text that was searched.
    value : Fraction
        In SI units.
    unit : Unit
        As said.
    place : Fraction
        SI value of one unit of the last digit; 0 for words, which are exact.
    """

    start: int
    end: int
    value: Fraction
    unit: Unit
    place: Fraction


def said_numbers(text: str, decimal: str = ".") -> tuple[SaidNumber, ...]:
    """Every number with an electrical unit in a sentence, in order.

    Parameters
    ----------
    text : str
        One paragraph; only its first 20,000 characters are looked at.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> [str(each.value) for each in said_numbers("It takes half an ampere at 1.25 V, through ten ohms.")]
    ['1/2', '5/4', '10']
    >>> said_numbers("a quarter of a volt")[0].value, said_numbers("one and a half volts")[0].value
    (Fraction(1, 4), Fraction(3, 2))
    """
    text = text[:20_000]
    found = [each for match in DIGITS.finditer(text) if (each := _digits(match, decimal))]
    taken = [(each.start, each.end) for each in found]
    for match in WORDS.finditer(text):
        free = all(match.end() <= start or end <= match.start() for start, end in taken)
        if free and (said := _words(match)):
            found.append(said)
    return tuple(sorted(found, key=lambda each: each.start))


def _digits(match: re.Match[str], decimal: str) -> SaidNumber | None:
    number = read_decimal(match["number"], decimal)
    unit = read_unit(match["unit"])
    if number is None or unit is None:
        return None
    value, places = number
    sign = -1 if match["sign"] else 1
    place = Fraction(0) if places < 0 else unit.scale / Fraction(10) ** places
    return SaidNumber(match.start(), match.end(), sign * value * unit.scale, unit, place)


def _words(match: re.Match[str]) -> SaidNumber | None:
    unit = read_unit(match["unit"].lower())
    whole, tail, part = match["whole"], match["tail"], match["part"]
    if unit is None or not (whole or part):
        return None
    value = Fraction(_whole(whole) if whole else 0)
    if tail:
        digits = "".join(str(_whole(word)) for word in re.split("[ -]", tail.strip(" -")))
        value += Fraction(int(digits), 10 ** len(digits))
    if part:
        share = Fraction(1, PARTS[part.lower()])
        joined = bool(whole) and "and" in (match["half"] or "").lower()
        value = value + share if joined else (value or 1) * share
    elif whole and whole.lower() in {"a", "an"} and not match["entire"]:
        return None  # "a volt" names the unit; it states no value
    start = match.end() - len(match[0].lstrip(" -"))
    return SaidNumber(start, match.end(), value * unit.scale, unit, Fraction(0))


def _whole(words: str) -> int:
    total = group = 0
    said = re.split("[ -]", words.lower())
    if said[0] in {"a", "an"} and len(said) > 1 and said[1] not in {"hundred", "thousand"}:
        said = said[1:]  # "a one-volt cell"
    for word in said:
        if word in ONES:
            group += ONES[word]
        elif word in TENS:
            group += TENS[word]
        elif word == "hundred":
            group = (group or 1) * 100
        elif word == "thousand":
            total, group = total + (group or 1) * 1000, 0
    return total + group
