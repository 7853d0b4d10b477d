"""Currents and p.d.s of a whole circuit laid flat, whatever its shape.

Branches without resistance are drawn together first; what is left falls into blocks that share junctions but no
current, and each block is solved by itself when something in it is asked. So a contradiction spoils only what it
touches. Node numbers are those of the `FlatNetwork`.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cached_property

from boardproof.circuit.network import Branch, FlatNetwork
from boardproof.findings import Finding
from boardproof.solve.arithmetic import Arithmetic, Number, total
from boardproof.solve.block import Block, Unfixed
from boardproof.solve.ill_posed import because, listed, place_of
from boardproof.solve.line import Line, line_of
from boardproof.solve.structure import Forest, blocks, spanning_forest

__all__ = ["Solved"]

Answer = Number | Finding


class Solved:
    """What flows in a circuit; each answer is worked out when it is first asked for.

    Parameters
    ----------
    flat : FlatNetwork
        The circuit.
    numbers : Arithmetic
        How to calculate.
    lines : sequence of Line or None
        One a branch; None takes those of the parts.

    Examples
    --------
    >>> from fractions import Fraction
    >>> loop = (Branch(None, "A", 0, 1), Branch(None, "R", 1, 0))
    >>> lines = (Line(1, Fraction(1), Fraction(6)), Line(1, Fraction(2), Fraction(0)))
    >>> Solved(FlatNetwork(2, loop, {}, {}, None), Arithmetic("exact"), lines).flow(1)
    Fraction(2, 1)
    """

    def __init__(self, flat: FlatNetwork, numbers: Arithmetic, lines: Sequence[Line] | None = None) -> None:
        """Sort the branches into wires, breaks and ordinary ones."""
        self.flat, self.numbers = flat, numbers
        self.edges = [(branch.tail, branch.head) for branch in flat.branches]
        self.lines = [line_of(branch, numbers) for branch in flat.branches] if lines is None else list(lines)
        nought = numbers.is_zero
        self.breaks = {place for place, line in enumerate(self.lines) if nought(line.a)}
        self.wires = [
            place for place, line in enumerate(self.lines) if place not in self.breaks and nought(line.b)
        ]
        wired = set(self.wires)
        self.ordinary = [
            place for place in range(len(self.lines)) if place not in self.breaks and place not in wired
        ]
        self._rises: dict[int, Answer] = {}
        self._flows: dict[int, Answer] = {}

    def rise(self, place: int) -> Answer:
        """Potential at the branch's head less that at its tail, or why there is none."""
        if place not in self._rises:
            self._rises[place] = self._rise(place)
        return self._rises[place]

    def flow(self, place: int) -> Answer:
        """Current through the branch from tail to head, or why there is none."""
        if place not in self._flows:
            self._flows[place] = self._flow(place)
        return self._flows[place]

    def between(self, last: int, first: int) -> Answer:
        """Potential of node `last` less that of node `first`, or why there is none."""
        if last == first:
            return self.nought
        forest = self.trusted
        if forest.piece[last] != forest.piece[first]:
            return self._why_not(last, first)
        steps = []
        for start, sign in ((last, 1), (first, -1)):
            for place, node in forest.way_up(start):
                steps.append((place, sign if self.edges[place][1] == node else -sign))
        once = {place: sign for place, sign in steps if sum(other == place for other, _ in steps) == 1}
        rises = []
        for place, sign in once.items():
            rise = self.rise(place)
            if isinstance(rise, Finding):
                return rise
            rises.append(rise if sign == 1 else -rise)
        return total(rises) if rises else self.nought

    def inflow(self, node: int, places: Sequence[int]) -> Answer:
        """Sum of the currents that some branches bring to a node."""
        flows = []
        for place in places:
            tail, head = self.edges[place]
            if tail == head or node not in {tail, head}:
                continue
            flow = self.flow(place)
            if isinstance(flow, Finding):
                return flow
            flows.append(flow if head == node else -flow)
        return total(flows) if flows else self.nought

    @cached_property
    def faults(self) -> tuple[Finding, ...]:
        """Everything that the way the parts are joined makes impossible, each named once."""
        found: list[Finding] = []
        for _, finding in self._wire_faults.values():
            if not any(finding is each for each in found):
                found.append(finding)
        return tuple(found)

    @cached_property
    def nought(self) -> Number:
        """A nought of the right sort."""
        return self.numbers.plain(Fraction(0))

    # -- wires

    @cached_property
    def _wire_faults(self) -> dict[int, tuple[bool, Finding]]:
        """For each wire on a loop of wires: whether the loop contradicts itself, and what to say of it."""
        found: dict[int, tuple[bool, Finding]] = {}
        if not self.wires:
            return found
        for group in blocks(self.flat.nodes, [self.edges[place] for place in self.wires]):
            places = [self.wires[each] for each in group]
            if len(places) == 1 and self.edges[places[0]][0] != self.edges[places[0]][1]:
                continue
            clash = self._clashes(places)
            finding = _loop_finding([self.flat.branches[place] for place in places], clash=clash)
            found |= dict.fromkeys(places, (clash, finding))
        return found

    def _clashes(self, places: Sequence[int]) -> bool:
        """Whether the EMFs round some loop of these wires do not add up to nought."""
        forest = spanning_forest(self.flat.nodes, self.edges, places)
        heights: dict[int, Number] = {}
        self._climb(forest, heights)
        for place in places:
            tail, head = self.edges[place]
            gap = heights[tail] + self.lines[place].emf - heights[head]
            if not self.numbers.is_zero(gap):
                return True
        return False

    def _climb(self, forest: Forest, heights: dict[int, Number]) -> None:
        """Height of every node over the root of its tree of wires."""
        for node in forest.order:
            place = forest.came_by[node]
            if place < 0:
                heights[node] = self.nought
                continue
            emf = self.lines[place].emf
            if self.numbers.is_zero(emf):
                heights[node] = heights[forest.above[node]]
            else:
                up = self.edges[place][1] == node
                heights[node] = heights[forest.above[node]] + (emf if up else -emf)

    @cached_property
    def _clean(self) -> Forest:
        """Trees of the wires that contradict nothing."""
        bad = {place for place, (clash, _) in self._wire_faults.items() if clash}
        return spanning_forest(self.flat.nodes, self.edges, [each for each in self.wires if each not in bad])

    @cached_property
    def _heights(self) -> dict[int, Number]:
        heights: dict[int, Number] = {}
        self._climb(self._clean, heights)
        return heights

    @cached_property
    def _joined(self) -> list[int]:
        """For each node the number of the junction it belongs to, wires drawn together."""
        if not self.wires:
            return list(range(self.flat.nodes))
        return spanning_forest(self.flat.nodes, self.edges, self.wires).piece

    # -- blocks

    @cached_property
    def _block_of(self) -> dict[int, tuple[Block | Finding | None, int]]:
        """For each ordinary branch its block, and its place there; None if it lies on no loop."""
        joined, heights = self._joined, self._heights if self.wires else {}
        contracted = [(joined[self.edges[each][0]], joined[self.edges[each][1]]) for each in self.ordinary]
        found: dict[int, tuple[Block | Finding | None, int]] = {}
        for group in blocks(self.flat.nodes, contracted):
            places = [self.ordinary[each] for each in group]
            spoilt = self._spoilt(places)
            block: Block | Finding | None = spoilt
            if spoilt is None and (len(places) > 1 or contracted[group[0]][0] == contracted[group[0]][1]):
                if len(places) == 1:
                    block = None
                else:
                    block = Block(
                        [contracted[each] for each in group],
                        [self._from_junctions(place, heights) for place in places],
                        self.numbers,
                    )
            found |= {place: (block, index) for index, place in enumerate(places)}
        return found

    def _from_junctions(self, place: int, heights: dict[int, Number]) -> Line:
        """The branch's line, its p.d. counted between the roots of its junctions."""
        line, (tail, head) = self.lines[place], self.edges[place]
        if not self.wires or (self.numbers.is_zero(heights[head]) and self.numbers.is_zero(heights[tail])):
            return line
        return Line(line.a, line.b, line.c - line.a * (heights[head] - heights[tail]))

    def _spoilt(self, places: Sequence[int]) -> Finding | None:
        """The contradiction that reaches these branches: two of them hang on nodes it would tear apart."""
        seen: dict[int, int] = {}
        if not self._wire_faults:
            return None
        for place in places:
            for node in self.edges[place]:
                piece = self._clean.piece[node]
                if seen.setdefault(self._joined[node], piece) != piece:
                    return self._clash_at(self._joined[node])
        return None

    def _clash_at(self, junction: int) -> Finding:
        return next(
            finding
            for place, (clash, finding) in self._wire_faults.items()
            if clash and self._joined[self.edges[place][0]] == junction
        )

    # -- answers

    def _rise(self, place: int) -> Answer:
        tail, head = self.edges[place]
        if place in self.breaks:
            return self.between(head, tail)
        fault = self._wire_faults.get(place)
        if fault and fault[0]:
            return fault[1]
        if self.numbers.is_zero(self.lines[place].b):
            return self.lines[place].emf
        block, index = self._block_of[place]
        if isinstance(block, Finding):
            return block
        if self._joined[tail] == self._joined[head]:
            return self._heights[head] - self._heights[tail]
        if block is None:
            return self.lines[place].emf
        try:
            rise = block.rise(index)
        except Unfixed:
            return self._unfixed(place)
        if not self.wires:
            return rise
        step = self._heights[head] - self._heights[tail]
        return rise if self.numbers.is_zero(step) else rise + step

    def _flow(self, place: int) -> Answer:
        if place in self.breaks:
            return self.nought
        if self.numbers.is_zero(self.lines[place].b):
            return self._wire_flow(place)
        block, index = self._block_of[place]
        if isinstance(block, Finding):
            return block
        tail, head = self.edges[place]
        if self._joined[tail] == self._joined[head]:
            line = self.lines[place]
            return (line.c - line.a * (self._heights[head] - self._heights[tail])) / line.b
        if block is None:
            return self.nought
        try:
            return block.flow(index)
        except Unfixed:
            return self._unfixed(place)

    def _wire_flow(self, place: int) -> Answer:
        """What the branches on the far side of a wire bring to it."""
        if place in self._wire_faults:
            return self._wire_faults[place][1]
        forest = self._clean
        tail, head = self.edges[place]
        below = head if forest.came_by[head] == place else tail
        far = {below}
        for node in forest.order:
            if forest.above[node] in far and forest.came_by[node] != place:
                far.add(node)
        others = [wire for wire, (clash, _) in self._wire_faults.items() if clash]
        grown = True
        while grown:  # nodes that only a contradicting loop ties to the far side
            more = {end for wire in others for end in self.edges[wire] if far & set(self.edges[wire])} - far
            more |= {
                node
                for node in forest.order
                if forest.above[node] in more | far and forest.came_by[node] != place
            } - far
            grown = bool(more)
            far |= more
        flows = []
        for other in self.ordinary:
            start, end = self.edges[other]
            if (start in far) == (end in far):
                continue
            flow = self.flow(other)
            if isinstance(flow, Finding):
                return flow
            flows.append(flow if end in far else -flow)
        result = total(flows) if flows else self.nought
        return -result if below == head else result

    def _unfixed(self, place: int) -> Finding:
        branch = self.flat.branches[place]
        return because(
            "impossible-value",
            place_of([branch]),
            letter=f"a resistance near {branch.path}",
            value="a negative one",
            forced="The resistances cancel, and nothing fixes the current.",
        )

    @cached_property
    def trusted(self) -> Forest:
        """Trees of the branches whose p.d. is known."""
        allowed = [
            place
            for place in range(len(self.lines))
            if place not in self.breaks
            and not (place in self._wire_faults and self._wire_faults[place][0])
            and not (place in self._block_of and isinstance(self._block_of[place][0], Finding))
        ]
        return spanning_forest(self.flat.nodes, self.edges, allowed)

    @cached_property
    def _pieces(self) -> list[int]:
        """For each node the piece that current or wire joins it to."""
        allowed = [place for place in range(len(self.lines)) if place not in self.breaks]
        return spanning_forest(self.flat.nodes, self.edges, allowed).piece

    def _why_not(self, last: int, first: int) -> Finding:
        """Why there is no p.d. between two nodes: nothing joins them, or a contradiction does."""
        if self._pieces[last] == self._pieces[first]:
            return next(finding for clash, finding in self._wire_faults.values() if clash)
        loose, at = min((self._hanging_on(node) for node in (last, first)), key=lambda found: len(found[0]))
        named = listed(branch.path for branch in loose[:4]) if loose else f"the end of {listed(at[:4])}"
        return because(
            "floating-part",
            place_of(loose),
            what=f"Nothing joins {named} to the rest, so no p.d. to it is fixed.",
            mend="Join it at a second place, or close what is open.",
        )

    def _hanging_on(self, node: int) -> tuple[list[Branch], list[str]]:
        """What current can reach from a node, and the paths of the breaks that end there."""
        piece = self._pieces[node]
        reached, broken = [], []
        for place, branch in enumerate(self.flat.branches):
            if piece in {self._pieces[branch.tail], self._pieces[branch.head]}:
                if place in self.breaks:
                    broken.append(branch.path)
                else:
                    reached.append(branch)
        return reached, broken


def _loop_finding(branches: Sequence[Branch], *, clash: bool) -> Finding:
    """What to say of a loop without resistance."""
    named = listed(branch.path for branch in branches)
    sources = [
        branch.path
        for branch in branches
        if branch.leaf is not None
        and not branch.emf_out
        and not hasattr(branch.leaf, "index")
        and branch.leaf.part.emf is not None
    ]
    if not clash:
        return because(
            "wire-loop",
            place_of(branches),
            what=f"{named}: a loop without resistance. How the current shares in it is not fixed.",
            mend=f"Give one of them a resistance: {branches[-1].path}.",
        )
    sources = sources or [branch.path for branch in branches]
    if len(sources) == 1:
        return because(
            "shorted-source",
            place_of(branches),
            what=f"Both ends of {sources[0]} would have one potential, and it has no resistance to lose its EMF in.",
            mend=f"Give {sources[0]} a resistance, or open the way round it.",
        )
    return because(
        "clashing-sources",
        place_of(branches),
        what=f"{listed(sources)} have no resistance and fix different p.d.s between the same ends.",
        mend=f"Give {sources[0]} a resistance, or make the EMFs agree.",
    )
