"""The `pack` job: from a brief to arrangements, a proved argument, faults, spread, run-down and a sheet."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from datetime import UTC, datetime
from pathlib import Path

from boardproof.findings import Finding, worded
from boardproof.kit.files import read_source, write_whole
from boardproof.kit.pack_brief import brief_blocks, unmet
from boardproof.kit.pack_given import given_words
from boardproof.kit.pack_report import as_json, as_text
from boardproof.kit.pack_result import worked_out
from boardproof.kit.pack_sheet import pack_files
from boardproof.kit.proof import open_course, read_lessons
from boardproof.kit.report import CheckReport, findings_text, in_short, visible
from boardproof.pack.brief import PackBrief
from boardproof.pack.design import PackDesign, design
from boardproof.pack.phrase import quantity_of
from boardproof.pack.read import read_typed, typed_supplies
from boardproof.quantities import OHM
from boardproof.source import Source, Span

__all__ = ["run"]


def run(options: Namespace) -> int:
    """Design what the command line names and print it.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if the brief is met, 1 if it cannot be or is not read, 2 if nothing was done.
    """
    source = _source(options.brief)
    if source is None:
        return 2
    if options.load is not None:
        return _given(source, options)
    briefs, findings = _briefs(source, options.brief)
    if findings:
        return _told(findings, source)
    if not briefs:
        sys.stderr.write(f"There is no brief in {visible(source.name)}.\n")
        return 2
    return max(_designed(brief, source, options) for brief in briefs)


def _source(typed: str) -> Source | None:
    """The text of the file of that name, or what was typed itself."""
    path = Path(typed)
    if ":" in typed and not path.exists():
        return Source("brief", typed)
    source, found = read_source(path)
    for each in found:
        sys.stderr.write(in_short(each) + "\n")
    return source


def _briefs(source: Source, typed: str) -> tuple[list[PackBrief], tuple[Finding, ...]]:
    if not typed.endswith(".md"):
        read = read_typed(source.text, name=source.name)
        return ([read.brief] if read.brief else []), read.findings
    folder, _, only = open_course(Path(typed))
    reads = [
        each
        for (walk, _), lesson in zip(read_lessons(folder), folder.lessons, strict=True)
        if only is None or lesson.name == only
        for _, each in brief_blocks(walk)
    ]
    return [each.brief for each in reads if each.brief], tuple(f for each in reads for f in each.findings)


def _told(findings: tuple[Finding, ...], source: Source) -> int:
    report = CheckReport(source, (), tuple(worded(each) for each in findings), {})
    sys.stderr.write(findings_text(report) + "\n")
    return 1


def _designed(brief: PackBrief, source: Source, options: Namespace) -> int:
    made = design(brief, options.aim)
    if not isinstance(made, PackDesign):
        return _told((unmet(made, Span(source.name, 0, max(1, len(source.text.split("\n")[0])))),), source)
    result = worked_out(
        made, faults=options.faults is not None, spread=options.spread or 0, running_down=options.run_down
    )
    if options.to is not None:
        options.to.mkdir(parents=True, exist_ok=True)
        whole = worked_out(made, faults=True, spread=options.spread or 2000, running_down=True)
        for name, content in pack_files(whole, today=datetime.now(tz=UTC).date()).items():
            write_whole(options.to / name, content)
    if options.json:
        sys.stdout.write(as_json(result) + "\n")
    elif not options.quiet:
        sys.stdout.write(as_text(result, every_fault=options.faults == "all") + "\n")
        if options.to is not None:
            sys.stdout.write(f"\nSheet, page and pictures are in {visible(str(options.to))}.\n")
    return 0


def _given(source: Source, options: Namespace) -> int:
    """What the cells at hand drive through a load."""
    load = quantity_of(options.load, OHM)
    if load is None:
        sys.stderr.write(f"{visible(options.load)} is no resistance above nought: write --load '4 ohm'.\n")
        return 2
    supplies, findings = typed_supplies(source.text, name=source.name)
    if findings or not supplies:
        return _told(findings, source)
    lines = list(given_words(supplies, load))
    sys.stdout.write(
        (json.dumps({"schema": 1, "lines": lines}, ensure_ascii=False) if options.json else "\n".join(lines))
        + "\n"
    )
    return 0
