"""What a paragraph of a lesson holds: words, maths, values to fill in, ties and board moves.

Maths and circuit text stay raw slices: the rooms that understand them read them later.
"""

from __future__ import annotations

from dataclasses import field
from typing import Literal

from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Fill", "Inline", "Maths", "Move", "MoveWord", "Paragraph", "Tie", "Words"]

MoveWord = Literal[
    "show", "hide", "focus", "dim", "plain", "label", "arrow", "height", "replace", "write", "recall",
    "take", "turn", "open", "close", "remove", "short", "no emf in",
]  # fmt: skip


@record
class Words:
    """Plain words of a sentence (Markdown's emphasis and escapes resolved)."""

    text: str
    span: Span = field(compare=False)
    style: Literal["plain", "emphasis", "strong"] = "plain"


@record
class Maths:
    """Maths in a sentence; `text` is what stands between the dollar signs."""

    text: Slice
    span: Span = field(compare=False)


@record
class Fill:
    """A value to be filled in: ``{I}``, ``{I in mA}``, ``{I to 2 figures}``, ``{E as read}``."""

    of: Slice
    span: Span = field(compare=False)
    unit: str | None = None
    figures: int | None = None


@record
class Tie:
    """Words tied to a quantity, ``[half an ampere](=I)``, or to a reason outside the circuit (``=free``)."""

    words: Slice
    to: Slice | None
    span: Span = field(compare=False)
    reason: str | None = None


@record
class Move:
    """One board move.

    Parameters
    ----------
    word : MoveWord
        What it does.
    of : tuple of Slice
        Paths or names it acts on (raw); for `take` the circuit expression, for `write` the words, for `recall` the
        result's name.
    with_ : str
        For `label`: "letters", "values" or "words"; for `replace`: "cell" or "resistor".
    span : Span
        The whole move.
    """

    word: MoveWord
    of: tuple[Slice, ...]
    span: Span = field(compare=False)
    with_: str = ""


Inline = Words | Maths | Fill | Tie | Move


@record
class Paragraph:
    """A paragraph or an item of a list.

    Parameters
    ----------
    content : tuple of Inline
        In reading order.
    said : bool
        False for a block quote: printed, not said.
    bullet : str
        "" for a paragraph, else the list mark ("-", "1.").
    """

    content: tuple[Inline, ...]
    span: Span = field(compare=False)
    said: bool = True
    bullet: str = ""
