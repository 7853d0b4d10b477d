"""Routes through a closed circuit: potential at the junction, one cell at a time, energy in one second."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from string import ascii_lowercase

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.change import changed
from boardproof.circuit.model import Across, Changed, Circuit, Item, Leaf, has_cells, leaves
from boardproof.circuit.place import Missing, put
from boardproof.circuit.quantity import QuantityRef
from boardproof.derive.branches import Branch, branches, joined
from boardproof.derive.naming import Nameless
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import bracketed, letter, signed_sum, text
from boardproof.record import record

__all__ = [
    "LINE_AT_MOST",
    "energy_in_one_second",
    "finished",
    "one_cell_at_a_time",
    "potential_at_the_junction",
    "sides",
]

LINE_AT_MOST = 300


@record
class _Closed:
    """A circuit of cells side by side with one load."""

    members: tuple[Branch, ...]
    load: RationalFunction
    pd: str
    current: str


def sides(task: Task) -> tuple[Item, Item]:
    """The side of a closed circuit that holds the cells, and the other.

    Parameters
    ----------
    task : Task
        Of any kind.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E, r; R = resistor; main = A across R", "I")
    >>> [side.path for side in sides(asked)]
    ['A', 'R']
    """
    item = task.circuit.item
    while isinstance(item, Changed):
        item = item.item
    if not isinstance(item, Across):
        raise Unfit("it needs a circuit of cells with one load joined across them")
    both = (item.source, item.load)
    return both if has_cells(item.source) else (both[1], both[0])


def _closed(task: Task) -> _Closed:
    source, load = sides(task)
    if joined(source) != "parallel" or has_cells(load):
        raise Unfit("it needs branches side by side between two junctions, and a load without cells")
    try:
        members = branches(source, task.names)
        pd, current = task.names.plain("V", "pd"), task.names.plain("I", "current")
        if isinstance(load, Leaf) and load.part.kind == "resistor" and load.part.resistance:
            resistance = letter(load.part.resistance.letter)
        else:
            resistance = letter(task.names.name("resistance", load.path))
    except Nameless as nameless:
        raise Unfit(f"there is no name for {nameless}") from None
    if any(not member.resistance for member in members):
        raise Unfit("a branch without resistance fixes the p.d. by itself")
    if any(not member.is_part and member.path for member in members) or not isinstance(load, Leaf):
        raise Unfit("a branch is a group with a name; go inside out first")
    return _Closed(members, resistance, pd, current)


def _flowing(task: Task) -> tuple[str, ...]:
    """The targets, all of them currents or p.d.s of the circuit at hand."""
    kinds = {"current", "pd", "terminal_pd", "potential"}
    refs = [task.names.means(target) for target in task.targets]
    if not all(isinstance(ref, QuantityRef) and ref.kind in kinds for ref in refs):
        raise Unfit("it gives currents and p.d.s of a closed circuit, and something else is wanted")
    return task.targets


def finished(task: Task, target: str, rules: Sequence[str], from_: Sequence[int], say: str) -> int:
    """The line that gives a target in letters alone.

    Parameters
    ----------
    task : Task
        Of any kind.
    target : str
        Its name.
    rules, from_, say
        As for any step.
    """
    value = task.names.value(target)
    if value is None:
        raise Unfit(f"nothing fixes {target}")
    written = f"{target} = {text(value)}"
    if len(written) > LINE_AT_MOST:
        raise Unfit("the formula in letters would be too long for a board; reduce the circuit first")
    return task.draft.add(written, *rules, from_=from_, say=say, readouts=(target,))


def potential_at_the_junction(task: Task) -> Derivation:
    """One unknown p.d. between two junctions; what flows in flows out.

    Parameters
    ----------
    task : Task
        For currents or the p.d. of cells side by side with a load.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A || B; main = g across R", "V")
    >>> potential_at_the_junction(asked).steps[-1].maths
    'V = (E_1/r_1 + E_2/r_2)/(1/R + 1/r_1 + 1/r_2)'
    """
    targets, closed, add = _flowing(task), _closed(task), task.draft.add
    pd, current, load = closed.pd, closed.current, closed.load
    own: list[int] = []
    say = (
        f"What is the same for all? The two junctions. Put the lower at nought and the upper at {pd}: that is the "
        "only unknown. Each branch gives what its EMF leaves over. I draw the arrows before I know; a minus will tell."
    )
    lines = [member.own_current(pd) for member in closed.members]
    rules = tuple(dict.fromkeys(rule for member in closed.members for rule in member.rules))
    for start in range(0, len(lines), 3):
        readouts = [member.current for member in closed.members[start : start + 3]]
        own.append(add(" and ".join(lines[start : start + 3]), *rules, say=say, readouts=readouts))
        say = "And the other branches."
    own.append(add(f"{current} = {pd}/{bracketed(load)}", "Ohm's law", say="The load takes its own share."))
    total = signed_sum([member.share for member in closed.members])
    junction = add(
        f"{current} = {total}", "junction rule", say="What flows into the upper junction flows out of it."
    )
    driven = signed_sum([member.driven for member in closed.members if not member.is_load])
    conducts = " + ".join([f"1/{bracketed(load)}", *(member.conducts for member in closed.members)])
    collected = add(
        f"{pd} ({conducts}) = {driven}",
        "algebra",
        from_=(*own, junction),
        say=f"One line with one unknown. Gather what holds {pd} on one side.",
    )
    solved = add(
        f"{pd} = ({driven})/({conducts})",
        "algebra",
        from_=(collected,),
        say="And there is the p.d.",
        readouts=(pd,),
    )
    for target in targets:
        if target != pd:
            finished(
                task, target, ("algebra",), (*own, solved), "Back into the branch, and the current is known."
            )
    return task.done(
        "potential at the junction",
        "Every branch pulls the junction towards its own EMF, the stronger the less its r.",
    )


def one_cell_at_a_time(task: Task) -> Derivation:
    """The others replaced by their resistances; the currents add with their signs, powers don't.

    Parameters
    ----------
    task : Task
        For one current or p.d. of a closed circuit with two to four cells.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A + B; main = g across R", "I")
    >>> one_cell_at_a_time(asked).steps[-1].maths
    'I = (E_1 + E_2)/(R + r_1 + r_2)'
    """
    targets = _flowing(task)
    cells = [leaf for leaf in leaves(task.circuit.item) if leaf.part.kind in ("cell", "source")]
    if not 2 <= len(cells) <= 4 or len(targets) > 2 or not all(isinstance(cell, Leaf) for cell in cells):
        raise Unfit("it needs two to four cells, and one or two targets")
    add, known = task.draft.add, ("cell rule", "Ohm's law", "junction rule", "loop rule")
    for turn, target in enumerate(targets):
        shares, lines = [], []
        for place, cell in enumerate(cells):
            name = _alone(
                task,
                target,
                cell.path,
                [each.path for each in cells if each is not cell],
                place + turn * len(cells),
            )
            shares.append((1, name))
            say = (
                f"{'' if place else 'What is the same each time? The resistances. '}Let only {cell.path} push; "
                "of the others we keep the resistance and take the EMF out."
            )
            lines.append(finished(task, name, known, (), say))
        total = add(
            f"{target} = {signed_sum(shares)}",
            *known,
            from_=lines,
            say="All lines of the circuit are straight, so the currents add, each with its sign. Powers don't.",
        )
        finished(task, target, ("algebra",), (*lines, total), "Put them together.")
    return task.done(
        "one cell at a time", "Each cell drives as if the others were bare resistances; the currents add."
    )


def _alone(task: Task, target: str, path: str, others: Sequence[str], place: int) -> str:
    """A name for what a target is with one cell's EMF left."""
    ref = task.names.means(target)
    assert isinstance(ref, QuantityRef)
    item = task.circuit.item
    for other in others:
        found = put(item, other, lambda inner: changed(inner, "without emf"), task.circuit.values)
        if isinstance(found, Missing):
            raise Unfit(f"{other} cannot be taken alone")
        item = found
    circuit = replace(task.circuit, item=item)
    what = {"current": "current in", "pd": "p.d. across", "terminal_pd": "terminal p.d. of"}.get(ref.kind)
    if what is None or len(ref.of) != 1 or ref.sense < 0:
        raise Unfit("it needs the current in a part, or the p.d. across one")
    stem = target.partition("_")[0]
    phrase = f"{what} {ref.of[0]} when no emf in {' and '.join(others)}"
    try:
        return task.names.other(ref.kind, ref.of[0], circuit, f"{stem}_{ascii_lowercase[place]}", phrase)
    except Nameless as nameless:
        raise Unfit(f"{nameless}, for the share of {path}, already means something else") from None


def energy_in_one_second(task: Task) -> Derivation:
    """What the EMFs give is what warms up: in one loop this gives the current.

    Parameters
    ----------
    task : Task
        For the current of a plain loop.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A + B; main = g across R", "I")
    >>> energy_in_one_second(asked).steps[-1].maths
    'I = (E_1 + E_2)/(R + r_1 + r_2)'
    """
    targets = _flowing(task)
    wired, add = task.names.wired, task.draft.add
    roots = {entry.current[0] for entry in wired.entries.values() if isinstance(entry.item, Leaf)}
    if len(roots) != 1 or -1 in roots or wired.stretches or len(targets) != 1:
        raise Unfit("it gives the one current of a plain loop")
    (target,) = targets
    ref = task.names.means(target)
    if not isinstance(ref, QuantityRef) or ref.kind != "current":
        raise Unfit("it gives the one current of a plain loop")
    entry = wired.entry(ref.of[0])
    sense = (entry.current[1] if entry else 1) * ref.sense
    emf = resistance = RationalFunction.constant(0)
    for each in wired.entries.values():
        if isinstance(each.item, Leaf):
            part = each.item.part
            emf = emf + (letter(part.emf.letter) * each.current[1] * sense if part.emf else 0)
            resistance = resistance + (letter(part.resistance.letter) if part.resistance else 0)
    heats = " + ".join(f"{target}^2 {worth}" for worth in _resistances(task.circuit))
    balance = add(
        f"{bracketed(emf)} {target} = {heats}",
        "power",
        "loop rule",
        say="What is the same for all? The current. Each second the EMFs give E I, nothing is stored, so all of it "
        "warms something: I squared times r in each cell and in the load.",
    )
    divided = add(
        f"{text(emf)} = {target} ({text(resistance)})",
        "algebra",
        from_=(balance,),
        say="Every term holds the current; divide by it. (With no current at all there is nothing to divide.)",
    )
    finished(task, target, ("algebra",), (divided,), "One push over all the resistance.")
    return task.done("energy in one second", "What the EMFs give in a second is what warms up in a second.")


def _resistances(circuit: Circuit) -> list[str]:
    return [leaf.part.resistance.letter for leaf in leaves(circuit.item) if leaf.part.resistance]
