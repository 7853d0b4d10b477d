"""What beliefs rank by, where a question asks for an order: resistance, place in the loop, or another quantity."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.ground import asked
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.quantity import QuantityKind

__all__ = ["order_beliefs"]

Ranks = tuple[RationalFunction, ...]
BY_RESISTANCE: Final[Mapping[str, frozenset[str]]] = {
    "bigger_resistor_always_hotter": frozenset({"power", "heat"}),
    "most_power_at_most_load": frozenset({"power"}),
    "more_resistance_more_current": frozenset({"current"}),
}
BY_PLACE: Final = {
    "current_used_up": "current",
    "nearest_gets_most": "current",
    "meter_side_matters": "current",
}
LIKE: Final[Mapping[str, tuple[QuantityKind, QuantityKind]]] = {"words_merge": ("pd", "current")}


def order_beliefs(quantities: Sequence[Resolved]) -> Mapping[str, Ranks]:
    """What each belief ranks a set of quantities by.

    Parameters
    ----------
    quantities : sequence of Resolved
        All of one kind, each of a part.

    Examples
    --------
    >>> from boardproof.circuit.names import resolve
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> typed = "A = cell E, r; P = resistor 2 ohm; Q = resistor 3 ohm; A across (P + Q)"
    >>> read = read_circuit(Source("x", typed).slice())
    >>> asked = [resolve(name, read.definitions, read.at_hand) for name in ("I_P", "I_Q")]
    >>> [str(each) for each in order_beliefs(asked)["current_used_up"]]
    ['2', '1']
    """
    kinds = {each.ref.kind for each in quantities}
    if len(kinds) != 1:
        return {}
    (kind,) = kinds
    found: dict[str, Ranks] = {}
    resistances = [_own(each) for each in quantities]
    known = tuple(each for each in resistances if each is not None)
    for belief, of in BY_RESISTANCE.items():
        if kind in of and len(known) == len(resistances):
            found[belief] = known
    count = len(quantities)
    for belief, wanted in BY_PLACE.items():
        if kind == wanted:
            found[belief] = tuple(RationalFunction.constant(count - n) for n in range(count))
    for belief, (wanted_kind, ranked_by) in LIKE.items():
        ranks = (
            [asked(each.circuit, ranked_by, *each.ref.of) for each in quantities]
            if kind == wanted_kind
            else []
        )
        if ranks and None not in ranks:
            found[belief] = tuple(each for each in ranks if each is not None)
    return found


def _own(quantity: Resolved) -> RationalFunction | None:
    path = quantity.ref.of[0] if quantity.ref.of else ""
    part = next((leaf.part for leaf in quantity.circuit.leaves if leaf.path == path), None)
    return RationalFunction.letter(part.resistance.letter) if part is not None and part.resistance else None
