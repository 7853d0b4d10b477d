"""A circuit in words: how its parts are joined, for whoever does not see the drawing.

Only connections and kinds are told, no values and no answers, so that it may stand beside a question.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from typing import Final

from boardproof.circuit.change import done_to
from boardproof.circuit.count import whole
from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Copies,
    Count,
    Family,
    How,
    Item,
    Leaf,
    Network,
    Parallel,
    Part,
    Run,
    Series,
    has_cells,
)
from boardproof.circuit.place import moved, remade

__all__ = ["described"]

DONE: Final[dict[How, str]] = {
    "turned": "turned round",
    "without emf": "with its EMF taken out",
    "shorted": "with a wire across it",
    "open": "broken open",
    "removed": "taken away",
}


def described(circuit: Circuit) -> str:
    """One sentence that tells how a circuit is joined.

    Parameters
    ----------
    circuit : Circuit
        Values are not told.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Slice, Span
    >>> typed = "A, B = cell; R = resistor; (A || B) across R"
    >>> described(read_circuit(Slice(typed, Span("x", 0, len(typed)))).at_hand)
    'Cells A and B in parallel, plus to plus, with resistor R across their terminals.'
    """
    told = _told(_counted(circuit.item, circuit.values))
    return told[:1].upper() + told[1:] + "."


def _counted(item: Item, values: Mapping[str, Fraction]) -> Item:
    """The item with the values of its counts in place of their letters."""

    def each(inner: Item) -> Item:
        return _counted(inner, values)

    inner = remade(item, each)
    if not isinstance(inner, Copies):
        return inner
    runs = tuple(replace(run, count=whole(run.count, values) or run.count) for run in inner.runs)
    return replace(inner, runs=runs)


def _told(item: Item) -> str:
    inner, hows = done_to(item)
    told = _plain(inner)
    if hows:
        told += f" ({', '.join(DONE[how] for how in hows)})"
    return told


def _plain(item: Item) -> str:
    match item:
        case Leaf(part=part):
            return _kind(part) + (f" {part.name}" if part.name else "") + _state(part)
        case Family(part=part, index=index, first=first, last=last):
            return f"{part.kind}s {part.name} with {index} from {first} to {last}"
        case Series(items=(only,)):
            return _told(only)
        case Series(items=items):
            return f"{_list(items)} in series"
        case Parallel(items=items):
            plus = ", plus to plus" if sum(has_cells(each) for each in items) > 1 else ""
            return f"{_list(items)} in parallel{plus}"
        case Copies():
            return _copies(item)
        case Across(source=source, load=load):
            theirs = "their" if isinstance(done_to(source)[0], Parallel | Series) else "its"
            return f"{_told(source)}, with {_bracketed(load)} across {theirs} terminals"
        case Network(branches=branches, ends=ends):
            between = f" with ends {ends[0]} and {ends[1]}" if ends else ""
            each = "; ".join(f"{_told(one)} from {tail} to {head}" for one, tail, head in branches)
            return f"a network{between}: {each}"
        case Changed():
            return _told(item)


def _kind(part: Part) -> str:
    return "ideal source" if part.kind == "source" else part.kind


def _state(part: Part) -> str:
    return (" (closed)" if part.closed else " (open)") if part.kind == "switch" else ""


def _bracketed(item: Item) -> str:
    """An item as one of several: groups in brackets."""
    inner, hows = done_to(item)
    is_single = isinstance(inner, Leaf | Family | Copies) or (
        isinstance(inner, Series) and len(inner.items) == 1
    )
    return _told(item) if is_single and not (hows and isinstance(inner, Copies)) else f"({_told(item)})"


def _list(items: tuple[Item, ...]) -> str:
    """Items in order, neighbours of one kind under one word: cells A and B, resistor R."""
    told: list[str] = []
    for kind, group in groupby(items, key=_simple_kind):
        of_kind = list(group)
        if kind and len(of_kind) > 1:
            told.append(f"{kind}s {_and([each.part.name for each in of_kind if isinstance(each, Leaf)])}")
        else:
            told += [_bracketed(each) for each in of_kind]
    return _and(told)


def _simple_kind(item: Item) -> str:
    """The kind of a part that nothing was done to and that has no state to tell."""
    return _kind(item.part) if isinstance(item, Leaf) and item.part.kind != "switch" else ""


def _and(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _copies(copies: Copies) -> str:
    """``a bank of 4 rows side by side, each a row of 3 cells like A``."""
    how = "in series" if copies.joined == "series" else "in parallel, plus to plus"
    inner, hows = done_to(copies.runs[0].item)
    tied = ", neighbours tied to each other" if copies.tied else ""
    if len(copies.runs) > 1:
        usual = max(copies.runs, key=lambda run: run.count if isinstance(run.count, int) else 1)
        alike = replace(copies, runs=(replace(usual, first=1, count=copies.count),))
        odd = [
            f"{_numbers(run, copies)} {_differs(run.item)}"
            for run in copies.runs
            if run.item != _as(usual, run)
        ]
        return _told(alike) + (f", but {_and(odd)}" if odd else "")
    is_row = copies.joined == "series"
    if isinstance(inner, Leaf) and not hows:
        kind = _kind(inner.part)
        if kind != "cell":
            return f"{_many(copies.count)} {kind}s like {inner.part.name} {how}"
        return f"a {'row' if is_row else 'block'} of {copies.count} cells like {inner.part.name}"
    if isinstance(inner, Copies) and not hows:
        word = "blocks in series" if is_row else "rows side by side"
        return f"a bank of {copies.count} {word}{tied}, each {_told(inner)}"
    return f"{_many(copies.count)} times ({_told(copies.runs[0].item)}) {how}"


def _many(count: Count) -> str:
    return str(count) if isinstance(count, int) else f"a number {count} of"


def _as(usual: Run, run: Run) -> Item:
    """What members of a run would be if they were like the usual ones."""
    return moved(usual.item, usual.item.path, run.item.path)


def _numbers(run: Run, copies: Copies) -> str:
    """``row 2``, ``cells 4 to 6``."""
    inner = done_to(run.item)[0]
    word = "cell" if isinstance(inner, Leaf) and inner.part.kind == "cell" else "member"
    if isinstance(inner, Copies | Series | Parallel):
        word = "row" if copies.joined == "parallel" else "block"
    if run.count == 1:
        return f"{word} {run.first}"
    return f"{word}s {run.first} to {run.first + run.count - 1 if isinstance(run.count, int) else run.count}"


def _differs(item: Item) -> str:
    """How a member is unlike the usual ones."""
    inner, hows = done_to(item)
    if hows:
        return ", ".join(DONE[how] for how in hows)
    if isinstance(inner, Copies) and len(inner.runs) > 1:
        usual = max(inner.runs, key=lambda run: run.count if isinstance(run.count, int) else 1)
        odd = [
            f"its {_numbers(run, inner)} {_differs(run.item)}"
            for run in inner.runs
            if run.item != _as(usual, run)
        ]
        return f"({_and(odd)})"
    return "with values of its own"
