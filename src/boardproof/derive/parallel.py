"""Routes that find the one cell that parts side by side are worth: same terminal p.d., by symmetry.

Common practice; the first is the default for cells in parallel (NCERT, Physics XII part I, 3.12).
"""

from __future__ import annotations

from collections.abc import Sequence

from boardproof.derive.branches import Branch
from boardproof.derive.phrases import ARROW_FIRST, ONE_CELL, in_threes, said_emf, turned_word
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import bracketed, signed_sum, text

__all__ = ["by_symmetry", "from_currents", "same_terminal_pd"]


def same_terminal_pd(task: Task) -> Derivation:
    """Both sit on the same two terminals: one p.d., and the currents add.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a group in parallel.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A || B; main = g across R", "E_g")
    >>> same_terminal_pd(asked).steps[-1].maths
    'E_g = (E_1/r_1 + E_2/r_2)/(1/r_1 + 1/r_2)'
    """
    members = task.members("parallel")
    if any(not member.resistance for member in members):
        raise Unfit("a part without resistance would keep its own p.d. whatever the others do")
    add, (_, _, pd, _) = task.draft.add, task.equivalent()
    paths = task.parts(members)
    say = (
        f"What is the same for both? The terminals, so there is only one p.d., {pd}. Each of {paths} keeps its "
        f"own rule.{turned_word(members)} {ARROW_FIRST}"
    )
    first: list[int] = []
    rules = tuple(dict.fromkeys(rule for member in members for rule in member.rules))
    for line in in_threes([member.line(pd) for member in members]):
        moves = (f"focus {task.group}",) if not first else ()
        first.append(add(line, *rules, say=say, moves=moves, readouts=(pd,)))
        say = "And the same for the rest."
    say = "So each gives what its own EMF leaves over that p.d., shared out over its own resistance."
    own: list[int] = []
    for line in in_threes([member.own_current(pd) for member in members]):
        own.append(add(line, "algebra", from_=first, say=say, readouts=[m.current for m in members]))
        say = "And so on."
    return from_currents(task, members, own)


def from_currents(task: Task, members: Sequence[Branch], own: Sequence[int]) -> Derivation:
    """Currents by the p.d. are known: add them, collect, solve, compare with one cell.

    Parameters
    ----------
    task : Task
        For a group in parallel.
    members : sequence of Branch
        Its members.
    own : sequence of int
        The steps that gave their currents.
    """
    add, (emf, resistance, pd, current) = task.draft.add, task.equivalent()
    total = signed_sum([member.share for member in members])
    at_junction = add(
        f"{current} = {total}",
        "junction rule",
        say="At the junction the currents meet, and what flows in flows out.",
        readouts=(current,),
    )
    driven = signed_sum([member.driven for member in members if not member.is_load])
    conducts = " + ".join(member.conducts for member in members)
    collected = add(
        f"{current} = {driven} - {pd} ({conducts})",
        "algebra",
        from_=(*own, at_junction),
        say=f"Put them in, and collect what holds {pd}. What stands before it is what all would drive into a wire.",
    )
    solved = add(
        f"{pd} = ({driven})/({conducts}) - {current}/({conducts})",
        "algebra",
        from_=(collected,),
        say=f"Solve for the p.d. {ONE_CELL}",
        moves=(f"replace {task.group} by one cell",),
    )
    if task.wants("emf"):
        say = said_emf(task.names.value(emf), "So the EMF is what stands there when no current is taken.")
        add(f"{emf} = ({driven})/({conducts})", "definition", from_=(solved,), say=say, readouts=(emf,))
    if task.wants("resistance"):
        say = "And what every ampere costs is the internal resistance: one over the sum of the reciprocals."
        add(f"{resistance} = 1/({conducts})", "definition", from_=(solved,), say=say, readouts=(resistance,))
    return task.done(
        "same terminal p.d.",
        "Side by side, short-circuit currents add and reciprocal resistances add; the EMF is the weighted mean, "
        "and the cell with the smaller resistance has the larger say.",
    )


def by_symmetry(task: Task) -> Derivation:
    """Like cells side by side: nothing tells them apart.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a group of like cells in parallel.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E, r; R = resistor; g = 3p of A; main = g across R", "r_g")
    >>> by_symmetry(asked).steps[-1].maths
    'r_g = r/3'
    """
    members = task.members("parallel")
    if len(members) != 1 or members[0].is_load or members[0].sign < 0:
        raise Unfit(f"the members of {task.group} are not copies of one cell, all the same way round")
    (one,), add = members, task.draft.add
    emf, resistance, pd, current = task.equivalent()
    count = text(one.count)
    shared = add(
        f"{one.current} = {current}/{count}",
        "junction rule",
        say="What is the same for all? Everything: nothing tells them apart. So they share the current evenly.",
        moves=(f"focus {task.group}",),
        readouts=(current, one.current),
    )
    line = add(
        f"{pd} = {text(one.emf)} - ({current}/{count}) {bracketed(one.resistance)}",
        *one.rules,
        from_=(shared,),
        say="All sit on the same terminals, and each keeps its own rule.",
        readouts=(pd,),
    )
    collected = add(
        f"{pd} = {text(one.emf)} - {current} ({bracketed(one.resistance)}/{count})",
        "algebra",
        from_=(line,),
        say=f"Put the number with the resistance. {ONE_CELL}",
        moves=(f"replace {task.group} by one cell",),
    )
    if task.wants("emf"):
        add(
            f"{emf} = {text(one.emf)}",
            "definition",
            from_=(collected,),
            say="The EMF is that of one.",
            readouts=(emf,),
        )
    if task.wants("resistance"):
        add(
            f"{resistance} = {bracketed(one.resistance)}/{count}",
            "definition",
            from_=(collected,),
            say="And the resistance is that of one over their number, because each carries only its share.",
            readouts=(resistance,),
        )
    return task.done("by symmetry", "Like cells side by side keep the EMF of one and share the current.")
