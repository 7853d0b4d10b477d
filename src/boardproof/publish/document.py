"""What one lesson says on paper and on the page: the record that every output walks, in reading order.

The kit makes a `Document` from a proven lesson; page, handout, script, cue cards and board plan only read it.
Values and verdicts are already words here, so that no output computes anything.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from boardproof.algebra.expression import Expression, Line
from boardproof.caution import Caution
from boardproof.lesson.model import Correction
from boardproof.picture.drawing import Frame
from boardproof.publish.marks import VerdictKind

__all__ = [
    "CautionItem",
    "ClaimItem",
    "Cue",
    "Document",
    "Figure",
    "Formula",
    "Item",
    "Judged",
    "Maths",
    "PauseItem",
    "Prose",
    "QuestionItem",
    "QuestionLine",
    "Run",
    "SceneDoc",
    "Stamp",
    "StepItem",
    "Steps",
    "TrapItem",
    "Words",
]


@dataclass(frozen=True, slots=True)
class Words:
    """Plain words; a filled-in value is words too, already shown with its unit."""

    text: str
    style: Literal["plain", "emphasis", "strong", "value"] = "plain"


@dataclass(frozen=True, slots=True)
class Maths:
    """Maths in a sentence, set with slashes."""

    tree: Expression | Line


Run = Words | Maths


@dataclass(frozen=True, slots=True)
class Judged:
    """A verdict with what belongs to it: "true only when" + its condition, "wrong" + what it should be.

    Parameters
    ----------
    kind : VerdictKind
        Its mark and word.
    scope : tuple of Run
        Follows the word: a condition, "for all positive values", a reason.
    """

    kind: VerdictKind
    scope: tuple[Run, ...] = ()


@dataclass(frozen=True, slots=True)
class Prose:
    """A paragraph, or an item of a list; `said` is False for what is printed and not said."""

    runs: tuple[Run, ...]
    said: bool = True
    bullet: str = ""


@dataclass(frozen=True, slots=True)
class Formula:
    """A line on the board; `tag` is the result's name that it establishes."""

    line: Line
    tag: str = ""
    verdict: Judged | None = None


@dataclass(frozen=True, slots=True)
class StepItem:
    """One step: number, reason in a few words, equation, what is said, and its verdict unless true."""

    number: int
    reason: tuple[Run, ...]
    line: Line
    words: tuple[Prose, ...] = ()
    verdict: Judged | None = None


@dataclass(frozen=True, slots=True)
class Steps:
    """A derivation: what is sought, and its steps."""

    sought: tuple[Run, ...]
    steps: tuple[StepItem, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture in both shapes; the frames carry title and alternative, and hide what a pause asks.

    Parameters
    ----------
    wide, near : Frame
        The same moment for wide and narrow screens; prints take the wide one.
    caption : tuple of Run
        What it is in topology words; what to see in it.
    """

    wide: Frame
    near: Frame
    caption: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class PauseItem:
    """A pause to try: `answer` is shown only on demand on a page, and on the last sheet of a handout."""

    seconds: int
    task: tuple[Prose, ...]
    answer: tuple[Prose | Formula, ...]


@dataclass(frozen=True, slots=True)
class TrapItem:
    """A tempting wrong line.

    Parameters
    ----------
    wrong, right : Line
        What is tempting, and what is true instead (None if it can't be said in one line).
    only_when : tuple of Run
        When the wrong line would be right; empty for never.
    belief : str
        The belief behind it, as its catalogue words it.
    refutation : tuple of Prose
        Why it is wrong.
    """

    wrong: Line
    right: Line | None
    only_when: tuple[Run, ...]
    belief: str
    refutation: tuple[Prose, ...]


@dataclass(frozen=True, slots=True)
class ClaimItem:
    """A general statement in words and in symbols, with its verdict."""

    name: str
    words: tuple[Prose, ...]
    means: tuple[Line, ...]
    verdict: Judged


@dataclass(frozen=True, slots=True)
class CautionItem:
    """A caution at its place: in full (once a document), or its short form."""

    caution: Caution
    in_full: bool = False


@dataclass(frozen=True, slots=True)
class QuestionLine:
    """One part of a question: its letter, its words, its marks."""

    label: str
    words: tuple[Prose, ...]
    marks: int


@dataclass(frozen=True, slots=True)
class QuestionItem:
    """A practice question with one drawn set of numbers; no answer."""

    name: str
    stem: tuple[Prose, ...]
    figure: Figure | None
    parts: tuple[QuestionLine, ...]


Item = Prose | Formula | Steps | Figure | PauseItem | TrapItem | ClaimItem | CautionItem | QuestionItem


@dataclass(frozen=True, slots=True)
class Cue:
    """One moment as the teacher meets it.

    Parameters
    ----------
    words : str
        Three to six words for the cue card.
    said : tuple of Run
        What is said until the next moment.
    moves : tuple of str
        What happens on the board, as sentences.
    written : tuple of Line
        What is written on the board then.
    seconds : float
        Time for it.
    waits : bool
        The lesson waits here for the viewer.
    """

    words: str
    said: tuple[Run, ...]
    moves: tuple[str, ...]
    written: tuple[Line, ...]
    seconds: float
    waits: bool = False


@dataclass(frozen=True, slots=True)
class SceneDoc:
    """A scene: its items for readers, its cues for the teacher, and its board when it ends."""

    title: str
    items: tuple[Item, ...]
    cues: tuple[Cue, ...] = ()
    board: Frame | None = None
    order: tuple[tuple[Run, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Document:
    """A whole lesson, ready to be set.

    Parameters
    ----------
    title, line : str
        Its title, and the line above: "Cells that are not alike, lesson 3 of 5".
    language : str
        As in BCP 47.
    corrections : tuple of Correction
        Found after publishing; every output shows them.
    scenes : tuple of SceneDoc
        In order.
    author, licence : str
        Of the course; may be empty.
    address : str
        Where the lesson is published; may be empty.
    """

    title: str
    line: str
    language: str
    corrections: tuple[Correction, ...]
    scenes: tuple[SceneDoc, ...]
    author: str = ""
    licence: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What every sheet of every output carries.

    Parameters
    ----------
    version : str
        Of the lesson; may be empty.
    made : date
        The day the kit was made.
    draft : bool
        Marks every page DRAFT.
    statements : int
        How many were judged.
    unproved : tuple of str
        What is not proved, one sentence each; a draft shows them.
    """

    version: str
    made: date
    draft: bool
    statements: int
    unproved: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What the foot of a sheet says.

        Examples
        --------
        >>> Stamp("2", date(2026, 11, 5), draft=False, statements=23).words
        'version 2 · every statement proved, 5 November 2026'
        """
        day = f"{self.made.day} {self.made:%B %Y}"
        proved = (
            f"DRAFT, {len(self.unproved)} of {self.statements} statements not proved" if self.draft else ""
        )
        if not proved:
            left = len(self.unproved)
            proved = (
                "every statement proved" if not left else f"{left} of {self.statements} statements not proved"
            )
        return (f"version {self.version} · " if self.version else "") + f"{proved}, {day}"
