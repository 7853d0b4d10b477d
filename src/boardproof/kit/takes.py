"""A recording on disk: takes of at most five-second pieces, the time of each step, pen and pointer.

Pieces are appended as the browser hands them over and forced to the disk, so a crash costs the last one at most; the
pieces of a take, one after the other, are the recorder's own file. Nothing is ever written over: a step that is taken
again is a new take, and the list `chosen` tells which stretch of which take is heard.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final, Literal

from boardproof.kit.files import write_whole
from boardproof.record import record

__all__ = [
    "Chosen",
    "Recording",
    "Take",
    "append_piece",
    "append_rows",
    "begin_take",
    "chosen_steps",
    "grown",
    "is_name",
    "read_recording",
    "take_sound",
    "with_step",
    "write_recording",
]

NAME: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,63}")
LARGEST_PIECE: Final = 4_000_000
MOST_PIECES: Final = 10_000
MOST_TAKES: Final = 500
MOST_STEPS: Final = 2_000


@record
class Take:
    """One unbroken stretch of recording: its name, its length so far, the moments with their times in it."""

    id: str
    length_ms: int = 0
    steps: tuple[tuple[str, int], ...] = ()


@record
class Chosen:
    """A stretch of a take that is heard."""

    take: str
    from_ms: int
    to_ms: int


@record
class Recording:
    """What `recording.json` tells.

    Parameters
    ----------
    lesson, lesson_sha256 : str
        Which lesson, and its text's hash when it was recorded.
    made, delete_by, consent : str
        The day, the day by which it is to be deleted, who agreed to be heard.
    sample_rate : int
        Of the microphone.
    takes : tuple of Take
        In the order in which they were made.
    chosen : tuple of Chosen
        What is heard, in order.
    """

    lesson: str
    lesson_sha256: str
    made: str
    delete_by: str = ""
    consent: str = ""
    sample_rate: int = 48_000
    takes: tuple[Take, ...] = ()
    chosen: tuple[Chosen, ...] = ()

    def take(self, name: str) -> Take | None:
        """The take of a name."""
        return next((each for each in self.takes if each.id == name), None)

    @property
    def length_ms(self) -> int:
        """Of what is heard."""
        return sum(each.to_ms - each.from_ms for each in self.chosen)


def is_name(text: str) -> bool:
    """Whether a text may name a recording or a take.

    Parameters
    ----------
    text : str
        From outside.

    Examples
    --------
    >>> is_name("2026-11-25-1"), is_name("../x")
    (True, False)
    """
    return NAME.fullmatch(text) is not None


def read_recording(folder: Path) -> Recording | None:
    """A recording; None if the folder holds none that can be read.

    Parameters
    ----------
    folder : Path
        ``recordings/LESSON/ID``.

    Examples
    --------
    >>> read_recording(Path("no-such-folder")) is None
    True
    """
    try:
        given = json.loads((folder / "recording.json").read_text(encoding="utf-8"))
        takes = tuple(
            Take(
                str(each["id"]),
                int(each.get("length_ms", 0)),
                tuple((str(step["moment"]), int(step["ms"])) for step in each["steps"]),
            )
            for each in given["takes"]
        )
        chosen = tuple(
            Chosen(str(each["take"]), int(each["from_ms"]), int(each["to_ms"])) for each in given["chosen"]
        )
        made = Recording(
            str(given["lesson"]),
            str(given["lesson_sha256"]),
            str(given["made"]),
            str(given["delete_by"]),
            str(given["consent"]),
            int(given["sample_rate"]),
            takes,
            chosen,
        )
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None
    names = {take.id for take in takes}
    fits = all(is_name(name) for name in names) and all(
        each.take in names and 0 <= each.from_ms <= each.to_ms for each in chosen
    )
    return made if given.get("schema") == 1 and fits else None


def write_recording(folder: Path, recording: Recording) -> None:
    """Write `recording.json`, whole or not at all.

    Parameters
    ----------
    folder : Path
        ``recordings/LESSON/ID``.
    recording : Recording
        What it shall tell.
    """
    told = {
        "schema": 1,
        "lesson": recording.lesson,
        "lesson_sha256": recording.lesson_sha256,
        "made": recording.made,
        "delete_by": recording.delete_by,
        "consent": recording.consent,
        "sample_rate": recording.sample_rate,
        "takes": [
            {
                "id": take.id,
                "length_ms": take.length_ms,
                "pieces": [path.name for path in _pieces(folder, take.id)],
                "steps": [{"moment": moment, "ms": ms} for moment, ms in take.steps],
            }
            for take in recording.takes
        ],
        "chosen": [
            {"take": each.take, "from_ms": each.from_ms, "to_ms": each.to_ms} for each in recording.chosen
        ],
    }
    write_whole(folder / "recording.json", (json.dumps(told, ensure_ascii=False, indent=1) + "\n").encode())


def begin_take(recording: Recording, moment: str, length_ms: int = 0) -> tuple[Recording, str]:
    """A new take that begins at a moment; what was chosen from there on is heard no more.

    Parameters
    ----------
    recording : Recording
        So far.
    moment : str
        Key of the moment at which it begins; one that was not reached yet goes behind everything.
    length_ms : int
        Of the take, if it is known already.

    Returns
    -------
    (Recording, str)
        With the take, and the take's name.

    Examples
    --------
    >>> new, first = begin_take(Recording("a", "", "2026-11-25"), "1-scene-0")
    >>> new = grown(with_step(grown(new, first, 4000), first, "1-move-1", 2500), first, 9000)
    >>> again, second = begin_take(new, "1-move-1", 3000)
    >>> [(each.take, each.from_ms, each.to_ms) for each in again.chosen]
    [('01', 0, 2500), ('02', 0, 3000)]
    """
    if len(recording.takes) >= MOST_TAKES:
        raise ValueError("too many takes")
    name = f"{len(recording.takes) + 1:02}"
    kept: list[Chosen] = []
    for each in recording.chosen:
        take = recording.take(each.take)
        cut = next(
            (
                ms
                for key, ms in (take.steps if take else ())
                if key == moment and each.from_ms <= ms <= each.to_ms
            ),
            None,
        )
        if cut is not None:
            kept.append(replace(each, to_ms=cut))
            break
        kept.append(each)
    chosen = (*(each for each in kept if each.to_ms > each.from_ms), Chosen(name, 0, length_ms))
    take = Take(name, length_ms, ((moment, 0),))
    return replace(recording, takes=(*recording.takes, take), chosen=chosen), name


def with_step(recording: Recording, name: str, moment: str, ms: int) -> Recording:
    """The same recording, in which a take has reached a moment.

    Parameters
    ----------
    recording : Recording
        So far.
    name : str
        The take.
    moment : str
        Key of the moment.
    ms : int
        Since the take's first sample.
    """
    takes = tuple(
        replace(each, steps=tuple(sorted({*each.steps, (moment, max(0, ms))}, key=lambda step: step[1])))
        if each.id == name and len(each.steps) < MOST_STEPS
        else each
        for each in recording.takes
    )
    return replace(recording, takes=takes)


def grown(recording: Recording, name: str, length_ms: int) -> Recording:
    """The same recording, in which a take has become longer.

    Parameters
    ----------
    recording : Recording
        So far.
    name : str
        The take.
    length_ms : int
        Its length now.
    """
    takes = tuple(
        replace(each, length_ms=max(each.length_ms, length_ms)) if each.id == name else each
        for each in recording.takes
    )
    chosen = recording.chosen
    if chosen and chosen[-1].take == name:
        chosen = (*chosen[:-1], replace(chosen[-1], to_ms=max(chosen[-1].to_ms, length_ms)))
    return replace(recording, takes=takes, chosen=chosen)


def append_piece(folder: Path, name: str, number: int, content: bytes) -> bool:
    """Keep a piece of a take; it is on the disk when this returns.

    Parameters
    ----------
    folder : Path
        ``recordings/LESSON/ID``.
    name : str
        The take.
    number : int
        From 1, without gaps; a piece that is sent twice is kept once.
    content : bytes
        As the recorder gave it.

    Returns
    -------
    bool
        False if it comes out of turn, is too large, or differs from what is there.
    """
    if not is_name(name) or not 0 < number <= MOST_PIECES or not 0 < len(content) <= LARGEST_PIECE:
        return False
    path = folder / name / f"{number:04}.webm"
    if path.exists():
        return path.read_bytes() == content
    if len(_pieces(folder, name)) != number - 1:
        return False
    write_whole(path, content)
    return True


def append_rows(
    folder: Path, name: str, layer: Literal["pen", "pointer"], rows: Sequence[Mapping[str, float | bool]]
) -> None:
    """Add to the pen or the pointer of a take; it is on the disk when this returns.

    Parameters
    ----------
    folder : Path
        ``recordings/LESSON/ID``.
    name : str
        The take.
    layer : {"pen", "pointer"}
        Which.
    rows : sequence of mapping
        ``ms, x, y`` in u, and for the pen ``new`` where a stroke begins.
    """
    if not is_name(name):
        raise ValueError("not a name of a take")
    path = folder / name / f"{layer}.jsonl"
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a", encoding="utf-8") as file:
        file.writelines(json.dumps(dict(row)) + "\n" for row in rows)
        file.flush()
        os.fsync(file.fileno())


def take_sound(folder: Path, name: str) -> bytes:
    """The recorder's own file of a take, as far as it came.

    Parameters
    ----------
    folder : Path
        ``recordings/LESSON/ID``.
    name : str
        The take.
    """
    return b"".join(path.read_bytes() for path in _pieces(folder, name))


def _pieces(folder: Path, name: str) -> list[Path]:
    """Pieces of a take without a gap; what lies behind one can't be read."""
    found = []
    for number in range(1, MOST_PIECES + 1):
        path = folder / name / f"{number:04}.webm"
        if not path.is_file():
            break
        found.append(path)
    return found


def chosen_steps(recording: Recording) -> dict[str, int]:
    """When each moment begins in what is heard.

    Parameters
    ----------
    recording : Recording
        With its takes.

    Examples
    --------
    >>> new, name = begin_take(Recording("a", "", "2026-11-25"), "1-scene-0")
    >>> chosen_steps(grown(with_step(new, name, "1-move-1", 700), name, 900))
    {'1-scene-0': 0, '1-move-1': 700}
    """
    found: dict[str, int] = {}
    before = 0
    for each in recording.chosen:
        take = recording.take(each.take)
        for moment, ms in take.steps if take else ():
            if each.from_ms <= ms < each.to_ms:
                found[moment] = before + ms - each.from_ms
        before += each.to_ms - each.from_ms
    return found
