"""Readings of a cell under load: the table as typed, and the straight line V = E - I r through it.

The line is the unweighted least-squares line of V on I, in exact fractions; its standard errors come from the scatter
about it alone (Draper and Smith, Applied Regression Analysis, ch. 1). What the instruments add is another matter.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import field
from fractions import Fraction
from typing import Final

from boardproof.circuit.spelling import normal_name
from boardproof.findings import Finding
from boardproof.lab.kinds import finding
from boardproof.lab.number import Unsure, read_amount
from boardproof.lesson.model import Readings
from boardproof.quantities import AMPERE, OHM, VOLT, Dimension, Unit, read_decimal, read_unit
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["LineFit", "Reading", "Table", "as_read", "fit_line", "line_through", "read_table"]

HEADING: Final = re.compile(r"\s*(?P<quantity>[^/]+?)\s*/\s*(?P<unit>.+?)\s*")
SIGN: Final = re.compile(r"\s*([-+−–]?)\s*(.*?)\s*")
WORDS: Final[Mapping[Dimension, str]] = {AMPERE: "a current", VOLT: "a p.d.", OHM: "a resistance"}


@record
class Reading:
    """One row: its number in the table, current and p.d. in SI units; `load` if the current comes from V/R."""

    row: int
    current: Fraction
    pd: Fraction
    load: Fraction | None = None
    span: Span | None = field(default=None, compare=False)


@record
class Table:
    """Readings that could be read, in the order taken, and what is to be said about the others."""

    readings: tuple[Reading, ...]
    findings: tuple[Finding, ...]


@record
class LineFit:
    """The line V = E - I r.

    Parameters
    ----------
    E, r : Fraction
        EMF in volts and internal resistance in ohms, exact for the readings as typed.
    variance_E, variance_r : Fraction or None
        Squares of their standard errors, from scatter only; None for two readings.
    correlation : float
        Between E and r: close to 1, because a steeper line through the same points starts higher.
    residuals : tuple of Fraction
        V as read less the line, in the order taken.
    rows : tuple of int
        Row of each residual.
    method : str
        How it was found, to be printed beside it.
    """

    E: Fraction
    r: Fraction
    variance_E: Fraction | None
    variance_r: Fraction | None
    correlation: float
    residuals: tuple[Fraction, ...]
    rows: tuple[int, ...]
    method: str = "least squares, every reading alike, scatter only"

    @property
    def degrees(self) -> int:
        """Readings less the two that any line needs."""
        return len(self.rows) - 2

    @property
    def u_E(self) -> float | None:
        """Standard error of E in volts."""
        return None if self.variance_E is None else math.sqrt(self.variance_E)

    @property
    def u_r(self) -> float | None:
        """Standard error of r in ohms."""
        return None if self.variance_r is None else math.sqrt(self.variance_r)


def read_table(block: Readings, *, decimal: str = ".") -> Table:
    """The table of a `readings` block.

    Parameters
    ----------
    block : Readings
        Its headings and cells as typed.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    Table
        A row with a cell that can't be read is left out, with a finding for the cell.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> def cells(typed):
    ...     return tuple(Source("x", cell).slice() for cell in typed.split("|"))
    >>> rows = (cells("100 | 1.462"), cells("1,00 | 1.4"))
    >>> block = Readings(None, {}, cells("I / mA | V / V"), rows, (), Span("x", 0, 1))
    >>> table = read_table(block)
    >>> table.readings[0].current, [each.kind.code for each in table.findings]
    (Fraction(1, 10), ['unread-cell'])
    """
    units, findings = _units(block)
    columns = {unit.dimension: place for place, unit in reversed(list(enumerate(units))) if unit}
    if VOLT not in columns or not {AMPERE, OHM} & set(columns):
        if not findings:
            missing = "there is no p.d." if VOLT not in columns else "there is neither a current nor a load"
            findings.append(finding("no-line", _whole(block.headings, block.span), what=missing))
        return Table((), tuple(findings))
    across = columns.get(AMPERE, columns.get(OHM, 0))
    used = {across, columns[VOLT]}
    for place, heading in enumerate(block.headings):
        if place not in used:
            said = {"column": str(place + 1), "heading": heading.text.strip()}
            findings.append(finding("unused-column", heading.span, **said))
    readings: list[Reading] = []
    for number, row in enumerate(block.rows, 1):
        read = _row(row, number, units, (across, columns[VOLT]), decimal, block.span)
        if isinstance(read, Reading):
            readings.append(read)
        else:
            findings += read
    return Table(tuple(readings), tuple(findings))


def _units(block: Readings) -> tuple[list[Unit | None], list[Finding]]:
    """The unit of each column; each dimension may head one column only."""
    units: list[Unit | None] = []
    findings: list[Finding] = []
    seen: set[Dimension] = set()
    for place, heading in enumerate(block.headings, 1):
        parts = HEADING.fullmatch(heading.text)
        unit = read_unit(parts["unit"]) if parts else None
        what = None
        if not parts:
            what = f"“{heading.text.strip()}” is no quantity with its unit"
        elif unit is None:
            what = f"I don't know the unit {parts['unit']}"
        elif unit.dimension in seen and unit.dimension in WORDS:
            what = f"{WORDS[unit.dimension]} has a column already"
        if what or unit is None:
            findings.append(finding("unread-heading", heading.span, column=str(place), what=what or ""))
            unit = None
        else:
            seen.add(unit.dimension)
        units.append(unit)
    return units, findings


def _row(
    row: Sequence[Slice],
    number: int,
    units: Sequence[Unit | None],
    used: tuple[int, int],
    decimal: str,
    block: Span,
) -> Reading | list[Finding]:
    """One row, or what is wrong with its cells."""
    values: list[Fraction] = []
    troubles: list[Finding] = []
    place = _whole(row, block)
    for column in used:
        unit = units[column]
        assert unit is not None
        cell = row[column] if column < len(row) else None
        value = _number(cell.text, decimal) if cell else None
        if value is None or (unit.dimension == OHM and value <= 0):
            troubles.append(
                _trouble(cell, number, column, place, is_number=value is not None, decimal=decimal)
            )
        else:
            values.append(value * unit.scale)
    if len(row) > len(units):
        what = "there are more cells than headings"
        troubles.append(
            finding(
                "unread-cell", row[len(units)].span, row=str(number), column=str(len(units) + 1), what=what
            )
        )
    if troubles:
        return troubles
    first, pd = values
    across = units[used[0]]
    is_load = across is not None and across.dimension == OHM
    return Reading(number, pd / first if is_load else first, pd, first if is_load else None, place)


def _trouble(
    cell: Slice | None, number: int, column: int, place: Span, *, is_number: bool, decimal: str
) -> Finding:
    """What is wrong with a cell."""
    typed = cell.text.strip() if cell else ""
    facts = {"row": str(number), "column": str(column + 1)}
    where = cell.span if cell else place
    if is_number:
        return finding("unread-cell", where, what=f"{typed} is no load", **facts)
    read = read_amount(typed, decimal)
    if isinstance(read, Unsure) and read.either:
        one, other = read.either
        return finding("unclear-number", where, text=typed, one=one, other=other, **facts)
    what = read.why if isinstance(read, Unsure) else f"{typed} is not one number"
    return finding("unread-cell", where, what=what, **facts)


def _number(typed: str, decimal: str) -> Fraction | None:
    """A plain decimal number with its sign."""
    parts = SIGN.fullmatch(typed)
    read = read_decimal(parts[2], decimal) if parts else None
    if read is None or parts is None:
        return None
    return -read[0] if parts[1] in {"-", "−", "–"} else read[0]


def _whole(cells: Sequence[Slice], otherwise: Span) -> Span:
    return cells[0].span.to(cells[-1].span) if cells else otherwise


def fit_line(block: Readings, *, decimal: str = ".") -> tuple[LineFit | None, tuple[Finding, ...]]:
    """The line through the readings of a block.

    Parameters
    ----------
    block : Readings
        A block with its table.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    (LineFit or None, tuple of Finding)
        None if there is no line; the findings of its cells come along in any case.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> def cells(typed):
    ...     return tuple(Source("x", cell).slice() for cell in typed.split("|"))
    >>> rows = (cells("1|5"), cells("2|4"))
    >>> fit, findings = fit_line(Readings(None, {}, cells("I / A|V / V"), rows, (), Span("x", 0, 1)))
    >>> fit.E, findings
    (Fraction(6, 1), ())
    """
    table = read_table(block, decimal=decimal)
    found = line_through(table.readings, _whole(block.headings, block.span))
    if isinstance(found, LineFit):
        return found, table.findings
    # with unread cells the reason for having no line is theirs
    return None, table.findings if any(each.kind.severity == "error" for each in table.findings) else (
        *table.findings,
        found,
    )


def line_through(readings: Sequence[Reading], span: Span) -> LineFit | Finding:
    """The least-squares line V = E - I r through readings.

    Parameters
    ----------
    readings : sequence of Reading
        Two at different currents at least.
    span : Span
        Where a finding is put.

    Notes
    -----
    With S = sum of (I - mean I)^2 and s^2 = sum of squared residuals over n - 2: u(r)^2 = s^2/S and
    u(E)^2 = s^2 (sum of I^2)/(n S).

    Examples
    --------
    >>> two = [Reading(1, Fraction(1), Fraction(5)), Reading(2, Fraction(2), Fraction(4))]
    >>> fit = line_through(two, Span("x", 0, 1))
    >>> fit.E, fit.r, fit.u_r
    (Fraction(6, 1), Fraction(1, 1), None)
    """
    count = len(readings)
    if len({each.current for each in readings}) < 2:
        what = "there are fewer than two" if count < 2 else "they were all taken at one current"
        return finding("no-line", span, what=what)
    currents, pds = [each.current for each in readings], [each.pd for each in readings]
    squares = sum((each * each for each in currents), Fraction(0))
    mean_i, mean_v = sum(currents, Fraction(0)) / count, sum(pds, Fraction(0)) / count
    spread = squares - count * mean_i * mean_i
    r = -sum(((i - mean_i) * (v - mean_v) for i, v in zip(currents, pds, strict=True)), Fraction(0)) / spread
    emf = mean_v + r * mean_i
    residuals = tuple(v - (emf - i * r) for i, v in zip(currents, pds, strict=True))
    scatter = sum((each * each for each in residuals), Fraction(0)) / (count - 2) if count > 2 else None
    return LineFit(
        emf,
        r,
        None if scatter is None else scatter * squares / (count * spread),
        None if scatter is None else scatter / spread,
        float(mean_i) * math.sqrt(count / squares),
        residuals,
        tuple(each.row for each in readings),
    )


def as_read(block: Readings, fit: LineFit) -> tuple[dict[str, Fraction], tuple[Finding, ...]]:
    """What `E as read` and `r as read` mean after a block: its letters with their values.

    Parameters
    ----------
    block : Readings
        Its ``find:`` names the letters; ``E, r`` if it has none.
    fit : LineFit
        The line through its readings.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> two = [Reading(1, Fraction(1), Fraction(5)), Reading(2, Fraction(2), Fraction(4))]
    >>> fit = line_through(two, Span("x", 0, 1))
    >>> block = Readings(None, {"find": Source("x", "E_1, r_1").slice()}, (), (), (), Span("x", 0, 1))
    >>> as_read(block, fit)
    ({'E_1': Fraction(6, 1), 'r_1': Fraction(1, 1)}, ())
    """
    asked = block.fields.get("find")
    values: dict[str, Fraction] = {}
    findings: list[Finding] = []
    for word in re.split(r"\s*(?:,|\band\b)\s*", asked.text.strip() if asked else "E, r"):
        name = normal_name(word)
        if name[:1] not in {"E", "r"} or not word:
            findings.append(
                finding("unknown-result", asked.span if asked else block.span, word=word or "nothing")
            )
        else:
            values[name] = fit.E if name[0] == "E" else fit.r
    return values, tuple(findings)
