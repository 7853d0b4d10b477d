"""Places in the tree of a circuit: finding a member by its path, putting another in its place.

A path is a name and numbers: ``bank.2.3`` is the third member of the second member of `bank`. Copies that are
alike stand as one run; addressing one of them parts it from its neighbours.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from boardproof.circuit.count import whole
from boardproof.circuit.model import (
    Across,
    Changed,
    Copies,
    Family,
    Item,
    Leaf,
    Network,
    Parallel,
    Run,
    Series,
    members,
)
from boardproof.record import record

__all__ = [
    "Missing",
    "find",
    "merged",
    "moved",
    "named_items",
    "placed",
    "put",
    "remade",
    "standing_in_copies",
]


@record
class Missing:
    """Nothing stands at a path, and why."""

    why: str


def remade(item: Item, each: Callable[[Item], Item]) -> Item:
    """The same kind of item with `each` done to its members, one level down.

    Parameters
    ----------
    item : Item
        Any tree; a part by itself comes back as it is.
    each : function from Item to Item
        What to do to a member.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> pair = Series((Leaf("A", Part("A", "cell")), Leaf("B", Part("B", "cell"))))
    >>> [type(each).__name__ for each in remade(pair, lambda each: Changed(each, "turned")).items]
    ['Changed', 'Changed']
    """
    match item:
        case Series() | Parallel():
            return replace(item, items=tuple(each(member) for member in item.items))
        case Copies():
            return replace(item, runs=tuple(replace(run, item=each(run.item)) for run in item.runs))
        case Network():
            return replace(item, branches=tuple((each(one), tail, head) for one, tail, head in item.branches))
        case Across():
            return replace(item, source=each(item.source), load=each(item.load))
        case Changed():
            return replace(item, item=each(item.item))
        case Leaf() | Family():
            return item


def moved(item: Item, old: str, new: str) -> Item:
    """An item with every path that begins with `old` beginning with `new`.

    Parameters
    ----------
    item : Item
        Any tree.
    old, new : str
        Whole paths: ``bank.1`` does not begin ``bank.12``.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> moved(Leaf("bank.1.2", Part("A", "cell")), "bank.1", "bank.3").path
    'bank.3.2'
    """

    def again(inner: Item) -> Item:
        inner = remade(inner, again)
        if not isinstance(inner, Changed) and (inner.path == old or inner.path.startswith(f"{old}.")):
            return replace(inner, path=new + inner.path[len(old) :])
        return inner

    return item if old == new else again(item)


def placed(item: Item, path: str) -> Item:
    """An item as a member of a copy: every part in it gets the path of its place there.

    Parameters
    ----------
    item : Item
        As built by itself.
    path : str
        Of its place: ``bank.2``.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> pair = Series((Leaf("A", Part("A", "cell")), Leaf("B", Part("B", "cell"))))
    >>> [each.path for each in placed(pair, "bank.2").items]
    ['bank.2.1', 'bank.2.2']
    """
    match item:
        case Changed():
            return replace(item, item=placed(item.item, path))
        case Copies():
            return moved(item, item.path, path)
        case Series(items=(only,)):
            return placed(only, path)
        case Series() | Parallel():
            items = tuple(placed(each, f"{path}.{n}") for n, each in enumerate(item.items, 1))
            return replace(item, items=items, path=path)
        case Network():
            branches = tuple(
                (placed(each, f"{path}.{n}"), tail, head)
                for n, (each, tail, head) in enumerate(item.branches, 1)
            )
            return replace(item, branches=branches, path=path)
        case Across():
            return replace(
                item, source=placed(item.source, f"{path}.1"), load=placed(item.load, f"{path}.2"), path=path
            )
        case Leaf() | Family():
            return replace(item, path=path)


def merged(runs: Iterable[Run], path: str) -> tuple[Run, ...]:
    """Runs with neighbours that are alike joined into one.

    Parameters
    ----------
    runs : iterable of Run
        In order, without gaps; a run whose count is a letter stays as it is.
    path : str
        Of the copies they make.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> cell = Part("A", "cell")
    >>> found = merged([Run(1, 2, Leaf("bank.1", cell)), Run(3, 4, Leaf("bank.3", cell))], "bank")
    >>> [(run.first, run.count) for run in found]
    [(1, 6)]
    """
    found: list[Run] = []
    for run in runs:
        last = found[-1] if found else None
        if last is None or isinstance(last.count, str) or isinstance(run.count, str):
            found.append(run)
            continue
        if moved(run.item, f"{path}.{run.first}", f"{path}.{last.first}") == last.item:
            found[-1] = replace(last, count=last.count + run.count)
        else:
            found.append(run)
    return tuple(found)


def _parted(copies: Copies, number: int, values: Mapping[str, Fraction]) -> tuple[Run, ...] | Missing:
    """The runs of copies with member `number` in a run of its own."""
    found: list[Run] = []
    total = 0
    for run in copies.runs:
        count = whole(run.count, values)
        if count is None:
            return Missing(
                f"{run.count} has no value here, so there is no telling which member of {copies.path} is meant"
            )
        total += count

        def like(first: int, many: int, run: Run = run) -> list[Run]:
            item = moved(run.item, f"{copies.path}.{run.first}", f"{copies.path}.{first}")
            return [Run(first, many, item)] if many else []

        if run.first <= number < run.first + count:
            found += like(run.first, number - run.first)
            found += like(number, 1)
            found += like(number + 1, run.first + count - number - 1)
        else:
            found.append(replace(run, count=count))
    if not 1 <= number <= total:
        return Missing(f"{copies.path} has {total} members; there is no member {number}")
    return tuple(found)


Change = Callable[[Item], Item]


def put(item: Item, path: str, change: Change, values: Mapping[str, Fraction]) -> Item | Missing:
    """A tree in which `change` was done to the item at `path`.

    Parameters
    ----------
    item : Item
        The tree.
    path : str
        Where, as the teacher writes it.
    change : callable
        From the item there to the one that takes its place.
    values : mapping of str to Fraction
        For counts that are letters.

    Returns
    -------
    Item or Missing
        The new tree, or why nothing stands at `path`.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> pair = Series((Leaf("A", Part("A", "cell")), Leaf("B", Part("B", "cell"))))
    >>> put(pair, "B", lambda each: Changed(each, "turned"), {}).items[1].how
    'turned'
    >>> put(pair, "C", lambda each: each, {})
    Missing(why='')
    """
    name, *numbers = path.split(".")
    found = _under_name(item, name, [int(number) for number in numbers], change, values)
    if found is not None:
        return found
    if standing_in_copies(item, name):
        return Missing(f"{name} stands in several places; say which, by the number of the member")
    return Missing("")


def _under_name(
    item: Item, name: str, numbers: list[int], change: Change, values: Mapping[str, Fraction]
) -> Item | Missing | None:
    if item.path == name:
        return _inside(item, numbers, change, values)
    if isinstance(item, Leaf | Family | Copies):
        return None
    for place, member in enumerate(members(item)):
        found = _under_name(member, name, numbers, change, values)
        if isinstance(found, Missing):
            return found
        if found is not None:
            return _with_member(item, place, found)
    return None


def _with_member(item: Item, place: int, new: Item) -> Item:
    """The item with its member at `place` (from 0) exchanged."""
    at = iter(range(len(members(item))))
    return remade(item, lambda old: new if next(at) == place else old)


def _inside(item: Item, numbers: list[int], change: Change, values: Mapping[str, Fraction]) -> Item | Missing:
    if not numbers:
        return change(item)
    if isinstance(item, Changed):
        inner = _inside(item.item, numbers, change, values)
        return inner if isinstance(inner, Missing) else replace(item, item=inner)
    number, rest = numbers[0], numbers[1:]
    if isinstance(item, Copies):
        runs = _parted(item, number, values)
        if isinstance(runs, Missing):
            return runs
        item, place = replace(item, runs=runs), [run.first for run in runs].index(number)
    elif not 1 <= number <= len(members(item)):
        many = len(members(item)) or "no"
        return Missing(f"{item.path} has {many} members; there is no member {number}")
    else:
        place = number - 1
    inner = _inside(members(item)[place], rest, change, values)
    if isinstance(inner, Missing):
        return inner
    changed = _with_member(item, place, inner)
    return (
        replace(changed, runs=merged(changed.runs, changed.path)) if isinstance(changed, Copies) else changed
    )


def find(item: Item, path: str, values: Mapping[str, Fraction]) -> Item | Missing:
    """The item at a path, with what was done to it.

    Where their number is a letter without a value, any member is found as the first: they are all alike.

    Parameters
    ----------
    item : Item
        The tree.
    path : str
        As the teacher writes it; members are numbered from 1.
    values : mapping of str to Fraction
        For counts that are letters.

    Returns
    -------
    Item or Missing
        A member of a run of copies is parted from it; `Missing` says why there is none.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> bank = Copies("parallel", (Run(1, 12, Leaf("bank.1", Part("A", "cell"))),), "bank")
    >>> find(bank, "bank.7", {}).path
    'bank.7'
    >>> isinstance(find(bank, "bank.13", {}), Missing)
    True
    """
    name, *numbers = path.split(".")
    at = named_items(item).get(name)
    if at is None:
        several = f"{name} stands in several places; say which, by the number of the member"
        return Missing(several if standing_in_copies(item, name) else "")
    for number in map(int, numbers):
        while isinstance(at, Changed):
            at = at.item
        if isinstance(at, Copies):
            if isinstance(at.runs[0].count, str) and whole(at.runs[0].count, values) is None and number >= 1:
                at = at.runs[0].item
                continue
            runs = _parted(at, number, values)
            if isinstance(runs, Missing):
                return runs
            at = next(run.item for run in runs if run.first == number)
        elif 1 <= number <= len(members(at)):
            at = members(at)[number - 1]
        else:
            many = len(members(at)) or "no"
            return Missing(f"{at.path or name} has {many} members; there is no member {number}")
    return at


def named_items(item: Item) -> dict[str, Item]:
    """Every part and group with a name of its own, by name, with what was done to it; not inside copies.

    Parameters
    ----------
    item : Item
        Any tree.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> pair = Series((Leaf("A", Part("A", "cell")), Leaf("B", Part("B", "cell"))), "both")
    >>> list(named_items(pair))
    ['both', 'A', 'B']
    """
    found: dict[str, Item] = {}
    if item.path and "." not in item.path:
        found[item.path] = item
    if not isinstance(item, Copies):
        for member in members(item):
            for name, each in named_items(member).items():
                found.setdefault(name, each)
    return found


def standing_in_copies(item: Item, name: str, *, copied: bool = False) -> bool:
    """Whether a part stands in the tree only as one of several like it.

    Parameters
    ----------
    item : Item
        The tree.
    name : str
        The part's.
    copied : bool
        Whether `item` itself stands among copies.
    """
    if isinstance(item, Leaf):
        return copied and item.part.name == name
    copied = copied or isinstance(item, Copies)
    return any(standing_in_copies(member, name, copied=copied) for member in members(item))
