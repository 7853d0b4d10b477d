"""When a ratio of letters is nought: always, never, or exactly under which condition.

Letters are positive, counts are whole numbers from 1. The order is: identity, factors with one-signed coefficients,
a grid of small whole numbers. Points only ever refute, exactly.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Sequence
from fractions import Fraction

from boardproof.algebra.answer import Always, Answer, Never, Undecided, When
from boardproof.algebra.expression import Comparison
from boardproof.algebra.ground import POINTS_AT_FIRST, POINTS_AT_MOST, Fact, Ground, holds
from boardproof.algebra.letter_order import natural
from boardproof.algebra.points import Point
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.tidy import balanced

__all__ = ["nought_at", "nought_when", "small_counterexample", "unequal_at", "zero_when"]


def small_counterexample(
    function: RationalFunction,
    sign: Comparison = "=",
    *,
    counts: Collection[str] = (),
    given: Sequence[Fact] = (),
) -> Point | None:
    """Small whole numbers at which ``function sign 0`` is not true; None if none was found.

    Parameters
    ----------
    function : RationalFunction
        Left side less right side.
    sign : str
        The comparison with nought that is to fail.
    counts : collection of str
        Letters that are whole numbers from 1.
    given : sequence of Fact
        Hypotheses that the point must meet.

    Examples
    --------
    >>> E, r = RationalFunction.letter("E"), RationalFunction.letter("r")
    >>> small_counterexample(E - 6 * r)
    {'E': Fraction(6, 1), 'r': Fraction(2, 1)}
    """
    ground = Ground(frozenset(counts), tuple(given))
    at = function.evaluator()
    return next((p for p in ground.points(function) if at(p) is not None and not holds(at(p), sign)), None)


def zero_when(
    function: RationalFunction, counts: Collection[str] = (), *, given: Sequence[Fact] = ()
) -> Answer:
    """When a ratio is nought.

    Parameters
    ----------
    function : RationalFunction
        Left side less right side of an equation.
    counts : collection of str
        Letters that are whole numbers from 1.
    given : sequence of Fact
        Hypotheses.

    Returns
    -------
    Always, Never or When
        The factors of `When` are shortest first; factors that are nought nowhere are left out.

    Examples
    --------
    >>> a, b = RationalFunction.letter("r_1"), RationalFunction.letter("r_2")
    >>> answer = zero_when(a * b / (a + b) - a / 2)
    >>> answer.factors, answer.holds
    ((r_1 - r_2,), {'r_1': Fraction(2, 1), 'r_2': Fraction(2, 1)})
    """
    try:
        ground = Ground(frozenset(counts), tuple(given))
        return nought_when(function.substitute(ground.same), ground)
    except TooLarge:
        return Undecided("it has too many terms")


def nought_when(function: RationalFunction, ground: Ground) -> Answer:
    """As `zero_when`, on ground that is prepared.

    Parameters
    ----------
    function : RationalFunction
        Left side less right side.
    ground : Ground
        What is known of its letters.
    """
    if function.is_zero:
        return Always("identity", "Both sides are the same expression.")
    _, factors = function.factors()
    excluded = {each for each, sign in ground.given if sign == "≠"}
    left = [
        factor
        for factor, _ in factors
        if not _never_nought(factor, ground) and not {factor, -factor} & excluded
    ]
    if not left:
        return Never(
            "factors", "Their difference has one sign for all positive values.", unequal_at(function, ground)
        )
    found = [(factor, *nought_at(factor, function, ground)) for factor in left]
    kept = [(factor, point) for factor, exists, point in found if exists]
    fails = unequal_at(function, ground)
    if not kept:
        return Never("grid", "No positive values make the two sides equal.", fails)
    if fails is None:
        return Undecided("I found no values for which it fails, and no proof", POINTS_AT_MOST)
    cases = tuple((balanced(factor, "="),) for factor, _ in kept)
    holds = next((point for _, point in kept if point), None)
    return When(cases, tuple(factor for factor, _ in kept), holds, fails)


def _never_nought(factor: RationalFunction, ground: Ground) -> bool:
    known = ground.signed(factor)
    return known is not None and known[1]


def unequal_at(function: RationalFunction, ground: Ground) -> Point | None:
    """A point at which a ratio is not nought; None if none was found.

    Parameters
    ----------
    function : RationalFunction
        Left side less right side.
    ground : Ground
        What is known of its letters.
    """
    at = function.evaluator()
    return next((point for point in ground.points(function) if at(point)), None)


def nought_at(
    factor: RationalFunction, function: RationalFunction, ground: Ground
) -> tuple[bool, Point | None]:
    """Whether the factor is nought at some positive point, and such a point in fractions.

    Parameters
    ----------
    factor, function : RationalFunction
        One factor, and the whole that it belongs to.
    ground : Ground
        What is known of the letters.
    """
    here, whole_at = factor.evaluator(), function.evaluator()
    solved = []
    for letter in sorted(factor.letters, key=lambda letter: (letter in ground.counts, natural(letter))):
        parts = [each for each in factor.coefficients(letter) if each]
        if len(parts) > 1:
            solved.append((letter, factor.degree(letter) == 1, parts[0].evaluator(), parts[-1].evaluator()))
    signs: dict[tuple[Fraction, ...], set[bool]] = {}
    between = False
    for point in itertools.islice(ground.points(function), POINTS_AT_FIRST):
        value = here(point)
        if value == 0 and whole_at(point) == 0:
            return True, point
        for letter, linear, low_at, high_at in solved:
            low, high = low_at(point), high_at(point)
            if not low or not high or low / high >= 0:
                continue
            if not linear:  # one sign near nought, the other far out: by continuity it is nought in between
                between = between or (letter not in ground.counts and not ground.given)
                continue
            moved = {**point, letter: -low / high}
            whole = letter not in ground.counts or moved[letter].denominator == 1
            if whole and ground.accepts(moved) and whole_at(moved) == 0:
                return True, moved
        if value:
            key = tuple(point[count] for count in sorted(ground.counts & set(point)))
            signs.setdefault(key, set()).add(value > 0)
    # both signs for the same counts: by continuity it is nought in between
    return between or any(len(seen) == 2 for seen in signs.values()), None
