"""Reads a picture back: strokes, labels and connections, from nothing but its marks."""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from boardproof.picture.drawing import Outline, Text

if TYPE_CHECKING:
    from boardproof.picture.drawing import Drawn, Frame, Label

NEAR = 0.02
PLAIN = {"wire", "outline", "plate", "thick plate", "measure", "solid", "case"}


class Plain:
    """Letters of one width: measures without a typesetter."""

    def extent(self, label: Label) -> tuple[float, float, float]:
        text = letters(label.content)
        return (0.5 * label.size * len(text), 0.72 * label.size, 0.38 * label.size)


def letters(content: object) -> str:
    """What is seen of a label, near enough to know its length."""
    if isinstance(content, str):
        return content
    text = getattr(content, "typed", None) or getattr(content, "text", None)
    if text is not None:
        unit = getattr(content, "unit", None)
        return text.replace("_", "") + (f" {unit.symbol}" if unit else "")
    relation = content.statements[0]
    return f"{letters(relation.left)} = {letters(relation.right)}"


class Stroke(NamedTuple):
    x1: float
    y1: float
    x2: float
    y2: float

    @property
    def box(self):
        left, right = sorted((self.x1, self.x2))
        top, bottom = sorted((self.y1, self.y2))
        return left, top, right, bottom


def strokes(mark: Outline) -> list[Stroke]:
    """Straight pieces of a path; an arc counts as the box it runs round."""
    points, found = [], []
    for command, rest in re.findall(r"([MLAZ])([^MLAZ]*)", mark.path):
        numbers = [float(n) for n in rest.split()]
        if command == "M":
            points.append(tuple(numbers))
        elif command == "L":
            found.append(Stroke(*points[-1], *numbers))
            points.append(tuple(numbers))
        elif command == "A":
            (x, y), r = numbers[-2:], numbers[0]
            if abs(points[-1][0] - x) > 1.9 * r and r != 0.6:  # half a circle
                middle = (points[-1][0] + x) / 2
                found += [Stroke(middle - r, y + s * r, middle + r, y + s * r) for s in (-1, 1)]
            else:
                found.append(Stroke(*points[-1], x, y))
            points.append((x, y))
        else:
            found.append(Stroke(*points[-1], *points[0]))
    return found


def distance(a, b) -> float:
    """Least distance of two boxes (left, top, right, bottom), along an axis for boxes side by side."""
    dx = max(a[0] - b[2], b[0] - a[2])
    dy = max(a[1] - b[3], b[1] - a[3])
    return max(dx, dy)


def text_box(text: Text, lettering) -> tuple[float, float, float, float]:
    width, high, deep = lettering.extent(text.label)
    left = text.x - {"start": 0, "middle": width / 2, "end": width}[text.anchor]
    return left, text.y - high, left + width, text.y + deep


def circuit_things(frame: Frame) -> list[Drawn]:
    """What belongs to the circuit, not to the board round it."""
    return [
        each
        for each in frame.drawn
        if not each.id.startswith(("rule:", "line:", "words:scene", "words:lesson", "words:title", "caution"))
    ]


def crowded(frame: Frame, lettering) -> list[str]:
    """Labels nearer than 0.5 u to a stroke of another thing or 0.8 u to another label, or off the page."""
    faults = []
    things = circuit_things(frame)
    placed = [
        (each, mark, text_box(mark, lettering))
        for each in things
        for mark in each.marks
        if isinstance(mark, Text)
    ]
    lines = [
        (each, stroke.box)
        for each in things
        for mark in each.marks
        if isinstance(mark, Outline) and mark.role in PLAIN
        for stroke in strokes(mark)
    ]
    for each, text, box in placed:
        if box[0] < -NEAR or box[1] < -NEAR or box[2] > frame.width + NEAR or box[3] > frame.height + NEAR:
            faults.append(f"{each.id}: {letters(text.label.content)} leaves the page {box}")
        if each.kind in {"ammeter", "voltmeter"} and text.label.content in {"A", "V"}:
            continue
        for other, stroke in lines:
            least = 0.0 if other.id == each.id else 0.5
            if distance(box, stroke) < least - NEAR:
                faults.append(f"{each.id}: {letters(text.label.content)} {box} near {other.id} {stroke}")
    for (a, one, first), (b, two, second) in itertools.combinations(placed, 2):
        if distance(first, second) < 0.8 - NEAR and (a.id != b.id or a.kind != "measure"):
            faults.append(f"{a.id} {letters(one.label.content)} near {b.id} {letters(two.label.content)}")
    return faults


def wires(each: Drawn) -> list[Stroke]:
    return [
        stroke
        for mark in each.marks
        if isinstance(mark, Outline) and mark.role == "wire" and not mark.dash
        for stroke in strokes(mark)
    ]


def on(point, stroke: Stroke) -> bool:
    left, top, right, bottom = stroke.box
    return left - NEAR <= point[0] <= right + NEAR and top - NEAR <= point[1] <= bottom + NEAR


def crossings(frame: Frame) -> list[str]:
    """Wires that run through each other anywhere but at an end of one of them."""
    faults = []
    runs = [(each.id, stroke) for each in circuit_things(frame) for stroke in wires(each)]
    for (a, one), (b, two) in itertools.combinations(runs, 2):
        level, upright = (one, two) if one.y1 == one.y2 else (two, one)
        if level.y1 != level.y2 or upright.x1 != upright.x2:
            continue
        left, _, right, _ = level.box
        _, top, _, bottom = upright.box
        if left + NEAR < upright.x1 < right - NEAR and top + NEAR < level.y1 < bottom - NEAR:
            faults.append(f"{a} {one} crosses {b} {two}")
    return faults


def bodies(frame: Frame) -> dict[str, tuple[float, float, float, float]]:
    """Box of each part's symbol, without its wire and labels."""
    found = {}
    for each in frame.drawn:
        if each.id.startswith("part:"):
            drawn = [
                stroke.box
                for mark in each.marks
                if isinstance(mark, Outline) and mark.role not in {"wire", "wash", "case"}
                for stroke in strokes(mark)
            ]
            if drawn:
                found[each.id] = tuple(f(box[n] for box in drawn) for n, f in enumerate((min, min, max, max)))
    return found


def overlaps(frame: Frame) -> list[str]:
    """Symbols that touch another symbol, or that a foreign wire runs through."""
    placed = bodies(frame)
    faults = [
        f"{a} on {b}"
        for (a, one), (b, two) in itertools.combinations(placed.items(), 2)
        if distance(one, two) < NEAR
    ]
    for each in circuit_things(frame):
        for stroke in wires(each):
            faults += [
                f"{each.id} through {name}"
                for name, box in placed.items()
                if name != each.id and distance(stroke.box, box) < NEAR
            ]
    return faults


def joined_ends(frame: Frame) -> dict[str, tuple[int, int]]:
    """Which node each end of each part's wire lies on, numbered as they come."""
    parent: dict[tuple[float, float], tuple[float, float]] = {}

    def root(point):
        parent.setdefault(point, point)
        while parent[point] != point:
            point = parent[point]
        return point

    nets = [s for e in frame.drawn if e.id.startswith("net:") for s in wires(e)]
    ends = {}
    for each in frame.drawn:
        if each.id.startswith("part:"):
            run = wires(each)
            ends[each.id] = ((run[0].x1, run[0].y1), (run[-1].x2, run[-1].y2))
    points = [p for pair in ends.values() for p in pair] + [q for s in nets for q in (s[:2], s[2:])]
    for stroke in nets:
        for point in points:
            if on(point, stroke):
                parent[root(point)] = root(stroke[:2])
    for one, two in itertools.combinations(points, 2):
        if abs(one[0] - two[0]) < NEAR and abs(one[1] - two[1]) < NEAR:
            parent[root(one)] = root(two)
    number: dict[object, int] = defaultdict(lambda: len(number))
    return {name: (number[root(a)], number[root(b)]) for name, (a, b) in ends.items()}
