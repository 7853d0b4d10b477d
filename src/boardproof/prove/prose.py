"""Sentences: where a clause begins and ends, what is quoted or said under a condition, and numbers in plain words.

A number with a unit in a sentence is tied to a quantity named in its own clause, or to a value that is given or was
proved; else it is loose. Maths or a number after *if, when, unless, suppose, let, whether* is a condition: not judged.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.algebra.expression import Number
from boardproof.algebra.number_words import SaidNumber, said_numbers
from boardproof.circuit.implied import Resolved
from boardproof.circuit.model import Circuit, leaves
from boardproof.circuit.phrases import read_phrase
from boardproof.lesson.model import Words
from boardproof.prove.walk import Visit
from boardproof.prove.world import World
from boardproof.quantities import PURE, Dimension, Style, agrees, shown
from boardproof.source import Slice, Span

__all__ = [
    "SUBSCRIPTED",
    "LooseNumber",
    "Sentence",
    "equal_values",
    "named_quantity",
    "said_as_number",
    "said_in",
]

HOLE: Final = "\ufffc"
BOUNDARY: Final = re.compile(r"[,;:!?()—–](?=\s|$)|\.(?=\s|$)|\s—\s")
CONDITION: Final = re.compile(r"(?i)\b(?:if|when|unless|suppose|let|whether|provided)\b")
OPENED, CLOSED = "“‘«", "”’»"
SUBSCRIPTED: Final = re.compile(r"(?<![\w$\\{])[A-Za-zεℰ]_(?:\{[\w.]+\}|[A-Za-z]+|\d+(?:\.\d+)*)")
QUANTITY: Final = re.compile(
    r"(?i)\b(short[- ]circuit current|current|terminal p\.?d\.?|p\.?d\.?|e\.?m\.?f\.?|internal resistance|resistance)"
    r"\s+(of|in|through|across|round)\s+(?:the\s+)?(\w[\w.]*)"
)
FORMS: Final = {
    "current": "current in {0}",
    "short-circuit current": "short-circuit current of {0}",
    "pd": "p.d. across {0}",
    "terminal pd": "terminal p.d. of {0}",
    "emf": "emf of {0}",
    "resistance": "resistance of {0}",
    "internal resistance": "resistance of {0}",
}


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
            text += visit.element.text if isinstance(visit.element, Words) else HOLE
        return cls(text, tuple(visits), tuple(starts))

    def clause(self, at: int) -> tuple[int, int]:
        """Beginning and end of the clause around a point."""
        start = max((match.end() for match in BOUNDARY.finditer(self.text, 0, at)), default=0)
        after = BOUNDARY.search(self.text, at)
        return start, after.start() if after else len(self.text)

    def is_condition(self, at: int) -> bool:
        """Whether a condition word stands before this point in its clause."""
        return CONDITION.search(self.text, self.clause(at)[0], at) is not None

    def is_quoted(self, at: int) -> bool:
        """Whether this point stands within quotation marks."""
        before = self.text[:at]
        straight = before.count('"') % 2 == 1
        curly = sum(char in OPENED for char in before.replace("‘", "")) > sum(
            char in CLOSED for char in before.replace("’", "")
        )
        return straight or curly

    def span(self, start: int, end: int) -> Span:
        """The place in the lesson of a stretch of plain words."""
        number = max(n for n, begin in enumerate(self.starts) if begin <= start)
        words, place = self.visits[number].element, self.visits[number].span
        assert place is not None
        if isinstance(words, Words) and len(words.text) == place.end - place.start:
            inner = self.starts[number]
            return Span(place.source, place.start + start - inner, place.start + end - inner)
        return place

    def visit_at(self, at: int) -> Visit:
        """The element that holds a point."""
        return self.visits[max(n for n, begin in enumerate(self.starts) if begin <= at)]


@dataclass(frozen=True, slots=True)
class LooseNumber:
    """A number in plain words: what was said, where, and the quantity its clause names, if any."""

    said: SaidNumber
    typed: str
    span: Span
    visit: Visit
    clause: str


def said_in(sentence: Sentence, decimal: str) -> Iterator[LooseNumber]:
    """Numbers with a unit in the plain words of a paragraph that state something.

    Parameters
    ----------
    sentence : Sentence
        The paragraph.
    decimal : str
        The course's decimal mark.
    """
    for said in said_numbers(sentence.text, decimal):
        if sentence.is_condition(said.start) or sentence.is_quoted(said.start):
            continue
        start, end = sentence.clause(said.start)
        yield LooseNumber(
            said,
            sentence.text[said.start : said.end],
            sentence.span(said.start, said.end),
            sentence.visit_at(said.start),
            sentence.text[start:end],
        )


def named_quantity(number: LooseNumber, world: World, circuit: Circuit | None) -> tuple[str, Resolved] | None:
    """The one quantity that a number's clause names, and its phrase: "the current in the load is 0.5 A"."""
    if circuit is None:
        return None
    found: list[tuple[str, Resolved]] = []
    for match in QUANTITY.finditer(number.clause):
        word = match[1].lower().replace(".", "")
        what = _thing(match[3].rstrip("."), circuit)
        form = FORMS.get("short-circuit current" if word.startswith("short") else word)
        if what is None or form is None:
            continue
        text = form.format(what)
        phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
        if isinstance(phrase, Resolved):
            found.append((text, phrase))
    return found[0] if len(found) == 1 else None


def _thing(word: str, circuit: Circuit) -> str | None:
    """The path that a word stands for: a name, or "the load", "the cell" where there is only one."""
    parts = list(leaves(circuit.item))
    if any(leaf.path == word for leaf in parts):
        return word
    kinds = {
        "load": ("resistor", "lamp"),
        "resistor": ("resistor",),
        "lamp": ("lamp", "resistor"),
        "cell": ("cell",),
    }
    alike = [leaf.path for leaf in parts if leaf.part.kind in kinds.get(word.lower(), ())]
    return alike[0] if len(alike) == 1 else None


def equal_values(
    said: SaidNumber, values: Collection[tuple[Dimension, Fraction]]
) -> tuple[tuple[Dimension, Fraction], ...]:
    """The known values that a number is, or is the rounding of."""
    return tuple(
        (dimension, value)
        for dimension, value in values
        if dimension == said.unit.dimension and agrees(value, said.value, said.place)
    )


def said_as_number(said: SaidNumber, words: str, span: Span) -> Number:
    """A number in a sentence as maths, with the figures it was said with."""
    digits = re.search(r"\d[\d\s.,/]*", words)
    typed = digits[0].strip() if digits else ""
    if not typed:
        typed = shown(said.value / said.unit.scale, PURE, Style(figures=6))
    figures = sum(map(str.isdigit, typed.lstrip("0.,"))) if said.place else None
    return Number(said.value, said.unit, figures, said.place, typed, span)
