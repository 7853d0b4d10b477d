"""Files that `measure` writes beside its report: results, graph, lab sheet, risk form, and a simulated table."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from pathlib import Path

from boardproof import __version__
from boardproof.findings import Finding
from boardproof.kit.files import write_kit
from boardproof.kit.measure_lab import lab_page
from boardproof.kit.measure_report import SIMULATED, Measured
from boardproof.kit.measure_results import results_page
from boardproof.kit.measure_risk import risk_page
from boardproof.picture.readings_graph import readings_graph
from boardproof.publish.lab_page import lab_pdf
from boardproof.publish.sheet import Paper
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter

__all__ = ["sheets", "write_sheets"]


def write_sheets(measured: Sequence[Measured], folder: Path, paper: str) -> tuple[Finding, ...]:
    """Write all sheets into a folder; a file that somebody changed is not overwritten.

    Parameters
    ----------
    measured : sequence of Measured
        One a table.
    folder : Path
        Made if it is missing.
    paper : {"a4", "letter"}
        Size of the sheets.

    Returns
    -------
    tuple of Finding
        Files that were refused; then none was written.
    """
    made = dt.datetime.now(tz=dt.UTC).date().isoformat()
    size: Paper = "us-letter" if paper == "letter" else "a4"
    files: dict[str, bytes] = {}
    for number, each in enumerate(measured, 1):
        start = "" if len(measured) == 1 else f"{number}-"
        files |= {start + name: content for name, content in sheets(each, made, size)}
    return write_kit(folder, files, version=__version__, made=made, draft=False)


def sheets(measured: Measured, made: str, paper: Paper = "a4") -> Iterator[tuple[str, bytes]]:
    """Names and contents of one table's sheets.

    Parameters
    ----------
    measured : Measured
        Worked out.
    made : str
        The day.
    paper : {"a4", "us-letter"}
        Size.
    """
    typesetter = Typesetter()
    foot = f"made {made} from {measured.grid.source.name[:60]}"
    cells = measured.study.cells
    if cells:
        yield "results.pdf", lab_pdf(results_page(measured, typesetter, foot=foot), typesetter, paper=paper)
        for shape, name in (("figure", "readings.svg"), ("figure near", "readings-near.svg")):
            drawn = readings_graph(
                cells,
                typesetter,
                title=_titled(measured),
                shape="figure" if shape == "figure" else "figure near",
                decimal=measured.mark,
            )
            yield name, frame_svg(drawn, typesetter, "paper").encode()
    if measured.seed is not None and cells:
        yield "simulated.csv", _table(measured).encode()
    if measured.plan is not None and measured.truth is not None:
        sheet = lab_page(measured, measured.plan, measured.truth, typesetter, foot=foot)
        yield "lab-sheet.pdf", lab_pdf(sheet, typesetter, paper=paper)
        form = risk_page(measured, measured.plan, measured.truth, foot=foot)
        yield "risk-assessment.pdf", lab_pdf(form, typesetter, paper=paper)


def _titled(measured: Measured) -> str:
    return measured.title if measured.seed is None else f"{measured.title}, simulated"


def _table(measured: Measured) -> str:
    """Simulated readings as a table that `measure` reads, marked as such."""
    lines = [f"# {SIMULATED.format(seed=measured.seed)}", "I / A;V / V"]
    for reading in measured.study.cells[0].result.readings:
        numbers = (f"{float(reading.current):.10g}", f"{float(reading.pd):.10g}")
        lines.append(";".join(numbers))
    return "\n".join(lines) + "\n"
