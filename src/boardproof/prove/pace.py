"""How long a lesson takes to say at the course's pace, pauses included, and where it could be cut."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from boardproof.algebra.aloud import spoken
from boardproof.algebra.written import read_line
from boardproof.findings import Finding
from boardproof.lesson.course import Course
from boardproof.lesson.model import Pause
from boardproof.lesson.said import word_count
from boardproof.lesson.sentence import Fill, Maths, Tie, Words
from boardproof.prove.kinds import finding
from boardproof.prove.walk import Visit, Walk
from boardproof.prove.worlds import Worlds
from boardproof.source import Span

__all__ = ["long_lesson", "scene_seconds"]

WORDS_IN_A_VALUE: Final = 3
SILENT: Final = frozenset({"stem", "printed"})


def scene_seconds(walk: Walk, worlds: Worlds, course: Course) -> tuple[Fraction, ...]:
    """Seconds that each scene takes; lines on the board are written while the words beside them are said.

    Parameters
    ----------
    walk : Walk
        The lesson.
    worlds : Worlds
        Made for its definitions.
    course : Course
        Its pace and decimal mark.
    """
    seconds = [Fraction(0)] * len(walk.lesson.scenes)
    for visit in walk.visits:
        if isinstance(visit.element, Pause):
            seconds[visit.place.scene] += visit.element.seconds
        elif visit.role not in SILENT and visit.paragraph is not None and visit.paragraph.said:
            words = _words(visit, worlds, course.notation.mark)
            seconds[visit.place.scene] += Fraction(60 * words, course.pace.words_a_minute)
    return tuple(seconds)


def _words(visit: Visit, worlds: Worlds, decimal: str) -> int:
    match visit.element:
        case Words(text=text):
            return word_count(text)
        case Tie(words=words):
            return word_count(words.text)
        case Fill():
            return WORDS_IN_A_VALUE
        case Maths(text=text):
            line, _ = read_line(text, known=worlds.known(visit.place.circuit), decimal=decimal)
            return word_count(spoken(line)) if line else 0
        case _:
            return 0


def long_lesson(walk: Walk, worlds: Worlds, course: Course) -> Finding | None:
    """The finding that a lesson is longer than the course's longest, with its most natural cut.

    Parameters
    ----------
    walk, worlds, course
        As for `scene_seconds`.

    Returns
    -------
    Finding or None
        The cut is the scene that begins nearest to half time.
    """
    seconds = scene_seconds(walk, worlds, course)
    whole = sum(seconds, Fraction(0))
    if whole <= 60 * course.pace.longest_lesson:
        return None
    begun = [sum(seconds[:number], Fraction(0)) for number in range(len(seconds))]
    cut = min(range(1, len(seconds)), key=lambda number: abs(begun[number] - whole / 2), default=0)
    source = walk.lesson.source
    start = source.text.find("# ")
    end = source.text.find("\n", start)
    facts = {"time": _time(whole), "longest": f"{course.pace.longest_lesson} min"}
    if cut:
        facts["line"] = str(source.position(walk.lesson.scenes[cut].span.start)[0])
    return finding("long-lesson", Span(source.name, max(start, 0), max(end, 1)), facts=facts)


def _time(seconds: Fraction) -> str:
    minutes, rest = divmod(round(seconds / 15) * 15, 60)
    return f"{minutes} min" + (f" {rest} s" if rest else "")
