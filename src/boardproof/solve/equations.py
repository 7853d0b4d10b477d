"""Polynomial equations in a few letters: exactly where roots are rational, rounded and said so elsewhere.

A letter that some equation holds to the first power is put into the others; an equation that falls into factors is
tried factor by factor; what is left in one letter is solved for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.findings import Finding
from boardproof.record import record
from boardproof.solve.ill_posed import because, listed

__all__ = ["Inverse", "solve_equations"]

Solution = dict[str, RationalFunction]
DIGITS: Final = 30


@record
class Inverse:
    """What the readings say of the letters.

    Parameters
    ----------
    values : mapping of str to Fraction
        Letters that are fixed.
    partly : mapping of str to RationalFunction
        Letters that are fixed by others which stay open.
    rounded : frozenset of str
        Letters whose value is irrational and stands rounded to 30 digits (readings in time: to a float's 15).
    findings : tuple of Finding
        ``not-fixed``, ``impossible-value``, ``clashing-readings``.
    """

    values: Mapping[str, Fraction]
    partly: Mapping[str, RationalFunction]
    rounded: frozenset[str]
    findings: tuple[Finding, ...]

    def put_into(self, formula: RationalFunction) -> RationalFunction:
        """A formula with everything known put in."""
        return formula.substitute({**self.partly, **self.values})


def solve_equations(
    equations: Sequence[RationalFunction],
    unknown: Sequence[str],
    *,
    said: Sequence[str] = (),
    counts: frozenset[str] = frozenset(),
    allow_negative: bool = False,
) -> Inverse:
    """Values of letters that make every one of some expressions nought.

    Parameters
    ----------
    equations : sequence of RationalFunction
        Left side less right side.
    unknown : sequence of str
        The letters to find.
    said : sequence of str
        The equations in words, for findings.
    counts : frozenset of str
        Letters that must be whole numbers from 1.
    allow_negative : bool
        Whether negative values are welcome.

    Examples
    --------
    >>> E, r = RationalFunction.letter("E"), RationalFunction.letter("r")
    >>> solve_equations([E - 2 * r - 16, E - r / 2 - 19], ["E", "r"]).values
    {'E': Fraction(20, 1), 'r': Fraction(2, 1)}
    """
    words = said or [str(each) for each in equations]
    best: Inverse | None = None
    for solution, rounded, forced in _solutions(
        [each.numerator for each in equations], list(unknown), {}, {}
    ):
        candidate = _judged(solution, rounded, forced, unknown, words, counts, allow_negative=allow_negative)
        if best is None or _badness(candidate) < _badness(best):
            best = candidate
        if not any(finding.kind.code == "impossible-value" for finding in candidate.findings):
            return candidate
    if best is None:
        which = f"They contradict each other: {listed(words)}." if words else ""
        clash = because(
            "clashing-readings", letters=listed(unknown) if unknown else "any letter", which=which
        )
        return Inverse({}, {}, frozenset(), (clash,))
    return best


def _badness(candidate: Inverse) -> int:
    return len(candidate.findings)


def _solutions(
    equations: list[RationalFunction], unknown: list[str], solution: Solution, forced: dict[str, int]
) -> Iterator[tuple[Solution, frozenset[str], dict[str, int]]]:
    """Every way to satisfy the equations; each is worked off in place so that its number stays its reading's."""
    left = [(place, each) for place, each in enumerate(equations) if not each.is_zero]
    if any(each.as_number is not None for _, each in left):
        return
    if not left:
        yield solution, frozenset(), forced
        return
    split = _split(left)
    if split is not None:
        place, factors = split
        for factor in factors:
            yield from _solutions(
                [*equations[:place], factor, *equations[place + 1 :]], unknown, solution, forced
            )
        return
    linear = _linear(left, unknown)
    if linear is not None:
        place, letter = linear
        below, above = equations[place].coefficients(letter)
        yield from _put(equations, unknown, solution, forced, place, letter, -below / above)
        return
    for place, each in left:
        (letter, *others) = sorted(each.letters & set(unknown)) or [""]
        if letter and not others:
            for root in _roots([part.as_number or Fraction(0) for part in each.coefficients(letter)]):
                value = RationalFunction.constant(root)
                for found, rounded, why in _put(equations, unknown, solution, forced, place, letter, value):
                    yield found, rounded | {letter}, why
            return
    yield solution, frozenset(), forced  # several letters, each to a higher power: they stay open


def _split(left: Sequence[tuple[int, RationalFunction]]) -> tuple[int, list[RationalFunction]] | None:
    """The first equation that falls into factors, without those that are never nought."""
    for place, each in left:
        _, factors = each.factors()
        live = [factor for factor, _ in factors if not factor.one_signed]
        live = live or [factor for factor, _ in factors]  # E = 0 is a value; so is a current of nought
        if live not in ([each], [-each]):
            return place, live
    return None


def _linear(left: Sequence[tuple[int, RationalFunction]], unknown: Sequence[str]) -> tuple[int, str] | None:
    """An equation and a letter in it to the first power; short ones first."""
    choices = [
        (len(each.letters), len(each.terms()), place, letter)
        for place, each in left
        for letter in unknown
        if each.degree(letter) == 1
    ]
    return min(choices)[2:] if choices else None


def _put(
    equations: Sequence[RationalFunction],
    unknown: Sequence[str],
    solution: Solution,
    forced: dict[str, int],
    place: int,
    letter: str,
    value: RationalFunction,
) -> Iterator[tuple[Solution, frozenset[str], dict[str, int]]]:
    """Put a letter's value everywhere and go on."""
    try:
        rest = [
            RationalFunction.constant(0) if other == place else each.substitute({letter: value}).numerator
            for other, each in enumerate(equations)
        ]
        known = {name: each.substitute({letter: value}) for name, each in solution.items()}
    except ZeroDivisionError:
        return
    yield from _solutions(
        rest,
        [each for each in unknown if each != letter],
        {**known, letter: value},
        {**forced, letter: place},
    )


def _roots(below: Sequence[Fraction]) -> list[Fraction]:
    """Real roots of a polynomial without rational ones, rounded; coefficients from power 0 up."""
    if len(below) == 3:
        c, b, a = below
        inside = b * b - 4 * a * c
        if inside < 0:
            return []
        scale = 10**DIGITS
        root = Fraction(
            math.isqrt(inside.numerator * inside.denominator * scale * scale), inside.denominator * scale
        )
        return sorted(((-b + root) / (2 * a), (-b - root) / (2 * a)), reverse=True)
    import numpy as np  # only for equations of higher degree: it takes 0.1 s to load

    scale = max(abs(each) for each in below)
    found = np.roots([float(each / scale) for each in reversed(below)])
    return sorted(
        (Fraction(float(root.real)) for root in found if abs(root.imag) < 1e-9 * abs(root)), reverse=True
    )


def _judged(
    solution: Solution,
    rounded: frozenset[str],
    forced: Mapping[str, int],
    unknown: Sequence[str],
    said: Sequence[str],
    counts: frozenset[str],
    *,
    allow_negative: bool,
) -> Inverse:
    """A solution with what is odd about it."""
    values = {name: number for name, each in solution.items() if (number := each.as_number) is not None}
    partly = {name: each for name, each in solution.items() if name not in values}
    free = [letter for letter in unknown if letter not in values]
    findings = []
    if free:
        which = listed(sorted(set(free) - set(partly)) or free, "or")
        findings.append(because("not-fixed", letters=listed(free), which=f"one that fixes {which}"))
    for letter, value in values.items():
        is_odd = (value < 0 and not allow_negative) or (
            letter in counts and (value.denominator != 1 or value < 1)
        )
        if is_odd:
            why = said[forced[letter]]
            findings.append(
                because("impossible-value", letter=letter, value=str(value), forced=f"Forced by: {why}.")
            )
    return Inverse(values, partly, rounded, tuple(findings))
