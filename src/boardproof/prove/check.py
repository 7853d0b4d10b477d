"""Checking a whole lesson: every statement gets its verdict, every slip a finding with its place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import groupby

from boardproof.algebra import meaning
from boardproof.algebra.expression import (
    Comparison,
    Condition,
    Limit,
    Line,
    Name,
    Number,
    Relation,
    names_in,
)
from boardproof.algebra.number_words import SaidNumber, said_numbers
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line, read_lines
from boardproof.belief.catalogue import BELIEFS, read_belief
from boardproof.circuit.implied import Resolved, Unresolved, look_up
from boardproof.findings import Evidence, Finding, near_names
from boardproof.lesson.course import Course
from boardproof.lesson.model import (
    Brief,
    CircuitBlock,
    Claim,
    Derive,
    DeriveStep,
    Display,
    Fill,
    Lesson,
    Maths,
    Move,
    Question,
    Readings,
    Tie,
    Trap,
)
from boardproof.prove.argument import Argument
from boardproof.prove.bench import Chain, Ruling, chains, numbers_in
from boardproof.prove.claims import judge_claim
from boardproof.prove.follows import Established
from boardproof.prove.judge import judge
from boardproof.prove.kinds import finding
from boardproof.prove.prose import (
    SUBSCRIPTED,
    Sentence,
    equal_values,
    given_by_part,
    named_quantity,
    names_kind,
    said_as_number,
    said_in,
    with_unit_behind,
)
from boardproof.prove.rules import RULES
from boardproof.prove.verdict import Judged, Said, StatementKind, Verdict, statement_key
from boardproof.prove.walk import Visit, Walk
from boardproof.prove.world import Meant, World
from boardproof.prove.worlds import Worlds
from boardproof.quantities import PURE, Dimension, Style
from boardproof.source import Slice, Span

__all__ = ["Checked", "check"]

HERE = Condition("here")
TIED = "\x00tied"
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


def _late(span: Span | None, reason: str) -> Ruling:
    """What is said of a statement that there was no time for."""
    note = finding("unchecked-statement", span or Span("", 0, 0), facts={"reason": reason})
    return Ruling(Verdict("not-checked", evidence=(Evidence("machine", reason),)), (note,))


@dataclass
class _Checker:
    walk: Walk
    worlds: Worlds
    course: Course
    established: dict[str, Established]
    late: Callable[[], str]
    judged: list[Judged] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    counted: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    proved: set[tuple[Dimension, Fraction]] = field(default_factory=set)
    proved_here: set[tuple[Dimension, Fraction]] = field(default_factory=set)
    believed: set[tuple[Dimension, Fraction]] = field(default_factory=set)
    scene: int = 0
    argument: Argument | None = None
    own: dict[str, Established] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.decimal = self.course.notation.mark
        self.style = Style(
            self.course.policy.show, self.course.policy.half, self.decimal, self.course.notation.ohm
        )
        self.given = _given_numbers(self.walk.lesson, self.decimal)

    def run(self) -> Checked:
        for _, group in groupby(self.walk.visits, key=lambda visit: id(visit.paragraph or visit)):
            visits = list(group)
            if visits[0].place.scene != self.scene:
                self.scene, self.proved_here = visits[0].place.scene, set()
            if visits[0].paragraph is not None:
                self.paragraph(visits)
            else:
                for visit in visits:
                    self.element(visit, None)
        self.promises(self.walk.lesson)
        return Checked(tuple(self.judged), tuple(self.findings), self.own)

    # -- what stands where

    def element(self, visit: Visit, sentence: Sentence | None, at: int = 0) -> None:
        """Judge one element by what it is."""
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

    # -- maths

    def judge(
        self,
        statement: Relation | Limit,
        world: World,
        *,
        condition: Condition | None = None,
        chain: Chain | None = None,
    ) -> Ruling:
        """Judge one statement by the course's policy, while there is time."""
        if reason := self.late():
            return _late(statement.span, reason)
        options = {"policy": self.course.policy, "style": self.style}
        return judge(statement, world, condition=condition, chain=chain, **options)  # type: ignore[arg-type]  # the judge's own

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

    def said(
        self, kind: StatementKind, statement: Relation | Limit | None, visit: Visit, condition: Condition | None = None,
        *, span: Span | None = None,
    ) -> Said:  # fmt: skip
        span = span or (statement.span if statement is not None else None) or visit.span
        assert span is not None
        text = self.walk.lesson.source.text[span.start : span.end]
        circuit = visit.place.circuit.id if visit.place.circuit else ""
        nth = self.counted[kind, text, circuit]
        self.counted[kind, text, circuit] += 1
        key = statement_key(kind, text, circuit, nth)
        return Said(key, kind, text, span, visit.place.number, statement, condition)

    def keep(self, said: Said, ruling: Ruling) -> Judged:
        judged = Judged(said, ruling.verdict, ruling.findings, met=ruling.verdict.kind == "true")
        self.judged.append(judged)
        self.findings += ruling.findings
        return judged

    def remember(self, statement: Relation | Limit, ruling: Ruling, world: World) -> None:
        """A number that was proved may be spoken of afterwards."""
        if not isinstance(statement, Relation) or ruling.verdict.kind != "true":
            return
        for side, other in ((statement.left, statement.right), (statement.right, statement.left)):
            if isinstance(other, Name) and isinstance(side, Number) and side.unit is not None:
                value = world.in_numbers(other.text)
                self.prove(side.unit.dimension, value if isinstance(value, Fraction) else side.value)
        for number in _numbers_of(statement):
            if number.unit is not None:
                self.prove(number.unit.dimension, number.value)

    def prove(self, dimension: Dimension, value: Fraction) -> None:
        self.proved.add((dimension, value))
        self.proved_here.add((dimension, value))

    # -- sentences

    def phrase(self, of: Slice, visit: Visit) -> None:
        """What a filled value asks for must mean something and have a value."""
        found = self.worlds.phrase(of, visit.place.circuit)
        world = self.worlds.at(visit.place)
        if isinstance(found, Finding):
            self.findings.append(found if found.span.source else replace(found, span=of.span))
            return
        if isinstance(found, Resolved | RationalFunction):
            return
        for name in names_in(found):
            if trouble := world.trouble(name):
                self.findings.append(trouble)

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
            named = named_quantity(loose, world, circuit) or given_by_part(loose, world, circuit)
            if named is not None:
                self.tied(said, loose.typed, named[0], named[1], loose.visit, loose.span, loose.sign)
                continue
            now = names_kind(loose, circuit)
            values = {*self.given, *(self.proved_here if now else self.proved), *_values_of(world)}
            if loose.visit.role == "refutation":
                values |= self.believed
            if now:
                own = ((world.dimension(name) or PURE, world.in_numbers(name)) for name in ("I", "V"))
                values |= {(dimension, value) for dimension, value in own if isinstance(value, Fraction)}
            if loose.sign in "=≈" and not equal_values(said, values):
                facts = {"typed": loose.typed, "matches": ""}
                self.findings.append(finding("loose-number", loose.span, facts=facts))

    def bare_symbols(self, sentence: Sentence) -> None:
        for match in SUBSCRIPTED.finditer(sentence.text):
            visit = sentence.visit_at(match.start())
            if match[0].replace("{", "").replace("}", "") in self.worlds.known(visit.place.circuit):
                span = sentence.span(match.start(), match.end())
                self.findings.append(finding("bare-symbol", span, facts={"symbol": match[0]}))

    # -- moves

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

    # -- arguments, traps, claims, questions

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

    def trap(self, trap: Trap, visit: Visit) -> None:
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
        for statement, chain in zip(line.statements, chains(line.statements), strict=True) if line else ():
            self.trap_statement(statement, chain, line.condition if line else None, visit)

    def trap_statement(
        self, statement: Relation | Limit, chain: Chain, condition: Condition | None, visit: Visit
    ) -> None:
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
        self.judged.append(
            Judged(self.said("trap", statement, visit, condition), verdict, extra, "wrong", met)
        )
        self.findings += extra

    def claim(self, claim: Claim, visit: Visit) -> None:
        world = self.worlds.at(visit.place)
        reason = self.late()
        rulings = (
            ((means, _late(means.span, reason)) for means in claim.means)
            if reason
            else judge_claim(claim.means, claim.for_, world, decimal=self.decimal)
        )
        for means, ruling in rulings:
            self.keep(self.said("claim", None, visit, span=means.span), ruling)
        if not claim.means:
            reason = "only its words are there, no `means` line"
            span = claim.name.span if claim.name is not None else claim.span
            note = finding("unchecked-statement", span, facts={"reason": reason})
            verdict = Verdict("not-checked", evidence=(Evidence("machine", reason),))
            self.keep(self.said("claim", None, visit, span=span), Ruling(verdict, (note,)))
        if claim.name is not None:
            self.own.setdefault(claim.name.text.strip(), Established((), world))

    def question(self, question: Question, visit: Visit) -> None:
        """Names in what is asked; drawing and marking come elsewhere."""
        for part in question.parts:
            if part.ask is None or part.ask.text.strip().startswith("words"):
                continue
            what = part.ask.text.split(" as ")[0].split("=")[0].strip()
            asked = part.ask.part(0, len(what))
            found = self.worlds.phrase(asked, visit.place.circuit)
            if isinstance(found, Finding):
                self.findings.append(found if found.span.source else replace(found, span=asked.span))
            elif not isinstance(found, Resolved):
                self.phrase(asked, visit)

    # -- promises

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


def _numbers_of(relation: Relation) -> Iterable[Number]:
    return (*numbers_in(relation.left), *numbers_in(relation.right))


def _sides_of(relation: Relation, world: World) -> set[tuple[Dimension, Fraction]]:
    """What the sides of a relation come to with the scene's values."""
    found = set()
    for side in (relation.left, relation.right):
        dimension, value = meaning.dimension(side, world.dimension), meaning.value(side, world.constant)
        number = value.as_number if isinstance(value, RationalFunction) else None
        if isinstance(dimension, Dimension) and number is not None:
            found.add((dimension, number))
    return found


def _values_of(world: World) -> set[tuple[Dimension, Fraction]]:
    """The values that the scene's letters have."""
    found = set()
    for letter, value in world.values().items():
        dimension = world.dimension(letter)
        if dimension is not None:
            found.add((dimension, value))
    return found


def _given_numbers(lesson: Lesson, decimal: str) -> set[tuple[Dimension, Fraction]]:
    """Numbers that circuits, briefs, readings and questions of the lesson state."""
    found: set[tuple[Dimension, Fraction]] = set()
    for scene in lesson.scenes:
        for block in scene.blocks:
            texts: list[str] = []
            match block:
                case CircuitBlock(body=body):
                    texts = [body.text]
                case Brief(fields=fields):
                    texts = [text.text for _, text in fields]
                case Readings(fields=named):
                    texts = [text.text for text in named.values()]
                case Question(vary=vary):
                    texts = [text.text for text in vary]
                case _:
                    continue
            found |= {
                (said.unit.dimension, said.value) for text in texts for said in said_numbers(text, decimal)
            }
    return found


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
