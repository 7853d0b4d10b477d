"""Sentences as running text: where a clause begins and ends, what is quoted, asked, or said under a condition.

Maths or a number after *if, when, unless, suppose, let, whether* is a condition: not judged.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Final

from boardproof.algebra.latex import plain_signs
from boardproof.algebra.name import ONE_NAME, normal_name
from boardproof.algebra.number_words import said_numbers
from boardproof.algebra.refusal import Stopped
from boardproof.lesson.sentence import Maths, Words
from boardproof.prove.walk import Element, Visit
from boardproof.source import Span

__all__ = ["Sentence"]

HOLE: Final = "\ufffc"
# A full stop ends a clause, but not that of "p.d." or "e.m.f." before a small letter, a number or maths.
BOUNDARY: Final = re.compile(
    r"[,;:!?()—–](?=\s|$)|(?<!p\.d)(?<!e\.m\.f)(?<!i\.e)(?<!e\.g)\.(?=\s|$)|(?<=p\.d|m\.f)\.(?=\s+[A-Z][a-z]|$)|\s—\s"
)
SENTENCE: Final = re.compile(r"[;!?](?=\s|$)|(?<!p\.d)(?<!e\.m\.f)(?<!i\.e)(?<!e\.g)\.(?=\s|$)")
CONDITION: Final = re.compile(r"(?i)\b(?:if|when|unless|suppose|let|whether|provided)\b")
STATED: Final = re.compile(
    r"(?i)\b(?:then|we (?:get|have|find|obtain|see)|(?:this|that|it) (?:gives|makes|means|leaves|comes))\b"
)
MANY: Final = rf"{HOLE}(?:\s+and\s+{HOLE})*"
ATTACHED: Final = re.compile(
    rf"\s*,?\s+(?:(?:only|exactly)\s+)?(?:if|when|whenever|for|as long as|provided(?:\s+that)?)\s+(?:all\s+)?({MANY})"
)
RIGHT: Final = re.compile(r"(?i)\b(?:right|true|correct|holds?)\b")
EVEN: Final = re.compile(r"(?i)\b(?:even|wrong|not|never|false)\b")
HERE: Final = re.compile(r"\s+here\b")
SUPPOSED: Final = re.compile(r"(?i)\b(?:suppose|let|assume)\b")
SUPPOSING: Final = re.compile(
    r"(?i)\b(?:for|with|at|assum(?:e|ing)|tak(?:e|ing)|set(?:ting)?|mak(?:e|ing)|choos(?:e|ing)|put(?:ting)?|say)"
    r"\s+(?:all\s+)?$|\b(?:match|choose|set|take|special case)\b[^.;!?]*:\s*$"
)
NUMBER: Final = re.compile(r"\s*[0-9][^=<>≈+*/^()]*$")
OPENED, CLOSED = "“‘«", "”’»"


@dataclass(frozen=True)
class Sentence:
    """A paragraph as running text, with a hole for each element that is not plain words.

    Parameters
    ----------
    text : str
        The words, holes included.
    visits : tuple of Visit
        Its elements.
    starts : tuple of int
        Where each element begins in `text`.
    """

    text: str
    visits: tuple[Visit, ...]
    starts: tuple[int, ...]

    @classmethod
    def of(cls, visits: Sequence[Visit]) -> Sentence:
        """Join the visits of one paragraph."""
        text, starts = "", []
        for visit in visits:
            starts.append(len(text))
            text += (
                visit.element.text
                if isinstance(visit.element, Words)
                else _bare_number(visit.element) or HOLE
            )
        return cls(text, tuple(visits), tuple(starts))

    def words_between(self, start: int, end: int) -> str:
        """A stretch of the text; maths that is one name stands in it as that name."""
        shown = ""
        for at in range(start, end):
            maths = self.maths_at({at})
            typed = maths[0].text.text.strip() if maths else ""
            shown += f" {normal_name(typed)} " if ONE_NAME.fullmatch(typed) else self.text[at]
        return shown

    def clause(self, at: int) -> tuple[int, int]:
        """Beginning and end of the clause around a point."""
        start = max((match.end() for match in BOUNDARY.finditer(self.text, 0, at)), default=0)
        after = BOUNDARY.search(self.text, at)
        return start, after.start() if after else len(self.text)

    def is_condition(self, at: int) -> bool:
        """Whether a condition word stands before this point in its clause, and what follows from it doesn't."""
        said = CONDITION.search(self.text, self.clause(at)[0], at)
        if said is not None:
            return STATED.search(self.text, said.end(), at) is None
        return any(
            at in _holes(match)
            for match in ATTACHED.finditer(self.text)
            if self.text[match.start() - 1 : match.start()] == HOLE
        )

    def said_under(self, at: int) -> tuple[tuple[Maths, ...], bool]:
        """The maths of the condition that the maths at a point is said under, and whether it surely belongs to it.

        It stands behind ("... if $r_1 = r_2$"), ahead in the same sentence ("If $R = r$, then ..."), or was
        supposed earlier in the paragraph.
        """
        behind = ATTACHED.match(self.text, at + 1)
        if behind:
            return self.maths_at(_holes(behind)), True
        sentence = max((match.end() for match in SENTENCE.finditer(self.text, 0, at)), default=0)
        ahead = [start for start in self.starts if start < at and self.text[start] == HOLE]
        here = [start for start in ahead if start >= sentence]
        if conditions := [start for start in here if self.is_condition(start)]:
            return self.maths_at(conditions), True
        supposed = [start for start in here if self.may_suppose(start)] or [
            start
            for start in ahead
            if self.is_condition(start) and SUPPOSED.search(self.text, *self.clause(start))
        ]
        return self.maths_at(supposed), False

    def says_when_right(self, at: int) -> bool:
        """Whether the sentence says when something would be right after all."""
        start = max((match.end() for match in SENTENCE.finditer(self.text, 0, at)), default=0)
        return RIGHT.search(self.text, start, at) is not None and EVEN.search(self.text, start, at) is None

    def conditions_beside(self, at: int) -> tuple[Maths, ...]:
        """Every condition in the clause around a point."""
        start, end = self.clause(at)
        return self.maths_at(
            [each for each in self.starts if start <= each < end and self.is_condition(each)]
        )

    def is_here(self, at: int) -> bool:
        """Whether "here" stands right behind the maths at a point."""
        return HERE.match(self.text, at + 1) is not None

    def may_suppose(self, at: int) -> bool:
        """Whether "for" or "with" stands right ahead of a point."""
        return SUPPOSING.search(self.text[:at]) is not None

    def maths_at(self, holes: Collection[int]) -> tuple[Maths, ...]:
        """The maths that stands in some holes."""
        found = (self.visits[n].element for n, start in enumerate(self.starts) if start in holes)
        return tuple(each for each in found if isinstance(each, Maths))

    def is_quoted(self, at: int) -> bool:
        """Whether this point stands within quotation marks."""
        before = self.text[:at]
        straight = before.count('"') % 2 == 1
        curly = sum(char in OPENED for char in before.replace("‘", "")) > sum(
            char in CLOSED for char in before.replace("’", "")
        )
        return straight or curly

    def is_asked(self, at: int) -> bool:
        """Whether this point stands in a question."""
        end = SENTENCE.search(self.text, at)
        return end is not None and end[0] == "?"

    def span(self, start: int, end: int) -> Span:
        """The place in the lesson of a stretch of plain words."""
        number = max(n for n, begin in enumerate(self.starts) if begin <= start)
        words, place = self.visits[number].element, self.visits[number].span
        if isinstance(words, Maths):
            return words.text.span
        assert place is not None
        if isinstance(words, Words) and len(words.text) == place.end - place.start:
            inner = self.starts[number]
            return Span(place.source, place.start + start - inner, place.start + end - inner)
        return place

    def visit_at(self, at: int) -> Visit:
        """The element that holds a point."""
        return self.visits[max(n for n, begin in enumerate(self.starts) if begin <= at)]


def _bare_number(element: Element) -> str:
    """Maths that is nothing but a number with its unit, as words; empty for any other."""
    if not isinstance(element, Maths) or not NUMBER.match(element.text.text):
        return ""
    try:
        plain = " ".join(plain_signs(element.text).text.split())
    except Stopped:
        return ""
    said = said_numbers(plain, ",") or said_numbers(plain, ".")
    return plain if len(said) == 1 and (said[0].start, said[0].end) == (0, len(plain)) else ""


def _holes(match: re.Match[str]) -> frozenset[int]:
    return frozenset(match.start(1) + n for n, sign in enumerate(match[1]) if sign == HOLE)
