"""Numbers in sentences: tied by the teacher, by their clause, or by a value that is known; else loose."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from boardproof.algebra.expression import Comparison, Name, Relation
from boardproof.algebra.number_words import SaidNumber, said_numbers
from boardproof.findings import Evidence, Finding
from boardproof.lesson.sentence import Tie
from boardproof.prove.bench import Ruling
from boardproof.prove.clause import Sentence
from boardproof.prove.kinds import finding
from boardproof.prove.loose_number import said_in
from boardproof.prove.prose import (
    SUBSCRIPTED,
    agreeing_quantity,
    equal_values,
    given_by_part,
    named_quantity,
    names_kind,
    taken_by_part,
)
from boardproof.prove.record import Record, values_of
from boardproof.prove.unit_behind import said_as_number
from boardproof.prove.verdict import Verdict
from boardproof.prove.walk import Visit
from boardproof.prove.world import Meant
from boardproof.quantities import PURE
from boardproof.source import Span

__all__ = ["Told"]

TIED = "\x00tied"
VOLTAGE = re.compile(r"(?i)\bvoltage\b")  # said of a p.d., and of an EMF too


class Told(Record):
    """Judges numbers in sentences."""

    def tie(self, tie: Tie, visit: Visit) -> None:
        """Words tied to a quantity: their number is compared with it."""
        if tie.to is None:
            return
        found = self.worlds.phrase(tie.to, visit.place.circuit)
        if isinstance(found, Finding):
            self.findings.append(found if found.span.source else replace(found, span=tie.to.span))
            return
        numbers = said_numbers(tie.words.text, self.decimal)
        if not numbers:
            self.tied_maths(tie, visit)
            return
        self.tied(numbers[0], tie.words.text, tie.to.text, found, visit, tie.span)

    def tied_maths(self, tie: Tie, visit: Visit) -> None:
        """Tied words without a number in them."""
        said = self.said("number", None, visit, span=tie.span)
        reason = "no number with a unit stands in the tied words"
        note = finding("unchecked-statement", tie.span, facts={"reason": reason})
        self.keep(said, Ruling(Verdict("not-checked", evidence=(Evidence("machine", reason),)), (note,)))

    def tied(
        self, number: SaidNumber, words: str, name: str, to: Meant, visit: Visit, span: Span,
        sign: Comparison = "=",
    ) -> None:  # fmt: skip
        """Judge "this quantity = this number": `name` is the quantity's, `words` are the number's."""
        world = self.worlds.at(visit.place).with_name(TIED, to)
        relation = Relation(Name(TIED, span), sign, said_as_number(number, words, span), span=span)
        ruling = self.judge(relation, world)
        ruling = _with_words(ruling, name.strip(), " ".join(words.split()))
        self.keep(self.said("number", relation, visit, span=span), ruling)
        self.remember(relation, ruling, world)

    def plain_numbers(self, sentence: Sentence) -> None:
        """Numbers in plain words: tied by their clause, by a known value, or loose."""
        for loose in said_in(sentence, self.decimal):
            world = self.worlds.at(loose.visit.place)
            circuit = loose.visit.place.circuit
            said = loose.said
            ways = [named_quantity, given_by_part, agreeing_quantity]
            if not equal_values(said, self.given):  # a given number need not be what flows just now
                ways.append(taken_by_part)
            named = next((found for way in ways if (found := way(loose, world, circuit))), None)
            if named is not None:
                self.tied(said, loose.typed, named[0], named[1], loose.visit, loose.span, loose.sign)
                continue
            now = names_kind(loose, circuit)
            values = {*self.results_here} if now == "flow" else set()
            if not now or VOLTAGE.search(loose.ahead):
                values = {*self.given, *(self.proved_here if now else self.proved), *values_of(world)}
            if loose.visit.role == "refutation":
                values |= self.believed
            if now == "flow":
                own = ((world.dimension(name) or PURE, world.in_numbers(name)) for name in ("I", "V"))
                values |= {(dimension, value) for dimension, value in own if isinstance(value, Fraction)}
            if loose.sign in "=≈" and not equal_values(said, values):
                facts = {"typed": loose.typed, "matches": ""}
                self.findings.append(finding("loose-number", loose.span, facts=facts))

    def bare_symbols(self, sentence: Sentence) -> None:
        """Letters that stand in a sentence without their dollar signs."""
        for match in SUBSCRIPTED.finditer(sentence.text):
            visit = sentence.visit_at(match.start())
            if match[0].replace("{", "").replace("}", "") in self.worlds.known(visit.place.circuit):
                span = sentence.span(match.start(), match.end())
                self.findings.append(finding("bare-symbol", span, facts={"symbol": match[0]}))


def _with_words(ruling: Ruling, name: str, words: str) -> Ruling:
    """The ruling with the quantity's own name, and with the number as it was said."""

    def put(evidence: tuple[Evidence, ...]) -> tuple[Evidence, ...]:
        return tuple(replace(each, text=each.text.replace(TIED, name)) for each in evidence)

    findings = []
    for each in ruling.findings:
        facts = {key: value.replace(TIED, name) for key, value in each.facts.items()}
        if "typed" in facts:
            facts["typed"] = words
        findings.append(replace(each, facts=facts, evidence=put(each.evidence)))
    right = ruling.verdict.right and ruling.verdict.right.replace(TIED, name)
    verdict = replace(ruling.verdict, evidence=put(ruling.verdict.evidence), right=right)
    return Ruling(verdict, tuple(findings))
