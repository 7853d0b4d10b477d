"""All that one table of readings tells: a result a run, what was noticed, and the runs beside each other."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from boardproof.findings import Finding
from boardproof.lab.bench import Bench
from boardproof.lab.compared import Agreement, ClassSpread, agreement, class_spread, in_parallel, in_series
from boardproof.lab.judged import CellStudy, judged_run
from boardproof.lab.kinds import finding
from boardproof.lab.result import Result, measure
from boardproof.lab.runs import Runs
from boardproof.lab.uncertain import Uncertain
from boardproof.record import record

__all__ = ["Joined", "Study", "study"]


@record
class Joined:
    """Cells that were measured alone and joined: what was to be expected and how it agrees."""

    name: str
    way: str
    predicted_E: Uncertain
    predicted_r: Uncertain
    E: Agreement
    r: Agreement


@record
class Study:
    """A whole table.

    Parameters
    ----------
    cells : tuple of CellStudy
        One a run with a line.
    joined : tuple of Joined
        Combinations of cells that stand in the table themselves.
    pair : tuple of Agreement
        E and r of two runs compared; empty unless there are two.
    spread : tuple of ClassSpread
        E and r of three or more runs; empty otherwise.
    pooled : Result or None
        One line through all runs, where there are several.
    findings : tuple of Finding
        What is to be said.
    """

    cells: tuple[CellStudy, ...]
    joined: tuple[Joined, ...]
    pair: tuple[Agreement, ...]
    spread: tuple[ClassSpread, ...]
    pooled: Result | None
    findings: tuple[Finding, ...]


def study(runs: Runs, bench: Bench) -> Study:
    r"""Work a table out.

    Parameters
    ----------
    runs : Runs
        As read.
    bench : Bench
        Meters; a meter without a step gets the last place that was typed.

    Examples
    --------
    >>> from boardproof.lab.runs import read_runs
    >>> from boardproof.lab.sheet import read_grid
    >>> from boardproof.source import Source
    >>> text = "I / A,V / V\n0.1,1.46\n0.2,1.42\n0.4,1.33\n0.3,1.39\n"
    >>> made = study(read_runs(read_grid(Source("a.csv", text))), Bench())
    >>> round(made.cells[0].result.r.value, 2), made.pair
    (0.43, ())
    """
    found = list(runs.findings)
    cells = []
    for run in runs.runs:
        one, more = judged_run(
            run.readings,
            bench,
            runs.span,
            name=run.name,
            own=run.own,
            steps=run.steps,
            left_out=run.left_out,
        )
        found += more
        if one is not None:
            cells.append(one)
    if not runs.runs and not any(each.kind.severity == "error" for each in found):
        found.append(finding("no-line", runs.span, what="there are no readings"))
    named = {each.name: each.result for each in cells}
    joined = tuple(_joined(named))
    alone = [each.result for each in cells if each.name not in {one.name for one in joined}]
    pair = (agreement(alone[0].E, alone[1].E), agreement(alone[0].r, alone[1].r)) if len(alone) == 2 else ()
    sure = [each for each in alone if each.E.u and each.r.u]
    spread = (
        (class_spread([each.E for each in sure]), class_spread([each.r for each in sure]))
        if len(sure) > 2
        else ()
    )
    together = [reading for each in alone for reading in each.readings]
    pooled = measure(together, alone[0].bench, run="all") if len(alone) > 1 else None
    return Study(tuple(cells), joined, pair, spread, pooled, tuple(found))


def _joined(named: Mapping[str, Result]) -> Iterator[Joined]:
    """Runs whose names are sums of other runs' names: "A + B" in series, "A || B" in parallel."""
    for name, result in named.items():
        for mark, way in (("+", "in series"), ("||", "in parallel")):
            members = [each.strip() for each in re.split(re.escape(mark), name)]
            if len(members) < 2 or not all(each in named for each in members):
                continue
            cells = [named[each] for each in members]
            E, r = in_series(cells) if mark == "+" else in_parallel(cells)
            yield Joined(name, way, E, r, agreement(E, result.E), agreement(r, result.r))
