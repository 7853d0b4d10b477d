"""Checking a whole lesson: every statement gets its verdict, every slip a finding with its place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from boardproof.algebra.expression import (
    Condition,
    Limit,
    Line,
    Name,
    Relation,
    names_in,
)
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line, read_lines
from boardproof.circuit.look_up import Resolved, Unresolved, look_up
from boardproof.findings import Finding
from boardproof.lesson.course import Course
from boardproof.lesson.model import Claim, Derive, DeriveStep, Display, Lesson, Question, Trap
from boardproof.lesson.sentence import Fill, Maths, Move, Tie
from boardproof.prove.argument import Argument
from boardproof.prove.bench import Ruling, chains
from boardproof.prove.claim_block import judge_block
from boardproof.prove.clause import Sentence
from boardproof.prove.follows import Established
from boardproof.prove.kinds import finding
from boardproof.prove.record import unjudged
from boardproof.prove.rules import RULES
from boardproof.prove.told import Told
from boardproof.prove.traps import HERE, Traps
from boardproof.prove.unit_behind import with_unit_behind
from boardproof.prove.verdict import Judged, StatementKind
from boardproof.prove.walk import Visit, Walk
from boardproof.prove.worlds import Worlds
from boardproof.source import Slice, Span

__all__ = ["Checked", "check"]

KIND_LETTERS = frozenset({"E", "I", "V", "R", "r", "C", "n", "k"})
PICTURE = frozenset({"show", "hide", "focus", "dim", "label", "replace"})


@dataclass(frozen=True)
class Checked:
    """What a check found.

    Parameters
    ----------
    judged : tuple of Judged
        Every statement in text order.
    findings : tuple of Finding
        Theirs and those of names, moves, traps and promises.
    established : mapping of str to Established
        Results that this lesson adds to the course.
    """

    judged: tuple[Judged, ...]
    findings: tuple[Finding, ...]
    established: Mapping[str, Established]


def check(
    walk: Walk,
    worlds: Worlds,
    course: Course,
    *,
    earlier: Mapping[str, Established] | None = None,
    late: Callable[[], str] = str,
) -> Checked:
    """Judge every statement of a walked lesson.

    Parameters
    ----------
    walk : Walk
        The lesson.
    worlds : Worlds
        Made for its definitions.
    course : Course
        Notation and policy, the lesson's own settings already merged in.
    earlier : mapping of str to Established, optional
        What earlier lessons of the course established.
    late : callable
        Gives the reason, in words, once no more statements shall be judged; until then "".
    """
    return _Checker(walk, worlds, course, dict(earlier or {}), late).run()


@dataclass
class _Checker(Told, Traps):
    argument: Argument | None = None

    def run(self) -> Checked:
        for _, group in groupby(self.walk.visits, key=lambda visit: id(visit.paragraph or visit)):
            visits = list(group)
            if visits[0].place.scene != self.scene:
                self.scene, self.proved_here, self.results_here = visits[0].place.scene, set(), set()
            before = len(self.findings)
            if visits[0].paragraph is not None:
                self.paragraph(visits)
            else:
                for visit in visits:
                    self.element(visit, None)
            new = [
                each
                for each in self.findings[before:]
                if not self.consequences.follows(each, visits[-1].place)
            ]
            self.findings[before:] = new
        self.promises(self.walk.lesson)
        return Checked(tuple(self.judged), tuple(self.findings), self.own)

    def element(self, visit: Visit, sentence: Sentence | None, at: int = 0) -> None:
        """Judge one element by what it is."""
        self.place = visit.place
        match visit.element:
            case Display(text=text):
                for line in self.lines(text, visit):
                    self.line(line, visit, "answer" if visit.role == "answer" else None)
            case Maths(text=text):
                self.maths(text, visit, sentence, at)
            case Fill(of=of):
                self.phrase(of, visit)
            case Tie():
                self.tie(visit.element, visit)
            case Move():
                self.move(visit.element, visit)
            case DeriveStep():
                self.step(visit.element, visit)
            case Derive():
                self.argument = Argument({**self.established, **self.own}, self.rules())
                self.targets(visit.element, visit)
            case Trap():
                self.trap(visit.element, visit)
            case Claim():
                self.claim(visit.element, visit)
            case Question():
                self.question(visit.element, visit)
            case _:
                return

    def paragraph(self, visits: list[Visit]) -> None:
        sentence = Sentence.of(visits)
        for visit, at in zip(visits, sentence.starts, strict=True):
            self.element(visit, sentence, at)
        if visits[0].role in {"text", "printed", "task", "answer", "refutation", "claim", "step words"}:
            self.plain_numbers(sentence)
            if visits[0].role != "step words":
                self.bare_symbols(sentence)

    def rules(self) -> Sequence[str]:
        """Rules that the class knows: the course's, and those that lessons established."""
        known = {*self.course.known, *self.established, *self.own, "cell rule"}
        return [rule for rule in RULES if rule in known]

    def lines(self, text: Slice, visit: Visit) -> tuple[Line, ...]:
        lines, found = read_lines(text, known=self.worlds.known(visit.place.circuit), decimal=self.decimal)
        self.findings += found
        return tuple(lines)

    def maths(self, text: Slice, visit: Visit, sentence: Sentence | None, at: int) -> None:
        line, found = read_line(text, known=self.worlds.known(visit.place.circuit), decimal=self.decimal)
        self.findings += found
        if line is None:
            return
        kind: StatementKind | None = "answer" if visit.role == "answer" else None
        if visit.role == "stem" or (sentence and (sentence.is_condition(at) or sentence.is_quoted(at))):
            self.names(line, visit)
            if visit.role == "refutation" and sentence and sentence.says_when_right(at):
                self.right_when(line, sentence, at, visit)
        elif sentence is None or line.condition is not None:
            self.line(line, visit, kind)
        elif sentence.may_suppose(at) and self.supposes(line, visit):
            self.names(line, visit)
        else:
            line = with_unit_behind(line, sentence.text[at + 1 :], self.worlds.at(visit.place).dimension)
            if sentence.is_here(at):
                self.line(replace(line, condition=HERE), visit, kind)
            else:
                self.line(line, visit, kind, self.said_under(sentence, at, visit))

    def said_under(self, sentence: Sentence, at: int, visit: Visit) -> tuple[Condition, bool] | None:
        """The condition that stands elsewhere in the sentence, and whether it surely belongs to this maths."""
        maths, firm = sentence.said_under(at)
        statements: list[Relation | Limit] = []
        for each in maths:
            known = self.worlds.known(visit.place.circuit)
            line, _ = read_line(each.text, known=known, decimal=self.decimal)
            if line and (firm or self.supposes(line, visit)):
                statements += line.statements
        return (Condition("if", tuple(statements)), firm) if statements else None

    def supposes(self, line: Line, visit: Visit) -> bool:
        """Whether a line puts letters of parts equal that need not be so: "for $r_1 = r_2$"."""
        world = self.worlds.at(visit.place)
        names = {name.text for each in line.statements for name in names_in(each)}
        if not line.statements or any(world.in_letters(n) != RationalFunction.letter(n) for n in names):
            return False
        rulings = [self.judge(each, world) for each in line.statements]
        return all(each.verdict.kind == "true-only-when" for each in rulings)

    def names(self, line: Line, visit: Visit) -> None:
        """Names in maths that asserts nothing must mean something; a letter alone may speak of its kind."""
        world = self.worlds.at(visit.place)
        bare = [part for part in line.bare if not (isinstance(part, Name) and part.text in KIND_LETTERS)]
        for part in (*line.statements, *bare):
            for name in names_in(part):
                if trouble := world.trouble(name):
                    self.findings.append(trouble)

    def line(
        self,
        line: Line,
        visit: Visit,
        kind: StatementKind | None,
        under: tuple[Condition, bool] | None = None,
    ) -> list[Judged]:
        """Judge every statement of a line, perhaps under a condition of its sentence; a tag establishes it."""
        world = self.worlds.at(visit.place)
        self.names(Line((), line.bare), visit)
        found = []
        for statement, chain in zip(line.statements, chains(line.statements), strict=True):
            condition = line.condition
            ruling, other = (
                self.judge(statement, world, condition=each, chain=chain)
                for each in (condition, under[0] if under else condition)
            )
            if under and (other.verdict.kind != "not-checked" if under[1] else _mends(ruling, other)):
                condition, ruling = under[0], other
            said = self.said(kind or _kind(statement), statement, visit, condition)
            found.append(self.keep(said, ruling))
            self.remember(statement, ruling, world)
        if line.tag:
            relations = tuple(each for each in line.statements if isinstance(each, Relation))
            self.own[line.tag] = Established(relations, world)
        return found

    def move(self, move: Move, visit: Visit) -> None:
        """What a move names must be there."""
        circuit = visit.place.circuit
        if move.word in PICTURE:
            for path in move.of:
                found = look_up(path.text.strip(), self.walk.definitions, circuit)
                if isinstance(found, Unresolved):
                    self.findings.append(found.at(path.span))
        elif move.word == "arrow":
            world = self.worlds.at(visit.place)
            for name in move.of:
                if trouble := world.trouble(Name(name.text.strip(), name.span)):
                    self.findings.append(trouble)
        if move.word == "focus":
            hidden = _hidden(visit.place.moves)
            for path in move.of:
                if path.text.strip() in hidden:
                    self.findings.append(
                        finding("hidden-focus", path.span, facts={"part": path.text.strip()})
                    )

    def step(self, step: DeriveStep, visit: Visit) -> None:
        world = self.worlds.at(visit.place)
        for line in self.lines(step.maths, visit):
            for statement, chain in zip(line.statements, chains(line.statements), strict=True):
                ruling = self.judge(statement, world, condition=line.condition, chain=chain)
                if isinstance(statement, Relation) and self.argument is not None:
                    ruling = self.argument.take(step, statement, ruling, world)
                self.keep(self.said("step", statement, visit, line.condition), ruling)
                self.remember(statement, ruling, world)

    def targets(self, derive: Derive, visit: Visit) -> None:
        world = self.worlds.at(visit.place)
        for target in derive.targets:
            if trouble := world.trouble(Name(target.text.strip(), target.span)):
                self.findings.append(trouble)
        if derive.group is not None:
            found = look_up(derive.group.text.strip(), self.walk.definitions, visit.place.circuit)
            if isinstance(found, Unresolved):
                self.findings.append(found.at(derive.group.span))

    def claim(self, claim: Claim, visit: Visit) -> None:
        if reason := self.late():
            spans = [means.span for means in claim.means] or [claim.span]
            rulings: Iterable[tuple[Span, Ruling]] = ((span, unjudged(span, reason)) for span in spans)
        else:
            rulings = judge_block(claim, self.worlds, visit.place, style=self.style)
        for span, ruling in rulings:
            self.keep(self.said("claim", None, visit, span=span), ruling)
        if claim.name is not None:
            self.own.setdefault(claim.name.text.strip(), Established((), self.worlds.at(visit.place)))

    def question(self, question: Question, visit: Visit) -> None:
        """Names in what is asked; drawing and marking come elsewhere."""
        for part in question.parts:
            if part.ask is None or part.ask.text.strip().startswith("words"):
                continue
            what, _, form = part.ask.text.partition(" as ")
            for name in what.split(",") if form.startswith("ranking") else (what.split("=")[0],):
                start = part.ask.text.index(name)
                asked = part.ask.part(start, start + len(name)).trimmed()
                found = self.worlds.phrase(asked, visit.place.circuit)
                if isinstance(found, Finding):
                    self.findings.append(found if found.span.source else replace(found, span=asked.span))
                elif not isinstance(found, Resolved):
                    self.phrase(asked, visit)

    def promises(self, lesson: Lesson) -> None:
        for name in lesson.settings.establishes:
            if name.text.strip() not in self.own:
                self.findings.append(
                    finding("not-established", name.span, facts={"result": name.text.strip()})
                )
        known = {*self.course.known, *self.established}
        for name in lesson.settings.leans_on:
            result = name.text.strip()
            if result not in known and self.course.lessons:
                facts = {"result": result, "where": "No earlier lesson of this course establishes it."}
                self.findings.append(finding("not-yet-taught", name.span, facts=facts))


def _mends(ruling: Ruling, other: Ruling) -> bool:
    return ruling.verdict.kind != "true" and other.verdict.kind == "true"


def _kind(statement: Relation | Limit) -> StatementKind:
    if isinstance(statement, Limit):
        return "limit"
    return "equation" if statement.sign in {"=", "≈"} else "inequality"


def _hidden(moves: Iterable[Move]) -> set[str]:
    hidden: set[str] = set()
    for move in moves:
        paths = {path.text.strip() for path in move.of}
        if move.word == "hide":
            hidden |= paths
        elif move.word in {"show", "take"}:
            hidden -= paths if move.word == "show" else hidden
    return hidden
