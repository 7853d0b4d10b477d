"""A teacher's argument, line by line: each true of the circuit, each following from the lines and rules it names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from boardproof.algebra.expression import Relation
from boardproof.algebra.show import plain
from boardproof.findings import Evidence, Finding
from boardproof.lesson.model import DeriveStep
from boardproof.prove.bench import Ruling
from boardproof.prove.follows import Established, Following, Premise, follows
from boardproof.prove.kinds import finding
from boardproof.prove.rules import RULES
from boardproof.prove.verdict import Verdict
from boardproof.prove.world import World

__all__ = ["Argument"]

ALWAYS = ("definition", "algebra", "numbers")


@dataclass
class Argument:
    """The lines of one argument so far.

    Parameters
    ----------
    established : mapping of str to Established
        Results that may be named.
    taught : sequence of str
        Rules that the class knows.
    """

    established: Mapping[str, Established]
    taught: Sequence[str] = RULES
    premises: list[Premise] = field(default_factory=list)
    wrong: set[int] = field(default_factory=set)

    def take(self, step: DeriveStep, relation: Relation, ruling: Ruling, world: World) -> Ruling:
        """Judge whether a line follows, and keep it as a premise for the next.

        Parameters
        ----------
        step : DeriveStep
            Its number, rules and the lines it names.
        relation : Relation
            One statement of the step.
        ruling : Ruling
            What was found of its truth.
        world : World
            Where it stands.
        """
        premise = Premise(relation, world, step.number)
        if ruling.verdict.kind not in {"true", "true-only-when"}:
            self.wrong.add(step.number)
            self.premises.append(premise)
            return ruling
        result = self._asked(step, relation, world)
        self.premises.append(premise)
        return Ruling(
            self._verdict(ruling.verdict, result), (*ruling.findings, *self._findings(step, relation, result))
        )

    def _named(self, step: DeriveStep) -> list[Premise]:
        wanted = set(step.from_)
        above = [each for each in self.premises if each.number != step.number]
        return [each for each in above if not wanted or each.number in wanted]

    def _asked(self, step: DeriveStep, relation: Relation, world: World) -> Following:
        named = self._named(step)
        rules = [rule.text.strip() for rule in step.rules] or ["algebra"]
        others = [each for each in self.premises if each not in named and each.number not in self.wrong]
        return follows(
            relation,
            [each for each in named if each.number not in self.wrong],
            rules,
            world,
            others=others,
            established=self.established,
            taught=self.taught,
        )

    def _verdict(self, verdict: Verdict, result: Following) -> Verdict:
        word = {"yes": "yes", "not-yet": "not-yet", "unknown": "unknown"}[result.kind]
        evidence = verdict.evidence
        if result.second_solution:
            listed = ", ".join(f"{name} = {value}" for name, value in result.second_solution.items())
            text = f"All that is named holds also for {listed}, and the line doesn't."
            evidence = (*evidence, Evidence("second-solution", text, result.second_solution))
        return replace(verdict, follows=word, missing=result.missing, evidence=evidence)  # type: ignore[arg-type]  # a word of the table

    def _findings(self, step: DeriveStep, relation: Relation, result: Following) -> tuple[Finding, ...]:
        found: list[Finding] = []
        span = relation.span or step.span
        built = sorted(set(step.from_) & self.wrong)
        if built:
            return (finding("wrong-premise", span, facts={"line": str(built[0])}),)
        if not step.rules:
            rule = next((name for name in result.missing if name in self.taught), "")
            found.append(finding("missing-reason", span, facts={"rule": rule} if rule else {}))
        elif result.kind == "not-yet":
            rules = " and ".join(rule.text.strip() for rule in step.rules)
            lines = (
                f"line{'s' if len(step.from_) > 1 else ''} {', '.join(map(str, step.from_))}"
                if step.from_
                else "what is above"
            )
            missing = {"missing": " and ".join(result.missing)} if result.missing else {}
            few = result.too_few
            if few is not None and not missing:
                facts = {"unknowns": str(few[0]), "lines": str(few[1])}
                found.append(finding("too-few-lines", span, facts=facts))
            else:
                facts = {"lines": lines, "rules": rules, **missing}
                found.append(finding("line-does-not-follow", span, facts=facts))
        elif result.kind == "unknown":
            reason = f"whether {plain(relation)} follows is beyond what I can prove"
            found.append(finding("unchecked-statement", span, facts={"reason": reason}))
        if result.repeats is not None:
            facts = {"line": str(step.number), "earlier": str(result.repeats)}
            found.append(finding("repeated-line", span, facts=facts))
        return tuple(found)
