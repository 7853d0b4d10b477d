"""Sums over an index as atoms: letters of their own that stand for a term added up from here to n."""

from __future__ import annotations

import re
from typing import Final

from boardproof.algebra.polynomial import RationalFunction

__all__ = ["INDEX", "changes", "sum_of_family", "sums_of"]

INDEX: Final = "k"  # every atom's index, whatever the teacher calls it


def sum_of_family(term: RationalFunction, last: str, *, first: int = 1) -> RationalFunction:
    """A term in letters such as ``E_k``, ``r_k`` added up from k = `first` to `last`, in atoms.

    Parameters
    ----------
    term : RationalFunction
        The term; letters with the subscript ``k`` change from member to member.
    last : str
        A letter that counts.
    first : int
        The family's own first index.

    Returns
    -------
    RationalFunction
        Letters that stay the same are taken out of the sum, a term that stays the same is multiplied.

    Examples
    --------
    >>> E, r = RationalFunction.letter("E"), RationalFunction.letter("r_k")
    >>> sum_of_family(E / r, "n", first=3)
    E*Σ(k=3..n: 1/r_k)
    >>> sum_of_family(E, "n", first=3)
    n*E - 2*E
    """
    under_fixed, under_changing = RationalFunction.constant(1), RationalFunction.constant(1)
    number_under, factors = term.denominator.factors()
    for factor, power in factors:
        if any(changes(letter) for letter in factor.letters):
            under_changing = under_changing * factor**power
        else:
            under_fixed = under_fixed * factor**power
    total = RationalFunction.constant(0)
    for powers, number_before in term.terms():
        fixed, changing = RationalFunction.constant(number_before), RationalFunction.constant(1)
        for letter, power in powers.items():
            piece = RationalFunction.letter(letter) ** power
            fixed, changing = (fixed, changing * piece) if changes(letter) else (fixed * piece, changing)
        whole = changing / under_changing
        if any(changes(letter) for letter in whole.letters):
            added = RationalFunction.letter(f"Σ({INDEX}={first}..{last}: {_ratio(whole)})")
        else:
            added = whole * (RationalFunction.letter(last) - (first - 1))
        total = total + fixed * added
    return total / under_fixed / number_under


def _ratio(ratio: RationalFunction) -> str:
    """Text of a ratio that depends on nothing but its value."""
    over, under = repr(ratio.numerator), repr(ratio.denominator)
    if under == "1":
        return over
    return "/".join(f"({text})" if re.search(r"[ *]", text) else text for text in (over, under))


def changes(letter: str) -> bool:
    """Whether a letter changes from member to member.

    Parameters
    ----------
    letter : str
        A letter under a sum.

    Examples
    --------
    >>> changes("r_k"), changes("r_1")
    (True, False)
    """
    return letter == INDEX or INDEX in letter.partition("_")[2].split(".")


def sums_of(letter: str) -> tuple[int, str, str] | None:
    """First index, last letter and term of an atom; None for any other letter.

    Parameters
    ----------
    letter : str
        A letter of a `RationalFunction`.

    Examples
    --------
    >>> sums_of("Σ(k=3..n: 1/r_k)"), sums_of("E")
    ((3, 'n', '1/r_k'), None)
    """
    found = re.fullmatch(rf"Σ\({INDEX}=(\d+)\.\.(.+?): (.*)\)", letter)
    return (int(found[1]), found[2], found[3]) if found else None
