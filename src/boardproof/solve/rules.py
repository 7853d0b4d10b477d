"""What each kind of quantity means in a circuit: one rule a kind, whatever numbers are.

Currents and p.d.s are `flow`'s, powers are `power`'s; here stand letters, counts, and a group seen from its ends.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from boardproof.circuit.model import Family, Leaf
from boardproof.findings import Finding
from boardproof.quantities import Dimension
from boardproof.solve.arithmetic import Number, total
from boardproof.solve.charge import capacitance_between
from boardproof.solve.find import cells_in, parts_of
from boardproof.solve.ill_posed import NoAnswer, because
from boardproof.solve.line import Line
from boardproof.solve.places import meaningless, sure
from boardproof.solve.power import Powers
from boardproof.solve.reduce import reduced_item

__all__ = ["DIMENSIONS", "RULES", "Rules"]

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


class Rules(Powers):
    """The rules for one circuit, one a kind of quantity."""

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

    def lost_volts(self, path: str) -> Number:
        """EMF less terminal p.d."""
        return self.resistance(path) * self.current(path)

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
        return sure(capacitance_between(self._alone(found.item), self.numbers, found.path))

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
        return self._over_branches(path, lambda place: sure(self.charges.energy(place)))

    def time_constant(self, path: str) -> Number:
        """Of a capacitor that has one: C times the resistance it looks into."""
        site = self._site(path)
        if not site.is_part:
            raise NoAnswer(meaningless(f"the time constant of {path}", "it is no single capacitor"))
        return sure(self.charges.time_constant(site.branches[0]))

    def unread(self, *of: str) -> Number:
        """What only the readings of a table or a statement can fix."""
        raise NoAnswer(
            because("no-such-quantity", what=" ".join(of), reason="the circuit alone does not fix it")
        )


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
