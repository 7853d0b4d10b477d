"""A lesson as the pictures of a film: which board stands from which frame on, scene by scene.

The board changes by fading from one picture to the next; between changes it stands still and costs nothing. Captions
that are burned in change at once.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from boardproof.lesson.captions import Cue
from boardproof.picture.drawing import Frame
from boardproof.publish.captions import LINE, caption_lines
from boardproof.publish.raster import Raster
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.publish.video import RATE
from boardproof.record import record

if TYPE_CHECKING:
    from boardproof.publish.video import Pixels

__all__ = ["Scene", "Shot", "film_scenes", "frame_number", "pictures_of"]

FADE: Final = 7  # frames: 240 ms


@record
class Shot:
    """A board that stands from a frame on, counted from the beginning of its scene; `fades` if it comes slowly."""

    at: int
    board: Frame
    fades: bool


@record
class Scene:
    """A stretch of film that is coded as one piece.

    Parameters
    ----------
    number : int
        Of the scene.
    frames : int
        How long it is.
    shots : tuple of Shot
        Its boards.
    before : Frame or None
        What stood on the board before it.
    """

    number: int
    frames: int
    shots: tuple[Shot, ...]
    before: Frame | None

    def fingerprint(self, typesetter: Typesetter) -> str:
        """Equal for scenes that look alike, frame by frame."""
        told = [self.frames, [(shot.at, shot.fades) for shot in self.shots]]
        boards = [each for each in (self.before, *(shot.board for shot in self.shots)) if each is not None]
        drawn = "\n".join(frame_svg(each, typesetter, "paper", captions=True) for each in boards)
        return hashlib.sha256(f"{told}\n{drawn}".encode()).hexdigest()[:16]


def frame_number(milliseconds: int) -> int:
    """The frame that is shown from a time on.

    Parameters
    ----------
    milliseconds : int
        From the beginning.

    Examples
    --------
    >>> frame_number(1000), frame_number(1010)
    (30, 30)
    """
    return round(milliseconds * RATE / 1000)


def film_scenes(
    entries: Sequence[tuple[str, int, int]],
    boards: Mapping[str, Frame],
    scene_of: Mapping[str, int],
    captions: Sequence[Cue] = (),
) -> tuple[Scene, ...]:
    """The film of a lesson.

    Parameters
    ----------
    entries : sequence of (str, int, int)
        Key, beginning and end of each moment in milliseconds.
    boards : mapping of str to Frame
        The board of each moment.
    scene_of : mapping of str to int
        The scene of each moment.
    captions : sequence of Cue
        To be burned in.
    """
    changes = {frame_number(cue.start): caption_lines(cue.text, LINE)[:2] for cue in captions}
    for cue in captions:
        changes.setdefault(frame_number(cue.end), ())
    scenes: list[Scene] = []
    before: Frame | None = None
    lines: tuple[str, ...] = ()
    for number in dict.fromkeys(scene_of[key] for key, _, _ in entries):
        mine = [entry for entry in entries if scene_of[entry[0]] == number]
        first, last = frame_number(mine[0][1]), frame_number(mine[-1][2])
        if last <= first:
            continue
        starts = {
            frame_number(start): key for key, start, end in mine if frame_number(end) > frame_number(start)
        }
        shots: list[Shot] = []
        board = boards[starts.get(first, mine[0][0])]
        for at in sorted({first, *starts, *(time for time in changes if first <= time < last)}):
            fades = (at in starts and boards[starts[at]] != board) or (at == first and before is not None)
            board = boards[starts[at]] if at in starts else board
            lines = changes.get(at, lines)
            shots.append(Shot(at - first, replace(board, caption=lines), fades))
        scenes.append(Scene(number, last - first, tuple(shots), before))
        before = shots[-1].board
    return tuple(scenes)


def pictures_of(scene: Scene, raster: Raster) -> Iterator[tuple[int, Pixels]]:
    """Each new picture of a scene with the number of its frame.

    Parameters
    ----------
    scene : Scene
        What is shown when.
    raster : Raster
        Draws it.
    """
    last = raster.draw(scene.before) if scene.before is not None else None
    ends = [*(shot.at for shot in scene.shots[1:]), scene.frames]
    for shot, end in zip(scene.shots, ends, strict=True):
        made = raster.draw(shot.board)
        steps = min(FADE, end - shot.at - 1) if shot.fades and last is not None else 0
        for step in range(steps):
            assert last is not None
            yield shot.at + step, _between(last, made, (step + 1) / (steps + 1))
        yield shot.at + steps, made
        last = made


def _between(last: Pixels, made: Pixels, share: float) -> Pixels:
    """A picture on its way into the next; only where they differ is anything mixed."""
    import numpy as np  # slow to load

    rows = np.flatnonzero((last != made).any(axis=(1, 2)))
    mixed = made.copy()
    if len(rows):
        part = slice(rows[0], rows[-1] + 1)
        whole = round(256 * share)
        mixed[part] = (
            (last[part].astype(np.uint16) * (256 - whole) + made[part].astype(np.uint16) * whole) >> 8
        ).astype(np.uint8)
    return mixed
