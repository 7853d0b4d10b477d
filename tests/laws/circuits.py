"""Random circuits for laws: closed series-parallel ones, groups, and planar networks, all with a solution.

Each is drawn as text and read, so that what fails can be typed. Cells and resistors have some resistance, and a
switch stands in line with a resistor, so no law meets a bare wire loop.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from hypothesis import strategies as st

from boardproof.circuit.read import read_circuit
from boardproof.findings import worded
from boardproof.source import Slice, Span

if TYPE_CHECKING:
    from boardproof.circuit.model import Circuit

MOST_PARTS = 12


@dataclass
class Drawing:
    """Parts and lines drawn so far."""

    draw: st.DrawFn
    most: int
    with_values: bool
    parts: int = 0
    lines: list[str] = field(default_factory=list)

    def left(self) -> int:
        return self.most - self.parts

    def value(self, unit: str) -> str:
        # One draw: halves, thirds, quarters and whole numbers from a twelfth to twenty.
        return f"{Fraction(self.draw(st.integers(1, 240)), 12)} {unit}"

    def part(self, kind: str) -> str:
        self.parts += 1
        letter = {"cell": "A", "resistor": "R", "switch": "S"}[kind]
        name = f"{letter}_{self.parts}"
        known = self.with_values or self.draw(st.booleans())
        values = {
            "cell": f" {self.value('V')}, {self.value('ohm')}",
            "resistor": f" {self.value('ohm')}",
            "switch": self.draw(st.sampled_from([" open", " closed"])),
        }
        self.lines.append(f"{name} = {kind}" + (values[kind] if known or kind == "switch" else ""))
        return name

    def leaf(self, *, with_cells: bool) -> str:
        kinds = ["cell", "cell", "resistor"] if with_cells else ["resistor"]
        if self.left() >= 2:
            kinds.append("switch")
        kind = self.draw(st.sampled_from(kinds))
        if kind == "switch":
            return f"({self.part('resistor')} + {self.part('switch')})"
        sign = "-" if kind == "cell" and self.draw(st.integers(0, 3)) == 0 else ""
        return sign + self.part(kind)

    def tree(self, depth: int, *, with_cells: bool) -> str:
        """A group fit to stand beside another; in brackets unless it is one part."""
        if depth == 0 or self.left() < 2:
            return self.leaf(with_cells=with_cells)
        shape = self.draw(st.sampled_from(["leaf", "+", "||", "copies", "turned"]))
        if shape == "leaf":
            return self.leaf(with_cells=with_cells)
        if shape == "copies":
            count = self.draw(st.sampled_from(["2s", "3s", "2p", "3p", "2s2p", "2p3s", "3s2p"]))
            return f"({count} of {self.tree(depth - 1, with_cells=with_cells).removeprefix('-')})"
        if shape == "turned":
            inner = self.tree(depth - 1, with_cells=with_cells)
            return inner if inner.startswith("-") else f"-{inner}"
        items = [self.tree(depth - 1, with_cells=with_cells)]
        while self.left() and len(items) <= self.draw(st.integers(1, 2)):
            items.append(self.tree(depth - 1, with_cells=with_cells))
        return f"({f' {shape} '.join(items)})" if len(items) > 1 else items[0]


def read(lines: list[str]) -> Circuit:
    text = "\n".join(lines)
    reading = read_circuit(Slice(text, Span("drawn", 0, len(text))))
    errors = [worded(each).message for each in reading.findings if each.kind.severity == "error"]
    assert not errors, (text, errors)
    assert reading.at_hand is not None
    return reading.at_hand


@st.composite
def groups(draw: st.DrawFn, *, most: int = MOST_PARTS, with_values: bool = True) -> Circuit:
    """A group with two ends and at least one cell, called `g`."""
    drawing = Drawing(draw, most, with_values)
    rest = drawing.tree(3, with_cells=True)
    if drawing.left():
        mark = draw(st.sampled_from(["+", "||"]))
        rest = f"{drawing.part('cell')} {mark} {rest}"
    return read([*drawing.lines, f"g = {rest}", "g"])


@st.composite
def circuits(draw: st.DrawFn, *, most: int = MOST_PARTS, with_values: bool = True) -> Circuit:
    """A closed series-parallel circuit `main`: a group `g` with cells, across resistors (or more cells)."""
    drawing = Drawing(draw, most - 1, with_values)
    first = drawing.part("cell")
    group = f"{first} {draw(st.sampled_from(['+', '||']))} {drawing.tree(2, with_cells=True)}"
    drawing.most = most
    load = drawing.tree(2, with_cells=draw(st.integers(0, 4)) == 0)
    return read([*drawing.lines, f"g = {group}", f"main = g across {load}"])


@st.composite
def networks(draw: st.DrawFn, *, most: int = MOST_PARTS, with_values: bool = True) -> Circuit:
    """A planar network `web`, complete in itself: nodes on a ring, with chords that don't cross."""
    drawing = Drawing(draw, most, with_values)
    size = draw(st.integers(3, 6))
    sides = [(n, (n + 1) % size) for n in range(size)]
    for a in range(size):
        for b in range(a + 2, size):
            crosses = any(a < c < b < d or c < a < d < b for c, d in sides)
            if not crosses and (a, b) != (0, size - 1) and drawing.most > len(sides) and draw(st.booleans()):
                sides.append((a, b))
    lines = ["network web"]
    for place, (a, b) in enumerate(sides):
        kind = "cell" if place == 0 else draw(st.sampled_from(["cell", "resistor", "resistor"]))
        sign = "-" if draw(st.integers(0, 4)) == 0 else ""
        tail, head = (a, b) if draw(st.booleans()) else (b, a)
        lines.append(f"  {sign}{drawing.part(kind)} from {'abcdef'[tail]} to {'abcdef'[head]}")
    return read([*drawing.lines, *lines, "web"])


def any_circuits(*, most: int = MOST_PARTS, with_values: bool = True) -> st.SearchStrategy[Circuit]:
    """Closed circuits of either sort."""
    return st.one_of(
        circuits(most=most, with_values=with_values), networks(most=most, with_values=with_values)
    )
