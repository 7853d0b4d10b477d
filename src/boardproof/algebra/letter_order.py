"""The order in which letters are written."""

from __future__ import annotations

import re
from functools import lru_cache

__all__ = ["natural"]


@lru_cache(maxsize=4096)
def natural(letter: str) -> tuple[object, ...]:
    """Key that puts letters into writing order: counts, then E, I, V, U, P, then r, R; subscripts ascending.

    Parameters
    ----------
    letter : str
        A name in normal form.

    Examples
    --------
    >>> sorted(["R", "r_10", "r_2", "E_1", "n"], key=natural)
    ['n', 'E_1', 'r_2', 'r_10', 'R']
    """
    stem, _, subscript = letter.partition("_")
    group = (
        0
        if len(stem) == 1 and stem in "kmnps"
        else {"E": 1, "I": 2, "U": 3, "V": 3, "P": 4, "r": 6, "R": 7}.get(stem, 5)
    )
    parts = tuple(
        (0, int(piece), "") if piece.isdigit() else (1, 0, piece)
        for piece in re.split(r"([0-9]+)", subscript)
        if piece
    )
    return (group, stem, parts)
