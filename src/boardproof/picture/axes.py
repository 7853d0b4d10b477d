"""Axes of a graph, its curves, and their names put where they touch nothing.

No grid; ticks outward; the axes' names at their ends; names written on the curves (look: graphs).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor, log10
from typing import Literal

from boardproof.picture.drawing import Box, Drawn, Frame, Label, Lettering, Mark, Outline, State, Text
from boardproof.picture.labels import Content, Crowd, strokes_of
from boardproof.picture.sheet import bounds, moved
from boardproof.picture.strokes import path_of

__all__ = [
    "DASH",
    "Axes",
    "GraphShape",
    "Named",
    "Point",
    "axes_for",
    "curve",
    "frame_of_axes",
    "named_curves",
    "thing",
    "ticks",
    "told_value",
]

Point = tuple[float, float]
GraphShape = Literal["figure", "figure near"]
Named = tuple[str, Content, list[Point], State]
"""Name in the picture, what is written, pairs of values it may stand near, and its state."""
DASH = (0.5, 0.45)


@dataclass(frozen=True, slots=True)
class Axes:
    """From values to places on a sheet that has its origin at (0, 0); y grows upwards in values."""

    width: float
    height: float
    most_x: float
    most_y: float
    least_y: float
    size: float
    lettering: Lettering

    def at(self, x: float, y: float) -> Point:
        """Place of a pair of values."""
        span = self.most_y - self.least_y
        return (x / self.most_x * self.width, -(y - self.least_y) / span * self.height)


def ticks(most: float, count: int = 6) -> list[float]:
    """Round numbers from nought that reach `most`, at most `count` steps apart.

    Parameters
    ----------
    most : float
        Greater than nought.
    count : int
        Most steps, at least 1.

    Examples
    --------
    >>> ticks(3.0)
    [0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0]
    >>> ticks(7.2)
    [0.0, 2.0, 4.0, 6.0]
    """
    raw = most / count
    power = 10.0 ** floor(log10(raw))
    step = next(power * m for m in (1, 2, 5, 10) if power * m >= raw * (1 - 1e-9))
    return [round(n * step, 10) for n in range(int(most / step + 1e-9) + 1)]


def axes_for(
    shape: GraphShape, most_x: float, most_y: float, lettering: Lettering, *, least: float = 0.0
) -> Axes:
    """Axes of the size that suits a shape.

    Parameters
    ----------
    shape : {"figure", "figure near"}
        For a screen held far or near.
    most_x, most_y, least : float
        Greatest values, and the least height.
    lettering : Lettering
        Measures labels.

    Examples
    --------
    >>> axes_for("figure", 2.0, 10.0, None).at(1.0, 5.0)
    (19.0, -11.0)
    """
    if shape == "figure":
        return Axes(38.0, 22.0, most_x, most_y, least, 1.35, lettering)
    return Axes(36.0, 26.0, most_x, most_y, least, 2.1, lettering)


def told_value(value: float, unit: str) -> str:
    r"""A number to three figures.

    Parameters
    ----------
    value : float
        In `unit`.
    unit : str
        As shown.

    Examples
    --------
    >>> told_value(2 / 3, "A")
    '0.667\u202fA'
    """
    return f"{value:.3g}\u202f{unit}"


def thing(axes: Axes, name: str, kind: str, marks: Sequence[Mark], state: State = "normal") -> Drawn:
    """A thing with the box of its marks.

    Parameters
    ----------
    axes : Axes
        Their ranges and sizes.
    name, kind : str
        Its own name, and what sort of thing it is.
    marks : sequence of Mark
        Back to front, in u.
    state : State
        How it is emphasised.

    Examples
    --------
    >>> line = Outline("M0 0L4 2", "curve")
    >>> thing(axes_for("figure", 1.0, 1.0, None), "curve:cell", "curve", [line]).box
    Box(left=0.0, top=0.0, right=4.0, bottom=2.0)
    """
    return Drawn(name, kind, state, bounds(marks, axes.lettering), tuple(marks))


def frame_of_axes(axes: Axes, x_name: str, y_name: str) -> Drawn:
    """Both axes with ticks outward and their names at their ends.

    Parameters
    ----------
    axes : Axes
        Their ranges and sizes.
    x_name, y_name : str
        With their units, as they stand at the ends.
    """
    size, (left, bottom) = axes.size, axes.at(0.0, axes.least_y)
    marks: list[Mark] = [
        Outline(path_of([(left, bottom - axes.height), (left, bottom), (left + axes.width, bottom)]), "axis")
    ]
    for value in ticks(axes.most_x):
        x, y = axes.at(value, axes.least_y)
        marks.append(Outline(path_of([(x, y), (x, y + 0.5)]), "axis"))
        marks.append(Text(Label(f"{value:g}", size), x, y + 0.9 + 0.8 * size))
    for value in ticks(axes.most_y):
        x, y = axes.at(0.0, value)
        marks.append(Outline(path_of([(x - 0.5, y), (x, y)]), "axis"))
        marks.append(Text(Label(f"{value:g}", size), x - 1.0, y + 0.35 * size, "end"))
    marks.append(Text(Label(x_name, size), left + axes.width, bottom + 1.7 + 2.2 * size, "end"))
    marks.append(Text(Label(y_name, size), left - 1.4, bottom - axes.height - 0.9 * size, "start"))
    return thing(axes, "axes", "small", marks)


def curve(axes: Axes, name: str, values: Sequence[Point], dash: tuple[float, ...] = ()) -> Drawn:
    """A curve through pairs of values.

    Parameters
    ----------
    axes : Axes
        Their ranges and sizes.
    name : str
        The thing's own.
    values : sequence of (float, float)
        Points in the units of the axes, left to right.
    dash : tuple of float
        Stroke and gap, in u; empty for a full line.

    Examples
    --------
    >>> curve(axes_for("figure", 2.0, 10.0, None), "cell", [(0, 10), (2, 0)]).marks[0].path
    'M0 -22L38 0'
    """
    path = path_of(axes.at(x, y) for x, y in values)
    return thing(axes, f"curve:{name}", "curve", [Outline(path, "curve", dash=dash)])


def named_curves(
    axes: Axes,
    drawn: list[Drawn],
    named: Sequence[Named],
    title: str,
    told: str,
    shape: GraphShape,
    moment: str,
) -> Frame:
    """The graph with names where they touch nothing, cut to its size.

    Parameters
    ----------
    axes : Axes
        Their ranges and sizes.
    drawn : list of Drawn
        Back to front; the names are added.
    named : sequence of Named
        Names of curves and points, most wanted first.
    title, told : str
        For whoever can't see it.
    shape : {"figure", "figure near"}
        For a screen held far or near.
    moment : str
        Name of the moment that the picture belongs to.
    """
    crowd = Crowd(Box(-12.0, -axes.height - 8.0, axes.width + 16.0, 14.0))
    for each in drawn:
        for mark in each.marks:
            if isinstance(mark, Outline):
                crowd.strokes.extend(piece for box in _short_strokes(mark) for piece in box)
            else:
                crowd.labels.append(bounds([mark], axes.lettering))
    for name, words, anchors, state in named:
        label = Label(words, axes.size * 1.1)
        text = crowd.first_free(label, _around(axes, anchors), axes.lettering) if words else None
        if text is not None:
            drawn.append(thing(axes, f"words:{name}", "words", [text], state))
    box = bounds([mark for each in drawn for mark in each.marks], axes.lettering).grown(1.0)
    made = tuple(moved(each, -box.left, -box.top) for each in drawn)
    return Frame(moment, shape, box.right - box.left, box.bottom - box.top, made, title, told)


def _short_strokes(mark: Outline) -> list[list[Box]]:
    """Strokes, slanting ones cut so that a box says where they run."""
    if mark.role != "curve" and not mark.dash:
        return [list(strokes_of(mark))]
    numbers = [float(n) for n in mark.path.replace("M", " ").replace("L", " ").split()]
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    cut: list[list[Box]] = []
    for (a, b), (c, d) in pairwise(points):
        count = max(1, int(max(abs(c - a), abs(d - b)) / 0.5))
        for n in range(count):
            x1, y1 = a + (c - a) * n / count, b + (d - b) * n / count
            x2, y2 = a + (c - a) * (n + 1) / count, b + (d - b) * (n + 1) / count
            cut.append([Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))])
    return cut


def _around(axes: Axes, anchors: Sequence[Point]) -> list[tuple[float, float, str]]:
    """Places for a curve's name, nearest first."""
    size = axes.size
    found = []
    for reach in (1.2, 2.0, 3.0, 4.5):
        for value in anchors:
            x, y = axes.at(*value)
            found += [
                (x + reach, y - reach * 0.6, "start"),
                (x + reach, y + reach * 0.6 + 0.7 * size, "start"),
                (x - reach, y - reach * 0.6, "end"),
                (x - reach, y + 0.35 * size, "end"),
                (x + reach, y + 0.35 * size, "start"),
                (x - reach, y + reach * 0.6 + 0.7 * size, "end"),
            ]
    return found
