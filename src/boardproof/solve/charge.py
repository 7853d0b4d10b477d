"""Capacitors in the steady state: p.d.s where only stored charge fixes them, capacitance of a group, energy.

No charge can leave a piece that only capacitors tie to the rest, so the charges on its plates keep their sum. That is
the junction rule with charge for current, and the same solver serves: a capacitor is ``C p + q = C p_0``.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cached_property

from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.findings import Finding
from boardproof.solve.arithmetic import Arithmetic, Number
from boardproof.solve.ill_posed import because
from boardproof.solve.laplace import decay
from boardproof.solve.line import Line
from boardproof.solve.network import Solved
from boardproof.solve.reduce import line_between

__all__ = ["Charges", "capacitance_between", "capacitance_of"]

NOUGHT, ONE = Fraction(0), Fraction(1)


def capacitance_of(branch: Branch, numbers: Arithmetic) -> Number | None:
    """Of all the alike capacitors that a branch stands for; None if it is no working capacitor.

    Parameters
    ----------
    branch : Branch
        Any branch.
    numbers : Arithmetic
        Gives the letters.

    Examples
    --------
    >>> capacitance_of(Branch(None, "short:A", 0, 1), Arithmetic("exact")) is None
    True
    """
    if branch.leaf is None or branch.is_open or branch.leaf.part.kind != "capacitor":
        return None
    own = numbers.plain(numbers.worth(branch.leaf.part.capacitance))
    if not (branch.in_parallel or branch.in_series):
        return own
    return own * numbers.count(branch.in_parallel) / numbers.count(branch.in_series)


def capacitance_between(flat: FlatNetwork, numbers: Arithmetic, path: str) -> Number | Finding:
    """Capacitance between the ends of a network: resistances are wires to resting charge, EMFs are taken out.

    Parameters
    ----------
    flat : FlatNetwork
        With two ends.
    numbers : Arithmetic
        Gives the letters.
    path : str
        What to call it.

    Examples
    --------
    >>> from boardproof.circuit.lay_flat import lay_flat
    >>> from boardproof.circuit.model import Leaf, Part, Series, Worth
    >>> pair = [Leaf(name, Part(name, "capacitor", capacitance=Worth(name, Fraction(2)))) for name in "CD"]
    >>> capacitance_between(lay_flat(Series(tuple(pair))), Arithmetic("exact"), "pair")
    Fraction(1, 1)
    """
    one, nought = numbers.plain(ONE), numbers.plain(NOUGHT)
    lines = []
    for branch, line in zip(flat.branches, Solved(flat, numbers).lines, strict=True):
        own = capacitance_of(branch, numbers)
        if own is not None:
            lines.append(Line(own, one, nought))
        else:
            lines.append(Line(nought, one, nought) if numbers.is_zero(line.a) else Line(one, nought, nought))
    if flat.outside is None:
        return because("no-such-quantity", what=f"the capacitance of {path}", reason="it has no two ends")
    whole = line_between(flat, numbers, *flat.outside, lines)
    if isinstance(whole, Finding):
        return whole
    if numbers.is_zero(whole.a) or numbers.is_zero(whole.b):
        return because("no-such-quantity", what=f"the capacitance of {path}", reason="it is no capacitor")
    return whole.a / whole.b


class Charges:
    """Steady p.d.s, where resting charge may be what fixes them.

    Parameters
    ----------
    solved : Solved
        The circuit without its capacitors.
    initial : mapping of str to number
        P.d. across each capacitor when the circuit was closed, plus at its first end, by path; nought if left out.
    """

    def __init__(self, solved: Solved, initial: Mapping[str, Number] | None = None) -> None:
        """Take note; work starts with the first question that needs it."""
        self.solved, self.numbers, self.initial = solved, solved.numbers, initial or {}

    def rise(self, place: int) -> Number | Finding:
        """Potential at a branch's head less that at its tail."""
        known = self.solved.rise(place)
        return self._resting.rise(place) if self._is_loose(known) else known

    def between(self, last: int, first: int) -> Number | Finding:
        """Potential of node `last` less that of node `first`."""
        known = self.solved.between(last, first)
        return self._resting.between(last, first) if self._is_loose(known) else known

    def energy(self, place: int) -> Number | Finding:
        """C V^2/2 in a branch; nought if it is no capacitor."""
        own = self.capacitances[place]
        if own is None:
            return self.solved.nought
        rise = self.rise(place)
        return rise if isinstance(rise, Finding) else own * rise * rise / 2

    def time_constant(self, place: int) -> Number | Finding:
        """Of a capacitor whose p.d. settles with a single one."""
        if self.capacitances[place] is None or not self.numbers.has_letters:
            return because(
                "no-such-quantity", what="a time constant", reason="it is no capacitor, or many cases"
            )
        return decay(self.solved, self.capacitances, place)

    @cached_property
    def capacitances(self) -> tuple[Number | None, ...]:
        """Of each branch; None where there is no capacitor."""
        return tuple(capacitance_of(branch, self.numbers) for branch in self.solved.flat.branches)

    def _is_loose(self, known: Number | Finding) -> bool:
        return (
            isinstance(known, Finding)
            and known.kind.code == "floating-part"
            and any(own is not None for own in self.capacitances)
        )

    @cached_property
    def _resting(self) -> Solved:
        """The circuit of resting charge: each piece is held together by the p.d.s that are known in it."""
        one, nought = self.numbers.plain(ONE), self.numbers.plain(NOUGHT)
        held = set(self.solved.trusted.came_by)
        lines = []
        for place, own in enumerate(self.capacitances):
            if own is not None:
                before = self.initial.get(self.solved.flat.branches[place].path)
                lines.append(Line(own, one, nought if before is None else -(own * before)))
            elif place in held:
                lines.append(Line(one, nought, self.solved.rise(place)))
            else:
                lines.append(Line(nought, one, nought))
        return Solved(self.solved.flat, self.numbers, lines)
