"""The `video` job: a proved lesson becomes a film, in step with a recording, with captions, or at the course's pace."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from datetime import date
from pathlib import Path
from typing import Any, Final

from boardproof import __version__
from boardproof.kit.compose import Composer
from boardproof.kit.deadline import deadline
from boardproof.kit.files import read_source, write_kit
from boardproof.kit.film import Scene, film_scenes, pictures_of
from boardproof.kit.in_time import Entry, at_pace, from_captions, from_steps, words_of_cues
from boardproof.kit.lit import light_kit
from boardproof.kit.progress import Progress
from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.kit.report import in_short, text_report
from boardproof.kit.said import chapters_of, words_in_time
from boardproof.kit.takes import chosen_steps
from boardproof.kit.telling import Telling
from boardproof.kit.voice import Voice, find_recording, read_voice
from boardproof.lesson.captions import Cue, read_captions
from boardproof.publish.captions import Chapter, caption_cues, chapters_vtt, too_fast, webvtt
from boardproof.publish.raster import Raster
from boardproof.publish.stamped import stamped
from boardproof.publish.typeset import Typesetter
from boardproof.publish.video import RATE, Kind, Piece, encode_piece, has_video, join_pieces
from boardproof.record import record

__all__ = ["run"]

KINDS: Final[tuple[Kind, ...]] = ("mp4", "webm")
NO_EXTRA: Final = 'Not done: videos need one package more. Install it with: pip install "boardproof[video]"\n'


class _NotDone(Exception):
    """Why no video can be made, in words for the teacher."""


def run(options: Namespace) -> int:
    """Make the videos of the lesson that the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 done, 1 the lesson is not proved, 2 not done.
    """
    if not has_video():
        sys.stderr.write(NO_EXTRA)
        return 2
    folder, findings, one = open_course(options.file)
    name = one or (folder.lessons[0].name if folder.lessons else "")
    late = deadline(options.limit)
    proof = next(iter(prove_lessons(folder, findings, only=name, late=late)), None) if name else None
    if proof is None:
        sys.stderr.writelines(in_short(each) + "\n" for each in findings)
        sys.stderr.write(f"There is no lesson {options.file}: lessons are called NAME.lesson.md.\n")
        return 2
    if (proof.report.has_errors or proof.report.is_unfinished) and not options.draft:
        sys.stderr.write(text_report(proof.report))
        sys.stderr.write(f"{name}: no video made. Put it right, or make a draft with --draft.\n")
        return 2 if proof.report.is_unfinished else 1
    lesson = name.removesuffix(".lesson.md")
    try:
        wanted = _wanted(proof, folder.root, lesson, options)
    except _NotDone as fault:
        sys.stderr.write(f"Not done: {fault}\n")
        return 2
    root = options.to or folder.root / "kits"
    return _made(wanted, folder.root, root / lesson, options)


@record
class _Wanted:
    """Everything that decides the film."""

    composer: Composer
    source: str
    entries: tuple[Entry, ...]
    cues: tuple[Cue, ...]
    chapters: tuple[Chapter, ...]
    voice: Voice | None


def _wanted(proof: Proof, root: Path, lesson: str, options: Namespace) -> _Wanted:
    composer = Composer(proof, Typesetter(Telling(proof).notation))
    if not composer.moments:
        raise _NotDone("the lesson has no moment to show.")
    voice = _voice(root, lesson, options.voice) if options.voice else None
    given = _captions(options.captions) if options.captions else ()
    length = voice.length_ms if voice else 0
    if given:
        source, entries = "captions", from_captions(composer, given, length)
    elif voice and voice.recording:
        source, entries = "recording", from_steps(composer, chosen_steps(voice.recording), length)
    elif voice:
        raise _NotDone("a sound file made elsewhere needs its captions too: --captions FILE.")
    else:
        source, entries = "pace", at_pace(composer)
    cues = caption_cues(words_of_cues(given) if given else words_in_time(composer, entries))
    return _Wanted(composer, source, entries, cues, chapters_of(composer, entries), voice)


def _voice(root: Path, lesson: str, given: Path) -> Voice:
    path = find_recording(root, lesson, given)
    if path is None:
        raise _NotDone(f"there is no recording {given}.")
    try:
        return read_voice(path)
    except ValueError as fault:
        raise _NotDone(f"{given} can't be heard: {fault}.") from fault


def _captions(path: Path) -> tuple[Cue, ...]:
    source, wrong = read_source(path)
    cues, unread = read_captions(source) if source else ((), ())
    if not cues:
        raise _NotDone(" ".join(in_short(each) for each in (*wrong, *unread)))
    return cues


def _made(wanted: _Wanted, root: Path, folder: Path, options: Namespace) -> int:
    """Code what is missing, join, write; captions and chapters beside the videos."""
    composer = wanted.composer
    stamp = composer.stamp(date.today(), draft=options.draft)  # noqa: DTZ011 - the teacher's own day
    typesetter = composer.lettering
    assert isinstance(typesetter, Typesetter)
    boards = {
        moment.key: stamped(composer.frame(moment, options.shape), stamp, typesetter)
        for moment in composer.moments
    }
    scenes = film_scenes(
        wanted.entries,
        boards,
        {moment.key: moment.scene for moment in composer.moments},
        wanted.cues if options.burn_in else (),
    )
    cache = root / ".boardproof" / "cache" / "video" / folder.name
    cache.mkdir(parents=True, exist_ok=True)
    kinds = [kind for kind in KINDS if options.format in {kind, "both"}]
    told = _told(composer, stamp.made)
    course = composer.proof.course
    notes = [
        " · ".join(
            each for each in (composer.proof.lesson.title, course.author, course.licence, stamp.words) if each
        )
    ]
    files = {
        "captions.vtt": webvtt(
            wanted.cues, notes=notes, language=composer.proof.lesson.settings.language
        ).encode(),
        "chapters.vtt": chapters_vtt(wanted.chapters).encode(),
    }
    with Progress(len(kinds) * (len(scenes) + 1), quiet=options.quiet or options.json) as progress:
        reused = 0
        for kind in kinds:
            pieces = []
            for scene in scenes:
                progress.step(f"{kind}: scene {scene.number + 1} of {len(scenes)}")
                piece, was_there = _piece(scene, kind, cache, typesetter, options)
                pieces.append(piece)
                reused += was_there
            progress.step(f"{kind}: voice and chapters")
            whole = cache / f"whole.{kind}"
            sound = wanted.voice.sound if wanted.voice else None
            join_pieces(whole, kind, pieces, sound=sound, chapters=wanted.chapters, told=told)
            files[f"video-{options.shape}.{kind}"] = whole.read_bytes()
            whole.unlink()
    if options.shape == "wide":
        sound = wanted.voice.sound if wanted.voice else None
        files |= light_kit(composer, wanted.entries, boards, typesetter, stamp, sound)
    refused = write_kit(folder, files, version=__version__, made=stamp.made.isoformat(), draft=options.draft)
    sys.stderr.writelines(in_short(each) + "\n" for each in refused)
    if refused:
        return 2
    frames = sum(scene.frames for scene in scenes)
    _tell(wanted, files, frames, reused, folder, options)
    return 0


def _piece(
    scene: Scene, kind: Kind, cache: Path, typesetter: Typesetter, options: Namespace
) -> tuple[Piece, bool]:
    """One scene, coded; with --resume an earlier run's piece serves if it shows the same."""
    path = cache / f"{options.shape}-{scene.number + 1:02}-{scene.fingerprint(typesetter)}.{kind}"
    if options.resume and path.is_file():
        return Piece(path, scene.frames), True
    for old in cache.glob(f"{options.shape}-{scene.number + 1:02}-*.{kind}"):
        old.unlink()
    raster = Raster(typesetter)
    return encode_piece(path, kind, pictures_of(scene, raster), scene.frames), False


def _told(composer: Composer, made: date) -> dict[str, str]:
    """What stands in the file for whoever plays it."""
    course, lesson = composer.proof.course, composer.proof.lesson
    told = {
        "title": lesson.title,
        "artist": course.author,
        "copyright": course.licence,
        "album": course.title,
        "date": made.isoformat(),
        "comment": course.address,
    }
    return {key: words for key, words in told.items() if words}


def _tell(
    wanted: _Wanted, files: dict[str, bytes], frames: int, reused: int, folder: Path, options: Namespace
) -> None:
    fast = too_fast(wanted.cues)
    seconds = frames / RATE
    if options.json:
        told: dict[str, Any] = {
            "schema": 1,
            "lesson": wanted.composer.proof.lesson.source.name,
            "source": wanted.source,
            "frames": frames,
            "seconds": round(seconds, 3),
            "chapters": len(wanted.chapters),
            "captions": len(wanted.cues),
            "too_fast": [{"ms": cue.start, "text": cue.text} for cue in fast],
            "reused": reused,
            "files": [{"name": name, "bytes": len(content)} for name, content in files.items()],
        }
        sys.stdout.write(json.dumps(told, ensure_ascii=False) + "\n")
        return
    minutes, rest = divmod(round(seconds), 60)
    sys.stdout.write(f"{folder.name}: {minutes} min {rest} s, {len(wanted.chapters)} chapters -> {folder}\n")
    for cue in fast if not options.quiet else ():
        sys.stdout.write(
            f"  The caption at {cue.start // 1000} s goes faster than people read: “{cue.text}”\n"
        )
