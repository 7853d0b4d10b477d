"""Claims: general statements, proved for all positive values or refuted with numbers a class can check by head.

A claim becomes signs of exact differences: ``V < E`` that of V - E, ``P rises with R`` that of dP/dR (for a
count the next value less this one), ``X when Y`` that of X with Y given. The proofs are `algebra.compare`'s; a grid of
small whole numbers only ever refutes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.answer import Always, Answer, Undecided, When
from boardproof.algebra.expression import Comparison, Condition, Relation, names_in
from boardproof.algebra.ground import Fact
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.sign import sign_of
from boardproof.circuit.names import known_names
from boardproof.findings import Evidence, Finding
from boardproof.lesson.course import Policy
from boardproof.prove.bench import Ruling, case_words, has_units
from boardproof.prove.claim_bench import Quantity, Stop, leaves_of, relations_in
from boardproof.prove.claim_language import (
    Claimed,
    Extreme,
    Joined,
    Phrases,
    Steady,
    Trend,
    WhenClaim,
    read_claim,
    read_scope,
)
from boardproof.prove.claim_verdicts import brief
from boardproof.prove.conditions import Cases, Conditions
from boardproof.prove.judge import judge
from boardproof.prove.trends import Trends, put_into
from boardproof.prove.verdict import Verdict
from boardproof.prove.world import World
from boardproof.quantities import Style
from boardproof.source import Slice

__all__ = ["judge_claim"]

FLIPPED: Final[dict[Comparison, Comparison]] = {"<": ">", "≤": "≥"}


def judge_claim(
    means: Sequence[Slice],
    for_: Slice | None,
    world: World,
    *,
    decimal: str = ".",
    style: Style | None = None,
) -> tuple[tuple[Slice, Ruling], ...]:
    """Judge a claim, line by line; it is true if every line is.

    Parameters
    ----------
    means : sequence of Slice
        Its lines in symbols.
    for_ : Slice or None
        What it is said for; None means all positive values.
    world : World
        Where it stands.
    decimal : str
        The course's decimal mark.
    style : Style, optional
        How values are shown.

    Returns
    -------
    tuple of (Slice, Ruling)
        "true", "true-only-when" with its condition, "wrong", "units-differ" or "not-checked", with the findings
        ``refuted-claim``, ``undecided-claim`` and the reader's.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.prove.worlds import Worlds
    >>> from boardproof.source import Source
    >>> read = read_circuit(Source("x", "A = cell; R = resistor; main = A across R").slice())
    >>> world = Worlds(read.definitions).of(read.at_hand)
    >>> [(_, ruling)] = judge_claim([Source("x", "V falls with I").slice()], None, world)
    >>> ruling.verdict.kind
    'true'
    """
    return tuple((line, _judge(line, for_, world, decimal, style or Style())) for line in means)


def _judge(line: Slice, for_: Slice | None, world: World, decimal: str, style: Style) -> Ruling:
    phrases = Phrases(world, known_names(world.definitions, world.at_hand), decimal, {})
    claimed, scope = read_claim(line, phrases), read_scope(for_, phrases)
    for read in (claimed, scope):
        if isinstance(read, Finding):
            reason = Evidence("machine", "it can't be read")
            return Ruling(Verdict("not-checked", evidence=(reason,)), (read,))
    assert not isinstance(claimed, Finding)
    assert not isinstance(scope, Finding)
    here = phrases.world_with()
    whole = frozenset(world.counts)
    proof = _Claim(
        here,
        None,
        None,
        Policy(),
        style,
        phrases=phrases,
        scope=scope,
        span=line.span,
        whole=whole,
        counts=whole,
    )
    try:
        return proof.judge(claimed)
    except Stop as stopped:
        return stopped.ruling
    except (TooLarge, ZeroDivisionError):
        return proof.unchecked("it has too many terms", line.span)


@dataclass(frozen=True)
class _Claim(Trends):
    """Decides which way a line is judged."""

    def judge(self, claimed: Claimed) -> Ruling:
        """Judge one line."""
        if isinstance(claimed, Joined) and not all(isinstance(each, Relation) for each in leaves_of(claimed)):
            return self.by_the_judge(claimed)
        prepared = replace(self, values=self.scene_values(claimed))
        return replace(prepared, facts=prepared.hypotheses()).of_kind(claimed)

    def of_kind(self, claimed: Claimed) -> Ruling:
        match claimed:
            case Joined():
                return self.implied(((),), self.cases(claimed), self.shown_in(claimed))
            case Trend() | Steady():
                return self.trend(claimed, self.change(claimed), ((),), "")
            case Extreme():
                return self.extreme(claimed)
            case WhenClaim():
                return self.under(claimed)

    def under(self, claimed: WhenClaim) -> Ruling:
        """One thing when, only when or exactly when another."""
        of, cases = claimed.of, self.cases(claimed.given)
        given = self.joined_words(claimed.given)
        if isinstance(of, Trend | Steady):
            change = self.change(of)
            if claimed.word == "when":
                return self.trend(of, change, cases, given)
            cases = put_into(cases, change.put)
            return self.with_change(change).both_ways(
                claimed, self.trend_cases(of, change), cases, (), "it does", given
            )
        return self.both_ways(claimed, self.cases(of), cases, self.shown_in(of), self.joined_words(of), given)

    def both_ways(
        self, claimed: WhenClaim, aims: Cases, cases: Cases, seen: tuple[Quantity, ...], said: str, given: str
    ) -> Ruling:
        """The direction that is claimed, or both."""
        match claimed.word:
            case "when":
                return self.implied(cases, aims, seen, given)
            case "only when":
                return self.implied(aims, cases, seen, said)
            case _:
                return self.exactly(aims, cases, seen, claimed)

    def by_the_judge(self, joined: Joined) -> Ruling:
        """Limits and approximations go where every line of maths goes."""
        condition = Condition("if", self.scope.conditions) if self.scope.conditions else None
        rulings = [
            judge(each, self.world, condition=condition, style=self.style) for each in leaves_of(joined)
        ]
        if joined.word == "or":
            return self.unchecked("a limit can't be joined by “or”", self.span)
        return next((each for each in rulings if each.verdict.kind != "true"), rulings[0])

    def scene_values(self, claimed: Claimed) -> dict[str, Fraction]:
        """The scene's values of all letters but those compared with a number, if a number with a unit is in it."""
        relations = [each for each in relations_in(claimed) if has_units(each.left) or has_units(each.right)]
        if not relations:
            return {}
        free = {name.text for each in relations for name in names_in(each)}
        free |= (
            {claimed.letter} if isinstance(claimed, Trend | Steady | Extreme) and claimed.letter else set()
        )
        return {name: value for name, value in self.scene().items() if name not in free}

    def scene(self) -> Mapping[str, Fraction]:
        """The scene's values."""
        return self.world.values() if isinstance(self.world, World) else {}

    def implied(self, premises: Cases, aims: Cases, seen: tuple[Quantity, ...], when: str = "") -> Ruling:
        """Whether the aims hold wherever one of the premises does."""
        answers: list[Answer] = []
        for premise in self.possible(premises):
            given = (*self.facts, *premise)
            answers += [self.clause(clause, given) for clause in self.clauses(aims)]
        if all(isinstance(each, Always) for each in answers):
            return self.proved([each for each in answers if isinstance(each, Always)], aims, when=when)
        fails = self.search(premises, aims, answers)
        if fails is None:
            return self.undecided(answers)
        alone = premises[0] if len(premises) == 1 else None
        return self.refuted(answers, fails, seen, None if alone is None else self.exact(aims, alone))

    def clause(self, clause: Sequence[Fact], given: Sequence[Fact]) -> Answer:
        """One of the facts must hold."""
        answers: list[Answer] = []
        for place, (function, sign) in enumerate(clause):
            others = [self.negated(each) for at, each in enumerate(clause) if at != place]
            answer = sign_of(function, sign, counts=self.counts, given=(*given, *others))
            if isinstance(answer, Always):
                return answer
            answers.append(answer)
        if len(answers) == 1:
            return answers[0]
        return Undecided("No one of the cases could be shown where the others fail")

    def exactly(self, aims: Cases, cases: Cases, seen: tuple[Quantity, ...], claimed: WhenClaim) -> Ruling:
        """Both ways; where the two differ by a positive factor that is the whole proof."""
        if len(aims) == len(cases) == len(aims[0]) == len(cases[0]) == 1:
            factor = self.factor_between(aims[0][0], cases[0][0])
            if factor:
                text = f"The two conditions differ by the factor {brief(factor)} only, which is positive."
                evidence = (Evidence("factors", text),)
                return Ruling(Verdict("true", evidence=evidence, decided_by="factors", ground=self.ground))
        there, back = self.implied(cases, aims, seen), self.implied(aims, cases, seen)
        bad = next((each for each in (there, back) if each.verdict.kind in {"true-only-when", "wrong"}), None)
        if bad is None:
            return there if there.verdict.kind != "true" else back
        return self.not_exactly(bad, aims, cases, claimed)

    def factor_between(self, one: Fact, other: Fact) -> RationalFunction | None:
        """The positive factor between two facts that say the same."""
        upward = [
            (-function, FLIPPED[sign]) if sign in FLIPPED else (function, sign)
            for function, sign in (one, other)
        ]
        (first, sign), (second, like) = upward
        if sign != like or second.is_zero:
            return None
        factor = first / second
        for signed in (factor, -factor) if sign in {"=", "≠"} else (factor,):
            if isinstance(sign_of(signed, ">", counts=self.counts, given=self.facts), Always):
                return signed
        return None

    def not_exactly(self, bad: Ruling, aims: Cases, cases: Cases, claimed: WhenClaim) -> Ruling:
        """Refuted one way; what would be right is the condition itself. And where the two do agree."""
        right = None
        if len(aims) == len(aims[0]) == 1:
            answer = sign_of(aims[0][0][0], aims[0][0][1], counts=self.counts, given=self.facts)
            right = case_words(answer) if isinstance(answer, When) else None
        words = self.joined_words(claimed.of) if isinstance(claimed.of, Joined) else "it"
        agreeing = self.agreeing(aims, cases)
        verdict = replace(
            bad.verdict,
            kind="true-only-when" if agreeing else "wrong",
            detail="never" if agreeing == "" else None,
            condition=agreeing or None,
            right=f"{words} exactly when {right}" if right else None,
        )
        facts = {key: value for key, value in bad.findings[0].facts.items() if key != "condition"}
        facts |= {"condition": right} if right else {}
        return Ruling(verdict, (replace(bad.findings[0], facts=facts),))

    def agreeing(self, aims: Cases, cases: Cases) -> str | None:
        """The condition under which both hold or neither does; empty if that never is, None if it is not known."""
        one, other = self.exact(aims), self.exact(cases)
        if one is None or other is None:
            return None
        conditions = Conditions(self.counts, self.facts)
        holds = conditions.agree(one, other)
        if holds is None or (holds and not any(self.points(self.letters_of(holds), holds))):
            return None
        return conditions.words(holds)
