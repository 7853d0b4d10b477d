"""Relations between letters: true for all positive values, under a condition, or never, by exact algebra."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.answer import Always, Answer, Never, Undecided, When
from boardproof.algebra.compare import small_counterexample
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Comparison, Name, Relation
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.sign import sign_of
from boardproof.findings import Evidence
from boardproof.prove.bench import Bench, Ruling, case_words, compares
from boardproof.prove.figures import alone
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import Verdict
from boardproof.quantities import PURE, Dimension, shown

__all__ = ["Letters"]

FINE: Final = Fraction(1, 100)


class Letters(Bench):
    """Judges relations in which both sides hold letters."""

    def general(self, relation: Relation) -> Ruling:
        """Judge a relation for all positive values of its letters."""
        function = self.difference(relation)
        if isinstance(function, Unknown):
            return self.unchecked(function.reason, function.span or relation.span)
        if relation.sign == "≈":
            return self.roughly(relation, function)
        answer = self.answer(function, relation.sign)
        match answer:
            case Always(decided_by=by, text=text):
                kind = by if by in {"identity", "factors"} else "machine" if by == "z3" else "certificate"
                return Ruling(
                    Verdict("true", evidence=(Evidence(kind, text),), decided_by=by, ground=self.ground)
                )
            case Never(decided_by=by, fails=fails):
                return self.wrong(relation, by, fails)
            case When():
                return self.sometimes(relation, answer)
            case Undecided(reason=reason):
                return self.unchecked(reason[:1].lower() + reason[1:], relation.span)

    def answer(self, function: RationalFunction, sign: Comparison) -> Answer:
        """When ``function sign 0``; said of every load, an equation must hold whatever the load's letters are."""
        if sign != "=" or not self.condition or self.condition.word != "every load":
            return sign_of(function, sign, counts=self.world.counts, given=self.facts)
        parts = [function.numerator]
        for letter in sorted(self.world.load_letters & function.letters):
            parts = [each for part in parts for each in part.coefficients(letter) if not each.is_zero]
        answers = [sign_of(part, "=", counts=self.world.counts, given=self.facts) for part in parts]
        if all(isinstance(each, Always) for each in answers):
            return Always("identity", "It holds whatever the load is.")
        never = next((each for each in answers if isinstance(each, Never | Undecided)), None)
        if never is not None:
            return replace(never, fails=small_counterexample(function)) if isinstance(never, Never) else never
        whens = [each for each in answers if isinstance(each, When)]
        cases = tuple(sum(case, ()) for case in itertools.product(*(each.cases for each in whens)))
        factors = tuple(factor for each in whens for factor in each.factors)
        return When(cases, factors, None, small_counterexample(function) or {})

    def wrong(self, relation: Relation, by: str, fails: Mapping[str, Fraction] | None) -> Ruling:
        """Never true: as an equation, perhaps of the right size in the other direction."""
        assert relation.span is not None
        right = self.right(relation)
        evidence = self.counterexample(relation, fails)
        facts = {"statement": plain(relation)} | ({"right": right} if right else {})
        if relation.sign == "=" and (turned := self.other_way(relation)):
            verdict = Verdict("wrong", "other-direction", None, right, evidence, by)
            facts |= {"name": turned, "sense": self.world.sense(turned), "right": right or ""}
            return Ruling(
                verdict, (finding("other-direction", relation.span, evidence=evidence, facts=facts),)
            )
        verdict = Verdict("wrong", "never", None, right, evidence, by)
        return Ruling(verdict, (finding("wrong-equation", relation.span, evidence=evidence, facts=facts),))

    def other_way(self, relation: Relation) -> str | None:
        """The name of a directed quantity if one side is exactly minus the other."""
        left, right = self.value(relation.left), self.value(relation.right)
        if isinstance(left, Unknown) or isinstance(right, Unknown) or not (left + right).is_zero:
            return None
        sides = [side.text for side in (relation.left, relation.right) if isinstance(side, Name)]
        return next((name for name in sides if self.world.sense(name)), None)

    def sometimes(self, relation: Relation, answer: When) -> Ruling:
        """True in some cases: with the condition, and whether the scene meets it."""
        assert relation.span is not None
        condition = case_words(answer)
        right = self.right(relation)
        evidence = self.counterexample(relation, answer.fails)
        fits = self.fits(relation)
        facts = {"condition": condition, "statement": plain(relation)}
        members = self.chain.members if self.chain else ()
        if fits and self.equal_here(relation):
            evidence = (Evidence("figures", "Both are the same with this scene's values."),)
            return Ruling(
                Verdict("true", evidence=evidence, decided_by="numbers", ground="for this scene's values")
            )
        if fits and relation.sign == "=" and any(alone(each) is not None for each in members) and right:
            verdict = Verdict(
                "right-number-wrong-reason", None, condition, right, evidence, answer.decided_by
            )
            formula = plain(relation.right if isinstance(relation.left, Name) else relation.left)
            facts |= {"formula": formula, "right": right}
            return Ruling(verdict, (finding("wrong-reason", relation.span, evidence=evidence, facts=facts),))
        verdict = Verdict(
            "true-only-when", None, condition, right, evidence, answer.decided_by, ground=self.ground
        )
        found = finding("overwide-equation", relation.span, evidence=evidence, facts=facts)
        return Ruling(verdict, (replace(found, severity="warning") if fits else found,))

    def equal_here(self, relation: Relation) -> bool:
        """``V_1 = V_2 = 1.4 V``: two quantities side by side, no formula, in a chain that gives their number."""
        sides = (relation.left, relation.right)
        members = self.chain.members if self.chain else ()
        return (
            relation.sign == "="
            and any(alone(each) is not None for each in members)
            and all(
                isinstance(side, Name) and self.value(side) != RationalFunction.letter(side.text)
                for side in sides
            )
        )

    def fits(self, relation: Relation) -> bool:
        """Whether the scene's own numbers meet the relation."""
        sides = [self.number(side) for side in (relation.left, relation.right)]
        if any(isinstance(side, Unknown) for side in sides):
            return False
        left, right = (side for side in sides if isinstance(side, Fraction))
        return compares(left, relation.sign, right)

    def counterexample(
        self, relation: Relation, fails: Mapping[str, Fraction] | None
    ) -> tuple[Evidence, ...]:
        """Both sides worked out at a point where they differ."""
        left, right = self.value(relation.left), self.value(relation.right)
        if not fails or isinstance(left, Unknown) or isinstance(right, Unknown):
            return ()
        letters = left.letters | right.letters
        if not letters <= set(fails):
            return ()
        try:
            ends = [side.evaluate(fails) for side in (left, right)]
        except ZeroDivisionError:
            return ()
        dimension = dimensioned(relation.left, self.world.dimension)
        if not isinstance(dimension, Dimension):
            dimension = PURE
        values = {name: self.shown_letter(name, fails[name]) for name in sorted(letters)}
        listed = ", ".join(f"{name} = {value}" for name, value in values.items())
        ends_shown = [shown(end, dimension, self.style) for end in ends]
        text = (
            f"With {listed} the left is {ends_shown[0]}, the right {ends_shown[1]}."
            if listed
            else (f"The left is {ends_shown[0]}, the right {ends_shown[1]}.")
        )
        return (Evidence("counterexample", text, values),)

    def roughly(self, relation: Relation, function: RationalFunction) -> Ruling:
        """Near enough, and when: within 1 per cent if R > 99 r."""
        assert relation.span is not None
        right = self.value(relation.right)
        if function.is_zero or isinstance(right, Unknown) or right.is_zero:
            return Ruling(Verdict("true" if function.is_zero else "not-checked"))
        off = function / right
        above = sign_of(off, ">", counts=self.world.counts, given=self.facts)
        size = off if isinstance(above, Always) else -off
        near = sign_of(size - FINE, "<", counts=self.world.counts, given=self.facts)
        if isinstance(above, When | Undecided) or isinstance(near, Undecided | Never):
            return self.unchecked("it is not clear when the two are near each other", relation.span)
        condition = case_words(near) if isinstance(near, When) else None
        facts = {
            "typed": plain(relation.left), "percent": "1", "right": plain(relation.right),
            "condition": f"when {condition}" if condition else "always",
        }  # fmt: skip
        verdict = Verdict("near-enough", None, condition, None, (), "factors")
        return Ruling(verdict, (finding("near-enough", relation.span, facts=facts),))
