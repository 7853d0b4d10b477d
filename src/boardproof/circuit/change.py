"""What may be done to a circuit: turning, opening, closing, shorting, taking out EMFs, removing, other values.

A change keeps the part it is done to, so that it stays itself from picture to picture; turning twice turns back.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from boardproof.circuit.definitions import Definitions
from boardproof.circuit.kinds import finding
from boardproof.circuit.model import Changed, Circuit, Family, How, Item, Leaf, Part, leaves
from boardproof.circuit.part import ROLES, default_letter, made_part, with_entries
from boardproof.circuit.place import Missing, named_items, put, remade
from boardproof.circuit.written import Act, Assign, Change, ChangeWord, UseSet
from boardproof.findings import Finding, near_names
from boardproof.quantities import si_unit
from boardproof.source import Span

__all__ = ["apply", "changed", "done_to", "settled", "values_of"]

# The order in which several changes of one item are kept, so that equal circuits are equal.
ORDER: Final[tuple[How, ...]] = ("turned", "without emf", "shorted", "open", "removed")
HOWS: Final[Mapping[ChangeWord, How]] = MappingProxyType(
    {"turn": "turned", "open": "open", "short": "shorted", "no emf in": "without emf", "remove": "removed"}
)


def done_to(item: Item) -> tuple[Item, tuple[How, ...]]:
    """An item without what was done to it, and what that was.

    Parameters
    ----------
    item : Item
        With any number of changes around it.

    Returns
    -------
    item : Item
        Without them.
    hows : tuple of How
        Each once, in the order in which they are kept, which is not that of the text.

    Examples
    --------
    >>> cell = Leaf("A", Part("A", "cell"))
    >>> one, other = changed(cell, "turned"), changed(cell, "without emf")
    >>> done_to(changed(one, "without emf")) == done_to(changed(other, "turned"))
    True
    """
    hows: list[How] = []
    while isinstance(item, Changed):
        hows.append(item.how)
        item = item.item
    return item, tuple(how for how in ORDER if how in hows)


def changed(item: Item, how: How, span: Span | None = None) -> Item:
    """An item to which one more thing was done; turned twice it is as before.

    Parameters
    ----------
    item : Item
        As it stands.
    how : How
        What is done.
    span : Span, optional
        Where the text asks for it.

    Examples
    --------
    >>> cell = Leaf("A", Part("A", "cell"))
    >>> changed(changed(cell, "turned"), "turned") == cell
    True
    """
    inner, hows = done_to(item)
    wanted = set(hows) ^ {how} if how == "turned" else set(hows) | {how}
    return _wrapped(inner, wanted, span)


def _wrapped(inner: Item, wanted: set[How], span: Span | None) -> Item:
    for each in ORDER:
        if each in wanted:
            inner = Changed(inner, each, span)
    return inner


def values_of(item: Item) -> dict[str, Fraction]:
    """The values that the letters of an item carry.

    Parameters
    ----------
    item : Item
        Any tree.

    Returns
    -------
    dict of str to Fraction
        In SI units; letters without a value are left out.

    Examples
    --------
    >>> from boardproof.circuit.model import Worth
    >>> values_of(Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r"))))
    {'E': Fraction(6, 1)}
    """
    worths = (worth for leaf in leaves(item) for worth in leaf.part.worths())
    return {worth.letter: worth.value for worth in worths if worth.value is not None}


def settled(item: Item, values: Mapping[str, Fraction]) -> Item:
    """An item whose letters carry exactly the values given.

    Parameters
    ----------
    item : Item
        Any tree.
    values : mapping of str to Fraction
        Letter to value in SI units; a letter that is not there loses its value.

    Examples
    --------
    >>> from boardproof.circuit.model import Worth
    >>> cell = Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r", Fraction(1))))
    >>> values_of(settled(cell, {"r": Fraction(2)}))
    {'r': Fraction(2, 1)}
    """

    def again(inner: Item) -> Item:
        if not isinstance(inner, Leaf | Family):
            return remade(inner, again)
        worths = {
            role: replace(worth, value=values.get(worth.letter))
            for role in ("emf", "resistance", "capacitance")
            if (worth := getattr(inner.part, role))
        }
        return replace(inner, part=replace(inner.part, **worths))

    return again(item)


def apply(
    circuit: Circuit, changes: Sequence[Change], known: Definitions
) -> tuple[Circuit, tuple[Finding, ...]]:
    """The circuit after changes; one that can't be made is left out, with its finding.

    Parameters
    ----------
    circuit : Circuit
        As it stands.
    changes : sequence of Change
        In order; later ones win. Counts are set first, so that single members can be told apart.
    known : Definitions
        For sets of values.

    Returns
    -------
    circuit : Circuit
        The new one; parts that were not touched stay themselves.
    findings : tuple of Finding
        What could not be done.
    """
    wrong: list[Finding] = []
    plain = [one for change in changes for one in _spread(change, known, wrong)]
    counts = circuit.counts
    plain.sort(key=lambda one: not (isinstance(one[0], Assign) and one[0].name in counts))
    for change, is_of_set in plain:
        done = (
            _act(circuit, change)
            if isinstance(change, Act)
            else _assign(circuit, change, is_of_set=is_of_set)
        )
        if isinstance(done, Circuit):
            circuit = done
        else:
            wrong += done
    return replace(circuit, item=settled(circuit.item, circuit.values)), tuple(wrong)


def _spread(change: Change, known: Definitions, wrong: list[Finding]) -> list[tuple[Act | Assign, bool]]:
    """A change, or those of a set of values, each with whether it comes from a set."""
    name = change.name if isinstance(change, UseSet) else change.path if isinstance(change, Act) else ""
    if name in known.sets and (isinstance(change, UseSet) or name not in known.names()):
        return [(one, True) for one in known.sets[name].assigned]
    if isinstance(change, UseSet):
        near = ", ".join(near_names(change.name, known.sets))
        wrong.append(finding("unknown-name", change.span, word=change.name, near=near))
        return []
    return [(change, False)]


def _not_here(circuit: Circuit, path: str, span: Span, missing: Missing) -> Finding:
    if missing.why:
        return finding("no-such-member", span, what=missing.why)
    near = near_names(path, named_items(circuit.item))
    better = f"Did you mean {', '.join(near)}?" if near else ""
    return finding("no-such-member", span, what=f"{path} is not in this circuit", better=better)


def _act(circuit: Circuit, act: Act) -> Circuit | list[Finding]:
    refused: list[Finding] = []

    def change(item: Item) -> Item:
        inner, hows = done_to(item)
        is_switch = isinstance(inner, Leaf) and inner.part.kind == "switch"
        if act.how in {"open", "close"} and isinstance(inner, Leaf) and is_switch:
            inner = replace(inner, part=replace(inner.part, closed=act.how == "close"))
            return _wrapped(inner, set(hows) - {"open"}, act.span)
        if act.how == "close":
            if "open" not in hows:
                refused.append(finding("nothing-to-close", act.span, name=act.path))
            return _wrapped(inner, set(hows) - {"open"}, act.span)
        return changed(item, HOWS[act.how], act.span)

    return _put(circuit, act.path, change, act.span, refused)


def _put(
    circuit: Circuit, path: str, change: Callable[[Item], Item], span: Span, refused: list[Finding]
) -> Circuit | list[Finding]:
    item = put(circuit.item, path, change, circuit.values)
    if isinstance(item, Missing):
        return [_not_here(circuit, path, span, item)]
    return refused or replace(circuit, item=item)


def _assign(circuit: Circuit, assign: Assign, *, is_of_set: bool) -> Circuit | list[Finding]:
    """New values for a count, a letter, a part or a member."""
    name, span = assign.name, assign.span
    if assign.kind is None and name in circuit.counts:
        return _set_count(circuit, assign)
    letter = _letter(circuit.item, name)
    if assign.kind is None and letter and len(assign.entries) == 1 and not assign.entries[0].letter:
        return _set_letter(circuit, letter, assign)
    if is_of_set and (name not in named_items(circuit.item) and "." not in name):
        return circuit
    if name in circuit.values and not letter:
        what = f"{name} was fixed when a single member was changed; give {name} before that"
        return [finding("no-such-member", span, what=what)]
    return _set_part(circuit, assign)


def _letter(item: Item, name: str) -> str | None:
    """The letter that a name means: itself, or the one a part carries where E_A, r_A are expected."""
    parts = [leaf.part for leaf in leaves(item)]
    if any(worth.letter == name for part in parts for worth in part.worths()):
        return name
    for part in parts:
        for role in ROLES[part.kind]:
            if getattr(part, role) and default_letter(part.name, part.kind, role) == name:
                return str(getattr(part, role).letter)
    return None


def _set_count(circuit: Circuit, assign: Assign) -> Circuit | list[Finding]:
    entry = assign.entries[0]
    if len(assign.entries) > 1 or entry.value is None or entry.letter or entry.value.denominator != 1:
        return [finding("unread-line", assign.span, why=f"{assign.name} is a whole number")]
    if entry.unit:
        return [finding("wrong-unit", entry.span, what=f"The count {assign.name}", unit=entry.unit.symbol)]
    if entry.value < 1:
        return [finding("zero-count", assign.span, count=f"{assign.name} = {entry.value}", what="member")]
    return replace(circuit, values=MappingProxyType({**circuit.values, assign.name: entry.value}))


def _set_letter(circuit: Circuit, letter: str, assign: Assign) -> Circuit | list[Finding]:
    """The letter's value, by way of a part that carries it, which knows the right unit."""
    for leaf in leaves(circuit.item):
        for role in ROLES[leaf.part.kind]:
            worth = getattr(leaf.part, role)
            if worth and worth.letter == letter:
                part, wrong = with_entries(
                    Part(letter, leaf.part.kind, **{role: worth}),
                    [replace(entry, letter=None) for entry in assign.entries],
                )
                now = getattr(part, role)
                others = [other for other in part.worths() if other is not now]
                if wrong:
                    return list(wrong)
                if now.value is None or (now == worth and assign.entries[0].unit and others):
                    unit = si_unit(assign.entries[0].unit.dimension) if assign.entries[0].unit else None
                    symbol = unit.symbol if unit else "that"
                    return [finding("wrong-unit", assign.span, what=letter, unit=symbol)]
                return replace(circuit, values=MappingProxyType({**circuit.values, letter: now.value}))
    return []


def _set_part(circuit: Circuit, assign: Assign) -> Circuit | list[Finding]:
    """Values, or another kind, for a part or a member, which gets letters of its own if it shares them."""
    wrong: list[Finding] = []
    values = dict(circuit.values)

    def change(item: Item) -> Item:
        inner, hows = done_to(item)
        if not isinstance(inner, Leaf):
            wrong.append(
                finding(
                    "unread-line", assign.span, why=f"{assign.name} is a group; values belong to its parts"
                )
            )
            return item
        part = inner.part
        if assign.kind:
            name = part.name if inner.path == part.name else inner.path
            new, found = made_part(name, assign.kind, assign.entries, assign.span)
            new = replace(new, name=part.name, chemistry=part.chemistry, span=part.span)
        else:
            shared = inner.path != part.name or _shares(circuit.item, inner)
            new, found = with_entries(part, assign.entries, inner.path if shared else None)
        wrong.extend(found)
        values.update({worth.letter: worth.value for worth in new.worths() if worth.value is not None})
        return _wrapped(replace(inner, part=new), set(hows), None)

    done = _put(circuit, assign.name, change, assign.span, wrong)
    return replace(done, values=MappingProxyType(values)) if isinstance(done, Circuit) else done


def _shares(item: Item, leaf: Leaf) -> bool:
    """Whether another part of the circuit carries one of this one's letters."""
    own = {worth.letter for worth in leaf.part.worths()}
    others = (worth for one in leaves(item) if one.path != leaf.path for worth in one.part.worths())
    return any(worth.letter in own for worth in others)
