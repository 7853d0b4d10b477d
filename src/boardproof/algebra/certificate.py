"""Proofs that a polynomial is nowhere negative for positive letters: exact, and short enough to be shown.

A polynomial is nowhere negative if it is a sum, with positive numbers before them, of terms, of arithmetic less
geometric means ``u + v - 2 m`` (with u v = m m, so a square of real roots), and of the hypotheses times terms. The
numbers come from one linear programme, are rounded to fractions, and the sum is checked exactly.

Notes
-----
Binomial squares are the special case of two terms of the "sums of arithmetic-geometric exponentials" of
V. Chandrasekaran and P. Shah, SIAM Journal on Optimization 26 (2016).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from fractions import Fraction
from itertools import combinations

from boardproof.algebra.letter_order import natural
from boardproof.algebra.polynomial import RationalFunction
from boardproof.record import record

__all__ = ["Certificate", "by_order", "by_squares"]

Monomial = tuple[int, ...]
Poly = dict[Monomial, Fraction]
COLUMNS_AT_MOST = 3000


@record
class Certificate:
    """A proof that a polynomial is at least nought.

    Parameters
    ----------
    strict : bool
        Whether it shows that the polynomial is above nought.
    text : str
        One readable line.
    """

    strict: bool
    text: str


def _poly(function: RationalFunction, letters: Sequence[str]) -> Poly:
    place = {letter: position for position, letter in enumerate(letters)}
    result: Poly = {}
    for powers, number in function.terms():
        exponents = [0] * len(letters)
        for letter, power in powers.items():
            exponents[place[letter]] = power
        result[tuple(exponents)] = Fraction(number)
    return result


def by_squares(
    polynomial: RationalFunction, given: Sequence[RationalFunction] = (), *, weak: Collection[str] = ()
) -> Certificate | None:
    """A proof by squares and hypotheses, or None if none was found.

    Parameters
    ----------
    polynomial : RationalFunction
        To be shown at least nought for positive letters.
    given : sequence of RationalFunction
        Polynomials that are above nought by hypothesis.
    weak : collection of str
        Letters that may be nought.

    Examples
    --------
    >>> x, y, z = (RationalFunction.letter(name) for name in "xyz")
    >>> by_squares(x**2 + y**2 + z**2 - x*y - y*z - z*x).strict
    False
    """
    letters = sorted(
        {*polynomial.letters, *(letter for each in given for letter in each.letters)}, key=natural
    )
    wanted = _poly(polynomial, letters)
    blocks = [*_means(wanted), *_hypotheses(wanted, [_poly(each, letters) for each in given])]
    if not blocks or len(blocks) > COLUMNS_AT_MOST:
        return None
    numbers = _programme(wanted, [block for block, _ in blocks])
    if numbers is None:
        return None
    for bound in (1, 2, 12, 60, 5040):
        chosen = [Fraction(number).limit_denominator(bound) for number in numbers]
        rest = dict(wanted)
        for number, (block, _) in zip(chosen, blocks, strict=True):
            for monomial, each in block.items() if number else ():
                rest[monomial] = rest.get(monomial, Fraction(0)) - number * each
        if all(each >= 0 for each in rest.values()):
            used = [strict for number, (_, strict) in zip(chosen, blocks, strict=True) if number > 0]
            above = [monomial for monomial, each in rest.items() if each > 0]
            strict = any(used) or any(not _holds(monomial, letters, weak) for monomial in above)
            kind = "squares and the hypotheses" if any(used) else "squares"
            return Certificate(strict, f"It is a sum of {kind}, with positive numbers before them.")
    return None


def _holds(monomial: Monomial, letters: Sequence[str], wanted: Collection[str]) -> bool:
    """Whether a term holds one of the wanted letters."""
    return any(power and letter in wanted for power, letter in zip(monomial, letters, strict=True))


def _means(wanted: Poly) -> list[tuple[Poly, bool]]:
    """``u + v - 2 m`` for each negative term m and each pair of positive terms (or their means) around it."""
    support = set(wanted)
    blocks: list[tuple[Poly, bool]] = []
    done: set[tuple[Monomial, Monomial]] = set()
    queue = [monomial for monomial, number in wanted.items() if number < 0]
    for middle in queue:
        for one in support:
            other = tuple(2 * m - u for m, u in zip(middle, one, strict=True))
            pair = (min(one, other), max(one, other))
            if one == middle or min(other, default=0) < 0 or pair in done:
                continue
            if other not in support and sum(other) > max(map(sum, support)):
                continue
            done.add(pair)
            blocks.append(({one: Fraction(1), other: Fraction(1), middle: Fraction(-2)}, False))
    return blocks


def _hypotheses(wanted: Poly, given: Sequence[Poly]) -> list[tuple[Poly, bool]]:
    """Every hypothesis times every term that brings one of its terms onto one of the polynomial's."""
    blocks: list[tuple[Poly, bool]] = []
    for each in given:
        factors = {
            tuple(a - b for a, b in zip(target, own, strict=True)) for target in wanted for own in each
        }
        for factor in sorted(factor for factor in factors if min(factor, default=0) >= 0):
            block = {
                tuple(a + b for a, b in zip(own, factor, strict=True)): number for own, number in each.items()
            }
            blocks.append((block, True))
    return blocks


def _programme(wanted: Poly, blocks: Sequence[Poly]) -> list[float] | None:
    """Numbers that leave no term negative, by linear programming; None if there are none."""
    import numpy as np  # slow to load, and needed only where simpler proofs fail
    from scipy.optimize import linprog  # slow to load (0.3 s), likewise

    terms = sorted({*wanted, *(monomial for block in blocks for monomial in block)})
    rows = {monomial: place for place, monomial in enumerate(terms)}
    matrix = np.zeros((len(rows), len(blocks)))
    for column, block in enumerate(blocks):
        for monomial, number in block.items():
            matrix[rows[monomial], column] = float(number)
    bound = np.array([float(wanted.get(monomial, 0)) for monomial in rows])
    found = linprog(np.ones(len(blocks)), A_ub=matrix, b_ub=bound, method="highs")
    return [float(number) for number in found.x] if found.status == 0 else None


def by_order(polynomial: RationalFunction, *, depth: int = 3, tries: int = 60) -> Certificate | None:
    """A proof by cases: which of two letters is the larger, the larger written as the smaller and a rest.

    Parameters
    ----------
    polynomial : RationalFunction
        To be shown at least nought for positive letters.
    depth : int
        How many pairs are compared, one inside the other.
    tries : int
        How many cases are looked at in all.

    Examples
    --------
    >>> x, y = RationalFunction.letter("x"), RationalFunction.letter("y")
    >>> by_order(x**3 + y**3 - x**2*y - x*y**2) is not None
    True
    """
    budget = [tries]
    cases: list[str] = []
    if not _cases(polynomial, depth, budget, cases):
        return None
    return Certificate(False, "With " + ", and with ".join(cases) + " written out, no term is subtracted.")


def _cases(polynomial: RationalFunction, depth: int, budget: list[int], cases: list[str]) -> bool:
    if polynomial.is_zero or polynomial.one_signed > 0:
        return True
    budget[0] -= 1
    if depth == 0 or budget[0] < 0:
        return False
    letters = sorted((letter for letter in polynomial.letters if not letter.startswith("δ")), key=natural)
    # Like with like first: two resistances before a resistance and an EMF.
    pairs = sorted(combinations(letters, 2), key=lambda pair: pair[0][0] != pair[1][0])
    for larger, smaller in pairs[:6]:
        mark = len(cases)
        rest = RationalFunction.letter(f"δ{depth}")
        if all(
            _cases(polynomial.substitute({x: RationalFunction.letter(y) + rest}), depth - 1, budget, cases)
            for x, y in ((larger, smaller), (smaller, larger))
        ):
            cases.append(f"{larger} against {smaller}")
            return True
        del cases[mark:]
    return False
