"""What is on the board at every point of a lesson: one walk through the text, used by whoever needs to know.

A circuit block puts a circuit on the board until the next one. A change (`take`, `turn`, `open`, ...) lasts to the end
of its scene, inside a step of an argument to the end of the step. What is imagined (`short`, `no emf in`) ends with its
paragraph or step and never touches what a group is. A scene starts with its circuit whole.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from boardproof.circuit.build import is_closed
from boardproof.circuit.define import define
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.lay_flat import has_loop
from boardproof.circuit.model import Circuit
from boardproof.circuit.read import Given, circuit_at, read_circuit, with_zero
from boardproof.circuit.statement import AtHand, Named, NetworkOf
from boardproof.findings import Finding
from boardproof.lesson.model import (
    Block,
    BoardBlock,
    Brief,
    CircuitBlock,
    Claim,
    Derive,
    DeriveStep,
    Display,
    Lesson,
    Pause,
    Question,
    Readings,
    Trap,
)
from boardproof.lesson.sentence import Fill, Maths, Move, Paragraph, Tie, Words
from boardproof.record import record
from boardproof.solve.answers import answers
from boardproof.source import Slice, Source, Span

__all__ = ["Element", "Place", "Role", "Visit", "Walk", "walk_lesson"]

Role = Literal[
    "text", "printed", "board", "task", "answer", "refutation", "wrong", "step", "step words", "claim", "means",
    "stem", "lab", "brief", "block",
]  # fmt: skip
DONE = frozenset({"turn", "open", "close", "remove"})
IMAGINED = frozenset({"short", "no emf in"})
Element = Words | Maths | Fill | Tie | Move | Display | DeriveStep | Slice | Block


@record
class Place:
    """What stands on the board at one point of the text.

    Parameters
    ----------
    number : int
        Counts places through the lesson; equal neighbours share one.
    scene : int
        Number of the scene, from 0.
    circuit : Circuit or None
        At hand, with every change in force and the values that readings give.
    imagined : tuple of (str, str)
        Paths (raw) and "short" or "no emf in".
    moves : tuple of Move
        Of this scene so far, in order.
    broken : Span or None
        The line that should have put a circuit on the board here, but can't be read or built.
    """

    number: int
    scene: int
    circuit: Circuit | None
    imagined: tuple[tuple[str, str], ...] = ()
    moves: tuple[Move, ...] = ()
    broken: Span | None = None


@record
class Visit:
    """One element of the lesson with its place; `block` and `paragraph` are what it stands in."""

    place: Place
    element: Element
    role: Role
    block: Block
    paragraph: Paragraph | None = None
    span: Span | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Walk:
    """A lesson, walked.

    Parameters
    ----------
    lesson : Lesson
        What was walked.
    definitions : Definitions
        All that it defines about circuits.
    visits : tuple of Visit
        In text order.
    circuits : tuple of (int, Circuit)
        Every circuit that was ever at hand, with its scene.
    findings : tuple of Finding
        From reading circuits and changes.
    """

    lesson: Lesson
    definitions: Definitions
    visits: tuple[Visit, ...]
    circuits: tuple[tuple[int, Circuit], ...]
    findings: tuple[Finding, ...]


Fixer = Callable[[tuple[Given, ...], Definitions], tuple[Mapping[str, Fraction], tuple[Finding, ...]]]


def walk_lesson(
    lesson: Lesson,
    files: Mapping[str, Source],
    *,
    decimal: str = ".",
    values: str | None = None,
    fixed: Fixer | None = None,
) -> Walk:
    """Walk through a lesson once.

    Parameters
    ----------
    lesson : Lesson
        What was read.
    files : mapping of str to Source
        Texts of the course's ``*.circuit`` files, for `use`.
    decimal : str
        The course's decimal mark.
    values : str, optional
        Name of a set of values that is put on every circuit.
    fixed : callable, optional
        Finds letters without values from readings (`solve.inverse`).

    Returns
    -------
    Walk
        Every element with what is on the board there.
    """
    return _Walker(lesson, files, decimal, values, fixed).walk()


class _Walker:
    def __init__(
        self,
        lesson: Lesson,
        files: Mapping[str, Source],
        decimal: str,
        values: str | None,
        fixed: Fixer | None,
    ) -> None:
        self.lesson, self.decimal, self.values, self.fixed = lesson, decimal, values, fixed
        bodies = [b.body for scene in lesson.scenes for b in scene.blocks if isinstance(b, CircuitBlock)]
        self.definitions, found = define(bodies, files, decimal=decimal)
        self.findings: list[Finding] = list(found)
        self.circuits: list[tuple[int, Circuit]] = []
        self.givens: tuple[Given, ...] = ()
        self.readings: Mapping[str, Fraction] = {}
        self.base: Circuit | None = None
        self.broken: Span | None = None
        self.place = Place(0, 0, None)

    def walk(self) -> Walk:
        visits = [
            replace(visit, span=_span_of(visit.element))
            for number, scene in enumerate(self.lesson.scenes)
            for visit in self.scene(number, scene.blocks)
        ]
        return Walk(self.lesson, self.definitions, tuple(visits), tuple(self.circuits), tuple(self.findings))

    def put(self, **changes: object) -> None:
        """Go on to another place if anything changed."""
        after = replace(self.place, **changes)  # type: ignore[arg-type]  # names of Place's own fields
        if after != self.place:
            self.place = replace(after, number=self.place.number + 1)
            if after.circuit is not None and (after.scene, after.circuit) not in self.circuits[-1:]:
                self.circuits.append((after.scene, after.circuit))

    def scene(self, number: int, blocks: tuple[Block, ...]) -> Iterator[Visit]:
        self.put(scene=number, circuit=self.base, imagined=(), moves=(), broken=self.broken)
        for block in blocks:
            yield from self.block(block)

    def block(self, block: Block) -> Iterator[Visit]:
        match block:
            case CircuitBlock(body=body):
                self.new_circuit(body)
                yield Visit(self.place, block, "block", block)
            case Paragraph():
                yield from self.paragraph(block, "text" if block.said else "printed", block)
            case Display():
                yield Visit(self.place, block, "board", block)
            case BoardBlock(moves=moves):
                for move in moves:
                    self.move(move)
                    yield Visit(self.place, move, "board", block)
            case Derive(steps=steps):
                yield Visit(self.place, block, "block", block)
                for step in steps:
                    yield from self.step(step, block)
            case Pause(task=task, answer=answer):
                yield Visit(self.place, block, "block", block)
                yield from self.paragraphs(task, "task", block)
                yield from self.paragraphs(answer, "answer", block)
            case Trap(wrong=wrong, refutation=refutation):
                yield Visit(self.place, block, "block", block)
                if wrong is not None:
                    yield Visit(self.place, wrong, "wrong", block)
                yield from self.paragraphs(refutation, "refutation", block)
            case Claim(words=words, means=means):
                yield Visit(self.place, block, "block", block)
                yield from self.paragraphs(words, "claim", block)
                for each in means:
                    yield Visit(self.place, each, "means", block)
            case Question():
                yield from self.question(block)
            case Readings(task=words) | Brief(words=words):
                yield Visit(self.place, block, "block", block)
                yield from self.paragraphs(words, "lab" if isinstance(block, Readings) else "brief", block)
            case _:
                yield Visit(self.place, block, "block", block)

    def question(self, block: Question) -> Iterator[Visit]:
        before = self.place
        if block.circuit is not None:
            circuit = self.read(block.circuit)
            self.put(circuit=circuit or self.place.circuit)
        yield Visit(self.place, block, "block", block)
        yield from self.paragraphs(block.stem, "stem", block)
        for part in block.parts:
            yield from self.paragraphs(part.words, "stem", block)
            if part.ask is not None:
                yield Visit(self.place, part.ask, "stem", block)
        self.place = replace(before, number=self.place.number + 1)

    def paragraphs(self, many: tuple[Paragraph | Display, ...], role: Role, block: Block) -> Iterator[Visit]:
        for each in many:
            if isinstance(each, Display):
                yield Visit(self.place, each, role, block)
            else:
                yield from self.paragraph(each, role, block)

    def paragraph(self, paragraph: Paragraph, role: Role, block: Block) -> Iterator[Visit]:
        for element in paragraph.content:
            if isinstance(element, Move):
                self.move(element)
            yield Visit(self.place, element, role, block, paragraph)
        if role != "step words":
            self.put(imagined=())

    def step(self, step: DeriveStep, block: Derive) -> Iterator[Visit]:
        """A step's moves are in its words, but they are made before its line is judged."""
        before = self.place
        visits = list(self.paragraphs(step.words, "step words", block))
        yield Visit(self.place, step, "step", block)
        yield from visits
        # Changes end with the step; what the picture shows (focus, arrows, a replaced group) stays.
        self.put(circuit=before.circuit, imagined=(), broken=before.broken)

    def new_circuit(self, body: Slice) -> None:
        reading = read_circuit(body, self.definitions, decimal=self.decimal)
        self.findings += reading.findings
        if reading.givens and self.fixed:
            self.givens += reading.givens
            self.readings, found = self.fixed(self.givens, self.definitions)
            self.findings += [each for each in found if each not in self.findings]
        if reading.at_hand is not None:
            self.base, self.broken = self.valued(reading.at_hand), None
            self.put(circuit=self.base, broken=None)
            lines = [each.span for each in reading.statements if isinstance(each, AtHand | Named | NetworkOf)]
            self.contradictions(self.base, lines[-1] if lines else body.span)
        elif reading.broken is not None:
            self.base, self.broken = None, reading.broken
            self.put(circuit=None, broken=self.broken)
        elif self.base is not None:
            self.base = with_zero(self.base, reading.statements)
            self.put(circuit=self.base)

    def contradictions(self, circuit: Circuit, span: Span) -> None:
        """What can't be in a circuit, told at the line that puts it on the board."""
        if is_closed(circuit.item) or has_loop(circuit):
            self.findings += [replace(fault, span=span) for fault in answers(circuit).faults()]

    def valued(self, circuit: Circuit) -> Circuit:
        """The circuit with the values that were asked for and those that readings give."""
        if self.values and self.values in self.definitions.sets:
            text = Slice(self.values, Span(self.lesson.source.name, 0, len(self.values)))
            put, _ = circuit_at(text, self.definitions, circuit, decimal=self.decimal)
            circuit = put or circuit
        more = {
            letter: value
            for letter, value in self.readings.items()
            if letter in circuit.letters and letter not in circuit.values
        }
        return replace(circuit, values=MappingProxyType({**circuit.values, **more})) if more else circuit

    def read(self, text: Slice) -> Circuit | None:
        circuit, found = circuit_at(text, self.definitions, self.place.circuit, decimal=self.decimal)
        self.findings += [each for each in found if self.definitions.broken_by(each) is None]
        if circuit is None or any(each.kind.severity == "error" for each in found):
            return None
        circuit = self.valued(circuit)
        self.contradictions(circuit, text.span)
        return circuit

    def move(self, move: Move) -> None:
        """Do a move: to the circuit, to the imagination, or to the picture only."""
        moves = (*self.place.moves, move)
        if move.word == "take" and move.of:
            circuit = self.read(move.of[0])
            self.put(circuit=circuit, imagined=(), moves=moves, broken=None if circuit else move.span)
        elif move.word in DONE and self.place.circuit is not None:
            circuit = self.read(_bare(self.lesson.source.slice(move.span.start, move.span.end)))
            self.put(circuit=circuit, moves=moves, broken=None if circuit else move.span)
        elif move.word in IMAGINED:
            self.put(imagined=tuple((path.text, move.word) for path in move.of), moves=moves)
        else:
            self.put(moves=moves)


def _bare(move: Slice) -> Slice:
    """A move's text without the backticks around it."""
    left = len(move.text) - len(move.text.lstrip("` "))
    return move.part(left, len(move.text.rstrip("` ")))


def _span_of(element: Element) -> Span | None:
    if isinstance(element, Slice):
        return element.span
    span = getattr(element, "span", None)
    return span if isinstance(span, Span) else None
