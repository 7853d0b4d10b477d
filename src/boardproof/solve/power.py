"""Powers, heat and efficiency: sums over the parts as they are; no equivalent is used."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from boardproof.algebra.polynomial import RationalFunction
from boardproof.solve.arithmetic import Number, total
from boardproof.solve.flow import Flow
from boardproof.solve.ill_posed import NoAnswer, because
from boardproof.solve.places import sure, valueless

__all__ = ["Powers"]


class Powers(Flow):
    """What the parts of one circuit take and give in a second."""

    def power(self, path: str) -> Number:
        """P.d. times current: out of a cell or group with cells, into anything else."""
        return self.pd(path) * self.current(path)

    def _over_branches(self, path: str, each: Callable[[int], Number]) -> Number:
        """A sum over the branches of a part or group, for one of the alike ones."""
        site = self._site(path)
        value = total([each(place) for place in site.branches])
        counts = (*site.in_series, *site.in_parallel)
        return value / self._share(counts) if counts else value

    def heat(self, path: str) -> Number:
        """Sum of I^2 r over the parts as they are; no equivalent is used."""
        return self._over_branches(path, self._heat)

    def _heat(self, place: int) -> Number:
        line = self.solved.lines[place]
        if self.numbers.is_zero(line.a) or self.numbers.is_zero(line.b):
            return self.numbers.plain(Fraction(0))
        flow = sure(self.solved.flow(place))
        return flow * flow * line.resistance

    def power_given(self, path: str) -> Number:
        """Sum of E I over the cells; a cell that is charged counts negative."""
        return self._over_branches(path, self._emf_power)

    def _emf_power(self, place: int) -> Number:
        line = self.solved.lines[place]
        if self.numbers.is_zero(line.a) or self.numbers.is_zero(line.c):
            return self.numbers.plain(Fraction(0))
        return sure(self.solved.flow(place)) * line.emf

    def efficiency(self, path: str) -> Number:
        """Power out over the power given by the cells that drive."""
        given = self._over_branches(path, lambda place: self._driven(place, path))
        if self.numbers.is_zero(given):
            raise NoAnswer(
                because("no-such-quantity", what=f"the efficiency of {path}", reason="no cell in it drives")
            )
        return self.power(path) / given

    def _driven(self, place: int, path: str) -> Number:
        """E I of a cell that drives, else nought."""
        given = self._emf_power(place)
        if isinstance(given, Fraction):
            return max(given, Fraction(0))
        if isinstance(given, RationalFunction):
            if given.is_zero or given.one_signed < 0:
                return Fraction(0)
            if given.one_signed == 0 and self.way == "exact":
                raise NoAnswer(valueless(given, f"the efficiency of {path}"))
            if given.one_signed == 0:
                raise NoAnswer(
                    because("unlike-cells", what=f"The efficiency of {path}", mend="Ask with values.")
                )
            return given
        return given * (given > 0)
