"""Symbols of parts, drawn round their centre on a wire that runs right or, in a network's rail, down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from boardproof.picture.drawing import Label, Mark, Outline, Text
from boardproof.picture.layout import SpotPlace
from boardproof.picture.measure import Grade, drop, is_cased, lift, symbol_reach
from boardproof.picture.strokes import Point, disc, path_of, ring, rounded

__all__ = [
    "Pose",
    "case_points",
    "case_reach",
    "foot",
    "symbol",
]


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
                ring(x, y, half),
                Text(letter, x, y + 0.37 * size),
            ], whole
        case "lamp":
            x, y = pose.at(0, 0)
            arm = half * 0.707
            cross = [[(-arm, -arm), (arm, arm)], [(-arm, arm), (arm, -arm)]]
            return [
                ring(x, y, half),
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
