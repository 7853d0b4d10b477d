"""What stands on the board at one moment, and the frame that shows it."""

from __future__ import annotations

from dataclasses import dataclass

from boardproof.algebra.expression import Expression, Line
from boardproof.circuit.model import Circuit, Kind
from boardproof.picture.drawing import Readout

__all__ = ["Arrow", "BoardState", "Piece", "Written"]


@dataclass(frozen=True, slots=True)
class Arrow:
    """A current to be shown: its name, the path it flows in, along (+1) or against (-1) the counting direction there.

    The value shown is positive and the arrow turned to fit; `note` is a state word such as "being charged".
    """

    name: str
    path: str
    sense: int
    readout: Readout | None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a loop: its name, and by how much potential changes along it; a wire changes nothing.

    `label` stands beside it: ``E = 6 V``; `in_focus` if the sentence is about it; `kind` is its symbol's.
    """

    name: str
    change: float
    label: Expression | Line | str = ""
    in_focus: bool = False
    kind: Kind = "resistor"


@dataclass(frozen=True, slots=True)
class Written:
    """A line on the board: maths with its reason, or words. `key` is its statement's key."""

    key: str
    line: Line | str
    reason: str = ""
    in_focus: bool = False


@dataclass(frozen=True, slots=True)
class BoardState:
    """Everything that decides a frame.

    Parameters
    ----------
    circuit : Circuit or None
        At hand, with every change in force; None while the scene has no circuit.
    stage : tuple of Circuit
        All circuits of the scene: places are laid out once for all of them, so that no turn or value moves a part.
    hidden, dimmed, focused : tuple of str
        Paths.
    labels : mapping of path to "letters", "values", "both", "words" or the very letters wanted
        Parts that differ from `default_label`.
    replaced : tuple of (group path, "cell" or "resistor")
        Groups drawn as the one part that does the same.
    imagined : tuple of (path, "short" or "no emf in")
        What is only thought of; the circuit itself stays.
    readouts : tuple of Readout
        Values that labels may show, by letter.
    arrows, pds : tuple of Arrow
        Currents, and p.d.s as measure lines.
    notes : tuple of (path, words)
        "turned round", "idle", ...
    written : tuple of Written
        The maths so far, oldest first.
    heights : tuple of Piece
        The loop whose potential is drawn in place of the circuit; empty to draw the circuit.
    """

    circuit: Circuit | None
    stage: tuple[Circuit, ...] = ()
    hidden: tuple[str, ...] = ()
    dimmed: tuple[str, ...] = ()
    focused: tuple[str, ...] = ()
    labels: tuple[tuple[str, str], ...] = ()
    default_label: str = "letters"
    replaced: tuple[tuple[str, str], ...] = ()
    imagined: tuple[tuple[str, str], ...] = ()
    readouts: tuple[Readout, ...] = ()
    arrows: tuple[Arrow, ...] = ()
    pds: tuple[Arrow, ...] = ()
    notes: tuple[tuple[str, str], ...] = ()
    written: tuple[Written, ...] = ()
    heights: tuple[Piece, ...] = ()
    lesson: str = ""
    scene: str = ""
    scene_number: int = 1
    scenes: int = 1
    caption: str = ""
    caution: str = ""
    resistor: str = "box"
