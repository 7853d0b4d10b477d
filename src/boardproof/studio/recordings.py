"""Keeping recordings: what the pages for rehearsing and recording ask of the machine.

Nothing leaves the machine; names from outside are checked before they become paths, sizes before they are kept.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta
from pathlib import Path
from threading import Lock
from typing import Any, Final

from boardproof.kit.takes import (
    Recording,
    append_piece,
    append_rows,
    begin_take,
    chosen_steps,
    grown,
    is_name,
    read_recording,
    take_sound,
    with_step,
    write_recording,
)

__all__ = ["Refused", "Shelf"]

KEPT_DAYS: Final = 365
MOST_ROWS: Final = 2_000
LONGEST: Final = 4 * 3_600_000


class Refused(Exception):
    """Why a request was not carried out, for the page."""


class Shelf:
    """The recordings of a course folder; calls may come from several threads.

    Parameters
    ----------
    root : Path
        The course folder.
    """

    def __init__(self, root: Path) -> None:
        """Look at nothing yet."""
        self.root = root / ".boardproof" / "recordings"
        self._lock = Lock()

    def folder(self, lesson: str, name: str) -> Path:
        """Where a recording stands.

        Parameters
        ----------
        lesson, name : str
            From outside.
        """
        if not is_name(lesson) or not is_name(name):
            raise Refused("That is not the name of a recording.")
        return self.root / lesson / name

    def list(self, lesson: str) -> list[dict[str, Any]]:
        """The recordings of a lesson, newest last.

        Parameters
        ----------
        lesson : str
            Its name.
        """
        if not is_name(lesson):
            raise Refused("That is not the name of a lesson.")
        folders = sorted((self.root / lesson).iterdir()) if (self.root / lesson).is_dir() else []
        return [self._told(each.name, made) for each in folders if (made := read_recording(each)) is not None]

    def begin(self, lesson: str, sha256: str, consent: str, today: date) -> dict[str, Any]:
        """A new recording.

        Parameters
        ----------
        lesson, sha256 : str
            The lesson and its text's hash.
        consent : str
            Who agreed to be heard.
        today : date
            The teacher's own day.
        """
        with self._lock:
            number = 1
            while self.folder(lesson, f"{today.isoformat()}-{number}").exists():
                number += 1
            name = f"{today.isoformat()}-{number}"
            until = (today + timedelta(days=KEPT_DAYS)).isoformat()
            made = Recording(lesson, sha256, today.isoformat(), until, consent[:200])
            write_recording(self.folder(lesson, name), made)
            return self._told(name, made)

    def change(self, lesson: str, name: str, how: Callable[[Recording], Recording]) -> dict[str, Any]:
        """Change what `recording.json` tells.

        Parameters
        ----------
        lesson, name : str
            Which recording.
        how : callable
            Gives the recording as it shall be.
        """
        with self._lock:
            folder = self.folder(lesson, name)
            made = read_recording(folder)
            if made is None:
                raise Refused("There is no such recording.")
            try:
                made = how(made)
            except ValueError as fault:
                raise Refused(f"Not done: {fault}.") from fault
            write_recording(folder, made)
            return self._told(name, made)

    def take(self, lesson: str, name: str, moment: str) -> dict[str, Any]:
        """A new take from a moment on.

        Parameters
        ----------
        lesson, name, moment : str
            Which recording, and key of the moment.
        """
        taken: list[str] = []

        def begun(made: Recording) -> Recording:
            new, take = begin_take(made, moment[:200])
            taken.append(take)
            return new

        return self.change(lesson, name, begun) | {"take": taken[0]}

    def keep(self, lesson: str, name: str, take: str, number: int, ms: int, content: bytes) -> dict[str, Any]:
        """A piece of a take; it is on the disk when this returns.

        Parameters
        ----------
        lesson, name, take : str
            Which take.
        number, ms : int
            The piece's number, and the take's length at its end.
        content : bytes
            As the recorder gave it.
        """
        folder = self.folder(lesson, name)
        made = read_recording(folder)
        if made is None or made.take(take) is None or not 0 <= ms <= LONGEST:
            raise Refused("There is no such take.")
        if not append_piece(folder, take, number, content):
            raise Refused("This piece does not follow the one before it.")
        return self.change(lesson, name, lambda recording: grown(recording, take, ms))

    def note(self, lesson: str, name: str, take: str, told: Mapping[str, Any]) -> dict[str, Any]:
        """Steps, pen and pointer of a take.

        Parameters
        ----------
        lesson, name, take : str
            Which take.
        told : mapping
            ``steps``, ``pen``, ``pointer``: lists of rows.
        """
        folder = self.folder(lesson, name)
        made = read_recording(folder)
        if made is None or made.take(take) is None:
            raise Refused("There is no such take.")
        for layer in ("pen", "pointer"):
            if rows := [_row(each) for each in list(told.get(layer, ()))[:MOST_ROWS]]:
                append_rows(folder, take, layer, rows)
        steps = [
            (str(each["moment"])[:200], int(each["ms"])) for each in list(told.get("steps", ()))[:MOST_ROWS]
        ]

        def stepped(recording: Recording) -> Recording:
            for moment, ms in steps:
                recording = with_step(recording, take, moment, ms)
            return recording

        return self.change(lesson, name, stepped)

    def sound(self, lesson: str, name: str, take: str) -> bytes:
        """What was recorded in a take.

        Parameters
        ----------
        lesson, name, take : str
            Which take.
        """
        folder = self.folder(lesson, name)
        made = read_recording(folder)
        if made is None or made.take(take) is None:
            raise Refused("There is no such take.")
        return take_sound(folder, take)

    def delete(self, lesson: str, name: str) -> None:
        """Take a recording off the machine.

        Parameters
        ----------
        lesson, name : str
            Which.
        """
        folder = self.folder(lesson, name)
        if read_recording(folder) is None:
            raise Refused("There is no such recording.")
        for each in sorted(folder.rglob("*"), reverse=True):
            each.rmdir() if each.is_dir() else each.unlink()
        folder.rmdir()

    def _told(self, name: str, made: Recording) -> dict[str, Any]:
        """A recording as the page reads it."""
        return {
            "id": name,
            "made": made.made,
            "delete_by": made.delete_by,
            "length_ms": made.length_ms,
            "takes": [
                {"id": take.id, "length_ms": take.length_ms, "steps": [list(step) for step in take.steps]}
                for take in made.takes
            ],
            "steps": chosen_steps(made),
            "lesson_sha256": made.lesson_sha256,
        }


def _row(given: object) -> dict[str, float | bool]:
    """One row of pen or pointer: numbers only."""
    if not isinstance(given, dict):
        raise Refused("Rows of pen and pointer hold ms, x and y.")
    try:
        row: dict[str, float | bool] = {key: round(float(given[key]), 2) for key in ("ms", "x", "y")}
    except (KeyError, TypeError, ValueError) as fault:
        raise Refused("Rows of pen and pointer hold ms, x and y.") from fault
    return row | ({"new": True} if given.get("new") is True else {})
