"""What every part of a circuit does, and what its group of cells is: the table behind `boardproof solve`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import prod
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.circuit.change import done_to
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import Across, Changed, Circuit, Count, Item, Leaf, Network, has_cells
from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.findings import Finding, worded
from boardproof.quantities import PURE, Dimension, Style, shown
from boardproof.record import record
from boardproof.solve.answers import Answers, Unknown, answers
from boardproof.solve.cell import cell_state
from boardproof.solve.find import find, parts_of

__all__ = ["Amount", "PartRow", "SourceRow", "amount", "part_rows", "source_row"]

UNNAMED: Final = "cells"
STORED: Final[tuple[QuantityKind, ...]] = ("charge", "energy")
IN_SOURCE: Final[tuple[tuple[str, QuantityKind], ...]] = (
    ("EMF", "emf"),
    ("internal resistance", "resistance"),
    ("short-circuit current", "short_circuit_current"),
    ("greatest power", "greatest_power"),
)
IN_CIRCUIT: Final[tuple[tuple[str, QuantityKind], ...]] = (
    ("current", "current"),
    ("terminal p.d.", "pd"),
    ("lost volts", "lost_volts"),
    ("power given to the rest", "power_out"),
    ("efficiency", "efficiency"),
)


@record
class Amount:
    """A value as it is shown, or why there is none.

    Parameters
    ----------
    shown : str
        With its unit, or in letters; empty if there is none.
    exact : Fraction or RationalFunction or None
        In SI units.
    dimension : Dimension
        What it is a quantity of.
    why_not : str
        The reason, in a sentence.
    """

    shown: str
    exact: Fraction | RationalFunction | None = None
    dimension: Dimension = PURE
    why_not: str = ""

    @property
    def sign(self) -> int:
        """-1, 0 or 1; in letters 0 also if it differs from value to value."""
        if isinstance(self.exact, RationalFunction):
            return self.exact.one_signed
        return 0 if not self.exact else 1 if self.exact > 0 else -1

    def turned(self, style: Style) -> Amount:
        """The same counted the other way round."""
        return self if self.exact is None else amount(-self.exact, self.dimension, style)


@record
class PartRow:
    """What one part does.

    Parameters
    ----------
    path, kind : str
        Which part, and what it is.
    alike : str
        How many like it there are ("12", "3 n"), if it stands for several.
    current : Amount
        Not negative where its sign is known.
    direction : str
        Which way it goes, in words.
    pd : Amount
        Of a cell plus less minus; of other parts along the current.
    power : Amount
        Given out by a cell, taken by another part.
    state : str
        Of a cell: driving, being charged, idle, driven backwards.
    stored : tuple of (str, Amount)
        Charge and energy of a capacitor.
    """

    path: str
    kind: str
    alike: str
    current: Amount
    direction: str
    pd: Amount
    power: Amount
    state: str = ""
    stored: tuple[tuple[str, Amount], ...] = ()


@record
class SourceRow:
    """The group of cells seen from its ends: what each amount is, and the amount."""

    name: str
    amounts: tuple[tuple[str, Amount], ...]


def amount(exact: Fraction | RationalFunction, dimension: Dimension, style: Style) -> Amount:
    r"""A value as people read it: with its unit, or in letters.

    Parameters
    ----------
    exact : Fraction or RationalFunction
        In SI units.
    dimension : Dimension
        What it is a quantity of.
    style : Style
        Figures and marks.

    Examples
    --------
    >>> from boardproof.quantities import AMPERE
    >>> amount(Fraction(1, 2), AMPERE, Style()).shown
    '0.5\u202fA'
    """
    if isinstance(exact, RationalFunction):
        number = exact.as_number
        if number is None:
            return Amount(plain(to_expression(exact)), exact, dimension)
        exact = number
    return Amount(shown(exact, dimension, style), exact, dimension)


def _asked(known: Answers, kind: QuantityKind, path: str, style: Style) -> Amount:
    ref = QuantityRef(kind, (path,), known.circuit)
    value = known.ask(ref)
    if isinstance(value, Unknown):
        return Amount("", why_not=worded(value.reason).message)
    if kind == "efficiency" and isinstance(value.exact, Fraction):
        percent = 100 * value.exact
        figures = None if percent.denominator == 1 else style.figures
        return Amount(f"{shown(percent, PURE, style, figures=figures)} %", value.exact)
    return amount(value.exact, value.dimension, style)


def part_rows(circuit: Circuit, style: Style, *, letters: bool = False) -> Iterator[PartRow]:
    """What every part does, in reading order; alike copies once.

    Parameters
    ----------
    circuit : Circuit
        With every change in force.
    style : Style
        Figures and marks.
    letters : bool
        Answer in letters.
    """
    known = answers(circuit, "letters" if letters else "exact")
    flat = lay_flat(circuit)
    for leaf, counts in parts_of(circuit.item):
        if not isinstance(leaf, Leaf):
            continue
        path, kind = leaf.path, leaf.part.kind
        current, pd = (_asked(known, each, path, style) for each in ("current", "pd"))
        power = _asked(known, "power", path, style)
        backwards = current.sign < 0
        state, stored = "", tuple[tuple[str, Amount], ...]()
        if kind in {"cell", "source"}:
            found = cell_state(known, path)
            state = "" if isinstance(found, Finding) else found
            direction = _cell_direction(current)
            current = current.turned(style) if backwards else current
        else:
            direction = _direction(path, flat, circuit.item, current)
            if backwards:
                current, pd = current.turned(style), pd.turned(style)
        if kind == "capacitor":
            stored = tuple((name, _asked(known, name, path, style)) for name in STORED)
        alike = _alike(counts)
        yield PartRow(path, kind, alike, current, direction, pd, power, state, stored)


def _alike(counts: Sequence[Count]) -> str:
    """How many a row of the table stands for: "12", "3 n"; empty for one."""
    whole = prod(count for count in counts if isinstance(count, int))
    letters = [count for count in counts if isinstance(count, str)]
    return " ".join([*([str(whole)] if whole > 1 else []), *letters])


def _cell_direction(current: Amount) -> str:
    if current.exact is None:
        return ""
    if isinstance(current.exact, RationalFunction) and not current.sign:
        return "none" if current.exact.is_zero else "counted out of its plus"
    return {1: "out of its plus", 0: "none", -1: "into its plus"}[current.sign]


def _direction(path: str, flat: FlatNetwork, item: Item, current: Amount) -> str:
    """From where to where a current goes."""
    if current.exact is None:
        return ""
    branch = next((each for each in flat.branches if each.path == path), None)
    if branch is None:
        return ""
    is_open = isinstance(current.exact, RationalFunction) and not current.exact.is_zero and not current.sign
    if not current.sign and not is_open:
        return "none"
    first, last = (_place(node, branch, flat, item) for node in (branch.tail, branch.head))
    if current.sign < 0:
        first, last = last, first
    return f"{'counted ' if is_open else ''}from {first} to {last}" if first and last else ""


def _place(node: int, own: Branch, flat: FlatNetwork, item: Item) -> str:
    """A node in words: its name, the end of a group or cell that is there, else a neighbour."""
    for name, number in flat.names.items():
        if number == node:
            return name
    for branch in flat.branches:
        is_cell = branch.leaf is not None and branch.leaf.part.kind in {"cell", "source"}
        if (
            is_cell
            and branch.path != own.path
            and node in {branch.tail, branch.head}
            and not branch.in_series
        ):
            plus = branch.tail if branch.turned else branch.head
            return f"the {'plus' if node == plus else 'minus'} of {branch.path}"
    for path, (first, last) in flat.ends.items():
        found = find(item, path)
        if node in {first, last} and found is not None and path != own.path and has_cells(found.item):
            return f"the {'plus' if node == last else 'minus'} end of {path}"
    beside = (
        branch.path.rpartition(":")[2]
        for branch in flat.branches
        if branch.path != own.path and node in {branch.tail, branch.head}
    )
    return next(beside, "")


def source_row(circuit: Circuit, style: Style, *, letters: bool = False) -> SourceRow | None:
    """The group of cells that drives the circuit; None if there is no one group to speak of.

    Parameters
    ----------
    circuit : Circuit
        With every change in force.
    style : Style
        Figures and marks.
    letters : bool
        Answer in letters.
    """
    whole, _ = done_to(circuit.item)
    is_closed = isinstance(whole, Across)
    group = whole.source if isinstance(whole, Across) else circuit.item
    bare, _ = done_to(group)
    if not has_cells(group) or (isinstance(bare, Network) and bare.ends is None):
        return None
    if not bare.path:
        named = _renamed(group, UNNAMED)
        item = _replaced(circuit.item, group, named)
        circuit, bare = replace(circuit, item=item), done_to(named)[0]
    known = answers(circuit, "letters" if letters else "exact")
    asked = [*IN_SOURCE, *(IN_CIRCUIT if is_closed else ())]
    found = [(words, _asked(known, kind, bare.path, style)) for words, kind in asked]
    if all(each.why_not for _, each in found):
        return None
    emf = found[0][1]
    if not emf.why_not:
        found.insert(2, ("open-circuit p.d.", emf))
    if not found[1][1].why_not:
        found.insert(5, ("load for greatest power", found[1][1]))
    name = bare.path if bare.path[:1].isalpha() and bare.path != UNNAMED else "the cells"
    return SourceRow(name, tuple(found))


def _renamed(group: Item, name: str) -> Item:
    """A group with a name, so that it can be asked about."""
    if isinstance(group, Changed):
        return replace(group, item=_renamed(group.item, name))
    return replace(group, path=name)


def _replaced(item: Item, old: Item, new: Item) -> Item:
    """The circuit with its group in another form."""
    match item:
        case Across():
            return replace(item, source=new)
        case Changed(item=inner) if item is not old:
            return replace(item, item=_replaced(inner, old, new))
        case _:
            return new
