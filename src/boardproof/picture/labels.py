"""What stands beside a part, and where it finds room: no label comes near a stroke or another label.

A label keeps 0.5 u from any stroke and 0.8 u from any label. Its first choice of place is its part's; others follow
in order. A label for which there is no free place is not drawn over anything: it goes into the key below the figure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from boardproof.algebra.expression import Expression, Line, Name, Number, Relation
from boardproof.circuit.model import Part, Worth
from boardproof.picture.drawing import Box, Label, Lettering, Outline, Readout, Text
from boardproof.quantities import FARAD, OHM, VOLT, Dimension, read_unit, shown

__all__ = ["FROM_LABEL", "FROM_STROKE", "Crowd", "Naming", "box_of", "equals", "strokes_of"]

FROM_STROKE = 0.5
FROM_LABEL = 0.8
Content = Expression | Line | str
Place = tuple[float, float, str]

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_COMMAND = re.compile(r"([MLCAZ])([^MLCAZ]*)")


@dataclass(frozen=True, slots=True)
class Naming:
    """How parts are labelled: by path, or all alike; with the values of the circuit and those that were worked out."""

    values: Mapping[str, Fraction]
    readouts: Mapping[str, Readout]
    modes: Mapping[str, str]
    default: str

    def labels(self, path: str, part: Part, mode: str = "", *, short: bool = False) -> tuple[Content, ...]:
        """What is written beside a part: one for each letter it carries, or its name if it carries none."""
        mode = mode or self.modes.get(path, self.default)
        if mode == "words":
            return (f"{part.kind} {part.name}",)
        if mode not in {"letters", "values", "both"}:
            return tuple(Name(letter.strip()) for letter in mode.split(",") if letter.strip())
        carried = [(part.emf, VOLT), (part.resistance, OHM), (part.capacitance, FARAD)]
        told = tuple(self._told(worth, of, mode, short=short) for worth, of in carried if worth is not None)
        if told or part.kind == "wire":
            return told
        return (Name(part.name),)

    def _told(self, worth: Worth, of: Dimension, mode: str, *, short: bool) -> Content:
        name = _name(worth.letter)
        value = self.values.get(worth.letter, worth.value)
        if mode == "letters" or (value is None and worth.letter not in self.readouts):
            return name
        readout = self.readouts.get(worth.letter)
        text = readout.shown if readout is not None else _shown(value or Fraction(0), of)
        if mode == "values" or short:
            return _same_number(text, value)
        return _same_equation(name, text, value)


def equals(name: Name, text: str, value: Fraction | None = None) -> Line:
    """A name and its value as people write it.

    Parameters
    ----------
    name : Name
        The quantity's.
    text : str
        Value with its unit, as shown.
    value : Fraction, optional
        In SI units.

    Examples
    --------
    >>> equals(Name("I"), "0.50 A").statements[0].right.typed
    '0.50'
    """
    return Line((Relation(name, "=", _number(text, value)),))


_shown = lru_cache(maxsize=1024)(shown)
# The same label is measured for every frame: one tree for each lets the typesetter know it again.
_name = lru_cache(maxsize=1024)(Name)
_same_equation = lru_cache(maxsize=1024)(equals)


def _number(text: str, value: Fraction | None) -> Number:
    """A shown value as maths, its figures untouched."""
    typed, _, unit = text.replace("\u202f", " ").partition(" ")
    return Number(value if value is not None else Fraction(0), read_unit(unit) if unit else None, typed=typed)


_same_number = lru_cache(maxsize=1024)(_number)


def box_of(text: Text, lettering: Lettering) -> Box:
    """Room that a text covers.

    Parameters
    ----------
    text : Text
        Placed, in u.
    lettering : Lettering
        Measures labels.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (2.0, 0.7, 0.2)
    >>> box_of(Text(Label("I", 1.0), 5.0, 3.0), Plain())
    Box(left=4.0, top=2.3, right=6.0, bottom=3.2)
    """
    width, height, depth = lettering.extent(text.label)
    left = text.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width
    return Box(left, text.y - height, left + width, text.y + depth)


@lru_cache(maxsize=8192)
def strokes_of(mark: Outline) -> tuple[Box, ...]:
    """Boxes that together cover a mark's strokes: one for each straight piece, one for a round shape.

    Parameters
    ----------
    mark : Outline
        Placed, in u.

    Examples
    --------
    >>> strokes_of(Outline("M0 0L4 0L4 2", "wire"))
    (Box(left=0.0, top=0.0, right=4.0, bottom=0.0), Box(left=4.0, top=0.0, right=4.0, bottom=2.0))
    """
    if mark.role == "wash":
        return ()
    points: list[tuple[float, float]] = []
    has_room_inside = mark.role == "case" or bool(mark.dash)
    for command, rest in _COMMAND.findall(mark.path):
        numbers = [float(n) for n in _NUMBER.findall(rest)]
        if command == "A":
            r, x, y = numbers[0], *numbers[-2:]
            points += [(x, y)] if has_room_inside else [(x, y - r), (x, y + r)]
        elif command == "Z":
            points.append(points[0])
        else:
            points += zip(numbers[::2], numbers[1::2], strict=True)
    if has_room_inside and "Z" in mark.path:
        # An outline with room inside: its four edges.
        xs, ys = [x for x, _ in points], [y for _, y in points]
        left, top, right, bottom = min(xs), min(ys), max(xs), max(ys)
        edges = [(left, top, right, top), (left, bottom, right, bottom), (left, top, left, bottom)]
        return tuple(Box(*edge) for edge in (*edges, (right, top, right, bottom)))
    if "A" in mark.path or mark.fill != "none":
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return (Box(min(xs), min(ys), max(xs), max(ys)),)
    return tuple(Box(min(a, c), min(b, d), max(a, c), max(b, d)) for (a, b), (c, d) in pairwise(points))


@dataclass(frozen=True, slots=True)
class Crowd:
    """What already stands in a picture; grows while labels find their places."""

    page: Box
    strokes: list[Box] = field(default_factory=list)
    labels: list[Box] = field(default_factory=list)

    def is_free(self, box: Box) -> bool:
        """Whether a label fits there."""
        page = self.page
        if box.left < page.left or box.right > page.right or box.top < page.top or box.bottom > page.bottom:
            return False
        near = box.grown(FROM_STROKE - 1e-6)
        if any(near.touches(stroke) for stroke in self.strokes):
            return False
        far = box.grown(FROM_LABEL - 1e-6)
        return not any(far.meets(other) for other in self.labels)

    def settle(self, labels: Sequence[Text], lettering: Lettering) -> bool:
        """Put texts that belong together where they are, if all are free."""
        boxes = [box_of(text, lettering) for text in labels]
        if not all(self.is_free(box) for box in boxes):
            return False
        self.labels.extend(boxes)
        return True

    def first_free(self, label: Label, places: Iterable[Place], lettering: Lettering) -> Text | None:
        """The label at the first place that is free, which it then takes."""
        for x, y, anchor in places:
            text = Text(label, x, y, "start" if anchor == "start" else "end" if anchor == "end" else "middle")
            if self.settle([text], lettering):
                return text
        return None
