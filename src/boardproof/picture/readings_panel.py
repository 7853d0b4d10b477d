"""Axes that need not begin at nought, for readings: ticks outward, no grid, the axis's name at its end."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10

from boardproof.picture.drawing import Drawn, Label, Lettering, Mark, Outline, Text
from boardproof.picture.sheet import bounds
from boardproof.picture.strokes import path_of

__all__ = ["Panel", "edges", "panel_axes"]

MINUS = "\u2212"


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangle on the sheet with the values at its edges; y grows downwards on the sheet, upwards in values."""

    left: float
    top: float
    width: float
    height: float
    least_x: float
    most_x: float
    least_y: float
    most_y: float
    size: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Place of a pair of values."""
        across = (x - self.least_x) / (self.most_x - self.least_x)
        up = (y - self.least_y) / (self.most_y - self.least_y)
        return self.left + across * self.width, self.top + (1 - up) * self.height

    def x_step(self) -> float:
        """Length of one unit along x, in u."""
        return self.width / (self.most_x - self.least_x)

    def y_step(self) -> float:
        """Length of one unit along y, in u."""
        return self.height / (self.most_y - self.least_y)


def edges(least: float, most: float, count: int = 5) -> tuple[float, float, tuple[float, ...]]:
    """Round ends that hold a range, and the ticks between them, ends included.

    Parameters
    ----------
    least, most : float
        The range; it may be a single value.
    count : int
        About so many steps.

    Examples
    --------
    >>> edges(1.24, 1.52)
    (1.2, 1.6, (1.2, 1.3, 1.4, 1.5, 1.6))
    """
    span = (most - least) or abs(most) or 1.0
    raw = span / count
    power = 10.0 ** floor(log10(raw))
    step = next(power * m for m in (1, 2, 5, 10) if power * m >= raw * (1 - 1e-9))
    first, last = floor(least / step + 1e-9), ceil(most / step - 1e-9)
    last = max(last, first + 1)
    ticks = tuple(round(n * step, 12) for n in range(first, last + 1))
    return ticks[0], ticks[-1], ticks


def panel_axes(
    panel: Panel,
    lettering: Lettering,
    *,
    name: str,
    x_ticks: tuple[float, ...],
    y_ticks: tuple[float, ...],
    names: tuple[str, str],
    decimal: str = ".",
) -> Drawn:
    """Both axes of a panel.

    Parameters
    ----------
    panel : Panel
        Its place and ranges.
    lettering : Lettering
        Measures labels.
    name : str
        Of the thing.
    x_ticks, y_ticks : tuple of float
        Values; no x ticks leave the lower axis to the panel below.
    names : (str, str)
        Of x and y, with units; an empty one is left away.
    decimal : str
        Decimal mark.
    """
    size, bottom = panel.size, panel.top + panel.height
    marks: list[Mark] = [Outline(path_of([(panel.left, panel.top - 0.6), (panel.left, bottom)]), "axis")]
    if x_ticks:
        marks.append(Outline(path_of([(panel.left, bottom), (panel.left + panel.width, bottom)]), "axis"))
    for value in x_ticks:
        x, _ = panel.at(value, panel.least_y)
        marks.append(Outline(path_of([(x, bottom), (x, bottom + 0.5)]), "axis"))
        marks.append(Text(Label(_number(value, x_ticks, decimal), size), x, bottom + 0.9 + 0.8 * size))
    for value in y_ticks:
        _, y = panel.at(panel.least_x, value)
        marks.append(Outline(path_of([(panel.left - 0.5, y), (panel.left, y)]), "axis"))
        text = Label(_number(value, y_ticks, decimal), size)
        marks.append(Text(text, panel.left - 1.0, y + 0.33 * size, "end"))
    if names[0]:
        place = (panel.left + panel.width, bottom + 1.7 + 2.1 * size)
        marks.append(Text(Label(names[0], size), *place, "end"))
    if names[1]:
        marks.append(Text(Label(names[1], size), panel.left + 0.7, panel.top - 0.6 + 0.4 * size, "start"))
    return Drawn(name, "small", "normal", bounds(marks, lettering), tuple(marks))


def _number(value: float, ticks: tuple[float, ...], decimal: str) -> str:
    """All numbers of an axis to one place."""
    places = 0
    while places < 6 and any(abs(round(each, places) - each) > 1e-9 for each in ticks):
        places += 1
    return f"{value:.{places}f}".replace("-", MINUS).replace(".", decimal)
