"""Counting in the tree of a circuit: parts by arithmetic, levels, and the letters and nodes that stand in it."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from boardproof.circuit.model import Circuit, Copies, Count, Family, Item, Leaf, Network, members

__all__ = ["count_letters", "depth", "how_many", "nodes_in", "whole"]


def whole(count: Count, values: Mapping[str, Fraction]) -> int | None:
    """A count as a number; None if it is a letter without a value.

    Parameters
    ----------
    count : int or str
        A number, or the letter of one.
    values : mapping of str to Fraction
        Letter to value.

    Examples
    --------
    >>> whole("n", {"n": Fraction(12)}), whole("n", {}), whole("n", {"n": Fraction(5, 2)}), whole(3, {})
    (12, None, None, 3)
    """
    if isinstance(count, int):
        return count
    value = values.get(count)
    return int(value) if value is not None and value.denominator == 1 else None


def how_many(item: Item, values: Mapping[str, Fraction]) -> int:
    """Number of parts, by arithmetic; a count without a value counts once.

    Parameters
    ----------
    item : Item
        The tree.
    values : mapping of str to Fraction
        For counts that are letters.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Run
    >>> bank = Copies("parallel", (Run(1, "n", Leaf("bank.1", Part("A", "cell"))),), "bank")
    >>> how_many(bank, {"n": Fraction(10**9)}), how_many(bank, {})
    (1000000000, 1)
    """
    match item:
        case Leaf():
            return 1
        case Family():
            last = whole(item.last, values)
            return max(1, last - item.first + 1) if last else 1
        case Copies():
            return sum((whole(run.count, values) or 1) * how_many(run.item, values) for run in item.runs)
        case _:
            return sum(how_many(member, values) for member in members(item))


def depth(item: Item) -> int:
    """Levels of the tree.

    Parameters
    ----------
    item : Item
        Any tree; a part by itself is one level.

    Examples
    --------
    >>> from boardproof.circuit.model import Parallel, Part, Series
    >>> cell = Leaf("A", Part("A", "cell"))
    >>> depth(cell), depth(Series((cell, Parallel((cell, cell)))))
    (1, 3)
    """
    return 1 + max((depth(member) for member in members(item)), default=0)


def count_letters(item: Item) -> frozenset[str]:
    """The letters that count members.

    Parameters
    ----------
    item : Item
        Any tree.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Run
    >>> sorted(count_letters(Copies("parallel", (Run(1, "n", Leaf("bank.1", Part("A", "cell"))),))))
    ['n']
    """
    return Circuit(item).counts


def nodes_in(item: Item) -> frozenset[str]:
    """Names of the nodes of all networks in a tree that stand once.

    Parameters
    ----------
    item : Item
        Any tree; networks among copies are left out.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> cell, load = Leaf("A", Part("A", "cell")), Leaf("R", Part("R", "resistor"))
    >>> sorted(nodes_in(Network(((cell, "P", "Q"), (load, "Q", "P")))))
    ['P', 'Q']
    """
    own: frozenset[str] = frozenset()
    if isinstance(item, Network):
        own = frozenset(node for _, *both in item.branches for node in both)
    if isinstance(item, Copies):
        return own
    return own.union(*(nodes_in(member) for member in members(item)))
