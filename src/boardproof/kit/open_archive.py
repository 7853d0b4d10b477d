"""The `open` job: unpack what a colleague handed over beside one's own, and prove it again here."""

from __future__ import annotations

import hashlib
import io
import json
import re
import sys
import zipfile
from argparse import Namespace
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from boardproof.kit.check import check_file
from boardproof.kit.files import read_content, write_whole
from boardproof.kit.hand_over import MOST_BYTES, MOST_ENTRIES, RECORD
from boardproof.kit.report import CheckReport, in_short, visible

__all__ = ["differences", "run", "unpacked"]

NAME: Final = re.compile(
    r"(?:\.boardproof/answers\.toml|(?:[^\W_.][\w .-]{0,100}/){0,4}[^\W_.][\w .-]{0,120})"
)


def unpacked(content: bytes) -> dict[str, bytes] | str:
    """The files of an archive, or why it is not opened.

    Parameters
    ----------
    content : bytes
        The archive.

    Examples
    --------
    >>> unpacked(b"no archive")
    'This is no archive that was handed over.'
    """
    try:
        return _read(zipfile.ZipFile(io.BytesIO(content)))
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, ValueError, EOFError, OSError):
        return "This is no archive that was handed over."


def _read(packed: zipfile.ZipFile) -> dict[str, bytes] | str:
    entries = packed.infolist()
    if len(entries) > MOST_ENTRIES or sum(each.file_size for each in entries) > MOST_BYTES:
        return f"It holds more than {MOST_ENTRIES} files or {MOST_BYTES // 10**6} MB, so it is not opened."
    files: dict[str, bytes] = {}
    left = MOST_BYTES
    for each in entries:
        is_link = (each.external_attr >> 16) & 0o170000 == 0o120000
        if not NAME.fullmatch(each.filename) or ".." in each.filename or is_link or each.filename in files:
            return f"It holds a file whose name is not plain, so it is not opened ({visible(each.filename)[:80]})."
        with packed.open(each) as file:
            files[each.filename] = file.read(left + 1)
        left -= len(files[each.filename])
        if left < 0:
            return f"It holds more than {MOST_BYTES // 10**6} MB, so it is not opened."
    told = json.loads(files.get(RECORD, b"null"))
    sums = told.get("files") if isinstance(told, dict) and told.get("schema") == 1 else None
    if not isinstance(sums, dict) or set(sums) != set(files) - {RECORD}:
        return "This is no archive that was handed over."
    changed = [name for name, sha in sums.items() if hashlib.sha256(files[name]).hexdigest() != sha]
    return f"{changed[0]} was changed after it was handed over." if changed else files


def differences(sent: Mapping[str, Any], report: CheckReport) -> tuple[str, ...]:
    """Statements whose verdict is another one here than at the sender's.

    Parameters
    ----------
    sent : mapping
        The sender's report of the lesson.
    report : CheckReport
        Ours.
    """
    given = sent.get("statements")
    there = (
        {each.get("key"): each.get("verdict") for each in given if isinstance(each, dict)}
        if isinstance(given, list)
        else {}
    )
    return tuple(
        f"line {report.source.position(each.said.span.start)[0]}: {' '.join(each.said.text.split())}: "
        f"{there.get(each.said.key) or 'not judged'} there, {each.verdict.kind} here"
        for each in report.judged
        if there.get(each.said.key) != each.verdict.kind
    )


def run(options: Namespace) -> int:
    """Open the archive that the command line names, in a folder of its own.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0, 1 if the proof differs here, 2 if it was not opened.
    """
    archive: Path = options.archive
    content, found = read_content(archive, name=archive.name, max_bytes=MOST_BYTES)
    files = in_short(found[0]) if content is None else unpacked(content)
    to = options.to or archive.with_name(archive.name.removesuffix(".zip").removesuffix(".hand-over"))
    if isinstance(files, str) or to.exists():
        words = (
            files if isinstance(files, str) else f"{to} is there already. Choose another folder with --to."
        )
        sys.stderr.write(words + "\n")
        return 2
    for name, each in files.items():
        write_whole(to / name, each)
    sent = json.loads(files[RECORD]).get("proof")
    differ: dict[str, tuple[str, ...]] = {}
    for report in check_file(to):
        theirs = sent.get(report.source.name) if isinstance(sent, dict) else None
        differ[report.source.name] = differences(theirs if isinstance(theirs, dict) else {}, report)
    _tell(options, to, differ)
    return 1 if any(differ.values()) else 0


def _tell(options: Namespace, to: Path, differ: Mapping[str, tuple[str, ...]]) -> None:
    if options.json:
        sys.stdout.write(
            json.dumps({"schema": 1, "folder": str(to), "differs": differ}, ensure_ascii=False) + "\n"
        )
        return
    for name, lines in differ.items():
        if lines or not options.quiet:
            sys.stdout.write(
                visible(f"{name}: {'proved again, as it was sent' if not lines else 'differs here'}\n")
            )
        sys.stdout.write("".join(f"  {visible(line)}\n" for line in lines))
    if not options.quiet:
        sys.stdout.write(f"Opened in {to}; the sender's proof is in {RECORD}.\n")
