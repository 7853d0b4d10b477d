"""Pieces of maths as a teacher types them."""

from __future__ import annotations

from boardproof.algebra.expression import Negative, Sum
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression

__all__ = ["bracketed", "letter", "listed", "lost_volts", "signed_sum", "text"]

letter = RationalFunction.letter


def text(value: RationalFunction) -> str:
    """An exact ratio as a teacher would type it.

    Parameters
    ----------
    value : RationalFunction
        In the letters that the argument uses.

    Examples
    --------
    >>> text(letter("E_1") - letter("E_2"))
    'E_1 - E_2'
    """
    return plain(to_expression(value)).replace("−", "-").replace("·", "*")


def bracketed(value: RationalFunction) -> str:
    """The same, in brackets if it is a sum.

    Parameters
    ----------
    value : RationalFunction
        Any.

    Examples
    --------
    >>> bracketed(letter("r_1") + letter("r_2"))
    '(r_1 + r_2)'
    """
    written = text(value)
    return f"({written})" if isinstance(to_expression(value), Sum | Negative) else written


def lost_volts(current: str, resistance: RationalFunction) -> str:
    """I r, a number first.

    Parameters
    ----------
    current : str
        Its name.
    resistance : RationalFunction
        In letters.

    Examples
    --------
    >>> lost_volts("I", letter("r")), lost_volts("I", 4 * letter("r"))
    ('I r', '4 r I')
    """
    written = bracketed(resistance)
    return f"{written} {current}" if written[0].isdigit() else f"{current} {written}"


def signed_sum(terms: list[tuple[int, str]]) -> str:
    """Terms with their signs, joined.

    Parameters
    ----------
    terms : list of (int, str)
        +1 or -1, and the term.

    Examples
    --------
    >>> signed_sum([(1, "I_1"), (-1, "I_2")])
    'I_1 - I_2'
    """
    pieces = [("- " if sign < 0 else "+ ") + term for sign, term in terms]
    joined_up = " ".join(pieces)
    return joined_up[2:] if joined_up.startswith("+ ") else "-" + joined_up[2:]


def listed(words: list[str]) -> str:
    """Words in a row.

    Parameters
    ----------
    words : list of str
        At least one.

    Examples
    --------
    >>> listed(["A", "B", "C"])
    'A, B and C'
    """
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
