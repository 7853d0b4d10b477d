"""New numbers for a lesson: every number that was proved knows its quantity, and is written anew where it stands.

A number is a part's own value, a quantity of the scene, or a step of working made of such numbers. What it becomes is
taken from the same lesson with the new values; a working is rewritten only if it gives the new value of what it works
out. Figures and units stay; words stay words if the new value can be said in a few. Nothing else is touched.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import (
    Expression,
    Name,
    Negative,
    Number,
    Relation,
    Sum,
)
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.number_words import said_numbers
from boardproof.algebra.written import read_lines
from boardproof.findings import Finding
from boardproof.lesson.model import DeriveStep, Display
from boardproof.lesson.sentence import Maths, Tie
from boardproof.prove.bench import chains, numbers_in
from boardproof.prove.clause import Sentence
from boardproof.prove.figures import alone
from boardproof.prove.loose_number import said_in
from boardproof.prove.new_value import (
    COMBINATIONS,
    NewValue,
    evaluated,
    fits,
    is_letterless,
    number_in,
)
from boardproof.prove.prose import given_by_part, named_quantity
from boardproof.prove.rewriting import Change, Numbered, Rewriter
from boardproof.prove.walk import Place, Visit
from boardproof.prove.world import World
from boardproof.quantities import Dimension, agrees
from boardproof.source import Slice, Span

__all__ = ["renumbered"]


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
class _Renumbering(Rewriter):
    known: list[NewValue] = field(default_factory=list)
    tables: dict[tuple[int, int], list[NewValue]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.fine = {
            each.said.span
            for each in self.lesson.judged
            if each.verdict.kind in {"true", "near-enough", "true-only-when"} and each.expected == "true"
        }

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

    def chain(self, members: Sequence[Expression], world: World, new: World, table: list[NewValue]) -> None:
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

    def target(self, members: Sequence[Expression], world: World, new: World) -> NewValue | None:
        """What a chain works out: the value of its first member in letters, before and after."""
        for member in members:
            if numbers_in(member) and any(each.unit for each in numbers_in(member)):
                continue
            old, now = number_in(member, world), number_in(member, new)
            if old is not None and now is not None and not is_letterless(member):
                dimension = dimensioned(member, world.dimension)
                words = member.text if isinstance(member, Name) else ""
                return NewValue(words, old, now, dimension if isinstance(dimension, Dimension) else None)
        return None

    def member(self, member: Expression, target: NewValue | None, table: Sequence[NewValue]) -> None:
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
            now = evaluated(member, put, use_new=True)
            if now is not None and (target is None or now == target.new):
                for number, value in zip(numbers, picked, strict=True):
                    if value is not None and value.new != value.old:
                        self.put(number, value)
                return

    def choices(self, number: Number, table: Sequence[NewValue]) -> list[NewValue | None]:
        """What a number in a working may be; last of all a plain factor."""
        found: list[NewValue | None] = [
            each
            for each in table
            if agrees(each.old, number.value, number.place)
            and (number.unit is None or each.dimension in (None, number.unit.dimension))
        ]
        unique: dict[Fraction, NewValue | None] = {}
        for each in found:
            assert each is not None
            unique.setdefault(each.new, each)
        plain: list[NewValue | None] = [None] if number.unit is None else []
        return [*list(unique.values())[:6], *plain] or [None]

    def parts(self, member: Expression, table: Sequence[NewValue]) -> list[NewValue]:
        """Values of the terms of a working, before and after: what the next member may be made of."""
        terms = member.terms if isinstance(member, Sum) else (member,)
        found = []
        for term in terms:
            inner = term.of if isinstance(term, Negative) else term
            numbers = numbers_in(inner)
            if not numbers:
                continue
            picked = {id(each): self.choices(each, table)[0] for each in numbers}
            old, new = evaluated(inner, picked, use_new=False), evaluated(inner, picked, use_new=True)
            if old is not None and new is not None:
                found.append(NewValue("", old, new, None))
        return found

    def table(self, before: Place, after: Place, world: World, new: World) -> list[NewValue]:
        """Every quantity that has a name and a value here, letters first."""
        key = (before.number, after.number)
        if key not in self.tables:
            letters = list(world.values())
            names = [*letters, *sorted(world.names() - set(letters), key=lambda name: (len(name), name))]
            found = []
            for name in names:
                old, now = world.in_numbers(name), new.in_numbers(name)
                if isinstance(old, Fraction) and isinstance(now, Fraction):
                    found.append(NewValue(name, old, now, world.dimension(name)))
            self.tables[key] = found
        return [*self.tables[key], *self.known]

    # Sentences

    def tie(self, words: Slice, to: Slice, visit: Visit, after: Place) -> None:
        """Words tied to a quantity."""
        said = next(iter(said_numbers(words.text, self.decimal)), None)
        value = self.phrase(to, visit.place, after)
        if said is not None and value is not None and fits(value.old, said):
            span = Span(words.span.source, words.span.start + said.start, words.span.start + said.end)
            self.say(said, words.text[said.start : said.end], span, value)

    def phrase(self, text: Slice, before: Place, after: Place) -> NewValue | None:
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
        return NewValue(text.text.strip(), ends[0], ends[1], None)

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
                if fits(each.old, loose.said) and each.dimension in (None, loose.said.unit.dimension)
            }
            if len(fitting) == 1:
                self.say(loose.said, loose.typed, loose.span, next(iter(fitting.values())))
