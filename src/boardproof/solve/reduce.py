"""A group seen from its two ends: its EMF and resistance, folded along the way it is written.

The folding is kept as a tree, so that an argument can be told from it: which group was replaced by which equivalent.
Groups that are not series-parallel (networks, tied rows) are solved as a whole and appear as one step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Copies,
    Count,
    Family,
    Item,
    Leaf,
    Network,
    Parallel,
    Series,
)
from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.findings import Finding
from boardproof.solve.arithmetic import Arithmetic, Number
from boardproof.solve.ill_posed import because
from boardproof.solve.line import Line, line_of, line_of_family, line_of_part
from boardproof.solve.network import Solved

__all__ = ["Reduction", "line_between", "reduced_item"]

NOUGHT, ONE = Fraction(0), Fraction(1)


@dataclass(frozen=True, slots=True, eq=False)
class Reduction:
    """One step of folding: what was joined how, and the line that replaces it.

    Parameters
    ----------
    item : Item
        The part or group.
    joined : {"part", "series", "parallel", "changed", "network"}
        How its members are joined.
    line : Line
        Seen from its ends, plus end last.
    members : tuple of Reduction
        Its members, one of each run of alike ones.
    counts : tuple of Count
        How many alike ones each member stands for.
    """

    item: Item
    joined: Literal["part", "series", "parallel", "changed", "network"]
    line: Line
    members: tuple[Reduction, ...] = ()
    counts: tuple[Count, ...] = ()

    @property
    def path(self) -> str:
        """The group's path."""
        return self.item.path

    @property
    def emf(self) -> Number:
        """P.d. of the ends without current."""
        return self.line.emf

    @property
    def resistance(self) -> Number:
        """Resistance between the ends, EMFs taken out."""
        return self.line.resistance


def reduced_item(item: Item, numbers: Arithmetic) -> Reduction | Finding:
    """Fold a part or group.

    Parameters
    ----------
    item : Item
        With two ends.
    numbers : Arithmetic
        Gives the letters.

    Returns
    -------
    Reduction or Finding
        The finding says what contradicts itself.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Worth
    >>> cell = Leaf("A", Part("A", "cell", Worth("E", Fraction(6)), Worth("r", Fraction(1))))
    >>> reduced_item(Series((cell, cell)), Arithmetic("exact")).emf
    Fraction(12, 1)
    """
    match item:
        case Leaf(part=part):
            return Reduction(item, "part", line_of_part(part, numbers))
        case Series(items=items):
            return _joined(item, "series", items, (1,) * len(items), numbers)
        case Parallel(items=items):
            return _joined(item, "parallel", items, (1,) * len(items), numbers)
        case Across(source=source, load=load):
            return _joined(item, "parallel", (source, load), (1, 1), numbers)
        case Copies(joined=joined, runs=runs, tied=False, link=None):
            counts = tuple(run.count for run in runs)
            return _joined(item, joined, tuple(run.item for run in runs), counts, numbers)
        case Changed(item=inner, how=how):
            return _changed(item, inner, how, numbers)
        case Family():
            return Reduction(item, "part", line_of_family(item, numbers))
        case Copies() | Network():
            return _whole(item, numbers)


def _joined(
    item: Item,
    joined: Literal["series", "parallel"],
    items: Sequence[Item],
    counts: tuple[Count, ...],
    numbers: Arithmetic,
) -> Reduction | Finding:
    """Members folded one after the other."""
    members: list[Reduction] = []
    line: Line | None = None
    for member, count in zip(items, counts, strict=True):
        step = reduced_item(member, numbers)
        if isinstance(step, Finding):
            return step
        members.append(step)
        own = step.line
        if count != 1:
            many = numbers.count((count,))
            one = numbers.plain(ONE)
            own = own.copies(many, one) if joined == "series" else own.copies(one, many)
        if line is not None:
            own = line.series(own) if joined == "series" else line.parallel(own)
        line = own
    if line is None:
        raise ValueError("a group without members")
    if numbers.is_zero(line.a) and numbers.is_zero(line.b):
        return _whole(item, numbers)
    return Reduction(item, joined, line, tuple(members), counts)


def _changed(item: Item, inner: Item, how: str, numbers: Arithmetic) -> Reduction | Finding:
    one, nought = numbers.plain(ONE), numbers.plain(NOUGHT)
    if how in {"open", "removed"}:
        return Reduction(item, "changed", Line(nought, one, nought))
    step = reduced_item(inner, numbers)
    if isinstance(step, Finding):
        return step if how == "turned" else _whole(item, numbers)
    line = step.line
    if how == "turned":
        line = line.turned()
    elif how == "without emf":
        line = Line(line.a, line.b, nought)
    elif numbers.is_zero(line.b):  # a wire over something without resistance
        return _whole(item, numbers)
    else:
        line = Line(one, nought, nought)
    return Reduction(item, "changed", line, (step,), (1,))


def _whole(item: Item, numbers: Arithmetic) -> Reduction | Finding:
    """A group that cannot be folded, solved as it stands."""
    plain = {name: each for name, each in numbers.values.items() if isinstance(each, Fraction)}
    flat = lay_flat(Circuit(item, plain))
    if flat.outside is None:
        return because("no-such-quantity", what=item.path or "this", reason="it has no two ends")
    line = line_between(flat, numbers, *flat.outside)
    return line if isinstance(line, Finding) else Reduction(item, "network", line)


def line_between(
    flat: FlatNetwork, numbers: Arithmetic, first: int, last: int, lines: Sequence[Line] | None = None
) -> Line | Finding:
    """The line of a whole network seen from two of its nodes.

    Parameters
    ----------
    flat : FlatNetwork
        The network.
    numbers : Arithmetic
        Gives the letters.
    first, last : int
        Nodes; the p.d. counts from first up to last.
    lines : sequence of Line or None
        One a branch; None takes those of the parts.

    Returns
    -------
    Line or Finding
        ``(1, r, E)``, a break if nothing joins the nodes, or why they contradict.

    Notes
    -----
    E is the p.d. of the open ends; for r the EMFs are taken out and 1 V is put across: r = 1 V / I.

    Examples
    --------
    >>> pair = FlatNetwork(2, (Branch(None, "A", 0, 1), Branch(None, "B", 0, 1)), {}, {}, (0, 1))
    >>> lines = [Line(ONE, Fraction(1), Fraction(6)), Line(ONE, Fraction(2), Fraction(3))]
    >>> line_between(pair, Arithmetic("exact"), 0, 1, lines)
    Line(a=Fraction(1, 1), b=Fraction(2, 3), c=Fraction(5, 1))
    """
    one, nought = numbers.plain(ONE), numbers.plain(NOUGHT)
    lines = [line_of(branch, numbers) for branch in flat.branches] if lines is None else lines
    emf = Solved(flat, numbers, lines).between(last, first)
    if isinstance(emf, Finding):
        if emf.kind.code == "floating-part":
            return Line(nought, one, nought)
        return emf
    probe = Branch(None, "probe", first, last)
    probed = replace(flat, branches=(*flat.branches, probe))
    bare = [*(Line(line.a, line.b, nought) for line in lines), Line(one, nought, one)]
    current = Solved(probed, numbers, bare).flow(len(lines))
    if isinstance(current, Finding):  # the volt is shorted by a wire
        return Line(one, nought, emf)
    return Line(one, one / current, emf)
