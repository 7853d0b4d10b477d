"""Readings of real cells: p.d. against current with each line and its band, and what the line leaves, below.

Bars are one standard uncertainty and are left away where they would be smaller than the disc (look: graphs); the band
is one standard uncertainty of the line, meters included. A reading that was left out is an open circle with its
reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardproof.lab.judged import CellStudy
from boardproof.lab.result import Result
from boardproof.lab.york import Point
from boardproof.picture.axes import GraphShape
from boardproof.picture.drawing import Box, Drawn, Frame, Label, Lettering, Mark, Outline, Text
from boardproof.picture.labels import Crowd
from boardproof.picture.readings_panel import Panel, edges, panel_axes
from boardproof.picture.sheet import bounds, moved
from boardproof.picture.strokes import disc, path_of, ring

__all__ = ["readings_graph"]

DISC, OPEN, CAP = 0.4, 0.55, 0.35
SAMPLES = 24
LESS = 0.4
DASHES: tuple[tuple[float, ...], ...] = ((), (1.1, 0.6), (0.4, 0.45), (1.6, 0.5, 0.4, 0.5))


@dataclass(frozen=True, slots=True)
class _Plot:
    cells: Sequence[CellStudy]
    upper: Panel
    lower: Panel
    lettering: Lettering


def readings_graph(
    cells: Sequence[CellStudy],
    lettering: Lettering,
    *,
    title: str,
    shape: GraphShape = "figure",
    decimal: str = ".",
) -> Frame:
    """The graph of one or several cells.

    Parameters
    ----------
    cells : sequence of CellStudy
        One or more, each with its line.
    lettering : Lettering
        Measures labels.
    title : str
        For whoever can't see it.
    shape : {"figure", "figure near"}
        For a sheet or wide screen, or for a phone.
    decimal : str
        Decimal mark.
    """
    size, width, height = (1.35, 46.0, 28.0) if shape == "figure" else (2.1, 36.0, 28.0)
    residuals = [1000 * each for cell in cells for each in cell.result.line.residuals]
    residuals += [1000 * _miss(cell.result, p) for cell in cells for p in _open_points(cell)]
    bars = [1000 * cell.result.spread(p) for cell in cells for p in cell.result.points]
    rest = max([1.15 * max(abs(each) for each in residuals) + max(bars), 1e-6])
    points = [p for cell in cells for p in (*cell.result.points, *_open_points(cell))]
    tops = [cell.result.E.value for cell in cells]
    x0, _, x_ticks = edges(min(0.0, *(p.x for p in points)), max(p.x for p in points), 6)
    x1 = 1.06 * max(p.x for p in points)
    x_ticks = tuple(each for each in x_ticks if each <= x1)
    y0, y1, y_ticks = edges(min([*(p.y for p in points), *tops]), max([*(p.y for p in points), *tops]))
    r0, r1, _ = edges(
        -rest, rest, 2
    )  # the panel goes on a little, or its numbers meet those of the axis below
    upper = Panel(0.0, 0.0, width, height, x0, x1, y0, y1, size)
    lower = Panel(0.0, height + 3.2 + size, width, LESS * height, x0, x1, 1.3 * r0, 1.15 * r1, size)
    plot = _Plot(cells, upper, lower, lettering)
    drawn = [_band(plot, cell) for cell in cells]
    drawn.append(
        panel_axes(
            upper,
            lettering,
            name="axes",
            x_ticks=(),
            y_ticks=y_ticks,
            names=("", "terminal p.d. / V"),
            decimal=decimal,
        )
    )
    drawn.append(
        panel_axes(
            lower,
            lettering,
            name="axes:residual",
            x_ticks=x_ticks,
            y_ticks=(r0, 0.0, r1),
            names=("current / A", "residual / mV"),
            decimal=decimal,
        )
    )
    zero = [lower.at(x0, 0.0), lower.at(x1, 0.0)]
    drawn.append(_thing(plot, "line:zero", [Outline(path_of(zero), "axis")]))
    for number, cell in enumerate(cells):
        drawn += _cell(plot, cell, number)
    drawn += _words(plot, drawn)
    box = bounds([mark for each in drawn for mark in each.marks], lettering).grown(1.0)
    made = tuple(moved(each, -box.left, -box.top) for each in drawn)
    return Frame("readings", shape, box.right - box.left, box.bottom - box.top, made, title, _told(cells))


def _told(cells: Sequence[CellStudy]) -> str:
    told = []
    for cell in cells:
        result = cell.result
        name = f"{cell.name}: " if cell.name else ""
        told.append(
            f"{name}{len(result.points)} readings and the line from {result.E.value:.3g} V down by "
            f"{result.r.value:.3g} V an ampere."
        )
    return "Terminal p.d. against current, residuals below. " + " ".join(told)


def _thing(plot: _Plot, name: str, marks: Sequence[Mark], kind: str = "curve") -> Drawn:
    return Drawn(name, kind, "normal", bounds(marks, plot.lettering), tuple(marks))


def _open_points(cell: CellStudy) -> list[Point]:
    return [Point(each.row, float(each.current), float(each.pd)) for each, _ in cell.left_out]


def _miss(result: Result, point: Point) -> float:
    return point.y - result.line.a - result.line.b * point.x


def _reach(plot: _Plot, cell: CellStudy) -> tuple[float, float]:
    """Where a cell's line begins and ends: from no current to a little past its last reading, within the panel."""
    last = max(point.x for point in cell.result.points)
    return plot.upper.least_x if plot.upper.least_x == 0 else 0.0, min(plot.upper.most_x, 1.03 * last)


def _band(plot: _Plot, cell: CellStudy) -> Drawn:
    start, end = _reach(plot, cell)
    upper, lower = [], []
    for n in range(SAMPLES + 1):
        x = start + (end - start) * n / SAMPLES
        height = cell.result.height(x)
        upper.append(plot.upper.at(x, height.value + height.u))
        lower.append(plot.upper.at(x, height.value - height.u))
    return _thing(
        plot, f"band:{cell.name}", [Outline(path_of([*upper, *lower[::-1]], closed=True), "wash", "lamp")]
    )


def _cell(plot: _Plot, cell: CellStudy, number: int) -> list[Drawn]:
    start, end = _reach(plot, cell)
    line = [plot.upper.at(x, cell.result.height(x).value) for x in (start, end)]
    dash = DASHES[number % len(DASHES)]
    made = [_thing(plot, f"curve:{cell.name}", [Outline(path_of(line), "curve", dash=dash)])]
    for point in cell.result.points:
        spread = cell.result.spread(point)
        marks = [
            *_bars(plot.upper, point.x, point.y, point.u_x, spread),
            _dot(plot.upper, point.x, point.y, number),
        ]
        rest = 1000 * _miss(cell.result, point)
        marks += [
            *_bars(plot.lower, point.x, rest, 0.0, 1000 * spread),
            _dot(plot.lower, point.x, rest, number),
        ]
        made.append(_thing(plot, f"reading:{cell.name}:{point.row}", marks))
    for point in _open_points(cell):
        places = (plot.upper.at(point.x, point.y), plot.lower.at(point.x, 1000 * _miss(cell.result, point)))
        made.append(_thing(plot, f"left-out:{cell.name}:{point.row}", [ring(*each, OPEN) for each in places]))
    return made


def _dot(panel: Panel, x: float, y: float, number: int) -> Outline:
    """A mark that differs in outline from run to run: disc, square, triangle, diamond."""
    a, b = panel.at(x, y)
    s = DISC * 1.15
    match number % 4:
        case 0:
            return disc(a, b, DISC)
        case 1:
            corners = [(a - s, b - s), (a + s, b - s), (a + s, b + s), (a - s, b + s)]
        case 2:
            corners = [(a - 1.2 * s, b + s), (a, b - 1.3 * s), (a + 1.2 * s, b + s)]
        case _:
            corners = [(a - 1.4 * s, b), (a, b - 1.4 * s), (a + 1.4 * s, b), (a, b + 1.4 * s)]
    return Outline(path_of(corners, closed=True), "outline", "paper")


def _bars(panel: Panel, x: float, y: float, u_x: float, u_y: float) -> list[Mark]:
    """Error bars with caps; none where it would hide in the mark."""
    a, b = panel.at(x, y)
    marks: list[Mark] = []
    up, across = u_y * panel.y_step(), u_x * panel.x_step()
    if up > 1.2 * DISC:
        marks.append(Outline(path_of([(a, b - up), (a, b + up)]), "measure"))
        marks += [Outline(path_of([(a - CAP, b + s), (a + CAP, b + s)]), "measure") for s in (-up, up)]
    if across > 1.2 * DISC:
        marks.append(Outline(path_of([(a - across, b), (a + across, b)]), "measure"))
        marks += [
            Outline(path_of([(a + s, b - CAP), (a + s, b + CAP)]), "measure") for s in (-across, across)
        ]
    return marks


def _words(plot: _Plot, drawn: Sequence[Drawn]) -> list[Drawn]:
    """Names of lines and reasons, each where it touches nothing."""
    panel = plot.upper
    crowd = Crowd(Box(panel.left, -2.0, panel.left + panel.width + 14.0, panel.top + panel.height + 1.0))
    for each in drawn:
        for mark in each.marks:
            if isinstance(mark, Outline) and mark.role != "wash":
                crowd.strokes.extend(_covered(mark))
            elif isinstance(mark, Text):
                crowd.labels.append(bounds([mark], plot.lettering))
    made = []
    for cell in plot.cells:
        for reading, reason in cell.left_out:
            x, y = panel.at(float(reading.current), float(reading.pd))
            words = f"left out: {reason}" if reason != "no reason given" else "left out"
            text = crowd.first_free(Label(words[:46], panel.size), _near(x, y), plot.lettering)
            if text is not None:
                leader = _leader((x, y), bounds([text], plot.lettering))
                made.append(_thing(plot, f"words:{cell.name}:{reading.row}", [leader, text], "small"))
        if cell.name and len(plot.cells) > 1:
            end = _reach(plot, cell)[1]
            x, y = panel.at(end, cell.result.height(end).value)
            text = crowd.first_free(
                Label(cell.name, panel.size), [(x + 1.0, y + 0.4, "start"), *_near(x, y)], plot.lettering
            )
            if text is not None:
                made.append(_thing(plot, f"words:{cell.name}", [text], "words"))
    return made


def _leader(ring_at: tuple[float, float], box: Box) -> Outline:
    """A thin line from an open circle to its reason."""
    x, y = ring_at
    to = (min(max(x, box.left), box.right), min(max(y, box.top - 0.2), box.bottom + 0.2))
    away = max(((to[0] - x) ** 2 + (to[1] - y) ** 2) ** 0.5, 1e-9)
    start = (x + (to[0] - x) * OPEN / away, y + (to[1] - y) * OPEN / away)
    return Outline(path_of([start, to]), "measure")


def _near(x: float, y: float) -> list[tuple[float, float, str]]:
    found = []
    for reach in (1.4, 2.4, 3.6, 5.0):
        found += [
            (x - reach, y + reach, "end"),
            (x + reach, y - reach * 0.7, "start"),
            (x + reach, y + reach, "start"),
            (x - reach, y - reach, "end"),
        ]
    return found


def _covered(mark: Outline) -> list[Box]:
    """Boxes along a mark; a slanting line is cut so that its boxes say where it runs."""
    if mark.role != "curve":
        box = bounds([mark], _NONE)
        return [box]
    (a, b), (c, d) = (tuple(map(float, each.split())) for each in mark.path.removeprefix("M").split("L"))
    pieces = 80
    found = []
    for n in range(pieces):
        x1, y1 = a + (c - a) * n / pieces, b + (d - b) * n / pieces
        x2, y2 = a + (c - a) * (n + 1) / pieces, b + (d - b) * (n + 1) / pieces
        found.append(Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)))
    return found


class _NoLettering:
    """For marks without text."""

    def extent(self, label: Label) -> tuple[float, float, float]:
        raise AssertionError(label)


_NONE = _NoLettering()
