"""What a picture is made of, in board units (u), before any file format.

A `Frame` holds everything that stands on the board at one moment. Each `Drawn` thing keeps its id from frame to
frame: the same id is the same thing moving. Colours, weights and themes are the writer's (`publish.svg`): here a
stroke only has a role. Text is a `Label` that the writer sets; its size is asked of a `Lettering`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, Protocol

from boardproof.algebra.expression import Expression, Line

__all__ = [
    "Box",
    "Drawn",
    "Frame",
    "Label",
    "Lettering",
    "Mark",
    "Outline",
    "Readout",
    "Shape",
    "State",
    "Text",
]

State = Literal["hidden", "dimmed", "normal", "focus", "replaced"]
Role = Literal[
    "wire", "outline", "case", "measure", "axis", "curve", "plate", "thick plate", "wash", "rule", "solid"
]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle: left, top, right, bottom, in u; y grows downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def grown(self, by: float) -> Box:
        """The box with a margin all round."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: Box) -> bool:
        """Whether the two share inner points."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def touches(self, other: Box) -> bool:
        """Whether the two share any point: a line, which is a box without inside, counts too."""
        return (
            self.left <= other.right
            and other.left <= self.right
            and self.top <= other.bottom
            and other.top <= self.bottom
        )


@dataclass(frozen=True, slots=True)
class Readout:
    """All that a drawing knows of a value: what of (name in the maths), exact, unit, and as shown."""

    of: str
    exact: str
    unit: str
    shown: str


@dataclass(frozen=True, slots=True)
class Label:
    """Something to be set in type: maths, or words.

    Parameters
    ----------
    content : Expression, Line or str
        Maths as a tree, or words.
    size : float
        Letter size in u.
    style : {"roman", "italic", "semibold"}
        For words.
    display : bool
        Stacked fractions (maths on the board), or slashes (labels).
    """

    content: Expression | Line | str
    size: float
    style: Literal["roman", "italic", "semibold"] = "roman"
    display: bool = False


class Lettering(Protocol):
    """Whoever can say how large a label will be."""

    def extent(self, label: Label) -> tuple[float, float, float]:
        """Width, height above the baseline and depth below it, in u."""
        ...


@dataclass(frozen=True, slots=True)
class Outline:
    """A path: SVG path data in u with absolute M, L, C, A and Z only; filled or not, by role.

    `fill` is "none", "ink", "paper", "shade" or "lamp" (the writer changes them with the state).
    """

    path: str
    role: Role
    fill: Literal["none", "ink", "paper", "shade", "lamp"] = "none"
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Text:
    """A label with its baseline point; `anchor` says what of it stands at `x`."""

    label: Label
    x: float
    y: float
    anchor: Literal["start", "middle", "end"] = "middle"


Mark = Outline | Text


@dataclass(frozen=True, slots=True)
class Drawn:
    """One thing in a picture.

    Parameters
    ----------
    id : str
        ``part:PATH``, ``net:`` + sorted part ends, ``same:GROUP`` (an equivalent), ``arrow:NAME``, ``line:KEY``,
        ``words:N``, ``caution``, ...
    kind : str
        "cell", "resistor", "wire", "junction", "terminal", "current", "pd", "line", "words", "caution", ...
    state : State
        How it stands out.
    box : Box
        Everything of it, text included.
    marks : tuple of Mark
        Back to front.
    alternative : str
        What a reader of the picture is told of it; from the model, never from the answer of a pause.
    readout : Readout or None
        The value it shows.
    replaces : tuple of str
        Ids that close up into this one.
    """

    id: str
    kind: str
    state: State
    box: Box
    marks: tuple[Mark, ...]
    alternative: str = ""
    readout: Readout | None = None
    replaces: tuple[str, ...] = ()


Shape = Literal["wide", "near", "figure", "figure near"]


@dataclass(frozen=True, slots=True)
class Frame:
    """A whole picture.

    Parameters
    ----------
    moment : str
        Key of its moment, or a name for a figure that stands alone.
    shape : Shape
        The board's shape; a "figure" is the circuit alone, cut to its size.
    width, height : float
        In u.
    drawn : tuple of Drawn
        Back to front.
    title, alternative : str
        For whoever can't see it.
    """

    moment: str
    shape: Shape
    width: float
    height: float
    drawn: tuple[Drawn, ...]
    title: str = ""
    alternative: str = ""
    caption: tuple[str, ...] = field(default=())
