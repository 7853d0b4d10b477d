"""Places that hold for a whole scene: every circuit of it gets its parts at the same spots.

Circuits that differ only in changes, kinds or values share their places, and a circuit that is a part of another one
stands where it stands there. A circuit of another build gets places of its own; its parts keep their paths.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from boardproof.circuit.model import Circuit, Item
from boardproof.picture.drawing import Label, Lettering, Readout
from boardproof.picture.labels import Naming
from boardproof.picture.layout import Layout, lay_out
from boardproof.picture.measure import GRADES, Grade, Room, room_of, widest
from boardproof.picture.plan import Plan, odd_members, plan_of, spots_in, substituted

__all__ = ["Staged", "staged"]


@dataclass(frozen=True, slots=True)
class Staged:
    """A circuit's plan and places; `shown` are the paths of its own parts, without those of its host."""

    plan: Plan
    layout: Layout
    shown: frozenset[str]
    has_letters: bool


@dataclass(frozen=True, slots=True)
class _Question:
    """All that decides places."""

    plan: Plan
    fellows: tuple[tuple[Plan, tuple[tuple[str, Fraction], ...]], ...]
    modes: tuple[tuple[str, str], ...]
    default: str
    size: float
    area: tuple[float, float]


def staged(
    circuit: Circuit,
    stage: tuple[Circuit, ...],
    lettering: Lettering,
    *,
    modes: tuple[tuple[str, str], ...] = (),
    default: str = "letters",
    size: float,
    area: tuple[float, float],
) -> Staged:
    """Places of a circuit's parts, the same for all circuits of the scene that they serve.

    Parameters
    ----------
    circuit : Circuit
        At hand.
    stage : tuple of Circuit
        All circuits of the scene.
    lettering : Lettering
        Measures labels.
    modes : tuple of (path, how it is labelled)
    default : str
        How the rest is labelled.
    size : float
        Letter size, in u.
    area : (float, float)
        Width and height at hand, in u.

    Returns
    -------
    Staged
    """
    host = circuit.item
    for other in stage:
        larger = substituted(other.item, circuit.item)
        if larger is not None and _count(larger) > _count(host):
            host = larger
    fellows = _fellows(host, (circuit, *stage))
    odd: dict[str, frozenset[int]] = {}
    for item, _ in fellows:
        for path, numbers in odd_members(item).items():
            odd[path] = odd.get(path, frozenset()) | numbers
    plan = plan_of(host, odd)
    question = _Question(
        plan,
        tuple(dict.fromkeys((plan_of(item, odd), tuple(sorted(values.items()))) for item, values in fellows)),
        modes,
        default,
        size,
        area,
    )
    layout = _laid(question, lettering)  # type: ignore[arg-type]  # every object that isn't a value is hashable
    shown = frozenset(spot.path for spot in spots_in(plan_of(circuit.item, odd)))
    return Staged(plan, layout, shown, layout.grade.labels != "none")


def _count(item: Item) -> int:
    return sum(1 for _ in spots_in(plan_of(item)))


def _fellows(host: Item, circuits: tuple[Circuit, ...]) -> list[tuple[Item, Mapping[str, Fraction]]]:
    """The scene's circuits put into the host, those that fit."""
    found = []
    for each in circuits:
        item = substituted(host, each.item)
        if item is not None:
            found.append((item, each.values))
    return found


@lru_cache(maxsize=64)
def _laid(question: _Question, lettering: Lettering) -> Layout:
    """The roomiest grade that fits; the last one fits whatever there is, drawn smaller."""
    for grade in GRADES:
        rooms, widths = _rooms(question, lettering, grade)
        layout = lay_out(question.plan, grade, rooms, widths, size=question.size, area=question.area)
        if layout is not None:
            return layout
    grade = GRADES[-1]
    rooms, widths = _rooms(question, lettering, grade)
    layout = lay_out(question.plan, grade, rooms, widths, size=question.size, area=(1e6, 1e6))
    assert layout is not None
    return layout


def _rooms(
    question: _Question, lettering: Lettering, grade: Grade
) -> tuple[dict[str, Room], dict[str, float]]:
    """Room of each part in whichever circuit of the scene, however it is labelled, takes most."""
    rooms: dict[str, Room] = {}
    widths: dict[str, float] = {}
    modes = dict(question.modes)
    readouts: dict[str, Readout] = {}
    for plan, values in question.fellows:
        naming = Naming(dict(values), readouts, modes, question.default)
        for spot in spots_in(plan):
            asked = {modes.get(spot.path, question.default), question.default, "both"}
            for mode in sorted(asked):
                contents = naming.labels(
                    spot.path, spot.part, mode, short=grade.labels in {"short", "beside"}
                )
                told = tuple(lettering.extent(Label(each, question.size))[0] for each in contents)
                room = room_of(spot, grade, told, question.size)
                before = rooms.get(spot.path)
                rooms[spot.path] = room if before is None else widest((before, room))
                widths[spot.path] = max(widths.get(spot.path, 0.0), *told, 0.0)
    return rooms, widths
