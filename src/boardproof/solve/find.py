"""Which part or group of a circuit a path means, and how many alike ones stand round it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardproof.circuit.change import done_to
from boardproof.circuit.model import Across, Changed, Copies, Count, Family, Item, Leaf, has_cells, members
from boardproof.circuit.network import FlatNetwork, Terminals
from boardproof.circuit.place import moved
from boardproof.record import record

__all__ = ["Found", "Site", "cells_in", "find", "parts_of", "site_of"]


@record
class Found:
    """A part or group at its place.

    Parameters
    ----------
    item : Item
        The part or group with what was done to it, but not turned: it is seen from its own ends.
    path : str
        Its path in the laid-flat circuit, where alike copies are one.
    """

    item: Item
    path: str


@record
class Site:
    """Where a part or group stands in a circuit laid flat.

    Parameters
    ----------
    branches : tuple of int
        Its branches, wires laid inside it included.
    driving : tuple of int
        Those whose current counts as its own: all, but of a closed circuit the side with the cells.
    ends : (int, int) or None
        Its own first and last node; None for a circuit complete in itself.
    in_series, in_parallel : tuple of Count
        How many alike ones these branches stand for.
    is_cell : bool
        Whether current and p.d. count from minus to plus: it has cells.
    is_part : bool
        Whether it is a single part.
    """

    branches: tuple[int, ...]
    driving: tuple[int, ...]
    ends: Terminals | None
    in_series: tuple[Count, ...]
    in_parallel: tuple[Count, ...]
    is_cell: bool
    is_part: bool


def find(item: Item, path: str) -> Found | None:
    """The part or group that a path means; None if there is none.

    Parameters
    ----------
    item : Item
        The circuit's tree.
    path : str
        As in `Leaf.path`: ``A``, ``bank``, ``bank.2.3`` (any member, also of alike ones).

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Run
    >>> bank = Copies("parallel", (Run(1, 4, Leaf("bank.1", Part("A", "cell"))),), "bank")
    >>> find(bank, "bank.3").path
    'bank.1'
    """
    if isinstance(item, Changed):
        inner = find(item.item, path)
        if inner is None or path != item.item.path:
            return inner
        return inner if item.how == "turned" else replace(inner, item=replace(item, item=inner.item))
    if item.path == path:
        return Found(item, path)
    if isinstance(item, Copies):
        return _in_copies(item, path)
    for member in members(item):
        found = find(member, path)
        if found is not None:
            return found
    return None


def _in_copies(copies: Copies, path: str) -> Found | None:
    """The member a path means; each run is laid flat under the path of its first."""
    for run in copies.runs:
        wanted = path
        stem, _, number = run.item.path.rpartition(".")
        if stem and number.isdigit() and path.startswith(f"{stem}."):
            asked, dot, rest = path[len(stem) + 1 :].partition(".")
            if not asked.isdigit() or int(asked) < run.first:
                continue
            if isinstance(run.count, int) and int(asked) >= run.first + run.count:
                continue
            wanted = f"{run.item.path}{dot}{rest}"
        found = find(run.item, wanted)
        if found is not None:
            return found
    return None


def site_of(found: Found, asked: str, flat: FlatNetwork) -> Site:
    """Where a part or group stands in the laid-flat circuit.

    Parameters
    ----------
    found : Found
        The part or group.
    asked : str
        Its path as asked for: members of tied copies are laid flat one by one, alike ones together.
    flat : FlatNetwork
        The circuit.

    Examples
    --------
    >>> from boardproof.circuit.lay_flat import lay_flat
    >>> from boardproof.circuit.model import Part, Run
    >>> bank = Copies("parallel", (Run(1, 4, Leaf("bank.1", Part("A", "cell"))),), "bank")
    >>> site_of(find(bank, "bank.3"), "bank.3", lay_flat(bank)).in_parallel
    (4,)
    """
    path = asked if asked in flat.ends else found.path
    found = Found(moved(found.item, found.path, path), path)
    in_series, in_parallel = flat.factors.get(path, ((), ()))
    own = [place for place, branch in enumerate(flat.branches) if branch.path == path]
    places = own or _branches_inside(found, path, flat)
    turned = bool(own) and flat.branches[own[0]].turned
    ends = flat.ends.get(path)
    if ends is not None and min(ends) < 0:  # a network complete in itself
        ends = None
    if own:
        branch = flat.branches[own[0]]
        ends = (branch.head, branch.tail) if turned else (branch.tail, branch.head)
    bare, _ = done_to(found.item)
    driving = places
    if isinstance(bare, Across):
        driving = _branches_inside(Found(bare.source, bare.source.path), bare.source.path, flat)
    return Site(tuple(places), tuple(driving), ends, in_series, in_parallel, has_cells(found.item), bool(own))


def _branches_inside(found: Found, path: str, flat: FlatNetwork) -> list[int]:
    """Branches of a group, with laid wires and joints inside it, without the wire that shorts it as a whole."""
    paths = {leaf.path for leaf, _ in parts_of(found.item)}
    tied = tuple(f"{copies.path}." for copies in _copies_in(found.item) if copies.tied)
    result = []
    for place, branch in enumerate(flat.branches):
        kind, mark, inner = branch.path.rpartition(":")
        if mark:
            is_inside = not (kind == "short" and inner == path) and (
                inner == path
                or (bool(tied) and inner.startswith(tied))
                or find(found.item, inner) is not None
            )
        else:
            is_inside = branch.path in paths or (bool(tied) and branch.path.startswith((*tied, f"{path}.")))
        if is_inside:
            result.append(place)
    return result


def _copies_in(item: Item) -> Iterator[Copies]:
    if isinstance(item, Copies):
        yield item
    for member in members(item):
        yield from _copies_in(member)


def parts_of(item: Item) -> Iterator[tuple[Leaf | Family, tuple[Count, ...]]]:
    """Every part of an item with how many like it there are.

    Parameters
    ----------
    item : Item
        A tree; of alike copies one is given, with the counts around it.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Run
    >>> bank = Copies("parallel", (Run(1, 4, Leaf("bank.1", Part("A", "cell"))),), "bank")
    >>> [(leaf.path, counts) for leaf, counts in parts_of(bank)]
    [('bank.1', (4,))]
    """
    if isinstance(item, Leaf | Family):
        yield item, ()
    counts: tuple[Count, ...] = (
        tuple(run.count for run in item.runs) if isinstance(item, Copies) else (1,) * len(members(item))
    )
    for member, count in zip(members(item), counts, strict=True):
        for part, inner in parts_of(member):
            yield part, ((count, *inner) if count != 1 else inner)


def cells_in(item: Item) -> tuple[tuple[Leaf | Family, tuple[Count, ...]], ...]:
    """The cells of an item, each with how many like it there are.

    Parameters
    ----------
    item : Item
        A tree.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Series
    >>> row = Series((Leaf("A", Part("A", "cell")), Leaf("R", Part("R", "resistor"))))
    >>> [leaf.path for leaf, _ in cells_in(row)]
    ['A']
    """
    return tuple((leaf, counts) for leaf, counts in parts_of(item) if leaf.part.kind in {"cell", "source"})
