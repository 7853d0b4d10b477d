"""Marking one student's paper: points by the mark scheme, follow-through, and the reason in a sentence.

A mark names the rule that gave it and the versions of question and rules, so it can be found and made again.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from boardproof.algebra.answered_units import expected_unit
from boardproof.algebra.polynomial import RationalFunction
from boardproof.practice.answer_verdict import Expected, Judged, judge_typed, last_figure
from boardproof.practice.follow import Own, carried_on
from boardproof.practice.marking_words import reason
from boardproof.practice.records import Answer, Asked, Mark, Point, Question, Solved, Variant
from boardproof.quantities import AMPERE, COULOMB, FARAD, JOULE, OHM, PURE, SECOND, VOLT, WATT, Dimension
from boardproof.record import record

__all__ = ["RULES", "Policy", "expected_of", "mark_paper", "points_of", "points_typed"]

RULES: Final = "1"  # of marking; a change that may give another mark raises it
UNITS: Final[Mapping[Dimension, str]] = {
    VOLT: "V",
    AMPERE: "A",
    OHM: "Ω",
    WATT: "W",
    JOULE: "J",
    COULOMB: "C",
    FARAD: "F",
    SECOND: "s",
    PURE: "1",
}
WAYS: Final = {
    "along": ("along", "with", "same", "forwards", "forward", "as drawn", "+"),
    "against": ("against", "opposite", "other way", "backwards", "backward", "reversed", "-"),
    "none": ("none", "no current", "nought", "zero", "0"),
}
UNDECIDED: Final = frozenset({"unreadable", "to be decided"})


@record
class Policy:
    """How strictly a course marks.

    Parameters
    ----------
    follow_through : bool
        Whether an earlier slip is carried on.
    figures : {"ignore", "warn", "strict"}
        Of significant figures.
    half_units : Fraction
        How many units of the last figure asked for a number may be off.
    unit_required : bool
        Whether a unit must stand there where none is printed.
    """

    follow_through: bool = True
    figures: str = "warn"
    half_units: Fraction = Fraction(1, 2)
    unit_required: bool = True


def points_of(asked: Asked) -> tuple[Point, ...]:
    """The mark scheme of a part; method first, accuracy last, where none is written.

    Parameters
    ----------
    asked : Asked
        The part.
    """
    if asked.points:
        return asked.points
    return (*(Point("M1", "method") for _ in range(asked.marks - 1)), Point("A1", "answer"))


def points_typed(text: str, points: Sequence[Point]) -> tuple[int, ...] | None:
    """The points that a teacher typed as ``M1 A0``, in the scheme's order; None if it is no such entry.

    Parameters
    ----------
    text : str
        What stands in the grid.
    points : sequence of Point
        The mark scheme.

    Examples
    --------
    >>> points_typed("m1 a0", (Point("M1", "method"), Point("A1", "answer")))
    (1, 0)
    """
    if not re.fullmatch(r"\s*(?:[MABmab]\s*\d\s*[,;]?\s*)+", text):
        return None
    typed = [(letter.upper(), int(count)) for letter, count in re.findall(r"([MABmab])\s*(\d)", text)]
    given = []
    for point in points:
        at = next((at for at, each in enumerate(typed) if each[0] == point.letter[:1]), None)
        given.append(typed.pop(at)[1] if at is not None else 0)
    fits = not typed and all(0 <= count <= _worth(point) for count, point in zip(given, points, strict=True))
    return tuple(given) if fits else None


def _worth(point: Point) -> int:
    return int(point.letter[1:] or 1)


def expected_of(asked: Asked, value: Fraction | RationalFunction, policy: Policy) -> Expected:
    """What a typed answer is compared with.

    Parameters
    ----------
    asked : Asked
        The part.
    value : Fraction or RationalFunction
        The key, or what follows from the student's own earlier answer.
    policy : Policy
        The course's.
    """
    if isinstance(value, RationalFunction):
        letters = tuple(sorted({*asked.letters, *value.letters}))
        return Expected("expression", latex=repr(value), symbols=letters, unit_required=False)
    unit = asked.unit or UNITS.get(asked.dimension, "1")
    scale = _scale(unit)
    shown = value / scale
    return Expected(
        "number",
        shown,
        unit,
        asked.figures,
        policy.half_units * last_figure(shown, asked.figures),
        unit_required=policy.unit_required and not asked.unit,
        figures=policy.figures,
    )


def _scale(unit: str) -> Fraction:
    """Times this, a number in the unit is in SI units."""
    return expected_unit(unit).scale


def mark_paper(
    questions: Sequence[Question],
    variants: Sequence[Variant],
    answers: Sequence[Answer],
    policy: Policy | None = None,
) -> tuple[Mark, ...]:
    """Marks for all that one student gave on one paper.

    Parameters
    ----------
    questions, variants : sequences
        Of the paper, in order.
    answers : sequence of Answer
        At most one for each part; a part without one is not marked.
    policy : Policy, optional
        The course's.

    Notes
    -----
    What cannot be read has the verdict "unreadable" and no points yet; answers in words are "to be decided".
    """
    policy = policy or Policy()
    given = {(each.question, each.part): each for each in answers}
    found: list[Mark] = []
    for number, (question, variant) in enumerate(zip(questions, variants, strict=True), 1):
        own: dict[str, tuple[Fraction, bool]] = {}
        for asked, solved in zip(question.parts, variant.parts, strict=True):
            answer = given.get((str(number), asked.label))
            if answer is not None:
                found.append(_Part(question, variant, asked, solved, policy).mark(answer, own))
    return tuple(found)


class _Part:
    """One part of one student's question."""

    def __init__(
        self, question: Question, variant: Variant, asked: Asked, solved: Solved, policy: Policy
    ) -> None:
        self.question, self.variant = question, variant
        self.asked, self.solved, self.policy = asked, solved, policy
        self.points = points_of(asked)

    def mark(self, answer: Answer, own: dict[str, tuple[Fraction, bool]]) -> Mark:
        """The mark; notes the student's own value for the parts behind it."""
        if answer.state not in {"given", "late"} or not answer.typed.strip():
            state = "blank" if answer.state in {"given", "late"} else answer.state
            return self.made(answer, [0] * len(self.points), state, state)
        by_hand = points_typed(answer.typed, self.points)
        if by_hand is not None and self.asked.form not in {"choice", "expression"}:
            return self.made(answer, list(by_hand), "by hand", "by hand", decided_by="teacher")
        judged = self.judged(answer.typed)
        carried: dict[str, Fraction] = {}
        if judged.label not in {"right", "right_but_figures", *UNDECIDED}:
            again, carried = self.followed(answer.typed, own)
            judged = again or judged
        if self.asked.form == "number" and isinstance(judged.value, Fraction):
            right = judged.label in {"right", "right_but_figures"} and not carried
            own[self.asked.label] = (judged.value * _scale(self.unit), right)
        beliefs = () if judged.label in {"right", "right_but_figures"} else self.believers(answer.typed)
        given = self.given(judged.label)
        rule = "follow-through" if carried else judged.label
        return self.made(answer, given, judged.label, rule, beliefs=beliefs, carried=carried)

    @property
    def unit(self) -> str:
        return self.asked.unit or UNITS.get(self.asked.dimension, "1")

    def judged(self, typed: str) -> Judged:
        key = self.solved.key
        match self.asked.form:
            case "number" | "expression" if isinstance(key, Fraction | RationalFunction):
                return _exactly(
                    judge_typed(typed, expected_of(self.asked, key, self.policy)), key, _scale(self.unit)
                )
            case "choice":
                return _letter(typed, str(key), {each.letter for each in self.solved.options})
            case "arrow":
                return _way(typed, str(key))
            case "ranking" if isinstance(key, tuple):
                return _ranked(typed, key)
            case _:
                return Judged("unreadable", reason="a person decides")

    def followed(
        self, typed: str, own: Mapping[str, tuple[Fraction, bool]]
    ) -> tuple[Judged | None, dict[str, Fraction]]:
        """The verdict against what follows from the student's own wrong answers before this part."""
        circuit = self.question.circuit
        wrong = {label: own[label][0] for label in self.asked.after if label in own and not own[label][1]}
        numeric = isinstance(self.solved.key, Fraction) and self.asked.form == "number" and self.asked.ask
        if not (self.policy.follow_through and wrong and numeric and circuit is not None):
            return None, {}
        refs = {each.label: each.ask[0] for each in self.question.parts if each.ask}
        before = [Own(refs[label], value) for label, value in wrong.items() if label in refs]
        values = {**circuit.values, **self.variant.draw}
        for value in carried_on(circuit, values, self.asked.ask[0], before):
            judged = judge_typed(typed, expected_of(self.asked, value, self.policy))
            if judged.label in {"right", "right_but_figures", "unit_missing"}:
                return judged, wrong
        return None, {}

    def believers(self, typed: str) -> tuple[str, ...]:
        """Whose answer it is exactly."""
        if self.asked.form == "choice":
            letter = _chosen(typed)
            return next((each.beliefs for each in self.solved.options if each.letter == letter), ())
        found = []
        for belief, value in self.solved.wrong.items():
            if isinstance(value, Fraction | RationalFunction):
                judged = judge_typed(typed, expected_of(self.asked, value, self.policy))
                if judged.label in {"right", "right_but_figures", "unit_missing"}:
                    found.append(belief)
            elif isinstance(value, tuple):
                found += [belief] if _ranked(typed, value).label == "right" else []
            elif value and _way(typed, value).label == "right":
                found.append(belief)
        return tuple(found)

    def given(self, label: str) -> list[int]:
        """Points for a verdict: a slip costs the last accuracy mark and no more."""
        full = [_worth(each) for each in self.points]
        if label == "right" or (label == "right_but_figures" and self.policy.figures != "strict"):
            return full
        if label in {"right_but_figures", "unit_missing", "power_of_ten", "sign", "near_miss"}:
            return [*full[:-1], full[-1] - 1]
        return [0] * len(full)

    def made(
        self,
        answer: Answer,
        given: Sequence[int],
        verdict: str,
        rule: str,
        *,
        beliefs: tuple[str, ...] = (),
        carried: Mapping[str, Fraction] = MappingProxyType({}),
        decided_by: str = "rule",
    ) -> Mark:
        verdict = (
            "to be decided" if verdict == "unreadable" and self.asked.form in {"words", "shown"} else verdict
        )
        told = reason(verdict, self.solved.shown, carried=tuple(carried), alone=len(self.points) == 1)
        points = tuple(
            (point.letter, count, _worth(point), told)
            for point, count in zip(self.points, given, strict=True)
        )
        versions = {"question": self.question.version, "rules": RULES}
        text = "|".join(
            (answer.paper, answer.question, answer.part, answer.typed, answer.state, *versions.values(), rule)
        )
        return Mark(
            hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:12],
            answer,
            points,
            verdict,
            beliefs,
            MappingProxyType(dict(carried)),
            rule,
            MappingProxyType(versions),
            "teacher" if decided_by == "teacher" else "rule",
        )


def _exactly(judged: Judged, key: Fraction | RationalFunction, scale: Fraction) -> Judged:
    """An answer that is exactly the key needs no noughts behind it: 1 A where 1.00 A would do."""
    exact = isinstance(judged.value, Fraction) and judged.value * scale == key
    return Judged("right", judged.value) if exact and judged.label == "right_but_figures" else judged


def _chosen(typed: str) -> str:
    found = re.fullmatch(r"\W*(?:(?:option|answer|choice)\s+)?([A-Za-z])\W*", typed.strip())
    return found[1].upper() if found else ""


def _letter(typed: str, key: str, options: set[str]) -> Judged:
    letter = _chosen(typed)
    if letter not in options | {key}:
        return Judged("unreadable", reason="it is none of the letters")
    return Judged("right" if letter == key else "wrong")


def _way(typed: str, key: str) -> Judged:
    said = typed.strip().lower().rstrip(".!?")
    found = [way for way, words in WAYS.items() if said in words]
    if len(found) != 1:
        return Judged("unreadable", reason="it is no direction that I know")
    return Judged("right" if found[0] == key else "wrong")


def _ranked(typed: str, key: tuple[str, ...]) -> Judged:
    """Names in order, largest first, equal ones joined by an equals sign."""
    text = re.sub(r"(?i)\bthen\b|\band\b|>|;", ",", typed)
    groups = [
        sorted(re.sub(r"[\s_{}]", "", name).lower() for name in each.split("=")) for each in text.split(",")
    ]
    wanted = [sorted(re.sub(r"[\s_{}]", "", name).lower() for name in each.split("=")) for each in key]
    names = {name for group in wanted for name in group}
    if {name for group in groups for name in group} != names:
        return Judged("unreadable", reason="it does not name each thing once")
    return Judged("right" if groups == wanted else "wrong")
