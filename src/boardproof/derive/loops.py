"""The loops of a network: one for each part that closes one."""

from __future__ import annotations

from collections.abc import Mapping

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Leaf
from boardproof.derive.task import Task, Unfit
from boardproof.derive.typed import letter
from boardproof.prove.wiring import Entry
from boardproof.record import record

__all__ = ["Edge", "edges_of", "loops"]

ZERO = RationalFunction.constant(0)


@record
class Edge:
    """A part between two nodes.

    Parameters
    ----------
    entry : Entry
        Its ends and current.
    emf, resistance : RationalFunction
        In letters.
    """

    entry: Entry
    emf: RationalFunction
    resistance: RationalFunction


def edges_of(task: Task) -> list[Edge]:
    """The parts through which a current can pass.

    Parameters
    ----------
    task : Task
        Of a closed circuit.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E, r; R = resistor; main = A across R", "I")
    >>> len(edges_of(asked))
    2
    """
    if task.names.wired.stretches:
        raise Unfit("it holds a row of like cells; take that as one cell first")
    found = []
    for entry in task.names.wired.entries.values():
        if isinstance(entry.item, Leaf) and entry.current[0] >= 0 and entry.first != entry.last:
            part = entry.item.part
            emf = letter(part.emf.letter) if part.emf and not entry.emf_out else ZERO
            found.append(Edge(entry, emf, letter(part.resistance.letter) if part.resistance else ZERO))
    return found


def _back(start: int, end: int, above: Mapping[int, tuple[int, Edge, int] | None]) -> list[tuple[Edge, int]]:
    """The way through the tree from one node to another."""

    def up(node: int) -> list[tuple[int, Edge, int]]:
        found = []
        while (step := above[node]) is not None:
            found.append((node, step[1], step[2]))
            node = step[0]
        return found

    down, rise = up(end), up(start)
    while down and rise and down[-1] == rise[-1]:
        down.pop()
        rise.pop()
    return [(edge, -sign) for _, edge, sign in rise] + [(edge, sign) for _, edge, sign in reversed(down)]


def loops(edges: list[Edge]) -> list[list[tuple[Edge, int]]]:
    """One loop for each part that closes one, the tree of the others walked back.

    Parameters
    ----------
    edges : list of Edge
        All parts.

    Returns
    -------
    list of list of (Edge, int)
        Parts in the order walked, each with +1 if it is walked from its first end to its last.

    Examples
    --------
    Two cells side by side across one load make two loops:

    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell; B = cell; R = resistor; g = A || B; main = g across R", "I")
    >>> [len(loop) for loop in loops(edges_of(asked))]
    [2, 2]
    """
    above: dict[int, tuple[int, Edge, int] | None] = {}
    chords = []
    order = sorted(edges, key=lambda edge: bool(edge.resistance))
    left = list(order)
    while left:
        found = next((e for e in left if (e.entry.first in above) != (e.entry.last in above)), None)
        inside = [e for e in left if e.entry.first in above and e.entry.last in above]
        if inside:
            chords += inside
            left = [edge for edge in left if edge not in inside]
        elif found is not None:
            first, last = found.entry.first, found.entry.last
            here, there, sign = (first, last, 1) if first in above else (last, first, -1)
            above[there] = (here, found, sign)
            left.remove(found)
        else:
            above[left[0].entry.first] = None
    return [[(chord, 1), *_back(chord.entry.last, chord.entry.first, above)] for chord in chords]
