"""The circuit of a new lesson: as typed, its group of cells given a name, a load across it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from boardproof.circuit.change import done_to
from boardproof.circuit.model import Across, Changed, Circuit, Item, Leaf, Network, has_cells, leaves
from boardproof.circuit.read import read_circuit
from boardproof.circuit.statement import AtHand, Named
from boardproof.derive.branches import joined
from boardproof.findings import Finding
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.record import record
from boardproof.source import Source

__all__ = ["Ground", "NotDerivable", "ground_of"]


@record
class NotDerivable:
    """Why no lesson can be written: findings about the circuit, or a sentence."""

    why: str
    findings: tuple[Finding, ...] = ()
    source: Source | None = None


@record
class Ground:
    """The circuit as the lesson will have it.

    Parameters
    ----------
    lines : tuple of str
        Of the circuit block.
    group : str or None
        Path of the group of cells, if it has several parts.
    kind : str
        "single", "series", "parallel", "turned", "bank" or "network".
    circuit : Circuit
        At hand.
    worlds : Worlds
        What its names mean.
    """

    lines: tuple[str, ...]
    group: str | None
    kind: str
    circuit: Circuit
    worlds: Worlds

    @property
    def world(self) -> World:
        """The world in which the circuit is at hand."""
        return self.worlds.of(self.circuit)

    def is_known(self, name: str) -> bool:
        """Whether a name means something here."""
        return self.world.means(name) is not None


def ground_of(typed: str) -> Ground | NotDerivable:
    """Put the circuit into the form a lesson needs: its group of cells named, a load across it.

    Parameters
    ----------
    typed : str
        As on the command line.

    Examples
    --------
    >>> ground_of("A, B = cell; R = resistor; (A || B) across R").lines
    ('A, B = cell', 'R = resistor', 'both = A || B', 'main = both across R')
    """
    source = Source("circuit", typed)
    read = read_circuit(source.slice())
    wrong = tuple(each for each in read.findings if (each.severity or each.kind.severity) == "error")
    if wrong:
        return NotDerivable("", wrong, source)
    circuit = read.at_hand or (tuple(read.definitions.circuits.values()) or (None,))[-1]
    if circuit is None or not has_cells(circuit.item):
        return NotDerivable("No circuit with a cell is put together here.")
    lines = _pieces(typed)
    standing = [each for each in read.statements if isinstance(each, AtHand | Named)]
    taken = {*read.definitions.names(), *read.definitions.letters}
    last = next(
        (each for each in reversed(standing) if isinstance(each, AtHand) or each.name == "main"), None
    )
    last = last or (standing[-1] if standing else None)
    if last is not None:
        text = source.text[last.span.start : last.span.end].strip()
        at = max((place for place, line in enumerate(lines) if line == text), default=len(lines) - 1)
        lines[at : at + 1] = _in_form(
            last.written,
            last.name if isinstance(last, Named) else "",
            circuit,
            taken,
            is_named=isinstance(last, Named),
        )
    again = read_circuit(Source("circuit", "\n".join(lines)).slice())
    if again.at_hand is None:
        return NotDerivable("The circuit could not be closed with a load.", again.findings, source)
    group, kind = _group(again.at_hand.item)
    return Ground(tuple(lines), group, kind, again.at_hand, Worlds(again.definitions))


def _pieces(typed: str) -> list[str]:
    """The lines typed, without comments."""
    lines = [piece for line in typed.splitlines() for piece in re.sub(r"(^|\s)#.*", "", line).split(";")]
    return [line.strip() for line in lines if line.strip()]


def _in_form(written: str, name: str, circuit: Circuit, taken: set[str], *, is_named: bool) -> list[str]:
    """The line that puts the circuit at hand, its group of cells on a line of its own."""
    body, but, changes = written.partition(" but ")
    sides = [side.strip() for side in re.split(r"\s+across\s+", body)]
    bare, _ = done_to(circuit.item)
    if isinstance(bare, Network):
        return [f"{name} = {written}" if is_named else written]
    if not isinstance(bare, Across):
        load = next(each for each in ("R", "R_load", "R_out") if each not in taken)
        group = name or _group_name(circuit.item, taken)
        lines = [f"{load} = resistor"] + ([] if written == group else [f"{group} = {written}"])
        return [*lines, f"main = {group} across {load}"]
    if len(sides) != 2:
        return [f"{name} = {written}" if is_named else written]
    source = done_to(bare.source)[0]
    closed = name or ("main" if "main" not in taken else "circuit_1")
    rest = f" but {changes}" if but else ""
    if isinstance(source, Leaf) or source.path[:1].isalpha():
        return [f"{closed} = {written}"]
    first = 0 if _is_source(sides[0], bare.source) else 1
    group = _group_name(bare.source, taken)
    return [f"{group} = {_unwrapped(sides[first])}", f"{closed} = {group} across {sides[1 - first]}{rest}"]


def _is_source(side: str, source: Item) -> bool:
    cells = {leaf.part.name for leaf in leaves(source) if leaf.part.kind in {"cell", "source"}}
    return any(re.search(rf"(?<!\w){re.escape(cell)}(?!\w)", side) for cell in cells)


def _unwrapped(text: str) -> str:
    """Without brackets round the whole."""
    if not text.startswith("("):
        return text
    depth = 0
    for place, char in enumerate(text):
        depth += (char == "(") - (char == ")")
        if not depth:
            return text[1:-1].strip() if place == len(text) - 1 else text
    return text


def _group_name(item: Item, taken: set[str]) -> str:
    bare, _ = done_to(item)
    first = {"series": "row", "parallel": "both"}.get(joined(bare), "bank")
    return next(each for each in (first, "bank", "group", "cells", "source_1") if each not in taken)


def _group(item: Item) -> tuple[str | None, str]:
    """The group of cells of a closed circuit, and what the lesson is about."""
    whole, _ = done_to(item)
    if not isinstance(whole, Across):
        return None, "network"
    source, _ = done_to(whole.source)
    if isinstance(source, Leaf):
        is_net = any(isinstance(each, Network) for each in _all(whole.load))
        return None, "network" if is_net else "single"
    how = joined(source)
    if any(isinstance(each, Changed) and each.how == "turned" for each in _all(whole.source)):
        return source.path, "turned"
    simple = how and not any(joined(done_to(each)[0]) for each in _members(source))
    return source.path, how if simple and how else "bank"


def _members(item: Item) -> tuple[Item, ...]:
    found = getattr(item, "items", None)
    return found if found is not None else tuple(run.item for run in getattr(item, "runs", ()))


def _all(item: Item) -> Iterator[Item]:
    yield item
    inner = (item.item,) if isinstance(item, Changed) else _members(item)
    for each in inner:
        yield from _all(each)
