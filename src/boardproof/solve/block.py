"""Currents and p.d.s of one block of a circuit: series and parallel parts folded together, the rest by equations.

A block is a piece that no single junction parts; none of its lines has `a` or `b` nought. What is asked for is
unfolded then, and only that.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from heapq import heapify, heappop, heappush
from typing import Final

from boardproof.algebra.linear import Singular, solve_exact
from boardproof.solve.arithmetic import Arithmetic, Number, total
from boardproof.solve.batch import eliminated
from boardproof.solve.line import Line
from boardproof.solve.sparse import many_potentials
from boardproof.solve.structure import fundamental_loops

__all__ = ["Block", "Unfixed"]

Edge = tuple[int, int]
MANY_NODES: Final = 100
HUGE_BITS: Final = 256


class Unfixed(Exception):  # a state of the calculation; the network says it in a finding
    """Negative resistances cancel positive ones, so that nothing fixes the currents."""


class Block:
    """One block: its edges with their lines; answers by edge, worked out when asked.

    Parameters
    ----------
    edges : sequence of (int, int)
        First and last node of each edge.
    lines : sequence of Line
        One an edge.
    numbers : Arithmetic
        How to calculate.
    """

    def __init__(self, edges: Sequence[Edge], lines: Sequence[Line], numbers: Arithmetic) -> None:
        """Fold at once where formulas may come out; else leave it to the equations."""
        self.numbers = numbers
        self.edges, self.lines = list(edges), list(lines)
        self.inside: dict[
            int, tuple[str, int, int, int]
        ] = {}  # child -> how folded, into what, its sign, sibling
        self.rises: dict[int, Number] = {}
        self.flows: dict[int, Number] = {}
        self.pairs: dict[Edge, int] = {}
        self.near: dict[int, set[int]] = {}
        self.solved = False
        for place in range(len(edges)):
            self._join(place)
        self.is_exact = all(isinstance(each, Fraction) for line in lines for each in (line.a, line.b, line.c))
        if not self.is_exact:
            self._fold()

    def rise(self, place: int) -> Number:
        """Potential of the edge's last node less that of its first."""
        self._solve()
        if place not in self.rises:
            if place in self.inside and self.inside[place][0] == "parallel":
                _, whole, sign, _ = self.inside[place]
                self.rises[place] = _signed(self.rise(whole), sign)
            else:
                line = self.lines[place]
                self.rises[place] = (line.c - line.b * self.flow(place)) / line.a
        return self.rises[place]

    def flow(self, place: int) -> Number:
        """Current through the edge from its first to its last node."""
        self._solve()
        if place not in self.flows:
            if place in self.inside and self.inside[place][0] == "series":
                _, whole, sign, _ = self.inside[place]
                self.flows[place] = _signed(self.flow(whole), sign)
            else:
                self.flows[place] = self._flow_along(self.lines[place], self.rise(place))
        return self.flows[place]

    def _flow_along(self, line: Line, rise: Number) -> Number:
        """The current that a line gives with a p.d."""
        if self.numbers.way != "batch":
            return (line.c - line.a * rise) / line.b
        current = rise * (line.a / line.b)  # the conductance is at hand; a division is dear
        return -current if self.numbers.is_zero(line.c) else line.c / line.b - current

    def _join(self, place: int) -> None:
        """Put an edge between its nodes, together with one that is there already."""
        tail, head = self.edges[place]
        pair = (min(tail, head), max(tail, head))
        other = self.pairs.pop(pair, None)
        if other is None:
            self.pairs[pair] = place
            self.near.setdefault(tail, set()).add(head)
            self.near.setdefault(head, set()).add(tail)
            return
        sign = 1 if self.edges[other] == self.edges[place] else -1
        line = self.lines[place] if sign == 1 else self.lines[place].turned()
        whole = self._add(self.edges[other], self.lines[other].parallel(line))
        self.inside[other] = ("parallel", whole, 1, place)
        self.inside[place] = ("parallel", whole, sign, other)
        self.pairs[pair] = whole

    def _add(self, edge: Edge, line: Line) -> int:
        self.edges.append(edge)
        self.lines.append(line)
        return len(self.lines) - 1

    def _fold(self) -> None:
        """Fold nodes with two neighbours until there are none, or only one edge is left; busy junctions last.

        So the last edge runs between the junctions that most parts share, and formulas stay as short as they can.
        """
        busy = Counter(node for edge in self.edges for node in edge)
        waiting = [(busy[node], node) for node, others in self.near.items() if len(others) == 2]
        heapify(waiting)
        while waiting and len(self.pairs) > 1:
            _, node = heappop(waiting)
            if len(self.near.get(node, ())) != 2:
                continue
            first, last = sorted(self.near.pop(node))
            before = self.pairs.pop((min(first, node), max(first, node)))
            after = self.pairs.pop((min(last, node), max(last, node)))
            signs = [1 if self.edges[before][1] == node else -1, 1 if self.edges[after][0] == node else -1]
            lines = [
                self.lines[place] if sign == 1 else self.lines[place].turned()
                for place, sign in zip((before, after), signs, strict=True)
            ]
            whole = self._add((first, last), lines[0].series(lines[1]))
            self.inside[before] = ("series", whole, signs[0], after)
            self.inside[after] = ("series", whole, signs[1], before)
            self.near[first].discard(node)
            self.near[last].discard(node)
            self._join(whole)
            for each in (first, last):
                if len(self.near[each]) == 2:
                    heappush(waiting, (busy[each], each))

    def _solve(self) -> None:
        """Answers of the edges that are not folded into another."""
        if self.solved:
            return
        core = list(self.pairs.values())
        if len(core) == 1:
            (last,) = core
            self.flows[last] = self.numbers.plain(Fraction(0))
            self.rises[last] = self.lines[last].emf
            self.solved = True
            return
        nodes = {node: place for place, node in enumerate(self.near)}
        edges = [(nodes[self.edges[place][0]], nodes[self.edges[place][1]]) for place in core]
        lines = [self.lines[place] for place in core]
        if self.numbers.way == "batch":
            found = (
                many_potentials if len(nodes) > MANY_NODES and not self.numbers.is_straight else eliminated
            )
            potentials = found(len(nodes), edges, lines)
        elif not self.is_exact and len(core) - len(nodes) + 1 <= len(nodes) - 1:
            flows = self._by_loops(len(nodes), edges, lines)
            self.solved = True
            self.flows |= zip(core, flows, strict=True)
            return
        else:
            potentials = self._by_nodes(len(nodes), edges, lines)
        self.solved = True
        for place, (tail, head) in zip(core, edges, strict=True):
            self.rises[place] = potentials[head] - potentials[tail]

    def _by_nodes(self, count: int, edges: Sequence[Edge], lines: Sequence[Line]) -> list[Number]:
        """Potentials over the first node, from the junction rule at all others."""
        nought = Fraction(0)
        conductances, currents = _whole(lines) if self.is_exact else _each(lines, self.numbers)
        matrix: list[list[Number]] = [[0] * count for _ in range(count)]
        right: list[Number] = [0] * count
        for (tail, head), conductance, current in zip(edges, conductances, currents, strict=True):
            matrix[tail][tail] += conductance
            matrix[head][head] += conductance
            matrix[tail][head] = matrix[head][tail] = -conductance
            right[head] += current
            right[tail] -= current
        rows, sides = [row[1:] for row in matrix[1:]], right[1:]
        found = solve_exact(rows, sides) if self.is_exact else self.numbers.solve(rows, sides)
        if isinstance(found, Singular):
            raise Unfixed
        return [nought, *found]

    def _by_loops(self, count: int, edges: Sequence[Edge], lines: Sequence[Line]) -> list[Number]:
        """Currents, from the loop rule round each loop of a basis."""
        loops = fundamental_loops(count, edges)
        signs = [dict(loop) for loop in loops]
        resistance = [line.resistance for line in lines]
        matrix = [
            [
                total([_signed(resistance[edge], one[edge] * other[edge]) for edge in one if edge in other])
                for other in signs
            ]
            for one in signs
        ]
        right = [total([_signed(lines[edge].emf, sign) for edge, sign in loop]) for loop in loops]
        found = self.numbers.solve(matrix, right)
        if isinstance(found, Singular):
            raise Unfixed
        return [
            total(
                [
                    _signed(current, loop[edge])
                    for loop, current in zip(signs, found, strict=True)
                    if edge in loop
                ]
            )
            for edge in range(len(edges))
        ]


def _signed(value: Number, sign: int) -> Number:
    return value if sign == 1 else -value


def _each(lines: Sequence[Line], numbers: Arithmetic) -> tuple[list[Number], list[Number]]:
    """Conductances, and what each EMF drives through a wire."""
    currents = [Fraction(0) if numbers.is_zero(line.c) else line.c / line.b for line in lines]
    return [line.a / line.b for line in lines], currents


def _whole(lines: Sequence[Line]) -> tuple[list[Number], list[Number]]:
    """The same times one number that makes them whole, which leaves the potentials as they are; unless it is huge.

    Python's whole numbers are several times quicker than its fractions.
    """
    over = [(line.a.numerator * line.b.denominator, line.a.denominator * line.b.numerator) for line in lines]
    emfs = [(line.c.numerator * line.b.denominator, line.c.denominator * line.b.numerator) for line in lines]
    scale = math.lcm(*(under for _, under in over), *(under for _, under in emfs))
    if scale.bit_length() > HUGE_BITS:
        return [Fraction(*each) for each in over], [Fraction(*each) for each in emfs]
    return [top * (scale // under) for top, under in over], [top * (scale // under) for top, under in emfs]
