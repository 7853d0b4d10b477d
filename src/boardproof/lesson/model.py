"""What a lesson holds, in reading order; every element knows its place.

Maths and circuit text stay raw slices here: the rooms that understand them read them later. What could not be read
stays as `Unread`, and everything else goes on. What stands within a paragraph is `sentence`'s.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from boardproof.lesson.sentence import Move, Paragraph
from boardproof.record import record
from boardproof.source import Slice, Source, Span

__all__ = [
    "Block",
    "BoardBlock",
    "Brief",
    "CircuitBlock",
    "Claim",
    "Correction",
    "Derive",
    "DeriveStep",
    "Display",
    "Leave",
    "Lesson",
    "Pause",
    "Question",
    "QuestionPart",
    "Readings",
    "Scene",
    "Settings",
    "Trap",
    "Unread",
]


@record
class Unread:
    """Text of a block that could not be read; its finding says why."""

    text: Slice


@record
class Display:
    """Maths written on the board: what stands between the double dollar signs."""

    text: Slice
    span: Span = field(compare=False)


@record
class CircuitBlock:
    """A `circuit` block; `body` is its raw text."""

    body: Slice
    span: Span = field(compare=False)


@record
class BoardBlock:
    """A `board` block: moves, one a line."""

    moves: tuple[Move, ...]
    span: Span = field(compare=False)


@record
class DeriveStep:
    """One kept step: its number, its maths (raw), the rules named, the lines it leans on, its words."""

    number: int
    maths: Slice
    rules: tuple[Slice, ...]
    from_: tuple[int, ...]
    words: tuple[Paragraph, ...]
    span: Span = field(compare=False)


@record
class Derive:
    """A `derive` block: ``derive E_p, r_p of both by short, then EMFs taken out, with numbers``."""

    targets: tuple[Slice, ...]
    group: Slice | None
    route: Slice | None
    manner: tuple[Literal["with numbers", "briefly"], ...]
    steps: tuple[DeriveStep, ...]
    span: Span = field(compare=False)


@record
class Pause:
    """A pause to try: seconds, task, and the answer that is hidden until it has passed."""

    seconds: int
    task: tuple[Paragraph, ...]
    answer: tuple[Paragraph | Display, ...]
    span: Span = field(compare=False)


@record
class Trap:
    """A tempting wrong statement, the belief behind it, and how it is refuted."""

    wrong: Slice | None
    belief: Slice | None
    refutation: tuple[Paragraph, ...]
    span: Span = field(compare=False)


@record
class Claim:
    """A general statement in words (`words`) and in symbols (`means`), for the cases in `for_`."""

    name: Slice | None
    words: tuple[Paragraph, ...]
    means: tuple[Slice, ...]
    for_: Slice | None
    span: Span = field(compare=False)


@record
class QuestionPart:
    """One part of a question: its words, what it asks (raw), credit lines."""

    label: str
    words: tuple[Paragraph, ...]
    ask: Slice | None
    credit: tuple[Slice, ...]


@record
class Question:
    """A practice question; fields raw, read by whoever draws papers from it."""

    name: Slice | None
    stem: tuple[Paragraph, ...]
    circuit: Slice | None
    vary: tuple[Slice, ...]
    where: tuple[Slice, ...]
    parts: tuple[QuestionPart, ...]
    tell_apart: tuple[Slice, ...]
    span: Span = field(compare=False)


@record
class Readings:
    """A lab: instruments and the table of readings, raw cells in the order taken."""

    of: Slice | None
    fields: Mapping[str, Slice]
    headings: tuple[Slice, ...]
    rows: tuple[tuple[Slice, ...], ...]
    task: tuple[Paragraph, ...]
    span: Span = field(compare=False)


@record
class Brief:
    """A pack design: what for, and its fields raw (a field may repeat)."""

    purpose: Slice | None
    fields: tuple[tuple[str, Slice], ...]
    words: tuple[Paragraph, ...]
    span: Span = field(compare=False)


@record
class Leave:
    """``<!-- leave CODE, because: REASON -->``: accepts one finding in the next block."""

    code: str
    reason: str
    span: Span = field(compare=False)


Block = (
    Paragraph
    | Display
    | CircuitBlock
    | BoardBlock
    | Derive
    | Pause
    | Trap
    | Claim
    | Question
    | Readings
    | Brief
    | Leave
    | Unread
)


@record
class Scene:
    """What follows one ``##`` heading."""

    title: str
    blocks: tuple[Block, ...]
    span: Span = field(compare=False)


@record
class Correction:
    """A mistake found after publishing, shown on every output: what, where, since when."""

    what: str
    where: str = ""
    since: str = ""


@dataclass(frozen=True, slots=True)
class Settings:
    """The `lesson` block: what the lesson leans on and establishes, and its own settings."""

    leans_on: tuple[Slice, ...] = ()
    establishes: tuple[Slice, ...] = ()
    minutes: Fraction | None = None
    language: str = "en-GB"
    version: str = ""
    corrections: tuple[Correction, ...] = ()
    overrides: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True)
class Lesson:
    """A whole lesson.

    Parameters
    ----------
    source : Source
        Its text.
    settings : Settings
        The `lesson` block.
    title : str
        The ``#`` heading, or the file's name.
    scenes : tuple of Scene
        In order; text before the first ``##`` makes a scene without a title.
    """

    source: Source
    settings: Settings
    title: str
    scenes: tuple[Scene, ...]
