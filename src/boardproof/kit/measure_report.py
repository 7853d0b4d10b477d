"""What readings gave, as text for a terminal and as JSON for programs."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable, Sequence
from typing import Final

from boardproof.findings import Finding, worded
from boardproof.kit.report import CheckReport, findings_text, json_report, visible
from boardproof.lab.advice import next_step
from boardproof.lab.bench import Bench
from boardproof.lab.compared import Agreement, ClassSpread
from boardproof.lab.design import Design
from boardproof.lab.judged import CellStudy
from boardproof.lab.result import METHOD, Result
from boardproof.lab.sheet import Grid
from boardproof.lab.simulate import Truth
from boardproof.lab.study import Joined, Study
from boardproof.lab.told import chance_told, give_or_take, told
from boardproof.lab.uncertain import Uncertain, budget, effective_degrees
from boardproof.record import record

__all__ = ["SIMULATED", "Measured", "beside_lines", "measured_json", "measured_text"]

SIMULATED: Final = "SIMULATED readings for a rehearsal (seed {seed}): nobody measured this."
WIDTH: Final = 100


@record
class Measured:
    """One table worked out.

    Parameters
    ----------
    grid : Grid
        Its cells.
    mark : str
        Decimal mark.
    bench : Bench
        Meters.
    study : Study
        Results.
    findings : tuple of Finding
        All that is to be said.
    plan : Design or None
        Loads for the next run.
    truth : Truth or None
        What the plan was made for.
    seed : int or None
        Of simulated readings.
    """

    grid: Grid
    mark: str
    bench: Bench
    study: Study
    findings: tuple[Finding, ...]
    plan: Design | None
    truth: Truth | None
    seed: int | None

    @property
    def status(self) -> int:
        """Exit status: 1 if a reading could not be read or there is no result."""
        wrong = any((each.severity or each.kind.severity) == "error" for each in self.findings)
        return int(wrong or not self.study.cells)

    @property
    def title(self) -> str:
        """What the table is called."""
        said = self.grid.fields.get("title")
        if said and self.grid.source.name.endswith(".md"):
            return f"Readings of {said.text}"
        return said.text if said else self.grid.source.name


def measured_text(measured: Measured, *, colour: bool = False, quiet: bool = False) -> str:
    """The whole report for a terminal.

    Parameters
    ----------
    measured : Measured
        One table.
    colour, quiet : bool
        With colours; findings only.
    """
    diagnostics = tuple(worded(each) for each in measured.findings)
    report = CheckReport(measured.grid.source, (), diagnostics, {})
    blocks = [findings_text(report, colour=colour)] if measured.findings else []
    if not quiet:
        if measured.seed is not None:
            blocks.insert(0, SIMULATED.format(seed=measured.seed))
        blocks += [_cell(each, measured) for each in measured.study.cells]
        blocks += list(beside_lines(measured))
    return "\n\n".join(blocks)


def _cell(cell: CellStudy, measured: Measured) -> str:
    result, mark = cell.result, measured.mark
    head = f"{cell.name or visible(measured.title)}: {len(result.points)} readings"
    lines = [visible(head + (f", {len(cell.left_out)} left out" if cell.left_out else ""))]
    for name, value, symbol in (("E", result.E, "V"), ("r", result.r, "Ω")):
        shown = told(value.value, value.u or None, symbol, decimal=mark)
        lines.append(f"  {name} = {shown}{_reach(result, value, symbol, mark)}")
    if result.E.u and result.r.u:
        lines.append(f"  correlation of E and r: {result.correlation:.2f}".replace(".", mark))
    if cell.school:
        best = cell.school
        e, r = (
            told(best.best.E, best.E_give_or_take, "V", decimal=mark),
            told(best.best.r, best.r_give_or_take, "Ω", decimal=mark),
        )
        lines.append(f"  by ruler (best, steepest and shallowest line): E = {e}, r = {r}")
    lines += list(_budget(result, mark))
    lines += textwrap.wrap(next_step(result), WIDTH, initial_indent="  Next: ", subsequent_indent="  ")
    for each in cell.noticed:
        if not each.found:
            lines += textwrap.wrap(each.sentence, WIDTH, initial_indent="  ", subsequent_indent="  ")
    return "\n".join([*lines, f"  Method: {METHOD}."])


def _reach(result: Result, value: Uncertain, symbol: str, mark: str) -> str:
    reach = result.reach(value)
    if not reach or not value.u:
        return "   (uncertainty not known: too few readings)" if result.scatter == "not known" else ""
    degrees = effective_degrees(value)
    freedom = f", {degrees:.0f} degrees of freedom" if degrees < 1000 else ""
    return (
        f"   95 %: {give_or_take(reach, symbol, decimal=mark)} (k = {reach / value.u:.2f}{freedom})".replace(
            "k = " + f"{reach / value.u:.2f}", "k = " + f"{reach / value.u:.2f}".replace(".", mark)
        )
    )


def _budget(result: Result, mark: str) -> Iterable[str]:
    """What makes E and r uncertain, in two columns."""
    shares_e = {name: (u, share) for name, u, share in budget(result.E)}
    shares_r = {name: (u, share) for name, u, share in budget(result.r)}
    names = sorted({*shares_e, *shares_r}, key=lambda each: -shares_r.get(each, (0, 0))[1])
    if not names:
        return
    width = max(len("what makes it uncertain"), *(len(each) for each in names))
    yield f"  {'what makes it uncertain'.ljust(width)}   {'u(E)'.ljust(18)} u(r)"
    for name in names:
        e, r = (_share(each.get(name), symbol, mark) for each, symbol in ((shares_e, "V"), (shares_r, "Ω")))
        yield f"  {visible(name).ljust(width)}   {e.ljust(18)} {r}".rstrip()


def _share(each: tuple[float, float] | None, symbol: str, mark: str) -> str:
    if each is None or each[1] < 0.005:
        return "-"
    size = give_or_take(each[0], symbol, decimal=mark).removeprefix("± ")
    return f"{size} ({each[1]:.0%})".replace("%", " %")


def beside_lines(measured: Measured) -> Iterable[str]:
    """Runs beside each other: cells joined, two compared, the class's spread.

    Parameters
    ----------
    measured : Measured
        One table.
    """
    done, mark = measured.study, measured.mark
    for each in done.joined:
        yield "\n".join(_joined(each, mark))
    if done.pair:
        lines = ["The two compared (second taken from first):"]
        lines += [
            _agreement(name, told_apart, symbol, mark)
            for name, told_apart, symbol in zip("Er", done.pair, "VΩ", strict=True)
        ]
        yield "\n".join(lines)
    if done.spread:
        lines = ["The class:"]
        for name, group, symbol in zip("Er", done.spread, "VΩ", strict=True):
            lines += textwrap.wrap(
                _class(name, group, symbol, mark), WIDTH, initial_indent="  ", subsequent_indent="    "
            )
        yield "\n".join(lines)


def _joined(each: Joined, mark: str) -> Iterable[str]:
    yield visible(f"{each.name}, {each.way}: expected from the cells alone")
    for name, value, symbol, agreed in (
        ("E", each.predicted_E, "V", each.E),
        ("r", each.predicted_r, "Ω", each.r),
    ):
        yield f"  {name} = {told(value.value, value.u or None, symbol, decimal=mark)}"
        yield _agreement(f"  {name} expected - measured", agreed, symbol, mark)


def _agreement(name: str, each: Agreement, symbol: str, mark: str) -> str:
    size = told(each.difference.value, each.difference.u or None, symbol, decimal=mark)
    verdict = "they agree" if each.agrees else "they do not agree"
    apart = f"{each.standard:.1f}".replace(".", mark)
    return f"  {name}: {size}, {apart} standard uncertainties apart: {verdict}"


def _class(name: str, each: ClassSpread, symbol: str, mark: str) -> str:
    ratio = f"{each.ratio:.1f}".replace(".", mark)
    told_mean = told(each.mean, each.u, symbol, decimal=mark)
    spread, stated = (
        give_or_take(size, symbol, decimal=mark).removeprefix("± ") for size in (each.spread, each.stated)
    )
    end = "no more than the groups' own uncertainties say"
    end = "no more than the groups' own uncertainties say"
    if each.chance < 0.05:
        end = (
            f"{ratio} times more than the groups' own uncertainties say ({chance_told(each.chance)} by chance): "
            "something differs from bench to bench"
        )
    return f"{name} = {told_mean} (weighted mean). The groups' values scatter by {spread}, they state {stated}: {end}."


def measured_json(measured: Measured) -> dict[str, object]:
    """The same for programs.

    Parameters
    ----------
    measured : Measured
        One table.
    """
    report = CheckReport(measured.grid.source, (), tuple(worded(each) for each in measured.findings), {})
    return {
        "schema": 1,
        "file": measured.grid.source.name,
        "simulated": measured.seed is not None,
        "seed": measured.seed,
        "decimal": measured.mark,
        "cells": [_fit_json(each) for each in measured.study.cells],
        "joined": [
            {
                "name": each.name,
                "way": each.way,
                "E": _value(each.predicted_E),
                "r": _value(each.predicted_r),
                "agreement": {"E": _agreement_json(each.E), "r": _agreement_json(each.r)},
            }
            for each in measured.study.joined
        ],
        "compared": [_agreement_json(each) for each in measured.study.pair],
        "class": [
            {
                "mean": each.mean,
                "u": each.u,
                "spread": each.spread,
                "stated": each.stated,
                "ratio": each.ratio,
                "chance": each.chance,
            }
            for each in measured.study.spread
        ],
        "findings": json.loads(json_report(report))["findings"],
    }


def _fit_json(cell: CellStudy) -> dict[str, object]:
    result = cell.result
    return {
        "name": cell.name,
        "E": _value(result.E),
        "r": _value(result.r),
        "correlation": result.correlation,
        "method": METHOD,
        "scatter": result.scatter,
        "degrees": result.degrees,
        "coverage": 0.95,
        "interval": {"E": result.reach(result.E), "r": result.reach(result.r)},
        "budget": {"E": _budget_json(result.E), "r": _budget_json(result.r)},
        "residuals": [
            [point.row, each] for point, each in zip(result.points, result.line.residuals, strict=True)
        ],
        "left_out": [[reading.row, reason] for reading, reason in cell.left_out],
        "suspect": [each.row for each in cell.noticed if each.row],
        "tests": [
            {
                "name": each.name,
                "statistic": each.statistic if abs(each.statistic) < 1e300 else None,
                "chance": each.chance,
                "found": each.found,
                "sentence": each.sentence,
            }
            for each in cell.noticed
        ],
        "school": None
        if cell.school is None
        else {
            "E": cell.school.best.E,
            "E_give_or_take": cell.school.E_give_or_take,
            "r": cell.school.best.r,
            "r_give_or_take": cell.school.r_give_or_take,
        },
    }


def _value(value: Uncertain) -> dict[str, float]:
    return {"value": value.value, "u": value.u}


def _budget_json(value: Uncertain) -> Sequence[Sequence[object]]:
    return [[name, u, share] for name, u, share in budget(value)]


def _agreement_json(each: Agreement) -> dict[str, object]:
    return {
        "difference": _value(each.difference),
        "standard": each.standard if each.standard < 1e300 else None,
        "chance": each.chance,
        "interval": each.reach,
        "agrees": each.agrees,
    }
