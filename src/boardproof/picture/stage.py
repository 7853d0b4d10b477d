"""Places that hold for a whole scene: every circuit of it gets its parts at the same spots.

Circuits that differ only in changes, kinds or values share their places, and a circuit that is a part of another one
stands where it stands there. A circuit of another build gets places of its own; its parts keep their paths.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType

from boardproof.circuit.model import Circuit, Item
from boardproof.picture.drawing import Label, Lettering, Readout
from boardproof.picture.labels import Naming
from boardproof.picture.layout import Layout, lay_out
from boardproof.picture.measure import GRADES, Grade, Room, is_cased, room_of, widest
from boardproof.picture.plan import Plan, groups_in, spots_in
from boardproof.picture.unfold import counted, odd_members, plan_of, substituted

__all__ = ["Staged", "staged"]

Values = tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True, slots=True)
class Staged:
    """A circuit's plan and places; `shown` are the paths of its own parts, without those of its host.

    `inside` has the paths of the parts in each group.
    """

    plan: Plan
    layout: Layout
    shown: frozenset[str]
    inside: Mapping[str, frozenset[str]]


@dataclass(frozen=True, slots=True)
class _Scene:
    """All that decides places: the circuit at hand first, then the others."""

    circuits: tuple[tuple[Item, Values], ...]
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
        For parts that differ from `default`.
    default : str
        How the rest is labelled.
    size : float
        Letter size, in u.
    area : (float, float)
        Width and height at hand, in u.
    """
    scene = tuple(
        (counted(each.item, each.values), tuple(sorted(each.values.items()))) for each in (circuit, *stage)
    )
    return _staged(_Scene(scene, modes, default, size, area), lettering)  # type: ignore[arg-type]  # by identity


@lru_cache(maxsize=64)
def _staged(scene: _Scene, lettering: Lettering) -> Staged:
    circuit = scene.circuits[0][0]
    host = circuit
    for other, _ in scene.circuits:
        larger = substituted(other, circuit)
        if larger is not None and _count(larger) > _count(host):
            host = larger
    fellows = _fellows(host, scene.circuits)
    odd: dict[str, frozenset[int]] = {}
    for item, _ in fellows:
        for path, numbers in odd_members(item).items():
            odd[path] = odd.get(path, frozenset()) | numbers
    plan = plan_of(host, odd)
    layout = _laid(plan, [(plan_of(item, odd), values) for item, values in fellows], scene, lettering)
    shown = frozenset(spot.path for spot in spots_in(plan_of(circuit, odd)))
    return Staged(plan, layout, shown, MappingProxyType(groups_in(plan)))


def _count(item: Item) -> int:
    return sum(1 for _ in spots_in(plan_of(item)))


def _fellows(host: Item, circuits: tuple[tuple[Item, Values], ...]) -> list[tuple[Item, Values]]:
    """The scene's circuits put into the host, those that fit."""
    found = []
    for each, values in dict.fromkeys(circuits):
        item = substituted(host, each)
        if item is not None:
            found.append((item, values))
    return found


def _laid(plan: Plan, fellows: list[tuple[Plan, Values]], scene: _Scene, lettering: Lettering) -> Layout:
    """The roomiest grade that fits; the last one fits whatever there is, drawn smaller."""
    for grade in GRADES:
        rooms, widths = _rooms(plan, fellows, scene, lettering, grade)
        layout = lay_out(plan, grade, rooms, widths, size=scene.size, area=scene.area)
        if layout is None:
            continue
        for stretch in (1.7, 1.4, 1.2):
            airy = replace(grade, gap=stretch * grade.gap)
            wider = lay_out(plan, airy, rooms, widths, size=scene.size, area=scene.area)
            if wider is not None:
                return wider
        return layout
    grade = GRADES[-1]
    rooms, widths = _rooms(plan, fellows, scene, lettering, grade)
    layout = lay_out(plan, grade, rooms, widths, size=scene.size, area=(1e6, 1e6))
    assert layout is not None
    return layout


def _rooms(
    host: Plan, fellows: list[tuple[Plan, Values]], scene: _Scene, lettering: Lettering, grade: Grade
) -> tuple[dict[str, Room], dict[str, float]]:
    """Room of each part in whichever circuit of the scene, however it is labelled, takes most."""
    rooms: dict[str, Room] = {}
    widths: dict[str, float] = {}
    modes = dict(scene.modes)
    readouts: dict[str, Readout] = {}
    for plan, values in fellows:
        naming = Naming(dict(values), readouts, modes, scene.default)
        for spot in spots_in(plan):
            asked = {modes.get(spot.path, scene.default), scene.default, "both"}
            for mode in sorted(asked):
                contents = naming.labels(spot.path, spot.part, mode, short=grade.labels == "short")
                told = tuple(lettering.extent(Label(each, scene.size))[0] for each in contents)
                room = room_of(spot, grade, told, scene.size)
                before = rooms.get(spot.path)
                rooms[spot.path] = room if before is None else widest((before, room))
                widths[spot.path] = max(widths.get(spot.path, 0.0), *told, 0.0)
    return _in_line(host, rooms, grade), widths


def _in_line(plan: Plan, rooms: dict[str, Room], grade: Grade) -> dict[str, Room]:
    """Like places in like rows of a pack made equally wide, so that they stand below each other."""
    cased = [spot.path for spot in spots_in(plan) if is_cased(spot, grade)]
    if cased:
        # Cases are all of one width, so that like rows stand below each other.
        width = max(rooms[path].width for path in cased)
        body = max(rooms[path].body for path in cased)
        rooms = rooms | {path: replace(rooms[path], width=width, body=body) for path in cased}
    alike: dict[str, float] = {}
    packed = {
        spot.path: re.sub(r"\.\d+|\.[a-z]\b", ".*", spot.path) for spot in spots_in(plan) if spot.is_packed
    }
    for path, key in packed.items():
        alike[key] = max(alike.get(key, 0.0), rooms[path].width)
    return {
        path: replace(room, width=alike[packed[path]]) if path in packed else room
        for path, room in rooms.items()
    }
