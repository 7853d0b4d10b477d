"""Where a step of an argument stands: its names, and what is imagined in the circuit just now."""

from __future__ import annotations

from dataclasses import dataclass

from boardproof.algebra.expression import Expression
from boardproof.circuit.model import Circuit, CircuitId
from boardproof.circuit.quantity import QuantityRef
from boardproof.derive.naming import Naming

__all__ = ["Stage"]


@dataclass(frozen=True)
class Stage:
    """The same names with something imagined in the circuit: `short` or `no emf in`."""

    names: Naming
    imagined: Circuit | None = None

    @property
    def circuit(self) -> Circuit:
        """The circuit at hand."""
        return self.names.circuit

    def means(self, name: str) -> QuantityRef | Expression | None:
        """As the names say."""
        return self.names.means(name)

    def circuit_of(self, circuit: CircuitId) -> Circuit | None:
        """As the names say."""
        if self.imagined is not None and self.imagined.id == circuit:
            return self.imagined
        return self.names.circuit_of(circuit)
