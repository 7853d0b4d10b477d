"""How the cells of a pack share: a histogram of their currents, on an axis that begins where they do."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import floor

from boardproof.picture.axes import (
    DASH,
    Axes,
    GraphShape,
    Named,
    axes_for,
    named_curves,
    thing,
    ticks,
    told_value,
)
from boardproof.picture.drawing import Drawn, Frame, Label, Lettering, Mark, Outline, Text
from boardproof.picture.strokes import path_of

__all__ = ["sharing_histogram"]

BARS = 14


def sharing_histogram(
    currents: Sequence[float],
    fair: float,
    lettering: Lettering,
    *,
    limit: float | None = None,
    shape: GraphShape = "figure",
) -> Frame:
    r"""Number of cells by the current that they give.

    Parameters
    ----------
    currents : sequence of float
        Of all cells, in amperes.
    fair : float
        What each would give if all were alike.
    lettering : Lettering
        Measures labels.
    limit : float, optional
        Most that a cell may give; drawn only if it is near the cells.
    shape : {"figure", "figure near"}
        For a screen held far or near.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (0.5 * label.size * len(str(label.content)), label.size, 0.3 * label.size)
    >>> sharing_histogram([0.7, 0.75, 0.8], 0.75, Plain()).alternative
    '3 cells give from 0.7\u202fA to 0.8\u202fA.'
    """
    low, high = min(*currents, fair), max(*currents, fair)
    if limit is not None and low < limit < high + 2 * (high - low):
        high = max(high, limit)
    else:
        limit = None
    step = ticks((high - low or 0.1 * abs(high) or 1.0), BARS)[1]
    start = floor(low / step - 1e-9) * step
    counts = Counter(int((each - start) / step + 1e-9) for each in currents)
    most = max(counts.values())
    axes = axes_for(shape, high - start + 1.5 * step, 1.35 * most, lettering)
    drawn = [_frame(axes, start)]
    for place, count in sorted(counts.items()):
        corners = [
            axes.at(place * step, 0.0),
            axes.at(place * step, count),
            axes.at((place + 1) * step, count),
            axes.at((place + 1) * step, 0.0),
        ]
        drawn.append(
            thing(axes, f"bar:{place}", "curve", [Outline(path_of(corners) + "Z", "outline", "shade")])
        )
    named: list[Named] = [
        ("fair", f"if alike: {told_value(fair, 'A')}", [(fair - start, 1.25 * most)], "normal")
    ]
    marked = [("fair", fair)]
    if limit is not None and abs(limit - fair) > step / 100:
        marked.append(("limit", limit))
        named.append(("limit", f"limit: {told_value(limit, 'A')}", [(limit - start, 1.1 * most)], "focus"))
    elif limit is not None:
        named = [
            (
                "fair",
                f"if alike, and the limit: {told_value(fair, 'A')}",
                [(fair - start, 1.25 * most)],
                "focus",
            )
        ]
    for name, value in marked:
        line = path_of([axes.at(value - start, 0.0), axes.at(value - start, 1.3 * most)])
        drawn.append(thing(axes, f"mark:{name}", "curve", [Outline(line, "measure", dash=DASH)]))
    charged = sum(each < 0 for each in currents)
    told = f"{len(currents)} cells give from {told_value(min(currents), 'A')} to {told_value(max(currents), 'A')}"
    told += f"; {charged} of them are charged." if charged else "."
    return named_curves(axes, drawn, named, "How the cells share", told, shape, "pack-sharing")


def _frame(axes: Axes, start: float) -> Drawn:
    """Both axes, the lower one beginning at a value of its own."""
    size, (left, bottom) = axes.size, axes.at(0.0, 0.0)
    corner = [(left, bottom - axes.height), (left, bottom), (left + axes.width, bottom)]
    marks: list[Mark] = [Outline(path_of(corner), "axis")]
    step = ticks(axes.most_x, 5)[1]
    first = -floor(-start / step + 1e-9)
    for count in range(int((start + axes.most_x) / step - first + 1e-9) + 1):
        value = (first + count) * step
        x, y = axes.at(value - start, 0.0)
        marks.append(Outline(path_of([(x, y), (x, y + 0.5)]), "axis"))
        marks.append(Text(Label(f"{value:.6g}".replace("-", "−"), size), x, y + 0.9 + 0.8 * size))
    for value in ticks(axes.most_y):
        if value != int(value):
            continue
        x, y = axes.at(0.0, value)
        marks.append(Outline(path_of([(x - 0.5, y), (x, y)]), "axis"))
        marks.append(Text(Label(f"{value:g}", size), x - 1.0, y + 0.35 * size, "end"))
    end = Label("current of a cell / A", size)
    marks.append(Text(end, left + axes.width, bottom + 1.7 + 2.2 * size, "end"))
    marks.append(Text(Label("cells", size), left - 1.4, bottom - axes.height - 0.9 * size, "start"))
    return thing(axes, "axes", "small", marks)
