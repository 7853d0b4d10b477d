"""Traps: a tempting wrong statement must be wrong as it should be, and visibly so with these numbers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from boardproof.algebra import meaning
from boardproof.algebra.dimension import dimensioned
from boardproof.algebra.expression import Condition, Limit, Line, Relation
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.written import read_line
from boardproof.belief.catalogue import BELIEFS, read_belief
from boardproof.findings import Evidence, Finding, near_names
from boardproof.lesson.model import Trap
from boardproof.lesson.sentence import Maths
from boardproof.prove.believing import other_belief, trap_evidence
from boardproof.prove.bench import Chain, chains
from boardproof.prove.clause import Sentence
from boardproof.prove.kinds import finding
from boardproof.prove.record import KnownValues, Record
from boardproof.prove.verdict import Judged, Verdict
from boardproof.prove.walk import Visit
from boardproof.prove.world import World
from boardproof.quantities import Dimension

__all__ = ["HERE", "Traps"]

HERE = Condition("here")


class Traps(Record):
    """Judges traps."""

    def trap(self, trap: Trap, visit: Visit) -> None:
        """A trap: its belief must have a name, its statement must be wrong."""
        if trap.belief is not None and read_belief(trap.belief.text) is None:
            near = near_names("_".join(trap.belief.text.split()), BELIEFS)
            facts = {"word": trap.belief.text} | ({"near": ", ".join(near)} if near else {})
            self.findings.append(finding("unknown-belief", trap.belief.span, facts=facts))
        if trap.wrong is None:
            return
        line, found = read_line(
            trap.wrong, known=self.worlds.known(visit.place.circuit), decimal=self.decimal
        )
        if line is None and not any(sign in trap.wrong.text for sign in "=<>≈≤≥"):
            reason = "the trap is a sentence"
            verdict = Verdict("not-checked", evidence=(Evidence("machine", reason),))
            said = self.said("trap", None, visit, span=trap.wrong.span)
            self.judged.append(Judged(said, verdict, expected="wrong", met=False))
            return
        self.findings += found
        self.believed = set()
        self.trapped = tuple(each for each in (line.statements if line else ()) if isinstance(each, Relation))
        belief = read_belief(trap.belief.text) if trap.belief is not None else None
        for statement, chain in zip(line.statements, chains(line.statements), strict=True) if line else ():
            self.trap_statement(statement, chain, line.condition if line else None, visit)
            if belief is not None and trap.belief is not None:
                world = self.worlds.at(visit.place)
                self.findings += other_belief(belief, statement, world, trap.belief.span)

    def right_when(self, line: Line, sentence: Sentence, at: int, visit: Visit) -> None:
        """The condition under which a trap would be right, as its refutation says, must make it right."""
        world = self.worlds.at(visit.place)
        alone, joined = (
            Condition("if", tuple(each for each in many if isinstance(each, Relation)))
            for many in (line.statements, self.relations(sentence.conditions_beside(at), visit))
        )
        for trapped in self.trapped if alone.statements else ():
            found = [self.judge(trapped, world, condition=each) for each in (alone, joined)]
            kinds = [each.verdict.kind for each in found]
            empty = [
                each for ruling in found for each in ruling.findings if each.kind.code == "empty-condition"
            ]
            place = alone.statements[0].span
            if "true" in kinds or place is None:
                continue
            if "not-checked" in kinds:
                self.findings += empty[:1]
                continue
            condition = self.judge(trapped, world).verdict.condition or ""
            code = "overwide-equation" if condition else "wrong-equation"
            facts = {"condition": condition, "statement": plain(trapped)}
            self.findings.append(finding(code, place, facts=facts))

    def relations(self, maths: Iterable[Maths], visit: Visit) -> tuple[Relation | Limit, ...]:
        """The statements of several pieces of maths."""
        known = self.worlds.known(visit.place.circuit)
        lines = (read_line(each.text, known=known, decimal=self.decimal)[0] for each in maths)
        return tuple(statement for line in lines if line for statement in line.statements)

    def trap_statement(
        self, statement: Relation | Limit, chain: Chain, condition: Condition | None, visit: Visit
    ) -> None:
        """One tempting statement; wrong is what it should be."""
        world = self.worlds.at(visit.place)
        if isinstance(statement, Relation):
            self.believed |= _sides_of(statement, world)
        ruling = self.judge(statement, world, condition=condition, chain=chain)
        verdict = ruling.verdict
        span = statement.span
        assert span is not None
        extra: tuple[Finding, ...] = ()
        met = verdict.kind not in {"true", "not-checked"}
        if verdict.kind == "true":
            extra = (finding("true-trap", span),)
        elif verdict.kind == "not-checked":
            extra = ruling.findings
        elif verdict.kind in {"true-only-when", "right-number-wrong-reason"}:
            here = self.judge(statement, world, condition=HERE, chain=chain)
            if here.verdict.kind == "true":
                met = False
                numbers = next((each.text for each in verdict.evidence if each.kind == "counterexample"), "")
                extra = (finding("hidden-trap", span, facts={"numbers": numbers} if numbers else {}),)
        verdict = replace(
            verdict, evidence=(*verdict.evidence, *trap_evidence(statement, verdict, world, self.style))
        )
        self.judged.append(
            Judged(self.said("trap", statement, visit, condition), verdict, extra, "wrong", met)
        )
        self.findings += extra


def _sides_of(relation: Relation, world: World) -> KnownValues:
    """What the sides of a relation come to with the scene's values."""
    found = set()
    for side in (relation.left, relation.right):
        dimension, value = dimensioned(side, world.dimension), meaning.value(side, world.constant)
        number = value.as_number if isinstance(value, RationalFunction) else None
        if isinstance(dimension, Dimension) and number is not None:
            found.add((dimension, number))
    return found
