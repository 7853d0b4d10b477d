"""Letters of other regions for names that nobody has to define: U for V, U_q or U_0 for E, R_i for r."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

__all__ = ["native", "regional"]

READ: Final = (
    (re.compile(r"U_[0q](?:,?(\w[\w.]*))?"), "E"),
    (re.compile(r"R_i(?:,?(\w[\w.]*))?"), "r"),
    (re.compile(r"(?:U|ΔV|ΔU)(?:_(\w[\w.]*))?"), "V"),
)
WRITTEN: Final = {"E": ("U_0", "U_q"), "r": ("R_i",), "V": ("U", "ΔV", "ΔU")}


def native(name: str) -> tuple[str, ...]:
    """Names of this language that a region's name may stand for, the likeliest first.

    Parameters
    ----------
    name : str
        In normal form.

    Examples
    --------
    >>> native("U_q"), native("U_q,1"), native("R_i"), native("U_R")
    (('E', 'V_q'), ('E_1',), ('r',), ('V_R',))
    >>> native("E")
    ()
    """
    found = ((letter, each) for pattern, letter in READ if (each := pattern.fullmatch(name)))
    return tuple(letter + (f"_{each[1]}" if each[1] else "") for letter, each in found)


def regional(names: Iterable[str]) -> frozenset[str]:
    """What the names of this language are called in other regions.

    Parameters
    ----------
    names : iterable of str
        In normal form.

    Examples
    --------
    >>> sorted(regional(["r_1", "I"]))
    ['R_i,1', 'R_i1']
    """
    found: set[str] = set()
    for name in names:
        stem, _, subscript = name.partition("_")
        for other in WRITTEN.get(stem, ()):
            mark = "_" * ("_" not in other)
            found |= {other + mark + subscript, f"{other},{subscript}"} if subscript else {other}
    return frozenset(each for each in found if "_" in each or "," not in each)
