"""Changes in the picture as edits of the circuit's text: each touches only the line that it is about."""

from __future__ import annotations

from typing import Final

from boardproof.kit.proof import Proof
from boardproof.source import Edit, Span

__all__ = ["ACTS", "alter"]

ACTS: Final[frozenset[str]] = frozenset()


def alter(proof: Proof, act: str, given: str, span: Span) -> tuple[Edit, str] | str:
    """The edit for something done to a part."""
    del proof, act, given, span
    return "not yet"
