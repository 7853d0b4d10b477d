"""Finished videos: the only door to the `av` package, which reads and writes pictures and sound.

A video is made in pieces, each a file of its own with pictures only, so that a stopped job goes on where it was; the
pieces are then joined without coding them again, with the sound, the chapters and the title. A picture that stands
still is sent once a second. There are no pictures that look ahead (``bf=0``): with them a held picture gives a file of
the wrong length. Equal input gives equal bytes (``fflags=+bitexact``).
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

from boardproof.publish.captions import Chapter
from boardproof.record import record

if TYPE_CHECKING:
    import numpy as np
    from av import VideoFrame
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]
    Sound = NDArray[np.int16]

__all__ = [
    "RATE",
    "SAMPLES",
    "Kind",
    "Piece",
    "encode_piece",
    "has_video",
    "join_pieces",
    "low_voice",
    "pixels",
    "read_sound",
    "still",
]

Kind = Literal["mp4", "webm"]
RATE: Final = 30
SAMPLES: Final = 48_000
BITEXACT: Final = {"fflags": "+bitexact"}
CODECS: Final[dict[Kind, tuple[str, dict[str, str]]]] = {
    "mp4": (
        "libx264",
        {"bf": "0", "crf": "20", "preset": "veryfast", "tune": "animation", "g": "300", "flags": "+bitexact"},
    ),
    "webm": (
        "libvpx-vp9",
        {
            "crf": "34", "deadline": "realtime", "cpu-used": "7", "row-mt": "1", "tile-columns": "2",
            "lag-in-frames": "0", "g": "300", "flags": "+bitexact",
        },
    ),
}  # fmt: skip
VOICES: Final[dict[Kind, tuple[str, int]]] = {"mp4": ("aac", 64_000), "webm": ("libopus", 40_000)}
LOW_RATE: Final = 14_000
MOST_SECONDS: Final = 3 * 3600


@record
class Piece:
    """A coded stretch: its file, the pictures it lasts (at `RATE` a second)."""

    path: Path
    frames: int


def has_video() -> bool:
    """Whether the extra that reads and writes video is installed.

    Examples
    --------
    >>> has_video()
    True
    """
    try:
        import av  # noqa: F401  # an extra, and slow to load
    except ImportError:
        return False
    return True


def pixels(png: bytes) -> Pixels:
    """A PNG picture as rows of red, green and blue.

    Parameters
    ----------
    png : bytes
        The picture.
    """
    import av  # an extra, and slow to load

    with av.open(io.BytesIO(png), "r") as container:
        frame: Any = next(container.decode(video=0))
        made: Pixels = frame.to_ndarray(format="rgb24")
        return made


def encode_piece(path: Path, kind: Kind, pictures: Iterable[tuple[int, Pixels]], frames: int) -> Piece:
    """Code a stretch of pictures; the file is there whole or not at all.

    Parameters
    ----------
    path : Path
        Where to.
    kind : {"mp4", "webm"}
        H.264 or VP9.
    pictures : iterable of (int, array)
        Each new picture with the number of its frame, in order; the first at 0.
    frames : int
        How many frames the piece lasts.
    """
    import av  # an extra, and slow to load

    part = path.with_name(path.name + ".part")
    name, options = CODECS[kind]
    with av.open(str(part), "w", format=kind, options=BITEXACT) as container:
        stream: Any = None
        at, shown = 0, None
        for number, picture in (*pictures, (frames, None)):
            if stream is None and picture is not None:
                stream = container.add_stream(name, rate=RATE, options=options)
                stream.height, stream.width = picture.shape[:2]
                stream.pix_fmt = "yuv420p"
                _say_colours(stream.codec_context)
            while shown is not None and at < number:
                container.mux(_coded(stream, shown, at))
                # Held: once a second, and once more at the very end so that the piece has its whole length.
                at = min(at + RATE, number) if number < frames else _next(at, frames)
            shown = _frame(picture) if picture is not None else None
            at = number
        container.mux(stream.encode(None))
    part.replace(path)
    return Piece(path, frames)


def _next(at: int, frames: int) -> int:
    return min(at + RATE, frames - 1) if at < frames - 1 else frames


def _say_colours(context: Any) -> None:
    """Rec. 709, as pictures of this size are read."""
    context.colorspace, context.color_primaries, context.color_trc, context.color_range = 1, 1, 1, 1


def _frame(picture: Pixels) -> VideoFrame:
    from av import VideoFrame  # an extra, and slow to load

    made = VideoFrame.from_ndarray(picture, format="rgb24")
    return made.reformat(format="yuv420p", dst_colorspace="ITU709", dst_color_range="MPEG")


def _coded(stream: Any, shown: VideoFrame, at: int) -> Any:
    shown.pts, shown.time_base = at, Fraction(1, RATE)
    return stream.encode(shown)


def join_pieces(
    path: Path,
    kind: Kind,
    pieces: Sequence[Piece],
    *,
    sound: Sound | None = None,
    chapters: Sequence[Chapter] = (),
    told: dict[str, str] | None = None,
) -> None:
    """Join coded pieces, without coding them again, with their sound; whole or not at all.

    Parameters
    ----------
    path : Path
        The video.
    kind : {"mp4", "webm"}
        As the pieces.
    pieces : sequence of Piece
        In order.
    sound : array, optional
        The voice, `SAMPLES` a second; cut or filled with silence to the length of the pictures. None is silence.
    chapters : sequence of Chapter
        One a scene.
    told : dict, optional
        Title, artist and the like.
    """
    import av  # an extra, and slow to load
    import numpy as np  # slow to load

    part = path.with_name(path.name + ".part")
    frames = sum(piece.frames for piece in pieces)
    whole = np.zeros(frames * SAMPLES // RATE, np.int16)
    if sound is not None:
        whole[: len(sound)] = sound[: len(whole)]
    options = BITEXACT | ({"movflags": "+faststart"} if kind == "mp4" else {})
    with av.open(str(part), "w", format=kind, options=options) as container:
        container.metadata.update(told or {})
        container.set_chapters(_chapters(chapters))
        with av.open(str(pieces[0].path)) as first:
            picture = container.add_stream_from_template(first.streams.video[0])
        voice = _Voice(container, kind, whole)
        before = 0
        for piece in pieces:
            with av.open(str(piece.path)) as coded:
                for packet in coded.demux(video=0):
                    if packet.pts is None or packet.dts is None:
                        continue
                    at = before + round(packet.pts * packet.time_base * RATE)
                    voice.until(Fraction(at, RATE))
                    packet.stream, packet.time_base = picture, Fraction(1, RATE)
                    packet.pts = packet.dts = at
                    packet.duration = 1
                    container.mux(packet)
            before += piece.frames
        voice.until(None)
    part.replace(path)


def _chapters(chapters: Sequence[Chapter]) -> Any:
    return [
        {
            "id": number,
            "start": each.start,
            "end": each.end,
            "time_base": Fraction(1, 1000),
            "metadata": {"title": each.title},
        }
        for number, each in enumerate(chapters, 1)
    ]


class _Voice:
    """Codes the sound a little ahead of the pictures, so that both stand near each other in the file."""

    def __init__(self, container: Any, kind: Kind, sound: Sound) -> None:
        name, rate = VOICES[kind]
        self.container, self.sound, self.done = container, sound, 0
        self.stream = container.add_stream(name, rate=SAMPLES, layout="mono", options={"flags": "+bitexact"})
        self.stream.bit_rate = rate
        self.format = "fltp" if kind == "mp4" else "flt"

    def until(self, seconds: Fraction | None) -> None:
        from av import AudioFrame  # an extra, and slow to load

        end = len(self.sound) if seconds is None else min(len(self.sound), int((seconds + 1) * SAMPLES))
        size = self.stream.codec_context.frame_size or 960
        while self.done < end:
            piece = self.sound[self.done : self.done + size]
            floats = (piece.astype("float32") / 32768).reshape(1, -1)
            frame = AudioFrame.from_ndarray(floats, format=self.format, layout="mono")
            frame.sample_rate, frame.pts, frame.time_base = SAMPLES, self.done, Fraction(1, SAMPLES)
            self.container.mux(self.stream.encode(frame))
            self.done += len(piece)
        if seconds is None:
            self.container.mux(self.stream.encode(None))


def still(picture: Pixels) -> bytes:
    """A picture as WebP: half as large as PNG, and as sharp where it matters, at letters and lines.

    Parameters
    ----------
    picture : array
        Rows of red, green and blue.
    """
    import av  # an extra, and slow to load

    coder: Any = av.CodecContext.create("libwebp", "w")
    coder.height, coder.width = picture.shape[:2]
    coder.pix_fmt, coder.time_base = "yuv420p", Fraction(1, RATE)
    coder.options = {"quality": "60", "preset": "drawing"}
    frame = av.VideoFrame.from_ndarray(picture, format="rgb24").reformat(format="yuv420p")
    frame.pts = 0
    return b"".join(bytes(packet) for packet in (*coder.encode(frame), *coder.encode(None)))


def low_voice(sound: Sound) -> bytes:
    """A voice as Opus at 14 kbit/s in WebM, which speech survives: 0.1 MB a minute.

    Parameters
    ----------
    sound : array
        `SAMPLES` a second.
    """
    import av  # an extra, and slow to load

    made = io.BytesIO()
    with av.open(made, "w", format="webm", options=BITEXACT) as container:
        voice = _Voice(container, "webm", sound)
        voice.stream.bit_rate = LOW_RATE
        voice.until(None)
    return made.getvalue()


def read_sound(source: bytes | Path) -> Sound:
    """The sound of a recording, one channel, `SAMPLES` a second; silence where the recorder left a gap.

    Parameters
    ----------
    source : bytes or Path
        A whole file in any format that is common.

    Raises
    ------
    ValueError
        If it holds no sound that can be read, or more than three hours.
    """
    import av  # an extra, and slow to load
    import numpy as np  # slow to load

    given = io.BytesIO(source) if isinstance(source, bytes) else str(source)
    found: list[Any] = []
    length = 0
    try:
        with av.open(given, "r") as container:
            resampler = av.AudioResampler(format="s16", layout="mono", rate=SAMPLES)
            for frame in container.decode(audio=0):
                if frame.pts is not None and frame.time_base is not None:
                    gap = round(frame.pts * frame.time_base * SAMPLES) - length
                    if gap > SAMPLES // 25:  # pauses of the recorder; less is the coder's own jitter
                        found.append(np.zeros(gap, np.int16))
                        length += gap
                for piece in resampler.resample(frame):
                    found.append(piece.to_ndarray().reshape(-1))
                    length += len(found[-1])
                if length > MOST_SECONDS * SAMPLES:
                    raise ValueError("longer than three hours")
            found += [piece.to_ndarray().reshape(-1) for piece in resampler.resample(None)]
    except (av.FFmpegError, IndexError) as fault:
        raise ValueError(f"no sound that can be read: {fault}") from fault
    return np.concatenate(found) if found else np.zeros(0, np.int16)
