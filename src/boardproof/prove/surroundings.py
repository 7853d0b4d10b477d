"""What the names of a line mean to the checker of arguments: read from the lesson's definitions at one place."""

from __future__ import annotations

from dataclasses import dataclass, field

from boardproof.algebra.expression import Expression
from boardproof.algebra.written import read_line
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Circuit, CircuitId
from boardproof.circuit.names import Meaning, known_names, resolve
from boardproof.circuit.quantity import QuantityRef

__all__ = ["At"]


@dataclass(frozen=True)
class At:
    """One place of a lesson.

    Parameters
    ----------
    known : Definitions
        What the lesson defines.
    circuit : Circuit
        At hand.
    imagined : Circuit or None
        Imagined just now.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> typed = Source("x", "A = cell 6 V, 1 ohm; R = resistor 11 ohm; A across R").slice()
    >>> read = read_circuit(typed)
    >>> At(read.definitions, read.at_hand).means("V_A").kind
    'pd'
    """

    known: Definitions
    circuit: Circuit
    imagined: Circuit | None = None
    decimal: str = "."
    met: dict[str, QuantityRef | Expression | None] = field(default_factory=dict, compare=False, repr=False)
    circuits: dict[CircuitId, Circuit] = field(default_factory=dict, compare=False, repr=False)

    def means(self, name: str) -> QuantityRef | Expression | None:
        """The quantity that a name means, or the expression it stands for; None if nobody knows."""
        if name not in self.met:
            self.met[name] = self._meaning(name)
        return self.met[name]

    def _meaning(self, name: str) -> QuantityRef | Expression | None:
        found = resolve(name, self.known, self.circuit, decimal=self.decimal)
        if isinstance(found, Resolved):
            self.circuits[found.ref.circuit] = found.circuit
            return found.ref
        if not isinstance(found, Meaning):
            return None
        names = known_names(self.known, self.circuit)
        line, _ = read_line(found.let.body, known=names, decimal=self.decimal)
        return line.bare[0] if line is not None and line.bare else None

    def circuit_of(self, circuit: CircuitId) -> Circuit | None:
        """The circuit with this hash, if a name spoke of it or it is at hand."""
        if circuit in self.circuits:
            return self.circuits[circuit]
        return self.circuit if circuit == self.circuit.id else None
