"""Routes that add along a row or across the graph: same current, lines on the graph.

Common practice; in a row the pushes add and so do the hindrances, and on the graph the same is seen as heights.
"""

from __future__ import annotations

from collections.abc import Sequence

from boardproof.algebra.polynomial import RationalFunction
from boardproof.derive.branches import Branch
from boardproof.derive.parallel import from_currents
from boardproof.derive.phrases import ARROW_FIRST, ONE_CELL, in_threes, said_emf, turned_word
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import bracketed, lost_volts, signed_sum, text

__all__ = ["lines_on_the_graph", "same_current"]


def _in_a_row(task: Task) -> tuple[Branch, ...]:
    members = task.members("series")
    if any(not member.pd for member in members):
        raise Unfit("a member of the row has no name; give it one")
    return members


def _pds(members: Sequence[Branch]) -> str:
    terms = []
    for member in members:
        sign = -1 if member.is_load else member.sign
        terms.append((sign, member.pd if member.count == 1 else f"{text(member.count)}*{member.pd}"))
    return signed_sum(terms)


def _own_lines(members: Sequence[Branch], current: str) -> str:
    """The sum of the members' rules, one current in all."""
    terms: list[tuple[int, str]] = []
    for member in members:
        lost = lost_volts(current, member.resistance) if member.resistance else ""
        times = "" if member.count == 1 else f"{text(member.count)}*"
        if member.is_load:
            terms.append((-1, times + lost))
        elif not lost:
            terms.append((member.sign, times + bracketed(member.emf)))
        else:
            inner = f"{text(member.emf)} {'-' if member.sign > 0 else '+'} {lost}"
            terms.append((member.sign, f"{times}({inner})"))
    return signed_sum(terms)


def _total(members: Sequence[Branch]) -> tuple[RationalFunction, RationalFunction]:
    emf = resistance = RationalFunction.constant(0)
    for member in members:
        emf = emf + member.emf * member.count * member.sign
        resistance = resistance + member.resistance * member.count
    return emf, resistance


def _rules(members: Sequence[Branch]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(rule for member in members for rule in member.rules))


def same_current(task: Task) -> Derivation:
    """In a row: one current, rises less drops, compared with one cell; for a plain loop also the current itself.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a group in series.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A + B; main = g across R", "E_g")
    >>> same_current(asked).steps[-1].maths
    'E_g = E_1 + E_2'
    """
    members = _in_a_row(task)
    add, (_, _, pd, current) = task.draft.add, task.equivalent()
    first = add(
        f"{pd} = {_pds(members)}",
        "loop rule",
        say=f"What is the same for both? The current: there is only one way to go. So walk along the row and add "
        f"what a voltmeter reads, part by part.{turned_word(members)}",
        moves=(f"focus {task.group}",),
        readouts=[member.pd for member in members],
    )
    second = add(
        f"{pd} = {_own_lines(members, current)}",
        *_rules(members),
        from_=(first,),
        say=f"Each cell keeps its own rule, and all carry the same {current}. {ARROW_FIRST}",
        readouts=(current,),
    )
    return _row_compared(task, members, second, "same current")


def _row_compared(task: Task, members: Sequence[Branch], last: int, route: str) -> Derivation:
    add, (emf, resistance, pd, current) = task.draft.add, task.equivalent()
    pushes, hinders = _total(members)
    lost = f"- {lost_volts(current, hinders)}"
    collected = add(
        f"{pd} = {bracketed(pushes)} {lost}" if pushes else f"{pd} = {lost.replace('- ', '-')}",
        "algebra",
        from_=(last,),
        say=f"Gather the pushes, and gather what the current costs. {ONE_CELL}",
        moves=(f"replace {task.group} by one cell",),
    )
    if task.wants("emf"):
        say = said_emf(pushes, "The pushes add, each with its sign.")
        add(f"{emf} = {text(pushes)}", "definition", from_=(collected,), say=say, readouts=(emf,))
    if task.wants("resistance"):
        say = "The resistances add, whichever way round a cell sits: the hindrances are all in line."
        add(
            f"{resistance} = {text(hinders)}",
            "definition",
            from_=(collected,),
            say=say,
            readouts=(resistance,),
        )
    return task.done(route, "In a row the pushes add, and so do the hindrances.")


def lines_on_the_graph(task: Task) -> Derivation:
    """Series adds heights at equal current, parallel adds widths at equal p.d.; straight stays straight.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a group in series or in parallel.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A + B; main = g across R", "r_g")
    >>> lines_on_the_graph(asked).steps[-1].maths
    'r_g = r_1 + r_2'
    """
    add = task.draft.add
    try:
        members = _in_a_row(task)
    except Unfit:
        return _widths(task)
    _, _, pd, current = task.equivalent()
    lines = [_height(member, current) for member in members]
    first: list[int] = []
    say = (
        "What is the same for both? The current. Draw p.d. upwards and current to the right: each cell is a straight "
        "line that starts at its EMF and falls by its resistance."
    )
    for line in in_threes(lines):
        first.append(add(line, *_rules(members), say=say, readouts=[member.pd for member in members]))
        say = "And the other lines."
    heights = add(
        f"{pd} = {_pds(members)}",
        "loop rule",
        say="In a row the heights add, at every current.",
        moves=(f"focus {task.group}",),
    )
    sum_up = add(
        f"{pd} = {_own_lines(members, current)}",
        "algebra",
        from_=(*first, heights),
        say="Straight plus straight stays straight: one more line of the same kind.",
    )
    return _row_compared(task, members, sum_up, "lines on the graph")


def _height(member: Branch, current: str) -> str:
    lost = lost_volts(current, member.resistance)
    if member.is_load:
        return f"{member.pd} = {lost}"
    if not member.resistance:
        return f"{member.pd} = {text(member.emf)}"
    return f"{member.pd} = {text(member.emf)} {'-' if member.sign > 0 else '+'} {lost}"


def _widths(task: Task) -> Derivation:
    members = task.members("parallel")
    if any(not member.resistance for member in members):
        raise Unfit(
            "a part without resistance has a level line, and widths cannot be added at another height"
        )
    add, (_, _, pd, _) = task.draft.add, task.equivalent()
    own: list[int] = []
    say = (
        "What is the same for both? The p.d. Draw p.d. upwards and current to the right, and go across at one height: "
        "each line is as wide as the current it gives there."
    )
    for line in in_threes([member.own_current(pd) for member in members]):
        own.append(add(line, *_rules(members), say=say, moves=() if own else (f"focus {task.group}",)))
        say = "And the other lines."
    derivation = from_currents(task, members, own)
    return task.draft.done("lines on the graph", task.targets, derivation.closing)
