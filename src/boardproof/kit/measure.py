"""The `measure` job: readings of real cells, from a file to EMF and internal resistance with their uncertainty."""

from __future__ import annotations

import json
import re
import sys
from argparse import Namespace
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from boardproof.findings import Finding
from boardproof.kit.files import read_content, read_source
from boardproof.kit.measure_bench import bench_lines
from boardproof.kit.measure_files import write_sheets
from boardproof.kit.measure_report import Measured, measured_json, measured_text
from boardproof.kit.report import in_short, visible
from boardproof.lab.bench import Bench
from boardproof.lab.design import design
from boardproof.lab.instrument import Meter, read_meter
from boardproof.lab.runs import Run, Runs, read_runs
from boardproof.lab.sheet import Grid, grid_of_block, read_grid
from boardproof.lab.simulate import Truth, simulated
from boardproof.lab.spreadsheet import read_spreadsheet
from boardproof.lab.study import study
from boardproof.lesson.model import Readings
from boardproof.lesson.read import read_lesson
from boardproof.quantities import AMPERE, OHM, VOLT, read_quantity
from boardproof.source import Slice, Source

__all__ = ["measure_grid", "run"]

SPREADSHEETS: Final = (".xlsx", ".xlsm")
SCATTER: Final = 0.5


def run(options: Namespace) -> int:
    """Measure what the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the readings is, 2 if it was not done.
    """
    grids, found = _grids(options.file)
    if not grids:
        for each in found:
            sys.stderr.write(in_short(each) + "\n")
        if not found:
            sys.stderr.write(
                f"No readings in {options.file.name}: a `readings` block with a table is wanted.\n"
            )
        return 2
    if options.bench:
        return _other_bench(grids, options)
    expected, why = _expected(options.expect)
    if why:
        sys.stderr.write(why + "\n")
        return 2
    measured = [
        measure_grid(
            grid,
            said={
                name: getattr(options, name)
                for name in ("voltmeter", "ammeter", "across", "loads", "decimal")
            },
            expected=expected,
            seed=options.simulate,
        )
        for grid in grids
    ]
    _tell(measured, options)
    if options.sheet is not None:
        refused = write_sheets(measured, options.sheet, options.paper or "a4")
        for each in refused:
            sys.stderr.write(in_short(each) + "\n")
        if refused:
            return 2
    return max(each.status for each in measured)


def _other_bench(grids: list[Grid], options: Namespace) -> int:
    """Bench work that has no E and r."""
    missing = False
    for grid in grids:
        lines = bench_lines(grid, options.bench)
        missing = missing or any(line.startswith("I need") for line in lines)
        told = json.dumps({"schema": 1, "bench": options.bench, "lines": lines}, ensure_ascii=False)
        sys.stdout.write((told if options.json else visible("\n".join(lines))) + "\n")
    return int(missing)


def _tell(measured: list[Measured], options: Namespace) -> None:
    if options.json:
        for each in measured:
            sys.stdout.write(json.dumps(measured_json(each), ensure_ascii=False) + "\n")
        return
    colour = sys.stdout.isatty() and not options.no_colour
    sys.stdout.write(
        "\n\n".join(measured_text(each, colour=colour, quiet=options.quiet) for each in measured) + "\n"
    )


def _grids(path: Path) -> tuple[list[Grid], tuple[Finding, ...]]:
    """Tables of a file: one, or one a `readings` block of a lesson."""
    if path.suffix.lower() in SPREADSHEETS:
        content, found = read_content(path, name=path.name)
        if content is None:
            return [], found
        grid, found = read_spreadsheet(content, path.name)
        return ([grid] if grid else []), found
    source, found = read_source(path)
    if source is None:
        return [], found
    if not path.name.endswith(".md"):
        return [read_grid(source)], ()
    lesson, _ = read_lesson(source)
    blocks = [each for scene in lesson.scenes for each in scene.blocks if isinstance(each, Readings)]
    return [grid_of_block(each, source) for each in blocks if each.headings], ()


def _expected(text: str | None) -> tuple[Truth | None, str]:
    """A cell as it is described on the command line."""
    if text is None:
        return None, ""
    read = [read_quantity(each) for each in text.split(",")]
    match [(each.value, each.dimension) if each else None for each in read]:
        case [(emf, kind), (internal, other)] if kind == VOLT and other == OHM and emf > 0 and internal > 0:
            return Truth(float(emf), float(internal)), ""
    return None, f"I can't read the cell {text!r}: write '1.5 V, 0.4 ohm'."


def measure_grid(
    grid: Grid,
    *,
    said: Mapping[str, str | None],
    expected: Truth | None = None,
    seed: int | None = None,
) -> Measured:
    r"""Work out one table.

    Parameters
    ----------
    grid : Grid
        Cells as typed, and what stands above them.
    said : mapping
        Meters, place and marks said on the command line; they go before the file's.
    expected : Truth, optional
        What the cell should be: for simulated readings and the lab sheet.
    seed : int, optional
        Simulate readings at the table's loads in place of its own.

    Examples
    --------
    >>> typed = "I / A,V / V\n0.1,1.46\n0.2,1.42\n0.3,1.39\n"
    >>> made = measure_grid(read_grid(Source("a.csv", typed)), said={})
    >>> round(made.study.cells[0].result.E.value, 3), made.status
    (1.494, 0)
    """
    decimal = said.get("decimal")
    runs = read_runs(grid, decimal=decimal)
    bench, troubles = _bench(grid, said, runs.mark)
    if seed is not None:
        runs = _rehearsed(runs, bench, expected, seed)
    done = study(runs, bench)
    cell = done.cells[0].result if done.cells else None
    truth = expected or (
        Truth(cell.E.value, cell.r.value) if cell and min(cell.E.value, cell.r.value) > 0 else None
    )
    plan = design(truth, bench) if truth else None
    return Measured(grid, runs.mark, bench, done, (*troubles, *done.findings), plan, truth, seed)


def _bench(grid: Grid, said: Mapping[str, str | None], mark: str) -> tuple[Bench, tuple[Finding, ...]]:
    """Meters from the command line, or else from above the table."""
    found: tuple[Finding, ...] = ()
    meters: list[Meter] = []
    for word, dimension in (("voltmeter", VOLT), ("ammeter", AMPERE)):
        text = said.get(word)
        described = Source("command line", text).slice() if text else grid.fields.get(word)
        meter, more = read_meter(described, word, dimension, decimal=mark) if described else (Meter(word), ())
        meters.append(meter)
        found += more
    across = said.get("across") or _text(grid.fields.get("across")) or "cell"
    share = re.match(
        r"\s*([0-9]+(?:[.,][0-9]+)?)\s*(?:%|$)", said.get("loads") or _text(grid.fields.get("loads"))
    )
    tolerance = float(share[1].replace(",", ".")) / 100 if share else 0.0
    return Bench(meters[0], meters[1], "load" if across == "load" else "cell", tolerance), found


def _text(field: Slice | None) -> str:
    return field.text if field else ""


def _rehearsed(runs: Runs, bench: Bench, expected: Truth | None, seed: int) -> Runs:
    """Simulated readings in place of the table's: at its loads, or at the best ones if it has none."""
    own = runs.runs[0].readings if runs.runs else ()
    if expected is None:
        done = study(Runs(runs.runs[:1], (), runs.mark, runs.span), bench)
        if not done.cells:
            return runs
        result = done.cells[0].result
        expected = Truth(abs(result.E.value), abs(result.r.value))
    step = bench.voltmeter.ranges[0].step if bench.voltmeter.ranges else 0.001
    truth = Truth(expected.emf, expected.internal, SCATTER * step)
    loads = [float(each.load or each.pd / each.current) for each in own if each.current] or list(
        design(expected, bench).loads
    )
    readings = simulated(truth, loads, bench, seed=seed)
    steps = runs.runs[0].steps if runs.runs else {}
    return Runs((Run("", readings, (), steps),), (), runs.mark, runs.span)
