"""Numbers with a unit in plain words: what is said, how it is compared, and whether it is of another circuit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from boardproof.algebra.expression import (
    Comparison,
)
from boardproof.algebra.number_words import SaidNumber, said_numbers
from boardproof.prove.clause import Sentence
from boardproof.prove.walk import Visit
from boardproof.quantities import (
    SECOND,
)
from boardproof.record import record
from boardproof.source import Span

__all__ = ["LooseNumber", "said_in"]

DENIED: Final = re.compile(
    r"(?i)(?:\b(?:not|never|no longer|rather than|instead of)|n['’]t)(?:\s+(?:the|just|a|an|say|yet))?\s*$"
)
# Words that tell of another circuit than the one at hand, or of what somebody only thinks.
ELSEWHERE: Final = re.compile(
    r"(?i)\b(?:was|were|had|would|could|might|should|before|earlier|instead|alone|used to|without|previous(?:ly)?"
    r"|yesterday|against|until|guess|think|thinks|expect|says)\b|\bfrom\s*$"
)
FROM: Final = re.compile(r"^(.*)\bfrom\s[^;:.]*?[0-9]")
COMPARED: Final[tuple[tuple[Comparison, re.Pattern[str]], ...]] = (
    (
        "≤",
        re.compile(r"(?i)\b(?:(?:no|not) (?:more|higher|larger|greater) than|at most|up to)\s+(?:the\s+)?$"),
    ),
    ("≥", re.compile(r"(?i)\b(?:(?:no|not) (?:less|lower|smaller) than|at least)\s+(?:the\s+)?$")),
    ("<", re.compile(r"(?i)\b(?:less than|lower than|smaller than|below|under|short of)\s+(?:the\s+)?$")),
    (">", re.compile(r"(?i)\b(?:more than|higher than|larger than|greater than|above|over)\s+(?:the\s+)?$")),
    (
        "≈",
        re.compile(
            r"(?i)(?:\b(?:about|roughly|nearly|almost|around|some|approximately|close to)\s+|≈\s*)(?:an?\s+)?$"
        ),
    ),
)


@record
class LooseNumber:
    """A number in plain words: what was said, where, its clause, and what that says ahead of it and behind."""

    said: SaidNumber
    typed: str
    span: Span
    visit: Visit
    clause: str
    ahead: str
    behind: str

    @property
    def sign(self) -> Comparison:
        """How it is compared: "about", "less than", "more than", else as equal."""
        return next((sign for sign, words in COMPARED if words.search(self.ahead)), "=")

    @property
    def is_elsewhere(self) -> bool:
        """Whether the clause tells of another circuit than the one at hand."""
        return ELSEWHERE.search(self.ahead) is not None


def said_in(sentence: Sentence, decimal: str) -> Iterator[LooseNumber]:
    """Numbers with a unit in the plain words of a paragraph that state something.

    Parameters
    ----------
    sentence : Sentence
        The paragraph.
    decimal : str
        The course's decimal mark.
    """
    numbers = [said for said in said_numbers(sentence.text, decimal) if said.unit.dimension != SECOND]
    ends = [0, *(said.end for said in numbers)]
    starts = [*(said.start for said in numbers[1:]), len(sentence.text)]
    for said, ended, following in zip(numbers, ends, starts, strict=False):
        start, end = sentence.clause(said.start)
        ahead = sentence.text[max(start, ended) : said.start]
        if ahead.strip() == "to" and (rise := FROM.search(sentence.text[start:ended])):
            ahead = rise[
                1
            ]  # "the current rises from 1 A to 2 A": what is said of it holds for the second number
        if sentence.is_condition(said.start) or sentence.is_quoted(said.start) or DENIED.search(ahead):
            continue
        if sentence.is_asked(said.start):
            continue
        yield LooseNumber(
            said,
            sentence.text[said.start : said.end],
            sentence.span(said.start, said.end),
            sentence.visit_at(said.start),
            sentence.words_between(start, end),
            ahead,
            sentence.text[said.end : min(end, following)],
        )
