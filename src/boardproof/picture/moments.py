"""The lesson in time: one list of moments that script, cue cards, board plan, page, slides and player walk.

A moment begins a scene, makes one move, writes one line, waits for the viewer, or reveals an answer. What is said
from there to the next moment belongs to it. What stands on the board at each moment is worked out here, once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from boardproof.algebra.expression import Line
from boardproof.circuit.model import Circuit, Leaf
from boardproof.lesson.model import CircuitBlock, Derive, DeriveStep, Display, Lesson, Pause
from boardproof.lesson.sentence import Move
from boardproof.picture.board import Arrow, BoardState, Piece, Written
from boardproof.picture.drawing import Readout
from boardproof.prove.walk import Place, Visit, Walk
from boardproof.source import Span

__all__ = ["Cause", "Facts", "Moment", "moments_of"]

Cause = Literal["scene", "move", "line", "pause", "reveal"]
SPOKEN = frozenset({"text", "task", "answer", "refutation", "claim", "step words", "lab", "brief"})


@dataclass(frozen=True, slots=True)
class Facts:
    """What moments must be told, so that they ask no solver.

    Parameters
    ----------
    lines : callable
        The lines of maths in a display or step, each with its key and its reason.
    arrow : callable
        The current arrow of a name at a place; None if it has none.
    readouts : callable
        The values of a circuit's letters, as shown.
    tagged : mapping of str to Line
        Established lines, for `recall`.
    caution : callable
        The short caution of a circuit; empty if nothing can hurt.
    equivalent : callable
        What is drawn in place of a group ("cell", "turned cell", "resistor") and the lesson's own letters for it,
        such as ``E_p, r_p``; no letters if it gave none.
    heights : callable
        The loop at a place with its changes of potential; empty where they are not known.
    """

    lines: Callable[[Visit], tuple[Written, ...]]
    arrow: Callable[[Place, str], Arrow | None]
    readouts: Callable[[Circuit], tuple[Readout, ...]]
    tagged: Mapping[str, Line]
    caution: Callable[[Circuit, bool], str]
    equivalent: Callable[[Place, str, str], tuple[str, str]]
    heights: Callable[[Place], tuple[Piece, ...]]


@dataclass(frozen=True, slots=True)
class Moment:
    """One moment.

    Parameters
    ----------
    key : str
        Scene, then the statement or move; it outlives edits elsewhere.
    place : Place
        What is on the board there.
    cause : Cause
        What makes it a moment.
    state : BoardState
        What stands on the board from now on.
    said : tuple of Visit
        What is said until the next moment.
    move : Move or None
        The move that is made.
    span : Span or None
        Its place in the text.
    pause : Pause or None
        The pause that begins or ends here.
    """

    key: str
    place: Place
    cause: Cause
    state: BoardState
    said: tuple[Visit, ...] = ()
    move: Move | None = None
    span: Span | None = None
    pause: Pause | None = None

    @property
    def scene(self) -> int:
        """Number of its scene, from 0."""
        return self.place.scene

    @property
    def waits(self) -> bool:
        """Whether the lesson waits here for the viewer."""
        return self.cause == "pause"


def moments_of(
    walk: Walk,
    facts: Facts,
    *,
    labels: str = "letters",
    resistor: str = "box",
    derived: Mapping[int, tuple[Written, ...]] | None = None,
) -> tuple[Moment, ...]:
    """Every moment of a lesson, in order.

    Parameters
    ----------
    walk : Walk
        The lesson.
    facts : Facts
        Lines, arrows and values, already worked out.
    labels : {"letters", "values", "both"}
        What stands beside parts unless a move says otherwise.
    resistor : {"box", "zigzag"}
        How resistors are drawn.
    derived : mapping of int to tuple of Written, optional
        Lines that the tool writes for `derive` blocks without steps, by the beginning of the block.
    """
    builder = _Builder(walk, facts, labels, resistor, derived or {})
    for visit in walk.visits:
        builder.take(visit)
    return tuple(builder.moments)


@dataclass
class _Builder:
    walk: Walk
    facts: Facts
    labels: str
    resistor: str
    derived: Mapping[int, tuple[Written, ...]]
    moments: list[Moment] = field(default_factory=list)
    written: tuple[Written, ...] = ()
    scene: int = -1
    paused: Pause | None = None
    count: int = 0

    def take(self, visit: Visit) -> None:
        if visit.place.scene != self.scene:
            self.open_scene(visit)
        self.pauses(visit)
        match visit.element:
            case Move() if visit.role != "stem":
                self.moved(visit.element, visit)
            case Display() | DeriveStep():
                self.write(visit, self.facts.lines(visit))
            case Derive(steps=()) as block:
                self.write(visit, self.derived.get(block.span.start, ()))
            case _ if visit.role in SPOKEN and visit.paragraph is not None and visit.paragraph.said:
                last = self.moments[-1]
                self.moments[-1] = replace(last, said=(*last.said, visit))
            case CircuitBlock():
                # It may change what stands on the board; nothing is said or moved.
                self.moments[-1] = replace(self.moments[-1], state=self.state(visit.place))
            case _:
                pass

    def open_scene(self, visit: Visit) -> None:
        self.scene, self.written, self.paused = visit.place.scene, (), None
        self.add("scene", visit, ())

    def pauses(self, visit: Visit) -> None:
        """A pause begins with its task and ends with its answer."""
        block = visit.block
        if not isinstance(block, Pause):
            self.paused = None
        elif visit.role == "answer" and self.paused is block:
            self.paused = None
            self.add("reveal", visit, (), pause=block)
        elif visit.role == "block":
            self.paused = block
            self.add("pause", visit, (), pause=block)

    def moved(self, move: Move, visit: Visit) -> None:
        if move.word == "recall" and move.of:
            line = self.facts.tagged.get(move.of[0].text.strip())
            if line is not None:
                self.note(Written(f"recall:{move.of[0].text.strip()}", line, move.of[0].text.strip()))
        if move.word == "write" and move.of:
            self.note(Written(f"words:{move.span.start}", move.of[0].text))
        self.add("move", visit, (), move=move)

    def note(self, line: Written) -> None:
        """One more line on the board; the new one is in focus."""
        self.written = (
            *(replace(each, in_focus=False) for each in self.written),
            replace(line, in_focus=True),
        )

    def write(self, visit: Visit, lines: tuple[Written, ...]) -> None:
        for line in lines:
            self.note(line)
            self.add("line", visit, (line.key,))

    def add(
        self,
        cause: Cause,
        visit: Visit,
        key: tuple[str, ...],
        *,
        move: Move | None = None,
        pause: Pause | None = None,
    ) -> None:
        name = key[0] if key else f"{cause}-{self.count}"
        self.count += 1
        state = self.state(visit.place)
        moment = Moment(f"{self.scene + 1}-{name}", visit.place, cause, state, (), move, visit.span, pause)
        self.moments.append(moment)

    def state(self, place: Place) -> BoardState:
        """What stands on the board at a place, from the moves of its scene so far."""
        lesson: Lesson = self.walk.lesson
        stage = tuple(circuit for scene, circuit in self.walk.circuits if scene == place.scene)
        look = _Look()
        for move in place.moves:
            look.do(move)
        circuit = place.circuit
        for path, wanted in look.replaced.items():
            kind, letters = self.facts.equivalent(place, path, wanted)
            look.replaced[path] = kind
            if letters:
                look.labels.setdefault(path, letters)
        arrows = [arrow for name in look.arrows if (arrow := self.facts.arrow(place, name))]
        shorted = any(word == "short" for _, word in place.imagined)
        return BoardState(
            circuit,
            stage=stage or ((circuit,) if circuit else ()),
            hidden=tuple(sorted(look.hidden)),
            dimmed=look.dimmed,
            focused=look.focused,
            labels=tuple(look.labels.items()),
            default_label=self.labels,
            replaced=tuple(look.replaced.items()),
            imagined=place.imagined,
            readouts=self.facts.readouts(circuit) if circuit else (),
            arrows=tuple(arrows),
            notes=_names_of_twins(circuit) if circuit else (),
            written=self.written,
            heights=self.facts.heights(place) if look.is_height else (),
            lesson=lesson.title,
            scene=lesson.scenes[place.scene].title or lesson.title,
            scene_number=place.scene + 1,
            scenes=len(lesson.scenes),
            caution=self.facts.caution(circuit, shorted) if circuit else "",
            resistor=self.resistor,
        )


def _names_of_twins(circuit: Circuit) -> tuple[tuple[str, str], ...]:
    """Names beside parts that share their letters with another part: else nobody could tell which is which."""
    parts = {leaf.part.name: leaf for leaf in circuit.leaves if isinstance(leaf, Leaf)}
    letters = Counter(worth.letter for leaf in parts.values() for worth in leaf.part.worths())
    return tuple(
        (leaf.path, name)
        for name, leaf in parts.items()
        if leaf.path == name and any(letters[worth.letter] > 1 for worth in leaf.part.worths())
    )


@dataclass
class _Look:
    """What the moves of a scene made of its picture."""

    hidden: set[str] = field(default_factory=set)
    dimmed: tuple[str, ...] = ()
    focused: tuple[str, ...] = ()
    labels: dict[str, str] = field(default_factory=dict)
    arrows: tuple[str, ...] = ()
    replaced: dict[str, str] = field(default_factory=dict)
    is_height: bool = False

    def do(self, move: Move) -> None:
        names = tuple(each.text.strip() for each in move.of)
        match move.word:
            case "hide":
                self.hidden |= set(names)
            case "show":
                self.hidden -= set(names)
            case "take":
                # Another circuit comes whole; its equivalents are drawn anew.
                self.hidden, self.replaced, self.arrows, self.is_height = set(), {}, (), False
            case "focus":
                self.focused, self.dimmed = names, ()
            case "dim":
                self.dimmed = (*self.dimmed, *names)
            case "plain":
                self.focused, self.dimmed, self.is_height = (), (), False
            case "height":
                self.is_height = True
            case "label":
                self.labels |= dict.fromkeys(names, move.with_)
            case "arrow":
                self.arrows = (*self.arrows, *(name for name in names if name not in self.arrows))
            case "replace":
                self.replaced |= dict.fromkeys(names, move.with_ or "cell")
            case _:
                pass
