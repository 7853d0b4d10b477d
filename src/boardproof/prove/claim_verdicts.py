"""The verdict on one line of a claim in words: why it is true, where it fails, under which condition it holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardproof.algebra.answer import Always, Answer, Never, Undecided, When
from boardproof.algebra.ground import Fact
from boardproof.algebra.points import Point
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.findings import Evidence
from boardproof.prove.bench import Ruling, case_words
from boardproof.prove.claim_bench import POINTS, ClaimBench, Quantity
from boardproof.prove.conditions import Cases, Conditions
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import Verdict, VerdictKind
from boardproof.quantities import shown

__all__ = ["ClaimVerdicts", "brief"]


@dataclass(frozen=True)
class ClaimVerdicts(ClaimBench):
    """Puts answers into verdicts."""

    def proved(self, answers: Sequence[Always], aims: Cases, text: str = "", when: str = "") -> Ruling:
        """True, with the line that shows why."""
        order = ("identity", "factors", "squares", "order", "z3")
        hardest = max(
            answers, key=lambda each: order.index(each.decided_by) if each.decided_by in order else 9
        )
        by = hardest.decided_by
        kind = by if by in {"identity", "factors"} else "machine" if by == "z3" else "certificate"
        if not text:
            facts = [self.difference_words(fact, when) for case in aims for fact in case]
            text = (
                " ".join(dict.fromkeys(facts))
                if len(aims) == 1
                else "Wherever one of them fails, another holds."
            )
        if by in {"squares", "order"}:
            manner = "a sum of squares" if by == "squares" else "cases of which letter is larger"
            text += f" Proved by {manner}, checked exactly."
        if by == "z3":
            text += " True, by z3; that proof can't be read."
        return Ruling(Verdict("true", evidence=(Evidence(kind, text),), decided_by=by, ground=self.ground))

    def where(self, when: str) -> str:
        """What a sign is proved under, to stand at the end of a sentence."""
        return (
            f" when {when}" if when else " with what is given" if self.facts else " for all positive values"
        )

    def difference_words(self, fact: Fact, when: str = "") -> str:
        """How one sees that a fact holds: the difference of both sides, in factors."""
        function, sign = fact
        if function.is_zero:
            return "Both sides are the same expression."
        given = self.where(when)
        if sign in {"=", "≠", "≈"}:
            word = "never nought" if sign == "≠" else "nought"
            return f"The difference of the two sides is {brief(function)}, {word}{given}."
        larger = -function if sign in {"<", "≤"} else function
        word = "above nought" if sign in {"<", ">"} else "never below nought"
        return f"The larger side less the smaller is {brief(larger)}, {word}{given}."

    def refuted(
        self,
        answers: Sequence[Answer],
        fails: tuple[Point, str],
        seen: tuple[Quantity, ...],
        holds: Cases | None = None,
    ) -> Ruling:
        """Not always: the counterexample, and the condition if there is one; `holds` says exactly when it holds."""
        point, text = fails
        if not text:
            ends = ", ".join(
                f"{each.words} = {shown(each.value.evaluate(point), each.dimension, self.style)}"
                for each in seen
                if each.value.letters <= set(point) and each.words not in point
            )
            text = f"{self.listed(point)} give {ends}" if ends else f"it fails at {self.listed(point)}"
        values = {name: self.shown_letter(name, value) for name, value in point.items()}
        evidence = (Evidence("counterexample", f"{text[:1].upper()}{text[1:]}.", values),)
        never = holds == () or (holds is None and any(isinstance(each, Never) for each in answers))
        condition = self.condition_of(answers)
        if condition is None and holds and any(self.points(self.letters_of(holds), holds)):
            condition = Conditions(self.counts, self.facts).words(holds) or None
        kind: VerdictKind = "true-only-when" if condition else "wrong"
        by = next(
            (each.decided_by for each in answers if isinstance(each, When | Never)),
            "factors" if holds else "grid",
        )
        detail = "never" if never and not condition else None
        verdict = Verdict(kind, detail, condition, None, evidence, by, ground=self.ground)
        facts = {"counterexample": text} | ({"condition": condition} if condition else {})
        return Ruling(verdict, (finding("refuted-claim", self.span, evidence=evidence, facts=facts),))

    def condition_of(self, answers: Sequence[Answer]) -> str | None:
        """The condition under which every part holds; None if there is none, or none is known."""
        if any(isinstance(each, Never | Undecided) for each in answers):
            return None
        words = list(dict.fromkeys(case_words(each) for each in answers if isinstance(each, When)))
        if len(words) > 1:
            words = [f"({each})" if " or " in each else each for each in words]
        return " and ".join(words) or None

    def undecided(self, answers: Sequence[Answer]) -> Ruling:
        """Neither proved nor refuted."""
        reason = next((each.reason for each in answers if isinstance(each, Undecided)), "no proof was found")
        tries = max((each.tries for each in answers if isinstance(each, Undecided)), default=0) or POINTS
        evidence = (Evidence("machine", reason),)
        facts = {"reason": reason[:1].lower() + reason[1:], "tries": str(tries)}
        note = finding("undecided-claim", self.span, evidence=evidence, facts=facts)
        return Ruling(Verdict("not-checked", evidence=evidence, decided_by="grid"), (note,))


def brief(function: RationalFunction) -> str:
    """A ratio in a readable length.

    Parameters
    ----------
    function : RationalFunction
        Any ratio.

    Examples
    --------
    >>> E, r, R = (RationalFunction.letter(name) for name in ("E", "r", "R"))
    >>> brief(E / (R + r))
    'E/(R + r)'
    """
    text = plain(to_expression(function))
    return text if len(text) <= 160 else f"{text[:150]}…"
