"""Curves of a pack: sag against current, efficiency against load, p.d. against time."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import replace

from boardproof.picture.axes import (
    DASH,
    Axes,
    GraphShape,
    Named,
    Point,
    axes_for,
    curve,
    frame_of_axes,
    named_curves,
    thing,
    told_value,
)
from boardproof.picture.drawing import Drawn, Frame, Label, Lettering, Outline, Text
from boardproof.picture.sheet import bounds
from boardproof.picture.strokes import disc, path_of

__all__ = ["efficiency_curve", "run_down_curve", "sag_curve", "with_mark"]


def sag_curve(
    emf: float,
    resistance: float,
    current: float,
    least: float,
    lettering: Lettering,
    *,
    shape: GraphShape = "figure",
    most: float | None = None,
) -> Frame:
    """P.d. at the load against the current drawn, with what the brief asks for.

    Parameters
    ----------
    emf, resistance : float
        Of the pack, with its leads.
    current, least : float
        Asked for at the load.
    lettering : Lettering
        Measures labels.
    shape : {"figure", "figure near"}
        For a screen held far or near.
    most : float, optional
        Greatest current that the cells may give together.
    """
    reach = 1.35 * max(current, most or 0.0)
    axes = axes_for(shape, reach, 1.15 * emf, lettering)
    drawn = [frame_of_axes(axes, "current / A", "p.d. at the load / V")]
    drawn.append(curve(axes, "pack", [(0.0, emf), (reach, max(0.0, emf - reach * resistance))]))
    drawn.append(_line(axes, "least", (0.0, least), (reach, least)))
    voltage = emf - current * resistance
    drawn.append(_point(axes, current, voltage))
    named: list[Named] = [
        ("point", f"{told_value(voltage, 'V')} at {told_value(current, 'A')}", [(current, voltage)], "focus"),
        (
            "least",
            f"asked for: {told_value(least, 'V')}",
            [(0.12 * reach, least), (0.7 * reach, least)],
            "normal",
        ),
    ]
    if most is not None and most > current:
        drawn.append(_line(axes, "most", (most, 0.0), (most, emf)))
        named.append(("most", f"most: {told_value(most, 'A')}", [(most, 0.4 * emf)], "normal"))
    told = (
        f"P.d. at the load falls from {told_value(emf, 'V')} with no current to {told_value(voltage, 'V')} "
        f"at {told_value(current, 'A')}; {told_value(least, 'V')} are asked for."
    )
    return named_curves(axes, drawn, named, "Sag against current", told, shape, "pack-sag")


def efficiency_curve(
    resistance: float, load: float, lettering: Lettering, *, shape: GraphShape = "figure"
) -> Frame:
    """Share of the power that reaches the load, against the load.

    Parameters
    ----------
    resistance, load : float
        Of the pack with its leads, and of the load.
    lettering : Lettering
        Measures labels.
    shape : {"figure", "figure near"}
        For a screen held far or near.
    """
    reach = max(2.0 * load, 4.0 * resistance)
    axes = axes_for(shape, reach, 110.0, lettering)
    points = [(reach * n / 80, 100.0 * n / 80 * reach / (n / 80 * reach + resistance)) for n in range(81)]
    share = 100.0 * load / (load + resistance)
    drawn = [frame_of_axes(axes, "load / Ω", "efficiency / %"), curve(axes, "efficiency", points)]
    drawn.append(_point(axes, load, share))
    named: list[Named] = [
        ("load", f"this load: {told_value(share, '%')}", [(load, share)], "focus"),
        ("half", "half is lost where the load equals the pack", [(resistance, 50.0)], "normal"),
    ]
    drawn.append(_point(axes, resistance, 50.0))
    told = f"Efficiency rises with the load: half at {told_value(resistance, 'Ω')}, {told_value(share, '%')} here."
    return named_curves(axes, drawn, named, "Efficiency against load", told, shape, "pack-efficiency")


def run_down_curve(
    hours: Sequence[float],
    voltage: Sequence[float],
    end: float,
    lettering: Lettering,
    *,
    shape: GraphShape = "figure",
) -> Frame:
    """P.d. at the load while the pack runs down.

    Parameters
    ----------
    hours, voltage : sequence of float
        Step by step.
    end : float
        P.d. at which it stops.
    lettering : Lettering
        Measures labels.
    shape : {"figure", "figure near"}
        For a screen held far or near.
    """
    reach = max(1.15 * hours[-1], 1e-3)
    axes = axes_for(shape, reach, 1.2 * max(voltage), lettering)
    drawn = [frame_of_axes(axes, "time / h", "p.d. at the load / V")]
    drawn.append(curve(axes, "run-down", list(zip(hours, voltage, strict=True))))
    drawn.append(_line(axes, "end", (0.0, end), (reach, end)))
    drawn.append(_point(axes, hours[-1], voltage[-1]))
    named: list[Named] = [
        ("end", f"stops after {told_value(hours[-1], 'h')}", [(hours[-1], voltage[-1])], "focus"),
        ("least", f"asked for: {told_value(end, 'V')}", [(0.1 * reach, end), (0.5 * reach, end)], "normal"),
    ]
    told = (
        f"P.d. falls from {told_value(voltage[0], 'V')} to {told_value(voltage[-1], 'V')} "
        f"in {told_value(hours[-1], 'h')}."
    )
    return named_curves(axes, drawn, named, "Running down", told, shape, "pack-run-down")


def _line(axes: Axes, name: str, start: Point, end: Point) -> Drawn:
    """A limit, in values."""
    return thing(
        axes,
        f"limit:{name}",
        "curve",
        [Outline(path_of([axes.at(*start), axes.at(*end)]), "measure", dash=DASH)],
    )


def _point(axes: Axes, x: float, y: float) -> Drawn:
    return thing(axes, f"point:{x:g},{y:g}", "curve", [disc(*axes.at(x, y), 0.4)], "focus")


def with_mark(frame: Frame, words: str, lettering: Lettering) -> Frame:
    """A picture that may be cut out alone, with its caution below it.

    Parameters
    ----------
    frame : Frame
        The picture.
    words : str
        The short caution.
    lettering : Lettering
        Measures labels.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (0.5 * label.size * len(str(label.content)), label.size, 0.3 * label.size)
    >>> plain = Frame("pack-sag", "figure", 40.0, 20.0, ())
    >>> with_mark(plain, "Paper exercise only.", Plain()).height > 20
    True
    """
    size = 1.2
    lines = textwrap.wrap(words, max(20, int(frame.width / (0.5 * size))))
    marks = tuple(
        Text(
            Label(line, size, "semibold" if not at else "roman"),
            1.0,
            frame.height + 1.5 * size * (at + 1),
            "start",
        )
        for at, line in enumerate(lines)
    )
    caution = Drawn("caution", "caution", "normal", bounds(marks, lettering), marks, words)
    width = max(frame.width, caution.box.right + 1.0)
    return replace(
        frame, width=width, height=frame.height + 1.5 * size * (len(lines) + 1), drawn=(*frame.drawn, caution)
    )
