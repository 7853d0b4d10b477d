"""Formulas said in words: "the EMF minus the lost volts is the terminal p.d.", judged for loop, cells and load."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from boardproof.listen.board import Board
from boardproof.quantities import AMPERE, OHM, VOLT, WATT

__all__ = ["NAMED", "WORDED", "worded_holds"]

DIMENSIONS: Final = {
    "emf": VOLT, "pd": VOLT, "lost volts": VOLT, "change in voltage": VOLT, "change in pd": VOLT, "current": AMPERE,
    "change in current": AMPERE, "resistance": OHM, "internal resistance": OHM, "power": WATT,
    "current squared": AMPERE**2, "change in the voltage": VOLT, "change in the current": AMPERE,
    "change in the pd": VOLT,
}  # fmt: skip
SAME_AS: Final = {
    "net emf": "emf", "total emf": "emf", "terminal pd": "pd", "terminal voltage": "pd", "voltage": "pd",
    "load resistance": "resistance", "total resistance": "resistance",
}  # fmt: skip


QUANTITY: Final = (
    r"(?:the )?(?:(?P<{0}>change in (?:the )?(?:voltage|current|pd)|net emf|total emf|emf|terminal voltage|"
    r"terminal pd|lost volts|voltage|pd"
    r"|total resistance|internal resistance|load resistance|resistance|current squared|current|power))"
)
OPERATION: Final = r" (?P<op>times|multiplied by|over|divided by|by|upon|plus|minus|less|into) "
GIVES: Final = r" (?:gives(?: you| us)?|is|equals|is equal to|that is) "
WORDED: Final = re.compile(
    rf"\b{QUANTITY.format('a')}{OPERATION}{QUANTITY.format('b')}(?: in the loop)?{GIVES}{QUANTITY.format('c')}\b"
)
NAMED: Final = re.compile(
    rf"\b{QUANTITY.format('c')}(?: of the cell| of a "
    rf"cell)?{GIVES}{QUANTITY.format('a')}{OPERATION}{QUANTITY.format('b')}\b"
)


def worded_holds(match: re.Match[str], board: Board) -> bool | None:
    """Whether a formula in words holds for the loop, for a cell, or for the load.

    Parameters
    ----------
    match : re.Match
        Of `WORDED` or `NAMED`.
    board : Board
        The circuit at hand.

    Returns
    -------
    bool or None
        None where the circuit shows no such quantities.
    """
    if not _fits(_kind(match["a"]), match["op"], _kind(match["b"]), _kind(match["c"])):
        return False
    cases = [case for case in _cases(board) if all(_kind(match[name]) in case for name in "abc")]
    if not cases:
        return None
    results = [
        _worked(case[_kind(match["a"])], match["op"], case[_kind(match["b"])]) == case[_kind(match["c"])]
        for case in cases
    ]
    return any(results)


def _kind(words: str) -> str:
    words = words.replace("the ", "")
    return SAME_AS.get(words, words)


def _fits(a: str, sign: str, b: str, c: str) -> bool:
    """Whether the dimensions agree."""
    one, other, result = DIMENSIONS[a], DIMENSIONS[b], DIMENSIONS[c]
    if sign in {"times", "multiplied by", "into"}:
        return one * other == result
    if sign in {"over", "divided by", "by", "upon"}:
        return one / other == result
    return one == other == result


def _worked(a: Fraction, sign: str, b: Fraction) -> Fraction | None:
    match sign:
        case "times" | "multiplied by" | "into":
            return a * b
        case "over" | "divided by" | "by" | "upon":
            return a / b if b else None
        case "plus":
            return a + b
        case _:
            return a - b


def _cases(board: Board) -> list[dict[str, Fraction]]:
    found: list[dict[str, Fraction]] = []
    for of in ("whole", *(wire.name for wire in board.wires)):
        facts = {fact.kind: fact.value for fact in board.facts if fact.of == of}
        loop = next(
            (each.value for each in board.facts if (each.kind, each.of) == ("resistance", "loop")), None
        )
        current = facts.get("current")
        case: dict[str, Fraction] = {}
        if of == "whole" and loop is not None:
            case |= {"resistance": loop} | {k: facts[k] for k in ("emf", "current", "pd") if k in facts}
        elif of != "whole":
            case |= {("internal resistance" if "emf" in facts else "resistance"): facts["resistance"]}
            case |= {k: facts[k] for k in ("emf", "current", "pd") if k in facts}
            case |= {"lost volts": facts["emf"] - facts["pd"]} if "emf" in facts and "pd" in facts else {}
        if current is not None and "pd" in case:
            case["power"] = case["pd"] * current
            case["current squared"] = current**2
        found.append(case)
        if of != "whole" and "emf" in facts and current is not None:
            inner = facts["resistance"]
            found.append(
                {
                    "change in voltage": inner,
                    "change in pd": inner,
                    "change in current": Fraction(1),
                    "resistance": inner,
                    "internal resistance": inner,
                }
            )
            found.append(
                {
                    "emf": facts["emf"],
                    "internal resistance": inner,
                    "resistance": inner,
                    "current": facts["emf"] / inner if inner else Fraction(0),
                }
            )
    return found
