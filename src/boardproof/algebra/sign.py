"""Whether, or when, a ratio is above or below nought.

From the signs of its factors: those with one-signed coefficients, then a grid of small whole numbers, a certificate by
squares, cases by order, z3 where it is installed. Points only ever refute, exactly.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from fractions import Fraction

from boardproof.algebra.answer import Always, Answer, Never, Undecided, When
from boardproof.algebra.certificate import by_order, by_squares
from boardproof.algebra.compare import nought_at, nought_when, unequal_at
from boardproof.algebra.expression import Comparison, Relation
from boardproof.algebra.ground import POINTS_AT_FIRST, Fact, Ground, holds
from boardproof.algebra.points import Point
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.solver import MISSING, is_installed, search
from boardproof.algebra.tidy import balanced

__all__ = ["sign_of"]


def sign_of(
    function: RationalFunction,
    sign: Comparison = ">",
    *,
    counts: Collection[str] = (),
    given: Sequence[Fact] = (),
) -> Answer:
    """Whether, or when, ``function sign 0``.

    Parameters
    ----------
    function : RationalFunction
        Left side less right side.
    sign : str
        The comparison with nought.
    counts : collection of str
        Letters that are whole numbers from 1.
    given : sequence of Fact
        Hypotheses, each a ratio compared with nought.

    Examples
    --------
    >>> R, r = RationalFunction.letter("R"), RationalFunction.letter("r")
    >>> sign_of(R * r / (R + r) - r, "<").decided_by
    'factors'
    >>> sign_of(R - r, ">").cases[0][0].sign
    '>'
    """
    try:
        ground = Ground(frozenset(counts), tuple(given))
        function = function.substitute(ground.same)
        match sign:
            case "=" | "≈":
                return nought_when(function, ground)
            case "≠":
                return _unequal_when(function, ground)
            case ">" | "≥":
                return _positive(function, ground, strict=sign == ">")
            case "<" | "≤":
                return _positive(-function, ground, strict=sign == "<")
    except TooLarge:
        return Undecided("it has too many terms")


def _unequal_when(function: RationalFunction, ground: Ground) -> Answer:
    match nought_when(function, ground):
        case Always(decided_by=by, text=text):
            return Never(by, text)
        case Never(decided_by=by, text=text):
            return Always(by, text)
        case When(factors=factors, holds=holds, fails=fails):
            case_ = tuple(balanced(factor, "≠") for factor in factors)
            return When((case_,), factors, fails, holds or fails)
        case undecided:
            return undecided


@dataclass(slots=True)
class _Parts:
    """The factors of a ratio by what is known of their signs."""

    sign: int
    odd: list[RationalFunction]  # decide the sign
    touching: list[
        tuple[RationalFunction, Comparison]
    ]  # never change the sign, may be nought; and "is not nought"


def _parts(function: RationalFunction, ground: Ground) -> _Parts:
    number, above = function.factors()
    _, below = function.denominator.factors()
    parts = _Parts(1 if number > 0 else -1, [], [])
    for (factor, power), over in [*((each, True) for each in above), *((each, False) for each in below)]:
        known = ground.signed(factor)
        if known:
            parts.sign *= known[0] if power % 2 else 1
            if not known[1] and over:
                parts.touching.append((factor, ">" if known[0] > 0 else "<"))
        elif power % 2:
            parts.odd.append(factor)
        elif over:
            parts.touching.append((factor, "≠"))
    return parts


def _positive(function: RationalFunction, ground: Ground, *, strict: bool) -> Answer:
    if function.is_zero:
        same = "Both sides are the same expression."
        return Never("identity", same) if strict else Always("identity", same)
    parts = _parts(function, ground)
    if not parts.odd:
        return _settled(function, parts, ground, "factors", strict=strict)
    values = _values(function, ground)
    if any(value > 0 for _, value in values) and any(value < 0 for _, value in values):
        return _conditional(parts, values, ground, strict=strict)
    by = _prove(parts, [point for point, _ in values], ground)
    if by is None:
        values += _beyond(parts.odd, function, ground)
        if any(value > 0 for _, value in values) and any(value < 0 for _, value in values):
            return _conditional(parts, values, ground, strict=strict)
        return _last_resort(function, parts, values, ground, strict=strict)
    return _settled(function, parts, ground, by, strict=strict)


def _last_resort(
    function: RationalFunction,
    parts: _Parts,
    values: list[tuple[Point, Fraction]],
    ground: Ground,
    *,
    strict: bool,
) -> Answer:
    """What z3 says, if it is there and knows: the other sign somewhere, or nowhere."""
    at = function.evaluator()
    tests: tuple[tuple[Comparison, bool], ...] = (
        ("≤" if strict else "<", True),
        (">" if strict else "≥", False),
    )
    for sign, fails in tests:
        if any(holds(value, sign) for _, value in values):
            continue
        found = search(
            [*ground.given, (function, sign)],
            ground.counts,
            accepts=lambda point, sign=sign: (
                ground.accepts(point)  # type: ignore[misc]  # the loop's own
                and all(point[count].denominator == 1 for count in ground.counts & set(point))
                and holds(at(point), sign)
            ),
        )
        if found is True:
            text = "z3 finds no positive values for which it is otherwise; this proof can't be read."
            return Always("z3", text) if fails else Never("z3", text, values[0][0] if values else None)
        if not isinstance(found, bool):
            values = [*values, (found, at(found) or Fraction(0))]
    if any(value > 0 for _, value in values) and any(value < 0 for _, value in values):
        return _conditional(parts, values, ground, strict=strict)
    reason = "Neither a proof nor a counterexample was found"
    if not is_installed():
        reason += f"; {MISSING}"
    return _refuted_or(Undecided(reason, len(values)), function, values, strict=strict)


def _values(function: RationalFunction, ground: Ground) -> list[tuple[Point, Fraction]]:
    """Values at the first points; at more of them only while one sign has been seen."""
    at = function.evaluator()
    signs: set[int] = set()
    found: list[tuple[Point, Fraction]] = []
    for place, point in enumerate(ground.points(function)):
        value = at(point)
        if value is not None:
            found.append((point, value))
            signs.add((value > 0) - (value < 0))
        if place >= POINTS_AT_FIRST and {1, -1} <= signs:
            break
    return found


def _beyond(
    factors: Sequence[RationalFunction], function: RationalFunction, ground: Ground
) -> list[tuple[Point, Fraction]]:
    """Values on both sides of a place where a factor is nought, which may lie outside the grid (``R > 99 r``)."""
    at = function.evaluator()
    found: list[tuple[Point, Fraction]] = []
    for factor in factors:
        _, point = nought_at(factor, function, ground)
        for letter in sorted(factor.letters - ground.counts) if point else ():
            assert point is not None
            for moved in ({**point, letter: point[letter] * 2}, {**point, letter: point[letter] / 2}):
                value = at(moved) if ground.accepts(moved) else None
                if value is not None:
                    found.append((moved, value))
    return found


def _refuted_or(
    undecided: Undecided,
    function: RationalFunction,
    values: Sequence[tuple[Point, Fraction]],
    *,
    strict: bool,
) -> Answer:
    """Undecided whether never; but one failing point is worth more than nothing to a claim of "always"."""
    fails = next((point for point, value in values if value < 0 or (strict and value == 0)), None)
    if fails is None:
        return undecided
    holds = next((point for point, value in values if value > 0 or (not strict and value == 0)), None)
    if holds is None:
        return Undecided("It fails wherever I tried it", len(values))
    return When(
        ((balanced(function.numerator * function.denominator, ">" if strict else "≥"),),),
        (function,),
        holds,
        fails,
        "grid",
    )


def _prove(parts: _Parts, points: Sequence[Point], ground: Ground) -> str | None:
    """Prove the sign of each factor that decides; move it to the others. The manner of the hardest proof."""
    by = "factors"
    for factor in tuple(parts.odd):
        at = factor.evaluator()
        seen = next((value > 0 for point in points if (value := at(point))), None)
        if seen is None:
            return None
        manner = _proved(factor if seen else -factor, ground)
        if manner is None:
            return None
        by, strict = manner
        parts.odd.remove(factor)
        parts.sign *= 1 if seen else -1
        if not strict:
            parts.touching.append((factor, "≠"))
    return by


def _proved(factor: RationalFunction, ground: Ground) -> tuple[str, bool] | None:
    put = factor.substitute(ground.put).numerator
    attempts: tuple[tuple[str, Callable[[], object]], ...] = (
        ("squares", lambda: by_squares(factor, ground.above)),
        ("squares", lambda: by_squares(put, weak=ground.weak) if ground.put else None),
        ("order", lambda: by_order(put)),
    )
    for manner, attempt in attempts:
        found = attempt()
        if found is not None:
            return manner, bool(getattr(found, "strict", False))
    return None


def _settled(function: RationalFunction, parts: _Parts, ground: Ground, by: str, *, strict: bool) -> Answer:
    """The sign is fixed; only whether it can be nought is open."""
    touched = []
    for factor, beyond in parts.touching:
        exists, point = nought_at(factor, factor, ground)
        if exists:
            touched.append((factor, beyond, point))
    text = "With both sides on one side, every factor has one sign for all positive values."
    if parts.sign > 0 and (not strict or not touched):
        return Always(by, text)
    fails = unequal_at(function, ground)
    if parts.sign < 0 and (strict or not touched):
        return Never(by, text, fails)
    factors = tuple(factor for factor, _, _ in touched)
    nought = next((point for _, _, point in touched if point), None)
    if parts.sign > 0:
        relations = tuple(balanced(factor, beyond) for factor, beyond, _ in touched)
        return When((relations,), factors, fails, nought or {}, by)
    cases = tuple((balanced(factor, "="),) for factor in factors)
    return When(cases, factors, nought, fails or {}, by)


def _conditional(
    parts: _Parts, values: Sequence[tuple[Point, Fraction]], ground: Ground, *, strict: bool
) -> Answer:
    """Both signs occur: the condition, from the factors that decide."""
    odd = []
    sign = parts.sign
    for factor in parts.odd:
        at = factor.evaluator()
        signs = {value > 0 for point, _ in values if (value := at(point))}
        proof = _proved(factor if True in signs else -factor, ground) if len(signs) == 1 else None
        if proof:
            sign *= 1 if True in signs else -1
        else:
            odd.append(factor)
    above: Comparison = ">" if strict else "≥"
    below: Comparison = "<" if strict else "≤"
    if len(odd) > 3:
        product = RationalFunction.constant(sign)
        for factor in odd:
            product = product * factor
        cases: list[tuple[Relation, ...]] = [(balanced(product, above),)]
    else:
        cases = []
        for ups in itertools.product((True, False), repeat=len(odd)):
            if (-1) ** ups.count(False) == sign and _met(odd, ups, values):
                cases.append(
                    tuple(
                        balanced(factor, above if up else below) for factor, up in zip(odd, ups, strict=True)
                    )
                )
    apart = tuple(balanced(factor, beyond) for factor, beyond in parts.touching) if strict else ()
    meets = [value > 0 or (not strict and value == 0) for _, value in values]
    holds = next(point for (point, _), met in zip(values, meets, strict=True) if met)
    fails = next(point for (point, _), met in zip(values, meets, strict=True) if not met)
    return When(tuple(case + apart for case in cases), tuple(odd), holds, fails)


def _met(
    factors: Sequence[RationalFunction], ups: Sequence[bool], values: Sequence[tuple[Point, Fraction]]
) -> bool:
    """Whether the factors have these signs at some tried point; combinations never met are not mentioned."""
    ats = [factor.evaluator() for factor in factors]
    return any([(at(point) or 0) > 0 for at in ats] == list(ups) for point, _ in values)
