"""Numbers in running speech: digits, words, "nought point five", "two and a half", "three quarters", "half an".

Only what a speaker may put side by side is joined: after *point* single digits only, tens with a following unit digit,
*and* with a fraction behind a whole number. Two numbers side by side stay two.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.algebra.vocabulary import words_of

__all__ = ["Heard", "hear_number", "hear_unit"]

DIGITS: Final = {
    "nought": 0, "naught": 0, "zero": 0, "nil": 0, "oh": 0, "o": 0, "one": 1, "two": 2, "three": 3, "four": 4,
    "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
}  # fmt: skip
TEENS: Final = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
TENS: Final = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
PARTS: Final = {
    "half": 2, "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
    "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12, "fifteenth": 15, "sixteenth": 16, "twentieth": 20,
    "twenty-fifth": 25, "fortieth": 40, "fiftieth": 50, "hundredth": 100, "thousandth": 1000,
}  # fmt: skip
MANY_PARTS: Final = {f"{word}s": size for word, size in PARTS.items() if word != "half"} | {"halves": 2}
# What a counting word stands before: "a third cell" is the cell after the second.
COUNTED: Final = words_of(
    "cell cells one battery resistor row branch line time way thing lesson case part step load column"
)
TYPED: Final = re.compile(r"(\d{1,3}(?:,\d{3})+|\d{1,15})?(?:\.(\d{1,15}))?")
TYPED_FRACTION: Final = re.compile(r"(\d{1,9})/(\d{1,9})")


@dataclass(frozen=True, slots=True)
class Heard:
    """A number in speech.

    Parameters
    ----------
    value : Fraction
        What it is.
    place : Fraction
        Worth of one unit of its last digit; 0 for a fraction, which is exact.
    end : int
        The word behind it.
    """

    value: Fraction
    place: Fraction
    end: int


def hear_number(words: Sequence[str], start: int) -> Heard | None:
    """The number that begins at a word, in small letters.

    Examples
    --------
    >>> def hear(text):
    ...     return str(hear_number(text.split(), 0).value)
    >>> [hear(each) for each in ("nought point five four five", "two and a half", "a hundred and five")]
    ['109/200', '5/2', '105']
    """
    whole = _whole(words, start)
    if whole is None:
        return _point(words, start, Fraction(0)) or _fraction(words, start)
    if (pointed := _point(words, whole.end, whole.value)) is not None:
        return pointed
    if (parts := _parts(words, whole)) is not None:
        return parts
    return _and_fraction(words, whole) or whole


def _at(words: Sequence[str], place: int) -> str:
    return words[place] if 0 <= place < len(words) else ""


def _whole(words: Sequence[str], start: int) -> Heard | None:
    """A number in digits, or a whole number in words."""
    word = _at(words, start)
    if part := TYPED_FRACTION.fullmatch(word):
        return Heard(Fraction(int(part[1]), int(part[2])), Fraction(0), start + 1) if int(part[2]) else None
    if word and (typed := TYPED.fullmatch(word)):
        tail = typed[2] or ""
        whole = int((typed[1] or "0").replace(",", ""))
        value = whole + (Fraction(int(tail), 10 ** len(tail)) if tail else 0)
        return Heard(Fraction(value), Fraction(1, 10 ** len(tail)), start + 1)
    if word in {"a", "one"} and _at(words, start + 1) in {"hundred", "thousand"}:
        return _large(words, start + 1, 1)
    if word in {"oh", "o"}:
        return None  # only ahead of "point", which `_point` reads
    small = _below_hundred(words, start)
    if small is None:
        return None
    return _large(words, small.end, int(small.value)) or small


def _below_hundred(words: Sequence[str], start: int) -> Heard | None:
    word = _at(words, start)
    if word in TENS:
        unit = DIGITS.get(_at(words, start + 1), 0) if _at(words, start + 1) not in {"oh", "o"} else 0
        # "twenty one over four" but "thirty point two": the unit digit joins its ten.
        return Heard(Fraction(TENS[word] + unit), Fraction(1), start + (2 if unit else 1))
    value = TEENS.get(word, DIGITS.get(word))
    return None if value is None else Heard(Fraction(value), Fraction(1), start + 1)


def _large(words: Sequence[str], place: int, many: int) -> Heard | None:
    word = _at(words, place)
    if word not in {"hundred", "thousand"} or many > 999:
        return None
    total, end = many * (100 if word == "hundred" else 1000), place + 1
    after = end + (_at(words, end) == "and")
    rest = _below_hundred(words, after)
    if word == "thousand" and rest is not None:
        rest = _large(words, rest.end, int(rest.value)) or rest
    if rest is not None and rest.value and _at(words, rest.end) not in MANY_PARTS:
        return Heard(total + rest.value, Fraction(1), rest.end)
    if word == "hundred" and _at(words, end) == "thousand":
        return Heard(Fraction(total * 1000), Fraction(1), end + 1)
    return Heard(Fraction(total), Fraction(1), end)


def _point(words: Sequence[str], place: int, whole: Fraction) -> Heard | None:
    """Said like "point five three", perhaps behind a whole number or "oh"."""
    if _at(words, place) in {"oh", "o"} and _at(words, place + 1) == "point":
        place += 1
    if _at(words, place) != "point":
        return None
    digits, end = "", place + 1
    while (word := _at(words, end)) and len(digits) < 12:
        if digits and _at(words, end + 1) == "point":
            break  # "point two five, one point seven five": the digit begins the next number
        if word in DIGITS:
            digits += str(DIGITS[word])
        elif word.isascii() and word.isdigit() and (len(word) == 1 or not digits):
            digits += word
        elif not digits and (word in TENS or word in TEENS):
            small = _below_hundred(words, end)
            assert small is not None
            digits, end = str(small.value), small.end - 1
        else:
            break
        end += 1
    if not digits:
        return None
    return Heard(whole + Fraction(int(digits), 10 ** len(digits)), Fraction(1, 10 ** len(digits)), end)


def _parts(words: Sequence[str], whole: Heard) -> Heard | None:
    """Said like "three quarters", "one half", "two hundredths"."""
    word = _at(words, whole.end)
    if whole.place != 1:
        return None
    size = MANY_PARTS.get(word) or (PARTS.get(word) if whole.value == 1 else None)
    if size is None or _at(words, whole.end + 1) in COUNTED:
        return None
    return Heard(whole.value / size, Fraction(0), whole.end + 1)


def _fraction(words: Sequence[str], start: int) -> Heard | None:
    """Said like "half", "a third", "a tenth"."""
    word = _at(words, start)
    place = start + 1 if word in {"a", "an"} else start
    size = PARTS.get(_at(words, place))
    if size is None or (place == start and size != 2) or _at(words, place + 1) in COUNTED - {"one"}:
        return None
    if place == start and _at(words, start - 1) in {"other", "first", "second", "this", "that"}:
        return None
    return Heard(Fraction(1, size), Fraction(0), place + 1)


def _and_fraction(words: Sequence[str], whole: Heard) -> Heard | None:
    """Said like "two and a half"; not behind a number with a point."""
    if whole.place != 1 or _at(words, whole.end) != "and":
        return None
    if (count := _below_hundred(words, whole.end + 1)) is not None:
        part = _parts(words, count)
    else:
        part = _fraction(words, whole.end + 1)
    if part is None or part.value >= 1:
        return None
    return Heard(whole.value + part.value, Fraction(0), part.end)


UNITS: Final = {
    "volt": "V", "volts": "V", "vaults": "V", "bolts": "V", "v": "V", "amp": "A", "amps": "A", "ampere": "A",
    "amperes": "A",
    "ohm": "Ω", "ohms": "Ω", "homes": "Ω", "holmes": "Ω", "oms": "Ω", "om": "Ω", "ω": "Ω",
    "watt": "W", "watts": "W", "joule": "J", "joules": "J", "coulomb": "C", "coulombs": "C",
    "percent": "%", "%": "%", "siemens": "S", "seconds": "s", "kilohm": "kΩ", "kilohms": "kΩ",
    "megohm": "MΩ", "megohms": "MΩ",
}  # fmt: skip
PREFIXES: Final = {"milli": "m", "micro": "µ", "kilo": "k", "mega": "M"}


def hear_unit(words: Sequence[str], start: int) -> tuple[str, int] | None:
    """The symbol of the unit that begins at a word, and the word behind it.

    Examples
    --------
    >>> hear_unit("of an ohm".split(), 0), hear_unit("milli amps".split(), 0), hear_unit(["cells"], 0)
    (('Ω', 3), ('mA', 2), None)
    """
    place = start
    if _at(words, place) == "of":
        place += 1
    if _at(words, place) in {"a", "an"}:
        place += 1
    if _at(words, place) in {"whole", "full"}:
        place += 1
    word = _at(words, place)
    if word == "per" and _at(words, place + 1) == "cent" and place == start:
        return "%", place + 2
    for prefix, sign in PREFIXES.items():
        if word == prefix and (unit := UNITS.get(_at(words, place + 1))):
            return sign + unit, place + 2
        if word.startswith(prefix) and (unit := UNITS.get(word.removeprefix(prefix))):
            return sign + unit, place + 1
    if word == "v" and not (place == start and _at(words, start - 1)[-1:].isdigit()):
        return None  # the letter V, unless it is glued to digits
    unit = UNITS.get(word)
    return None if unit is None else (unit, place + 1)
