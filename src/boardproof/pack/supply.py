"""The cells line of a brief: a name with its values from elsewhere, or the figures on the line."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.findings import near_names
from boardproof.pack.brief import Supply
from boardproof.pack.cell import LIBRARY, CellType, Chemistry, cell_called
from boardproof.pack.phrase import mass_of, number_of, quantity_of, read_phrase, share_of, split_phrases
from boardproof.quantities import AMPERE, COULOMB, OHM, VOLT
from boardproof.record import record

__all__ = ["Known", "Misread", "read_supply"]

Known = Callable[[str], CellType | None]
KINDS_OF_CELL: Final[dict[str, Chemistry]] = {
    "primary": "primary",
    "rechargeable": "rechargeable",
    "lithium": "lithium",
    "lead-acid": "lead-acid",
}
HEAD: Final = re.compile(
    r"(?P<name>.*?\D)??\s*(?P<value>[0-9][0-9.,]*\s*m?V)(?P<full>\s+full)?", re.IGNORECASE
)


@record
class Misread:
    """What could not be read, and why: the code of a finding and its facts."""

    code: str
    text: str
    near: str = ""


def read_supply(text: str, known: Known, decimal: str = ".") -> Supply | Misread:
    """One line of cells.

    Parameters
    ----------
    text : str
        Such as ``A, at most 60`` or ``1.5 V full, 0.9 V empty, 0.2 ohm, 2 A h, 23 g``.
    known : callable
        Gives the cell of a name: those of the lesson; the library is asked after it.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> made = read_supply("AA alkaline, at most 40, contacts 20 mohm", lambda _: None)
    >>> made.cell.name, made.at_most, float(made.resistance)
    ('AA alkaline', 40, 0.234)
    >>> read_supply("2 V, 0.1 ohm, lead-acid", lambda _: None).cell.chemistry
    'lead-acid'
    """
    first, *rest = split_phrases(text) or ("",)
    cell = known(first) or cell_called(first)
    if cell is None:
        head = HEAD.fullmatch(first)
        emf = quantity_of(head["value"], VOLT, decimal) if head else None
        if head is None or emf is None:
            near = near_names(first, [each.name for each in LIBRARY])
            return Misread("unknown-cell", first, ", ".join(near))
        cell = CellType((head["name"] or "cell").strip(" :="), emf, emf, Fraction(0), source="the brief")
    supply = Supply(cell)
    for each in rest:
        found = _with(supply, each, decimal)
        if found is None:
            return Misread("unread-brief", each)
        supply = found
    if not supply.cell.resistance:
        return Misread("unknown-cell", supply.cell.name)
    return supply


def _with(supply: Supply, text: str, decimal: str) -> Supply | None:
    """The supply with one more phrase said of it."""
    phrase = read_phrase(text)
    words, cell = phrase.words, supply.cell
    if phrase.bound == "at most":
        count = number_of(re.sub(r"\s*cells?$", "", words), decimal)
        if count is not None:
            return replace(supply, at_most=int(count)) if count >= 1 and count.denominator == 1 else None
        most = quantity_of(words, AMPERE, decimal)
        return None if most is None else replace(supply, cell=replace(cell, most=most))
    opening, _, value = words.partition(" ")
    if opening in {"contact", "contacts", "cable"}:
        ohms = quantity_of(value, OHM, decimal)
        if ohms is None:
            return None
        return replace(supply, cable=ohms) if opening == "cable" else replace(supply, contact=ohms)
    changed = _cell_with(cell, words, decimal)
    return None if changed is None else replace(supply, cell=changed)


def _cell_with(cell: CellType, words: str, decimal: str) -> CellType | None:
    """The cell with one more figure."""
    opening, _, value = words.partition(" ")
    if words in KINDS_OF_CELL:
        return replace(cell, chemistry=KINDS_OF_CELL[words])
    if opening == "spread":
        share = share_of(value, decimal)
        return None if share is None or share > Fraction(1, 2) else replace(cell, spread=share)
    if opening in {"costs", "cost"}:
        cost = number_of(value, decimal)
        return None if cost is None else replace(cell, cost=cost)
    if words.endswith(" empty"):
        empty = quantity_of(words.removesuffix(" empty"), VOLT, decimal)
        return None if empty is None or empty > cell.full else replace(cell, empty=empty)
    ohms = quantity_of(words, OHM, decimal)
    if ohms is not None:
        return replace(cell, resistance=ohms)
    charge = quantity_of(words, COULOMB, decimal)
    if charge is not None:
        return replace(cell, capacity=charge)
    mass = mass_of(words, decimal)
    return None if mass is None else replace(cell, mass=mass)
