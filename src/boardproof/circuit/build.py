"""Circuits from what was written: names looked up, members given their places, values gathered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

from boardproof.circuit.change import apply, changed, settled, values_of
from boardproof.circuit.count import depth, how_many, nodes_in
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.grammar import Unreadable
from boardproof.circuit.kinds import finding
from boardproof.circuit.model import (
    Across,
    Circuit,
    Copies,
    Family,
    Item,
    Leaf,
    Network,
    Parallel,
    Part,
    Run,
    Series,
    Worth,
    has_cells,
    leaves,
    members,
)
from boardproof.circuit.part import at_index
from boardproof.circuit.place import Missing, find, moved, placed
from boardproof.circuit.statement import NetworkOf
from boardproof.circuit.written import Closed, Copied, Gap, Joined, Ref, Turned, Varied, Written
from boardproof.findings import Finding, near_names
from boardproof.source import Span

__all__ = ["Builder", "is_closed"]

MOST_PARTS: Final = 100_000
MOST_DRAWN: Final = 5_000
DEEPEST: Final = 40
Circuits = Callable[[str], Circuit | None]


def is_closed(item: Item) -> bool:
    """Whether nothing more can be joined to it: a side across another, or a network complete in itself.

    Parameters
    ----------
    item : Item
        As built, before changes.

    Examples
    --------
    >>> from boardproof.circuit.model import Leaf, Part
    >>> cell, resistor = Leaf("A", Part("A", "cell")), Leaf("R", Part("R", "resistor"))
    >>> is_closed(cell), is_closed(Across(cell, resistor))
    (False, True)
    """
    return isinstance(item, Across) or (isinstance(item, Network) and item.ends is None)


class Builder:
    """Builds one circuit at a time.

    Parameters
    ----------
    known : Definitions
        Parts, families, sets; circuits are asked of `circuits`.
    circuits : callable
        From a name to its circuit, built if need be; None if there is none.

    Raises
    ------
    Unreadable
        From its methods, if the expression means nothing.
    """

    def __init__(self, known: Definitions, circuits: Circuits) -> None:
        """Start with nothing built."""
        self.known, self.circuits = known, circuits
        self.findings: list[Finding] = []
        self._clear()

    def _clear(self) -> None:
        self.used: dict[str, Span] = {}
        self.values: dict[str, Fraction] = {}
        self.paths: set[str] = set()

    # ---- whole circuits

    def circuit(self, written: Written, text: str, name: str = "") -> Circuit:
        """The circuit of an expression, under a name if it has one."""
        self._clear()
        if isinstance(written, Varied):
            base = self.circuit(written.base, text, name)
            circuit, wrong = apply(base, written.changes, self.known)
            self.findings += wrong
            return replace(self._within(circuit, written.span), written=text)
        if isinstance(written, Ref) and (old := self._whole(written)):
            if name and not is_closed(old.item):
                return replace(old, item=Series((old.item,), name, written.span), written=text)
            return replace(old, written=text)
        return self._circuit(self.item(written, name, copied=False), text, written.span)

    def _whole(self, ref: Ref) -> Circuit | None:
        return self.circuits(ref.path) if "." not in ref.path else None

    def network(self, statement: NetworkOf) -> Circuit:
        """The circuit of a network."""
        self._clear()
        branches = tuple(
            (self.item(item, f"{statement.name}.{n}", copied=False, alone=False), tail, head)
            for n, (item, tail, head) in enumerate(statement.branches, 1)
        )
        if not branches:
            why = f"the network {statement.name} has no lines"
            raise Unreadable(finding("unread-line", statement.span, why=why, forms="`A from a to b`"))
        network = Network(branches, statement.ends, statement.name, statement.span)
        lost = set(statement.ends or ()) - nodes_in(network)
        if lost:
            node = min(lost)
            raise Unreadable(
                finding("unknown-name", statement.span, word=node, near=", ".join(sorted(nodes_in(network))))
            )
        return self._circuit(network, "", statement.span)

    def _circuit(self, item: Item, text: str, span: Span) -> Circuit:
        for letter, value in values_of(item).items():
            self._value(letter, value, span)
        zero = self.known.zero_for(nodes_in(item), span)
        values = MappingProxyType(dict(self.values))
        return self._within(Circuit(settled(item, values), values, zero, text), span)

    def _within(self, circuit: Circuit, span: Span) -> Circuit:
        """The circuit, if it is not too large; counted, never built out."""
        many = how_many(circuit.item, circuit.values)
        if many > MOST_PARTS:
            raise Unreadable(
                finding("too-much", span, what=f"{many} parts", limit=f"{MOST_PARTS} in a circuit")
            )
        tied = sum(how_many(one, circuit.values) for one in _tied(circuit.item))
        if tied > MOST_DRAWN:
            raise Unreadable(
                finding("too-much", span, what=f"{tied} linked cells", limit=f"{MOST_DRAWN} in a circuit")
            )
        if depth(circuit.item) > DEEPEST:
            raise Unreadable(finding("too-much", span, what="groups within groups", limit=f"{DEEPEST} deep"))
        return circuit

    def _value(self, letter: str, value: Fraction, span: Span) -> None:
        old = self.values.setdefault(letter, value)
        if old != value:
            raise Unreadable(finding("two-values", span, letter=letter, x=str(value), y=str(old)))

    # ---- items

    def item(self, written: Written, path: str, *, copied: bool, alone: bool = True) -> Item:
        """The tree of an expression at a place.

        Parameters
        ----------
        written : Written
            The expression.
        path : str
            Its name, or the path of the member it is.
        copied : bool
            Whether it is one of several copies: then its parts go by their places.
        alone : bool
            Whether a single part stands for a whole named circuit.
        """
        match written:
            case Ref():
                found = self._ref(written, path, copied=copied)
                return Series((found,), path, written.span) if alone and path and not copied else found
            case Turned(of=of, span=span):
                inner = self.item(of, path, copied=copied, alone=False)
                turned = changed(inner, "turned", span)
                return Series((turned,), path, span) if alone and path and not copied else turned
            case Joined():
                items = self._members(written, path, copied=copied)
                cls = Series if written.sign == "+" else Parallel
                return cls(items, path, written.span)
            case Copied():
                return self._copies(written, path)
            case Closed(first=first, second=second, span=span):
                one = self.item(first, f"{path}.1".lstrip("."), copied=copied, alone=False)
                other = self.item(second, f"{path}.2".lstrip("."), copied=copied, alone=False)
                if has_cells(other) and not has_cells(one):
                    places = [f"{path}.{n}".lstrip(".") for n in (1, 2)]
                    one, other = moved(other, places[1], places[0]), moved(one, *places)
                return Across(one, other, path, span)
            case Gap(span=span) | Varied(span=span):
                raise Unreadable(finding("unread-line", span, why="this does not fit inside a group"))

    def _members(self, joined: Joined, path: str, *, copied: bool) -> tuple[Item, ...]:
        found: list[Item] = []
        items = list(joined.items)
        while items:
            dots = next((place for place, each in enumerate(items) if isinstance(each, Gap)), None)
            if dots and self._starts(items, dots):
                found.append(self._family(items[0], items[dots + 1], joined.sign))
                del items[: dots + 2]
                continue
            at = f"{path}.{len(found) + 1}".lstrip(".")
            found.append(self.item(items.pop(0), at, copied=copied, alone=False))
        return tuple(found)

    def _starts(self, items: list[Written], dots: int) -> bool:
        """Whether the line goes on with the beginning of a family, ``A_1 || A_2``, or with one member, and dots."""
        typed = [getattr(each, "path", "") for each in items[:dots]]
        return dots + 1 < len(items) and (
            dots == 1
            or any(
                typed
                == [at_index(each.part.name, each.index, str(each.first + place)) for place in range(dots)]
                for each in self.known.families.values()
            )
        )

    def _family(self, first: Written, last: Written, sign: str) -> Family:
        """``A_3 || ... || A_n``."""
        for family in self.known.families.values():
            ends = [at_index(family.part.name, family.index, str(end)) for end in (family.first, family.last)]
            if [getattr(first, "path", ""), getattr(last, "path", "")] == ends:
                self._use(family.part.name, first.span)
                how: Literal["series", "parallel"] = "series" if sign == "+" else "parallel"
                return replace(family, path=family.part.name, joined=how, span=first.span.to(last.span))
        why = "dots stand between the first and the last member of a family"
        raise Unreadable(
            finding(
                "unread-line", first.span.to(last.span), why=why, forms="`A_k = cell E_k, r_k for k = 1 to n`"
            )
        )

    def _use(self, name: str, span: Span) -> None:
        if name in self.used:
            related = ((self.used[name], "it stands here already"),)
            raise Unreadable(finding("part-used-twice", span, related=related, name=name))
        self.used[name] = span

    def _ref(self, ref: Ref, path: str, *, copied: bool) -> Item:
        name, *numbers = ref.path.split(".")
        circuit = self.circuits(name)
        part = self.known.parts.get(name) or self._of_family(name)
        if part and not numbers:
            if copied:
                return Leaf(path, part, ref.span)
            self._use(name, ref.span)
            return Leaf(name, part, ref.span)
        if circuit is None:
            near = ", ".join(near_names(name, self.known.names() | {*self.known.lets}))
            raise Unreadable(finding("unknown-name", ref.span, word=ref.path, near=near))
        item: Item = circuit.item
        if is_closed(item):
            inner = f"`{item.source.path or 'its cells'}`" if isinstance(item, Across) else ""
            raise Unreadable(finding("already-closed", ref.span, name=ref.path, inner=inner))
        if numbers:
            found = find(item, ref.path, circuit.values)
            if isinstance(found, Missing):
                raise Unreadable(
                    finding("no-such-member", ref.span, what=found.why or f"{name} has no members")
                )
            item = found
        for letter, value in circuit.values.items():
            self._value(letter, value, ref.span)
        if copied:
            return placed(item, path)
        for leaf in leaves(item):
            if leaf.path == leaf.part.name:
                self._use(leaf.path, ref.span)
        return item

    def _of_family(self, name: str) -> Part | None:
        """A single member of a family: ``A_3``."""
        for family in self.known.families.values():
            stem = family.part.name[: -len(family.index)]
            number = name[len(stem) :] if name.startswith(stem) else ""
            last = family.last if isinstance(family.last, int) else None
            if number.isdigit() and int(number) >= family.first and (last is None or int(number) <= last):
                return _member_of(family, number)
        return None

    def _copies(self, copied: Copied, path: str) -> Item:
        (joined, count), *rest = copied.shape
        path = self._free(path)
        inner_path = f"{path}.1"
        link = None
        if copied.link:
            link = Worth("R_link", copied.link.value, copied.link.span)
            unit = copied.link.unit
            if unit is None or unit.symbol[-1] != "Ω":
                symbol = unit.symbol if unit else "nothing"
                raise Unreadable(
                    finding("wrong-unit", copied.link.span, what="The resistance of a joint", unit=symbol)
                )
        if rest:
            is_blocks = joined == "series"
            inner = replace(copied, shape=tuple(rest), tied=False, link=None if is_blocks else copied.link)
            item = self._copies(inner, inner_path)
            tied = copied.tied and is_blocks
            return Copies(joined, (Run(1, count, item),), path, tied, link if tied else None, copied.span)
        item = self.item(copied.of, inner_path, copied=True, alone=False)
        has_joints = joined == "series"
        return Copies(joined, (Run(1, count, item),), path, False, link if has_joints else None, copied.span)

    def _free(self, path: str) -> str:
        """A path for copies without a name: members of members are numbered from the top."""
        if path and path not in self.paths:
            self.paths.add(path)
            return path
        number = 1
        while str(number) in self.paths:
            number += 1
        self.paths.add(str(number))
        return str(number)


def _member_of(family: Family, number: str) -> Part:
    """One member of a family as a part of its own."""
    part = family.part
    worths = {
        role: replace(worth, letter=at_index(worth.letter, family.index, number))
        for role in ("emf", "resistance", "capacitance")
        if (worth := getattr(part, role))
    }
    return replace(part, name=at_index(part.name, family.index, number), **worths)


def _tied(item: Item) -> list[Item]:
    """The copies whose neighbours are tied, which have to be laid out one by one."""
    if isinstance(item, Copies) and item.tied:
        return [item]
    return [one for member in members(item) for one in _tied(member)]
