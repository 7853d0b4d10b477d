"""All that a lesson defines about circuits: parts, families, circuits, sets of values, lets."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Final

from boardproof.circuit.model import Circuit, Family, Part
from boardproof.circuit.written import Assign
from boardproof.findings import Finding
from boardproof.quantities import Dimension
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Definitions", "Let", "Letter", "ValueSet"]

NOTHING: Final[Mapping[str, Any]] = MappingProxyType({})


def _none() -> Mapping[str, Any]:
    return NOTHING


@record
class Let:
    """A name the teacher gave to a quantity or an expression; its body is read by `phrases`, or by algebra."""

    name: str
    body: Slice
    when: Slice | None
    span: Span = field(compare=False)


@record
class Letter:
    """A letter that parts carry, with the value it has unless a circuit says otherwise, in SI units."""

    dimension: Dimension
    value: Fraction | None
    span: Span | None = field(compare=False)


@record
class ValueSet:
    """``values fresh: E_1 = 6 V``."""

    name: str
    assigned: tuple[Assign, ...]
    span: Span = field(compare=False)


@dataclass(frozen=True, slots=True)
class Definitions:
    """What the names of a lesson stand for; they hold above and below their lines.

    Parameters
    ----------
    parts : mapping of str to Part
        By name in normal form, families' general parts left out.
    families : mapping of str to Family
        By the general name: ``A_k``.
    circuits : mapping of str to Circuit
        Groups, networks, closed circuits and variations.
    sets : mapping of str to ValueSet
        Sets of values.
    lets : mapping of str to Let
        Names for quantities.
    letters : mapping of str to Letter
        What parts carry.
    counts : frozenset of str
        Letters that count.
    zeros : tuple of (Span, str)
        For each block with a `zero at` line, its place and the node from which potential is counted there.
    places : mapping of str to Span
        Where each name was defined.
    broken : mapping of str to Span
        Names and letters whose line could not be read or built, and that line; what is said of them can't be judged.
    """

    parts: Mapping[str, Part] = field(default_factory=_none)
    families: Mapping[str, Family] = field(default_factory=_none)
    circuits: Mapping[str, Circuit] = field(default_factory=_none)
    sets: Mapping[str, ValueSet] = field(default_factory=_none)
    lets: Mapping[str, Let] = field(default_factory=_none)
    letters: Mapping[str, Letter] = field(default_factory=_none)
    counts: frozenset[str] = frozenset()
    zeros: tuple[tuple[Span, str], ...] = ()
    places: Mapping[str, Span] = field(default_factory=_none)
    broken: Mapping[str, Span] = field(default_factory=_none)

    def zero_for(self, nodes: Collection[str], span: Span) -> str | None:
        """The node that counts as zero in a circuit: as its own block says, else a block above, else the next below."""
        zeros = [(block, node) for block, node in self.zeros if node in nodes]
        own = [node for block, node in zeros if span.within(block)]
        above = [node for block, node in zeros if block.source == span.source and block.end <= span.start]
        return next((node for node in (*own[-1:], *above[-1:], *(node for _, node in zeros))), None)

    def broken_by(self, found: Finding) -> Span | None:
        """The broken line that a finding only follows from: it speaks of what that line would have defined."""
        if found.kind.code not in {"unknown-name", "no-such-member"}:
            return None
        words = re.findall(r"[^\W\d][\w.]*", str(found.facts.get("word") or found.facts.get("what") or ""))
        lines = (line for word in words if (line := self.broken.get(word.split(".")[0])) is not None)
        return next((line for line in lines if not found.span.within(line)), None)

    def names(self) -> frozenset[str]:
        """Every name of a part, group or circuit."""
        return frozenset(self.parts) | frozenset(self.circuits)
