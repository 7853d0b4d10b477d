"""Phrases of a brief: a quantity, a share, a mass or a bare number, with what stands before and behind it."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final, Literal

from boardproof.quantities import Dimension, read_quantity
from boardproof.quantities import read_decimal as read_decimal_text
from boardproof.record import record

__all__ = [
    "Bound",
    "Phrase",
    "mass_of",
    "number_of",
    "quantity_of",
    "read_phrase",
    "share_of",
    "split_phrases",
]

Bound = Literal["", "at least", "at most", "about"]
OPENING: Final = re.compile(r"(at\s+least|at\s+most|about)\s+", re.IGNORECASE)
MASS: Final = re.compile(r"(.+?)\s*(kg|g)", re.IGNORECASE)
SHARE: Final = re.compile(r"(.+?)\s*(?:%|per\s?cent)", re.IGNORECASE)


@record
class Phrase:
    """A bound, and the words after it.

    Parameters
    ----------
    bound : Bound
        "at least", "at most", "about", or nothing.
    words : str
        The rest.
    """

    bound: Bound
    words: str


def split_phrases(text: str) -> tuple[str, ...]:
    """The phrases of a line, parted by a comma and a space, or by semicolons.

    Parameters
    ----------
    text : str
        Of one field.

    Examples
    --------
    >>> split_phrases("A, at most 60")
    ('A', 'at most 60')
    """
    return tuple(each.strip() for each in re.split(r",\s+|;", text) if each.strip())


def read_phrase(text: str) -> Phrase:
    """A phrase without its bound.

    Parameters
    ----------
    text : str
        One phrase.

    Examples
    --------
    >>> read_phrase("at least 12 V")
    Phrase(bound='at least', words='12 V')
    """
    found = OPENING.match(text)
    if found is None:
        return Phrase("", text.strip())
    word = " ".join(found[1].casefold().split())
    bound: Bound = "at least" if word == "at least" else "at most" if word == "at most" else "about"
    return Phrase(bound, text[found.end() :].strip())


def quantity_of(text: str, dimension: Dimension, decimal: str = ".") -> Fraction | None:
    """A quantity of one dimension that is more than nought.

    Parameters
    ----------
    text : str
        A number and its unit.
    dimension : Dimension
        Which.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> from boardproof.quantities import OHM, VOLT
    >>> quantity_of("1.5 V", VOLT), quantity_of("1.5 V", OHM)
    (Fraction(3, 2), None)
    """
    found = read_quantity(text, decimal)
    return found.value if found is not None and found.dimension == dimension and found.value > 0 else None


def number_of(text: str, decimal: str = ".") -> Fraction | None:
    """A bare number that is not below nought.

    Parameters
    ----------
    text : str
        Digits.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> number_of("60"), number_of("sixty")
    (Fraction(60, 1), None)
    """
    found = read_decimal_text(text.strip(), decimal)
    return found[0] if found is not None and found[0] >= 0 else None


def mass_of(text: str, decimal: str = ".") -> Fraction | None:
    """A mass in kilograms.

    Parameters
    ----------
    text : str
        In g or kg.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> mass_of("23 g")
    Fraction(23, 1000)
    """
    found = MASS.fullmatch(text.strip())
    value = number_of(found[1], decimal) if found else None
    return None if value is None or found is None else value * (1 if found[2] == "kg" else Fraction(1, 1000))


def share_of(text: str, decimal: str = ".") -> Fraction | None:
    """A share from a percentage.

    Parameters
    ----------
    text : str
        With its sign or word.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> share_of("20 %")
    Fraction(1, 5)
    """
    found = SHARE.fullmatch(text.strip())
    value = number_of(found[1], decimal) if found else None
    return None if value is None else value / 100
