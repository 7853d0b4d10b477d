"""How large things are drawn: the steps from roomy to crowded, and the room that a part with its labels takes.

Type never falls below the look's sizes; what gives way is, in this order, the case of a cell, room for current arrows,
the size of the symbols, values in labels, and at last the labels themselves.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from boardproof.picture.plan import Spot

__all__ = [
    "BODY",
    "GRADES",
    "Grade",
    "Room",
    "aside",
    "body_half",
    "drop",
    "is_cased",
    "lift",
    "room_of",
    "symbol_reach",
    "widest",
]

Case = Literal["wide", "tight", "bare"]
Labels = Literal["both", "short", "none"]


@dataclass(frozen=True, slots=True)
class Grade:
    """One step of crowding.

    Parameters
    ----------
    case : {"wide", "tight", "bare"}
        A cell's resistance beside it in one case, close to it, or not drawn.
    arrow : float
        Room kept for a current arrow at the end of each row, in letter sizes.
    scale : float
        Of symbols and gaps.
    labels : {"both", "short", "none"}
        In full; the value alone; none.
    gap : float
        Between rows, in u.
    lead : float
        Wire on each side of a body, in u.
    wraps : bool
        A row too long for the board goes on in another line below.
    beside : bool
        Labels close above the wire at both sides of the symbol, for many rows.
    """

    case: Case
    arrow: float
    scale: float
    labels: Labels
    gap: float
    lead: float
    wraps: bool = False
    beside: bool = False


GRADES: Final = (
    Grade("wide", 6.2, 1.0, "both", 3.5, 2.0),
    Grade("wide", 6.2, 1.0, "both", 1.8, 1.2),
    Grade("tight", 6.2, 1.0, "both", 2.2, 1.2),
    Grade("tight", 0.0, 1.0, "both", 1.4, 0.9),
    Grade("tight", 0.0, 0.9, "both", 1.2, 0.7, wraps=True),
    Grade("bare", 0.0, 0.9, "both", 1.2, 0.7, beside=True),
    Grade("bare", 0.0, 0.85, "both", 0.9, 0.6, wraps=True),
    Grade("bare", 0.0, 0.7, "both", 0.9, 0.6, beside=True),
    Grade("bare", 0.0, 0.65, "both", 0.8, 0.5),
    Grade("bare", 0.0, 0.8, "short", 0.9, 0.6, wraps=True),
    Grade("bare", 0.0, 0.5, "both", 0.6, 0.5, beside=True),
    Grade("bare", 0.0, 0.6, "short", 0.8, 0.5, wraps=True),
    Grade("bare", 0.0, 0.4, "short", 0.4, 0.4, wraps=True, beside=True),
    Grade("bare", 0.0, 0.5, "none", 0.6, 0.4, wraps=True),
    Grade("bare", 0.0, 0.3, "none", 0.4, 0.3, wraps=True),
    Grade("bare", 0.0, 0.15, "none", 0.2, 0.15, wraps=True),
)
"""From roomy to crowded; the first that fits is taken."""

BODY: Final[Mapping[str, tuple[float, float]]] = {
    "cell": (0.55, 1.75),
    "source": (0.55, 1.75),
    "resistor": (3.0, 1.0),
    "switch": (2.34, 1.9),
    "ammeter": (1.6, 1.6),
    "voltmeter": (1.6, 1.6),
    "wire": (0.8, 0.1),
    "capacitor": (0.45, 1.6),
    "lamp": (1.6, 1.6),
    "diode": (1.2, 1.2),
}
"""Half length along the wire and half height of each symbol, in u."""


@dataclass(frozen=True, slots=True)
class Room:
    """What a part takes: half its symbol's length, the width of its labels, and its reach above and below the wire."""

    width: float
    above: float
    below: float
    body: float


def widest(rooms: tuple[Room, ...]) -> Room:
    """Room for every one of several.

    Parameters
    ----------
    rooms : tuple of Room
        At least one.

    Examples
    --------
    >>> widest((Room(6, 4, 1, 3), Room(8, 2, 2, 1)))
    Room(width=8, above=4, below=2, body=3)
    """
    return Room(
        max(room.width for room in rooms),
        max(room.above for room in rooms),
        max(room.below for room in rooms),
        max(room.body for room in rooms),
    )


def is_cased(spot: Spot, grade: Grade) -> bool:
    """Whether a cell is drawn with its resistance in a case.

    Parameters
    ----------
    spot : Spot
        A part in the plan, with its changes.
    grade : Grade
        How crowded the picture is.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Worth
    >>> real = Spot("A", Part("A", "cell", Worth("E"), Worth("r")))
    >>> is_cased(real, GRADES[0]), is_cased(Spot("G", Part("G", "source", Worth("E"))), GRADES[0])
    (True, False)
    """
    part = spot.part
    return part.kind == "cell" and part.resistance is not None and grade.case != "bare" and not spot.is_packed


def symbol_reach(spot: Spot, grade: Grade, size: float) -> tuple[float, float]:
    """Half length and half height of a symbol; a circle with a letter keeps to the letter's size.

    Parameters
    ----------
    spot : Spot
        A part in the plan, with its changes.
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
    >>> from boardproof.circuit.model import Part
    >>> symbol_reach(Spot("R", Part("R", "resistor")), GRADES[0], 1.6)
    (3.0, 1.0)
    """
    if spot.part.kind in {"ammeter", "voltmeter"}:
        return size, size
    long, high = BODY[spot.part.kind]
    return long * grade.scale, high * grade.scale


def body_half(spot: Spot, grade: Grade, labels: tuple[float, ...], size: float) -> float:
    """Half the length of what breaks the wire, or of the case.

    Parameters
    ----------
    spot : Spot
        A part in the plan, with its changes.
    grade : Grade
        How crowded the picture is.
    labels : tuple of float
        Widths of its labels, in u.
    size : float
        Letter size, in u.

    Returns
    -------
    float
        In u.

    Examples
    --------
    >>> from boardproof.circuit.model import Part, Worth
    >>> body_half(Spot("A", Part("A", "cell", Worth("E"), Worth("r"))), GRADES[0], (6.0, 6.0), 1.6)
    12.25
    """
    if not is_cased(spot, grade):
        return symbol_reach(spot, grade, size)[0]
    first, second = (*labels, 0.0, 0.0)[:2]
    if grade.case == "tight":
        return max(5.6 * grade.scale, (max(first, second) + 1.4) / 2)
    fair = max((first / 2 + 0.7) / 0.23, (second / 2 + 0.7) / 0.29, (first / 2 + second / 2 + 0.9) / 0.48)
    return max(24.5, fair) / 2


def lift(grade: Grade, size: float, height: float) -> float:
    """Height of a row's labels' baseline above the wire.

    Parameters
    ----------
    grade : Grade
        How crowded the picture is.
    size : float
        Letter size, in u.
    height : float
        Half height of the row's tallest symbol, in u.

    Returns
    -------
    float
        In u.

    Examples
    --------
    >>> round(lift(GRADES[0], 1.6, 1.0), 2)
    2.47
    """
    if grade.beside:
        return 0.5 + 0.4 * size
    return max((1.67 + 0.5 * size) * grade.scale, height + 0.5 + 0.4 * size)


def drop(grade: Grade, size: float, height: float) -> float:
    """Depth of the baseline of labels below a wire; arguments as of `lift`.

    Parameters
    ----------
    grade : Grade
        How crowded the picture is.
    size, height : float
        In u.

    Returns
    -------
    float
        In u.

    Examples
    --------
    >>> round(drop(GRADES[0], 1.6, 1.0), 2)
    3.0
    """
    if grade.beside:
        return 0.55 + 0.8 * size
    return max((0.6 + 1.5 * size) * grade.scale, height + 0.55 + 0.8 * size)


def aside(spot: Spot, grade: Grade, size: float) -> float:
    """How far from a symbol's middle labels beside it begin.

    Parameters
    ----------
    spot : Spot
        A part in the plan, with its changes.
    grade : Grade
        How crowded the picture is.
    size : float
        Letter size, in u.

    Returns
    -------
    float
        In u; clear of a cell's small plus.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> aside(Spot("R", Part("R", "resistor")), GRADES[0], 1.6)
    3.7
    """
    half = symbol_reach(spot, grade, size)[0]
    sign = max(1.7 * grade.scale, 0.95) + 0.5 if spot.part.kind in {"cell", "source"} else 0.0
    return max(half, sign) + 0.7


def room_of(spot: Spot, grade: Grade, labels: tuple[float, ...], size: float) -> Room:
    """Room of a part in a row.

    Parameters
    ----------
    spot : Spot
        A part in the plan, with its changes.
    grade : Grade
        How crowded the picture is.
    labels : tuple of float
        Widths of its labels, in u.
    size : float
        Letter size, in u.

    Returns
    -------
    Room
        `above` is the side of the labels.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> room = room_of(Spot("R", Part("R", "resistor")), GRADES[0], (7.0,), 1.6)
    >>> room.width, room.body
    (10.0, 3.0)
    """
    half = body_half(spot, grade, labels, size)
    height = symbol_reach(spot, grade, size)[1]
    # A cell's small plus stays clear of the next rail.
    least = 2 * half + 2 * grade.lead
    if spot.part.kind in {"cell", "source"} and not is_cased(spot, grade):
        least = max(least, 2 * aside(spot, grade, size) - 0.8)
    bypass = 1.6 if "shorted" in spot.changes else 0.0
    if grade.labels == "none" or not spot.is_labelled or not labels:
        return Room(least, height + 0.3, height + 0.3 + bypass, half)
    tall = 1.75 * grade.scale if is_cased(spot, grade) else height
    rise = lift(grade, size, tall) + 0.85 * size
    fall = drop(grade, size, tall) + 0.4 * size
    if is_cased(spot, grade):
        below = 2.7 if grade.case == "wide" else fall + 0.7
        return Room(2 * half + 2 * grade.lead, rise + 0.7, below + bypass, half)
    if grade.beside:
        wide = 2 * aside(spot, grade, size) + 2 * max(labels) + 1.2
        return Room(
            max(wide, 2 * half + 2 * grade.lead), max(rise, height) + 0.3, height + 0.3 + bypass, half
        )
    wide = max(least, max(labels) + 0.9) + (2.0 if bypass else 0.0)
    second = fall if len(labels) > 1 else height + 0.3
    return Room(wide, max(rise, fall) + 0.1, second + bypass, half)
