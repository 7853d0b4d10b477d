"""Routes about numbers of cells: two, three, n; factor pairs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Circuit, Copies, Item, Leaf, has_cells
from boardproof.derive.closed import sides
from boardproof.derive.closing import dimension_of_name, written_value
from boardproof.derive.naming import Nameless
from boardproof.derive.steps import Closing, Derivation
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import letter, text

__all__ = ["factor_pairs", "two_three_n"]

PAIRS_AT_MOST = 12


def _like_cells(task: Task) -> tuple[Copies, Leaf, RationalFunction]:
    item = task.entry().item
    if not isinstance(item, Copies) or len(item.runs) != 1 or item.tied or item.link is not None:
        raise Unfit(f"{task.group} does not consist of copies of one cell")
    cell, count = item.runs[0].item, item.runs[0].count
    if not isinstance(cell, Leaf) or cell.part.emf is None or cell.part.resistance is None:
        raise Unfit(f"{task.group} does not consist of copies of one cell")
    if not task.is_equivalent:
        raise Unfit("it gives the EMF and the resistance of a group, and something else is wanted")
    if isinstance(count, int) and count < 3:
        raise Unfit("there are not three of them")
    return item, cell, letter(count) if isinstance(count, str) else RationalFunction.constant(count)


def two_three_n(task: Task) -> Derivation:
    """Do two, put in a third, see the pattern, say it for n.

    Parameters
    ----------
    task : Task
        For the equivalent of like cells in series or in parallel.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E, r; R = resistor; g = n of A in series; main = g across R", "r_g")
    >>> two_three_n(asked).steps[-1].maths
    'E_g = n E'
    """
    group, cell, count = _like_cells(task)
    assert cell.part.emf is not None
    assert cell.part.resistance is not None
    in_series = group.joined == "series"
    E, r = letter(cell.part.emf.letter), letter(cell.part.resistance.letter)
    emf, resistance, _, _ = task.equivalent()
    shared = "The current." if in_series else "The terminals."
    says = (
        f"Take two of them first. What is the same for both? {shared}",
        "Now put in a third. One more of the same: nothing else changes.",
        "Nothing in the argument cared that there were three, so it goes on like that, one by one, for any number.",
    )
    numbers = (RationalFunction.constant(2), RationalFunction.constant(3), count)
    for number, name, say in zip(numbers, ("two", "three", ""), says, strict=True):
        some = _of_some(task, group, name, int(number.as_number or 0)) if name else [emf, resistance]
        rules: tuple[str, ...] = ("resistances in series" if in_series else "resistances in parallel",)
        worth = number * r if in_series else r / number
        step = task.draft.add(f"{some[1]} = {text(worth)}", *rules, say=say, readouts=(some[1],))
        worth = number * E if in_series else E
        rules = ("cell rule", "loop rule") if in_series else ("cell rule", "junction rule")
        pattern = (
            "The pushes add." if in_series else "The push stays that of one; only the current is shared."
        )
        task.draft.add(f"{some[0]} = {text(worth)}", *rules, from_=(step,), say=pattern, readouts=(some[0],))
    how = "In a row, n like cells have n times the EMF and n times the resistance."
    side = "Side by side, n like cells keep the EMF of one and have the nth part of its resistance."
    return task.done("two, three, n", how if in_series else side)


def _of_some(task: Task, group: Copies, name: str, number: int) -> list[str]:
    """Names for the EMF and resistance of two or three of the copies; the lesson must then define that group."""
    run = replace(group.runs[0], count=number)
    circuit = Circuit(replace(group, runs=(run,), path=name), task.circuit.values, None, name)
    part = run.item.part.name if isinstance(run.item, Leaf) else ""
    joint = "s" if group.joined == "series" else "p"
    names = []
    for kind, stem in (("emf", "E"), ("resistance", "r")):
        try:
            names.append(task.names.other(kind, name, circuit, f"{stem}_{name}", f"{kind} of {name}"))
        except Nameless as nameless:
            raise Unfit(f"{nameless} already means something else") from None
        task.names.defined.pop(names[-1], None)
    task.names.groups[name] = f"{number}{joint} of {part}"
    return names


def _rows(source: Item) -> tuple[Copies, Copies, Leaf]:
    row = source.runs[0].item if isinstance(source, Copies) and source.joined == "parallel" else None
    cell = row.runs[0].item if isinstance(row, Copies) and row.joined == "series" else None
    if (
        not isinstance(source, Copies)
        or not isinstance(row, Copies)
        or not isinstance(cell, Leaf)
        or not all(isinstance(each.runs[0].count, str) and len(each.runs) == 1 for each in (source, row))
    ):
        raise Unfit("it needs rows side by side of cells in series, both numbers as letters")
    return source, row, cell


def factor_pairs(task: Task) -> Derivation:
    """All ways to lay N like cells in rows, and why the best has its resistance near the load's.

    Parameters
    ----------
    task : Task
        For the current that rows of like cells drive through a load.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> circuit = "A = cell E, r; R = resistor; row = m of A in series; " "g = n of row in parallel; main = g across R"
    >>> factor_pairs(typed_task(circuit, "I")).steps[-1].maths
    '(n R + m r)^2 = (n R - m r)^2 + 4 m n R r'
    """
    source, load = sides(task)
    pack, row, cell = _rows(source)
    if not isinstance(load, Leaf) or load.part.resistance is None or has_cells(load):
        raise Unfit("it needs one resistor as the load")
    try:
        current = task.names.plain("I", "current")
    except Nameless as nameless:
        raise Unfit(f"there is no name for {nameless}") from None
    if task.targets != (current,):
        raise Unfit("it gives the current in the load")
    m, n = str(row.runs[0].count), str(pack.runs[0].count)
    assert cell.part.emf is not None
    assert cell.part.resistance is not None
    E, r, R = cell.part.emf.letter, cell.part.resistance.letter, load.part.resistance.letter
    add = task.draft.add
    first = add(
        f"{current} = {m} {E}/({R} + {m} {r}/{n})",
        "cell rule",
        "Ohm's law",
        "loop rule",
        "junction rule",
        say="One row is one cell with all its pushes and all its resistances; the rows side by side share the current.",
        readouts=(current,),
    )
    add(
        f"{current} = {m} {n} {E}/({n} {R} + {m} {r})",
        "algebra",
        from_=(first,),
        say="What is the same for every way? The number of cells, so the top never changes. We want the "
        "smallest bottom.",
    )
    add(
        f"({n} {R} + {m} {r})^2 = ({n} {R} - {m} {r})^2 + 4 {m} {n} {R} {r}",
        "algebra",
        say="The last term is the same for every way as well. So the bottom is least when the bracket is: "
        "when the resistance of the pack comes as near as it can, in ratio, to the load.",
    )
    derivation = task.done(
        "factor pairs", "Lay the cells so that the pack's own resistance is as near the load's as it can be."
    )
    return replace(derivation, closing=_with_table(task, derivation.closing, current, (m, n), (E, r, R)))


def _with_table(
    task: Task, closing: Closing, current: str, counts: tuple[str, str], parts: tuple[str, str, str]
) -> Closing:
    """One line a factor pair, with the values at hand."""
    value, values, (m, n) = task.names.value(current), dict(task.values or {}), counts
    if value is None or not value.letters <= set(values):
        return closing
    total = int(values[m] * values[n])
    pairs = [(a, total // a) for a in range(1, total + 1) if total % a == 0][:PAIRS_AT_MOST]
    E, r, R = (written_value(values[each], dimension_of_name(each, task.names))[0] for each in parts)
    lines = []
    for a, b in pairs:
        worth = value.evaluate({**values, m: Fraction(a), n: Fraction(b)})
        written, is_exact = written_value(worth, dimension_of_name(current, task.names))
        lines.append(f"{a}*{b}*{E}/({b}*{R} + {a}*{r}) {'=' if is_exact else '≈'} {written}")
    return replace(closing, numbers=tuple(lines))
