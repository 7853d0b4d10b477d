"""A circuit laid flat: branches between numbered nodes, for whoever solves or draws it.

Copies that are alike stay one branch. If `in_series` copies of a branch stand in series and `in_parallel` such
rows side by side, the branch stands for all of them: its p.d. is `in_series` times, its current `in_parallel`
times that of one. (Alike neighbours share current in series and p.d. in parallel, so this loses nothing.)
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from boardproof.circuit.model import Count, Family, Leaf
from boardproof.record import record

__all__ = ["Branch", "FlatNetwork", "Terminals"]

Terminals = tuple[int, int]


@record
class Branch:
    """One part, or a run of alike ones, between two nodes.

    Parameters
    ----------
    leaf : Leaf or Family or None
        The part; None for a wire that a `short` laid.
    path : str
        The leaf's path, or ``short:PATH`` of a laid wire, or ``link:...`` of a joint.
    tail, head : int
        The branch's counting direction of current runs from `tail` to `head`.
    turned : bool
        A cell's own plus is at `head`, or at `tail` if turned.
    emf_out : bool
        Its EMF is taken out.
    is_open : bool
        No current can pass (open switch, break, taken away, ideal voltmeter).
    is_drawn : bool
        False for a part that was taken away.
    in_series, in_parallel : tuple of Count
        Factors of how many alike ones it stands for; empty means one.
    """

    leaf: Leaf | Family | None
    path: str
    tail: int
    head: int
    turned: bool = False
    emf_out: bool = False
    is_open: bool = False
    is_drawn: bool = True
    in_series: tuple[Count, ...] = ()
    in_parallel: tuple[Count, ...] = ()


@dataclass(frozen=True, slots=True)
class FlatNetwork:
    """Branches between nodes 0 to `nodes` - 1.

    Parameters
    ----------
    nodes : int
        How many.
    branches : tuple of Branch
        In reading order of the circuit.
    ends : mapping of str to (int, int)
        First and last node of every part and group, by path; for an item walked backwards (without cells, beside one
        with cells) first is still where its current enters.
    names : mapping of str to int
        Named nodes of networks.
    outside : (int, int) or None
        First and last end of the whole, where something could be joined; None for a complete circuit.
    factors : mapping of str to (in_series, in_parallel)
        For a part or group that stands for several, by path, as in `Branch`: the p.d. between its `ends` is
        `in_series` times, its current `in_parallel` times that of one. Missing: it stands for itself.
    """

    nodes: int
    branches: tuple[Branch, ...]
    ends: Mapping[str, Terminals]
    names: Mapping[str, int]
    outside: Terminals | None
    factors: Mapping[str, tuple[tuple[Count, ...], tuple[Count, ...]]] = field(default_factory=dict)
