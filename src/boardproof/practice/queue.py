"""What waits for the teacher: answers that can't be read, and answers in words; alike ones are decided once."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from boardproof.practice.records import Answer, Mark
from boardproof.record import record

__all__ = ["Decision", "Waiting", "applied", "decisions_in", "key_of", "queue_of", "with_readings", "written"]

WAITS: Final = frozenset({"unreadable", "to be decided"})
ALIKE: Final = 0.6
EMPTY: Final = frozenset(
    re.findall(
        r"\w+", "a an and are as at be because but by for from in is it of on or so that the this to was with"
    )
)
NEGATIVES: Final = frozenset(
    {"not", "no", "never", "less", "more", "smaller", "larger", "same", "rises", "falls"}
)


@record
class Waiting:
    """Answers that are decided together.

    Parameters
    ----------
    question, part : str
        Of the paper.
    key : str
        What makes them alike.
    typed : tuple of str
        The different wordings, most frequent first.
    answers : tuple of Answer
        All of them.
    """

    question: str
    part: str
    key: str
    typed: tuple[str, ...]
    answers: tuple[Answer, ...]


@record
class Decision:
    """What the teacher decided, once for all alike.

    Parameters
    ----------
    question, part, key : str
        Which answers.
    reads : str
        What they mean, to be marked as if typed so; empty if points are given.
    points : tuple of int or None
        In the scheme's order.
    words : str
        The reason that the student reads.
    """

    question: str
    part: str
    key: str
    reads: str = ""
    points: tuple[int, ...] | None = None
    words: str = ""


def key_of(typed: str) -> str:
    """The answer without case, spacing and marks at its end: what is equal so is decided once.

    Parameters
    ----------
    typed : str
        As typed.

    Examples
    --------
    >>> key_of("  1.5   Amps, I reckon!! ") == key_of("1.5 amps, i reckon")
    True
    """
    return re.sub(r"\s+", " ", unicodedata.normalize("NFKC", typed)).strip(" .!?").casefold()


def _words(typed: str) -> frozenset[str]:
    """The words that say something, without endings."""
    found = re.findall(r"[^\W\d_]+|\d+", key_of(typed))
    return frozenset(
        each if each in NEGATIVES else re.sub(r"(?:ing|ed|es|s)$", "", each)
        for each in found
        if each not in EMPTY
    )


def _alike(one: frozenset[str], other: frozenset[str]) -> bool:
    """Whether two answers share most of their words, and all those that turn a meaning round."""
    if one & NEGATIVES != other & NEGATIVES or not one or not other:
        return one == other
    return len(one & other) / len(one | other) >= ALIKE


def queue_of(marks: Iterable[Mark]) -> tuple[Waiting, ...]:
    """The answers that wait, grouped: the same unreadable text, or answers in words that say much the same.

    Parameters
    ----------
    marks : iterable of Mark
        Of any number of papers.
    """
    groups: dict[tuple[str, str], list[tuple[frozenset[str] | str, list[Answer]]]] = {}
    for mark in marks:
        if mark.verdict not in WAITS:
            continue
        answer = mark.answer
        here = groups.setdefault((answer.question, answer.part), [])
        in_words = mark.verdict == "to be decided"
        own: frozenset[str] | str = _words(answer.typed) if in_words else key_of(answer.typed)
        for key, answers in here:
            if (isinstance(own, str) and own == key) or (
                isinstance(own, frozenset) and isinstance(key, frozenset) and _alike(own, key)
            ):
                answers.append(answer)
                break
        else:
            here.append((own, [answer]))
    return tuple(
        _waiting(question, part, answers)
        for (question, part), found in groups.items()
        for _, answers in sorted(found, key=lambda each: -len(each[1]))
    )


def _waiting(question: str, part: str, answers: Sequence[Answer]) -> Waiting:
    counts: dict[str, int] = {}
    for each in answers:
        counts[each.typed] = counts.get(each.typed, 0) + 1
    typed = tuple(sorted(counts, key=lambda each: (-counts[each], each)))
    return Waiting(question, part, key_of(typed[0]), typed, tuple(answers))


def with_readings(
    answers: Iterable[Answer], waiting: Sequence[Waiting], decided: Sequence[Decision]
) -> tuple[Answer, ...]:
    """The answers, those that the teacher read typed as decided.

    Parameters
    ----------
    answers : iterable of Answer
        All.
    waiting : sequence of Waiting
        The groups that were shown.
    decided : sequence of Decision
        What the teacher decided.
    """
    reads = {
        (group.question, group.part, key_of(typed)): each.reads
        for each in decided
        if each.reads
        for group in _groups(waiting, each)
        for typed in group.typed
    }
    return tuple(
        replace(each, typed=reads.get((each.question, each.part, key_of(each.typed)), each.typed))
        for each in answers
    )


def _groups(waiting: Sequence[Waiting], decision: Decision) -> list[Waiting]:
    return [
        each
        for each in waiting
        if (each.question, each.part) == (decision.question, decision.part)
        and decision.key in {each.key, *map(key_of, each.typed)}
    ]


def applied(
    marks: Iterable[Mark], waiting: Sequence[Waiting], decided: Sequence[Decision]
) -> tuple[Mark, ...]:
    """The marks, those in decided groups with the teacher's points; the mark before is kept by its id.

    Parameters
    ----------
    marks : iterable of Mark
        All.
    waiting : sequence of Waiting
        Their groups.
    decided : sequence of Decision
        What the teacher decided.
    """
    by_answer = {
        (answer.paper, answer.question, answer.part): each
        for each in decided
        if each.points is not None
        for group in _groups(waiting, each)
        for answer in group.answers
    }
    found = []
    for mark in marks:
        decision = by_answer.get((mark.answer.paper, mark.answer.question, mark.answer.part))
        if decision is None or decision.points is None or mark.verdict not in WAITS:
            found.append(mark)
            continue
        told = decision.words or "Marked by your teacher."
        given = [*decision.points, *[0] * len(mark.points)]
        points = tuple(
            (letter, min(count, of), of, told)
            for (letter, _, of, _), count in zip(mark.points, given, strict=False)
        )
        found.append(
            replace(
                mark,
                id=f"{mark.id}-{sum(given)}",
                points=points,
                verdict="decided",
                rule="decided once for all alike",
                decided_by="teacher",
                replaces=mark.id,
            )
        )
    return tuple(found)


def written(decided: Iterable[Decision]) -> str:
    """Decisions as lines of JSON.

    Parameters
    ----------
    decided : iterable of Decision
        In order.
    """
    rows = (
        {
            "question": each.question,
            "part": each.part,
            "key": each.key,
            "reads": each.reads,
            "points": each.points,
            "words": each.words,
        }
        for each in decided
    )
    return "".join(json.dumps(row, ensure_ascii=False) + "\n" for row in rows)


def decisions_in(text: str) -> tuple[Decision, ...]:
    """Decisions from lines of JSON; a line that is none is passed over.

    Parameters
    ----------
    text : str
        Of the file.

    Examples
    --------
    >>> made = (Decision("1", "a", "1.5 amps i reckon", reads="1.5 A"),)
    >>> decisions_in(written(made)) == made
    True
    """
    found = []
    for line in text.splitlines():
        try:
            row = json.loads(line)
            points = None if row.get("points") is None else tuple(int(each) for each in row["points"])
            texts = {name: str(row.get(name, "")) for name in ("question", "part", "key", "reads", "words")}
        except (ValueError, AttributeError, TypeError, RecursionError):
            continue
        found.append(Decision(**texts, points=points))
    return tuple(found)
