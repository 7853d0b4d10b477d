"""What beliefs about wires, gaps, turned cells, signs, meters and changes compute: the right sum on a wrong circuit."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.ground import Ground, asked
from boardproof.belief.thought import Thought, best_of, just
from boardproof.circuit.model import Changed, How, Item, Leaf

__all__ = ["CHANGES"]

ZERO: Final = RationalFunction.constant(0)
Rule = Callable[[Ground], tuple[Thought, ...]]


def _undone(how: How) -> Callable[[Item], Item | None]:
    """Takes one kind of change back, everywhere."""

    def each(item: Item) -> Item | None:
        return item.item if isinstance(item, Changed) and item.how == how else None

    return each


def _gone(how: How) -> Callable[[Item], Item | None]:
    """Takes away every part to which this was done."""

    def each(item: Item) -> Item | None:
        return Changed(item.item, "shorted") if isinstance(item, Changed) and item.how == how else None

    return each


def _is_zero(ground: Ground) -> bool:
    return ground.right is not None and ground.right.is_zero


def _wire_ignored(ground: Ground) -> tuple[Thought, ...]:
    def each(item: Item) -> Item | None:
        if isinstance(item, Leaf) and item.part.kind == "wire":
            return Changed(item, "removed")
        return _undone("shorted")(item)

    return just(ground.changed(each))


def _closed(item: Item) -> Item | None:
    if isinstance(item, Leaf) and item.part.kind == "switch" and not item.part.closed:
        return replace(item, part=replace(item.part, closed=True))
    return _undone("open")(item)


def _one_lead(ground: Ground) -> tuple[Thought, ...]:
    return just(ground.changed(_closed)) if ground.kind in {"current", "power"} and _is_zero(ground) else ()


def _gap(ground: Ground) -> tuple[Thought, ...]:
    is_gap = ground.part is not None and ground.part.kind == "switch" and not ground.part.closed
    return just(ZERO) if ground.kind == "pd" and is_gap and not _is_zero(ground) else ()


def _no_current(ground: Ground) -> tuple[Thought, ...]:
    """A p.d. said to be nought because no current passes."""
    if ground.kind not in {"pd", "terminal_pd"} or ground.right is None or _is_zero(ground):
        return ()
    if len(ground.quantity.ref.of) != 1:
        return ()
    current = asked(ground.circuit, "current", ground.path)
    return just(ZERO) if current is not None and current.is_zero else ()


def _shorted_now(ground: Ground) -> bool:
    return ground.kind == "short_circuit_current"


def _short_draws_nothing(ground: Ground) -> tuple[Thought, ...]:
    return just(ZERO) if _shorted_now(ground) else ()


def _short_keeps_current(ground: Ground) -> tuple[Thought, ...]:
    return just(asked(ground.circuit, "current", ground.path)) if _shorted_now(ground) else ()


def _unturned(ground: Ground) -> tuple[Thought, ...]:
    return just(ground.changed(_undone("turned")))


def _left_out(ground: Ground) -> tuple[Thought, ...]:
    return just(ground.changed(_gone("turned")))


def _size_only(ground: Ground) -> tuple[Thought, ...]:
    """A current or p.d. without its sign, where it can have one."""
    right = ground.right
    if right is None or ground.kind not in {"current", "pd", "potential"} or right.one_signed > 0:
        return ()
    return (best_of((right, right), (-right, -right)),)


def _helps(ground: Ground) -> tuple[Thought, ...]:
    is_cell = ground.part is not None and ground.part.kind in {"cell", "source"}
    return _size_only(ground) if ground.kind == "current" and is_cell else ()


def _point(ground: Ground) -> tuple[Thought, ...]:
    return _size_only(ground) if ground.kind == "pd" and len(ground.quantity.ref.of) == 2 else ()


def _ideal(kind: str) -> Rule:
    """The question with a meter that changes nothing by being there."""

    def each(item: Item) -> Item | None:
        if isinstance(item, Leaf) and item.part.kind == kind and item.part.resistance is not None:
            return replace(item, part=replace(item.part, resistance=None))
        return None

    return lambda ground: just(ground.changed(each))


def _misplaced(kind: str, how: How, wanted: str) -> Rule:
    """What is expected of a wrongly joined meter: the value as if it were not there."""

    def each(item: Item) -> Item | None:
        is_meter = isinstance(item, Leaf) and item.part.kind == kind and item.part.resistance is not None
        return Changed(item, how) if is_meter else None

    def rule(ground: Ground) -> tuple[Thought, ...]:
        is_meter = ground.part is not None and ground.part.kind == kind
        return just(ground.changed(each)) if not is_meter and ground.kind == wanted else ()

    return rule


def _as_before(*kinds: str) -> Rule:
    """The old value, as if the change changed nothing of this."""

    def rule(ground: Ground) -> tuple[Thought, ...]:
        if ground.before is None or ground.kind not in kinds or ground.before.id == ground.circuit.id:
            return ()
        return just(ground.again(ground.before))

    return rule


def _upstream(ground: Ground) -> tuple[Thought, ...]:
    """The old current and p.d. where the part stands before the one that was changed."""
    if ground.before is None or ground.kind not in {"current", "pd"}:
        return ()
    order = [leaf.path for leaf in ground.circuit.leaves]
    old = {leaf.path: leaf.part for leaf in ground.before.leaves}
    differing = [leaf.path for leaf in ground.circuit.leaves if old.get(leaf.path) != leaf.part]
    if not differing or ground.path not in order or order.index(ground.path) >= order.index(differing[0]):
        return ()
    return just(ground.again(ground.before))


def _drop_as_before(ground: Ground) -> tuple[Thought, ...]:
    """Terminal p.d. with the lost volts of another load."""
    if ground.before is None or ground.kind not in {"pd", "terminal_pd"}:
        return ()
    cell = next((leaf.path for leaf in ground.circuit.leaves if leaf.part.kind == "cell"), None)
    drop = asked(ground.before, "lost_volts", cell) if cell else None
    emf = asked(ground.circuit, "emf", cell) if cell else None
    own = asked(ground.circuit, "terminal_pd", cell) if cell else None
    is_terminal = own is not None and own == ground.right
    return just(emf - drop) if emf is not None and drop is not None and is_terminal else ()


def _nothing_wasted(ground: Ground) -> tuple[Thought, ...]:
    return just(RationalFunction.constant(1)) if ground.kind == "efficiency" else ()


CHANGES: Final[Mapping[str, Rule]] = {
    "bare_wire_ignored": _wire_ignored,
    "one_lead_is_enough": _one_lead,
    "open_gap_has_no_pd": _gap,
    "no_current_no_pd": _no_current,
    "short_circuit_draws_nothing": _short_draws_nothing,
    "short_kills_pd_not_current": _short_keeps_current,
    "turned_cell_not_noticed": _unturned,
    "turned_cell_vanishes": _left_out,
    "signs_dropped_round_loop": _unturned,
    "minus_answer_is_an_error": _size_only,
    "weak_cell_always_helps": _helps,
    "pd_at_a_point": _point,
    "ammeter_not_a_load": _ideal("ammeter"),
    "voltmeter_draws_nothing": _ideal("voltmeter"),
    "ammeter_across": _misplaced("ammeter", "removed", "current"),
    "voltmeter_in_line": _misplaced("voltmeter", "shorted", "pd"),
    "constant_current_source": _as_before("current"),
    "branches_never_matter_to_each_other": _as_before("current", "pd", "power"),
    "only_downstream_feels_change": _upstream,
    "lost_volts_never_change": _drop_as_before,
    "series_keeps_current": _as_before("current"),
    "matched_means_efficient": _nothing_wasted,
}
