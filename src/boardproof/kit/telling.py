"""A proved lesson's elements as they are shown and said: filled values, lines, arrows, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import Final

from boardproof.algebra.expression import Line
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.notation import NOTATIONS, Notation
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain, spoken
from boardproof.algebra.tidy import to_expression
from boardproof.algebra.written import read_line, read_lines
from boardproof.caution import Caution, Danger, caution_for, dangers
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Circuit, leaves
from boardproof.findings import Finding
from boardproof.kit.heights import heights_round
from boardproof.kit.proof import Proof
from boardproof.kit.worth import worth
from boardproof.lesson.model import DeriveStep, Display
from boardproof.lesson.sentence import Fill, Maths, Tie, Words
from boardproof.picture.board import Arrow, Piece, Written
from boardproof.picture.drawing import Readout
from boardproof.prove.verdict import Judged
from boardproof.prove.walk import Place, Visit
from boardproof.prove.world import World
from boardproof.quantities import PURE, Dimension, Style, read_unit, shown, speech
from boardproof.source import Slice, Span

__all__ = ["Telling"]

OPEN_VALUE: Final = "…"


@dataclass(frozen=True)
class Telling:
    """Shows and says what a lesson holds.

    Parameters
    ----------
    proof : Proof
        The lesson, proved.
    """

    proof: Proof

    @cached_property
    def style(self) -> Style:
        """Figures and marks of the course."""
        policy, notation = self.proof.course.policy, self.proof.course.notation
        return Style(policy.show, policy.half, notation.mark, notation.ohm)

    @cached_property
    def notation(self) -> Notation:
        """The course's letters and signs."""
        settings = self.proof.course.notation
        base = NOTATIONS.get(settings.set, Notation())
        return replace(
            base,
            emf=settings.emf,
            decimal="," if settings.decimal == "comma" else ".",
            parallel=settings.parallel,
            resistor=settings.resistor,
            ohm="ohm" if settings.ohm == "ohm" else "Ω",
        )

    @cached_property
    def judged(self) -> dict[tuple[int, int], Judged]:
        """Statements by their place."""
        return {(each.said.span.start, each.said.span.end): each for each in self.proof.checked.judged}

    @property
    def decimal(self) -> str:
        """The course's decimal mark."""
        return self.proof.course.notation.mark

    def world(self, place: Place) -> World:
        """What names mean at a place."""
        return self.proof.worlds.at(place)

    # -- values

    def value(self, of: Slice, place: Place) -> tuple[Fraction | RationalFunction, Dimension] | Unknown:
        """A filled value: exact, or in letters where the scene has no numbers."""
        world = self.world(place)
        found = self.proof.worlds.phrase(of, place.circuit)
        if isinstance(found, Finding):
            return Unknown("it means nothing here")
        if isinstance(found, Resolved):
            return worth(found, world)
        if isinstance(found, RationalFunction):
            number = found.as_number
            dimension = world.dimension(of.text.split(" as ")[0].strip()) or PURE
            return (found if number is None else number), dimension
        return worth(found, world)

    def filled(self, fill: Fill, place: Place) -> str:
        """What is printed for a value to be filled in."""
        found = self.value(fill.of, place)
        if isinstance(found, Unknown):
            return OPEN_VALUE
        value, dimension = found
        if isinstance(value, RationalFunction):
            return plain(to_expression(value), self.notation)
        unit = read_unit(fill.unit) if fill.unit else None
        return shown(value, dimension, self.style, unit=unit, figures=fill.figures)

    def filled_aloud(self, fill: Fill, place: Place) -> str:
        """How a value to be filled in is said."""
        found = self.value(fill.of, place)
        if isinstance(found, Unknown):
            return ""
        value, dimension = found
        return (
            spoken(to_expression(value))
            if isinstance(value, RationalFunction)
            else speech(value, dimension, self.style)
        )

    # -- maths

    def line(self, text: Slice, place: Place) -> Line | None:
        """Maths in a sentence as a tree."""
        line, _ = read_line(text, known=self.proof.worlds.known(place.circuit), decimal=self.decimal)
        return line

    def lines(self, text: Slice, place: Place) -> tuple[Line, ...]:
        """Maths on the board, line by line."""
        lines, _ = read_lines(text, known=self.proof.worlds.known(place.circuit), decimal=self.decimal)
        return tuple(lines)

    def written(self, visit: Visit) -> tuple[Written, ...]:
        """The lines that a display or a step puts on the board."""
        match visit.element:
            case Display(text=text):
                lines, reason = self.lines(text, visit.place), ""
            case DeriveStep(maths=text, rules=rules):
                lines, reason = self.lines(text, visit.place), ", ".join(rule.text.strip() for rule in rules)
            case _:
                return ()
        return tuple(Written(self.key_of(line), line, line.tag or reason) for line in lines)

    def key_of(self, line: Line) -> str:
        """Key of a line: that of its first statement."""
        for statement in line.statements:
            if statement.span and (found := self.judged.get((statement.span.start, statement.span.end))):
                return found.said.key
        return f"line-{line.span.start}" if line.span else "line"

    def verdict_of(self, line: Line) -> Judged | None:
        """The gravest verdict of a line's statements; None if all are true."""
        found = [
            self.judged[each.span.start, each.span.end]
            for each in line.statements
            if each.span and (each.span.start, each.span.end) in self.judged
        ]
        return next((each for each in found if each.verdict.kind != "true"), None)

    def spoken(self, visit: Visit) -> str:
        """What is said for one element of a paragraph."""
        match visit.element:
            case Words(text=text):
                return text
            case Maths(text=text):
                line = self.line(text, visit.place)
                return text.text if line is None else spoken(line)
            case Fill() as fill:
                return self.filled_aloud(fill, visit.place)
            case Tie(words=words):
                return words.text
            case _:
                return ""

    # -- pictures

    def readouts(self, circuit: Circuit) -> tuple[Readout, ...]:
        """The values of a circuit's letters."""
        world = self.proof.worlds.of(circuit)
        return tuple(
            self.readout(letter, value, world.dimension(letter) or PURE)
            for letter, value in sorted(circuit.values.items())
        )

    def readout(self, name: str, value: Fraction, dimension: Dimension) -> Readout:
        """A value as a drawing knows it."""
        text = shown(value, dimension, self.style)
        return Readout(name, str(value), text.partition("\u202f")[2], text)

    def arrow(self, place: Place, name: str) -> Arrow | None:
        """The current arrow of a name: turned to fit, its value positive."""
        found = self.world(place).meant(name)
        if not isinstance(found, Resolved) or found.ref.kind not in {"current", "pd"}:
            return None
        path, sense = found.ref.of[0], found.ref.sense
        value = self.world(place).in_numbers(name)
        if isinstance(value, Unknown):
            return Arrow(name, path, sense, None)
        note = ""
        cells = {leaf.path for leaf in leaves(found.circuit.item) if leaf.part.kind == "cell"}
        if path in cells and value * sense < 0:
            note = "being charged"
        elif path in cells and value == 0:
            note = "idle"
        readout = self.readout(name, abs(value), self.world(place).dimension(name) or PURE)
        return Arrow(name, path, sense if value >= 0 else -sense, readout, note)

    def heights(self, place: Place) -> tuple[Piece, ...]:
        """The loop at a place with its changes of potential."""
        return heights_round(place.circuit, self.style) if place.circuit else ()

    def equivalent(self, place: Place, path: str, wanted: str) -> tuple[str, str]:
        """What is drawn in place of a group, and the lesson's own letters for it.

        A negative EMF is drawn as a turned cell, an EMF of nought as no cell at all.
        """
        world = self.world(place)
        names: dict[str, str] = {}
        for name in self.proof.walk.definitions.lets:
            meant = world.meant(name)
            if (
                isinstance(meant, Resolved)
                and meant.ref.of == (path,)
                and meant.ref.kind in {"emf", "resistance"}
            ):
                names.setdefault(meant.ref.kind, name)
        kind = wanted
        found = self.proof.worlds.phrase(_words(f"emf of {path}"), place.circuit)
        if wanted == "cell" and isinstance(found, Resolved):
            emf = worth(found, world)
            if not isinstance(emf, Unknown) and isinstance(emf[0], Fraction) and emf[0] <= 0:
                kind = "turned cell" if emf[0] else "resistor"
        carried = ("resistance",) if kind == "resistor" else ("emf", "resistance")
        return kind, ", ".join(names[each] for each in carried if each in names)

    # -- cautions

    def dangers(self, places: Sequence[Place]) -> tuple[Danger, ...]:
        """What can hurt in the circuits of these places, imagined ones included."""
        seen: set[tuple[str, bool]] = set()
        found: list[Danger] = []
        for place in places:
            shorted = any(word == "short" for _, word in place.imagined)
            if place.circuit is None or (place.circuit.id, shorted) in seen:
                continue
            seen.add((place.circuit.id, shorted))
            found += dangers(place.circuit, imagined_short=shorted, style=self.style)
        return tuple(found)

    def caution(self, places: Sequence[Place]) -> Caution | None:
        """The caution of these places."""
        return caution_for(self.dangers(places), rules=self.proof.course.rules)


def _words(text: str) -> Slice:
    """Words of our own, for readers that want a place."""
    return Slice(text, Span("", 0, len(text)))
