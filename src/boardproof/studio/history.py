"""Every save of every lesson, kept in ``.boardproof/history``; nothing in it is ever changed or taken away."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path
from typing import Final

from boardproof.kit.files import read_source, write_whole
from boardproof.record import record
from boardproof.source import Source

__all__ = ["History", "Kept"]

NAME: Final = re.compile(r"(\d{8})-(\d{6})-(\d{6})-([0-9a-f]{64})\.txt")


@record
class Kept:
    """One save: its file's name, its moment, the hash of its text."""

    name: str
    at: str
    sha256: str


class History:
    """The saves of the lessons of one folder.

    Parameters
    ----------
    folder : Path
        ``.boardproof/history`` of the course.
    """

    def __init__(self, folder: Path) -> None:
        """Keep the folder; it is made with the first save."""
        self.folder = folder
        self._last: dict[str, str] = {}

    def keep(self, lesson: str, source: Source) -> None:
        """Keep a text, unless it is the one kept last.

        Parameters
        ----------
        lesson : str
            Name of the lesson.
        source : Source
            Its text.
        """
        if self._last.get(lesson) is None and (entries := self.entries(lesson)):
            self._last[lesson] = entries[-1].sha256
        if self._last.get(lesson) == source.sha256:
            return
        now = datetime.now()  # noqa: DTZ005 - the teacher's own clock
        name = f"{now:%Y%m%d-%H%M%S-%f}-{source.sha256}.txt"
        write_whole(self.folder / lesson / name, source.text.encode("utf-8", "surrogatepass"))
        self._last[lesson] = source.sha256

    def entries(self, lesson: str) -> tuple[Kept, ...]:
        """All saves of a lesson, the oldest first.

        Parameters
        ----------
        lesson : str
            Its name.
        """
        folder = self.folder / lesson
        names = sorted(path.name for path in folder.iterdir()) if folder.is_dir() else []
        found = [(name, match) for name in names if (match := NAME.fullmatch(name))]
        return tuple(Kept(name, _moment(match[1], match[2]), match[4]) for name, match in found)

    def text(self, lesson: str, name: str) -> str | None:
        """The text of one save; None if there is none of that name.

        Parameters
        ----------
        lesson : str
            Its name.
        name : str
            Of the save's file.
        """
        if not NAME.fullmatch(name):
            return None
        source, _ = read_source(self.folder / lesson / name)
        return None if source is None else source.text

    def by_hash(self, lesson: str, sha256: str) -> str | None:
        """The text with a hash; None if it was never kept.

        Parameters
        ----------
        lesson : str
            Its name.
        sha256 : str
            Of its text.
        """
        kept = [each for each in self.entries(lesson) if each.sha256 == sha256]
        return self.text(lesson, kept[-1].name) if kept else None


def _moment(day: str, time: str) -> str:
    return f"{day[:4]}-{day[4:6]}-{day[6:]} {time[:2]}:{time[2:4]}:{time[4:]}"
