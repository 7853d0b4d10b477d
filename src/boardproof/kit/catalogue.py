"""Every kind of finding there is, from all rooms: what `boardproof why` and the reference page tell.

Each room keeps its own table. Here they are joined, and a code that two rooms use for different things is refused: a
teacher meets the code, not the room.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from boardproof.algebra.kinds import KINDS as MATHS
from boardproof.circuit.kinds import KINDS as CIRCUITS
from boardproof.findings import Kind, Kinds, Severity
from boardproof.kit.argument import KINDS as ARGUMENTS
from boardproof.kit.check import KINDS as COMMANDS
from boardproof.kit.kinds import KINDS as FILES
from boardproof.kit.remembered import KINDS as MEMORY
from boardproof.lab.kinds import KINDS as READINGS
from boardproof.lesson.captions import KINDS as CAPTIONS
from boardproof.lesson.kinds import KINDS as LESSONS
from boardproof.pack.kinds import KINDS as BRIEFS
from boardproof.practice.question_kinds import KINDS as QUESTIONS
from boardproof.prove.kinds import KINDS as STATEMENTS
from boardproof.record import record
from boardproof.solve.ill_posed import KINDS as ANSWERS

__all__ = ["CATALOGUE", "ROOMS", "Entry", "joined"]

ROOMS: Final[Mapping[str, Kinds]] = MappingProxyType(
    {
        "circuits": CIRCUITS,
        "answers": ANSWERS,
        "maths": MATHS,
        "statements": STATEMENTS,
        "lesson files": LESSONS,
        "readings": READINGS,
        "briefs": BRIEFS,
        "questions": QUESTIONS,
        "arguments": ARGUMENTS,
        "captions": CAPTIONS,
        "files": FILES,
        "memory": MEMORY,
        "commands": COMMANDS,
    }
)
SAME_SLIP: Final[Mapping[str, str]] = MappingProxyType(
    {
        "unclear-grouping": "+ and || on one level",
        "decimal-mark": "the other decimal mark than the course's",
        "look-alike": "a letter of another alphabet",
        "missing-unit": "a number without its unit",
        "no-value": "a letter without a value where a number is wanted",
    }
)
"""Codes that two rooms share, because it is one slip wherever it is typed."""


@record
class Entry:
    """One code with all that is said of it.

    Parameters
    ----------
    code : str
        Two or three words joined by hyphens.
    severity : {"error", "warning", "note"}
        The same in every room.
    kinds : tuple of (str, Kind)
        Where it is met, and that room's row.
    """

    code: str
    severity: Severity
    kinds: tuple[tuple[str, Kind], ...]

    def page(self) -> str:
        """Markdown: what is said, what it means, a sample and the sample put right."""
        parts = []
        for room, kind in self.kinds:
            said = f"> {kind.message}" + (f" {kind.help}" if kind.help else "")
            where = f"In {room}:\n\n" if len(self.kinds) > 1 else ""
            parts.append(f"{where}{said}\n\n{kind.page.strip()}")
        return "\n\n".join(parts)


def joined(rooms: Mapping[str, Kinds], *, same: Iterable[str] = ()) -> Mapping[str, Entry]:
    """Join the tables of rooms, by code.

    Parameters
    ----------
    rooms : mapping of str to Kinds
        What a room's findings are about, and its table.
    same : iterable of str
        Codes that several rooms may use, because they mean one slip.

    Raises
    ------
    ValueError
        If two rooms use another code, or give one code two severities.

    Examples
    --------
    >>> wide = Kind("wide-lead", "note", "Too wide.")
    >>> joined({"a": Kinds([wide]), "b": Kinds([wide])})
    Traceback (most recent call last):
    ValueError: wide-lead stands in the tables of a and b
    """
    shared, entries = frozenset(same), dict[str, Entry]()
    for room, kinds in rooms.items():
        for code, kind in kinds.items():
            before = entries.get(code)
            if before is None:
                entries[code] = Entry(code, kind.severity, ((room, kind),))
                continue
            if code not in shared:
                raise ValueError(f"{code} stands in the tables of {before.kinds[0][0]} and {room}")
            if kind.severity != before.severity:
                raise ValueError(
                    f"{code} is {before.severity} in {before.kinds[0][0]}, {kind.severity} in {room}"
                )
            entries[code] = Entry(code, kind.severity, (*before.kinds, (room, kind)))
    return MappingProxyType(dict(sorted(entries.items())))


CATALOGUE: Final = joined(ROOMS, same=SAME_SLIP)
"""Every kind of finding, by code, in alphabetical order."""
