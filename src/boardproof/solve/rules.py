"""What each kind of quantity means in a circuit: one rule a kind, whatever numbers are.

Signs: a cell's current leaves its own plus, a group's its plus end; the p.d. of either is plus end less minus end; of
anything else both run in its counting direction. Efficiency and heat are those of the cells as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cached_property
from typing import Any, Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.change import done_to
from boardproof.circuit.count import whole
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import Circuit, CircuitId, Copies, Family, Item, Leaf
from boardproof.circuit.network import FlatNetwork
from boardproof.findings import Finding
from boardproof.quantities import Dimension
from boardproof.solve.arithmetic import Arithmetic, Number, Way, total
from boardproof.solve.charge import Charges, capacitance_between
from boardproof.solve.find import Found, Site, cells_in, find, parts_of, site_of
from boardproof.solve.ill_posed import NoAnswer, because, listed
from boardproof.solve.line import Line, general_member, line_of_part
from boardproof.solve.network import Solved
from boardproof.solve.reduce import reduced_item

__all__ = ["DIMENSIONS", "RULES", "Rules", "valueless"]

VOLT, AMPERE, SECOND = Dimension(volt=1), Dimension(ampere=1), Dimension(second=1)
WATT = VOLT * AMPERE
DIMENSIONS: Final[Mapping[str, Dimension]] = {
    "count": Dimension(),
    "cells_in": Dimension(),
    "efficiency": Dimension(),
    "emf": VOLT,
    "pd": VOLT,
    "potential": VOLT,
    "terminal_pd": VOLT,
    "lost_volts": VOLT,
    "resistance": VOLT / AMPERE,
    "capacitance": AMPERE * SECOND / VOLT,
    "current": AMPERE,
    "short_circuit_current": AMPERE,
    "power": WATT,
    "power_given": WATT,
    "power_out": WATT,
    "heat": WATT,
    "greatest_power": WATT,
    "charge": AMPERE * SECOND,
    "energy": WATT * SECOND,
    "time_constant": SECOND,
}


def _sure(answer: Number | Finding) -> Number:
    if isinstance(answer, Finding):
        raise NoAnswer(answer)
    return answer


class Rules:
    """The rules for one circuit; what they have in common is worked out once.

    Parameters
    ----------
    circuit : Circuit
        With every change in force.
    numbers : Arithmetic
        How to calculate.
    solved : Solved or None
        Currents and p.d.s of another moment than the steady state.
    """

    def __init__(self, circuit: Circuit, numbers: Arithmetic, solved: Solved | None = None) -> None:
        """Take note; work starts with the first question."""
        self._whole, self.numbers, self._given = circuit, numbers, solved
        self.way: Way = numbers.way
        self._sites: dict[str, Site] = {}

    @cached_property
    def circuit(self) -> CircuitId:
        """Which circuit, after all changes."""
        return self._whole.id

    @cached_property
    def flat(self) -> FlatNetwork:
        """The circuit laid flat."""
        return lay_flat(self._whole)

    @cached_property
    def solved(self) -> Solved:
        """Currents and p.d.s of its branches."""
        return self._given or Solved(self.flat, self.numbers)

    @cached_property
    def charges(self) -> Charges:
        """Steady p.d.s across its capacitors."""
        return Charges(self.solved)

    # -- where things are

    def _found(self, path: str) -> Found:
        found = find(self._whole.item, path)
        if found is None:
            raise NoAnswer(because("no-such-quantity", what=path, reason="it is not in this circuit"))
        return found

    def _ends(self, path: str) -> tuple[int, int]:
        ends = self._site(path).ends
        if ends is None:
            raise NoAnswer(_meaningless(path, "it has no two ends"))
        return ends

    def _alone(self, item: Item) -> FlatNetwork:
        return lay_flat(Circuit(item, self._whole.values))

    def _share(self, counts: tuple[Any, ...]) -> Number:
        return self.numbers.count(counts)

    def _site(self, path: str) -> Site:
        if path not in self._sites:
            self._sites[path] = site_of(self._found(path), path, self.flat)
        return self._sites[path]

    # -- rules, one a kind of quantity

    def letter(self, name: str) -> Number:
        """A letter that parts carry."""
        own = (
            worth.value
            for leaf, _ in parts_of(self._whole.item)
            for worth in leaf.part.worths()
            if worth.letter == name
        )
        return self.numbers.letter(name, next(own, None))

    def letter_dimension(self, name: str) -> Dimension:
        """Of a letter, by the part that carries it; none for a count."""
        for leaf, _ in parts_of(self._whole.item):
            part = leaf.part
            for kind in ("emf", "resistance", "capacitance"):
                worth = getattr(part, kind)
                if worth is not None and worth.letter == name:
                    return DIMENSIONS[kind]
        return Dimension()

    def line(self, path: str) -> Line:
        """The V-I line of a part or group by itself, plus end last."""
        step = reduced_item(self._found(path).item, self.numbers)
        if isinstance(step, Finding):
            raise NoAnswer(step)
        return step.line

    def emf(self, path: str) -> Number:
        """P.d. of a group's open ends."""
        line = self.line(path)
        if self.numbers.is_zero(line.a):
            raise NoAnswer(self._broken(path))
        return line.emf

    def resistance(self, path: str) -> Number:
        """Resistance between a group's ends, EMFs taken out."""
        line = self.line(path)
        if self.numbers.is_zero(line.a):
            raise NoAnswer(self._broken(path))
        return line.resistance

    def short_circuit_current(self, path: str) -> Number:
        """Current a group would drive through a wire."""
        line = self.line(path)
        if self.numbers.is_zero(line.b):
            raise NoAnswer(self._without_resistance(path, "its short-circuit current has no limit"))
        return line.short_circuit_current

    def greatest_power(self, path: str) -> Number:
        """Greatest power a group can give to a load: E^2/(4 r), with the load R = r."""
        line = self.line(path)
        if self.numbers.is_zero(line.a) or self.numbers.is_zero(line.b):
            raise NoAnswer(self._without_resistance(path, "the power it can give has no limit"))
        return line.c * line.c / (line.a * line.b * 4)

    def _broken(self, path: str) -> Finding:
        return because(
            "no-closed-path",
            what=f"No current can pass from one end of {path} to the other, so nothing fixes the p.d. of its ends.",
            mend="Close what is open in it.",
        )

    def _without_resistance(self, path: str, why: str) -> Finding:
        return because(
            "shorted-source", what=f"{path} has no resistance: {why}.", mend=f"Give {path} a resistance."
        )

    def capacitance(self, path: str) -> Number:
        """Of a capacitor, or of a group of capacitors seen from its ends."""
        found = self._found(path)
        return _sure(capacitance_between(self._alone(found.item), self.numbers, found.path))

    def current(self, path: str) -> Number:
        """Out of a cell's own plus, out of a group's plus end, else in the counting direction."""
        site = self._site(path)
        columns = self._columns(path)
        if columns:
            return total([self.current(column) * sign for column, sign in columns])
        if site.is_part:
            (place,) = site.branches
            branch = self.flat.branches[place]
            if isinstance(branch.leaf, Family):
                return self._member(branch.leaf, site)[0]
            flow = _sure(self.solved.flow(place))
            flow = -flow if branch.turned else flow
        else:
            flow = _sure(self.solved.inflow(self._ends(path)[1], site.driving))
        return flow / self._share(site.in_parallel) if site.in_parallel else flow

    def pd(self, path: str, other: str | None = None) -> Number:
        """Across a part or group, or from one node to another."""
        if other is not None and path in self.flat.names and other in self.flat.names:
            return self._between(self.flat.names[path], self.flat.names[other])
        site = self._site(path)
        leaf = self.flat.branches[site.branches[0]].leaf if site.is_part else None
        if isinstance(leaf, Family):
            return self._member(leaf, site)[1]
        first, last = self._ends(path)
        rise = _sure(
            self.charges.rise(site.branches[0]) if site.is_part else self.charges.between(last, first)
        )
        if site.is_part and self.flat.branches[site.branches[0]].turned:
            rise = -rise
        rise = rise if site.is_cell else -rise
        return rise / self._share(site.in_series) if site.in_series else rise

    def _columns(self, path: str) -> list[tuple[str, int]]:
        """Members of a block whose neighbours are tied to the next, as they end at nodes of their own; -1 if turned."""
        around = find(self._whole.item, path.rpartition(".")[0])
        bare = done_to(around.item)[0] if around else None
        if not (isinstance(bare, Copies) and bare.tied):
            return []
        block = done_to(self._found(path).item)[0]
        runs = block.runs if isinstance(block, Copies) else ()
        return [
            (f"{path}.{run.first + step}", -1 if "turned" in done_to(run.item)[1] else 1)
            for run in runs
            for step in range(whole(run.count, self._whole.values) or 1)
        ]

    def _member(self, family: Family, site: Site) -> tuple[Number, Number]:
        """Current and p.d. of the general member of a family, in its own letters."""
        (place,) = site.branches
        line = line_of_part(general_member(family), self.numbers)
        sign = -1 if self.flat.branches[place].turned else 1
        if family.joined == "parallel":
            rise = _sure(self.solved.rise(place)) * sign
            flow = (line.c - line.a * rise) / line.b
        else:
            flow = _sure(self.solved.flow(place)) * sign
            rise = (line.c - line.b * flow) / line.a
        return flow, rise if site.is_cell else -rise

    def _between(self, one: int, other: int) -> Number:
        return _sure(self.charges.between(one, other))

    def potential(self, node: str) -> Number:
        """Of a node, over the node that counts as zero."""
        if self._whole.zero is None or node not in self.flat.names:
            reason = (
                "no node is called so"
                if node not in self.flat.names
                else "no node is zero; write `zero at` one"
            )
            raise NoAnswer(because("no-such-quantity", what=f"the potential of {node}", reason=reason))
        return self._between(self.flat.names[node], self.flat.names[self._whole.zero])

    def lost_volts(self, path: str) -> Number:
        """EMF less terminal p.d."""
        return self.resistance(path) * self.current(path)

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
        flow = _sure(self.solved.flow(place))
        return flow * flow * line.resistance

    def power_given(self, path: str) -> Number:
        """Sum of E I over the cells; a cell that is charged counts negative."""
        return self._over_branches(path, self._emf_power)

    def _emf_power(self, place: int) -> Number:
        line = self.solved.lines[place]
        if self.numbers.is_zero(line.a) or self.numbers.is_zero(line.c):
            return self.numbers.plain(Fraction(0))
        return _sure(self.solved.flow(place)) * line.emf

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

    def count(self, letter: str) -> Number:
        """A letter count."""
        return self.numbers.count((letter,))

    def cells_in(self, path: str) -> Number:
        """How many cells a group has."""
        return total([self._many(leaf, counts) for leaf, counts in cells_in(self._found(path).item)])

    def _many(self, leaf: Leaf | Family, counts: tuple[Any, ...]) -> Number:
        alike = self.numbers.count(counts)
        if isinstance(leaf, Leaf):
            return alike
        return alike * (self.numbers.count((leaf.last,)) - (leaf.first - 1))

    def charge(self, path: str) -> Number:
        """On a capacitor in the steady state: C times its p.d."""
        return self.capacitance(path) * self.pd(path)

    def energy(self, path: str) -> Number:
        """In the capacitors of a part or group, steady state: sum of C V^2/2."""
        return self._over_branches(path, lambda place: _sure(self.charges.energy(place)))

    def time_constant(self, path: str) -> Number:
        """Of a capacitor that has one: C times the resistance it looks into."""
        site = self._site(path)
        if not site.is_part:
            raise NoAnswer(_meaningless(f"the time constant of {path}", "it is no single capacitor"))
        return _sure(self.charges.time_constant(site.branches[0]))

    def unread(self, *of: str) -> Number:
        """What only the readings of a table or a statement can fix."""
        raise NoAnswer(
            because("no-such-quantity", what=" ".join(of), reason="the circuit alone does not fix it")
        )


def _meaningless(what: str, reason: str) -> Finding:
    return because("no-such-quantity", what=what, reason=reason)


def valueless(found: RationalFunction, what: str) -> Finding:
    """Which letters would need a value for a number to come out.

    Parameters
    ----------
    found : RationalFunction
        A formula with letters left in it.
    what : str
        The quantity in words.

    Examples
    --------
    >>> valueless(RationalFunction.letter("R"), "the current in A").facts["letter"]
    'R'
    """
    return because("no-value", letter=listed(sorted(found.letters)), what=what)


RULES: Final[Mapping[str, Callable[..., Number]]] = {
    "letter": Rules.letter,
    "count": Rules.count,
    "emf": Rules.emf,
    "resistance": Rules.resistance,
    "capacitance": Rules.capacitance,
    "current": Rules.current,
    "pd": Rules.pd,
    "potential": Rules.potential,
    "terminal_pd": Rules.pd,
    "lost_volts": Rules.lost_volts,
    "short_circuit_current": Rules.short_circuit_current,
    "power": Rules.power,
    "power_given": Rules.power_given,
    "power_out": Rules.power,
    "heat": Rules.heat,
    "greatest_power": Rules.greatest_power,
    "efficiency": Rules.efficiency,
    "charge": Rules.charge,
    "energy": Rules.energy,
    "time_constant": Rules.time_constant,
    "cells_in": Rules.cells_in,
    "value_that_makes": Rules.unread,
    "as_read": Rules.unread,
}
