"""Routes by an imagined short circuit: open, then short; short, then EMFs taken out. On paper only."""

from __future__ import annotations

from collections.abc import Sequence

from boardproof.circuit.model import Circuit
from boardproof.derive.branches import Branch
from boardproof.derive.naming import Nameless
from boardproof.derive.phrases import said_emf
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import signed_sum, text

__all__ = ["open_then_short", "short_then_emfs_out"]

ON_PAPER = "In thought, and on paper only, lay a bare wire over the terminals."


def _members(task: Task) -> tuple[Branch, ...]:
    members = task.members("parallel")
    if any(not member.resistance for member in members):
        raise Unfit("a part without resistance would drive a current without limit into the wire")
    return members


def _short_current(task: Task) -> str:
    assert task.group is not None
    names = task.names
    try:
        return names.other(
            "short_circuit_current",
            task.group,
            names.circuit,
            "I_s",
            f"short-circuit current of {task.group}",
        )
    except Nameless:
        raise Unfit("I_s, for the short-circuit current, already means something else") from None


def _shorted(task: Task, members: Sequence[Branch], current: str) -> int:
    driven = signed_sum([member.driven for member in members if not member.is_load])
    rules = tuple(dict.fromkeys([*(rule for member in members for rule in member.rules), "junction rule"]))
    turned = any(member.sign < 0 for member in members)
    return task.draft.add(
        f"{current} = {driven}",
        *rules,
        say=f"{ON_PAPER} Now there is no p.d. across any of them, so none notices the others. Each drives its own "
        f"short-circuit current, and in the wire they {'meet, the turned one the other way' if turned else 'add'}.",
        moves=(f"short {task.group}",),
        readouts=(current,),
    )


def short_then_emfs_out(task: Task) -> Derivation:
    """Short-circuit currents add; with the EMFs out the resistances combine; their product is the EMF.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a group in parallel.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A || B; main = g across R", "r_g")
    >>> short_then_emfs_out(asked).steps[-1].maths
    'r_g = 1/(1/r_1 + 1/r_2)'
    """
    members, add = _members(task), task.draft.add
    emf, resistance, _, _ = task.equivalent()
    current = _short_current(task)
    driven = signed_sum([member.driven for member in members if not member.is_load])
    conducts = " + ".join(member.conducts for member in members)
    first = _shorted(task, members, current)
    rules = ["resistances in parallel"]
    if any(len(member.resistance.terms()) > 1 for member in members):
        rules.append("resistances in series")
    second = add(
        f"1/{resistance} = {conducts}",
        *rules,
        say="Next, imagine the EMFs gone and only the resistances left. Seen from the terminals they are ways side by "
        "side, so it is the reciprocals that add.",
        moves=(f"no emf in {task.group}",),
        readouts=(resistance,),
    )
    third = add(
        f"{emf} = {current} {resistance}",
        "cell rule",
        say="The p.d. of the group falls in a straight line with the current, as a single cell's does. And one cell "
        f"that drives {current} into a bare wire through {resistance} must have this EMF.",
        moves=(f"replace {task.group} by one cell",),
    )
    if task.wants("emf"):
        say = said_emf(task.names.value(emf), "And there it is, and we never solved a pair of equations.")
        formula = f"({driven})/({conducts})"
        add(f"{emf} = {formula}", "algebra", from_=(first, second, third), say=say, readouts=(emf,))
    if task.wants("resistance"):
        say = "Turn the reciprocal over."
        add(f"{resistance} = 1/({conducts})", "algebra", from_=(second,), say=say, readouts=(resistance,))
    return task.done(
        "short, then EMFs taken out", "Short-circuit currents add, reciprocal resistances add: that is all."
    )


def open_then_short(task: Task) -> Derivation:
    """Two points fix a straight line: the p.d. with nothing joined, and the current into a wire.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of two cells in parallel.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A || B; main = g across R", "E_g")
    >>> open_then_short(asked).steps[-1].maths
    'E_g = (E_1 r_2 + E_2 r_1)/(r_1 + r_2)'
    """
    members = _members(task)
    if len(members) != 2 or any(each.is_load or each.count != 1 or not each.is_part for each in members):
        raise Unfit("the small loop is plain only for two cells side by side")
    if members[0].sign < 0:
        raise Unfit("it is told from the first cell, and that one is turned")
    assert task.group is not None
    one, other = members
    add, names, entry = task.draft.add, task.names, task.entry()
    emf, resistance, _, _ = task.equivalent()
    current = _short_current(task)
    alone = Circuit(entry.item, names.circuit.values, names.circuit.zero, task.group)
    try:
        round_ = names.other("current", one.path, alone, "I_0", f"current in {one.path} when {task.group}")
        rest = names.other("pd", task.group, alone, "V_0", f"p.d. across {task.group} when {task.group}")
    except Nameless as nameless:
        raise Unfit(
            f"{nameless}, for what happens with nothing joined, already means something else"
        ) from None
    push = one.emf - other.emf * other.sign
    loop = add(
        f"{round_} = ({text(push)})/({text(one.resistance + other.resistance)})",
        "loop rule",
        say="Two points fix a straight line. First with nothing joined: then what leaves one can only go through the "
        "other, round the small loop. I draw the arrow before I know; a minus will tell me.",
        moves=(f"focus {task.group}",),
        readouts=(round_,),
    )
    here = add(
        f"{rest} = {text(one.emf)} - {round_} {text(one.resistance)}",
        "cell rule",
        say=f"What is the same for both? The terminals. So read the p.d. from {one.path}; from the other side it must "
        "come out the same.",
        readouts=(rest,),
    )
    top = one.emf * other.resistance + other.emf * one.resistance * other.sign
    under = text(one.resistance + other.resistance)
    found = add(f"{rest} = ({text(top)})/({under})", "algebra", from_=(loop, here), say="Put the current in.")
    short = _shorted(task, members, current)
    is_emf = add(
        f"{emf} = {rest}",
        "cell rule",
        say="One cell that gives no current shows its EMF. That is the first point of the line.",
        moves=(f"replace {task.group} by one cell",),
    )
    if task.wants("emf"):
        say = said_emf(names.value(emf), "So this is the EMF.")
        add(f"{emf} = ({text(top)})/({under})", "algebra", from_=(found, is_emf), say=say, readouts=(emf,))
    if task.wants("resistance"):
        if not (names.value(current) or top).one_signed:
            raise Unfit("the two short-circuit currents could cancel, and then two points are one")
        second = add(
            f"{emf} = {current} {resistance}",
            "cell rule",
            say="The second point: one cell drives its EMF over its resistance into a bare wire.",
        )
        formula = f"({text(one.resistance * other.resistance)})/({under})"
        add(
            f"{resistance} = {formula}",
            "algebra",
            from_=(found, short, is_emf, second),
            say="Open p.d. over short-circuit current is the resistance.",
            readouts=(resistance,),
        )
    return task.done(
        "open, then short", "Two points fix the line: the p.d. with no load, and the current into a wire."
    )
