"""The voice of a video: a recording of ours cut to what was chosen, or a sound file made elsewhere."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from boardproof.kit.takes import Recording, read_recording, take_sound
from boardproof.publish.video import SAMPLES, read_sound
from boardproof.record import record

if TYPE_CHECKING:
    from boardproof.publish.video import Sound

__all__ = ["Voice", "find_recording", "read_voice"]


@record
class Voice:
    """Sound, and the recording it comes from (None for a file made elsewhere)."""

    sound: Sound
    recording: Recording | None = None

    @property
    def length_ms(self) -> int:
        """Of the sound."""
        return len(self.sound) * 1000 // SAMPLES


def find_recording(root: Path, lesson: str, given: Path) -> Path | None:
    """The folder or file that a teacher names.

    Parameters
    ----------
    root : Path
        The course folder.
    lesson : str
        The lesson's name.
    given : Path
        A recording's name, its folder, or a sound file.
    """
    places = (root / ".boardproof" / "recordings" / lesson / given, given)
    return next((each for each in places if (each / "recording.json").is_file() or each.is_file()), None)


def read_voice(path: Path) -> Voice:
    """The sound of a recording or of a file.

    Parameters
    ----------
    path : Path
        A recording's folder, or a sound file.

    Raises
    ------
    ValueError
        If there is no sound that can be read.
    """
    import numpy as np  # slow to load

    if path.is_file():
        return Voice(read_sound(path))
    recording = read_recording(path)
    if recording is None or not recording.chosen:
        raise ValueError("nothing is recorded there")
    takes = {each.take: read_sound(take_sound(path, each.take)) for each in recording.chosen}
    parts = []
    for each in recording.chosen:
        start, end = each.from_ms * SAMPLES // 1000, each.to_ms * SAMPLES // 1000
        part = takes[each.take][start:end]
        # Silence where a take ends before its last step says so: what follows keeps its time.
        parts.append(np.concatenate([part, np.zeros(end - start - len(part), np.int16)]))
    return Voice(np.concatenate(parts), recording)
