"""A stretch of talk as words, the things it names, and what every reader of statements in words shares."""

from __future__ import annotations

from dataclasses import dataclass

from boardproof.algebra.vocabulary import words_of
from boardproof.listen.hear import Speech
from boardproof.listen.sentences import Sentence
from boardproof.listen.slip import Slip
from boardproof.listen.things import Thing, Things, quantity_at

__all__ = ["DENYING", "Clause", "Talk"]

DENYING = words_of("not n't never no isn't nor neither without")


@dataclass(frozen=True)
class Clause:
    """A stretch of talk as plain words, with the token of each."""

    text: str
    places: tuple[int, ...]
    start: int
    end: int

    def token_at(self, offset: int) -> int:
        """The token that a place in the text belongs to."""
        return self.places[min(self.text.count(" ", 0, offset), len(self.places) - 1)]


class Talk:
    """Reads one talk; what it heard and judged is counted.

    Parameters
    ----------
    speech : Speech
        What was said.
    things : Things
        The parts.
    """

    def __init__(self, speech: Speech, things: Things) -> None:
        """Nothing is judged yet."""
        self.speech, self.things = speech, things
        self.heard = self.checked = 0
        self.read: set[int] = set()
        self.topic: Thing | None = None

    def clause(self, sentence: Sentence) -> Clause:
        """A sentence as plain words."""
        words: list[str] = []
        places: list[int] = []
        for n in range(sentence.start, sentence.end):
            token = self.speech.tokens[n]
            for word in self.speech.words[token.start : token.end]:
                words.append(word)
                places.append(n)
        return Clause(" ".join(words), tuple(places), sentence.start, sentence.end)

    def is_taken_back(self, slip: Slip) -> bool:
        """Whether the speaker mends it in the same breath."""
        behind = self.speech.words[slip.end : slip.end + 6]
        return (
            bool(set(behind) & {"sorry", "mean", "oops", "correction", "wait"})
            or behind[:1] == ("no",)
            or "wrong" in behind
            or ("not" in behind[:4] and bool(set(behind[:4]) & {"so", "true", "right", "that", "is"}))
        )

    def objects(self, start: int, end: int) -> list[Thing]:
        """Things named from one token to another."""
        found = []
        place = start
        while place < end:
            quantity = quantity_at(self.speech.tokens, place)
            if quantity is not None:
                place = quantity.end
                continue
            thing = self.things.at(self.speech.tokens, self.speech.raw, place)
            if thing is not None and thing.end <= end:
                found.append(thing)
            place = thing.end if thing is not None else place + 1
        return found

    def slip(self, first: int, last: int, kind: str, right: str, sure: float) -> Slip:
        """A slip that reaches from one token to another."""
        tokens = self.speech.tokens
        start, end = tokens[first].start, tokens[last].end
        return Slip(start, end, self.speech.time_of(start), self.speech.quote(start, end), kind, right, sure)
