"""One run of readings, judged: its line, its tests, and what is to be said about it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

from boardproof.findings import Finding
from boardproof.lab.bench import Bench
from boardproof.lab.instrument import Meter, Range
from boardproof.lab.kinds import finding
from boardproof.lab.noticed import Noticed, noticed
from boardproof.lab.readings import Reading, line_through
from boardproof.lab.result import Result, measure
from boardproof.lab.school_line import SchoolLines, school_lines
from boardproof.lab.told import chance_told, told
from boardproof.record import record
from boardproof.source import Span

__all__ = ["CellStudy", "judged_run"]

KINDS = {"drift": "drifting-readings", "bend": "bent-line", "far off": "odd-reading"}
NOTHING: Mapping[str, Fraction] = MappingProxyType({})


@record
class CellStudy:
    """One run: its result, readings left out with their reasons, tests, and the lines by ruler."""

    name: str
    result: Result
    left_out: tuple[tuple[Reading, str], ...]
    noticed: tuple[Noticed, ...]
    school: SchoolLines | None


def judged_run(
    readings: Sequence[Reading],
    bench: Bench,
    span: Span,
    *,
    name: str = "",
    own: bool = False,
    steps: Mapping[str, Fraction] = NOTHING,
    left_out: tuple[tuple[Reading, str], ...] = (),
) -> tuple[CellStudy | None, tuple[Finding, ...]]:
    """One run's result with what is to be said about it.

    Parameters
    ----------
    readings : sequence of Reading
        In the order taken.
    bench : Bench
        Meters.
    span : Span
        Where findings about the whole run are put.
    name : str
        Of the run, where there are several.
    own : bool
        Whether it had meters of its own.
    steps : mapping of str to Fraction
        Smallest step typed of "pd" and "current".
    left_out : tuple of (Reading, str)
        Readings that the teacher left out, with the reasons.
    """
    line = line_through(readings, span)
    if isinstance(line, Finding):
        return None, (line,)
    bench = _with_steps(bench, steps)
    result = measure(readings, bench, run=name, own=own)
    tests = noticed(result)
    found = [*_above(readings, bench)]
    if result.degrees < 1:
        found.append(finding("two-readings", span))
    if result.r.value < 0:
        found.append(finding("negative-resistance", span, r=told(result.r.value, result.r.u, "Ω")))
    places = {each.row: each.span for each in readings}
    for each in tests:
        if each.found:
            place = places.get(each.row) or span
            sentence = f"{name}: {each.sentence}" if name else each.sentence
            found.append(finding(KINDS[each.name], place, sentence=sentence, chance=chance_told(each.chance)))
    return CellStudy(name, result, left_out, tests, school_lines(result)), tuple(found)


def _with_steps(bench: Bench, steps: Mapping[str, Fraction]) -> Bench:
    """Where a meter's step is not described, the last place that was typed stands for it."""

    def known(meter: Meter, key: str) -> Meter:
        step = steps.get(key)
        if not step or meter.ranges:
            return meter
        return replace(meter, ranges=(Range(float("inf"), float(step)),))

    return replace(bench, voltmeter=known(bench.voltmeter, "pd"), ammeter=known(bench.ammeter, "current"))


def _above(readings: Sequence[Reading], bench: Bench) -> Iterator[Finding]:
    """Readings that the meter can't have shown."""
    for reading in readings:
        for meter, value, symbol in (
            (bench.voltmeter, reading.pd, "V"),
            (bench.ammeter, reading.current, "A"),
        ):
            is_read = symbol == "V" or reading.load is None
            if is_read and meter.ranges and meter.range_for(float(value)) is None and reading.span:
                facts = {"row": str(reading.row), "column": symbol, "meter": meter.word}
                yield finding("above-range", reading.span, value=f"{float(value):g} {symbol}", **facts)
