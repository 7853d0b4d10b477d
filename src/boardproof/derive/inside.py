"""Inside out: one group at a time replaced by its equivalent, and back in again for the parts."""

from __future__ import annotations

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import (
    Changed,
    Copies,
    Item,
    Leaf,
    Network,
    Series,
    has_cells,
    members,
)
from boardproof.circuit.quantity import QuantityRef
from boardproof.derive.branches import Branch, joined
from boardproof.derive.closed import sides
from boardproof.derive.naming import Nameless
from boardproof.derive.phrases import said_emf
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import bracketed, letter, lost_volts, signed_sum, text
from boardproof.record import record

__all__ = ["inside_out"]

GROUPS_AT_MOST = 10
WIDE = 120


@record
class _Folded:
    """A group that was replaced: the steps that gave its resistance and its EMF."""

    path: str
    how: str
    members: tuple[Branch, ...]
    steps: tuple[int, ...]


def inside_out(task: Task) -> Derivation:
    """Replace group after group, the innermost first; in a closed circuit go on to the currents.

    Parameters
    ----------
    task : Task
        For the equivalent of a mixed group, or for currents and p.d.s of a closed circuit of such groups.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A + B; main = g across R", "E_g")
    >>> inside_out(asked).steps[-1].maths
    'E_g = E_1 + E_2'
    """
    if task.is_equivalent:
        group = task.entry().item
        folded = _folded(task, group)
        if not folded:
            raise Unfit(f"{task.group} is a single part")
        _told(task, folded)
    else:
        source, load = sides(task)
        folded = [*_folded(task, load), *_folded(task, source)]
        _closed(task, source, load, folded)
    return task.done(
        "inside out",
        "From the inside out, each group is one cell seen from its ends; for what goes on inside, go back in.",
    )


def _inner(item: Item) -> Item:
    while isinstance(item, Changed):
        item = item.item
    return item


def _groups(item: Item) -> list[Item]:
    """Groups to be replaced, the innermost first; a row of parts without a name is taken as it is."""
    item = _inner(item)
    if isinstance(item, Network):
        raise Unfit(f"{item.path} is neither in series nor in parallel")
    found = [group for member in members(item) for group in _groups(member)]
    is_plain_row = isinstance(item, Series) and all(isinstance(_inner(each), Leaf) for each in item.items)
    if not isinstance(item, Leaf) and (item.path or not is_plain_row):
        if not item.path:
            raise Unfit("a group inside has no name; give it one")
        found.append(item)
    return found


def _folded(task: Task, item: Item) -> list[_Folded]:
    groups = _groups(item)
    if len(groups) > GROUPS_AT_MOST:
        raise Unfit(f"{len(groups)} groups are too many for a board")
    return [_fold(task, group) for group in groups]


def _fold(task: Task, group: Item) -> _Folded:
    how = joined(group)
    if not how:
        raise Unfit(f"{group.path} is neither in series nor in parallel")
    found = task.branches_of(group)
    if not found or any(not each.resistance for each in found if how == "parallel"):
        raise Unfit(f"{group.path} holds a part without resistance")
    try:
        resistance = task.names.name("resistance", group.path)
        emf = task.names.name("emf", group.path) if has_cells(group) else ""
    except Nameless as nameless:
        raise Unfit(f"there is no name for {nameless}") from None
    steps = _in_a_row(task, group, found, emf, resistance) if how == "series" else _abreast(
        task, group, found, emf, resistance
    )  # fmt: skip
    return _Folded(group.path, how, found, steps)


def _rules(found: tuple[Branch, ...], *more: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys([*(rule for each in found for rule in each.rules), *more]))


def _in_a_row(
    task: Task, group: Item, found: tuple[Branch, ...], emf: str, resistance: str
) -> tuple[int, ...]:
    hinders = pushes = RationalFunction.constant(0)
    for each in found:
        hinders = hinders + each.resistance * each.count
        pushes = pushes + each.emf * each.count * each.sign
    first = task.draft.add(
        f"{resistance} = {text(hinders)}",
        "resistances in series",
        say=f"Take {group.path} by itself. What is the same in all of it? The current. So the resistances add.",
        moves=(f"focus {group.path}",),
        readouts=(resistance,),
    )
    if not emf:
        return (first,)
    second = task.draft.add(
        f"{emf} = {text(pushes)}",
        *_rules(found, "loop rule"),
        from_=(first,),
        say=said_emf(pushes, "And the pushes add, each with its sign. From now on it is one cell."),
        moves=(f"replace {group.path} by one cell",),
        readouts=(emf,),
    )
    return first, second


def _abreast(
    task: Task, group: Item, found: tuple[Branch, ...], emf: str, resistance: str
) -> tuple[int, ...]:
    conducts = " + ".join(each.conducts for each in found)
    mixed = any(isinstance(each, Series) and not each.path for each in map(_inner, members(group)))
    rules = ("resistances in parallel", "resistances in series") if mixed else ("resistances in parallel",)
    first = task.draft.add(
        f"1/{resistance} = {conducts}",
        *rules,
        say=f"Take {group.path} by itself. What is the same for all of it? The terminals. So the reciprocals add.",
        moves=(f"focus {group.path}",),
        readouts=(resistance,),
    )
    if not emf:
        return (first,)
    driven = signed_sum([each.driven for each in found if not each.is_load])
    second = task.draft.add(
        f"{emf}/{resistance} = {driven}",
        *_rules(found, "junction rule"),
        from_=(first,),
        say=said_emf(
            task.names.value(emf), "And the short-circuit currents add. From now on it is one cell."
        ),
        moves=(f"replace {group.path} by one cell",),
        readouts=(emf,),
    )
    return first, second


def _told(task: Task, folded: list[_Folded]) -> None:
    """The targets in letters, or by the members' names where that would be too long for a board."""
    steps = [step for each in folded for step in each.steps]
    for target in task.targets:
        value = task.names.value(target)
        written = "" if value is None else f"{target} = {text(value)}"
        if len(written) > WIDE:
            written = _by_members(task, target, folded[-1])
        if written and all(written != step.maths for step in task.draft.steps):
            say = "Put one into the other, from the inside out."
            task.draft.add(written, "algebra", from_=steps, say=say, readouts=(target,))


def _by_members(task: Task, target: str, last: _Folded) -> str:
    """The outermost group's EMF or resistance by what its members are; "" in a row, which has said it already."""
    if last.how != "parallel":
        return ""
    conducts = " + ".join(each.conducts for each in last.members)
    if target in task.wants("resistance"):
        return f"{target} = 1/({conducts})"
    driven = signed_sum([each.driven for each in last.members if not each.is_load])
    return f"{target} = ({driven})/({conducts})"


def _closed(task: Task, source: Item, load: Item, folded: list[_Folded]) -> None:
    """The whole is one cell and one load; then back in, from group to group."""
    names, add = task.names, task.draft.add
    try:
        pd, current = names.plain("V", "pd"), names.plain("I", "current")
    except Nameless as nameless:
        raise Unfit(f"there is no name for {nameless}") from None
    whole, sink = (_as_one(task, each) for each in (source, load))
    if sink[0]:
        raise Unfit("both sides hold cells")
    bottom = sink[1] + whole[1]
    add(
        f"{current} = {bracketed(whole[0])}/{bracketed(bottom)}",
        "cell rule",
        "Ohm's law",
        say="Now it is one cell and one load: one push over all the resistance in line.",
        readouts=(current,),
    )
    lost = f" - {lost_volts(current, whole[1])}" if whole[1] else ""
    add(
        f"{pd} = {text(whole[0])}{lost}",
        "cell rule",
        say="At the terminals, the push less the lost volts." if lost else "Nothing is lost inside.",
        readouts=(pd,),
    )
    inside = {each.path for each in folded if _asks_inside(task, each)}
    for each in reversed(folded):
        if each.path in inside:
            _back_in(task, each, inside)
    for target in task.targets:
        if not any(
            step.maths.startswith(f"{target} = ") or f" and {target} = " in step.maths
            for step in task.draft.steps
        ):
            raise Unfit(f"{target} is not the current or p.d. of a part of these groups")


def _as_one(task: Task, item: Item) -> tuple[RationalFunction, RationalFunction]:
    """EMF and resistance of a side as names, seen from the circuit."""
    turned = isinstance(item, Changed)
    inner = _inner(item)
    if isinstance(inner, Leaf):
        part = inner.part
        emf = letter(part.emf.letter) if part.emf else RationalFunction.constant(0)
        resistance = letter(part.resistance.letter) if part.resistance else RationalFunction.constant(0)
    elif inner.path:
        emf = letter(task.names.name("emf", inner.path)) if has_cells(inner) else RationalFunction.constant(0)
        resistance = letter(task.names.name("resistance", inner.path))
    else:
        raise Unfit("one side of the circuit has no name; give it one")
    return (-emf if turned else emf), resistance


def _asks_inside(task: Task, folded: _Folded) -> bool:
    """Whether a target lies within a group."""
    paths = {ref.of[0] for target in task.targets if isinstance(ref := task.names.means(target), QuantityRef)}
    entry = task.names.wired.entry(folded.path)
    return entry is not None and bool(paths & _paths(entry.item))


def _paths(item: Item) -> set[str]:
    found = set()
    for member in members(item):
        found |= {member.path} | _paths(member)
    if isinstance(item, Copies):
        found |= {f"{item.path}.{run.first}" for run in item.runs}
    return found


def _back_in(task: Task, folded: _Folded, inside: set[str]) -> None:
    """Currents and p.d.s of a group's members."""
    pd, current = (task.names.outside(kind, folded.path) for kind in ("pd", "current"))
    if folded.how == "parallel":
        _into_abreast(task, folded, inside, pd)
    else:
        _into_a_row(task, folded, inside, current)


def _into_abreast(task: Task, folded: _Folded, inside: set[str], pd: str) -> None:
    add = task.draft.add
    say = f"Back into {folded.path}: all of it shares {pd}, so each part gives what its own EMF leaves over."
    for start in range(0, len(folded.members), 3):
        some = folded.members[start : start + 3]
        lines = " and ".join(each.own_current(pd) for each in some)
        add(lines, *_rules(folded.members), say=say, readouts=[each.current for each in some])
        say = "And the rest of it."
    for each in folded.members:
        if each.pd and (each.pd in task.targets or each.path in inside):
            sign = "-" if each.sign < 0 else ""
            add(
                f"{each.pd} = {sign}{pd}",
                "loop rule",
                say="It sits on the same terminals.",
                readouts=(each.pd,),
            )


def _into_a_row(task: Task, folded: _Folded, inside: set[str], current: str) -> None:
    add = task.draft.add
    for each in folded.members:
        sign = "-" if each.sign < 0 else ""
        if each.current in task.targets or each.path in inside:
            say = f"Back into {folded.path}: there is only one way to go, so the current is the same in all of it."
            add(f"{each.current} = {sign}{current}", "junction rule", say=say, readouts=(each.current,))
        if each.pd and (each.pd in task.targets or each.path in inside):
            lost = lost_volts(current, each.resistance) if each.resistance else ""
            push = "" if each.is_load else text(each.emf) + (f" {'+' if sign else '-'} " if lost else "")
            say = f"And {each.path} keeps its own rule."
            add(f"{each.pd} = {push}{lost}", *each.rules, say=say, readouts=(each.pd,))
