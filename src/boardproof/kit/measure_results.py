"""The results sheet that a student keeps: graph, E and r, what makes them uncertain, what was noticed."""

from __future__ import annotations

from collections.abc import Iterator

from boardproof.kit.measure_report import SIMULATED, Measured, beside_lines
from boardproof.lab.advice import next_step
from boardproof.lab.judged import CellStudy
from boardproof.lab.result import METHOD
from boardproof.lab.told import give_or_take, told
from boardproof.lab.uncertain import budget
from boardproof.picture.readings_graph import readings_graph
from boardproof.publish.lab_page import Head, LabPage, Part, Picture, Table, Words
from boardproof.publish.typeset import Typesetter

__all__ = ["results_page"]

BARS = (
    "Bars are one standard uncertainty by scatter, left away where the mark hides them; the band is one standard "
    "uncertainty of the line, meters included. Below: what each reading lies off the line."
)
MODEL = (
    "The line is a model for this run: a cell's E and r change with its charge, its age and its warmth. ± is one "
    "standard uncertainty; the 95 % interval holds the true value in 19 classes of 20."
)


def results_page(measured: Measured, typesetter: Typesetter, *, foot: str) -> LabPage:
    """The sheet.

    Parameters
    ----------
    measured : Measured
        One table worked out.
    typesetter : Typesetter
        Measures labels.
    foot : str
        What stands at its foot.
    """
    cells = measured.study.cells
    frame = readings_graph(cells, typesetter, title=measured.title, decimal=measured.mark)
    parts: list[Part] = [
        Picture(frame, f"Readings and their {'line' if len(cells) == 1 else 'lines'}. {BARS}")
    ]
    for cell in cells:
        parts += _cell(cell, measured.mark)
    lines = list(beside_lines(measured))
    if lines:
        parts += [Head("Beside each other"), *(Words(each) for each in lines)]
    parts += [
        Head("What ± means"),
        Words(MODEL),
        Words(f"Method: {METHOD}.", style="quiet"),
        *_readings(measured),
    ]
    banner = "" if measured.seed is None else SIMULATED.format(seed=measured.seed)
    return LabPage(measured.title, "Results: EMF and internal resistance", foot, tuple(parts), banner)


def _cell(cell: CellStudy, mark: str) -> Iterator[Part]:
    result = cell.result
    left = f", {len(cell.left_out)} left out" if cell.left_out else ""
    yield Head(
        f"{cell.name + ': ' if cell.name else ''}{'fit' if cell.name else 'Fit'} to {len(result.points)} readings{left}"
    )
    rows = []
    for name, value, symbol in (("EMF E", result.E, "V"), ("internal resistance r", result.r, "Ω")):
        reach = result.reach(value)
        around = give_or_take(reach, symbol, decimal=mark) if reach else "not known"
        rows.append((name, told(value.value, value.u or None, symbol, decimal=mark), around))
    yield Table(("", "value ± standard uncertainty", "95 % interval"), tuple(rows), (2.0, 2.4, 1.6), 7.0)
    if result.E.u and result.r.u:
        yield Words(f"Correlation of E and r: {result.correlation:.2f}.".replace(".", mark, 1), style="quiet")
    if cell.school:
        e = told(cell.school.best.E, cell.school.E_give_or_take, "V", decimal=mark)
        r = told(cell.school.best.r, cell.school.r_give_or_take, "Ω", decimal=mark)
        yield Words(f"By ruler, from the best, the steepest and the shallowest line: E = {e}, r = {r}.")
    shares_e = {name: share for name, _, share in budget(result.E)}
    shares_r = {name: share for name, _, share in budget(result.r)}
    names = sorted({*shares_e, *shares_r}, key=lambda each: -shares_r.get(each, 0.0))
    table = tuple((name, _percent(shares_e.get(name)), _percent(shares_r.get(name))) for name in names)
    if table:
        yield Table(("what makes them uncertain", "of u(E)²", "of u(r)²"), table, (3.0, 1.0, 1.0), 6.0)
    yield Words(f"Next: {next_step(result)}")
    for each in cell.noticed:
        yield Words(each.sentence, style="strong" if each.found else "plain")


def _percent(share: float | None) -> str:
    return "-" if share is None or share < 0.005 else f"{share:.0%}".replace("%", "\u202f%")


def _readings(measured: Measured) -> Iterator[Part]:
    yield Head("The readings")
    rows = []
    for cell in measured.study.cells:
        kept = [(each, "") for each in cell.result.readings]
        every = sorted([*kept, *cell.left_out], key=lambda each: each[0].row)
        for reading, reason in every:
            load = f"{float(reading.load):g}" if reading.load is not None else ""
            numbers = (f"{float(reading.current):.4g}", f"{float(reading.pd):.5g}", load)
            shown = (each.replace(".", measured.mark) for each in numbers)
            rows.append((cell.name, str(reading.row), *shown, f"left out: {reason}" if reason else ""))
    heads = ("cell or group", "row", "I / A", "V / V", "load / Ω", "note")
    used = [n for n in range(len(heads)) if any(row[n] for row in rows)]
    shares = (1.6, 0.6, 1.0, 1.0, 1.0, 2.4)
    kept_rows = tuple(tuple(row[n] for n in used) for row in rows)
    yield Table(tuple(heads[n] for n in used), kept_rows, tuple(shares[n] for n in used), 5.4)
