"""The course as the Choose page shows it; made in the worker."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from boardproof.kit.course import course_ledger, drawn
from boardproof.kit.files import read_folder, read_ledger
from boardproof.publish.web import Html

__all__ = ["course"]


def course(root: str) -> dict[str, Any]:
    """Lessons in order, what each leans on, and whether its kit is still that of its text.

    Parameters
    ----------
    root : str
        The folder.

    Returns
    -------
    dict
        Plain values for the template.
    """
    folder, _ = read_folder(Path(root))
    ledger = course_ledger(folder)
    rows = [
        {
            "name": source.name.removesuffix(".lesson.md"),
            "title": one.title,
            "leans": list(dict.fromkeys(use.name for use in one.uses)),
            "establishes": list(dict.fromkeys(found.name for found in one.results)),
            "state": _state(Path(root), source.name.removesuffix(".lesson.md"), source.sha256),
        }
        for source, one in zip(folder.lessons, ledger.lessons, strict=True)
    ]
    return {
        "title": folder.course.title,
        "lessons": rows,
        "order": Html(drawn(ledger)) if len(rows) > 1 else "",
    }


def _state(root: Path, name: str, sha256: str) -> str:
    kit = root / "kits" / name
    ledger = read_ledger(kit)
    if ledger is None or not ledger.files:
        return "not built yet"
    mark = kit / "proof.json"
    text = mark.read_text(encoding="utf-8", errors="replace") if mark.is_file() else ""
    if sha256 not in text:
        return "changed since it was built"
    return "draft built" if ledger.draft else f"proved, built {ledger.made}"
