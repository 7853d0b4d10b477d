"""What *equivalent* says: the same terminal p.d. for every current."""

from __future__ import annotations

from collections.abc import Iterator

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Item, has_cells, leaves
from boardproof.prove.eliminate import ONE, Poly, added, scaled, times
from boardproof.prove.equations import Equations
from boardproof.prove.rules import Scope
from boardproof.prove.wiring import Entry

__all__ = ["compared"]


def compared(premise: Poly, argument: Equations, line: Poly) -> Iterator[Poly]:
    """A premise V = ... holds for every current, so it is compared with V = E - I r power by power of I.

    Only where no letter or unknown of the load stands in it.

    Parameters
    ----------
    premise : Poly
        A line, nought.
    argument : Equations
        Its unknowns and circuits.
    line : Poly
        What is to be shown; only groups whose EMF or resistance stands in it are compared.

    Yields
    ------
    Poly
        What stands before each power of the current; nought.
    """
    wanted = {unknown for monomial in line for unknown in monomial}
    for scope in argument.scopes.values():
        for entry in scope.wired.entries.values():
            own = _own_unknowns(entry.item, argument)
            if not (wanted & own) or not has_cells(entry.item):
                continue
            yield from _compared(premise, scope, entry, own)


def _own_unknowns(item: Item, argument: Equations) -> set[int]:
    numbers = argument.unknowns.numbers
    keys = [("emf", item), ("resistance", item)]
    return {numbers[key] for key in keys if key in numbers}


def _compared(premise: Poly, scope: Scope, entry: Entry, own: set[int]) -> Iterator[Poly]:
    pd, current = scope.pd(entry), scope.current(entry)
    resistance = scope.resistance(entry.item)
    if len(pd) != 1 or len(current) != 1 or resistance is None:
        return
    (voltage,), (flow,) = next(iter(pd)), next(iter(current))
    constants = {
        number
        for key, number in scope.unknowns.numbers.items()
        if isinstance(key, tuple) and key[0] in ("emf", "resistance", "short", "one over")
    }
    if not {unknown for monomial in premise for unknown in monomial} <= constants | own | {voltage, flow}:
        return
    letters = {worth.letter for leaf in leaves(entry.item) for worth in leaf.part.worths()}
    letters |= _counts(entry.item)
    if not {letter for number in premise.values() for letter in number.letters} <= letters:
        return
    # pd and current may be counted against the group's own directions: -1 before the unknown turns them.
    worth = scaled(added(scope.emf(entry.item), times(current, resistance), -ONE), pd[voltage,])
    compared: Poly = {}
    for monomial, number in premise.items():
        rest = tuple(each for each in monomial if each != voltage)
        term: Poly = {rest: number}
        for _ in range(len(monomial) - len(rest)):
            term = times(term, worth)
        compared = added(compared, term)
    by_power: dict[int, dict[tuple[int, ...], RationalFunction]] = {}
    for monomial, number in compared.items():
        power = monomial.count(flow)
        by_power.setdefault(power, {})[tuple(each for each in monomial if each != flow)] = number
    yield from by_power.values()


def _counts(item: Item) -> set[str]:
    return {run.count for run in getattr(item, "runs", ()) if isinstance(run.count, str)}
