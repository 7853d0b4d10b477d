"""Where the parts of a circuit are: its branches, the ends of a group, one of several alike."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import Circuit, CircuitId, Item
from boardproof.circuit.network import FlatNetwork
from boardproof.findings import Finding
from boardproof.solve.arithmetic import Arithmetic, Number, Way
from boardproof.solve.charge import Charges
from boardproof.solve.find import Found, Site, find, site_of
from boardproof.solve.ill_posed import NoAnswer, because, listed
from boardproof.solve.network import Solved

__all__ = ["Places", "meaningless", "sure", "valueless"]


def sure(answer: Number | Finding) -> Number:
    """The answer, or the end of this question with its reason.

    Parameters
    ----------
    answer : number or Finding
        What the solver gave.

    Raises
    ------
    NoAnswer
        With the finding.
    """
    if isinstance(answer, Finding):
        raise NoAnswer(answer)
    return answer


class Places:
    """One circuit with its parts; what answers have in common is worked out once.

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

    def _found(self, path: str) -> Found:
        found = find(self._whole.item, path)
        if found is None:
            raise NoAnswer(because("no-such-quantity", what=path, reason="it is not in this circuit"))
        return found

    def _ends(self, path: str) -> tuple[int, int]:
        ends = self._site(path).ends
        if ends is None:
            raise NoAnswer(meaningless(path, "it has no two ends"))
        return ends

    def _alone(self, item: Item) -> FlatNetwork:
        return lay_flat(Circuit(item, self._whole.values))

    def _share(self, counts: tuple[Any, ...]) -> Number:
        return self.numbers.count(counts)

    def _site(self, path: str) -> Site:
        if path not in self._sites:
            self._sites[path] = site_of(self._found(path), path, self.flat)
        return self._sites[path]


def meaningless(what: str, reason: str) -> Finding:
    """Why a quantity means nothing for a thing.

    Parameters
    ----------
    what, reason : str
        The quantity in words, and what stands against it.
    """
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
