"""The `check` job: judge every statement of a lesson or of a whole course."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path

from boardproof.findings import Finding, worded
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.report import CheckReport, json_report, text_report

__all__ = ["check_file", "run"]


def check_file(path: Path, *, values: str | None = None) -> tuple[CheckReport, ...]:
    """Check a lesson, or every lesson of a course folder.

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
    """
    reports, _ = _checked(path, values)
    return reports


def _checked(path: Path, values: str | None) -> tuple[tuple[CheckReport, ...], tuple[Finding, ...]]:
    folder, findings, only = open_course(path)
    if not folder.lessons:
        return (), findings
    return tuple(
        proof.report for proof in prove_lessons(folder, findings, only=only, values=values)
    ), findings


def run(options: Namespace) -> int:
    """Check what the command line names and print it."""
    reports, findings = _checked(options.file, options.values)
    if not reports:
        for each in findings:
            sys.stderr.write(f"{worded(each).message} {worded(each).help}".rstrip() + "\n")
        if not findings:
            sys.stderr.write(f"There is no lesson in {options.file}: lessons are called NAME.lesson.md.\n")
        return 2
    colour = sys.stdout.isatty() and not options.no_colour
    for report in reports:
        if options.json:
            sys.stdout.write(json_report(report) + "\n")
        elif not options.quiet or report.diagnostics:
            sys.stdout.write(text_report(report, colour=colour) + "\n\n")
    wrong = any(report.has_errors for report in reports)
    strict = options.strict and any(d.severity == "warning" for report in reports for d in report.diagnostics)
    return 1 if wrong or strict else 0
