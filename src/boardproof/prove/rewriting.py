"""Numbers written anew where they stand: in words where they were words, else in the unit and figures they had."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from boardproof.algebra.expression import (
    Expression,
    Negative,
    Number,
)
from boardproof.algebra.number_words import SaidNumber, said_numbers
from boardproof.prove.bench import numbers_in
from boardproof.prove.new_value import (
    NewValue,
    places_of,
)
from boardproof.prove.verdict import Judged
from boardproof.prove.walk import Walk
from boardproof.prove.worlds import Worlds
from boardproof.quantities import Style, agrees, round_figures, speech
from boardproof.quantities.showing import digits_of
from boardproof.record import record
from boardproof.source import Span

__all__ = ["Change", "Numbered", "Rewriter"]

DIGITS: Final = re.compile(r"[0-9][0-9., \u00a0\u2009\u202f/]*")


@record
class Change:
    """One number written anew: its place, the new text, and the quantity it is."""

    span: Span
    text: str
    of: str = ""


@dataclass(frozen=True)
class Numbered:
    """A lesson walked with its old values and with the new ones.

    Parameters
    ----------
    before, after : (Walk, Worlds)
        The same text but for the values of circuits.
    judged : tuple of Judged
        What the old check found.
    figures : int
        Figures of a value that no longer comes out exactly.
    style : Style
        The course's.
    """

    before: tuple[Walk, Worlds]
    after: tuple[Walk, Worlds]
    judged: tuple[Judged, ...]
    figures: int
    style: Style


@dataclass
class Rewriter:
    """The new numbers of a lesson, by their places.

    Parameters
    ----------
    lesson : Numbered
        Before and after.
    changes : dict
        What was written so far.
    """

    lesson: Numbered
    changes: dict[Span, Change] = field(default_factory=dict)

    @property
    def decimal(self) -> str:
        """The course's decimal mark."""
        return self.lesson.before[1].decimal

    def say(self, said: SaidNumber, typed: str, span: Span, value: NewValue) -> None:
        """Write a number of a sentence anew: in words where it was words and can be said, else in digits."""
        if value.new == value.old:
            return
        digits = DIGITS.search(typed)
        if digits is None:
            spoken = speech(value.new, said.unit.dimension, Style(figures=3))
            again = next(iter(said_numbers(spoken, self.decimal)), None)
            if again is not None and again.value == value.new and len(spoken.split()) <= 5:
                self.changes[span] = Change(span, spoken, value.of)
                return
            text = f"{self.digits(value.new / said.unit.scale, 3)} {said.unit.symbol}"
            self.changes[span] = Change(span, text.replace("Ω", self.lesson.style.ohm), value.of)
            return
        number = digits[0].strip(" ,.")
        sign = re.match(r"[-−]\s?", typed)
        text = self.kept(value, said.value, said.place, number, said.unit.scale)
        if sign:
            text = text.removeprefix("−").removeprefix("-") if value.new < 0 else text
            start = 0 if value.new >= 0 else sign.end()
        else:
            start = digits.start()
        begin = span.start + start
        end = span.start + digits.start() + len(number)
        self.changes[Span(span.source, begin, end)] = Change(Span(span.source, begin, end), text, value.of)

    def write(self, member: Expression, number: Number, values: Sequence[NewValue]) -> None:
        """A number that stands alone, its sign included."""
        value = next(
            (
                each
                for each in values
                if agrees(each.old, number.value, number.place)
                and (number.unit is None or each.dimension in (None, number.unit.dimension))
            ),
            None,
        )
        if value is None or value.new == value.old or member.span is None or number.span is None:
            return
        inner = numbers_in(member)[0]
        assert inner.span is not None
        begin = member.span.start if isinstance(member, Negative) else inner.span.start
        end = inner.span.start + len(inner.typed)
        text = self.kept(
            value, number.value, number.place, inner.typed, number.unit.scale if number.unit else Fraction(1)
        )
        span = Span(inner.span.source, begin, end)
        self.changes[span] = Change(span, text, value.of)

    def put(self, number: Number, value: NewValue) -> None:
        """A number inside a working; below nought it goes into brackets."""
        assert number.span is not None
        scale = number.unit.scale if number.unit else Fraction(1)
        text = self.kept(value, number.value, number.place, number.typed, scale)
        end = number.span.start + len(number.typed)
        if value.new < 0 and number.unit:
            symbol = self.lesson.before[0].lesson.source.text[end : number.span.end]
            text, end = f"({text}{symbol})", number.span.end
        span = Span(number.span.source, number.span.start, end)
        self.changes[span] = Change(span, text, value.of)

    def kept(self, value: NewValue, old: Fraction, place: Fraction, typed: str, scale: Fraction) -> str:
        """The new value in the old unit, at the old figures; exactly, if it was exact and comes out short."""
        figures = max(1, sum(map(str.isdigit, typed.partition("/")[0].lstrip("0.,"))))
        new = value.new / scale
        minus = "-" if new < 0 else ""
        if value.old != old and place:
            return minus + self.digits(abs(new), figures, rounded=True)
        decimals = places_of(abs(new))
        whole = len(str(int(abs(new)))) if int(abs(new)) else 0
        if decimals is not None and decimals + whole <= max(figures, self.lesson.figures) + (
            value.of in self.letters
        ):
            return minus + self.digits(abs(new), max(figures, decimals + whole, 1))
        if "/" in typed and abs(new).denominator <= 20:
            return f"{minus}{abs(new).numerator}/{abs(new).denominator}"
        return minus + self.digits(abs(new), max(figures, self.lesson.figures), rounded=True)

    @property
    def letters(self) -> frozenset[str]:
        """Letters that parts carry; their values are given, never rounded."""
        return frozenset(self.lesson.before[0].definitions.letters)

    def digits(self, value: Fraction, figures: int, *, rounded: bool = False) -> str:
        """Digits with the course's decimal mark."""
        if rounded and value:
            near, place = round_figures(value, figures, self.lesson.style.half)
            decimals = places_of(place) or 0
            text = f"{int(near * 10**decimals):0{decimals + 1}d}"
            return text if not decimals else f"{text[:-decimals]}{self.decimal}{text[-decimals:]}"
        shown = digits_of(value, Style(figures, self.lesson.style.half, self.decimal), figures)
        return shown.replace("\u202f", " ")
