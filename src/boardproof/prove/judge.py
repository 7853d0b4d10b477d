"""Judging one relation or limit: letters in general by exact algebra, numbers against the scene's values.

Letters on both sides: it must hold for all positive values, or under its own condition. A number with a unit, or no
letters at all on one side: it is compared with the values of the scene. Dimensions come first.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from boardproof.algebra.answer import Never
from boardproof.algebra.dimension import Mismatch, dimensioned
from boardproof.algebra.expression import (
    Condition,
    Expression,
    Infinity,
    Limit,
    Name,
    Relation,
    Statement,
    names_in,
)
from boardproof.algebra.ground import Fact
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.show import plain
from boardproof.algebra.sign import sign_of
from boardproof.algebra.tidy import to_expression
from boardproof.findings import Evidence, Finding
from boardproof.lesson.course import Policy
from boardproof.prove.bench import (
    Chain,
    Meanings,
    Ruling,
    compares,
    has_letters,
    is_zero_condition,
    numbers_in,
)
from boardproof.prove.figures import alone
from boardproof.prove.kinds import finding
from boardproof.prove.letters import Letters
from boardproof.prove.numbers import Numbers
from boardproof.prove.verdict import Verdict
from boardproof.quantities import PURE, Dimension, Style, dimension_words, si_unit
from boardproof.source import Span

__all__ = ["judge"]


def judge(
    statement: Statement,
    world: Meanings,
    *,
    condition: Condition | None = None,
    chain: Chain | None = None,
    policy: Policy | None = None,
    style: Style | None = None,
    sure: frozenset[Fraction] = frozenset(),
) -> Ruling:
    """Judge one statement.

    Parameters
    ----------
    statement : Relation or Limit
        What was written.
    world : Meanings
        What its names mean there.
    condition : Condition, optional
        What it is said under.
    chain : Chain, optional
        The chain it stands in.
    policy, style
        The course's figures, rounding and notation.
    sure : frozenset of Fraction
        Values that are exact beside those of the scene.
    """
    return _Judge(world, condition, chain, policy or Policy(), style or Style(), sure=sure).judge(statement)


class _Judge(Letters, Numbers):
    """Decides which way a statement is judged."""

    def judge(self, statement: Statement) -> Ruling:
        try:
            if isinstance(statement, Limit):
                return self.limit(statement)
            return self.relation(statement)
        except TooLarge:
            return self.unchecked("it has too many terms", statement.span)

    def troubles(self, statement: Statement) -> tuple[Finding, ...]:
        conditions = self.condition.statements if self.condition else ()
        names = [name for each in (statement, *conditions) for name in names_in(each)]
        found: dict[str, Finding] = {}
        for name in names:
            if name.text not in found and (trouble := self.world.trouble(name)):
                if trouble.kind.code == "no-circuit":  # told of the whole line, not of each letter
                    return (replace(trouble, span=statement.span or trouble.span),)
                found[name.text] = (
                    replace(trouble, span=statement.span)
                    if statement.span and not trouble.span.source
                    else trouble
                )
        return tuple(found.values())

    def relation(self, relation: Relation) -> Ruling:
        if troubles := self.troubles(relation):
            return replace(
                self.unchecked("a name in it means nothing here", relation.span, said=False),
                findings=troubles,
            )
        if units := self.units(relation):
            return units
        judge: _Judge = self
        if self.condition:
            taken = self.take_condition(relation)
            if isinstance(taken, Ruling):
                return taken
            judge = replace(self, facts=taken)
        put = self.put_in()
        valued = self if isinstance(put, Ruling) else replace(self, world=put)
        if valued.is_general(relation):
            return judge.general(relation)
        return put if isinstance(put, Ruling) else valued.numbers(relation)

    def put_in(self) -> Meanings | Ruling:
        """The world in which the condition's numbers are in force: ``if R = 4 ohm``, ``if R = r``."""
        world = self.world
        for each in self.condition.statements if self.condition else ():
            if not isinstance(each, Relation):
                continue
            sides = [replace(self, world=world).number(side) for side in (each.left, each.right)]
            if each.sign == "=" and (letter := self.letter_of(each.left)) and isinstance(sides[1], Fraction):
                world = world.with_values({letter: sides[1]})
            elif (
                each.sign == "=" and (letter := self.letter_of(each.right)) and isinstance(sides[0], Fraction)
            ):
                world = world.with_values({letter: sides[0]})
            elif not (
                isinstance(sides[0], Fraction)
                and isinstance(sides[1], Fraction)
                and compares(sides[0], each.sign, sides[1])
            ):
                return self.unchecked(f"{plain(each)} does not hold with the values at hand", each.span)
        return world

    def letter_of(self, side: Expression) -> str | None:
        """The letter of a part, or the count, that an expression is."""
        if not isinstance(side, Name):
            return None
        value = self.world.in_letters(side.text)
        letters = value.letters if isinstance(value, RationalFunction) else frozenset()
        alone = len(letters) == 1 and value == RationalFunction.letter(*letters)
        return next(iter(letters)) if alone else None

    def units(self, relation: Relation) -> Ruling | None:
        """Dimensions of both sides; a bare number where a unit belongs."""
        left, right = (dimensioned(side, self.world.dimension) for side in (relation.left, relation.right))
        for found in (left, right):
            if isinstance(found, Mismatch):
                return self.differ(relation, found.left, found.right, code="unlike-terms", span=found.span)
        for side, mine, theirs in ((relation.left, left, right), (relation.right, right, left)):
            if not _is_bare(side) or theirs in (None, PURE) or mine != PURE:
                continue
            if self.may_be_bare(side):
                return None
            if alone(side) is not None:
                return self.without_unit(side, theirs)
        if left is None or right is None or left == right:
            return None
        assert isinstance(left, Dimension)
        assert isinstance(right, Dimension)
        return self.differ(relation, dimension_words(left), dimension_words(right))

    def may_be_bare(self, side: Expression) -> bool:
        """Whether a member without units is working in the middle of a line."""
        members = self.chain.members if self.chain else ()
        return self.policy.working_units == "optional" and side is not members[-1] if members else False

    def without_unit(self, side: Expression, dimension: object) -> Ruling:
        unit = si_unit(dimension) if isinstance(dimension, Dimension) else None
        right = f"{plain(side)} {unit.symbol}" if unit else ""
        facts = {"typed": plain(side), "right": right}
        assert side.span is not None
        verdict = Verdict("units-differ", right=right or None, decided_by="dimensions")
        return Ruling(verdict, (finding("missing-unit", side.span, facts=facts),))

    def differ(
        self,
        relation: Relation,
        left: str,
        right: str,
        *,
        code: str = "units-differ",
        span: Span | None = None,
    ) -> Ruling:
        where = span or relation.span
        assert where is not None
        evidence = (Evidence("dimensions", f"{left} on one side, {right} on the other"),)
        verdict = Verdict(
            "units-differ", right=self.right(relation), evidence=evidence, decided_by="dimensions"
        )
        for number in numbers_in(relation.left) + numbers_in(relation.right):
            symbol = number.unit.symbol if number.unit else ""
            is_letter = bool(symbol) and self.world.trouble(Name(symbol)) is None
            if is_letter and number.span and self.world.dimension(symbol) != number.unit.dimension:  # type: ignore[union-attr]  # it has a symbol
                facts = {"typed": plain(number), "product": f"{number.typed}*{symbol}"}
                return Ruling(
                    verdict, (finding("unit-or-letter", number.span, facts=facts, evidence=evidence),)
                )
        return Ruling(
            verdict, (finding(code, where, facts={"left": left, "right": right}, evidence=evidence),)
        )

    def take_condition(self, relation: Relation) -> Ruling | tuple[Fact, ...]:
        """Turn the line's condition into hypotheses; a ruling if that decides everything."""
        condition = self.condition
        assert condition is not None
        facts: list[Fact] = []
        if condition.word == "no load":
            return self.with_nothing_joined(relation) or ()
        for each in condition.statements:
            if not isinstance(each, Relation):
                return self.unchecked("its condition is a limit", each.span)
            if not self.is_general(each) and not is_zero_condition(each):
                facts += self.as_numbers(each)
                continue
            function = self.difference(each)
            if isinstance(function, Unknown):
                return self.unchecked(function.reason, each.span)
            met = sign_of(function, each.sign, counts=self.world.counts, given=tuple(facts))
            if isinstance(met, Never):
                if is_zero_condition(each) and (ruling := self.with_nothing_joined(relation)):
                    return ruling
                words = plain(each)
                empty = finding("empty-condition", each.span or relation.span, facts={"condition": words})  # type: ignore[arg-type]  # read maths has places
                return Ruling(
                    Verdict("not-checked", evidence=(Evidence("factors", f"{words} never happens"),)),
                    (empty,),
                )
            if not function.is_zero:
                facts.append((function, each.sign))
        return tuple(facts)

    def as_numbers(self, each: Relation) -> list[Fact]:
        """A condition with a number in it, such as ``R = 10 ohm``, as a hypothesis."""
        function = self.difference(each)
        return [] if isinstance(function, Unknown) else [(function, each.sign)]

    def with_nothing_joined(self, relation: Relation) -> Ruling | None:
        world = self.world.without_load()
        if world is None:
            return None
        return _Judge(world, None, self.chain, self.policy, self.style).judge(relation)

    def limit(self, statement: Limit) -> Ruling:
        if troubles := self.troubles(statement):
            return replace(
                self.unchecked("a name in it means nothing here", statement.span, said=False),
                findings=troubles,
            )
        left, right = (dimensioned(side, self.world.dimension) for side in (statement.of, statement.to))
        if isinstance(left, Dimension) and isinstance(right, Dimension) and left != right:
            return self.differ(
                Relation(statement.of, "=", statement.to, span=statement.span),
                dimension_words(left),
                dimension_words(right),
            )
        of = self.value(statement.of)
        if isinstance(of, Unknown):
            return self.unchecked(of.reason, statement.span)
        letter = self.world.in_letters(statement.letter)
        if letter != RationalFunction.letter(statement.letter):
            return self.unchecked(
                f"{statement.letter} is no letter of a part, so it can't be changed by itself", statement.span
            )
        found = _limit(of, statement.letter, statement.end, self.value)
        if isinstance(found, Unknown):
            return self.unchecked(found.reason, statement.span)
        return self.limit_compared(statement, found)

    def limit_compared(self, statement: Limit, found: RationalFunction | None) -> Ruling:
        """`found` is None where it grows without end."""
        assert statement.span is not None
        wanted = None if isinstance(statement.to, Infinity) else self.value(statement.to)
        if isinstance(wanted, Unknown):
            return self.unchecked(wanted.reason, statement.span)
        right = "∞" if found is None else plain(to_expression(found))
        evidence = (Evidence("working", f"It goes to {right}."),)
        if (found is None and wanted is None) or (
            found is not None and wanted is not None and found == wanted
        ):
            return Ruling(Verdict("true", evidence=evidence))
        shown_right = f"{plain(statement.of)} → {right}"
        verdict = Verdict("wrong", None, None, shown_right, evidence)
        facts = {"statement": plain(statement), "right": shown_right}
        return Ruling(verdict, (finding("wrong-equation", statement.span, evidence=evidence, facts=facts),))


def _limit(
    of: RationalFunction, letter: str, end: Expression, value: object
) -> RationalFunction | Unknown | None:
    """What a ratio goes to; None if it grows without end."""
    if isinstance(end, Infinity):
        over, under = of.numerator.degree(letter), of.denominator.degree(letter)
        if over > under:
            return None
        if over < under:
            return RationalFunction.constant(0)
        return of.numerator.coefficients(letter)[over] / of.denominator.coefficients(letter)[under]
    target = value(end) if callable(value) else Unknown("it has no end")
    if isinstance(target, Unknown):
        return target
    below = of.denominator.substitute({letter: target})
    if below.is_zero:
        return (
            None
            if not of.numerator.substitute({letter: target}).is_zero
            else Unknown("it becomes nought over nought")
        )
    return of.substitute({letter: target})


def _is_bare(side: Expression) -> bool:
    """Neither letters nor units."""
    return not has_letters(side) and not any(number.unit for number in numbers_in(side))
