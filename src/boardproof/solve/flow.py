"""Currents and p.d.s of parts, groups, columns and family members, and potentials of nodes."""

from __future__ import annotations

from boardproof.circuit.change import done_to
from boardproof.circuit.count import whole
from boardproof.circuit.model import Copies, Family
from boardproof.solve.arithmetic import Number, total
from boardproof.solve.find import Site, find
from boardproof.solve.ill_posed import NoAnswer, because
from boardproof.solve.line import general_member, line_of_part
from boardproof.solve.places import Places, sure

__all__ = ["Flow"]


class Flow(Places):
    """What flows in one circuit, asked by names.

    Signs: a cell's current leaves its own plus, a group's its plus end; the p.d. of either is plus end less minus
    end; of anything else both run in its counting direction.
    """

    def current(self, path: str) -> Number:
        """Out of a cell's own plus, out of a group's plus end, else in the counting direction."""
        site = self._site(path)
        columns = self._columns(path)
        if columns:
            return total([self.current(column) * sign for column, sign in columns])
        if site.is_part:
            (place,) = site.branches
            branch = self.flat.branches[place]
            if isinstance(branch.leaf, Family):
                return self._member(branch.leaf, site)[0]
            flow = sure(self.solved.flow(place))
            flow = -flow if branch.turned else flow
        else:
            flow = sure(self.solved.inflow(self._ends(path)[1], site.driving))
        return flow / self._share(site.in_parallel) if site.in_parallel else flow

    def pd(self, path: str, other: str | None = None) -> Number:
        """Across a part or group, or from one node to another."""
        if other is not None and path in self.flat.names and other in self.flat.names:
            return self._between(self.flat.names[path], self.flat.names[other])
        site = self._site(path)
        leaf = self.flat.branches[site.branches[0]].leaf if site.is_part else None
        if isinstance(leaf, Family):
            return self._member(leaf, site)[1]
        first, last = self._ends(path)
        rise = sure(
            self.charges.rise(site.branches[0]) if site.is_part else self.charges.between(last, first)
        )
        if site.is_part and self.flat.branches[site.branches[0]].turned:
            rise = -rise
        rise = rise if site.is_cell else -rise
        return rise / self._share(site.in_series) if site.in_series else rise

    def _columns(self, path: str) -> list[tuple[str, int]]:
        """Members of a block whose neighbours are tied to the next, as they end at nodes of their own; -1 if turned."""
        around = find(self._whole.item, path.rpartition(".")[0])
        bare = done_to(around.item)[0] if around else None
        if not (isinstance(bare, Copies) and bare.tied):
            return []
        block = done_to(self._found(path).item)[0]
        runs = block.runs if isinstance(block, Copies) else ()
        return [
            (f"{path}.{run.first + step}", -1 if "turned" in done_to(run.item)[1] else 1)
            for run in runs
            for step in range(whole(run.count, self._whole.values) or 1)
        ]

    def _member(self, family: Family, site: Site) -> tuple[Number, Number]:
        """Current and p.d. of the general member of a family, in its own letters."""
        (place,) = site.branches
        line = line_of_part(general_member(family), self.numbers)
        sign = -1 if self.flat.branches[place].turned else 1
        if family.joined == "parallel":
            rise = sure(self.solved.rise(place)) * sign
            flow = (line.c - line.a * rise) / line.b
        else:
            flow = sure(self.solved.flow(place)) * sign
            rise = (line.c - line.b * flow) / line.a
        return flow, rise if site.is_cell else -rise

    def _between(self, one: int, other: int) -> Number:
        return sure(self.charges.between(one, other))

    def potential(self, node: str) -> Number:
        """Of a node, over the node that counts as zero."""
        if self._whole.zero is None or node not in self.flat.names:
            reason = (
                "no node is called so"
                if node not in self.flat.names
                else "no node is zero; write `zero at` one"
            )
            raise NoAnswer(because("no-such-quantity", what=f"the potential of {node}", reason=reason))
        return self._between(self.flat.names[node], self.flat.names[self._whole.zero])
