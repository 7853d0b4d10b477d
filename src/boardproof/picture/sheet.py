"""A circuit's picture while it is being made: what is seen, where, in which state, and what stands in the way."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from boardproof.circuit.model import Circuit
from boardproof.picture.board import BoardState
from boardproof.picture.drawing import Box, Drawn, Label, Lettering, Mark, Outline, Readout, State, Text
from boardproof.picture.labels import Crowd, Naming, box_of, strokes_of
from boardproof.picture.layout import GroupPlace, Layout, Note, Segment, SpotPlace
from boardproof.picture.measure import Grade
from boardproof.picture.plan import Plan
from boardproof.picture.stage import Staged

__all__ = ["Sheet", "bounds", "moved", "sheet_for"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The picture so far.

    Parameters
    ----------
    state : BoardState
        What is on the board and how it is shown.
    circuit : Circuit
        At hand.
    layout : Layout
        On the board, no longer from the figure's corner.
    plan : Plan
        What stands where, still without measures.
    places : tuple of SpotPlace
        Parts that are seen.
    inside : mapping of str to frozenset of str
        Paths of the parts in each group.
    crowd : Crowd
        Strokes and labels so far.
    left_out : list of Label
        For the key below the figure.
    """

    state: BoardState
    circuit: Circuit
    layout: Layout
    plan: Plan
    places: tuple[SpotPlace, ...]
    inside: Mapping[str, frozenset[str]]
    naming: Naming
    lettering: Lettering
    size: float
    small: float
    crowd: Crowd
    left_out: list[Label] = field(default_factory=list)

    @property
    def grade(self) -> Grade:
        """How crowded the picture is."""
        return self.layout.grade

    def parts_of(self, path: str) -> frozenset[str]:
        """Paths of the parts that a path means: its own, or those of a group."""
        return self.inside.get(path, frozenset((path,)))

    def state_of(self, path: str) -> State:
        """How a part or a group stands out."""
        parts = self.parts_of(path)
        if any(parts <= self.parts_of(each) for each in self.state.focused):
            return "focus"
        if any(parts <= self.parts_of(each) for each in self.state.dimmed):
            return "dimmed"
        return "normal"

    def place(self, path: str) -> SpotPlace | None:
        """Where a part is seen."""
        return next((place for place in self.places if place.spot.path == path), None)

    def group(self, path: str) -> GroupPlace | None:
        """Where a group stands."""
        return self.layout.groups.get(path)

    def thing(
        self,
        name: str,
        kind: str,
        marks: Sequence[Mark],
        state: State = "normal",
        alternative: str = "",
        readout: Readout | None = None,
        replaces: tuple[str, ...] = (),
    ) -> Drawn:
        """A thing with the box of its marks."""
        return Drawn(
            name, kind, state, bounds(marks, self.lettering), tuple(marks), alternative, readout, replaces
        )

    def strike(self, marks: Iterable[Mark]) -> None:
        """Remember strokes that labels keep away from."""
        for mark in marks:
            if isinstance(mark, Outline):
                self.crowd.strokes.extend(strokes_of(mark))
            else:
                self.crowd.labels.append(box_of(mark, self.lettering))


def bounds(marks: Iterable[Mark], lettering: Lettering) -> Box:
    """The box that holds marks, text included.

    Parameters
    ----------
    marks : iterable of Mark
        Any, in u.
    lettering : Lettering
        Measures labels.

    Examples
    --------
    >>> bounds([Outline("M0 0L4 2", "wire")], None)
    Box(left=0.0, top=0.0, right=4.0, bottom=2.0)
    """
    boxes: list[Box] = []
    for mark in marks:
        boxes += (
            [box_of(mark, lettering)] if isinstance(mark, Text) else strokes_of(replace(mark, role="wire"))
        )
    if not boxes:
        return Box(0.0, 0.0, 0.0, 0.0)
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )


def sheet_for(
    state: BoardState,
    circuit: Circuit,
    made: Staged,
    lettering: Lettering,
    *,
    size: float,
    small: float,
    area: Box,
) -> Sheet:
    """An empty sheet with the circuit's places in the middle of its area.

    Parameters
    ----------
    state : BoardState
        What is on the board and how it is shown.
    circuit : Circuit
        At hand.
    made : Staged
        The circuit's plan and places.
    lettering : Lettering
        Measures labels.
    size, small : float
        Of labels and of state words, in u.
    area : Box
        Where it may stand, in u.
    """
    wide, high = made.layout.width, made.layout.height
    x = area.left + max(0.0, (area.right - area.left - wide) / 2)
    y = area.top + max(0.0, min((area.bottom - area.top - high) / 2, 4.0))
    layout = _shifted(made.layout, x, y)
    inside = made.inside
    gone: set[str] = set()
    for path in (*state.hidden, *(path for path, _ in state.replaced)):
        gone |= inside.get(path, {path})
    spent: set[str] = set()
    for path, how in state.imagined:
        if how != "short":
            spent |= inside.get(path, {path})
    places = tuple(
        _without_emf(place) if place.spot.path in spent else place
        for place in layout.spots
        if place.spot.path in made.shown and place.spot.path not in gone
    )
    naming = Naming(
        circuit.values, {each.of: each for each in state.readouts}, dict(state.labels), state.default_label
    )
    return Sheet(
        state, circuit, layout, made.plan, places, inside, naming, lettering, size, small, Crowd(area)
    )


def _without_emf(place: SpotPlace) -> SpotPlace:
    spot = place.spot
    if spot.part.kind not in {"cell", "source"} or "without emf" in spot.changes:
        return place
    return replace(place, spot=replace(spot, changes=(*spot.changes, "without emf")))


def _shifted(layout: Layout, x: float, y: float) -> Layout:
    """A layout moved on the board.

    Parameters
    ----------
    layout : Layout
        Places in u, from its own corner.
    x, y : float
        In u.
    """

    def spot(place: SpotPlace) -> SpotPlace:
        along = y if place.is_upright else x
        return replace(place, x=place.x + x, y=place.y + y, start=place.start + along, end=place.end + along)

    def segment(s: Segment) -> Segment:
        return Segment(s.node, s.x1 + x, s.y1 + y, s.x2 + x, s.y2 + y, s.is_dotted)

    def group(g: GroupPlace) -> GroupPlace:
        return replace(g, left=g.left + x, right=g.right + x, y=g.y + y, top=g.top + y, bottom=g.bottom + y)

    return replace(
        layout,
        spots=tuple(spot(each) for each in layout.spots),
        segments=tuple(segment(each) for each in layout.segments),
        groups={path: group(each) for path, each in layout.groups.items()},
        terminals=tuple((a + x, b + y, node) for a, b, node in layout.terminals),
        points=tuple((name, a + x, b + y, node) for name, a, b, node in layout.points),
        notes=tuple(Note(n.words, n.x1 + x, n.y1 + y, n.x2 + x, n.y2 + y) for n in layout.notes),
        numbers=tuple((text, a + x, b + y) for text, a, b in layout.numbers),
        loose=tuple((path, a + x, b + x, c + y) for path, a, b, c in layout.loose),
    )


def moved(drawn: Drawn, x: float, y: float) -> Drawn:
    """A thing moved on the board.

    Parameters
    ----------
    drawn : Drawn
        As it stands.
    x, y : float
        In u.

    Examples
    --------
    >>> wire = Drawn("net:a", "wire", "normal", Box(0, 0, 4, 0), (Outline("M0 0L4 0", "wire"),))
    >>> moved(wire, 1, 2).marks[0].path
    'M1.000 2.000L5.000 2.000'
    """
    box = drawn.box
    marks: list[Mark] = []
    for mark in drawn.marks:
        if isinstance(mark, Text):
            marks.append(replace(mark, x=mark.x + x, y=mark.y + y))
        else:
            marks.append(replace(mark, path=_moved_path(mark.path, x, y)))
    return replace(
        drawn,
        box=Box(box.left + x, box.top + y, box.right + x, box.bottom + y),
        marks=tuple(marks),
    )


def _moved_path(path: str, x: float, y: float) -> str:
    """Path data moved: the last two numbers of each command are a point."""

    def shifted_piece(found: re.Match[str]) -> str:
        command, rest = found[1], found[2].split()
        if command == "Z":
            return "Z"
        point = [f"{float(rest[-2]) + x:.3f}", f"{float(rest[-1]) + y:.3f}"]
        return command + " ".join([*rest[:-2], *point])

    return re.sub(r"([MLCAZ])([^MLCAZ]*)", shifted_piece, path)
