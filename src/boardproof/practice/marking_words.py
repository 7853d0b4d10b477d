"""The reason for a mark, in a sentence that the student can read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

__all__ = ["reason"]

SENTENCES: Final = {
    "right": "Right.",
    "right_but_figures": "The value is right; give it to about as many figures as the question does.",
    "unit_missing": "The number is right, but its unit is missing.",
    "unit_wrong_kind": "This unit measures another kind of quantity. The answer is {shown}.",
    "power_of_ten": "The figures are right, but a power of ten is off: look at the prefix. The answer is {shown}.",
    "sign": "The size is right, but the sign is not: say which way round it is. The answer is {shown}.",
    "near_miss": "Very near, but not to the figures asked for: keep more on the way. The answer is {shown}.",
    "wrong": "The answer is {shown}.",
    "unreadable": "I could not read this answer yet; your teacher will look at it.",
    "to be decided": "Your teacher will read this answer.",
    "by hand": "Marked by your teacher.",
    "blank": "Nothing was written here. The answer is {shown}.",
    "not reached": "This question was not reached. The answer is {shown}.",
    "absent": "You were not there; this does not count.",
    "excused": "You need not do this one; it does not count.",
}
LOSES: Final = frozenset({"unit_missing", "power_of_ten", "sign", "near_miss"})


def reason(verdict: str, shown: str, *, carried: Sequence[str] = (), alone: bool = True) -> str:
    """Why a mark is what it is.

    Parameters
    ----------
    verdict : str
        Of the answer.
    shown : str
        The right answer as the key prints it.
    carried : sequence of str
        Labels of earlier parts whose own value was carried on.
    alone : bool
        Whether there is one point only: then nothing is said of a mark that is lost.

    Examples
    --------
    >>> reason("unit_missing", "0.75 A", alone=False)
    'The number is right, but its unit is missing. One mark is lost for that.'
    >>> reason("right", "5 V", carried=("a",))
    'Right from your own answer to part (a): an earlier slip is not counted twice.'
    """
    if carried:
        parts = " and ".join(f"({each})" for each in carried)
        kept = f"Right from your own answer to part {parts}: an earlier slip is not counted twice."
        return kept if verdict == "right" else f"{kept} {SENTENCES[verdict].format(shown=shown)}"
    told = SENTENCES.get(verdict, "{shown}").format(shown=shown or "in the key")
    return f"{told} One mark is lost for that." if verdict in LOSES and not alone else told
