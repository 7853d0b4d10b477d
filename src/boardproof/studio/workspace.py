"""The folder that the studio works in: which lessons there are, their texts, and saving without losing anything.

A save that meets another change on disk is put together with it, or both are given back to be looked at side by side;
either way the text is kept in the history first.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final, Literal

from boardproof.kit.files import read_folder, read_source, save_source
from boardproof.record import record
from boardproof.source import Source
from boardproof.studio.history import History
from boardproof.studio.merging import merged

__all__ = ["NotHere", "Saved", "Workspace"]

PLAIN: Final = re.compile(r"[^\W_][\w .-]{0,80}")
ENDING: Final = ".lesson.md"


class NotHere(ValueError):
    """There is no such lesson or file in this folder, or it must not be touched."""


@record
class Saved:
    """What became of a save: kept as it was sent, put together with another change, or set beside it."""

    kind: Literal["saved", "merged", "conflict"]
    text: str
    sha256: str


class Workspace:
    """Lessons of one folder.

    Parameters
    ----------
    root : Path
        The folder; nothing outside it is read or written.
    """

    def __init__(self, root: Path) -> None:
        """Find the folder."""
        self.root = root.resolve()
        self.history = History(self.root / ".boardproof" / "history")

    def inside(self, *parts: str) -> Path:
        """A path in the folder.

        Parameters
        ----------
        *parts : str
            Plain names.

        Raises
        ------
        NotHere
            If it would leave the folder, by its name or by a symbolic link.
        """
        for part in parts:
            if not part or part in {".", ".."} or any(sign in part for sign in '/\\:\0<>"|?*'):
                raise NotHere(part)
        path = self.root.joinpath(*parts)
        try:
            resolved = path.resolve()
        except (OSError, RuntimeError, ValueError) as fault:
            raise NotHere(str(parts)) from fault
        if not resolved.is_relative_to(self.root):
            raise NotHere(str(parts))
        return path

    def path_of(self, lesson: str) -> Path:
        """The file of a lesson, whether or not it is there yet.

        Parameters
        ----------
        lesson : str
            Its name without the ending.
        """
        if not PLAIN.fullmatch(lesson) or lesson.endswith((".", " ")):
            raise NotHere(lesson)
        self.inside(".boardproof", "history", lesson)
        path = self.inside(lesson + ENDING)
        if path.is_symlink():
            raise NotHere(lesson)
        return path

    def lessons(self) -> tuple[str, ...]:
        """Names of the lessons in teaching order."""
        folder, _ = read_folder(self.root)
        names = (source.name.removesuffix(ENDING) for source in folder.lessons)
        return tuple(name for name in names if PLAIN.fullmatch(name))

    def read(self, lesson: str) -> Source:
        """A lesson's text; what was written by something else goes into the history too.

        Parameters
        ----------
        lesson : str
            Its name.
        """
        source, _ = read_source(self.path_of(lesson))
        if source is None:
            raise NotHere(lesson)
        self.history.keep(lesson, source)
        return source

    def save(self, lesson: str, text: str, *, base: str) -> Saved:
        """Save a text that was written upon another.

        Parameters
        ----------
        lesson : str
            Its name.
        text : str
            The new text.
        base : str
            Hash of the text it was written upon; "" for a new lesson.
        """
        path = self.path_of(lesson)
        mine = Source(path.name, text)
        if not path.exists() and base == "":
            save_source(path, mine, base="")
            self.history.keep(lesson, mine)
            return Saved("saved", text, mine.sha256)
        theirs = self.read(lesson)
        self.history.keep(lesson, mine)
        if theirs.sha256 in (base, mine.sha256):
            return self._written(lesson, path, mine, theirs, "saved")
        began = self.history.by_hash(lesson, base)
        both = None if began is None else merged(began, text, theirs.text)
        if both is None:
            return Saved("conflict", theirs.text, theirs.sha256)
        return self._written(lesson, path, Source(path.name, both), theirs, "merged")

    def _written(
        self, lesson: str, path: Path, new: Source, old: Source, kind: Literal["saved", "merged"]
    ) -> Saved:
        if new.sha256 != old.sha256 and save_source(path, new, base=old.sha256):
            now = self.read(lesson)  # changed in this very moment
            return Saved("conflict", now.text, now.sha256)
        self.history.keep(lesson, new)
        return Saved(kind, new.text, new.sha256)
