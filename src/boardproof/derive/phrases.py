"""What several routes say or write alike: arrows first, the shape of a single cell, an EMF that comes to nothing."""

from __future__ import annotations

from collections.abc import Sequence

from boardproof.algebra.polynomial import RationalFunction
from boardproof.derive.branches import Branch

__all__ = ["ARROW_FIRST", "ONE_CELL", "in_threes", "said_emf", "turned_word"]

ARROW_FIRST = "I draw each arrow before I know; a minus will tell me if it runs the other way."


ONE_CELL = "Look at the shape of that. It is the rule of a single cell."


def said_emf(value: RationalFunction | None, base: str) -> str:
    """What to say of an equivalent's EMF, also if it is nought or negative.

    Parameters
    ----------
    value : RationalFunction or None
        In letters.
    base : str
        What is said in any case.

    Examples
    --------
    >>> said_emf(RationalFunction.constant(0), "The pushes add.")
    'The pushes add. Here nothing is left of them: seen from outside this is no cell, only a resistance.'
    """
    if value is not None and value.is_zero:
        return f"{base} Here nothing is left of them: seen from outside this is no cell, only a resistance."
    if value is not None and value.one_signed < 0:
        return f"{base} It comes out negative: the one cell is turned, its plus end where we drew the minus."
    return base


def in_threes(lines: Sequence[str]) -> list[str]:
    """Lines joined by *and*, at most three on one line of the board.

    Parameters
    ----------
    lines : sequence of str
        Equations.

    Examples
    --------
    >>> in_threes(["a = 1", "b = 2", "c = 3", "d = 4"])
    ['a = 1 and b = 2 and c = 3', 'd = 4']
    """
    return [" and ".join(lines[start : start + 3]) for start in range(0, len(lines), 3)]


def turned_word(members: Sequence[Branch]) -> str:
    """What to say if a member sits the other way round; "" if none does.

    Parameters
    ----------
    members : sequence of Branch
        Of the group.
    """
    turned = [member.path for member in members if member.sign < 0]
    return f" {turned[0]} sits the other way round, so it pushes against the rest." if turned else ""
