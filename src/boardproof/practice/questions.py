"""A `question` block read on its circuit: what is given, what is asked, which formulas answer it, who gets it wrong."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from boardproof.algebra import meaning
from boardproof.algebra.expression import Relation
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line
from boardproof.belief.anywhere import thoughts
from boardproof.belief.catalogue import read_belief
from boardproof.belief.thought import Thought
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Circuit
from boardproof.findings import Finding
from boardproof.lesson import model
from boardproof.lesson.sentence import Fill, Maths, Paragraph, Tie, Words
from boardproof.practice.ask_lines import AskLine, Range, read_ask, read_range
from boardproof.practice.order_beliefs import order_beliefs
from boardproof.practice.prepared import Condition, Given, Prepared, PreparedPart
from boardproof.practice.question_kinds import finding
from boardproof.practice.records import Asked, Point, Question, Vary
from boardproof.prove.worlds import Worlds
from boardproof.quantities import PURE, Dimension
from boardproof.source import Slice

__all__ = ["prepare"]

ZERO: Final = RationalFunction.constant(0)


def prepare(
    block: model.Question, worlds: Worlds, circuit: Circuit | None, *, topic: str = "", source: str = ""
) -> tuple[Prepared | None, tuple[Finding, ...]]:
    """Make a question ready.

    Parameters
    ----------
    block : lesson.model.Question
        As the lesson holds it.
    worlds : Worlds
        What names mean in the lesson.
    circuit : Circuit or None
        At hand at its place, the block's own `circuit` line included.
    topic : str
        What it practises; its name if not given.
    source : str
        Key of a family.

    Returns
    -------
    (Prepared or None, tuple of Finding)
        None if a part of it can't be read.
    """
    return _Reading(block, worlds, circuit).made(topic, source)


class _Reading:
    """Reads one block; what is wrong gathers in `findings`."""

    def __init__(self, block: model.Question, worlds: Worlds, circuit: Circuit | None) -> None:
        self.block, self.worlds, self.circuit = block, worlds, circuit
        self.world = worlds.of(circuit)
        self.findings: list[Finding] = []
        self.given: dict[str, Given] = {}

    def made(self, topic: str, source: str) -> tuple[Prepared | None, tuple[Finding, ...]]:
        vary = tuple(filter(None, map(self.range, self.block.vary)))
        conditions = [each for text in self.block.where for each in self.condition(text)]
        stem = self.words(self.block.stem)
        parts = [self.part(part) for part in self.block.parts]
        apart = tuple(each.key for text in self.block.tell_apart if (each := read_belief(text.text.strip())))
        ready = tuple(part for part in parts if part is not None)
        drawn = {letter for each in vary for letter in each.letters}
        values = self.circuit.values if self.circuit else {}
        self.valueless(ready, drawn | set(values))
        if len(ready) < len(parts) or not ready or any(f.kind.severity == "error" for f in self.findings):
            return None, tuple(self.findings)
        name = self.block.name.text.strip() if self.block.name else ""
        where = tuple(text.text.strip() for text in self.block.where)
        whole = repr(
            (name, stem, vary, where, [p.asked for p in ready], self.circuit.id if self.circuit else "")
        )
        question = Question(
            _hash(f"{source or self.block.span.source}|{name}|{stem if not name else ''}"),
            _hash(whole),
            name,
            self.circuit,
            stem,
            vary,
            where,
            tuple(part.asked for part in ready),
            apart,
            source or self.block.span,
            topic or name,
        )
        fixed = {letter: value for letter, value in values.items() if letter not in drawn}
        made = Prepared(question, ready, self.given, tuple(conditions), fixed, self.world.names(), self.world)
        self.apart(made)
        return made, tuple(self.findings)

    def range(self, text: Slice) -> Vary | None:
        found = read_range(text.text, self.worlds.decimal)
        if isinstance(found, str):
            self.findings.append(finding("unread-range", text.span, reason=found))
            return None
        letters = tuple(filter(None, (self.letter(name, found, text) for name in found.names)))
        return Vary(letters, found.values) if len(letters) == len(found.names) else None

    def letter(self, name: str, found: Range, text: Slice) -> str | None:
        meant = self.world.meant(name)
        if not isinstance(meant, Resolved) or meant.ref.kind not in {"letter", "count"}:
            self.findings.append(
                finding("unread-range", text.span, reason=f"{name} is no letter of this circuit")
            )
            return None
        dimension = PURE if meant.ref.kind == "count" else self.world.dimension_of_ref(meant)
        if dimension != found.dimension or (
            dimension == PURE and any(v.denominator > 1 for v in found.values)
        ):
            self.findings.append(finding("unread-range", text.span, reason=f"its unit is not that of {name}"))
            return None
        return meant.ref.of[0]

    def condition(self, text: Slice) -> Iterable[Condition]:
        line, wrong = read_line(text, known=self.world.names(), decimal=self.worlds.decimal)
        self.findings += wrong
        for each in line.statements if line else ():
            if isinstance(each, Relation):
                sides = [meaning.value(side, self.world.in_letters) for side in (each.left, each.right)]
                left, right = sides
                if isinstance(left, RationalFunction) and isinstance(right, RationalFunction):
                    yield Condition(left, each.sign, right)
                else:
                    self.findings.append(
                        finding("unread-range", text.span, reason=f"{text.text} means nothing here")
                    )

    def words(self, paragraphs: tuple[Paragraph, ...]) -> str:
        """Paragraphs as text; values stay in braces, maths between dollar signs."""
        return "\n\n".join("".join(self.word(each) for each in one.content) for one in paragraphs).strip()

    def word(self, each: object) -> str:
        match each:
            case Words(text=text):
                return text
            case Maths(text=text):
                return f"${text.text}$"
            case Tie(words=words):
                return words.text
            case Fill(of=of):
                return self.fill(of)
            case _:
                return ""

    def fill(self, of: Slice) -> str:
        key = " ".join(of.text.split())
        found = self.quantity(of)
        if found is None:
            return f"{{{key}}}"
        formula, dimension, _, _ = found
        self.given[key] = Given(formula, dimension)
        return f"{{{key}}}"

    def quantity(
        self, text: Slice
    ) -> tuple[RationalFunction, Dimension, Resolved | None, Circuit | None] | None:
        """A name, phrase or expression as a formula in letters."""
        meant = self.worlds.phrase(text, self.circuit)
        if not isinstance(meant, Finding | Resolved | RationalFunction):
            name = self.world.meant(text.text.strip())
            meant = name if isinstance(name, Resolved) else meant
        if isinstance(meant, Finding):
            self.findings.append(meant if meant.span.source else replace(meant, span=text.span))
            return None
        if isinstance(meant, RationalFunction):
            return meant, PURE, None, None
        if isinstance(meant, Resolved):
            world = self.world.with_name("asked", meant)
            formula: RationalFunction | Unknown = world.in_letters("asked")
            dimension = self.world.dimension_of_ref(meant)
            if isinstance(formula, RationalFunction):
                return self.now(formula, meant.circuit), dimension, meant, meant.circuit
        else:
            formula = meaning.value(meant, self.world.in_letters)
            inner = self.world.with_name("asked", meant).dimension("asked")
            if isinstance(formula, RationalFunction):
                return formula, inner or PURE, None, None
        self.findings.append(finding("answerless-part", text.span, reason=formula.reason))
        return None

    def now(self, formula: RationalFunction, circuit: Circuit) -> RationalFunction:
        """Numbers for letters to which a change gave another value than they have at hand."""
        here = self.circuit.values if self.circuit else {}
        changed = {name: value for name, value in circuit.values.items() if here.get(name) != value}
        return formula.substitute(changed) if changed else formula

    def part(self, part: model.QuestionPart) -> PreparedPart | None:
        span = part.ask.span if part.ask else self.block.span
        if part.ask is None:
            self.findings.append(finding("unread-ask", span, reason="the part has no `ask` line"))
            return None
        line = read_ask(part.ask.text)
        if isinstance(line, str):
            self.findings.append(finding("unread-ask", span, reason=line))
            return None
        words = self.words(part.words)
        points = tuple(self.points(part, line))
        if line.form == "words":
            asked = Asked(part.label, words, "words", marks=line.marks, points=points, after=line.after)
            return PreparedPart(asked)
        found = [self.quantity(_within(part.ask, name)) for name in line.names]
        if None in found:
            return None
        known = [each for each in found if each is not None]
        about = tuple(self.thoughts(resolved) for _, _, resolved, _ in known)
        refs = tuple(resolved.ref for _, _, resolved, _ in known if resolved is not None)
        asked = Asked(
            part.label,
            words,
            line.form,
            ", ".join(line.names),
            refs,
            known[0][1],
            line.figures,
            line.unit,
            line.marks,
            points,
            line.after,
            line.letters,
            line.options,
        )
        formulas = tuple(each[0] for each in known)
        orders = (
            order_beliefs(tuple(r for _, _, r, _ in known if r is not None)) if line.form == "ranking" else {}
        )
        return PreparedPart(asked, formulas, about, orders, known[0][3])

    def points(self, part: model.QuestionPart, line: AskLine) -> Iterable[Point]:
        credit = [each.text.strip() for each in part.credit]
        if credit:
            for n, text in enumerate(credit, 1):
                yield Point(
                    f"{'B' if line.form == 'words' else 'M'}{n}", text.rpartition(",")[0].strip() or text
                )
            return
        if line.form == "words":
            yield from (Point(f"B{n}", "a point that answers the question") for n in range(1, line.marks + 1))
            return
        for n in range(1, line.marks):
            yield Point(f"M{n}", METHOD[min(n, len(METHOD)) - 1])
        yield Point("A1", FINAL[line.form])

    def thoughts(self, resolved: Resolved | None) -> Mapping[str, Thought]:
        if resolved is None:
            return {}
        here = self.circuit
        before = here if here is not None and resolved.circuit.id != here.id else None
        return thoughts(resolved, before)

    def valueless(self, parts: Iterable[PreparedPart], known: set[str]) -> None:
        for part in parts:
            if part.asked.form == "expression":
                continue
            free = sorted({each for formula in part.formulas for each in formula.letters} - known)
            if free:
                reason = f"{', '.join(free)} has no value and no range"
                span = next((each.ask.span for each in self.block.parts if each.ask), self.block.span)
                self.findings.append(finding("answerless-part", span, reason=reason))

    def apart(self, made: Prepared) -> None:
        """Beliefs that these parts can't show, or can't tell from each other."""
        told = made.question.tell_apart
        spans = {text.text.strip().replace(" ", "_"): text.span for text in self.block.tell_apart}
        for belief in told:
            if belief not in made.beliefs:
                span = spans.get(belief, self.block.span)
                self.findings.append(finding("belief-without-answer", span, belief=belief.replace("_", " ")))
        for n, one in enumerate(told):
            for other in told[n + 1 :]:
                views = [_view(part, belief) for belief in (one, other) for part in made.parts]
                half = len(views) // 2
                if any(views) and views[:half] == views[half:]:
                    names = {"one": one.replace("_", " "), "other": other.replace("_", " ")}
                    self.findings.append(finding("beliefs-alike", spans.get(other, self.block.span), **names))


METHOD: Final = (
    "the right relation for this circuit, in letters or numbers",
    "values put into it",
    "one step more",
)
FINAL: Final = {
    "number": "the value with its unit",
    "expression": "the expression, in any form that is equal",
    "choice": "the right option",
    "ranking": "the whole order",
    "arrow": "the right direction",
    "shown": "working that leads to the value given, with one figure more",
}


def _view(part: PreparedPart, belief: str) -> object:
    return tuple(each[belief].cases if belief in each else () for each in part.thoughts), part.orders.get(
        belief, ()
    )


def _within(ask: Slice, name: str) -> Slice:
    start = max(ask.text.find(name), 0)
    return ask.part(start, start + len(name))


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:12]
