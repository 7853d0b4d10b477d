"""What of a circuit is drawn, left to right: spots for parts, rows, stacks, webs and what is left out of copies.

A plan has no measures. Changes stay marks on the plan, so a turned, open or shorted part keeps its place; the
circuits of one scene that differ only in such marks, in values or in kinds give plans of one shape.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from boardproof.circuit.model import Count, How, Part

__all__ = ["Closed", "Dots", "Plan", "Row", "Spot", "Stack", "Web", "groups_in", "mirrored", "spots_in"]


@dataclass(frozen=True, slots=True)
class Spot:
    """A part at its place. `forward`: its counting direction (out of a cell's own plus) runs to the right.

    `is_labelled` is False for all but the first of copies that are alike; `is_packed` for a cell of a pack, drawn
    bare; `is_odd` for one that differs from its neighbours.
    """

    path: str
    part: Part
    forward: bool = True
    changes: tuple[How, ...] = ()
    is_labelled: bool = True
    is_packed: bool = False
    is_odd: bool = False


@dataclass(frozen=True, slots=True)
class Dots:
    """Copies that are not drawn; `count` of them, a letter count has none to tell."""

    count: Count


@dataclass(frozen=True, slots=True)
class Row:
    """Plans one behind the other; `note` says how many copies there are."""

    items: tuple[Plan, ...]
    path: str = ""
    forward: bool = True
    changes: tuple[How, ...] = ()
    note: str = ""
    is_copies: bool = False


@dataclass(frozen=True, slots=True)
class Stack:
    """Plans one below the other between two rails; `numbers` stand at the left rail."""

    items: tuple[Plan, ...]
    path: str = ""
    forward: bool = True
    changes: tuple[How, ...] = ()
    note: str = ""
    numbers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Web:
    """Branches between named nodes, each planned from its first node to its second; `left` and `right` are its ends."""

    branches: tuple[tuple[Plan, str, str], ...]
    left: str
    right: str
    path: str = ""
    forward: bool = True
    changes: tuple[How, ...] = ()


@dataclass(frozen=True, slots=True)
class Closed:
    """A complete circuit: `top` above the terminals, `bottom` below them."""

    top: Plan
    bottom: Plan
    path: str = ""
    changes: tuple[How, ...] = ()
    has_terminals: bool = True
    plus_right: bool = True
    forward: bool = True


Plan = Spot | Dots | Row | Stack | Web | Closed


def mirrored(plan: Plan) -> Plan:
    """The plan read from right to left.

    Parameters
    ----------
    plan : Plan
        What stands where, still without measures.

    Returns
    -------
    Plan
        Its last end on the left; symbols run the other way.

    Examples
    --------
    >>> row = Row((Spot("A", Part("A", "cell")), Spot("S", Part("S", "switch"))))
    >>> [(spot.path, spot.forward) for spot in spots_in(mirrored(row))]
    [('S', False), ('A', False)]
    """
    match plan:
        case Spot():
            return replace(plan, forward=not plan.forward)
        case Dots():
            return plan
        case Row(items=items):
            turned = tuple(mirrored(each) for each in reversed(items))
            return replace(plan, items=turned, forward=not plan.forward)
        case Stack(items=items):
            return replace(plan, items=tuple(mirrored(each) for each in items), forward=not plan.forward)
        case Web():
            return replace(plan, left=plan.right, right=plan.left, forward=not plan.forward)
        case Closed(top=top, bottom=bottom):
            return replace(plan, top=mirrored(top), bottom=mirrored(bottom), plus_right=not plan.plus_right)


def spots_in(plan: Plan) -> Iterable[Spot]:
    """Every part of a plan, in order.

    Parameters
    ----------
    plan : Plan
        What stands where, still without measures.

    Examples
    --------
    >>> row = Row((Spot("A", Part("A", "cell")), Dots(3), Spot("S", Part("S", "switch"))))
    >>> [spot.path for spot in spots_in(row)]
    ['A', 'S']
    """
    match plan:
        case Spot():
            yield plan
        case Row(items=items) | Stack(items=items):
            for each in items:
                yield from spots_in(each)
        case Web(branches=branches):
            for each, _, _ in branches:
                yield from spots_in(each)
        case Closed(top=top, bottom=bottom):
            yield from spots_in(top)
            yield from spots_in(bottom)
        case Dots():
            return


def groups_in(plan: Plan) -> dict[str, frozenset[str]]:
    """Paths of the parts in each group of a plan.

    Parameters
    ----------
    plan : Plan
        What stands where, still without measures.

    Examples
    --------
    >>> groups_in(Row((Spot("A", Part("A", "cell")), Spot("S", Part("S", "switch"))), "g"))["g"] == {"A", "S"}
    True
    """
    found: dict[str, frozenset[str]] = {}

    def walk(part: Plan) -> None:
        match part:
            case Row(items=items) | Stack(items=items):
                for each in items:
                    walk(each)
            case Web(branches=branches):
                for each, _, _ in branches:
                    walk(each)
            case Closed(top=top, bottom=bottom):
                walk(top)
                walk(bottom)
            case Spot() | Dots():
                return
        if part.path and part.path not in found:
            found[part.path] = frozenset(spot.path for spot in spots_in(part))

    walk(plan)
    return found
