"""Graphs from plain numbers: a cell's V-I line with its working point, and power against load.

The working point is a ring in focus with dashed lines to both axes (look: graphs).
"""

from __future__ import annotations

from boardproof.picture.axes import (
    DASH,
    Axes,
    GraphShape,
    Named,
    axes_for,
    curve,
    frame_of_axes,
    named_curves,
    thing,
    told_value,
)
from boardproof.picture.drawing import Drawn, Frame, Lettering, Mark, Outline
from boardproof.picture.strokes import disc, path_of

__all__ = ["load_line", "power_curve"]

LONG_DASH = (1.1, 0.6)


def load_line(
    emf: float,
    internal: float,
    load: float | None,
    lettering: Lettering,
    *,
    shape: GraphShape = "figure",
    moment: str = "",
) -> Frame:
    """Terminal p.d. against current for one cell, with its working point on the load's line.

    Parameters
    ----------
    emf, internal : float
        In volts and ohms, both greater than nought.
    load : float or None
        In ohms; None leaves the load's line and the working point away.
    lettering : Lettering
        Measures labels.
    shape : {"figure", "figure near"}
        For a screen held far or near.
    moment : str
        Name of the moment that the picture belongs to.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (0.5 * label.size * len(str(label.content)), label.size, 0.3 * label.size)
    >>> [each.id for each in load_line(6, 2, 4, Plain()).drawn]
    ['axes', 'curve:cell', 'curve:load', 'point:working', 'words:cell', 'words:load', 'words:working']
    """
    shorted = emf / internal
    axes = axes_for(shape, 1.1 * shorted, 1.1 * emf, lettering)
    drawn = [frame_of_axes(axes, "current / A", "terminal p.d. / V")]
    drawn.append(curve(axes, "cell", [(0.0, emf), (shorted, 0.0)]))
    named: list[Named] = [
        (
            "cell",
            f"cell: {told_value(emf, 'V')} and {told_value(internal, 'Ω')}",
            [(0.62 * shorted, 0.38 * emf), (0.8 * shorted, 0.2 * emf)],
            "normal",
        )
    ]
    cell = f"{told_value(emf, 'V')} and {told_value(internal, 'Ω')}"
    told = f"Terminal p.d. of a cell of {cell}, falling from open to shorted."
    if load is not None:
        current = emf / (internal + load)
        pd = current * load
        reach = min(1.05 * shorted, 1.05 * emf / load) if load else 1.05 * shorted
        drawn.append(curve(axes, "load", [(0.0, 0.0), (reach, reach * load)], LONG_DASH))
        drawn.append(_working_point(axes, current, pd))
        named.append(
            (
                "load",
                f"load: {told_value(load, 'Ω')}",
                [(reach, reach * load), (0.6 * reach, 0.6 * reach * load)],
                "normal",
            )
        )
        named.append(
            (
                "working",
                f"working point: {told_value(current, 'A')}, {told_value(pd, 'V')}",
                [(current, pd)],
                "focus",
            )
        )
        told += f" The line of a load of {told_value(load, 'Ω')} meets it in the working point."
    return named_curves(axes, drawn, named, "Load line", told, shape, moment)


def power_curve(
    emf: float,
    internal: float,
    load: float | None,
    lettering: Lettering,
    *,
    shape: GraphShape = "figure",
    moment: str = "",
) -> Frame:
    """Power in the load against its resistance, with its greatest value and the load at hand.

    Parameters
    ----------
    emf, internal : float
        In volts and ohms, both greater than nought.
    load : float or None
        In ohms.
    lettering : Lettering
        Measures labels.
    shape : {"figure", "figure near"}
        For a screen held far or near.
    moment : str
        Name of the moment that the picture belongs to.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (0.5 * label.size * len(str(label.content)), label.size, 0.3 * label.size)
    >>> "4.5" in power_curve(6, 2, None, Plain()).alternative
    True
    """
    most = max(6.5 * internal, 1.3 * (load or 0.0))
    best = emf * emf / (4 * internal)

    def power(resistance: float) -> float:
        return emf * emf * resistance / (internal + resistance) ** 2

    axes = axes_for(shape, most, 1.2 * best, lettering)
    drawn = [frame_of_axes(axes, "load / Ω", "power in the load / W")]
    drawn.append(
        curve(axes, "power", [(most * (n / 80) ** 2, power(most * (n / 80) ** 2)) for n in range(81)])
    )
    x, y = axes.at(internal, best)
    cross = [
        Outline(path_of([(x - 0.5, y), (x + 0.5, y)]), "outline"),
        Outline(path_of([(x, y - 0.5), (x, y + 0.5)]), "outline"),
    ]
    drop = Outline(path_of([(x, y), axes.at(internal, 0.0)]), "measure", dash=DASH)
    drawn.append(thing(axes, "point:most", "curve", [drop, *cross]))
    named: list[Named] = [
        ("most", f"most power, {told_value(best, 'W')}, where R = r", [(internal, best)], "normal")
    ]
    greatest = f"greatest ({told_value(best, 'W')}) where it equals the internal resistance"
    told = f"Power in the load, {greatest} of {told_value(internal, 'Ω')}."
    if load is not None:
        drawn.append(_working_point(axes, load, power(load), to_left=False))
        named.append(
            (
                "load",
                f"this load: {told_value(load, 'Ω')}, {told_value(power(load), 'W')}",
                [(load, power(load))],
                "focus",
            )
        )
    return named_curves(axes, drawn, named, "Power against load", told, shape, moment)


def _working_point(axes: Axes, x_value: float, y_value: float, *, to_left: bool = True) -> Drawn:
    """Ring and dot, with dashed lines to the axes."""
    x, y = axes.at(x_value, y_value)
    foot, side = axes.at(x_value, axes.least_y), axes.at(0.0, y_value)
    lines = [[(x, y), foot], *([[(x, y), side]] if to_left else [])]
    marks: list[Mark] = [Outline(path_of(line), "measure", dash=DASH) for line in lines]
    r = 0.7
    ring = f"M{x - r:.3f} {y:.3f}A{r} {r} 0 1 1 {x + r:.3f} {y:.3f}A{r} {r} 0 1 1 {x - r:.3f} {y:.3f}Z"
    marks += [Outline(ring, "outline", "paper"), disc(x, y, 0.22)]
    return thing(axes, "point:working", "curve", marks, "focus")
