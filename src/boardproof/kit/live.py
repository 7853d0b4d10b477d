"""The lesson's circuit with values that a reader may move: its formulas, its pictures, and two closed boxes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import Final

from boardproof.circuit.change import changed, done_to
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import (
    Across,
    Changed,
    Circuit,
    Item,
    Leaf,
    Parallel,
    Part,
    Series,
    Worth,
    has_cells,
)
from boardproof.circuit.place import remade
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.findings import Finding
from boardproof.kit.compose import Composer
from boardproof.picture.board import Arrow, BoardState
from boardproof.picture.drawing import Shape
from boardproof.picture.frame import frame
from boardproof.prove.walk import Place
from boardproof.publish.explore import Boxes, Live, LivePart, LivePicture
from boardproof.solve.answers import Unknown, answers
from boardproof.solve.closed_form import ClosedForm, Input, closed_form

__all__ = ["live_of"]

PARTS_AT_MOST: Final = 8
ONE, NOUGHT = Fraction(1), Fraction(0)
KINDS: Final = frozenset({"cell", "source", "resistor", "switch"})


def live_of(composer: Composer) -> Live | None:
    """The circuit that the lesson has on the board longest, among those that can be played with.

    Parameters
    ----------
    composer : Composer
        The lesson.

    Returns
    -------
    Live or None
        None if no circuit of the lesson is a source of few parts with values across one resistor.
    """
    places = [visit.place for visit in composer.proof.walk.visits if not visit.place.imagined]
    circuits = {each.circuit.id: each.circuit for each in places if each.circuit is not None}
    seen = Counter(each.circuit.id for each in places if each.circuit is not None)
    for name, _ in seen.most_common():
        circuit = circuits[name]
        if _is_playable(circuit):
            made = _Maker(composer, circuit).live()
            if made is not None:
                return made
    return None


def _is_playable(circuit: Circuit) -> bool:
    item = circuit.item
    if not isinstance(item, Across) or not isinstance(item.load, Leaf) or item.load.part.kind != "resistor":
        return False
    parts = [leaf.part for leaf in circuit.leaves]
    letters = Counter(letter.letter for part in parts for letter in part.worths())
    load = item.load.part.resistance
    return (
        len(parts) <= PARTS_AT_MOST
        and _is_simple(item.source)
        and all(part.kind in KINDS for part in parts)
        and all(letter in circuit.values for letter in circuit.letters)
        and load is not None
        and letters[load.letter] == 1
    )


def _is_simple(item: Item) -> bool:
    match item:
        case Leaf():
            return True
        case Series(items=items) | Parallel(items=items):
            return all(_is_simple(each) for each in items)
        case Changed(item=inner, how="turned"):
            return _is_simple(inner)
        case _:
            return False


@dataclass(frozen=True)
class _Maker:
    composer: Composer
    circuit: Circuit

    @property
    def item(self) -> Across:
        assert isinstance(self.circuit.item, Across)
        return self.circuit.item

    @property
    def load(self) -> Leaf:
        assert isinstance(self.item.load, Leaf)
        return self.item.load

    @property
    def letter(self) -> str:
        assert self.load.part.resistance is not None
        return self.load.part.resistance.letter

    @cached_property
    def leaves(self) -> tuple[Leaf, ...]:
        return tuple(leaf for leaf in self.circuit.leaves if isinstance(leaf, Leaf))

    @cached_property
    def cells(self) -> tuple[Leaf, ...]:
        return tuple(leaf for leaf in self.leaves if leaf.part.emf is not None)

    def live(self) -> Live | None:
        form = closed_form(self.circuit, self.asked(), self.inputs())
        if isinstance(form, Finding):
            return None
        form = _with_product(form, "P", "V", "I")
        for leaf in self.cells:
            form = _with_product(form, f"heat:{leaf.path}", f"lost:{leaf.path}", f"I:{leaf.path}")
        caution = self.composer.telling.caution([Place(0, 0, self.circuit, (("", "short"),))])
        return Live(
            form,
            tuple(self.part(leaf) for leaf in self.leaves),
            self.load.path,
            self.circuit.values[self.letter],
            self.letter,
            tuple(leaf.path for leaf in _way(self.item.source)),
            self.picture("wide"),
            self.picture("near"),
            caution,
            self.boxes(),
        )

    # -- formulas

    def ref(self, kind: QuantityKind, path: str) -> QuantityRef:
        return QuantityRef(kind, (path,), self.circuit.id)

    def asked(self) -> dict[str, QuantityRef]:
        found = {f"I:{leaf.path}": self.ref("current", leaf.path) for leaf in self.leaves}
        found |= {f"V:{leaf.path}": self.ref("pd", leaf.path) for leaf in self.leaves}
        found |= {f"lost:{leaf.path}": self.ref("lost_volts", leaf.path) for leaf in self.cells}
        source = done_to(self.item.source)[0].path
        return found | {
            "resistance": self.ref("resistance", source),
            "I": self.ref("current", self.load.path),
            "V": self.ref("pd", self.load.path),
        }

    def inputs(self) -> tuple[Input, ...]:
        """Every letter but the load's, the cells' turns, the switches, and the load as a switch of any resistance."""
        found = []
        units = {worth.letter: "V" for leaf in self.cells if (worth := leaf.part.emf) is not None}
        for letter in self.circuit.letters:
            if letter != self.letter:
                value, unit = self.circuit.values[letter], units.get(letter, "Ω")
                least, most = (
                    (NOUGHT, 2 * value or Fraction(10)) if unit == "V" else (value / 10, 10 * value or ONE)
                )
                found.append(Input(letter, unit, least, most, value))
        found += [Input(leaf.path, "", -ONE, ONE, ONE, "turn") for leaf in self.cells]
        for leaf in self.leaves:
            if leaf.part.kind == "switch":
                closed = Fraction(leaf.part.closed)
                found += _switch(leaf.path, closed, 1 - closed)
        return (*found, *_switch(self.load.path, ONE, -self.circuit.values[self.letter]))

    # -- names and pictures

    def part(self, leaf: Leaf) -> LivePart:
        letters = tuple(worth.letter for worth in leaf.part.worths() if worth.letter != self.letter)
        return LivePart(leaf.path, leaf.part.kind, self.current(leaf), letters)

    def current(self, leaf: Leaf) -> str:
        """The lesson's own name of the current in a part; else one made of the part's name."""
        place = Place(0, 0, self.circuit, ())
        world = self.composer.telling.world(place)
        worth = leaf.part.emf or leaf.part.resistance
        suffix = worth.letter.partition("_")[2] if worth else ""
        names = [
            *self.composer.proof.walk.definitions.lets,
            f"I_{suffix}" if suffix else "I",
            f"I_{leaf.path}",
        ]
        for name in names:
            meant = world.meant(name)
            if isinstance(meant, Resolved) and (
                meant.ref.kind, meant.ref.of, meant.ref.sense, meant.circuit.id,
            ) == (
                "current", (leaf.path,), 1, self.circuit.id,
            ):  # fmt: skip
                return name
        return f"I_{leaf.path}"

    def picture(self, shape: Shape) -> LivePicture:
        turned = {
            leaf.path: replace(self.circuit, item=_turned(self.circuit.item, leaf.path))
            for leaf in self.cells
        }
        notation = self.composer.proof.course.notation
        stage = (self.circuit, *turned.values())
        arrows = [
            Arrow(self.current(leaf), leaf.path, 1, None)
            for leaf in self.leaves
            if leaf.part.kind != "switch"
        ]
        plain = BoardState(self.circuit, stage, arrows=tuple(arrows), resistor=notation.resistor)
        against = replace(plain, arrows=tuple(replace(arrow, sense=-1) for arrow in arrows))
        shorted = replace(plain, imagined=((done_to(self.item.source)[0].path, "short"),))

        lettering = self.composer.lettering
        return LivePicture(
            frame(plain, shape, lettering),
            tuple(
                (path, frame(replace(plain, circuit=other), shape, lettering))
                for path, other in turned.items()
            ),
            frame(against, shape, lettering),
            frame(shorted, shape, lettering),
        )

    # -- two closed boxes

    def boxes(self) -> Boxes | None:
        """The group and its equivalent; None for a single cell, or where the equivalent is no plain cell."""
        source = done_to(self.item.source)[0].path
        found = answers(self.circuit)
        emf, resistance = (found.ask(self.ref(kind, source)) for kind in ("emf", "resistance"))
        if len(self.cells) < 2 or isinstance(emf, Unknown) or isinstance(resistance, Unknown):
            return None
        volts, ohms = Fraction(str(emf.exact)), Fraction(str(resistance.exact))
        if volts <= 0 or ohms <= 0:
            return None
        cell = Leaf("one", Part("one", "cell", Worth("E", volts), Worth("r", ohms)))
        values = {"E": volts, "r": ohms, self.letter: self.circuit.values[self.letter]}
        single = Circuit(Across(cell, self.load), values)
        asked = {
            "I": QuantityRef("current", (self.load.path,), single.id),
            "V": QuantityRef("pd", (self.load.path,), single.id),
            "lost": QuantityRef("lost_volts", ("one",), single.id),
            "cell": QuantityRef("current", ("one",), single.id),
        }
        form = closed_form(single, asked, _switch(self.load.path, ONE, -values[self.letter]))
        if isinstance(form, Finding):
            return None
        lettering, readouts = self.composer.lettering, self.composer.telling.readouts
        frames = [
            frame(
                BoardState(made, (made,), default_label="both", readouts=readouts(made)),
                "figure near",
                lettering,
            )
            for made in (
                Circuit(self.item.source, self.circuit.values),
                Circuit(cell, {"E": volts, "r": ohms}),
            )
        ]
        return Boxes(_with_product(form, "heat", "lost", "cell"), frames[0], frames[1], len(self.cells))


def _switch(path: str, a: Fraction, b: Fraction) -> tuple[Input, Input]:
    return (
        Input(f"{path}:a", "", NOUGHT, ONE, a, "switch"),
        Input(f"{path}:b", "", min(NOUGHT, 1000 * b), ONE, b, "switch"),
    )


def _with_product(form: ClosedForm, name: str, a: str, b: str) -> ClosedForm:
    """One more output: the product of two."""
    line = ("mul", form.outputs[a], form.outputs[b])
    place = len(form.inputs) + len(form.program)
    return ClosedForm(form.inputs, (*form.program, line), {**form.outputs, name: place}, form.nonzero)


def _turned(item: Item, path: str) -> Item:
    inner, _ = done_to(item)
    if isinstance(inner, Leaf):
        return changed(item, "turned") if inner.path == path else item
    return remade(item, lambda each: _turned(each, path))


def _way(item: Item) -> Iterator[Leaf]:
    """One way through a group: through every member of a row, through the first with a cell of parallel ones."""
    match item:
        case Leaf():
            yield item
        case Series(items=items):
            for each in items:
                yield from _way(each)
        case Parallel(items=items):
            yield from _way(next((each for each in items if has_cells(each)), items[0]))
        case Changed(item=inner):
            yield from _way(inner)
        case _:
            return
