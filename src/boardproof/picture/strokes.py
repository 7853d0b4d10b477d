"""Small marks that carry no part: paths, dots and rings, arrow heads, measure lines, the caution sign."""

from __future__ import annotations

from collections.abc import Iterable

from boardproof.picture.drawing import Outline

__all__ = ["Point", "barb", "caution_mark", "disc", "dotted", "measure_line", "path_of", "ring", "rounded"]

Point = tuple[float, float]


def path_of(points: Iterable[Point], *, closed: bool = False) -> str:
    """Path data through points.

    Parameters
    ----------
    points : iterable of (float, float)
        In u.
    closed : bool
        Back to the first.

    Examples
    --------
    >>> path_of([(0, 0), (1.5, 2)])
    'M0 0L1.5 2'
    """
    told = "L".join(f"{_plain(x)} {_plain(y)}" for x, y in points)
    return f"M{told}{'Z' if closed else ''}"


def _plain(number: float) -> str:
    text = f"{number:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _circle(x: float, y: float, radius: float) -> str:
    r = _plain(radius)
    left, right, level = _plain(x - radius), _plain(x + radius), _plain(y)
    return f"M{left} {level}A{r} {r} 0 1 1 {right} {level}A{r} {r} 0 1 1 {left} {level}Z"


def disc(x: float, y: float, radius: float = 0.34) -> Outline:
    """A junction.

    Parameters
    ----------
    x, y, radius : float
        In u.

    Examples
    --------
    >>> disc(1, 0, 0.5).path
    'M0.5 0A0.5 0.5 0 1 1 1.5 0A0.5 0.5 0 1 1 0.5 0Z'
    """
    return Outline(_circle(x, y, radius), "solid", "ink")


def ring(x: float, y: float, radius: float = 0.48) -> Outline:
    """A terminal, or a pole of a switch.

    Parameters
    ----------
    x, y, radius : float
        In u.

    Examples
    --------
    >>> ring(0, 0).fill
    'paper'
    """
    return Outline(_circle(x, y, radius), "outline", "paper")


def rounded(left: float, top: float, right: float, bottom: float, radius: float = 0.6) -> str:
    """Path of a box with round corners.

    Parameters
    ----------
    left, top, right, bottom, radius : float
        In u.

    Examples
    --------
    >>> rounded(0, 0, 4, 2, 1).startswith("M1 0L3 0A1 1 0 0 1 4 1")
    True
    """
    r = min(radius, (right - left) / 2, (bottom - top) / 2)
    p, q = _plain, _plain(r)
    return (
        f"M{p(left + r)} {p(top)}L{p(right - r)} {p(top)}A{q} {q} 0 0 1 {p(right)} {p(top + r)}"
        f"L{p(right)} {p(bottom - r)}A{q} {q} 0 0 1 {p(right - r)} {p(bottom)}"
        f"L{p(left + r)} {p(bottom)}A{q} {q} 0 0 1 {p(left)} {p(bottom - r)}"
        f"L{p(left)} {p(top + r)}A{q} {q} 0 0 1 {p(left + r)} {p(top)}Z"
    )


def dotted(x1: float, y1: float, x2: float, y2: float) -> Outline:
    """Dots for what is not drawn.

    Parameters
    ----------
    x1, y1, x2, y2 : float
        In u.

    Examples
    --------
    >>> dotted(0, 0, 4, 0).dash
    (0.05, 0.75)
    """
    return Outline(path_of([(x1, y1), (x2, y2)]), "wire", dash=(0.05, 0.75))


def barb(x: float, y: float, direction: str, scale: float = 1.0) -> Outline:
    """A current's arrow head on its wire.

    Parameters
    ----------
    x, y : float
        Its middle, in u.
    direction : {"right", "left", "down", "up"}
        Where it points.
    scale : float
        Above 0; 1 is the usual size.

    Examples
    --------
    >>> barb(0, 0, "right").path
    'M0.95 0L-0.85 0.62L-0.45 0L-0.85 -0.62Z'
    """
    ahead, back, half, notch = 0.95 * scale, 0.85 * scale, 0.62 * scale, 0.45 * scale
    local = [(ahead, 0.0), (-back, half), (-notch, 0.0), (-back, -half)]
    turn = {"right": (1, 0), "left": (-1, 0), "down": (0, 1), "up": (0, -1)}[direction]
    points = [(x + t * turn[0] - n * turn[1], y + t * turn[1] + n * turn[0]) for t, n in local]
    return Outline(path_of(points, closed=True), "solid", "ink")


def measure_line(
    x1: float, y1: float, x2: float, y2: float, gap: tuple[float, float], arrow: str = ""
) -> tuple[Outline, ...]:
    """A line between two bars, broken for its words.

    Parameters
    ----------
    x1, y1, x2, y2 : float
        Ends, on one level or one above the other.
    gap : (float, float)
        Where it is broken, along it, from the first end.
    arrow : {"", "first", "second"}
        End that bears an open arrow.

    Examples
    --------
    >>> [mark.path for mark in measure_line(0, 0, 8, 0, (3, 5))]
    ['M0 -0.8L0 0.8', 'M8 -0.8L8 0.8', 'M0 0L3 0', 'M5 0L8 0']
    """
    upright = x1 == x2
    length = (y2 - y1) if upright else (x2 - x1)

    def at(t: float, n: float) -> Point:
        return (x1 + n, y1 + t) if upright else (x1 + t, y1 + n)

    marks = [Outline(path_of([at(t, -0.8), at(t, 0.8)]), "measure") for t in (0.0, length)]
    marks += [
        Outline(path_of([at(a, 0), at(b, 0)]), "measure")
        for a, b in ((0.0, gap[0]), (gap[1], length))
        if b > a
    ]
    if arrow:
        tip, back = (0.0, 0.9) if arrow == "first" else (length, length - 0.9)
        marks.append(Outline(path_of([at(back, -0.6), at(tip, 0), at(back, 0.6)]), "measure"))
    return tuple(marks)


def caution_mark(x: float, y: float, width: float = 2.8) -> tuple[Outline, ...]:
    """A triangle with an exclamation mark, its left foot at (x, y).

    Parameters
    ----------
    x, y : float
        Its left foot.
    width : float
        In u.

    Examples
    --------
    >>> len(caution_mark(0, 0))
    3
    """
    high = width * 0.87
    sign = path_of([(x + width / 2, y - high * 0.68), (x + width / 2, y - high * 0.32)])
    return (
        Outline(path_of([(x, y), (x + width / 2, y - high), (x + width, y)], closed=True), "outline"),
        Outline(sign, "outline"),
        disc(x + width / 2, y - high * 0.15, 0.13),
    )
