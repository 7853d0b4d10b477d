"""New numbers for a lesson: every number that was proved knows its quantity, and is written anew where it stands.

A number is a part's own value, a quantity of the scene, or a step of working made of such numbers. What it becomes is
taken from the same lesson with the new values; a working is rewritten only if it gives the new value of what it works
out. Figures and units stay; words stay words if the new value can be said in a few. Nothing else is touched.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import (
    Expression,
    Name,
    Negative,
    Number,
    Parallel,
    Power,
    Product,
    Quotient,
    Relation,
    Sum,
)
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.number_words import SaidNumber, said_numbers
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_lines
from boardproof.findings import Finding
from boardproof.lesson.model import DeriveStep, Display
from boardproof.lesson.sentence import Maths, Tie
from boardproof.prove.bench import chains, numbers_in
from boardproof.prove.clause import Sentence
from boardproof.prove.figures import alone
from boardproof.prove.loose_number import said_in
from boardproof.prove.prose import given_by_part, named_quantity
from boardproof.prove.verdict import Judged
from boardproof.prove.walk import Place, Visit, Walk
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.quantities import Dimension, Style, agrees, round_figures, speech
from boardproof.quantities.showing import digits_of
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Change", "Numbered", "renumbered"]

COMBINATIONS: Final = 4096
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


@record
class _Value:
    """What a number may be: its words, its exact value before and after."""

    of: str
    old: Fraction
    new: Fraction
    dimension: Dimension | None


def renumbered(lesson: Numbered) -> tuple[Change, ...]:
    """Every number that becomes another one.

    Parameters
    ----------
    lesson : Numbered
        Before and after.

    Returns
    -------
    tuple of Change
        In text order; places are those of the old text.
    """
    found = _Renumbering(lesson).run()
    return tuple(sorted(found.values(), key=lambda change: change.span))


@dataclass
class _Renumbering:
    lesson: Numbered
    changes: dict[Span, Change] = field(default_factory=dict)
    known: list[_Value] = field(default_factory=list)
    tables: dict[tuple[int, int], list[_Value]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.fine = {
            each.said.span
            for each in self.lesson.judged
            if each.verdict.kind in {"true", "near-enough", "true-only-when"} and each.expected == "true"
        }
        self.decimal = self.lesson.before[1].decimal

    def run(self) -> dict[Span, Change]:
        pairs = list(zip(self.lesson.before[0].visits, self.lesson.after[0].visits, strict=True))
        for _, group in itertools.groupby(pairs, key=lambda pair: id(pair[0].paragraph or pair[0])):
            visits = list(group)
            for old, new in visits:
                self.element(old, new.place)
            if visits[0][0].paragraph is not None:
                self.words([old for old, _ in visits], {id(old): new.place for old, new in visits})
        return self.changes

    def element(self, visit: Visit, after: Place) -> None:
        match visit.element:
            case Display(text=text) | Maths(text=text) | DeriveStep(maths=text):
                self.maths(text, visit, after)
            case Tie(to=Slice() as to, words=words):
                self.tie(words, to, visit, after)
            case _:
                return

    # Maths

    def maths(self, text: Slice, visit: Visit, after: Place) -> None:
        """Numbers of every true statement of a piece of maths."""
        before, worlds = self.lesson.before[1], self.lesson.after[1]
        lines, _ = read_lines(text, known=before.known(visit.place.circuit), decimal=self.decimal)
        world, new = before.at(visit.place), worlds.at(after)
        table = self.table(visit.place, after, world, new)
        for line in lines:
            relations = [each for each in line.statements if isinstance(each, Relation)]
            for relation, chain in zip(relations, chains(relations), strict=True):
                if relation.span is None or not any(
                    relation.span.within(each) or each == relation.span for each in self.fine
                ):
                    continue
                if relation.chain == 0 or relation is relations[0]:
                    self.chain(chain.members or (relation.left, relation.right), world, new, table)

    def chain(self, members: Sequence[Expression], world: World, new: World, table: list[_Value]) -> None:
        """The members of a chain in order; each may be made of parts of those before it."""
        target = self.target(members, world, new)
        own = list(table)
        if target is not None:
            own.insert(0, target)
        for member in members:
            self.member(member, target, own)
            own += self.parts(member, own)
        if target is not None:
            self.known.append(target)

    def target(self, members: Sequence[Expression], world: World, new: World) -> _Value | None:
        """What a chain works out: the value of its first member in letters, before and after."""
        for member in members:
            if numbers_in(member) and any(each.unit for each in numbers_in(member)):
                continue
            old, now = _number(member, world), _number(member, new)
            if old is not None and now is not None and not _is_letterless(member):
                dimension = dimensioned(member, world.dimension)
                words = member.text if isinstance(member, Name) else ""
                return _Value(words, old, now, dimension if isinstance(dimension, Dimension) else None)
        return None

    def member(self, member: Expression, target: _Value | None, table: Sequence[_Value]) -> None:
        """Write the numbers of one member anew."""
        numbers = numbers_in(member)
        if not numbers or not all(each.span for each in numbers):
            return
        if (number := alone(member)) is not None:
            values = [target] if target is not None else []
            self.write(member, number, [*values, *table])
            return
        choices = [self.choices(each, table) for each in numbers]
        count = 1
        for each in choices:
            count *= len(each)
        if count > COMBINATIONS:
            return
        for picked in itertools.product(*choices):
            put = dict(zip(map(id, numbers), picked, strict=True))
            now = _evaluated(member, put, use_new=True)
            if now is not None and (target is None or now == target.new):
                for number, value in zip(numbers, picked, strict=True):
                    if value is not None and value.new != value.old:
                        self.put(number, value)
                return

    def choices(self, number: Number, table: Sequence[_Value]) -> list[_Value | None]:
        """What a number in a working may be; last of all a plain factor."""
        found: list[_Value | None] = [
            each
            for each in table
            if agrees(each.old, number.value, number.place)
            and (number.unit is None or each.dimension in (None, number.unit.dimension))
        ]
        unique: dict[Fraction, _Value | None] = {}
        for each in found:
            assert each is not None
            unique.setdefault(each.new, each)
        plain: list[_Value | None] = [None] if number.unit is None else []
        return [*list(unique.values())[:6], *plain] or [None]

    def parts(self, member: Expression, table: Sequence[_Value]) -> list[_Value]:
        """Values of the terms of a working, before and after: what the next member may be made of."""
        terms = member.terms if isinstance(member, Sum) else (member,)
        found = []
        for term in terms:
            inner = term.of if isinstance(term, Negative) else term
            numbers = numbers_in(inner)
            if not numbers:
                continue
            picked = {id(each): self.choices(each, table)[0] for each in numbers}
            old, new = _evaluated(inner, picked, use_new=False), _evaluated(inner, picked, use_new=True)
            if old is not None and new is not None:
                found.append(_Value("", old, new, None))
        return found

    def table(self, before: Place, after: Place, world: World, new: World) -> list[_Value]:
        """Every quantity that has a name and a value here, letters first."""
        key = (before.number, after.number)
        if key not in self.tables:
            letters = list(world.values())
            names = [*letters, *sorted(world.names() - set(letters), key=lambda name: (len(name), name))]
            found = []
            for name in names:
                old, now = world.in_numbers(name), new.in_numbers(name)
                if isinstance(old, Fraction) and isinstance(now, Fraction):
                    found.append(_Value(name, old, now, world.dimension(name)))
            self.tables[key] = found
        return [*self.tables[key], *self.known]

    # Sentences

    def tie(self, words: Slice, to: Slice, visit: Visit, after: Place) -> None:
        """Words tied to a quantity."""
        said = next(iter(said_numbers(words.text, self.decimal)), None)
        value = self.phrase(to, visit.place, after)
        if said is not None and value is not None and _fits(value.old, said):
            span = Span(words.span.source, words.span.start + said.start, words.span.start + said.end)
            self.say(said, words.text[said.start : said.end], span, value)

    def phrase(self, text: Slice, before: Place, after: Place) -> _Value | None:
        """A phrase's value, before and after."""
        ends = []
        for worlds, place in ((self.lesson.before[1], before), (self.lesson.after[1], after)):
            found = worlds.phrase(text, place.circuit)
            if isinstance(found, Finding):
                return None
            value = worlds.at(place).with_name("it", found).in_numbers("it")
            if isinstance(value, Unknown):
                return None
            ends.append(value)
        return _Value(text.text.strip(), ends[0], ends[1], None)

    def words(self, visits: Sequence[Visit], after: Mapping[int, Place]) -> None:
        """Numbers in plain words: by the quantity that their clause names, else by a known value."""
        sentence = Sentence.of(visits)
        for loose in said_in(sentence, self.decimal):
            visit = loose.visit
            world, new = self.lesson.before[1].at(visit.place), self.lesson.after[1].at(after[id(visit)])
            named = named_quantity(loose, world, visit.place.circuit) or given_by_part(
                loose, world, visit.place.circuit
            )
            if named is not None:
                value = self.phrase(
                    Slice(named[0], Span("", 0, len(named[0]))), visit.place, after[id(visit)]
                )
                values = [value] if value is not None else []
            else:
                values = self.table(visit.place, after[id(visit)], world, new)
            fitting = {
                each.new: each
                for each in reversed(values)
                if _fits(each.old, loose.said) and each.dimension in (None, loose.said.unit.dimension)
            }
            if len(fitting) == 1:
                self.say(loose.said, loose.typed, loose.span, next(iter(fitting.values())))

    def say(self, said: SaidNumber, typed: str, span: Span, value: _Value) -> None:
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

    # Writing

    def write(self, member: Expression, number: Number, values: Sequence[_Value]) -> None:
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

    def put(self, number: Number, value: _Value) -> None:
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

    def kept(self, value: _Value, old: Fraction, place: Fraction, typed: str, scale: Fraction) -> str:
        """The new value in the old unit, at the old figures; exactly, if it was exact and comes out short."""
        figures = max(1, sum(map(str.isdigit, typed.partition("/")[0].lstrip("0.,"))))
        new = value.new / scale
        minus = "-" if new < 0 else ""
        if value.old != old and place:
            return minus + self.digits(abs(new), figures, rounded=True)
        decimals = _places(abs(new))
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
            decimals = _places(place) or 0
            text = f"{int(near * 10**decimals):0{decimals + 1}d}"
            return text if not decimals else f"{text[:-decimals]}{self.decimal}{text[-decimals:]}"
        shown = digits_of(value, Style(figures, self.lesson.style.half, self.decimal), figures)
        return shown.replace("\u202f", " ")


def _fits(value: Fraction, said: SaidNumber) -> bool:
    return value == said.value or (said.place != 0 and agrees(value, said.value, said.place))


def _is_letterless(member: Expression) -> bool:
    return isinstance(member, Number) or (isinstance(member, Negative) and isinstance(member.of, Number))


def _number(member: Expression, world: World) -> Fraction | None:
    def of(name: str) -> RationalFunction | Unknown:
        value = world.in_numbers(name)
        return value if isinstance(value, Unknown) else RationalFunction.constant(value)

    found = meaning.value(member, of, first=world.first_index)
    return None if isinstance(found, Unknown) else found.as_number


def _evaluated(tree: Expression, put: Mapping[int, _Value | None], *, use_new: bool) -> Fraction | None:
    """A working without letters, each number replaced by what it is; None if it can't be worked out."""

    def of(inner: Expression) -> Fraction:
        found = _evaluated(inner, put, use_new=use_new)
        if found is None:
            raise ZeroDivisionError
        return found

    try:
        match tree:
            case Number(value=typed):
                value = put.get(id(tree))
                return typed if value is None else value.new if use_new else value.old
            case Negative(of=inner):
                return -of(inner)
            case Sum(terms=terms):
                return sum(map(of, terms), Fraction(0))
            case Product(factors=factors):
                return math.prod(map(of, factors), start=Fraction(1))
            case Quotient(over=over, under=under):
                return of(over) / of(under)
            case Power(base=base, exponent=exponent):
                return of(base) ** exponent
            case Parallel(branches=branches):
                return 1 / sum((1 / of(each) for each in branches), Fraction(0))
            case _:
                return None
    except ZeroDivisionError:
        return None


def _places(value: Fraction) -> int | None:
    """Decimal places that a value needs; None if it never ends."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None
