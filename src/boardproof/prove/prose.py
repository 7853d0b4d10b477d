"""Sentences: where a clause begins and ends, what is quoted or said under a condition, and numbers in plain words.

A number with a unit in a sentence is tied to a quantity named in its own clause, or to a value that is given or was
proved; else it is loose. Maths or a number after *if, when, unless, suppose, let, whether* is a condition: not judged.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import (
    Comparison,
    Expression,
    Line,
    Negative,
    Number,
    Quotient,
    Relation,
)
from boardproof.algebra.number_words import SaidNumber, said_numbers
from boardproof.circuit.implied import Resolved
from boardproof.circuit.model import Across, Changed, Circuit, leaves
from boardproof.circuit.phrases import read_phrase
from boardproof.lesson.sentence import Maths, Words
from boardproof.prove.walk import Visit
from boardproof.prove.world import World
from boardproof.quantities import (
    AMPERE,
    OHM,
    PURE,
    SECOND,
    VOLT,
    WATT,
    Dimension,
    Style,
    Unit,
    agrees,
    read_unit,
    shown,
    unit_spellings,
)
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = [
    "SUBSCRIPTED",
    "LooseNumber",
    "Sentence",
    "equal_values",
    "given_by_part",
    "named_quantity",
    "names_kind",
    "said_as_number",
    "said_in",
    "with_unit_behind",
]

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
SUPPOSING: Final = re.compile(r"(?i)\b(?:for|with|at|assuming|taking|setting)\s+(?:all\s+)?$")
DENIED: Final = re.compile(
    r"(?i)(?:\b(?:not|never|no longer|rather than|instead of)|n['’]t)(?:\s+(?:the|just|a|an|say|yet))?\s*$"
)
# Words that tell of another circuit than the one at hand, or of what somebody only thinks.
ELSEWHERE: Final = re.compile(
    r"(?i)\b(?:was|were|had|would|could|might|should|before|earlier|instead|alone|used to|without|previous(?:ly)?"
    r"|yesterday|against|until|guess|think|thinks|expect|says)\b|\bfrom\s*$"
)
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
OPENED, CLOSED = "“‘«", "”’»"
SUBSCRIPTED: Final = re.compile(r"(?<![\w$\\{])[A-Za-zεℰ]_(?:\{[\w.]+\}|[A-Za-z]+|\d+(?:\.\d+)*)")
QUANTITY: Final = re.compile(
    r"(?i)\b(short[- ]circuit current|current|terminal (?:p\.?d\.?|voltage)|p\.?d\.?|potential difference|voltage"
    r"|e\.?m\.?f\.?|internal resistance|resistance|power|heat|lost volts)"
    r"(?:\s+(?:of|in|through|across|round|over|inside|at)\s+(?:(?:the|this|that|our)\s+)?(?:(?:whole|little|small)\s+)?"
    r"([^\W\d][\w.]*))?(?=[\s,.;:]|$)"
)
FORMS: Final = {
    "current": "current in {0}",
    "short-circuit current": "short-circuit current of {0}",
    "pd": "p.d. across {0}",
    "potential difference": "p.d. across {0}",
    "voltage": "p.d. across {0}",
    "terminal pd": "terminal p.d. of {0}",
    "terminal voltage": "terminal p.d. of {0}",
    "emf": "emf of {0}",
    "resistance": "resistance of {0}",
    "internal resistance": "resistance of {0}",
    "power": "power in {0}",
    "heat": "heat in {0}",
    "lost volts": "lost volts in {0}",
}
UNIT_BEHIND: Final = re.compile(
    r"[ \u00a0\u202f]?("
    + "|".join(sorted(map(re.escape, unit_spellings()), key=len, reverse=True))
    + r")(?![\w/^])"
)
# What a lesson calls its one load, and the group that feeds it.
LOADS: Final = frozenset(
    {"load", "resistor", "lamp", "bulb", "heater", "motor", "sensor", "buzzer", "light", "lantern", "beacon"}
    | {"transmitter", "radio", "fan", "pump", "ring"}
)
FEEDS: Final = frozenset({"battery", "pair", "row", "bank", "pack", "stack", "group"})
KINDS: Final = {"current": AMPERE} | dict.fromkeys(
    ("pd", "voltage", "potential difference", "terminal pd", "terminal voltage"), VOLT
)
# What a part may give or take, by the unit of the number: "A gives 0.9 A", "the lamp has 2.4 V".
GIVEN: Final = {
    AMPERE: ("current in {0}",),
    VOLT: ("p.d. across {0}", "emf of {0}", "lost volts in {0}"),
    OHM: ("resistance of {0}",),
    WATT: ("power in {0}", "power given by {0}", "power out of {0}", "heat in {0}"),
}
WORD: Final = re.compile(r"[^\W\d][\w.]*")


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
        assert place is not None
        if isinstance(words, Words) and len(words.text) == place.end - place.start:
            inner = self.starts[number]
            return Span(place.source, place.start + start - inner, place.start + end - inner)
        return place

    def visit_at(self, at: int) -> Visit:
        """The element that holds a point."""
        return self.visits[max(n for n, begin in enumerate(self.starts) if begin <= at)]


def _holes(match: re.Match[str]) -> frozenset[int]:
    return frozenset(match.start(1) + n for n, sign in enumerate(match[1]) if sign == HOLE)


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
        if sentence.is_condition(said.start) or sentence.is_quoted(said.start) or DENIED.search(ahead):
            continue
        if sentence.is_asked(said.start):
            continue
        yield LooseNumber(
            said,
            sentence.text[said.start : said.end],
            sentence.span(said.start, said.end),
            sentence.visit_at(said.start),
            sentence.text[start:end],
            ahead,
            sentence.text[said.end : min(end, following)],
        )


def named_quantity(number: LooseNumber, world: World, circuit: Circuit | None) -> tuple[str, Resolved] | None:
    """The one quantity of the number's kind that its clause names, and its phrase: "the current in the load".

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    world : World
        What names mean there.
    circuit : Circuit or None
        On the board.

    Returns
    -------
    (str, Resolved) or None
        None if the clause names none, or several.
    """
    if circuit is None or number.is_elsewhere:
        return None
    for text in (number.ahead, number.behind):
        found = [each for match in QUANTITY.finditer(text) if (each := _meant(match, number, world, circuit))]
        if found:
            return found[0] if len(found) == 1 else None
    return None


def names_kind(number: LooseNumber, circuit: Circuit | None) -> bool:
    """Whether words ahead name a quantity of the number's kind, as it is now: "the current is 0.5 A".

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    circuit : Circuit or None
        On the board.
    """
    if circuit is None or number.is_elsewhere:
        return False
    kinds = (KINDS.get(_word(match)) for match in QUANTITY.finditer(number.ahead))
    return number.said.unit.dimension in kinds


def given_by_part(number: LooseNumber, world: World, circuit: Circuit | None) -> tuple[str, Resolved] | None:
    """What a part that the clause names gives or takes, if the number is just that: "A gives 0.9 A".

    Parameters
    ----------
    number : LooseNumber
        A number in words, with its clause.
    world : World
        What names mean there.
    circuit : Circuit or None
        On the board.
    """
    if circuit is None or number.is_elsewhere or number.sign not in "=≈":
        return None
    for word in dict.fromkeys(WORD.findall(number.clause)):
        for what in {word.rstrip("."), _thing(word, circuit)} - {None}:
            for form in GIVEN.get(number.said.unit.dimension, ()):
                text = form.format(what)
                phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
                if isinstance(phrase, Resolved) and (found := _agreeing(number.said, text, phrase, world)):
                    return text, found
    return None


def _agreeing(said: SaidNumber, name: str, quantity: Resolved, world: World) -> Resolved | None:
    """The quantity, in the direction in which it has the number's value; None if it has another size."""
    value = world.with_name(name, quantity).in_numbers(name)
    if not isinstance(value, Fraction):
        return None
    senses = [sense for sense in (1, -1) if agrees(sense * value, said.value, said.place)]
    ref = quantity.ref
    return Resolved(replace(ref, sense=senses[0] * ref.sense), quantity.circuit) if senses else None


def _word(match: re.Match[str]) -> str:
    word = " ".join(match[1].lower().replace(".", "").split())
    return "short-circuit current" if word.startswith("short") else word


def _meant(
    match: re.Match[str], number: LooseNumber, world: World, circuit: Circuit
) -> tuple[str, Resolved] | None:
    """What a quantity and its thing mean, if that is of the number's kind."""
    if match[2] is None or (form := FORMS.get(_word(match))) is None:
        return None
    word = match[2].rstrip(".")
    for what in (word, _thing(word, circuit)):
        text = form.format(what)
        phrase = read_phrase(Slice(text, Span("", 0, len(text))), world.definitions, circuit)
        if isinstance(phrase, Resolved) and world.dimension_of_ref(phrase) == number.said.unit.dimension:
            return text, phrase
    return None


def _thing(word: str, circuit: Circuit) -> str | None:
    """The path that "the lamp", "the cell" or "the pair" stands for, where there is only one such thing."""
    item = circuit.item
    while isinstance(item, Changed):
        item = item.item
    noun = word.lower()
    sides = (item.load, circuit.item) if isinstance(item, Across) else (circuit.item,)
    if noun in FEEDS and isinstance(item, Across) and item.source.path:
        return item.source.path
    kinds = ("resistor", "lamp") if noun in LOADS else ("cell",) if noun in {"cell", "battery"} else (noun,)
    for side in sides:
        alike = [leaf.path for leaf in leaves(side) if leaf.part.kind in kinds]
        if alike:
            return alike[0] if len(alike) == 1 else None
    return None


def equal_values(
    said: SaidNumber, values: Collection[tuple[Dimension, Fraction]]
) -> tuple[tuple[Dimension, Fraction], ...]:
    """The known values that a number is, or is the rounding of; number words may be a hundredth off.

    Parameters
    ----------
    said : SaidNumber
        As said, in SI units, with the place of its last figure.
    values : collection of (Dimension, Fraction)
        What is known, in SI units.
    """
    return tuple(
        (dimension, value)
        for dimension, value in values
        if dimension == said.unit.dimension
        and (
            agrees(value, said.value, said.place)
            or (not said.place and abs(said.value - value) * 100 < abs(value))
        )
    )


def said_as_number(said: SaidNumber, words: str, span: Span) -> Number:
    """A number in a sentence as maths, with the figures it was said with.

    Parameters
    ----------
    said : SaidNumber
        What the words mean.
    words : str
        As they stand: ``1.50 V``, ``half an ampere``.
    span : Span
        Their place.
    """
    digits = re.search(r"\d[\d\s.,/]*", words)
    typed = digits[0].strip() if digits else ""
    if not typed:
        typed = shown(said.value / said.unit.scale, PURE, Style(figures=6))
    figures = sum(map(str.isdigit, typed.lstrip("0.,"))) if said.place else None
    return Number(said.value, said.unit, figures, said.place, typed, span)


def with_unit_behind(line: Line, words: str, dimension: Callable[[str], Dimension | None]) -> Line:
    """A line whose last number has its unit outside the dollar signs: ``$V = 5$ V``.

    Parameters
    ----------
    line : Line
        As read.
    words : str
        What stands behind it.
    dimension : callable
        Gives the dimension of a name.
    """
    behind = UNIT_BEHIND.match(words)
    last = line.statements[-1] if line.statements else None
    if behind is None or not isinstance(last, Relation):
        return line
    unit = read_unit(behind[1])
    first = next(each for each in reversed(line.statements) if isinstance(each, Relation) and not each.chain)
    wanted = dimensioned(first.left, dimension)
    if unit is None or not isinstance(wanted, Dimension) or wanted == PURE:
        return line
    return replace(line, statements=(*line.statements[:-1], replace(last, right=_measured(last.right, unit))))


def _measured(side: Expression, unit: Unit) -> Expression:
    """A number without unit, given one; anything else as it is."""
    match side:
        case Number(unit=None):
            return replace(side, value=side.value * unit.scale, unit=unit, place=side.place * unit.scale)
        case Negative(of=Number(unit=None) as inner):
            return replace(side, of=_measured(inner, unit))
        case Quotient(over=Number(unit=None) as over, under=Number(unit=None)):
            return replace(side, over=_measured(over, unit))
        case _:
            return side
