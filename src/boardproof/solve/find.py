"""Which part or group of a circuit a path means, and how many alike ones stand round it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from boardproof.circuit.model import Changed, Copies, Count, Family, Item, Leaf, members

__all__ = ["Found", "cells_in", "find", "parts_of"]


@dataclass(frozen=True, slots=True)
class Found:
    """A part or group at its place.

    Parameters
    ----------
    item : Item
        The part or group with what was done to it, but not turned: it is seen from its own ends.
    path : str
        Its path in the laid-flat circuit, where alike copies are one.
    in_series, in_parallel : tuple of Count
        How many alike ones that path stands for there.
    is_turned : bool
        Whether it stands the other way round in the circuit.
    """

    item: Item
    path: str
    in_series: tuple[Count, ...] = ()
    in_parallel: tuple[Count, ...] = ()
    is_turned: bool = False


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
        if item.how == "turned":
            return replace(inner, is_turned=not inner.is_turned)
        return replace(inner, item=replace(item, item=inner.item))
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
        if found is None:
            continue
        if copies.joined == "series":
            return replace(found, in_series=(run.count, *found.in_series))
        return replace(found, in_parallel=(run.count, *found.in_parallel))
    return None


def parts_of(item: Item) -> Iterator[tuple[Leaf | Family, tuple[Count, ...]]]:
    """Every part of an item with how many like it there are."""
    if isinstance(item, Leaf | Family):
        yield item, ()
    counts: tuple[Count, ...] = (
        tuple(run.count for run in item.runs) if isinstance(item, Copies) else (1,) * len(members(item))
    )
    for member, count in zip(members(item), counts, strict=True):
        for part, inner in parts_of(member):
            yield part, ((count, *inner) if count != 1 else inner)


def cells_in(item: Item) -> tuple[tuple[Leaf | Family, tuple[Count, ...]], ...]:
    """The cells of an item, each with how many like it there are."""
    return tuple((leaf, counts) for leaf, counts in parts_of(item) if leaf.part.kind in {"cell", "source"})
