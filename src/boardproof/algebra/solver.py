"""The last resort for signs: the optional solver z3, with a time limit. The only door to that package.

A point that it finds counts only after it was checked in exact fractions. That no point exists is taken on its word,
and said so ("true, by z3"). Without the package nothing breaks; the answer is then "undecided" a little more often.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Collection, Mapping, Sequence
from fractions import Fraction
from typing import Any, Final

from boardproof.algebra.expression import Comparison
from boardproof.algebra.polynomial import RationalFunction

__all__ = ["LIMIT", "MISSING", "is_installed", "search"]

LIMIT: Final = 2.0
MISSING: Final = "the optional prover z3 is not installed (it comes with the extra `proof`)"
NEAREST: Final = (1, 2, 3, 4, 6, 12, 60, 1000, 10**6)
TERMS_AT_MOST: Final = 400
Point = Mapping[str, Fraction]
Fact = tuple[RationalFunction, Comparison]


def is_installed() -> bool:
    """Whether z3 is there; it is not loaded by asking."""
    return importlib.util.find_spec("z3") is not None


def search(
    facts: Sequence[Fact],
    counts: Collection[str] = (),
    *,
    accepts: Callable[[Point], bool],
    seconds: float = LIMIT,
) -> Point | bool:
    """Look for positive values at which all facts hold.

    Parameters
    ----------
    facts : sequence of Fact
        Ratios compared with nought.
    counts : collection of str
        Letters that are whole numbers from 1.
    accepts : callable
        The exact check of a point.
    seconds : float
        Time limit.

    Returns
    -------
    mapping, True or False
        A point that was checked; True if z3 says there is none; False if it gave up, or found nothing that the check
        accepts.

    Examples
    --------
    >>> x = RationalFunction.letter("x")
    >>> if is_installed():
    ...     print(search([(x * x - x + 1, "<")], accepts=lambda point: True))
    ... else:
    ...     print(True)
    True
    """
    if not is_installed() or any(len(function.terms()) > TERMS_AT_MOST for function, _ in facts):
        return False
    import z3  # optional, and slow to load

    letters = sorted({letter for function, _ in facts for letter in function.letters})
    named = {letter: z3.Real(f"x{place}") for place, letter in enumerate(letters)}
    solver = z3.SolverFor("QF_NRA")
    solver.set("timeout", max(1, int(seconds * 1000)))
    solver.set("random_seed", 0)
    for letter, real in named.items():
        solver.add(real >= 1 if letter in counts else real > 0)
    for function, sign in facts:
        solver.add(_compared(_polynomial(function, named, z3), sign))
    answer = solver.check()
    if answer == z3.unsat:
        return True
    if answer != z3.sat:
        return False
    return _checked(solver.model(), named, accepts) or False


def _polynomial(function: RationalFunction, named: Mapping[str, Any], z3: Any) -> Any:
    """What has the sign of a ratio: numerator times denominator, as z3 writes it."""
    total = z3.RealVal(0)
    for powers, number in (function.numerator * function.denominator).terms():
        term = z3.RealVal(number)
        for letter, power in powers.items():
            for _ in range(power):
                term = term * named[letter]
        total = total + term
    return total


def _compared(value: Any, sign: Comparison) -> Any:
    match sign:
        case "=" | "≈":
            return value == 0
        case "≠":
            return value != 0
        case "<":
            return value < 0
        case ">":
            return value > 0
        case "≤":
            return value <= 0
        case "≥":
            return value >= 0


def _checked(model: Any, named: Mapping[str, Any], accepts: Callable[[Point], bool]) -> Point | None:
    """The simplest fractions near what z3 found that pass the exact check."""
    exact: dict[str, Fraction] = {}
    for letter, real in named.items():
        value = model.eval(real, model_completion=True)
        near = value if hasattr(value, "as_fraction") else value.approx(20)
        exact[letter] = Fraction(near.as_fraction())
    for most in NEAREST:
        point = {letter: value.limit_denominator(most) for letter, value in exact.items()}
        if min(point.values(), default=Fraction(1)) > 0 and accepts(point):
            return point
    return exact if accepts(exact) else None
