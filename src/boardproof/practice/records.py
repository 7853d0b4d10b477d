"""What practice is made of: a question, one student's numbers for it, an answer and its mark.

Making papers and marking them share these records and nothing else. Values are exact and in SI units.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Circuit
from boardproof.circuit.quantity import QuantityRef
from boardproof.quantities import PURE, Dimension
from boardproof.record import record
from boardproof.source import Span

__all__ = [
    "Answer",
    "Asked",
    "Form",
    "Key",
    "Mark",
    "Option",
    "Point",
    "Question",
    "Solved",
    "State",
    "Variant",
    "Vary",
    "Verdict",
]

Form = Literal["number", "expression", "choice", "ranking", "arrow", "shown", "words"]
State = Literal["given", "blank", "not reached", "late", "absent", "excused"]
Verdict = str
"""A word of the table of verdicts for typed answers."""
Key = Fraction | RationalFunction | str | tuple[str, ...]
"""A number in SI units; a formula in letters; an option's letter or an arrow's way ("along", "against", "none"); names
in order, largest first, equal ones joined by "=". Empty text: a person decides."""
NOTHING: Final[Mapping[str, Key]] = MappingProxyType({})


@record
class Vary:
    """The values that letters may take.

    Parameters
    ----------
    letters : tuple of str
        Each draws for itself.
    values : tuple of Fraction
        In SI units, rising.
    """

    letters: tuple[str, ...]
    values: tuple[Fraction, ...]


@record
class Point:
    """One mark of a mark scheme.

    Parameters
    ----------
    letter : str
        "M" for method, "A" for accuracy, "B" for a fact on its own, with a number: ``M1``.
    words : str
        What earns it; may hold letters of the circuit, never a drawn number.
    """

    letter: str
    words: str


@record
class Asked:
    """One part of a question.

    Parameters
    ----------
    label : str
        ``a``, ``b``; empty if the question has one part only.
    words : str
        As the student reads it, values as ``{R}``.
    form : Form
        How it is answered.
    name : str
        The quantity in letters, as the teacher wrote it: ``I``, ``E_p``; names parted by commas in a ranking.
    ask : tuple of QuantityRef
        The quantity; several in a ranking; empty for words.
    dimension : Dimension
        Of the quantity.
    figures : int
        To which a number is shown in the key.
    unit : str
        Printed beside the answer's place, then the student gives a bare number; else empty.
    marks : int
        Out of which.
    points : tuple of Point
        For what they are given; as many as `marks`.
    after : tuple of str
        Labels of the parts this one leans on: a wrong value there may be carried on.
    letters : tuple of str
        Those an expression may hold.
    options : int
        Of a choice.
    """

    label: str
    words: str
    form: Form
    name: str = ""
    ask: tuple[QuantityRef, ...] = ()
    dimension: Dimension = PURE
    figures: int = 3
    unit: str = ""
    marks: int = 1
    points: tuple[Point, ...] = ()
    after: tuple[str, ...] = ()
    letters: tuple[str, ...] = ()
    options: int = 4


@record
class Question:
    """A question from which each student gets numbers of their own.

    Parameters
    ----------
    id : str
        Twelve hexadecimal digits of a hash of its name and place; outlives other wording.
    version : str
        Twelve hexadecimal digits of a hash of all it says.
    name : str
        Its headline.
    circuit : Circuit or None
        With the letters it may vary; None where all is in words.
    stem : str
        What is given, values as ``{R}``.
    vary : tuple of Vary
        Ranges.
    where : tuple of str
        Conditions on draws, as typed.
    parts : tuple of Asked
        At least one.
    tell_apart : tuple of str
        Beliefs that must give different answers.
    source : Span or str
        Where it stands; a family's key.
    topic : str
        What it practises.
    difficulty : Fraction
        From 0 to 1, by `families.difficulty`.
    """

    id: str
    version: str
    name: str
    circuit: Circuit | None
    stem: str
    vary: tuple[Vary, ...]
    where: tuple[str, ...]
    parts: tuple[Asked, ...]
    tell_apart: tuple[str, ...]
    source: Span | str
    topic: str = ""
    difficulty: Fraction = Fraction(0)


@record
class Option:
    """One line of a choice.

    Parameters
    ----------
    letter : str
        ``A`` to ``F``.
    text : str
        As shown.
    value : Fraction or RationalFunction
        Exact.
    beliefs : tuple of str
        Who would choose it; empty for the right one.
    """

    letter: str
    text: str
    value: Fraction | RationalFunction
    beliefs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Solved:
    """A part's key with one draw.

    Parameters
    ----------
    label : str
        Of the part.
    key : Key
        The right answer.
    shown : str
        As the key prints it.
    wrong : mapping of str to Key
        What each belief gives, where it differs from the key.
    options : tuple of Option
        Of a choice, in the order shown.
    """

    label: str
    key: Key
    shown: str
    wrong: Mapping[str, Key] = field(default_factory=lambda: NOTHING)
    options: tuple[Option, ...] = ()


@record
class Variant:
    """A question with one student's numbers.

    Parameters
    ----------
    question, version : str
        Of which question.
    seed : int
        The paper's; the draw follows from it and the question's id alone.
    draw : mapping of str to Fraction
        In SI units.
    parts : tuple of Solved
        In the question's order.
    """

    question: str
    version: str
    seed: int
    draw: Mapping[str, Fraction]
    parts: tuple[Solved, ...]


@record
class Answer:
    """What one student gave for one part.

    Parameters
    ----------
    student : str
        A code.
    paper : str
        The code on each page.
    question : str
        Its number on the paper, from 1, as text.
    part : str
        Label of the part.
    typed : str
        As given.
    state : State
        Five things that are not an answer are kept apart.
    at : str
        When, in ISO 8601; empty if not known.
    """

    student: str
    paper: str
    question: str
    part: str
    typed: str
    state: State = "given"
    at: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A decision on an answer; never overwritten, only replaced by a later one.

    Parameters
    ----------
    id : str
        Its own.
    answer : Answer
        On what.
    points : tuple of (str, int, int, str)
        Letter, given, of, and the reason in a sentence the student can read.
    verdict : Verdict
        Of the typed answer.
    beliefs : tuple of str
        Whose answer it is exactly.
    follow_through : mapping of str to Fraction
        Label of an earlier part to the student's own value that was carried on.
    rule : str
        Which rule decided.
    versions : mapping of str to str
        Of question, rules and tool.
    decided_by : {"rule", "teacher"}
        Who.
    replaces : str or None
        The mark before it.
    """

    id: str
    answer: Answer
    points: tuple[tuple[str, int, int, str], ...]
    verdict: Verdict
    beliefs: tuple[str, ...] = ()
    follow_through: Mapping[str, Fraction] = field(default_factory=dict)
    rule: str = ""
    versions: Mapping[str, str] = field(default_factory=dict)
    decided_by: Literal["rule", "teacher"] = "rule"
    replaces: str | None = None
