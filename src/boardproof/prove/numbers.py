"""Numbers in relations: compared with the exact values that the scene's circuit gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.expression import Expression, Name, Number, Relation, names_in
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.findings import Evidence
from boardproof.prove.bench import Bench, Ruling, compares, has_letters, has_units
from boardproof.prove.figures import Fit, alone, fit
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import Verdict
from boardproof.quantities import PURE, Dimension, Unit, shown

__all__ = ["Numbers"]

NEAR: Final = Fraction(1, 20)


class Numbers(Bench):
    """Judges relations of which one side is a number or a working with numbers."""

    def numbers(self, relation: Relation) -> Ruling:
        """Judge a relation by the values of the scene."""
        assert relation.span is not None
        lettered = [has_letters(side) for side in (relation.left, relation.right)]
        if relation.sign not in {"=", "≈"}:
            return self.numbers_compared(relation)
        if lettered[0] or not lettered[1]:
            side, against = relation.right, relation.left
        else:
            side, against = relation.left, relation.right
        exact = self.exact(against, relation)
        if isinstance(exact, Unknown):
            return self.no_value(exact, relation, side)
        typed = self.letterless(side)
        if isinstance(typed, Unknown):
            return self.no_value(typed, relation, side)
        before = self.before(side)
        result = fit(typed, exact, before=before, known=(*self.world.exact_values(), *self.sure))
        return self.weighed(relation, against, side, exact, result)

    def exact(self, against: Expression, relation: Relation) -> Fraction | Unknown:
        """What a number should be: the scene's value of the first member of its chain that has letters."""
        members = self.chain.members if self.chain else (relation.left, relation.right)
        first = next((each for each in members if has_letters(each) and not has_units(each)), None)
        if has_letters(against):
            first = against if first is None or not _precedes(members, first, against) else first
        return self.number(first if first is not None else against)

    def before(self, side: Expression) -> Fraction | None:
        """Value of the working just before a member, as typed."""
        members = self.chain.members if self.chain else ()
        place = next((number for number, each in enumerate(members) if each is side), 0)
        if place == 0 or has_letters(members[place - 1]):
            return None
        return meaning.number(members[place - 1])

    def letterless(self, side: Expression) -> Expression | Unknown:
        """The member with the scene's values in place of its letters."""
        if not has_letters(side):
            return side
        value = self.number(side)
        return value if isinstance(value, Unknown) else Number(value)

    def no_value(self, unknown: Unknown, relation: Relation, side: Expression) -> Ruling:
        """Not checked, because a letter has no value here."""
        span = side.span or relation.span
        assert span is not None
        letter = self.without_value(relation)
        if letter is None:
            return self.unchecked(unknown.reason, relation.span)
        facts = {"letter": letter, "typed": plain(side)}
        verdict = Verdict(
            "not-checked", evidence=(Evidence("machine", f"{letter} has no value"),), decided_by="numbers"
        )
        return Ruling(verdict, (finding("no-value", span, facts=facts),))

    def without_value(self, relation: Relation) -> str | None:
        """A letter of the circuit that a name in the relation needs and that has no value."""
        members = self.chain.members if self.chain else (relation.left, relation.right)
        for name in (name for each in members for name in names_in(each)):
            if not isinstance(self.world.in_numbers(name.text), Unknown):
                continue
            value = self.world.in_letters(name.text)
            if isinstance(value, Unknown):
                return None
            letters = sorted(value.letters)
            return next(
                (each for each in letters if isinstance(self.world.in_numbers(each), Unknown)), name.text
            )
        return None

    def numbers_compared(self, relation: Relation) -> Ruling:
        """Judge an inequality by the values of the scene."""
        assert relation.span is not None
        sides = [self.number(side) for side in (relation.left, relation.right)]
        for side in sides:
            if isinstance(side, Unknown):
                return self.no_value(side, relation, relation.right)
        left, right = (side for side in sides if isinstance(side, Fraction))
        dimension = self.dimension_of(relation.left)
        text = f"The left is {shown(left, dimension, self.style)}, the right {shown(right, dimension, self.style)}."
        evidence = (Evidence("figures", text),)
        if compares(left, relation.sign, right):
            return Ruling(Verdict("true", evidence=evidence, decided_by="numbers"))
        facts = {"statement": plain(relation)}
        verdict = Verdict("wrong", evidence=evidence, decided_by="numbers")
        return Ruling(verdict, (finding("wrong-equation", relation.span, evidence=evidence, facts=facts),))

    def weighed(
        self, relation: Relation, against: Expression, side: Expression, exact: Fraction, result: Fit
    ) -> Ruling:
        """Turn the fit of a number into a verdict."""
        span = side.span or relation.span
        assert span is not None
        dimension = self.dimension_of(against)
        number = alone(side)
        unit = number.unit if number else None
        exact_shown = shown(exact, dimension, replace(self.style, figures=max(6, self.style.figures)))
        name = plain(against)
        evidence = (
            Evidence(
                "figures",
                f"{name} is {exact_shown} here." if has_letters(against) else f"It comes to {exact_shown}.",
            ),
        )
        right = Verdict("true", evidence=evidence, decided_by="numbers", ground="for this scene's values")
        is_rounded = number is not None and number.value != exact
        asks_for_about = self.policy.rounded == "≈" and relation.sign == "=" and is_rounded
        if result.kind == "right" and not asks_for_about:
            return Ruling(right)  # before the working is written, which takes longer than all the rest
        better = self.better(result.better if result.better is not None else exact, dimension, unit, number)
        facts = {
            "typed": plain(side),
            "right": better,
            "exact": exact_shown,
            "working": self.working(against, exact_shown),
        }
        match result.kind:
            case "right":
                return Ruling(right, (finding("rounded-value", span, facts=facts),))
            case "early":
                verdict = Verdict("near-enough", "early-rounding", None, better, evidence, "numbers")
                return Ruling(verdict, (finding("early-rounding", span, evidence=evidence, facts=facts),))
            case "last digit":
                verdict = Verdict("near-enough", "rounding", None, better, evidence, "numbers")
                return Ruling(verdict, (finding("wrong-rounding", span, evidence=evidence, facts=facts),))
            case "direction":
                named = against.text if isinstance(against, Name) else name
                facts |= {"name": name, "sense": self.world.sense(named) or "the other way", "right": better}
                verdict = Verdict("wrong", "other-direction", None, better, evidence, "numbers")
                return Ruling(verdict, (finding("other-direction", span, evidence=evidence, facts=facts),))
            case _:
                return self.off(relation, side, exact, better, evidence, facts)

    def off(
        self, relation: Relation, side: Expression, exact: Fraction, better: str,
        evidence: tuple[Evidence, ...], facts: dict[str, str],
    ) -> Ruling:  # fmt: skip
        """A number that is not right: near enough after ≈, else wrong."""
        span = side.span or relation.span
        assert span is not None
        typed = self.number(side)
        if relation.sign == "≈" and isinstance(typed, Fraction) and exact and abs(typed / exact - 1) <= NEAR:
            percent = shown(abs(typed / exact - 1) * 100, PURE, replace(self.style, figures=2), figures=2)
            verdict = Verdict("near-enough", None, None, better, evidence, "numbers")
            return Ruling(
                verdict,
                (
                    finding(
                        "near-enough",
                        span,
                        evidence=evidence,
                        facts=facts | {"percent": percent, "condition": "here"},
                    ),
                ),
            )
        verdict = Verdict("wrong", None, None, better, evidence, "numbers")
        return Ruling(verdict, (finding("wrong-number", span, evidence=evidence, facts=facts),))

    def working(self, against: Expression, exact: str) -> str:
        """How the right number comes about: the formula in the circuit's letters."""
        if isinstance(against, Name):
            value = self.world.in_letters(against.text)
            if (
                isinstance(value, RationalFunction)
                and value.letters
                and value != RationalFunction.letter(against.text)
            ):
                return f"{plain(against)} = {plain(to_expression(value))} = {exact}."
        return f"{plain(against)} = {exact}." if has_letters(against) else f"It comes to {exact}."

    def better(self, value: Fraction, dimension: Dimension, unit: Unit | None, number: Number | None) -> str:
        """What the number should be, in its own unit and figures."""
        figures = number.figures if number and number.figures and value != 0 else None
        return shown(value, unit.dimension if unit else dimension, self.style, unit=unit, figures=figures)


def _precedes(members: Sequence[Expression], first: Expression, second: Expression) -> bool:
    places = [next((n for n, each in enumerate(members) if each is side), 0) for side in (first, second)]
    return places[0] <= places[1]
