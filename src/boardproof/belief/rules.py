"""What a wrong belief computes on a circuit: exact, in letters, for any group of cells and its load.

Each rule gives what its believer would write for a quantity; several values where the belief leaves a choice ("the
strongest wins" with letters only). Rules are those of the catalogue; a belief without a rule computes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.group import Group, Member, group_of
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.quantity import QuantityKind
from boardproof.record import record

__all__ = ["RULED", "believed", "fitting"]

Values = tuple[RationalFunction, ...]
ZERO: Final = RationalFunction.constant(0)


@record
class _Said:
    """What a belief says of one group: its EMF and resistance, or a current, p.d. or power; empty: as it is."""

    emf: Values = ()
    resistance: Values = ()
    current: Values = ()
    pd: Values = ()
    power: Values = ()
    short: Values = ()


def _sum(group: Group, what: Callable[[Member], RationalFunction]) -> RationalFunction:
    return sum((each.count * what(each) for each in group.members), ZERO)


def _each(group: Group, what: Callable[[Member], RationalFunction]) -> Values:
    return tuple(dict.fromkeys(what(each) for each in group.members))


def _emfs(group: Group) -> RationalFunction:
    return _sum(group, lambda each: each.emf * each.sign)


def _upright(group: Group) -> Group:
    return Group(
        group.joined, tuple(Member(m.emf, m.resistance, 1, m.count) for m in group.members), group.load
    )


def _kept(group: Group) -> Group:
    return Group(group.joined, tuple(m for m in group.members if m.sign > 0), group.load)


def _as_group(group: Group) -> _Said:
    return _Said(emf=(group.emf,), resistance=(group.resistance,)) if group.members else _Said()


def _taken_away(group: Group) -> _Said:
    """The resistance of a turned cell counted as below nought."""
    if group.joined == "series":
        return _Said(resistance=(_sum(group, lambda m: m.resistance * m.sign),))
    under = _sum(group, lambda m: RationalFunction.constant(m.sign) / m.resistance)
    return _Said(resistance=() if under.is_zero else (1 / under,))


def _on_load(group: Group, current: Callable[[RationalFunction], RationalFunction]) -> _Said:
    """A belief about the current in the load, which stands at the terminals."""
    if group.load is None:
        return _Said()
    found = current(group.load)
    return _Said(current=(found,), pd=(found * group.load,))


def _bank(group: Group, counts: Callable[[Group], tuple[RationalFunction, RationalFunction]]) -> _Said:
    emf, resistance = counts(group)
    return _Said(emf=(emf,), resistance=(resistance,))


def _product_over_sum(group: Group) -> Values:
    if len(group.members) != 3:
        return ()
    product = RationalFunction.constant(1)
    for each in group.members:
        product = product * each.resistance
    return (product / _sum(group, lambda m: m.resistance),)


def _kept_current(group: Group) -> _Said:
    if group.load is None:
        return _Said()
    load = group.load
    return _Said(current=_each(group, lambda m: m.emf / (load + m.resistance)))


PARALLEL: Final[Mapping[str, Callable[[Group], _Said]]] = {
    "parallel_adds_emfs": lambda g: _Said(emf=(_emfs(g),)),
    "parallel_plain_mean": lambda g: _Said(emf=(_emfs(g) / g.count,)),
    "parallel_strongest_wins": lambda g: _Said(emf=_each(g, lambda m: m.emf)),
    "parallel_weights_upside_down": lambda g: _Said(
        emf=(_sum(g, lambda m: m.emf * m.sign * m.resistance) / _sum(g, lambda m: m.resistance),)
    ),
    "parallel_adds_r": lambda g: _Said(resistance=(_sum(g, lambda m: m.resistance),)),
    "parallel_r_not_turned_over": lambda g: _Said(resistance=(_sum(g, lambda m: 1 / m.resistance),)),
    "reciprocal_forgotten": lambda g: _Said(resistance=(_sum(g, lambda m: 1 / m.resistance),)),
    "parallel_r_mean_over_n": lambda g: _Said(
        resistance=(_sum(g, lambda m: m.resistance) / g.count / g.count,)
    ),
    "parallel_r_unchanged": lambda g: _Said(resistance=_each(g, lambda m: m.resistance)),
    "product_over_sum_of_three": lambda g: _Said(resistance=_product_over_sum(g)),
    "solo_currents_added": lambda g: _on_load(g, lambda R: _sum(g, lambda m: m.emf * m.sign / (R + m.resistance))),
    "n_cells_n_times_current": lambda g: _on_load(
        g, lambda R: g.count * g.members[0].emf / (R + g.members[0].resistance)
    ),
    "turned_in_parallel_just_subtracts": lambda g: _Said(emf=(_emfs(g),)),
    "series_parallel_swapped": lambda g: _Said(
        emf=(_emfs(g),), resistance=(_sum(g, lambda m: m.resistance),)
    ),
}  # fmt: skip
SERIES: Final[Mapping[str, Callable[[Group], _Said]]] = {
    "series_r_not_added": lambda g: _Said(emf=(_emfs(g),), resistance=_each(g, lambda m: m.resistance)),
    "series_adds_currents": lambda g: _Said(short=(_sum(g, lambda m: m.emf * m.sign / m.resistance),)),
    "series_keeps_current": _kept_current,
    "series_parallel_swapped": lambda g: _as_group(Group("parallel", g.members, g.load)),
}
TURNED: Final[Mapping[str, Callable[[Group], _Said]]] = {
    "turned_cell_not_noticed": lambda g: _as_group(_upright(g)),
    "turned_cell_vanishes": lambda g: _as_group(_kept(g)),
    "turned_cell_takes_r_away": _taken_away,
}
BANKS: Final[Mapping[str, Callable[[Group], _Said]]] = {
    "bank_counts_swapped": lambda g: _bank(
        g, lambda g: (g.across * g.members[0].emf, g.across * g.members[0].resistance / g.along)
    ),
    "bank_r_from_one_row": lambda g: _bank(
        g, lambda g: (g.along * g.members[0].emf, g.along * g.members[0].resistance)
    ),
    "bank_r_all_added": lambda g: _bank(
        g, lambda g: (g.along * g.members[0].emf, g.along * g.across * g.members[0].resistance)
    ),
}
LOADED: Final[Mapping[str, Callable[[Group], _Said]]] = {
    "terminal_pd_is_emf": lambda g: _Said(pd=(g.emf,)),
    "emf_divided_by_load": lambda g: _on_load(g, lambda R: g.emf / R),
    "load_left_out": lambda g: _on_load(g, lambda _: g.emf / g.resistance),
    "lost_volts_added": lambda g: _Said() if g.load is None else _Said(
        pd=(g.emf + g.emf / (g.load + g.resistance) * g.resistance,)
    ),
    "r_put_beside_load": lambda g: _on_load(g, lambda R: g.emf * (R + g.resistance) / (R * g.resistance)),
    "all_power_reaches_load": lambda g: _Said() if g.load is None else _Said(
        power=(g.emf * g.emf / (g.load + g.resistance), g.emf * g.emf / g.load)
    ),
    "loaded_reading_is_emf": lambda g: _Said() if g.load is None else _Said(
        emf=(g.emf * g.load / (g.load + g.resistance),), pd=(g.emf,)
    ),
    "r_is_v_over_i": lambda g: _Said() if g.load is None else _Said(resistance=(g.load,)),
}  # fmt: skip
RULED: Final = frozenset({*PARALLEL, *SERIES, *TURNED, *BANKS, *LOADED})
FIELDS: Final[Mapping[QuantityKind, str]] = {
    "emf": "emf", "resistance": "resistance", "current": "current", "pd": "pd", "terminal_pd": "pd", "power": "power",
    "short_circuit_current": "short",
}  # fmt: skip


def _rules_for(group: Group) -> Mapping[str, Callable[[Group], _Said]]:
    found = dict(LOADED)
    if group.joined == "bank":
        return {**found, **BANKS}
    found |= PARALLEL if group.joined == "parallel" else SERIES if group.joined == "series" else {}
    return {**found, **TURNED} if any(each.sign < 0 for each in group.members) else found


def believed(belief: str, quantity: Resolved) -> Values:
    """What a believer would write for a quantity.

    Parameters
    ----------
    belief : str
        Key of the catalogue.
    quantity : Resolved
        An EMF or resistance of a group, a current or p.d. of the load.

    Returns
    -------
    tuple of RationalFunction
        In the circuit's letters; empty if the belief says nothing of it.

    Examples
    --------
    >>> from boardproof.circuit.names import resolve
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> typed = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; main = both across R"
    >>> read = read_circuit(Source("x", typed).slice())
    >>> believed("parallel_plain_mean", resolve("E_both", read.definitions, read.at_hand))
    ((E_1 + E_2)/(2),)
    """
    group = group_of(quantity)
    field = FIELDS.get(quantity.ref.kind)
    if group is None or field is None:
        return ()
    rule = _rules_for(group).get(belief)
    if rule is None:
        return ()
    said = rule(group)
    direct: Values = getattr(said, field)
    if direct or field not in {"current", "pd", "power", "short"} or not (said.emf or said.resistance):
        return direct
    return _through(said, group, field)


def _through(said: _Said, group: Group, field: str) -> Values:
    """A current, p.d. or power worked out rightly from a wrong EMF or resistance."""
    found = []
    for emf in said.emf or (group.emf,):
        for resistance in said.resistance or (group.resistance,):
            if field == "short":
                found.append(emf / resistance)
            elif group.load is not None and not (group.load + resistance).is_zero:
                current = emf / (group.load + resistance)
                drop = current * group.load
                found.append({"current": current, "pd": drop, "power": current * drop}[field])
    return tuple(found)


def fitting(value: RationalFunction, quantity: Resolved) -> tuple[str, ...]:
    """Beliefs that would give this value for a quantity.

    Parameters
    ----------
    value : RationalFunction
        In the circuit's letters.
    quantity : Resolved
        As in `believed`.
    """
    return tuple(belief for belief in sorted(RULED) if value in believed(belief, quantity))
