"""The `build` job: a proved lesson becomes a kit."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from functools import partial
from pathlib import Path
from typing import cast

from boardproof import __version__
from boardproof.findings import Finding
from boardproof.kit.deadline import deadline
from boardproof.kit.files import write_kit
from boardproof.kit.outputs import OUTPUTS, THEMES, Built, Wanted, make_outputs
from boardproof.kit.progress import Progress
from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.kit.report import in_short, text_report
from boardproof.publish.palette import Theme

__all__ = ["run"]


def run(options: Namespace) -> int:
    """Build what the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    folder, findings, one = open_course(options.file)
    if not folder.lessons:
        return _nothing(findings, options.file)
    only, themes = (_words(each) for each in (options.only, options.theme))
    for given, known in ((only, OUTPUTS), (themes, THEMES)):
        if unknown := [word for word in given if word not in known]:
            sys.stderr.write(f"I don't know {', '.join(unknown)}. There are: {', '.join(known)}.\n")
            return 2
    wanted = Wanted(
        frozenset(only),
        (options.paper,) if options.paper else ("a4", "letter"),
        cast(tuple[Theme, ...], tuple(themes)) or ("paper",),
        options.png,
    )
    root = options.to or folder.root / "kits"
    status = 0
    names = [one] if one else [source.name for source in folder.lessons]
    steps = len(wanted.names())
    with Progress(len(names) * steps, quiet=options.quiet or options.json) as progress:
        late = deadline(options.limit)
        for proof in prove_lessons(folder, findings, only=one, late=late):
            name = proof.lesson.source.name.removesuffix(".lesson.md")
            if proof.report.is_unfinished:
                progress.say(f"{name}: not built: {late()}. --limit SECONDS gives it more time.")
                progress.skip(steps)
                status = 2
                continue
            if proof.report.has_errors and not options.draft:
                progress.say(text_report(proof.report))
                progress.say(f"{name}: not built. Put it right, or build a draft with --draft.")
                progress.skip(steps)
                status = max(status, 1)
                continue
            built = make_outputs(
                proof,
                wanted,
                made=date.today(),  # noqa: DTZ011 - the teacher's own day
                draft=options.draft,
                step=partial(_told, progress, name),
            )
            status = max(status, _written(built, root / name, proof, progress, draft=options.draft))
    return status


def _told(progress: Progress, lesson: str, output: str) -> None:
    progress.step(f"{lesson}: {output}")


def _words(given: str | None) -> Sequence[str]:
    """Words parted by commas."""
    return [word.strip() for word in (given or "").split(",") if word.strip()]


def _written(built: Built, folder: Path, proof: Proof, progress: Progress, *, draft: bool) -> int:
    refused = write_kit(folder, built.files, version=__version__, made=date.today().isoformat(), draft=draft)  # noqa: DTZ011 - as above
    for each in refused:
        progress.say(in_short(each))
    for name, why in built.failed:
        progress.say(
            f"{folder.name}: {name} could not be made ({why}). This is a fault of the tool; please report it."
        )
    if not refused:
        progress.say(f"{folder.name}: {proof.report.counts_line()} -> {folder}")
    return 2 if refused else 1 if built.failed else 0


def _nothing(findings: tuple[Finding, ...], path: Path) -> int:
    for each in findings:
        sys.stderr.write(in_short(each) + "\n")
    if not findings:
        sys.stderr.write(f"There is no lesson in {path}: lessons are called NAME.lesson.md.\n")
    return 2
