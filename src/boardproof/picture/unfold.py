"""A circuit's tree unfolded into a plan: copies drawn or left out, families, and the way each part is walked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from boardproof.circuit.model import (
    Across,
    Changed,
    Copies,
    Count,
    Family,
    How,
    Item,
    Leaf,
    Network,
    Parallel,
    Series,
    Worth,
    has_cells,
    members,
)
from boardproof.picture.plan import Closed, Dots, Plan, Row, Spot, Stack, Web, mirrored

__all__ = ["counted", "odd_members", "plan_of", "substituted"]

FULL = 4
SHOWN_AT_MOST = 6


def counted(item: Item, values: Mapping[str, Fraction]) -> Item:
    """The tree with its letter counts as numbers where they have a value.

    Parameters
    ----------
    item : Item
        With every change in force.
    values : mapping of str to Fraction
        Of the circuit at hand; counts plain.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Run
    >>> row = Copies("series", (Run(1, "n", Leaf("g.1", Part("A", "cell"))),), "g")
    >>> counted(row, {"n": Fraction(3)}).count
    3
    """

    def number(count: Count) -> Count:
        value = values.get(count) if isinstance(count, str) else None
        return count if value is None or value.denominator != 1 or value < 1 else int(value)

    def again(inner: Item) -> Item:
        return counted(inner, values)

    match item:
        case Leaf():
            return item
        case Family(last=last):
            return replace(item, last=number(last))
        case Series(items=items) | Parallel(items=items):
            return replace(item, items=tuple(again(each) for each in items))
        case Copies(runs=runs):
            inner = tuple(replace(run, count=number(run.count), item=again(run.item)) for run in runs)
            return replace(item, runs=inner)
        case Network(branches=branches):
            return replace(item, branches=tuple((again(each), a, b) for each, a, b in branches))
        case Across(source=source, load=load):
            return replace(item, source=again(source), load=again(load))
        case Changed(item=changed):
            return replace(item, item=again(changed))


def plan_of(item: Item, odd: Mapping[str, frozenset[int]] | None = None) -> Plan:
    """Plan of an item, its first end on the left.

    Parameters
    ----------
    item : Item
        Part, group or complete circuit.
    odd : mapping of str to frozenset of int, optional
        Members of copies, by the copies' path, that must be drawn because they differ in some circuit of the scene.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> cell, lamp = Leaf("A", Part("A", "cell")), Leaf("L", Part("L", "lamp"))
    >>> plan = plan_of(Across(cell, lamp))
    >>> plan.top.forward, plan.bottom.forward
    (True, False)
    """
    return _plan(item, frozenset((odd or {}).items()))


@lru_cache(maxsize=256)
def _plan(item: Item, odd: frozenset[tuple[str, frozenset[int]]]) -> Plan:
    """Unfolded once for all frames of a scene."""
    return _unfolded(item, dict(odd))


def _unfolded(item: Item, seen: Mapping[str, frozenset[int]]) -> Plan:
    match item:
        case Leaf(path=path, part=part):
            return Spot(path, part)
        case Family():
            return Stack(_family(item), item.path)
        case Series(items=items, path=path):
            return Row(tuple(_unfolded(each, seen) for each in items), path)
        case Parallel(items=items, path=path):
            return Stack(_side_by_side(items, seen), path)
        case Copies():
            return _copies(item, seen)
        case Network():
            return _network(item, seen)
        case Across(source=source, load=load, path=path):
            return _across(
                _unfolded(source, seen), _unfolded(load, seen), path, load_has_cells=has_cells(load)
            )
        case Changed(item=inner, how="turned"):
            return _marked(mirrored(_unfolded(inner, seen)), "turned")
        case Changed(item=inner, how=how):
            return _marked(_unfolded(inner, seen), how)


def _marked(plan: Plan, how: How) -> Plan:
    """The plan with a change on it; taken-out EMFs and taken-away parts reach every part inside."""
    match plan:
        case Dots():
            return plan
        case Spot():
            return replace(plan, changes=(*plan.changes, how))
        case Row() | Stack() if how in {"without emf", "removed"}:
            items = tuple(_marked(each, how) for each in plan.items)
            return replace(plan, items=items, changes=(*plan.changes, how))
        case Web() if how in {"without emf", "removed"}:
            branches = tuple((_marked(each, how), a, b) for each, a, b in plan.branches)
            return replace(plan, branches=branches, changes=(*plan.changes, how))
        case _:
            return replace(plan, changes=(*plan.changes, how))


def _across(source: Plan, load: Plan, path: str, *, load_has_cells: bool) -> Closed:
    if isinstance(load, Web) and not isinstance(source, Web):
        top = load if not load_has_cells else mirrored(load)
        return Closed(top, mirrored(source), path, plus_right=False)
    return Closed(source, load if load_has_cells else mirrored(load), path)


def _side_by_side(items: tuple[Item, ...], odd: Mapping[str, frozenset[int]]) -> tuple[Plan, ...]:
    """Rows of a stack: what has no cells beside what has them is walked the other way; a family brings its own rows."""
    driven = any(has_cells(each) for each in items)
    rows: list[Plan] = []
    for each in items:
        if isinstance(each, Family):
            rows += _family(each)
        else:
            plan = _unfolded(each, odd)
            rows.append(plan if has_cells(each) or not driven else mirrored(plan))
    return tuple(rows)


def _family(family: Family) -> tuple[Plan, ...]:
    """First and last of a family, with dots between."""
    rows: list[Plan] = [_of_family(family, str(family.first))]
    if isinstance(family.last, str):
        return (*rows, Dots(""), _of_family(family, family.last))
    left_out = family.last - family.first - 1
    if left_out > 0:
        rows.append(Dots(left_out))
    if family.last > family.first:
        rows.append(_of_family(family, str(family.last)))
    return tuple(rows)


def _of_family(family: Family, index: str) -> Spot:
    def named(worth: Worth | None) -> Worth | None:
        if worth is None:
            return None
        stem, _, subscript = worth.letter.rpartition("_")
        return replace(worth, letter=f"{stem}_{index}" if subscript == family.index else worth.letter)

    part = family.part
    stem, _, subscript = part.name.rpartition("_")
    name = f"{stem}_{index}" if subscript == family.index else part.name
    part = replace(part, name=name, emf=named(part.emf), resistance=named(part.resistance))
    return Spot(name, part)


def _copies(copies: Copies, odd: Mapping[str, frozenset[int]]) -> Row | Stack:
    """First ones, odd ones and the last, with dots for the rest."""
    count = copies.count
    differing = odd.get(_any_member(copies.path), frozenset())
    shown = _shown_members(count, differing, is_stack=copies.joined == "parallel")
    usual = _usual_worths(copies)
    items: list[Plan] = []
    numbers: list[str] = []
    before = 0
    for number in shown:
        at = count if isinstance(count, str) and number > 2 + (copies.joined == "parallel") else number
        gap = number - before - 1
        if gap:
            items.append(Dots("" if isinstance(count, str) else gap))
            numbers.append("")
        plan = _unfolded(_member(copies, at, number), odd)
        if isinstance(plan, Spot):
            # Only another letter or value is worth a label; a turn is seen.
            is_odd = number in odd.get(copies.path, frozenset())
            plan = replace(plan, is_odd=is_odd and plan.part.worths() != usual)
        few = isinstance(plan, Spot) and count in range(1, FULL + 1)
        items.append(_packed(plan, keeps_label=few or number == 1, bare=not few))
        numbers.append(str(at))
        before = number
    left_out = count - len(shown) if isinstance(count, int) else 0
    said = f"{count} in series" if copies.joined == "series" else f"{count} rows in parallel"
    note = f"{said}, {left_out} not drawn" if left_out else said if isinstance(count, str) else ""
    if copies.joined == "series":
        return Row(tuple(items), copies.path, note=note, is_copies=True)
    return Stack(tuple(items), copies.path, note=note, numbers=tuple(numbers) if note else ())


def _usual_worths(copies: Copies) -> tuple[Worth, ...]:
    """Letters and values of most of the copies, if they are single parts."""
    run = max(copies.runs, key=lambda run: run.count if isinstance(run.count, int) else SHOWN_AT_MOST)
    item = run.item
    while isinstance(item, Changed):
        item = item.item
    return item.part.worths() if isinstance(item, Leaf) else ()


def _shown_members(count: Count, odd: frozenset[int], *, is_stack: bool) -> list[int]:
    first = {1, 2, 3} if is_stack else {1, 2}
    if isinstance(count, str):
        return sorted(first | {len(first) + 2})
    if count <= FULL:
        return list(range(1, count + 1))
    chosen = first | {count}
    extra = sorted(odd - chosen)[: SHOWN_AT_MOST - len(chosen)]
    return sorted(chosen | set(extra))


def _member(copies: Copies, at: Count, number: int) -> Item:
    """Member `at` of the copies, with its own paths."""
    for run in copies.runs:
        if isinstance(run.count, str) or run.first <= number < run.first + run.count:
            return _moved(run.item, f"{copies.path}.{run.first}", f"{copies.path}.{at}")
    raise ValueError(number)


def _moved(item: Item, old: str, new: str) -> Item:
    """The item with the path `old` at its head replaced by `new`."""

    def path(text: str) -> str:
        return new + text[len(old) :] if text == old or text.startswith(f"{old}.") else text

    match item:
        case Leaf() | Family():
            return replace(item, path=path(item.path))
        case Series(items=items) | Parallel(items=items):
            return replace(item, items=tuple(_moved(each, old, new) for each in items), path=path(item.path))
        case Copies(runs=runs):
            inner = tuple(replace(run, item=_moved(run.item, old, new)) for run in runs)
            return replace(item, runs=inner, path=path(item.path))
        case Network(branches=branches):
            inside = tuple((_moved(each, old, new), a, b) for each, a, b in branches)
            return replace(item, branches=inside, path=path(item.path))
        case Across(source=source, load=load):
            return replace(
                item, source=_moved(source, old, new), load=_moved(load, old, new), path=path(item.path)
            )
        case Changed(item=inner_item):
            return replace(item, item=_moved(inner_item, old, new))


def _packed(plan: Plan, *, keeps_label: bool, bare: bool) -> Plan:
    match plan:
        case Spot():
            return replace(
                plan,
                is_labelled=plan.is_odd or (plan.is_labelled and keeps_label),
                is_packed=plan.is_packed or bare,
            )
        case Row() | Stack():
            one = isinstance(plan, Row) and plan.is_copies
            items = tuple(
                _packed(each, keeps_label=keeps_label and not (one and n), bare=True)
                for n, each in enumerate(plan.items)
            )
            return replace(plan, items=items, note=plan.note if keeps_label else "")
        case Web():
            inner = tuple((_packed(p, keeps_label=keeps_label, bare=True), a, b) for p, a, b in plan.branches)
            return replace(plan, branches=inner)
        case _:
            return plan


def _network(network: Network, odd: Mapping[str, frozenset[int]]) -> Web | Closed:
    branches = tuple((_unfolded(each, odd), a, b) for each, a, b in network.branches)
    if network.ends is not None:
        return Web(branches, network.ends[0], network.ends[1], network.path)
    # A complete network: the branch that closes it becomes the lowest row, walked right to left.
    driving = [n for n, (each, _, _) in enumerate(network.branches) if has_cells(each)]
    resting = [n for n in range(len(branches)) if n not in driving]
    order = driving if len(driving) == 1 else [*reversed(resting), *reversed(driving)]
    lowest = next((n for n in order if branches[n][1] != branches[n][2]), order[0])
    bottom, right, left = branches[lowest]
    rest = branches[:lowest] + branches[lowest + 1 :]
    top = Web(rest, left, right, network.path)
    return Closed(top, mirrored(bottom), network.path, has_terminals=False)


def odd_members(item: Item) -> dict[str, frozenset[int]]:
    """Members of copies that differ from most, by path, and by path with a star for each number.

    What is odd in one row is drawn in all, so that like copies keep their members in line.

    Parameters
    ----------
    item : Item
        With every change in force.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> odd_members(Leaf("R", Part("R", "resistor")))
    {}
    """
    found: dict[str, frozenset[int]] = {}
    if isinstance(item, Copies) and len(item.runs) > 1:
        alike: dict[Item, int] = {}
        plain = [_moved(run.item, f"{item.path}.{run.first}", f"{item.path}.*") for run in item.runs]
        counts = [run.count if isinstance(run.count, int) else SHOWN_AT_MOST for run in item.runs]
        for kind, count in zip(plain, counts, strict=True):
            alike[kind] = alike.get(kind, 0) + count
        usual = max(alike, key=lambda kind: alike[kind])
        numbers = {
            run.first + n
            for run, kind, count in zip(item.runs, plain, counts, strict=True)
            for n in range(min(count, SHOWN_AT_MOST))
            if kind != usual
        }
        found[item.path] = found[_any_member(item.path)] = frozenset(numbers)
    for each in members(item):
        for path, numbers_inside in odd_members(each).items():
            found[path] = found.get(path, frozenset()) | numbers_inside
    return found


def _any_member(path: str) -> str:
    return re.sub(r"\.\d+", ".*", path)


def substituted(host: Item, circuit: Item) -> Item | None:
    """The host with `circuit` put in the place of the member it has the shape of; None if there is no such member.

    Parameters
    ----------
    host, circuit : Item
        Any trees.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> a, r = Leaf("A", Part("A", "cell")), Leaf("R", Part("R", "resistor"))
    >>> substituted(Across(a, r), Changed(a, "turned")) == Across(Changed(a, "turned"), r)
    True
    >>> substituted(a, r) is None
    True
    """
    if _skeleton(host) == _skeleton(circuit):
        return circuit
    if isinstance(host, Across):
        for side in ("source", "load"):
            inner = substituted(getattr(host, side), circuit)
            if inner is not None:
                return replace(host, source=inner) if side == "source" else replace(host, load=inner)
    if isinstance(host, Series | Parallel):
        for number, each in enumerate(host.items):
            inner = substituted(each, circuit)
            if inner is not None:
                return replace(host, items=(*host.items[:number], inner, *host.items[number + 1 :]))
    if isinstance(host, Changed):
        inner = substituted(host.item, circuit)
        return None if inner is None else replace(host, item=inner)
    return None


def _skeleton(item: Item) -> object:
    """What decides places: the tree without changes, kinds and values."""
    match item:
        case Changed(item=inner):
            return _skeleton(inner)
        case Leaf(path=path):
            return path
        case Family(path=path, first=first, last=last):
            return ("family", path, first, last)
        case Copies(joined=joined, count=count, path=path):
            return (joined, count, path, _skeleton(_moved(item.runs[0].item, f"{path}.1", f"{path}.1")))
        case Network(branches=branches, ends=ends):
            return ("net", tuple((_skeleton(each), a, b) for each, a, b in branches), ends)
        case _:
            return (type(item).__name__, tuple(_skeleton(each) for each in members(item)))
