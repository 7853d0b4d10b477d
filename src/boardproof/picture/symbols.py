"""Symbols of parts, drawn round their centre on a wire that runs right or, in a network's rail, down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from boardproof.picture.drawing import Label, Mark, Outline, Text
from boardproof.picture.layout import SpotPlace
from boardproof.picture.measure import Grade, drop, is_cased, lift, symbol_reach

__all__ = [
    "Pose",
    "barb",
    "case_points",
    "case_reach",
    "caution_mark",
    "disc",
    "dotted",
    "foot",
    "measure_line",
    "path_of",
    "ring",
    "rounded",
    "symbol",
]

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a symbol stands; `t` counts along the wire (right, or down), `n` to the side of its labels."""

    x: float
    y: float
    is_upright: bool = False
    side: int = 1

    def at(self, t: float, n: float) -> Point:
        """A point of the symbol on the board."""
        if self.is_upright:
            return (self.x + n, self.y + t)
        return (self.x + t, self.y - self.side * n)


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


def symbol(place: SpotPlace, grade: Grade, size: float, *, zigzag: bool) -> tuple[Mark, ...]:
    """Everything of a part but its labels: its wire broken at the symbol, and the symbol.

    Parameters
    ----------
    place : SpotPlace
        Where it stands, with its changes.
    grade : Grade
        How crowded the picture is.
    size : float
        Letter size, in u.
    zigzag : bool
        Resistors as zigzags.

    Returns
    -------
    tuple of Mark
        Back to front.
    """
    spot = place.spot
    pose = Pose(place.x, place.y, place.is_upright, place.side)
    middle = place.y if place.is_upright else place.x
    start, end = place.start - middle, place.end - middle
    marks: list[Mark] = []
    if "removed" in spot.changes:
        half = place.body
        return tuple(
            Outline(path_of([pose.at(a, 0), pose.at(b, 0)]), "wire") for a, b in ((start, -half), (half, end))
        )
    breaks: list[tuple[float, float]] = []
    cased = is_cased(spot, grade)
    if cased:
        body = place.body
        reach = case_reach(grade, size)
        corners = (pose.at(-body, reach[0]), pose.at(body, -reach[1]))
        (x1, y1), (x2, y2) = corners
        box = (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
        marks.append(Outline(rounded(*box), "case", "shade"))
        plates, inner = case_points(body, grade)
        half = 2.4 * grade.scale
        marks.append(_box(pose, inner, half, 0.8 * grade.scale))
        breaks.append((inner - half, inner + half))
        if "without emf" not in spot.changes:
            marks += _plates(pose, plates, grade.scale, forward=spot.forward)
            breaks.append((plates - 0.55 * grade.scale, plates + 0.55 * grade.scale))
    else:
        drawn, gap = _bare(place, pose, grade, size, zigzag=zigzag)
        marks += drawn
        breaks += gap
    if "open" in spot.changes and spot.part.kind != "switch":
        at = (place.body + end) / 2
        breaks.append((at - 0.7, at + 0.7))
    wires: list[Mark] = []
    at = start
    for left, right in sorted(breaks):
        wires.append(Outline(path_of([pose.at(at, 0), pose.at(left, 0)]), "wire"))
        at = right
    wires.append(Outline(path_of([pose.at(at, 0), pose.at(end, 0)]), "wire"))
    if "shorted" in spot.changes:
        wires += _beside(
            pose, start, end, max(place.body + 0.5, place.reach - 0.5), foot(place, grade, size) + 0.9
        )
    cases, rest = (marks[:1], marks[1:]) if cased else ([], marks)
    return (*cases, *wires, *rest)


def case_points(body: float, grade: Grade) -> tuple[float, float]:
    """Places of the plates and of the resistance in a case, from its middle.

    Parameters
    ----------
    body : float
        Half its width, in u.
    grade : Grade
        How crowded the picture is.

    Returns
    -------
    (float, float)
        In u.

    Examples
    --------
    >>> from boardproof.picture.measure import GRADES
    >>> plates, resistance = case_points(10.0, GRADES[0])
    >>> plates < 0 < resistance
    True
    """
    if grade.case == "tight":
        return -0.52 * body, 0.34 * body
    return -0.54 * body, 0.42 * body


def case_reach(grade: Grade, size: float) -> tuple[float, float]:
    """Height of a case on the side of the labels, and on the other.

    Parameters
    ----------
    grade : Grade
        How crowded the picture is.
    size : float
        Letter size, in u.

    Returns
    -------
    (float, float)
        In u.

    Examples
    --------
    A case reaches further on the side of the labels:

    >>> from boardproof.picture.measure import GRADES
    >>> over, under = case_reach(GRADES[0], 1.6)
    >>> over > under
    True
    """
    over = lift(grade, size, 1.75 * grade.scale) + 0.85 * size + 0.6
    return over, 2.7 if grade.case == "wide" else drop(grade, size, 1.75 * grade.scale) + 0.4 * size + 0.6


def foot(place: SpotPlace, grade: Grade, size: float) -> float:
    """Reach of a part on the side away from its first label: of its case, its second label, or its symbol.

    Parameters
    ----------
    place : SpotPlace
        Where a part stands, in u.
    grade : Grade
        How crowded the picture is.
    size : float
        Letter size, in u.

    Returns
    -------
    float
        In u.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> from boardproof.picture.measure import GRADES
    >>> from boardproof.picture.plan import Spot
    >>> foot(SpotPlace(Spot("R", Part("R", "resistor")), 10, 5, 0, 20, 3, 1, 0, 1), GRADES[0], 1.6)
    1.0
    """
    if is_cased(place.spot, grade):
        return case_reach(grade, size)[1]
    carries_two = len(place.spot.part.worths()) > 1 and place.spot.is_labelled and not place.is_upright
    if carries_two and grade.labels != "none" and not grade.beside:
        return drop(grade, size, symbol_reach(place.spot, grade, size)[1]) + 0.4 * size
    return symbol_reach(place.spot, grade, size)[1]


def _beside(pose: Pose, start: float, end: float, half: float, depth: float) -> list[Mark]:
    """A wire laid past a part, with a junction at each end."""
    left, right = max(start + 0.4, -half), min(end - 0.4, half)
    route = [pose.at(left, 0), pose.at(left, -depth), pose.at(right, -depth), pose.at(right, 0)]
    return [Outline(path_of(route), "wire"), disc(*pose.at(left, 0)), disc(*pose.at(right, 0))]


def _line(pose: Pose, points: Iterable[Point], role: str = "outline") -> Outline:
    return Outline(path_of(pose.at(t, n) for t, n in points), "outline" if role == "outline" else "plate")


def _box(pose: Pose, t: float, half: float, high: float) -> Outline:
    corners = [(t - half, high), (t + half, high), (t + half, -high), (t - half, -high)]
    return Outline(path_of((pose.at(a, b) for a, b in corners), closed=True), "outline", "paper")


def _plates(pose: Pose, t: float, scale: float, *, forward: bool) -> list[Mark]:
    """A cell's plates with the small plus."""
    way = 1 if forward else -1
    long, short, sign = t + way * 0.55 * scale, t - way * 0.55 * scale, t + way * max(1.7 * scale, 0.95)
    up, arm = pose.side * 1.15 * max(scale, 0.5), 0.42 * max(scale, 0.6)
    return [
        Outline(path_of([pose.at(long, 1.75 * scale), pose.at(long, -1.75 * scale)]), "plate"),
        Outline(path_of([pose.at(short, 0.85 * scale), pose.at(short, -0.85 * scale)]), "thick plate"),
        Outline(path_of([pose.at(sign - arm, up), pose.at(sign + arm, up)]), "measure"),
        Outline(path_of([pose.at(sign, up - arm), pose.at(sign, up + arm)]), "measure"),
    ]


def _bare(
    place: SpotPlace, pose: Pose, grade: Grade, size: float, *, zigzag: bool
) -> tuple[list[Mark], list[tuple[float, float]]]:
    """Symbol without a case, and where it breaks the wire."""
    part, scale = place.spot.part, grade.scale
    half, high = symbol_reach(place.spot, grade, size)
    whole = [(-half, half)]
    match part.kind:
        case "cell" | "source":
            if "without emf" in place.spot.changes:
                middle = place.y if place.is_upright else place.x
                inner = min(2.4 * scale, middle - place.start - 0.4, place.end - middle - 0.4)
                if part.resistance is None or inner <= 0:
                    return [], []
                return [_box(pose, 0.0, inner, 0.8 * scale)], [(-inner, inner)]
            return _plates(pose, 0.0, scale, forward=place.spot.forward), whole
        case "resistor" if zigzag:
            teeth = [(-half + (n + 0.5) * half / 3, high * 1.15 * (-1) ** n) for n in range(6)]
            return [_line(pose, [(-half, 0.0), *teeth, (half, 0.0)])], whole
        case "resistor":
            return [_box(pose, 0.0, half, high)], whole
        case "switch":
            is_closed = part.closed and "open" not in place.spot.changes
            pole = 2.0 * scale
            blade = [(-pole, 0.0), (pole, 0.0)] if is_closed else [(-pole, 0.0), (1.7 * scale, 1.9 * scale)]
            r = 0.34 * max(scale, 0.6)
            return [_line(pose, blade), ring(*pose.at(-pole, 0), r), ring(*pose.at(pole, 0), r)], [
                (-pole, pole)
            ]
        case "ammeter" | "voltmeter":
            x, y = pose.at(0, 0)
            letter = Label("A" if part.kind == "ammeter" else "V", 1.1 * size)
            return [
                Outline(_circle(x, y, half), "outline", "paper"),
                Text(letter, x, y + 0.37 * size),
            ], whole
        case "lamp":
            x, y = pose.at(0, 0)
            arm = half * 0.707
            cross = [[(-arm, -arm), (arm, arm)], [(-arm, arm), (arm, -arm)]]
            return [
                Outline(_circle(x, y, half), "outline", "paper"),
                *(_line(pose, each) for each in cross),
            ], whole
        case "capacitor":
            return [_line(pose, [(t, 1.6 * scale), (t, -1.6 * scale)], "plate") for t in (-half, half)], whole
        case "diode":
            way = 1 if place.spot.forward else -1
            body = [(-way * half, high), (-way * half, -high), (way * half, 0.0)]
            outline = Outline(path_of((pose.at(t, n) for t, n in body), closed=True), "outline", "paper")
            return [outline, _line(pose, [(way * half, high), (way * half, -high)])], whole
        case "wire":
            return [], []
