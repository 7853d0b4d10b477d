"""What only follows from a circuit line that can't be read: true lines are not blamed for it, and nothing is guessed.

Where such a line leaves no circuit on the board, no statement is judged. Where it leaves a name or a value open, what
speaks of that is not checked; everything else goes on.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from boardproof.algebra.expression import Limit, Relation, names_in
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.spelling import squeezed
from boardproof.findings import Evidence, Finding
from boardproof.prove.bench import Ruling, has_letters
from boardproof.prove.verdict import Verdict
from boardproof.prove.walk import Place
from boardproof.source import Source, Span

__all__ = ["Consequences"]

# Findings that say that a name or a value is missing, or that need one to be made.
OPEN: Final = frozenset(
    {
        "unknown-name",
        "no-such-member",
        "two-meanings",
        "not-of-this",
        "no-value",
        "loose-number",
        "no-circuit",
    }
    | {
        "unchecked-statement",
        "unread-quantity",
        "unread-claim",
        "words-and-symbols",
        "not-checked",
        "hidden-trap",
    }
    | {"unchecked-claim", "other-belief", "no-such-quantity", "unfit-route", "hidden-focus"}
)


class Consequences:
    """Tells what follows from broken lines of one lesson.

    Parameters
    ----------
    definitions : Definitions
        Of the lesson.
    source : Source
        Its text.
    """

    def __init__(self, definitions: Definitions, source: Source) -> None:
        """Names are compared as they stand in subscripts."""
        self.source = source
        self.lines = {squeezed(name): line for name, line in definitions.broken.items()}
        self.lines |= definitions.broken

    def line_of(self, names: Iterable[str]) -> Span | None:
        """The broken line that a name needs; None if there is none."""
        for name in names:
            subscript = name.partition("_")[2].split(".")[0]
            for each in (name, subscript):
                if each in self.lines:
                    return self.lines[each]
        return None

    def without_value(self, place: Place) -> Span | None:
        """The broken line of a part that stands in the circuit at hand without its value."""
        letters = place.circuit.letters if place.circuit else ()
        values = place.circuit.values if place.circuit else {}
        return self.line_of(letter for letter in letters if letter not in values)

    def follows(self, finding: Finding, place: Place) -> bool:
        """Whether a finding at a place is nothing but a consequence."""
        if finding.kind.code not in OPEN:
            return False
        if place.broken is not None or self.without_value(place) is not None:
            return True
        words = (str(finding.facts.get(key, "")) for key in ("word", "letter", "name", "what"))
        return self.line_of(word.split(" ")[0] for word in words if word) is not None

    def softened(self, ruling: Ruling, statement: Relation | Limit | None, place: Place) -> Ruling:
        """The ruling, or "not checked" where a broken line leaves open what the statement is about."""
        if ruling.verdict.kind == "true" and place.broken is None:
            return ruling
        line = place.broken
        if line is None and statement is not None:
            sides = (
                (statement.left, statement.right)
                if isinstance(statement, Relation)
                else (statement.of, statement.to)
            )
            line = self.line_of(name.text for name in (*names_in(sides[0]), *names_in(sides[1])))
            if line is None and (
                ruling.verdict.kind == "true-only-when" or not all(has_letters(side) for side in sides)
            ):
                line = self.without_value(place)
        elif line is None:
            line = self.without_value(place)
        if line is None:
            return ruling
        number = self.source.position(line.start)[0] if line.source == self.source.name else 0
        reason = (
            f"it needs the circuit line {number}, which I can't read"
            if number
            else "a circuit line is missing"
        )
        return Ruling(Verdict("not-checked", evidence=(Evidence("machine", reason),)), ())
