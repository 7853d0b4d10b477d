"""Captions of a recording: WebVTT and SubRip files as cues of plain words with their times.

WebVTT as the W3C's candidate recommendation describes it (header, NOTE, STYLE and REGION blocks, cue settings, tags in
the text); SubRip as it is commonly written (numbered cues, a comma before the milliseconds). Nothing in a file is
ever executed or kept as mark-up: tags are taken out, character references are put in.
"""

from __future__ import annotations

import html
import re
from typing import Final

from boardproof.findings import Finding, Kind, Kinds
from boardproof.record import record
from boardproof.source import Source

__all__ = ["KINDS", "Cue", "read_captions", "time_stamp"]

LONGEST_FILE: Final = 4_000_000
MOST_CUES: Final = 20_000
LONGEST_CUE: Final = 2_000
MOST_FINDINGS: Final = 20
TIME: Final = r"(?:(\d{1,4}):)?(\d{1,2}):(\d{2})[.,](\d{3})"
TIMES: Final = re.compile(rf"\s*{TIME}\s+-->\s+{TIME}(?:\s.*)?")
TAG: Final = re.compile(r"<[^<>]{0,200}>|\{\\[^{}]{0,40}\}")
BLOCK: Final = re.compile(r"\n[ \t]*\n+")
ASIDE: Final = ("NOTE", "STYLE", "REGION", "WEBVTT")

KINDS: Final = Kinds(
    [
        Kind(
            "unread-captions",
            "error",
            "{name} holds no captions that I can read.",
            "Save them as WebVTT (.vtt) or SubRip (.srt).",
            "A caption file says when each stretch of words is spoken; without the times a slip could not be found "
            "again in the recording.\n\nBefore: a page of plain text\n\n"
            "After: `00:00:01.000 --> 00:00:04.000` with the words below it",
        ),
        Kind(
            "unread-cue",
            "warning",
            "The times of a caption can't be read: {text}.",
            "Write them like 00:00:01.000 --> 00:00:04.000.",
            "A caption without times is left out, so what is said there is not listened to.\n\n"
            "Before: `1.5 --> 3`\n\nAfter: `00:00:01.500 --> 00:00:03.000`",
        ),
        Kind(
            "overlong-captions",
            "error",
            "{name} is too long: {limit} are read.",
            "Split the recording, or check that this is a caption file.",
            "A lesson of an hour has some two thousand captions. A file far beyond that is not a lesson's.\n\n"
            "Before: one file for a whole year\n\nAfter: one file for each lesson",
        ),
    ]
)


@record
class Cue:
    """One caption.

    Parameters
    ----------
    start, end : int
        Milliseconds from the beginning of the recording.
    text : str
        Its words in one line, without mark-up.
    """

    start: int
    end: int
    text: str


def time_stamp(milliseconds: int) -> str:
    """A time as WebVTT writes it.

    Examples
    --------
    >>> time_stamp(3_723_004)
    '01:02:03.004'
    """
    seconds, rest = divmod(milliseconds, 1000)
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}.{rest:03d}"


def read_captions(source: Source) -> tuple[tuple[Cue, ...], tuple[Finding, ...]]:
    r"""Read a caption file.

    Parameters
    ----------
    source : Source
        The file's text.

    Returns
    -------
    (tuple of Cue, tuple of Finding)
        The captions in the order of their times, and what could not be read.

    Examples
    --------
    >>> cues, _ = read_captions(Source("a.vtt", "WEBVTT\n\n00:01.000 --> 00:02.500\nfive <b>volts</b>\n"))
    >>> cues[0]
    Cue(start=1000, end=2500, text='five volts')
    """
    text = source.text
    if len(text) > LONGEST_FILE:
        return (), (_finding("overlong-captions", source, 0, 0, limit=f"{LONGEST_FILE:,} characters"),)
    cues: list[Cue] = []
    found: list[Finding] = []
    plain = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    for block in BLOCK.split(plain.replace("\0", "\ufffd")):
        lines = block.strip("\n").split("\n")
        timed = next((number for number, line in enumerate(lines[:3]) if "-->" in line), None)
        if timed is None or lines[0].startswith(ASIDE[:3]):
            continue
        if len(cues) >= MOST_CUES:
            found.append(_finding("overlong-captions", source, 0, 0, limit=f"{MOST_CUES:,} captions"))
            break
        cue = _cue(lines[timed], lines[timed + 1 :])
        if cue is not None:
            cues.append(cue)
        elif len(found) < MOST_FINDINGS:
            start = max(0, text.find(lines[timed]))
            end = start + len(lines[timed])
            found.append(_finding("unread-cue", source, start, end, text=lines[timed].strip()[:60]))
    if not cues and not found:
        found.append(_finding("unread-captions", source, 0, 0))
    return tuple(sorted(cues, key=lambda cue: cue.start)), tuple(found)


def _finding(code: str, source: Source, start: int, end: int, **facts: str) -> Finding:
    return Finding(KINDS[code], source.slice(start, end).span, {"name": source.name, **facts})


def _cue(times: str, lines: list[str]) -> Cue | None:
    match = TIMES.fullmatch(times[:200])
    if match is None:
        return None
    start, end = _milliseconds(match.groups()[:4]), _milliseconds(match.groups()[4:])
    words = html.unescape(TAG.sub("", " ".join(lines)[:LONGEST_CUE])).replace("\u200b", "")
    return Cue(start, max(start, end), " ".join(words.split()))


def _milliseconds(pieces: tuple[str | None, ...]) -> int:
    hours, minutes, seconds, rest = (int(piece or 0) for piece in pieces)
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + rest
