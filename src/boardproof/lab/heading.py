"""Headings of tables as classes write them: "I / mA", "current (mA)", "V in V", or a word alone."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final, Literal

from boardproof.quantities import AMPERE, OHM, SECOND, VOLT, Dimension, Unit, read_unit
from boardproof.record import record

__all__ = ["Column", "Role", "bare_unit", "read_heading"]

Role = Literal["current", "pd", "load", "time", "group", "note", "order", "other"]
FORMS: Final = (
    re.compile(r"(?P<name>[^/]+?)\s*/\s*(?P<unit>[^/]+)"),
    re.compile(r"(?P<name>.+?)\s*\(\s*(?:in\s+)?(?P<unit>[^()]+?)\s*\)"),
    re.compile(r"(?P<name>.+?)\s*\[\s*(?P<unit>[^\[\]]+?)\s*\]"),
    re.compile(r"(?P<name>.+?)\s+in\s+(?P<unit>\S+)"),
)
WORDS: Final[Mapping[str, Role]] = {
    **dict.fromkeys(("i", "current", "i_a", "amps", "ammeter"), "current"),
    **dict.fromkeys(("v", "u", "p.d.", "pd", "terminal p.d.", "terminal pd", "voltage", "volts", "voltmeter"), "pd"),
    "terminal voltage": "pd",
    **dict.fromkeys(("r", "load", "resistance", "load resistance", "resistor"), "load"),
    **dict.fromkeys(("t", "time", "clock", "date"), "time"),
    **dict.fromkeys(("group", "team", "class", "cell", "battery", "run", "set", "table"), "group"),
    **dict.fromkeys(("note", "notes", "remark", "remarks", "comment", "comments"), "note"),
    **dict.fromkeys(("no", "no.", "nr", "nr.", "number", "#", "order", "reading", "row"), "order"),
}  # fmt: skip
KINDS: Final[Mapping[Dimension, Role]] = {AMPERE: "current", VOLT: "pd", OHM: "load", SECOND: "time"}


@record
class Column:
    """What a column holds: its role, the unit of its numbers if the heading names one, and the unknown unit if not."""

    role: Role
    unit: Unit | None = None
    unknown: str = ""


def bare_unit(text: str) -> Unit | None:
    """The unit that a cell consists of, perhaps in brackets; None if it is none.

    Parameters
    ----------
    text : str
        Such as ``mA`` or ``(V)``.

    Examples
    --------
    >>> bare_unit("(mA)").symbol, bare_unit("100 mA")
    ('mA', None)
    """
    inner = text.strip().strip("()[]/ ")
    return read_unit(inner) if inner and not any(char.isdigit() for char in inner) else None


def read_heading(text: str) -> Column:
    """A heading.

    Parameters
    ----------
    text : str
        As typed.

    Examples
    --------
    >>> read_heading("current (mA)").unit.symbol, read_heading("V / V").role, read_heading("Group").role
    ('mA', 'pd', 'group')
    """
    told = " ".join(text.split())[:80]
    for form in FORMS:
        found = form.fullmatch(told)
        if found is None:
            continue
        unit = read_unit(found["unit"])
        role = WORDS.get(found["name"].lower(), "other")
        if unit is not None and unit.dimension in KINDS:
            return Column(KINDS[unit.dimension], unit)
        if unit is not None:
            return Column("other", unit)
        if role != "other":
            return Column(role, None, found["unit"])
    return Column(WORDS.get(told.lower(), "other"))
