"""Videos read back: how long they are, what is in them, what they show when, and whether the voice is in step.

The judges are FFmpeg's own readers (through PyAV) and scikit-image's structural similarity.
"""

from __future__ import annotations

import json
import re
import sys
import wave
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import av
import numpy as np
import pytest
from skimage.metrics import structural_similarity

from boardproof import cli
from boardproof.kit.compose import Composer
from boardproof.kit.in_time import STILL, at_pace, from_captions, from_steps
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.kit.said import words_in_time
from boardproof.kit.telling import Telling
from boardproof.lesson.captions import Cue
from boardproof.publish.raster import Raster
from boardproof.publish.stamped import stamped
from boardproof.publish.typeset import Typesetter
from boardproof.publish.video import RATE, read_sound

if TYPE_CHECKING:
    from numpy.typing import NDArray

SHORT = r"""# A cell and its load

## One loop

```circuit
A = cell 6 V, 1 ohm
R = resistor 11 ohm
main = A across R
```

A cell drives a current `focus A` through a load.

$$I = \frac{E_A}{R + r_A}$$

## With numbers

Here the current is {I_R}, not more.
"""
ONE_FRAME = 1 / RATE


@pytest.fixture(scope="module")
def lesson(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("course") / "one.lesson.md"
    path.write_text(SHORT, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def composer(lesson: Path) -> Composer:
    folder, findings, _ = open_course(lesson)
    proof = next(iter(prove_lessons(folder, findings)))
    assert not proof.report.has_errors, [each.message for each in proof.report.findings]
    return Composer(proof, Typesetter(Telling(proof).notation))


def made(lesson: Path, *words: str, capsys: pytest.CaptureFixture[str]) -> dict[str, object]:
    assert cli.main(["video", str(lesson), "--json", *words]) == 0
    told: dict[str, object] = json.loads(capsys.readouterr().out)
    return told


def shown(path: Path, seconds: float) -> NDArray[np.uint8]:
    """The picture that a player shows at a time."""
    with av.open(str(path)) as container:
        last = None
        for frame in container.decode(video=0):
            if frame.time is not None and frame.time > seconds:
                break
            last = frame
        assert last is not None
        return last.to_ndarray(format="rgb24")


def likeness(one: NDArray[np.uint8], two: NDArray[np.uint8]) -> float:
    """Structural similarity of the green of every other pixel: enough to tell boards apart, and quick."""
    return float(structural_similarity(one[::2, ::2, 1], two[::2, ::2, 1]))


def voice_file(path: Path, seconds: float, clicks: list[float]) -> None:
    """A click track."""
    rate = 48_000
    sound = np.zeros(int(seconds * rate), np.int16)
    for click in clicks:
        sound[int(click * rate) : int(click * rate) + 240] = 20_000
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(sound.tobytes())


def test_moments_at_pace_have_no_gaps_and_no_haste(composer: Composer) -> None:
    entries = at_pace(composer)
    assert [key for key, _, _ in entries] == [moment.key for moment in composer.moments]
    assert all(one[2] == two[1] for one, two in pairwise(entries))
    assert all(end - start >= STILL for _, start, end in entries)


def test_steps_left_out_stand_shortly_before_the_next(composer: Composer) -> None:
    keys = [moment.key for moment in composer.moments]
    entries = from_steps(composer, {keys[0]: 0, keys[-1]: 9000, "of an older text": 4000}, 12_000)
    assert [key for key, _, _ in entries] == keys
    assert entries[-1][1:] == (9000, 12_000)
    assert entries[-2][1:] == (9000 - STILL, 9000)
    assert entries[0][1] == 0


def test_a_recording_made_elsewhere_is_found_by_its_captions(composer: Composer) -> None:
    cues = (
        Cue(500, 3000, "so a cell um drives a current"),
        Cue(3000, 5000, "through a load"),
        Cue(8000, 11_000, "here the current is half an ampere, not more"),
    )
    entries = from_captions(composer, cues)
    last = next(entry for entry in entries if entry[0].startswith("2-"))
    assert abs(last[1] - 8000) <= 400
    assert entries[-1][2] == 11_000
    through = next(
        start for (_, start, _), moment in zip(entries, composer.moments, strict=True) if moment.move
    )
    assert abs(through - 3000) <= 400


def test_letters_are_captioned_with_their_index(composer: Composer) -> None:
    words = [word.text for word in words_in_time(composer, at_pace(composer))]
    assert "half\N{NO-BREAK SPACE}an\N{NO-BREAK SPACE}ampere," in words


@pytest.mark.parametrize("shape", ["wide", "near"])
def test_a_video_is_as_long_and_shows_what_it_promises(
    lesson: Path, composer: Composer, shape: str, capsys: pytest.CaptureFixture[str]
) -> None:
    kind, video, sound = ("mp4", "h264", "aac") if shape == "wide" else ("webm", "vp9", "opus")
    told = made(lesson, "--shape", shape, "--format", kind, capsys=capsys)
    path = lesson.parent / "kits" / "one" / f"video-{shape}.{kind}"
    entries = at_pace(composer)
    length = entries[-1][2] / 1000
    assert told["source"] == "pace"
    with av.open(str(path)) as container:
        picture, voice = container.streams.video[0], container.streams.audio[0]
        assert (picture.codec_context.name, voice.codec_context.name) == (video, sound)
        assert (picture.width, picture.height) == ((1920, 1080) if shape == "wide" else (1080, 1920))
        assert container.duration is not None
        assert abs(container.duration / 1_000_000 - length) <= ONE_FRAME
        chapters = [
            (each["metadata"]["title"], float(each["start"] * each["time_base"]))
            for each in container.chapters()
        ]
        assert container.metadata["title"] == "A cell and its load"
    starts = {
        moment.scene: start
        for moment, (_, start, _) in reversed(list(zip(composer.moments, entries, strict=True)))
    }
    assert chapters == [("One loop", 0.0), ("With numbers", pytest.approx(starts[1] / 1000, abs=0.001))]
    stamp = composer.stamp(date(2026, 1, 1), draft=False)
    assert isinstance(composer.lettering, Typesetter)
    for moment, (_, _, end) in zip(composer.moments, entries, strict=True):
        wanted = Raster(composer.lettering).draw(
            stamped(composer.frame(moment, shape), stamp, composer.lettering)  # type: ignore[arg-type]
        )
        assert likeness(shown(path, end / 1000 - 0.1), wanted) > 0.95, moment.key


def test_a_board_mended_in_part_is_the_board_drawn_whole(composer: Composer) -> None:
    assert isinstance(composer.lettering, Typesetter)
    raster = Raster(composer.lettering)
    for moment in composer.moments:
        frame = composer.frame(moment, "wide")
        mended, whole = raster.draw(frame), Raster(composer.lettering).draw(frame)
        assert likeness(mended, whole) > 0.999, moment.key


def test_the_voice_is_in_step(lesson: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    clicks = [0.5, 3.0, 8.0]
    voice_file(tmp_path / "voice.wav", 11.0, clicks)
    captions = tmp_path / "said.vtt"
    captions.write_text(
        "WEBVTT\n\n00:00.500 --> 00:03.000\na cell drives a current\n\n00:03.000 --> 00:05.000\nthrough a load\n\n"
        "00:08.000 --> 00:11.000\nhere the current is half an ampere, not more\n",
        encoding="utf-8",
    )
    words = ("--voice", str(tmp_path / "voice.wav"), "--captions", str(captions), "--to", str(tmp_path))
    for kind in ("mp4", "webm"):
        told = made(lesson, *words, "--format", kind, capsys=capsys)
        assert (told["source"], told["seconds"]) == ("captions", 11.0)
        sound = read_sound(tmp_path / "one" / f"video-wide.{kind}").astype(float)
        loud = np.flatnonzero(np.abs(sound) > 6000) / 48_000
        heard = [loud[0], *(b for a, b in pairwise(loud) if b - a > 0.5)]
        assert heard == pytest.approx(clicks, abs=0.05)
        with av.open(str(tmp_path / "one" / f"video-wide.{kind}")) as container:
            times = [float(frame.pts * frame.time_base) for frame in container.decode(video=0)]  # type: ignore[operator]
        # The step at the second click shows on the frame that is on screen then.
        assert min(abs(time - 3.0) for time in times) <= 0.05 + ONE_FRAME
    light = tmp_path / "one" / "light"
    assert sum(each.stat().st_size for each in light.iterdir()) < 200_000 * 11 / 60 + 60_000
    page = (light / "index.html").read_text(encoding="utf-8")
    assert all((light / name).is_file() for name in re.findall(r'src="([^"]+)"', page))
    assert len(read_sound(light / "voice.webm")) == pytest.approx(11 * 48_000, abs=2000)
    assert "half an ampere" in page
    assert "00:00:08.000 -->" in (tmp_path / "one" / "captions.vtt").read_text(encoding="utf-8")


def test_a_stopped_video_goes_on_and_comes_out_alike(
    lesson: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ("--format", "webm", "--burn-in", "--to", str(tmp_path))
    first = made(lesson, *words, capsys=capsys)
    whole = (tmp_path / "one" / "video-wide.webm").read_bytes()
    again = made(lesson, *words, "--resume", capsys=capsys)
    assert (first["reused"], again["reused"]) == (0, 2)
    assert (tmp_path / "one" / "video-wide.webm").read_bytes() == whole


def test_what_cannot_be_made_is_told_in_words(
    lesson: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "noise.wav").write_bytes(b"no sound at all")
    (tmp_path / "empty.vtt").write_text("WEBVTT\n", encoding="utf-8")
    for words, said in (
        (("--voice", "nobody"), "no recording"),
        (("--voice", str(tmp_path / "noise.wav")), "can't be heard"),
        (("--captions", str(tmp_path / "empty.vtt")), "no captions"),
    ):
        assert cli.main(["video", str(lesson), *words]) == 2
        assert said in capsys.readouterr().err
    wrong = tmp_path / "wrong.lesson.md"
    wrong.write_text(SHORT.replace("R + r_A", "R - r_A"), encoding="utf-8")
    assert cli.main(["video", str(wrong)]) == 1
    assert "no video made" in capsys.readouterr().err


def test_without_the_extra_it_says_what_to_install(
    lesson: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "av", None)
    assert cli.main(["video", str(lesson)]) == 2
    assert "boardproof[video]" in capsys.readouterr().err
