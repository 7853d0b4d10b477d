"""When each moment of a lesson comes: at the course's pace, as it was recorded, or as captions made elsewhere tell.

Every way gives the same: key, beginning and end of each moment in milliseconds, without gaps, in the lesson's order.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final

from boardproof.kit.compose import Composer
from boardproof.kit.spoken_script import letters_of
from boardproof.lesson.captions import Cue
from boardproof.listen.align import align
from boardproof.listen.hear import Speech, hear
from boardproof.listen.script import Piece, cut
from boardproof.publish.captions import Word

__all__ = ["STILL", "Entry", "at_pace", "from_captions", "from_steps", "words_of_cues"]

Entry = tuple[str, int, int]
STILL: Final = 1200  # what a change on the board takes with the stillness after it, when nothing is said


def at_pace(composer: Composer) -> tuple[Entry, ...]:
    """Moments at the course's pace; a change without words has its time too.

    Parameters
    ----------
    composer : Composer
        The lesson with its moments.
    """
    start, found = 0, []
    for moment in composer.moments:
        end = start + max(STILL, round(1000 * composer.seconds(moment)))
        found.append((moment.key, start, end))
        start = end
    return tuple(found)


def from_steps(composer: Composer, steps: Mapping[str, int], length: int) -> tuple[Entry, ...]:
    """Moments as their steps were made in a recording; those that were left out come shortly before the next.

    Parameters
    ----------
    composer : Composer
        The lesson with its moments.
    steps : mapping of str to int
        Millisecond at which a moment began, by its key; keys that the lesson no longer has are passed over.
    length : int
        Of the sound, in milliseconds.
    """
    keys = [moment.key for moment in composer.moments]
    starts: list[int | None] = [steps.get(key) for key in keys]
    if not keys:
        return ()
    starts[0] = 0
    after = length
    for place in range(len(keys) - 1, 0, -1):
        known = starts[place]
        after = starts[place] = min(after, after - STILL if known is None else known)
    placed = [0]
    for each in starts[1:]:
        placed.append(min(length, max(placed[-1], each or 0)))
    return tuple(
        (key, start, end) for key, (start, end) in zip(keys, pairwise([*placed, length]), strict=True)
    )


def from_captions(composer: Composer, cues: Sequence[Cue], length: int = 0) -> tuple[Entry, ...]:
    """Moments of a recording made elsewhere: each begins where its first words are heard in the captions.

    Parameters
    ----------
    composer : Composer
        The lesson with its moments.
    cues : sequence of Cue
        The recording's captions.
    length : int
        Of the recording in milliseconds, if it is known; else the last caption ends it.
    """
    names = sorted(letters_of(composer.proof))
    telling = composer.telling
    paragraphs, keys = [], []
    for moment in composer.moments:
        said = " ".join(" ".join(telling.spoken(visit) for visit in moment.said).split())
        if said:
            paragraphs.append((Piece(said),))
            keys.append(moment.key)
    script, speech = cut(paragraphs, names), hear(cues, names)
    steps: dict[str, int] = {}
    for placed in align(script.clauses, speech.tokens):
        key = keys[placed.clause.pieces[0]]
        if placed.heard:
            time = _time_of(speech, speech.tokens[placed.heard[0]].start)
            steps[key] = min(time, steps.get(key, time))
    return from_steps(composer, steps, max(length, max((cue.end for cue in cues), default=0)))


def _time_of(speech: Speech, word: int) -> int:
    """When a word is said: its share of its caption's time, by how many words stand before it there."""
    place = speech.at[word]
    number = speech.said[place][1]
    first = place
    while first > 0 and speech.said[first - 1][1] == number:
        first -= 1
    last = place
    while last + 1 < len(speech.said) and speech.said[last + 1][1] == number:
        last += 1
    cue = speech.cues[number]
    return cue.start + (cue.end - cue.start) * (place - first) // (last - first + 1)


def words_of_cues(cues: Sequence[Cue]) -> tuple[Word, ...]:
    """The words of captions made elsewhere with their times, to be cut anew into lines that can be read.

    Parameters
    ----------
    cues : sequence of Cue
        In order.

    Examples
    --------
    >>> words_of_cues([Cue(0, 1000, "one ampere")])
    (Word(text='one', start=0, end=500, first=False), Word(text='ampere', start=500, end=1000, first=False))
    """
    found = []
    for cue in cues:
        words = cue.text.split()
        for number, word in enumerate(words):
            step = cue.end - cue.start
            found.append(
                Word(
                    word,
                    cue.start + step * number // len(words),
                    cue.start + step * (number + 1) // len(words),
                )
            )
    return tuple(found)
