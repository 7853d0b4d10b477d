"""A lesson's `readings` block, judged: what `E as read` means after it, and what the readings say against the line.

The values are those of the exact least-squares line, so a lesson can be checked to every figure; York's line, which
weighs each reading, differs from it by a small part of its uncertainty (a test says so), and is what the tests for
drift, bend and far-off readings are made with.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from boardproof.findings import Finding
from boardproof.lab.bench import Bench
from boardproof.lab.compared import agreement
from boardproof.lab.instrument import Meter, read_meter
from boardproof.lab.judged import judged_run
from boardproof.lab.kinds import finding
from boardproof.lab.readings import as_read, fit_line, read_table
from boardproof.lab.result import Result
from boardproof.lab.told import told
from boardproof.lab.uncertain import certain
from boardproof.lesson.model import Readings
from boardproof.quantities import AMPERE, VOLT
from boardproof.record import record

__all__ = ["Judged", "judge_block"]

NOTHING: Mapping[str, Fraction] = MappingProxyType({})


@record
class Judged:
    """Values by letter, the result behind them (None without a line), and findings."""

    values: Mapping[str, Fraction]
    result: Result | None
    findings: tuple[Finding, ...]


def judge_block(block: Readings, *, decimal: str = ".", stated: Mapping[str, Fraction] = NOTHING) -> Judged:
    """Judge one block.

    Parameters
    ----------
    block : Readings
        As read.
    decimal : str
        The course's decimal mark.
    stated : mapping of str to Fraction
        E and r of the cell as the lesson's circuit gives them, in SI units; those it gives.

    Examples
    --------
    >>> from boardproof.source import Source, Span
    >>> def cells(typed):
    ...     return tuple(Source("x", cell).slice() for cell in typed.split("|"))
    >>> rows = (cells("1|5"), cells("2|4"), cells("3|3"))
    >>> made = judge_block(Readings(None, {}, cells("I / A|V / V"), rows, (), Span("x", 0, 1)))
    >>> dict(made.values)["E"], made.findings
    (Fraction(6, 1), ())
    """
    fit, found = fit_line(block, decimal=decimal)
    bench, odd = _bench(block, decimal)
    found += odd
    if fit is None:
        return Judged(NOTHING, None, found)
    values, odd = as_read(block, fit)
    found += odd
    readings = read_table(block, decimal=decimal).readings
    span = block.headings[0].span.to(block.headings[-1].span)
    cell, more = judged_run(readings, bench, span)
    found += more
    if cell is None:
        return Judged(values, None, found)
    for name, value, symbol in (("E", cell.result.E, "V"), ("r", cell.result.r, "Ω")):
        if name not in stated or not value.u or cell.result.degrees < 1:
            continue
        apart = agreement(value, certain(float(stated[name])))
        if not apart.agrees and apart.standard > 3:
            facts = {"name": name, "stated": told(float(stated[name]), None, symbol, decimal=decimal)}
            facts |= {"found": told(value.value, value.u, symbol, decimal=decimal)}
            found += (finding("reading-disagrees", span, standard=f"{apart.standard:.1f}", **facts),)
    return Judged(values, cell.result, found)


def _bench(block: Readings, decimal: str) -> tuple[Bench, tuple[Finding, ...]]:
    """Meters as the block describes them."""
    meters: list[Meter] = []
    found: tuple[Finding, ...] = ()
    for word, dimension in (("voltmeter", VOLT), ("ammeter", AMPERE)):
        field = block.fields.get(word)
        meter, more = read_meter(field, word, dimension, decimal=decimal) if field else (Meter(word), ())
        meters.append(meter)
        found += more
    return Bench(meters[0], meters[1]), found
