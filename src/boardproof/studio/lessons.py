"""The lessons of a course folder for pages that show one at a time, proved anew when their text has changed."""

from __future__ import annotations

import hashlib
from pathlib import Path
from threading import Lock

from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.kit.takes import is_name
from boardproof.studio.recordings import Refused

__all__ = ["Lessons"]


class Lessons:
    """Proofs by lesson; calls may come from several threads, one proof is made at a time.

    Parameters
    ----------
    root : Path
        The course folder.
    """

    def __init__(self, root: Path) -> None:
        """Read nothing yet."""
        self.root = root
        self._proofs: dict[str, tuple[str, Proof]] = {}
        self._lock = Lock()

    def path(self, lesson: str) -> Path:
        """A lesson's file.

        Parameters
        ----------
        lesson : str
            Its name, from outside.
        """
        path = self.root / f"{lesson}.lesson.md"
        if not is_name(lesson) or not path.is_file():
            raise Refused("There is no such lesson.")
        return path

    def bytes_hash(self, lesson: str) -> str:
        """The hash of a lesson's file as it was when it was proved.

        Parameters
        ----------
        lesson : str
            Its name.
        """
        with self._lock:
            return self._proofs[lesson][0]

    def proof(self, lesson: str) -> Proof:
        """A lesson, proved as its file stands now.

        Parameters
        ----------
        lesson : str
            Its name, from outside.
        """
        path = self.path(lesson)
        with self._lock:
            sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
            known = self._proofs.get(lesson)
            if known is not None and known[0] == sha256:
                return known[1]
            folder, findings, only = open_course(path)
            name = only or path.name
            found = next((each for each in prove_lessons(folder, findings, only=name)), None)
            if found is None:
                raise Refused("This lesson can't be read.")
            self._proofs[lesson] = (sha256, found)
            return found
