"""What a lesson says, word by word in time: maths kept together, letters with their index, pauses apart.

A timeline tells when each moment begins and ends. Within a moment words take time by their length; a moment that waits
has its silence at the end.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from boardproof.algebra.aloud import spoken
from boardproof.algebra.expression import Line, Name, names_in
from boardproof.kit.compose import Composer
from boardproof.kit.telling import Telling
from boardproof.lesson.sentence import Fill, Maths
from boardproof.picture.moments import Moment
from boardproof.prove.walk import Visit
from boardproof.publish.captions import LINE, Chapter, Word

__all__ = ["chapters_of", "readable", "words_in_time"]

GLUE: Final = "\N{NO-BREAK SPACE}"
INDEX: Final = str.maketrans("0123456789aehijklmnoprstuvx", "₀₁₂₃₄₅₆₇₈₉ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓ")
JOINS: Final = re.compile(r" (?=(?:equals|plus|minus|over|which|all|if|and|times|is)\b)")
QUANTITY: Final = re.compile(
    r"\b(\d[\d.,/]*|half an?|\w+(?: point(?: \w+)+)?) (volt|ampere|ohm|watt|joule|second|coulomb)"
)
BEFORE_A_STOP: Final = re.compile(r"\s+([,.;:!?])")
Entry = tuple[str, int, int]


def words_in_time(composer: Composer, entries: Iterable[Entry]) -> tuple[Word, ...]:
    """Every word that is said, with its time.

    Parameters
    ----------
    composer : Composer
        The lesson with its moments.
    entries : iterable of (str, int, int)
        Key of a moment, its beginning and its end in milliseconds, in order.
    """
    moments = {moment.key: moment for moment in composer.moments}
    pace = composer.proof.course.pace.words_a_minute
    found: list[Word] = []
    scene, apart = -1, True
    for key, start, end in entries:
        moment = moments[key]
        apart = apart or moment.scene != scene or moment.cause in {"pause", "reveal"}
        scene = moment.scene
        words = readable(composer.telling, moment).split(" ")
        if words == [""]:
            continue
        count = sum(len(word.split(GLUE)) for word in words)
        silent = min(end, start + 60_000 * count // pace) if moment.waits else end
        found += _timed(words, start, silent, apart=apart)
        apart = False
    return tuple(found)


def _timed(words: Sequence[str], start: int, end: int, *, apart: bool) -> list[Word]:
    weights = [len(word) + 1 for word in words]
    total, done, made = sum(weights), 0, []
    for number, (word, weight) in enumerate(zip(words, weights, strict=True)):
        begin = start + (end - start) * done // total
        done += weight
        made.append(Word(word, begin, start + (end - start) * done // total, apart and number == 0))
    return made


def readable(telling: Telling, moment: Moment) -> str:
    """What is said at a moment, to be read: "E₁ over r₁"; no-break spaces where a line may not end.

    Parameters
    ----------
    telling : Telling
        The lesson's elements as said.
    moment : Moment
        One of its moments.
    """
    pieces = []
    paragraph: object = None
    for visit in moment.said:
        if paragraph is not None and visit.paragraph is not paragraph:
            pieces.append(" ")
        paragraph = visit.paragraph
        pieces.append(_read(telling, visit))
    text = re.sub(r"[ \t\r\n]+", " ", "".join(pieces)).strip(" ")
    return BEFORE_A_STOP.sub(r"\1", text)


def _read(telling: Telling, visit: Visit) -> str:
    said = telling.spoken(visit)
    match visit.element:
        case Maths(text=text):
            line = telling.line(text, visit.place)
            return _kept(said if line is None else _indexed(line, said))
        case Fill():
            return _kept(said)
        case _:
            return QUANTITY.sub(rf"\1{GLUE}\2", said)


def _indexed(line: Line, said: str) -> str:
    """Letters with their index as they are written, where the ear hears two words."""
    names: set[Name] = {name for tree in (*line.statements, *line.bare) for name in names_in(tree)}
    if line.condition:
        names |= {name for tree in line.condition.statements for name in names_in(tree)}
    for name in sorted(names, key=lambda each: -len(spoken(each))):
        letter, _, index = name.text.partition("_")
        small = index.lower().translate(INDEX)
        if index and not any(each.isascii() for each in small):
            said = re.sub(rf"\b{re.escape(spoken(name))}\b", letter + small, said)
    return said


def _kept(said: str) -> str:
    """An expression in one piece; a long one may be parted before a sign."""
    glued = said.strip().replace(" ", GLUE)
    return (
        glued
        if len(glued) <= LINE // 2
        else JOINS.sub("\n", said.strip()).replace(" ", GLUE).replace("\n", " ")
    )


def chapters_of(composer: Composer, entries: Iterable[Entry]) -> tuple[Chapter, ...]:
    """One chapter a scene.

    Parameters
    ----------
    composer : Composer
        The lesson with its moments.
    entries : iterable of (str, int, int)
        As for `words_in_time`.
    """
    moments = {moment.key: moment for moment in composer.moments}
    times: dict[int, tuple[int, int]] = {}
    for key, start, end in entries:
        scene = moments[key].scene
        times[scene] = (times.get(scene, (start, end))[0], end)
    scenes = composer.proof.lesson.scenes
    return tuple(
        Chapter(scenes[scene].title or composer.proof.lesson.title, start, end)
        for scene, (start, end) in times.items()
    )
