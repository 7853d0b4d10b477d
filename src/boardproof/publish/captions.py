"""Captions and chapters as WebVTT, cut so that they can be read: short lines, breaks between phrases, time enough.

Sources of the figures: Described and Captioned Media Program, *Captioning Key*: at most two lines, shown for two
seconds at least, no break inside a name or between a number and its unit, speed for adult learners 150 to 160 words a
minute; 42 characters a line and 17 characters a second are the usual limits of captions on the web. What a file must
look like: W3C, *WebVTT: The Web Video Text Tracks Format*, section 4.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from boardproof.algebra.vocabulary import words_of
from boardproof.lesson.captions import Cue, time_stamp
from boardproof.record import record

__all__ = [
    "LINE",
    "SHORTEST",
    "SPEED",
    "Chapter",
    "Word",
    "caption_cues",
    "caption_lines",
    "chapters_vtt",
    "too_fast",
    "webvtt",
]

LINE: Final = 42
LINES: Final = 2
SHORTEST: Final = 2000
LONGEST: Final = 7000
SPEED: Final = 17.0
SILENCE: Final = 1500
LATE: Final = 500  # of a second; a caption that begins no later than this is still felt to be in time
GLUE: Final = "\N{NO-BREAK SPACE}"
STOPS: Final = (".", "?", "!", ":")
ABBREVIATED: Final = frozenset({"p.d.", "e.m.f.", "e.g.", "i.e."})
# A new phrase begins with one of these, so a line may well end before it.
OPENERS: Final = words_of(
    "and or but so then because that which who if when where while as than of in on at to for from by with into "
    "through between both over equals plus minus is are has"
)


@record
class Word:
    """A word that is said, or several that must not be parted (joined by no-break spaces).

    Parameters
    ----------
    text : str
        With its stop.
    start, end : int
        Milliseconds.
    first : bool
        No caption may hold this word and one before it: a scene, a pause or an answer begins.
    """

    text: str
    start: int
    end: int
    first: bool = False


@record
class Chapter:
    """A scene's title and when it is shown, in milliseconds."""

    title: str
    start: int
    end: int


def caption_lines(text: str, width: int = LINE) -> tuple[str, ...]:
    """Words in lines of at most `width` characters, parted where a phrase ends; a longer word stands alone.

    Parameters
    ----------
    text : str
        A caption's words.
    width : int
        Characters in a line.

    Examples
    --------
    >>> caption_lines("The buoy came back with two batteries on one pair of wires.")
    ('The buoy came back with two batteries', 'on one pair of wires.')
    """
    words = text.split(" ")
    if len(text) <= width:
        return (text.replace(GLUE, " "),)
    halves = [(words[:n], words[n:]) for n in range(1, len(words))]
    fitting = [(a, b) for a, b in halves if max(len(" ".join(a)), len(" ".join(b))) <= width]
    if not fitting:
        return _filled(text.replace(GLUE, " ").split(" "), width)
    first, second = min(
        fitting, key=lambda each: _break_cost(each[0][-1], each[1][0]) + _uneven(*map(" ".join, each))
    )
    return " ".join(first).replace(GLUE, " "), " ".join(second).replace(GLUE, " ")


def _uneven(first: str, second: str) -> float:
    return abs(len(first) - len(second)) / 12


def _filled(words: Sequence[str], width: int) -> tuple[str, ...]:
    lines = [""]
    for word in words:
        joined = f"{lines[-1]} {word}".strip()
        lines = [*lines[:-1], joined] if len(joined) <= width else [*lines, word]
    return tuple(line for line in lines if line)


def _break_cost(before: str, after: str) -> float:
    """How much a break between two words hurts whoever reads."""
    if _is_stop(before):
        return 0.0
    if len(before.rpartition(GLUE)[2]) == 1:  # a part's letter and what it does
        return 6.0
    if before.endswith((",", ";")):
        return 1.0
    if before.lower() in OPENERS or before.lower() in {"the", "a", "an", "its", "no", "not"}:
        return 6.0
    return 2.0 if after.lower().strip(",") in OPENERS else 4.0


def _is_stop(word: str) -> bool:
    return word.endswith(STOPS) and word.lower() not in ABBREVIATED


def caption_cues(words: Sequence[Word]) -> tuple[Cue, ...]:
    """Cut what is said into captions: the cheapest cut by where they break, how long they stand, how fast they go.

    Parameters
    ----------
    words : sequence of Word
        In order.

    Returns
    -------
    tuple of Cue
        Without gaps shorter than the ear would notice; texts keep their no-break spaces until they are written.

    Examples
    --------
    >>> said = "Plus sits on plus. So the two batteries are in parallel and have one p.d. in common.".split()
    >>> cues = caption_cues([Word(word, 400 * n, 400 * n + 400) for n, word in enumerate(said)])
    >>> [(cue.start, cue.end, cue.text) for cue in cues]  # doctest: +NORMALIZE_WHITESPACE
    [(0, 2000, 'Plus sits on plus.'),
     (2000, 6800, 'So the two batteries are in parallel and have one p.d. in common.')]
    """
    cues: list[Cue] = []
    start = 0
    for place in range(1, len(words) + 1):
        if place == len(words) or words[place].first or words[place].start - words[place - 1].end > SILENCE:
            cues += _cut(words[start:place])
            start = place
    return tuple(_held(cues))


def _cut(words: Sequence[Word]) -> list[Cue]:
    """The cheapest cut of one stretch, by dynamic programming over the places where a caption may end."""
    best: list[tuple[float, int]] = [(0.0, 0)]
    for end in range(1, len(words) + 1):
        choices = []
        for start in range(end - 1, -1, -1):
            text = " ".join(word.text for word in words[start:end])
            if end - start > 1 and len(caption_lines(text)) > LINES:
                break
            choices.append((best[start][0] + _cost(words, start, end, text), start))
        best.append(min(choices))
    ends, end = [], len(words)
    while end:
        ends.append((best[end][1], end))
        end = best[end][1]
    return [
        Cue(words[start].start, words[end - 1].end, " ".join(word.text for word in words[start:end]))
        for start, end in reversed(ends)
    ]


def _cost(words: Sequence[Word], start: int, end: int, text: str) -> float:
    last = end == len(words)
    takes = words[end - 1].end - words[start].start
    cost = 3.0 + (0.0 if last else 3 * _break_cost(words[end - 1].text, words[end].text))
    cost += max(0, SHORTEST - takes) / 100 + max(0, takes - LONGEST) / 300
    inner = sum(_is_stop(word.text) for word in words[start : end - 1])
    return cost + 2.0 * inner + max(0.0, 1000 * len(text) / max(takes, 1) - SPEED)


def _held(cues: Sequence[Cue]) -> list[Cue]:
    """A caption that is too short to be read stands on while nothing is said, and a little into the next one."""
    held: list[Cue] = []
    for place, cue in enumerate(cues):
        start = max(cue.start, held[-1].end) if held else cue.start
        wanted = max(cue.end, start + max(SHORTEST, round(1000 * len(cue.text) / SPEED)))
        free = cue.end
        if place + 1 < len(cues):
            after = cues[place + 1]
            free = max(after.start, min(after.start + LATE, after.end - SHORTEST))
        held.append(Cue(start, min(wanted, free), cue.text))
    return held


def too_fast(cues: Sequence[Cue]) -> tuple[Cue, ...]:
    """Captions that go faster than most people read.

    Parameters
    ----------
    cues : sequence of Cue
        As cut.

    Examples
    --------
    >>> too_fast([Cue(0, 1000, "one ampere"), Cue(1000, 2000, "nobody reads all this in one second")])
    (Cue(start=1000, end=2000, text='nobody reads all this in one second'),)
    """
    return tuple(cue for cue in cues if len(cue.text) * 1000 > 1.05 * SPEED * (cue.end - cue.start))


def webvtt(cues: Sequence[Cue], *, notes: Sequence[str] = (), language: str = "") -> str:
    r"""A caption file.

    Parameters
    ----------
    cues : sequence of Cue
        In order.
    notes : sequence of str
        What stands at the head for people: author, licence, corrections.
    language : str
        Of the words, as in BCP 47.

    Examples
    --------
    >>> print(webvtt([Cue(0, 2500, "r < R, so V is near E.")]), end="")
    WEBVTT
    <BLANKLINE>
    00:00:00.000 --> 00:00:02.500
    r &lt; R, so V is near E.
    """
    head = "WEBVTT" + (f"\nLanguage: {language}" if language else "")
    blocks = [head, *(f"NOTE {_one_line(note)}" for note in notes)]
    blocks += [
        f"{_times(cue.start, cue.end)}\n" + "\n".join(_said(line) for line in caption_lines(cue.text))
        for cue in cues
        if cue.end > cue.start and cue.text.strip()
    ]
    return "\n\n".join(blocks) + "\n"


def chapters_vtt(chapters: Sequence[Chapter]) -> str:
    """A chapter file: one cue a scene.

    Parameters
    ----------
    chapters : sequence of Chapter
        In order.

    Examples
    --------
    >>> print(chapters_vtt([Chapter("Two cells", 0, 61000)]), end="")
    WEBVTT
    <BLANKLINE>
    1
    00:00:00.000 --> 00:01:01.000
    Two cells
    """
    blocks = ["WEBVTT"]
    blocks += [
        f"{number}\n{_times(each.start, each.end)}\n{_said(each.title)}"
        for number, each in enumerate(chapters, 1)
        if each.end > each.start
    ]
    return "\n\n".join(blocks) + "\n"


def _times(start: int, end: int) -> str:
    return f"{time_stamp(start)} --> {time_stamp(end)}"


def _said(line: str) -> str:
    return escape(_one_line(line), quote=False)


def _one_line(text: str) -> str:
    return " ".join(text.split()).replace("-->", "→")
