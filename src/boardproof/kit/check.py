"""The `check` job: judge every statement of a lesson or of a whole course."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import Final

from boardproof.findings import Finding, Kind, Kinds, near_names
from boardproof.kit.deadline import deadline
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.report import CheckReport, in_short, json_report, text_report
from boardproof.source import Span

__all__ = ["KINDS", "check_file", "run"]

KINDS: Final = Kinds(
    [
        Kind(
            "unknown-set",
            "error",
            "There is no set of values called {word}.",
            "There are: {near}.",
            "A set of values is named in a circuit block, and `--values` judges every circuit with it.\n\n"
            "    boardproof check FILE --values frehs\n\nput right, with `values fresh: E_1 = 6 V` in the lesson:\n\n"
            "    boardproof check FILE --values fresh\n",
        )
    ]
)


def check_file(path: Path, *, values: str | None = None) -> tuple[CheckReport, ...]:
    r"""Check a lesson, or every lesson of a course folder.

    Parameters
    ----------
    path : Path
        A ``*.lesson.md`` file, or a folder. A lesson in a course is checked after those before it.
    values : str, optional
        Name of a set of values to judge with.

    Returns
    -------
    tuple of CheckReport
        One a lesson; empty if nothing could be read.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     lesson = Path(folder) / "one.lesson.md"
    ...     _ = lesson.write_text("# One\n\n## A cell\n\nA cell has an EMF.\n", encoding="utf-8")
    ...     [report] = check_file(lesson)
    >>> report.has_errors, report.summary["statements"]
    (False, 0)
    """
    reports, _ = _checked(path, values)
    return reports


def _checked(
    path: Path, values: str | None, late: Callable[[], str] = str
) -> tuple[tuple[CheckReport, ...], tuple[Finding, ...]]:
    folder, findings, only = open_course(path)
    if not folder.lessons:
        return (), findings
    proofs = tuple(prove_lessons(folder, findings, only=only, values=values, late=late))
    if values and not any(values in proof.walk.definitions.sets for proof in proofs):
        sets = sorted({name for proof in proofs for name in proof.walk.definitions.sets})
        near = ", ".join(near_names(values, sets) or sets) or "none"
        return (), (Finding(KINDS["unknown-set"], Span(path.name, 0, 0), {"word": values, "near": near}),)
    return tuple(proof.report for proof in proofs), findings


def run(options: Namespace) -> int:
    """Check what the command line names and print it.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    late = deadline(options.limit)
    reports, findings = _checked(options.file, options.values, late)
    if not reports:
        for each in findings:
            sys.stderr.write(in_short(each) + "\n")
        if not findings:
            sys.stderr.write(f"There is no lesson in {options.file}: lessons are called NAME.lesson.md.\n")
        return 2
    colour = sys.stdout.isatty() and not options.no_colour
    for report in reports:
        if options.json:
            sys.stdout.write(json_report(report) + "\n")
        elif not options.quiet or report.diagnostics:
            sys.stdout.write(text_report(report, colour=colour) + "\n\n")
    if any(report.is_unfinished for report in reports):
        sys.stderr.write(f"Not done: {late()}. --limit SECONDS gives it more time.\n")
        return 2
    wrong = any(report.has_errors for report in reports)
    strict = options.strict and any(d.severity == "warning" for report in reports for d in report.diagnostics)
    return 1 if wrong or strict else 0
