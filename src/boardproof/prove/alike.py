"""Things that are built alike: lines that say the same word for word, and circuits with the same shape.

A line that only repeats another is no step. A result that was shown on one circuit may be used on another of the
same shape, each letter taken by the part that plays its role.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from boardproof.algebra.expression import (
    Expression,
    Name,
    Negative,
    Number,
    Parallel,
    Power,
    Product,
    Quotient,
    Relation,
    Sum,
)
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit import model
from boardproof.circuit.model import Across, Changed, Copies, Item, Leaf, Network, Series, members
from boardproof.prove.wiring import count_of

__all__ = ["Roles", "alike", "roles"]


def _key(tree: Expression) -> tuple[object, ...]:
    """What is written, whatever the order of terms and factors."""
    match tree:
        case Number(value=value):
            return ("number", value)
        case Name(text=text):
            return ("name", text)
        case Negative(of=of):
            return ("minus", _key(of))
        case Sum(terms=many):
            return ("sum", *sorted(map(_key, many), key=repr))
        case Product(factors=many):
            return ("product", *sorted(map(_key, many), key=repr))
        case Parallel(branches=many):
            return ("parallel", *sorted(map(_key, many), key=repr))
        case Quotient(over=over, under=under):
            return ("over", _key(over), _key(under))
        case Power(base=base, exponent=exponent):
            return ("power", _key(base), exponent)
        case _:
            return (repr(tree),)


def alike(left: Relation, right: Relation) -> bool:
    """Whether two equations say the same word for word, but for the order of sides, terms and factors.

    Parameters
    ----------
    left, right : Relation
        As written.

    Examples
    --------
    >>> E, V = Name("E"), Name("V")
    >>> alike(Relation(E, "=", V), Relation(V, "=", E))
    True
    """
    sides = [sorted(map(_key, (each.left, each.right)), key=repr) for each in (left, right)]
    return left.sign == right.sign and sides[0] == sides[1]


@dataclass(frozen=True)
class Roles:
    """Who plays which role when one item is laid over another.

    Parameters
    ----------
    letters : mapping of str to RationalFunction
        Letter there to the letter (or count) here.
    items : mapping of str to Item
        Path there to the item here.
    """

    letters: Mapping[str, RationalFunction]
    items: Mapping[str, Item]


class _Unlike(Exception):
    """The shapes differ."""


def roles(there: Item, here: Item) -> Roles | None:
    """Lay one item over another of the same shape.

    Parameters
    ----------
    there : Item
        Where something was shown.
    here : Item
        Where it is to be used.

    Returns
    -------
    Roles or None
        None if the shapes differ, or if like parts there are unlike here.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Worth
    >>> def cell(name):
    ...     return Leaf(name, Part(name, "cell", Worth(f"E_{name}"), Worth(f"r_{name}")))
    >>> found = roles(Series((cell("A"), cell("B"))), Series((cell("C"), cell("D"))))
    >>> found.letters["r_B"]
    r_D
    """
    letters: dict[str, RationalFunction] = {}
    items: dict[str, Item] = {}
    try:
        _laid(there, here, letters, items)
    except _Unlike:
        return None
    return Roles(MappingProxyType(letters), MappingProxyType(items))


def _laid(there: Item, here: Item, letters: dict[str, RationalFunction], items: dict[str, Item]) -> None:
    if type(there) is not type(here):
        raise _Unlike
    if there.path:
        items[there.path] = here
    match there, here:
        case Leaf(part=part), Leaf(part=other):
            if part.kind != other.kind or part.closed != other.closed:
                raise _Unlike
            for quantity in ("emf", "resistance", "capacitance"):
                _matched(getattr(part, quantity), getattr(other, quantity), letters)
        case (Series(items=many), Series(items=others)) | (
            model.Parallel(items=many),
            model.Parallel(items=others),
        ):
            _each(many, others, letters, items)
        case Copies(), Copies():
            if there.joined != here.joined or len(there.runs) != len(here.runs):
                raise _Unlike
            for run, other_run in zip(there.runs, here.runs, strict=True):
                if isinstance(run.count, str):
                    _same(letters, run.count, count_of(other_run.count))
                elif run.count != other_run.count:
                    raise _Unlike
                _laid(run.item, other_run.item, letters, items)
        case Changed(), Changed():
            if there.how != here.how:
                raise _Unlike
            _laid(there.item, here.item, letters, items)
        case Across(), Across():
            _each((there.source, there.load), (here.source, here.load), letters, items)
        case Network(), Network():
            _each(members(there), members(here), letters, items)
            if _ends(there) != _ends(here):
                raise _Unlike
        case _:
            raise _Unlike


def _ends(network: Network) -> list[int]:
    """Nodes in order of first mention, so that their names do not matter."""
    seen: dict[str, int] = {}
    names = [*(name for _, *both in network.branches for name in both), *(network.ends or ())]
    return [seen.setdefault(name, len(seen)) for name in names]


def _each(
    many: tuple[Item, ...],
    others: tuple[Item, ...],
    letters: dict[str, RationalFunction],
    items: dict[str, Item],
) -> None:
    if len(many) != len(others):
        raise _Unlike
    for one, other in zip(many, others, strict=True):
        _laid(one, other, letters, items)


def _matched(
    worth: model.Worth | None, other: model.Worth | None, letters: dict[str, RationalFunction]
) -> None:
    if (worth is None) != (other is None):
        raise _Unlike
    if worth is not None and other is not None:
        _same(letters, worth.letter, RationalFunction.letter(other.letter))


def _same(letters: dict[str, RationalFunction], letter: str, value: RationalFunction) -> None:
    if letters.setdefault(letter, value) != value:
        raise _Unlike
