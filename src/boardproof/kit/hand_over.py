"""The `hand-over` job: one archive with lessons, circuits, settings, kits and proofs, and nobody's answers.

A colleague opens it with `boardproof open`; whoever has not the tool can still print and play what is in ``kits``.
"""

from __future__ import annotations

import hashlib
import io
import json
import sys
import zipfile
from argparse import Namespace
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from boardproof import __version__
from boardproof.kit.files import read_content, write_whole
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.report import in_short, json_report

__all__ = ["MOST_BYTES", "MOST_ENTRIES", "RECORD", "archive", "run"]

RECORD: Final = "hand-over.json"
MOST_BYTES, MOST_ENTRIES = 200_000_000, 2_000
WHEN: Final = (1980, 1, 1, 0, 0, 0)  # the same files, the same bytes
TABLES: Final = (".circuit", ".csv", ".xlsx", ".tsv")


def archive(files: Mapping[str, bytes], reports: Mapping[str, object], *, licence: str) -> bytes:
    """The archive's bytes; the same files give the same bytes.

    Parameters
    ----------
    files : mapping of str to bytes
        By their plain relative names.
    reports : mapping of str to object
        The sender's proof of each lesson, as `check --json` prints it.
    licence : str
        As the course says it.

    Examples
    --------
    >>> made = archive({"a.lesson.md": b"# A"}, {}, licence="CC BY 4.0")
    >>> sorted(zipfile.ZipFile(io.BytesIO(made)).namelist())
    ['a.lesson.md', 'hand-over.json']
    """
    sums = {name: hashlib.sha256(content).hexdigest() for name, content in sorted(files.items())}
    told = {"schema": 1, "tool": __version__, "licence": licence, "files": sums, "proof": dict(reports)}
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as made:
        record = (json.dumps(told, ensure_ascii=False, indent=1) + "\n").encode()
        for name, content in [*sorted(files.items()), (RECORD, record)]:
            made.writestr(zipfile.ZipInfo(name, WHEN), content, zipfile.ZIP_DEFLATED)
    return whole.getvalue()


def _gathered(root: Path, lessons: list[str]) -> dict[str, bytes] | str:
    """What goes along, by name; recordings, answers and names of students never do."""
    beside = [path for path in root.iterdir() if path.name == "course.toml" or path.suffix in TABLES]
    beside += [root / name for name in lessons] + [root / ".boardproof" / "answers.toml"]
    for name in lessons:
        kit = root / "kits" / name.removesuffix(".lesson.md")
        beside += [
            path for path in kit.rglob("*") if "papers" not in path.parts and "marks" not in path.parts
        ]
    files: dict[str, bytes] = {}
    for path in beside:
        if not path.is_file() or not path.resolve().is_relative_to(root.resolve()):
            continue
        name = path.relative_to(root).as_posix()
        content, found = read_content(path, name=name, max_bytes=MOST_BYTES)
        if content is None:
            return in_short(found[0])
        files[name] = content
        if len(files) > MOST_ENTRIES or sum(map(len, files.values())) > MOST_BYTES:
            return f"This is more than {MOST_ENTRIES} files or {MOST_BYTES // 10**6} MB. Hand over single lessons."
    return files


def run(options: Namespace) -> int:
    """Write the archive of what the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0, 1 if a statement is wrong (it is handed over all the same), 2 if it was not done.
    """
    folder, findings, only = open_course(options.file)
    if not folder.lessons:
        words = [in_short(each) for each in findings] or [f"There is no lesson in {options.file}."]
        sys.stderr.write("\n".join(words) + "\n")
        return 2
    proofs = list(prove_lessons(folder, findings, only=only))
    files = _gathered(folder.root, [proof.lesson.source.name for proof in proofs])
    if isinstance(files, str):
        sys.stderr.write(files + "\n")
        return 2
    name = (only or folder.root.resolve().name).removesuffix(".lesson.md")
    to = options.to or folder.root / f"{name}.hand-over.zip"
    if to.exists() and not zipfile.is_zipfile(to):
        sys.stderr.write(f"{to} is there already and is no archive. Choose another name with --to.\n")
        return 2
    reports = {proof.lesson.source.name: json.loads(json_report(proof.report)) for proof in proofs}
    write_whole(to, archive(files, reports, licence=folder.course.licence))
    if options.json:
        sys.stdout.write(
            json.dumps({"schema": 1, "file": str(to), "files": sorted(files)}, ensure_ascii=False) + "\n"
        )
    elif not options.quiet:
        sys.stdout.write(f"{to}: {len(files)} files, nobody's answers among them.\n")
    return 1 if any(proof.report.has_errors for proof in proofs) else 0
