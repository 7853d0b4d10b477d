"""Which quantity of which circuit a name or phrase means."""

from __future__ import annotations

from typing import Literal

from boardproof.circuit.model import CircuitId
from boardproof.record import record

__all__ = ["QuantityKind", "QuantityRef"]

QuantityKind = Literal[
    "letter",
    "count",
    "emf",
    "resistance",
    "capacitance",
    "current",
    "pd",
    "potential",
    "terminal_pd",
    "lost_volts",
    "short_circuit_current",
    "power",
    "power_given",
    "power_out",
    "heat",
    "greatest_power",
    "efficiency",
    "charge",
    "energy",
    "time_constant",
    "cells_in",
    "value_that_makes",
    "as_read",
]


@record
class QuantityRef:
    """A quantity of a circuit.

    Parameters
    ----------
    kind : QuantityKind
        What is meant. "letter": a letter that parts carry (`of` holds the letter itself); "count": a letter count.
    of : tuple of str
        Paths of the parts or groups; two node names for "pd" between nodes; the statement for "value_that_makes"
        (letter first); the name for "as_read".
    circuit : CircuitId
        In which circuit, after all changes.
    sense : +1 or -1
        -1 if the other direction is meant (``current in -B``).
    """

    kind: QuantityKind
    of: tuple[str, ...]
    circuit: CircuitId
    sense: int = 1
