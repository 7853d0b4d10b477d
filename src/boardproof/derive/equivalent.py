"""Routes that find the one cell a group is worth: same terminal p.d., same current, by symmetry, lines on the graph.

Common practice; the first is the default for cells in parallel (NCERT, Physics XII part I, 3.12).
"""

from __future__ import annotations

from collections.abc import Sequence

from boardproof.algebra.polynomial import RationalFunction
from boardproof.derive.branches import Branch, bracketed, lost_volts, signed_sum, text
from boardproof.derive.steps import Derivation
from boardproof.derive.task import Task, Unfit

__all__ = ["by_symmetry", "lines_on_the_graph", "said_emf", "same_current", "same_terminal_pd"]

ARROW_FIRST = "I draw each arrow before I know; a minus will tell me if it runs the other way."
ONE_CELL = "Look at the shape of that. It is the rule of a single cell."


def said_emf(value: RationalFunction | None, base: str) -> str:
    """What to say of an equivalent's EMF, also if it is nought or negative.

    Examples
    --------
    >>> said_emf(RationalFunction.constant(0), "The pushes add.")
    'The pushes add. Here nothing is left of them: seen from outside this is no cell, only a resistance.'
    """
    if value is not None and value.is_zero:
        return f"{base} Here nothing is left of them: seen from outside this is no cell, only a resistance."
    if value is not None and value.one_signed < 0:
        return f"{base} It comes out negative: the one cell is turned, its plus end where we drew the minus."
    return base


def _in_pairs(lines: Sequence[str]) -> list[str]:
    """Lines joined by *and*, at most three on one line of the board."""
    return [" and ".join(lines[start : start + 3]) for start in range(0, len(lines), 3)]


def _is_turned_word(members: Sequence[Branch]) -> str:
    turned = [member.path for member in members if member.sign < 0]
    return f" {turned[0]} sits the other way round, so it pushes against the rest." if turned else ""


# Side by side.


def same_terminal_pd(task: Task) -> Derivation:
    """Both sit on the same two terminals: one p.d., and the currents add.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a group in parallel.
    """
    members = task.members("parallel")
    if any(not member.resistance for member in members):
        raise Unfit("a part without resistance would keep its own p.d. whatever the others do")
    add, (_, _, pd, _) = task.draft.add, task.equivalent()
    paths = task.parts(members)
    say = (
        f"What is the same for both? The terminals, so there is only one p.d., {pd}. Each of {paths} keeps its "
        f"own rule.{_is_turned_word(members)} {ARROW_FIRST}"
    )
    first: list[int] = []
    rules = tuple(dict.fromkeys(rule for member in members for rule in member.rules))
    for line in _in_pairs([member.line(pd) for member in members]):
        moves = (f"focus {task.group}",) if not first else ()
        first.append(add(line, *rules, say=say, moves=moves, readouts=(pd,)))
        say = "And the same for the rest."
    say = "So each gives what its own EMF leaves over that p.d., shared out over its own resistance."
    own: list[int] = []
    for line in _in_pairs([member.own_current(pd) for member in members]):
        own.append(add(line, "algebra", from_=first, say=say, readouts=[m.current for m in members]))
        say = "And so on."
    return _from_currents(task, members, own)


def _from_currents(task: Task, members: Sequence[Branch], own: Sequence[int]) -> Derivation:
    """Currents by the p.d. are known: add them, collect, solve, compare with one cell."""
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


# In a row.


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
    """
    members = _in_a_row(task)
    add, (_, _, pd, current) = task.draft.add, task.equivalent()
    first = add(
        f"{pd} = {_pds(members)}",
        "loop rule",
        say=f"What is the same for both? The current: there is only one way to go. So walk along the row and add "
        f"what a voltmeter reads, part by part.{_is_turned_word(members)}",
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


# The same, seen on the graph.


def lines_on_the_graph(task: Task) -> Derivation:
    """Series adds heights at equal current, parallel adds widths at equal p.d.; straight stays straight.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a group in series or in parallel.
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
    for line in _in_pairs(lines):
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
    for line in _in_pairs([member.own_current(pd) for member in members]):
        own.append(add(line, *_rules(members), say=say, moves=() if own else (f"focus {task.group}",)))
        say = "And the other lines."
    derivation = _from_currents(task, members, own)
    return task.draft.done("lines on the graph", task.targets, derivation.closing)
