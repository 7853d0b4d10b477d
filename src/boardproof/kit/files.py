"""Files: the only place that reads or writes them, with limits, whole or not at all, never over a person's work.

A lesson's folder may hold anything; what can't be read is a finding about that one file, and the rest goes on.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import secrets
import stat
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path, PurePosixPath
from types import MappingProxyType
from typing import Final

from boardproof.findings import Finding, near_names
from boardproof.kit.kinds import found_in
from boardproof.lesson.course import Course, read_course
from boardproof.record import record
from boardproof.source import Source, Span

__all__ = [
    "LEDGER",
    "CourseFolder",
    "Ledger",
    "read_content",
    "read_folder",
    "read_ledger",
    "read_source",
    "save_source",
    "write_kit",
    "write_whole",
]

MOST_BYTES: Final = 2_000_000
MOST_FILES: Final = 500
LEDGER: Final = "kit.json"
LESSON: Final = ".lesson.md"
CIRCUIT: Final = ".circuit"


@record
class CourseFolder:
    """A course as it stands on disk.

    Parameters
    ----------
    root : Path
        The folder.
    course : Course
        Its settings; the usual ones if there is no ``course.toml``.
    lessons : tuple of Source
        In teaching order, then those outside the order by name; only the one asked for if a file was named.
    circuits : mapping of str to Source
        ``*.circuit`` files by name without the ending.
    settings : Source or None
        Text of ``course.toml``, if there is one.
    """

    root: Path
    course: Course
    lessons: tuple[Source, ...]
    circuits: Mapping[str, Source]
    settings: Source | None = None


def read_content(
    path: Path, *, name: str, max_bytes: int = MOST_BYTES
) -> tuple[bytes | None, tuple[Finding, ...]]:
    """Read a file's bytes, as for a spreadsheet.

    Parameters
    ----------
    path : Path
        The file.
    name : str
        What to call it.
    max_bytes : int
        The largest size that is read.

    Examples
    --------
    >>> read_content(Path("no-such.xlsx"), name="no-such.xlsx")[1][0].kind.code
    'missing-file'
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return None, (found_in("unread-file", name, reason="it is not an ordinary file"),)
        with path.open("rb") as file:
            content = file.read(max_bytes + 1)
    except (FileNotFoundError, NotADirectoryError):
        near = near_names(path.name, _names(path.parent))
        return None, (found_in("missing-file", name, **({"near": " or ".join(near)} if near else {})),)
    except (OSError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or "its name can't be used"
        return None, (found_in("unread-file", name, reason=reason[:1].lower() + reason[1:]),)
    if len(content) > max_bytes:
        return None, (found_in("too-large", name, limit=f"{max_bytes / 1e6:g} MB"),)
    return content, ()


def read_source(
    path: Path, *, name: str | None = None, max_bytes: int = MOST_BYTES
) -> tuple[Source | None, tuple[Finding, ...]]:
    """Read a text file as it stands: byte order mark and line ends are kept.

    Parameters
    ----------
    path : Path
        The file.
    name : str, optional
        What to call it; its own name if nothing is said.
    max_bytes : int
        The largest size that is read.

    Returns
    -------
    (Source or None, tuple of Finding)
        ``missing-file``, ``too-large``, ``foreign-encoding`` or ``unread-file`` if it is None.

    Examples
    --------
    >>> read_source(Path("no-such.lesson.md"))[1][0].kind.code
    'missing-file'
    """
    name = path.name if name is None else name
    content, found = read_content(path, name=name, max_bytes=max_bytes)
    if content is None:
        return None, found
    try:
        return Source(name, content.decode("utf-8")), ()
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        where = f"byte {fault.start + 1}, in line {line}, fits nothing"
        return None, (found_in("foreign-encoding", name, where=where),)


def _names(folder: Path) -> tuple[str, ...]:
    try:
        return tuple(sorted(entry.name for entry in folder.iterdir() if not entry.name.startswith(".")))
    except (OSError, ValueError):
        return ()


def _inside(root: Path, path: Path) -> bool:
    try:
        return path.resolve().is_relative_to(root.resolve())
    except (OSError, ValueError):  # no name of a file at all: it is told when it is read
        return True


def read_folder(path: Path, *, max_bytes: int = MOST_BYTES) -> tuple[CourseFolder, tuple[Finding, ...]]:
    """Read a course folder, or one lesson together with the settings and circuits that stand beside it.

    Parameters
    ----------
    path : Path
        A folder, or a ``*.lesson.md`` file.
    max_bytes : int
        The largest size of one file.

    Returns
    -------
    (CourseFolder, tuple of Finding)
        What could be read, and what could not.
    """
    one = None if path.is_dir() else path
    root = path if one is None else path.parent
    names = _names(root)
    course = Course()
    settings: Source | None = None
    found: tuple[Finding, ...] = ()
    if "course.toml" in names:
        settings, found = read_source(root / "course.toml", max_bytes=max_bytes)
        if settings is not None:
            course, more = read_course(settings)
            found += more
    if one is None:
        wanted, more = _order(course, names, settings)
        found += more
    else:
        wanted = [one.name]
    lessons, more = _sources(root, wanted, max_bytes)
    circuits, others = _sources(root, [name for name in names if name.endswith(CIRCUIT)], max_bytes)
    by_name = MappingProxyType({source.name.removesuffix(CIRCUIT): source for source in circuits})
    return CourseFolder(root, course, tuple(lessons), by_name, settings), (*found, *more, *others)


def _order(
    course: Course, names: tuple[str, ...], settings: Source | None
) -> tuple[list[str], tuple[Finding, ...]]:
    """File names in teaching order, and what the order and the folder do not have in common."""
    there = {name.removesuffix(LESSON) for name in names if name.endswith(LESSON)}
    listed = dict.fromkeys(course.lessons)
    found = []
    for name in listed:
        if name not in there:
            near = near_names(name, there)
            missing = found_in("missing-lesson", name, **({"near": " or ".join(near)} if near else {}))
            found.append(replace(missing, span=_listed(name, settings)))
    rest = sorted(there - set(listed))
    if listed:
        found += [found_in("unlisted-lesson", name + LESSON) for name in rest]
    return [name + LESSON for name in (*listed, *rest) if name in there], tuple(found)


def _listed(name: str, settings: Source | None) -> Span:
    """Where course.toml names a lesson; its beginning if the name is spelled in another way there."""
    text = settings.text if settings else ""
    place = re.search(rf"(?<=[\"']){re.escape(name)}(?=[\"'])", text)
    return Span("course.toml", *(place.span() if place else (0, 0)))


def _sources(root: Path, names: list[str], max_bytes: int) -> tuple[list[Source], tuple[Finding, ...]]:
    sources: list[Source] = []
    found: tuple[Finding, ...] = ()
    for name in names[:MOST_FILES]:
        if not _inside(root, root / name):
            found += (found_in("outside-folder", name),)
            continue
        source, more = read_source(root / name, max_bytes=max_bytes)
        sources += [source] if source is not None else []
        found += more
    if len(names) > MOST_FILES:
        found += (found_in("too-large", root.name, limit=f"{MOST_FILES} files of a kind"),)
    return sources, found


def write_whole(path: Path, content: bytes) -> None:
    """Write a file whole or not at all: whoever reads it sees the old one or the new one.

    Parameters
    ----------
    path : Path
        The file; its folder is made if it is missing.
    content : bytes
        All of it.

    Raises
    ------
    OSError
        If the disk refuses; the old file is then untouched.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     write_whole(Path(folder) / "a.txt", b"whole")
    ...     (Path(folder) / "a.txt").read_text()
    'whole'
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        with part.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def save_source(path: Path, source: Source, *, base: str) -> tuple[Finding, ...]:
    """Save a teacher's text, unless the file was changed by something else since it was read.

    Parameters
    ----------
    path : Path
        The file.
    source : Source
        The new text.
    base : str
        `Source.sha256` of the text that was read; "" for a new file.

    Returns
    -------
    tuple of Finding
        ``changed-meanwhile`` (nothing was saved) or empty.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder) / "one.lesson.md"
    ...     new = save_source(path, Source(path.name, "# One"), base="")
    ...     again = save_source(path, Source(path.name, "# Two"), base="")
    >>> new, [each.kind.code for each in again]
    ((), ['changed-meanwhile'])
    """
    now = hashlib.sha256(path.read_bytes()).hexdigest() if path.exists() else ""
    if now != base:
        return (found_in("changed-meanwhile", source.name),)
    write_whole(path, source.text.encode("utf-8"))
    return ()


@dataclass(frozen=True, slots=True)
class Ledger:
    """What the last run made in a folder: each file with its SHA-256, the tool's version, the day, draft or not."""

    version: str = ""
    made: str = ""
    draft: bool = False
    files: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


def read_ledger(folder: Path) -> Ledger | None:
    """Read a kit's ``kit.json``; an empty ledger if there is none, None if it is not one of ours.

    Parameters
    ----------
    folder : Path
        The kit's folder.

    Examples
    --------
    >>> read_ledger(Path("no-such-folder")).files
    mappingproxy({})
    """
    if not (folder / LEDGER).exists():
        return Ledger()
    source, _ = read_source(folder / LEDGER)
    try:
        given = json.loads(source.text) if source is not None else None
    except (ValueError, RecursionError):
        return None
    match given:
        case {
            "schema": 1,
            "version": str(version),
            "made": str(made),
            "draft": bool(draft),
            "files": dict(files),
        }:
            if all(isinstance(sha, str) for sha in files.values()):
                return Ledger(version, made, draft, MappingProxyType(files))
    return None


def write_kit(
    folder: Path, files: Mapping[str, bytes], *, version: str, made: str, draft: bool
) -> tuple[Finding, ...]:
    """Write made files and their ledger; if one of them would overwrite a person's work, write none.

    Parameters
    ----------
    folder : Path
        The kit's folder.
    files : mapping of str to bytes
        Plain relative names (with ``/``) and contents.
    version, made : str
        The tool's version and the day, for the ledger.
    draft : bool
        Whether the kit is a draft.

    Returns
    -------
    tuple of Finding
        ``foreign-file`` and ``outside-folder`` for each refused file; empty if all were written.

    Raises
    ------
    ValueError
        If a name is not a plain relative one; only our own code names files.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     write_kit(Path(folder), {"a.txt": b"x"}, version="0.1.0", made="2026-01-05", draft=False)
    ...     sorted(path.name for path in Path(folder).iterdir())
    ()
    ['a.txt', 'kit.json']
    """
    ledger = read_ledger(folder)
    if ledger is None:
        return (found_in("foreign-file", LEDGER),)
    refused = tuple(fault for name in files if (fault := _refusal(folder, name, ledger)) is not None)
    if refused:
        return refused
    for name, content in files.items():
        write_whole(folder / name, content)
    kept = {name: sha for name, sha in ledger.files.items() if name not in files and _is_plain(name)}
    kept = {name: sha for name, sha in kept.items() if (folder / name).is_file()}
    made_now = {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}
    record = {
        "schema": 1,
        "version": version,
        "made": made,
        "draft": draft,
        "files": dict(sorted({**kept, **made_now}.items())),
    }
    write_whole(folder / LEDGER, (json.dumps(record, ensure_ascii=False, indent=1) + "\n").encode())
    return ()


def _is_plain(name: str) -> bool:
    parts = PurePosixPath(name).parts
    odd = not parts or name.startswith("/") or "\\" in name or ":" in name or "\0" in name
    return not odd and ".." not in parts and name != LEDGER


def _refusal(folder: Path, name: str, ledger: Ledger) -> Finding | None:
    if not _is_plain(name):
        raise ValueError(f"not a plain relative name: {name!r}")
    path = folder / name
    if not _inside(folder, path):
        return found_in("outside-folder", name)
    if not path.exists():
        return None
    same = path.is_file() and hashlib.sha256(path.read_bytes()).hexdigest() == ledger.files.get(name)
    return None if same else found_in("foreign-file", name)
