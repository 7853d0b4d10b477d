"""What is gathered while a sentence is read: its lines, the names they need, and questions to ask back."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from boardproof.prove.nouns import Nouns
from boardproof.record import record

__all__ = ["Asked", "Gathered", "Question", "Read"]

LETTERS: Final = {
    "current": "I",
    "p.d.": "V",
    "terminal": "V",
    "emf": "E",
    "power": "P",
    "efficiency": "e",
    "resistance": "r",
}


@record
class Read:
    """A sentence in the lesson language.

    Parameters
    ----------
    means : tuple of str
        Lines as after ``means:``.
    scope : tuple of str
        Conditions as after ``for:``.
    lets : tuple of (str, str)
        Names that the lines need besides the circuit's, with their phrases.
    notes : tuple of str
        What was understood besides.
    """

    means: tuple[str, ...]
    scope: tuple[str, ...] = ()
    lets: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()


@record
class Asked:
    """A sentence of two readings; `word` is what has them, each reading comes with its words."""

    word: str
    readings: tuple[tuple[str, Read], ...]


class Question(Exception):  # ends the reading of one sentence, which `sentences` then gives back as asked
    """A sentence of two readings, found in the middle of it."""

    def __init__(self, word: str, *readings: tuple[str, Read]) -> None:
        """What is asked about, and its readings."""
        super().__init__(word)
        self.word, self.readings = word, readings

    def under(self, joint: str, given: str, scope: list[str]) -> Question:
        """The same question about a sentence that goes on with a condition."""
        end = f" {joint} {given}" if given else ""
        return Question(
            self.word,
            *(
                (told, replace(read, means=tuple(f"{each}{end}" for each in read.means), scope=tuple(scope)))
                for told, read in self.readings
            ),
        )


class Gathered:
    """Names, notes and conditions that the lines of one sentence need.

    Parameters
    ----------
    nouns : Nouns
        The things and quantities that may be spoken of.
    """

    def __init__(self, nouns: Nouns) -> None:
        """Nothing is gathered yet."""
        self.nouns = nouns
        self.lets: dict[str, str] = {}
        self.notes: list[str] = []
        self.counted: list[str] = []

    def named(self, phrase: str, word: str) -> str:
        """A name for a phrase with its own circuit."""
        for name, known in self.lets.items():
            if known == phrase:
                return name
        letter = LETTERS.get(phrase.split(maxsplit=1)[0], "X")
        name = f"{letter}_{word}"
        while name in self.lets or name in self.nouns.names:
            name += "x"
        self.lets[name] = phrase
        return name
