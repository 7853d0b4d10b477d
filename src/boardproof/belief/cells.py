"""What beliefs about cells that share a load compute, and about power in one load, in any circuit that holds them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.ground import Ground, asked
from boardproof.belief.group import Group, group_of
from boardproof.belief.thought import Thought, best_of, just
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Across, Changed, Leaf, Parallel
from boardproof.circuit.quantity import QuantityRef

__all__ = ["CELLS", "is_of_the_load"]

ZERO: Final = RationalFunction.constant(0)
Rule = Callable[[Ground], tuple[Thought, ...]]


def _whole(ground: Ground) -> Group | None:
    """The group that feeds the load, whatever was asked."""
    ref = QuantityRef("power_given", (), ground.circuit.id)
    return group_of(Resolved(ref, ground.circuit))


def _asks_a_cell(ground: Ground) -> bool:
    return ground.kind == "current" and ground.part is not None and ground.part.kind == "cell"


def _equal_share(ground: Ground) -> tuple[Thought, ...]:
    group = _whole(ground)
    if not _asks_a_cell(ground) or group is None or group.joined != "parallel" or group.load is None:
        return ()
    return just(group.emf / (group.load + group.resistance) / group.count)


def _alone(ground: Ground) -> tuple[Thought, ...]:
    """The current a cell would drive through the load without the others."""
    group, part = _whole(ground), ground.part
    if not _asks_a_cell(ground) or group is None or group.load is None or len(group.members) < 2:
        return ()
    if part is None or part.emf is None or part.resistance is None:
        return ()
    return just(
        RationalFunction.letter(part.emf.letter)
        / (group.load + RationalFunction.letter(part.resistance.letter))
    )


def _alone_in_parallel(ground: Ground) -> tuple[Thought, ...]:
    group = _whole(ground)
    if group is None or group.joined != "parallel":
        return ()
    if _asks_a_cell(ground):
        return _alone(ground)
    if (
        ground.kind != "current"
        or group.load is None
        or ground.right != group.emf / (group.load + group.resistance)
    ):
        return ()
    load = group.load
    return just(sum((m.count * m.emf * m.sign / (load + m.resistance) for m in group.members), ZERO))


def _own_side(ground: Ground) -> tuple[Thought, ...]:
    """Each side of one loop has the current that its own cell would drive through the load."""
    group = _whole(ground)
    if group is None or group.joined != "series" or group.load is None or ground.kind != "current":
        return ()
    part = ground.part
    if part is not None and part.kind == "cell" and part.emf is not None:
        return just(RationalFunction.letter(part.emf.letter) / group.load)
    return just(group.members[0].emf / group.load) if len(group.members) > 1 else ()


def _idle(ground: Ground) -> tuple[Thought, ...]:
    bare = ground.circuit.item
    while isinstance(bare, Changed):
        bare = bare.item
    is_open = isinstance(bare, Parallel) and not isinstance(bare, Across)
    return just(ZERO) if _asks_a_cell(ground) and is_open else ()


def _store(ground: Ground) -> tuple[Thought, ...]:
    """Cells side by side give as many times the current of one."""
    group = _whole(ground)
    if group is None or group.joined != "parallel" or group.load is None or ground.kind != "current":
        return ()
    if ground.right != group.emf / (group.load + group.resistance):
        return ()
    first = group.members[0]
    return just(group.count * first.emf / (group.load + first.resistance))


def _strongest(ground: Ground) -> tuple[Thought, ...]:
    group = group_of(ground.quantity)
    if group is None or group.joined != "parallel":
        return ()
    cases = []
    for member in group.members:
        found = _with_emf(ground, group, member.emf)
        if found is None:
            return ()
        cases.append((member.emf, found))
    return (best_of(*cases),)


def _with_emf(ground: Ground, group: Group, emf: RationalFunction) -> RationalFunction | None:
    if ground.kind == "emf":
        return emf
    if ground.kind == "short_circuit_current":
        return emf / group.resistance
    if group.load is None or ground.right != _on_load(ground, group, group.emf):
        return None
    return _on_load(ground, group, emf)


def _on_load(ground: Ground, group: Group, emf: RationalFunction) -> RationalFunction | None:
    if group.load is None:
        return None
    current = emf / (group.load + group.resistance)
    match ground.kind:
        case "current":
            return current
        case "pd" | "terminal_pd":
            return current * group.load
        case "power":
            return current * current * group.load
        case _:
            return None


def is_of_the_load(ground: Ground) -> bool:
    """Whether what is asked is the load's own current, p.d. or power, of which the rules for a group speak.

    Parameters
    ----------
    ground : Ground
        A quantity and its circuit.
    """
    group = _whole(ground)
    return (
        group is not None and ground.right is not None and ground.right == _on_load(ground, group, group.emf)
    )


def _least_load(ground: Ground) -> tuple[Thought, ...]:
    group = _whole(ground)
    if group is None or group.load is None or ground.kind != "power":
        return ()
    return (
        just(group.emf * group.emf / group.load) if ground.right == _on_load(ground, group, group.emf) else ()
    )


def _hotter(ground: Ground) -> tuple[Thought, ...]:
    """Power shared in proportion to resistance among branches side by side."""
    among = ground.beside
    if among is None or among.at < 0 or ground.kind != "power" or among.pd is None or among.current is None:
        return ()
    total = among.pd * among.current
    return just(total * among.resistances[among.at] / sum(among.resistances, ZERO))


def _more_is_better(ground: Ground) -> tuple[Thought, ...]:
    """A cell joined to a pack adds its own current through the load."""
    if ground.before is None or ground.kind != "current":
        return ()
    new = [
        leaf
        for leaf in ground.circuit.leaves
        if leaf.part.kind == "cell" and leaf not in ground.before.leaves
    ]
    old, group = ground.again(ground.before), _whole(ground)
    if len(new) != 1 or old is None or group is None or group.load is None or not isinstance(new[0], Leaf):
        return ()
    part = new[0].part
    if part.emf is None or part.resistance is None:
        return ()
    more = RationalFunction.letter(part.emf.letter) / (
        group.load + RationalFunction.letter(part.resistance.letter)
    )
    return just(old + more)


def _emf_anytime(ground: Ground) -> tuple[Thought, ...]:
    """The reading under load taken for the EMF."""
    if ground.kind != "emf":
        return ()
    group = _whole(ground)
    if group is None or group.load is None:
        return ()
    return just(asked(ground.circuit, "terminal_pd", ground.path))


CELLS: Final[Mapping[str, Rule]] = {
    "equal_share_of_current": _equal_share,
    "loops_do_not_touch": _alone_in_parallel,
    "own_current_on_each_side": _own_side,
    "idle_cells_rest": _idle,
    "battery_is_a_store_of_charge": _store,
    "parallel_strongest_wins": _strongest,
    "most_power_at_least_load": _least_load,
    "bigger_resistor_always_hotter": _hotter,
    "more_cells_always_better": _more_is_better,
    "emf_needs_no_care": _emf_anytime,
}
