"""What a check has found so far: statements with their verdicts, findings, and the numbers that were proved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from boardproof.algebra.expression import Condition, Limit, Name, Number, Relation, names_in
from boardproof.algebra.number_words import said_numbers
from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.look_up import Resolved
from boardproof.findings import Evidence, Finding
from boardproof.lesson.course import Course
from boardproof.lesson.model import Brief, CircuitBlock, Lesson, Question, Readings
from boardproof.prove.bench import Chain, Ruling, numbers_in
from boardproof.prove.consequence import Consequences
from boardproof.prove.figures import alone
from boardproof.prove.follows import Established
from boardproof.prove.judge import judge
from boardproof.prove.kinds import finding
from boardproof.prove.verdict import Judged, Said, StatementKind, Verdict, statement_key
from boardproof.prove.walk import Place, Visit, Walk
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.quantities import Dimension, Style
from boardproof.source import Slice, Span

__all__ = ["KnownValues", "Record", "unjudged", "values_of"]

KnownValues = set[tuple[Dimension, Fraction]]
"""Values with their dimensions that may be spoken of."""


def unjudged(span: Span | None, reason: str) -> Ruling:
    """What is said of a statement that could not be judged.

    Parameters
    ----------
    span : Span or None
        The statement's.
    reason : str
        Goes after "I can't check this:".

    Examples
    --------
    >>> unjudged(None, "time is up").verdict.kind
    'not-checked'
    """
    note = finding("unchecked-statement", span or Span("", 0, 0), facts={"reason": reason})
    return Ruling(Verdict("not-checked", evidence=(Evidence("machine", reason),)), (note,))


@dataclass
class Record:
    """A check under way.

    Parameters
    ----------
    walk : Walk
        The lesson.
    worlds : Worlds
        What names mean where.
    course : Course
        Notation and policy.
    established : dict of str to Established
        What earlier lessons established.
    late : callable
        Gives the reason once there is no more time.
    """

    walk: Walk
    worlds: Worlds
    course: Course
    established: dict[str, Established]
    late: Callable[[], str]
    judged: list[Judged] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    counted: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    proved: KnownValues = field(default_factory=set)
    proved_here: KnownValues = field(default_factory=set)
    results_here: KnownValues = field(default_factory=set)
    believed: KnownValues = field(default_factory=set)
    exact: set[Fraction] = field(default_factory=set)
    trapped: tuple[Relation, ...] = ()
    scene: int = 0
    own: dict[str, Established] = field(default_factory=dict)
    place: Place | None = None

    def __post_init__(self) -> None:
        self.consequences = Consequences(self.walk.definitions, self.walk.lesson.source)
        self.decimal = self.course.notation.mark
        self.style = Style(
            self.course.policy.show, self.course.policy.half, self.decimal, self.course.notation.ohm
        )
        self.given = _given_numbers(self.walk.lesson, self.decimal)
        self.exact |= {value for _, value in self.given}

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
            return unjudged(statement.span, reason)
        return judge(
            statement,
            world,
            condition=condition,
            chain=chain,
            policy=self.course.policy,
            style=self.style,
            sure=frozenset(self.exact),
        )

    def said(
        self, kind: StatementKind, statement: Relation | Limit | None, visit: Visit, condition: Condition | None = None,
        *, span: Span | None = None,
    ) -> Said:  # fmt: skip
        """A statement with its key, kind and place."""
        span = span or (statement.span if statement is not None else None) or visit.span
        assert span is not None
        text = self.walk.lesson.source.text[span.start : span.end]
        circuit = visit.place.circuit.id if visit.place.circuit else ""
        nth = self.counted[kind, text, circuit]
        self.counted[kind, text, circuit] += 1
        key = statement_key(kind, text, circuit, nth)
        return Said(key, kind, text, span, visit.place.number, statement, condition)

    def keep(self, said: Said, ruling: Ruling) -> Judged:
        """Keep a statement with what was found of it."""
        if self.place is not None:
            ruling = self.consequences.softened(ruling, said.relation, self.place)
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
                self.exact |= {value} if isinstance(value, Fraction) else set()
        lone = (alone(side) for side in (statement.left, statement.right))
        self.results_here |= {(each.unit.dimension, each.value) for each in lone if each and each.unit}
        for number in _numbers_of(statement):
            if number.unit is not None:
                self.prove(number.unit.dimension, number.value)

    def prove(self, dimension: Dimension, value: Fraction) -> None:
        """A value that was proved may be spoken of, in this scene and after."""
        self.proved.add((dimension, value))
        self.proved_here.add((dimension, value))

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


def _numbers_of(relation: Relation) -> Iterable[Number]:
    return (*numbers_in(relation.left), *numbers_in(relation.right))


def values_of(world: World) -> KnownValues:
    """The values that the scene's letters have.

    Parameters
    ----------
    world : World
        Of the circuit at hand.

    Returns
    -------
    set of (Dimension, Fraction)
        In SI units.
    """
    found = set()
    for letter, value in world.values().items():
        dimension = world.dimension(letter)
        if dimension is not None:
            found.add((dimension, value))
    return found


def _given_numbers(lesson: Lesson, decimal: str) -> KnownValues:
    """Numbers that circuits, briefs, readings and questions of the lesson state."""
    found: KnownValues = set()
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
