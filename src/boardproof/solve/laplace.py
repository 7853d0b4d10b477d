"""Circuits in time by the Laplace transform: capacitors become lines with the letter s, and one solver serves.

With F(s) for f(t), a capacitor ``i = -C dp/dt`` that starts at p_0 is ``s C P + I = C p_0``, and a steady EMF E is
E/s. What comes out is a ratio of polynomials in s whose poles are the time constants.

Notes
-----
A standard method: e.g. C. Desoer and E. Kuh, "Basic Circuit Theory", ch. 13.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from boardproof.algebra.polynomial import RationalFunction
from boardproof.findings import Finding
from boardproof.solve.arithmetic import Number
from boardproof.solve.ill_posed import because
from boardproof.solve.line import Line
from boardproof.solve.network import Solved

__all__ = ["S", "decay", "transformed"]

S = "s of Laplace"  # no letter of a lesson holds a space
ONE, NOUGHT = Fraction(1), Fraction(0)


def transformed(
    solved: Solved,
    capacitances: Sequence[Number | None],
    initial: Mapping[int, Number],
    *,
    with_sources: bool = True,
) -> Solved:
    """The circuit from the moment of switching on, transformed.

    Parameters
    ----------
    solved : Solved
        The circuit with its capacitors as breaks.
    capacitances : sequence
        Of each branch, None where there is no capacitor.
    initial : mapping of int to number
        Rise from tail to head of a capacitor at the start, by branch; nought if left out.
    with_sources : bool
        Whether the EMFs are in.

    Examples
    --------
    >>> from boardproof.circuit.network import Branch, FlatNetwork
    >>> from boardproof.solve.arithmetic import Arithmetic
    >>> loop = FlatNetwork(2, (Branch(None, "A", 0, 1), Branch(None, "C", 1, 0)), {}, {}, None)
    >>> steady = Solved(loop, Arithmetic("exact"), [Line(ONE, Fraction(2), Fraction(6)), Line(NOUGHT, ONE, NOUGHT)])
    >>> transformed(steady, [None, Fraction(3)], {}).flow(1).substitute({S: RationalFunction.letter("s")})
    (18)/(6*s + 1)
    """
    s = RationalFunction.letter(S)
    lines = []
    for place, (line, own) in enumerate(zip(solved.lines, capacitances, strict=True)):
        if own is not None:
            lines.append(Line(s * own, ONE, initial[place] * own if place in initial else NOUGHT))
        else:
            lines.append(Line(line.a, line.b, line.c / s if with_sources else NOUGHT))
    return Solved(solved.flat, solved.numbers, lines)


def decay(solved: Solved, capacitances: Sequence[Number | None], place: int) -> Number | Finding:
    """The time constant with which a capacitor's p.d. settles.

    Parameters
    ----------
    solved, capacitances
        As for `transformed`.
    place : int
        The capacitor's branch.

    Returns
    -------
    number or Finding
        In seconds; a finding if there are none or several.

    Examples
    --------
    >>> from boardproof.circuit.network import Branch, FlatNetwork
    >>> from boardproof.solve.arithmetic import Arithmetic
    >>> loop = FlatNetwork(2, (Branch(None, "A", 0, 1), Branch(None, "C", 1, 0)), {}, {}, None)
    >>> steady = Solved(loop, Arithmetic("exact"), [Line(ONE, Fraction(2), Fraction(6)), Line(NOUGHT, ONE, NOUGHT)])
    >>> decay(steady, [None, Fraction(3)], 1)
    Fraction(6, 1)
    """
    rise = transformed(solved, capacitances, {place: ONE}, with_sources=False).rise(place)
    if isinstance(rise, Finding):
        return rise
    below = rise.denominator.coefficients(S) if isinstance(rise, RationalFunction) else ()
    while len(below) > 1 and below[0].is_zero:  # what never settles
        below = below[1:]
    if len(below) != 2:
        many = "it has none" if len(below) < 2 else f"it has {len(below) - 1} of them"
        name = solved.flat.branches[place].path
        return because("no-such-quantity", what=f"the time constant of {name}", reason=many)
    found = below[1] / below[0]
    number = found.as_number
    return found if number is None else number
