"""Maths as people say it: running words become tokens, and tokens every sensible reading of a formula.

British "E one over r one", Indian "E one by r one", "upon", "into" for times, "whole upon", American "R sub two",
Australian "all over"; letters by the lesson's own names, capitals told apart where the captions keep them. Speech has
no brackets, so `readings` gives all groupings; whoever judges must find every one of them false before calling a
speaker wrong.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.algebra.expression import Expression, Name, Number, Product
from boardproof.algebra.spoken_numbers import hear_unit
from boardproof.algebra.vocabulary import words_of
from boardproof.quantities import Unit, read_unit
from boardproof.source import Span

__all__ = ["Alphabet", "Token"]

FILLERS: Final = words_of("er um erm uh ah hmm just simply actually basically")
ASIDES: Final = words_of("the a let us see so now okay well you know right our that this")
SOUNDS: Final = {
    "ee": "e",
    "epsilon": "e",
    "eye": "i",
    "vee": "v",
    "are": "r",
    "our": "r",
    "pee": "p",
    "eta": "η",
}
INDEXES: Final = {
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8",
    "nine": "9", "nought": "0", "zero": "0", "won": "1", "too": "2",
}  # fmt: skip
SIZES: Final = {
    "little": "small",
    "small": "small",
    "lower": "small",
    "capital": "large",
    "big": "large",
    "upper": "large",
}
SIGNS: Final[tuple[tuple[tuple[str, ...], str], ...]] = tuple(
    sorted(
        (
            (tuple(words.split()), sign)
            for sign, many in {
                "+": "plus|added to|+",
                "-": "minus|take away|subtract|less|-|−",
                "*": "times|multiplied by|into|×|·|*",
                "/": "over|upon|divided by|by|÷|/",
                "all/": "all over|the whole over|whole over|whole upon|the whole upon|all upon|all by|whole by|"
                "all divided by"
                "|whole divided by|the lot over|everything over|that all over|all of that over|all that over",
                "²": "squared|square|²",
                "³": "cubed",
                "1/": "reciprocal of|the reciprocal of",
                "(": "open bracket|open brackets|bracket|brackets|in brackets|the quantity|(",
                ")": "close bracket|close brackets|bracket closed|bracket close|)",
                "sum(": "the sum of|sum of",
                "product(": "the product of|product of",
                "difference(": "the difference of|difference of|the difference between|difference between",
                "√": "square root of|the square root of|root",
                "||": "in parallel with|parallel with",
                "=": "equals|is equal to|equal to|are equal to|equal|=|is just|is simply|is the same as|comes to|"
                "comes out as|comes out at"
                "|comes out to be|works out at|works out as|works out to|works out to be|turns out to be|becomes|"
                "is|gives|makes|will be|would be|'s"
                "|which is|that is|goes to|is going to be|must be|should be",
                "≈": "is about|is roughly|is nearly|is approximately|is almost|≈",
                "<": "is less than|is smaller than|is below|is lower than|less than|smaller than|<",
                ">": "is greater than|is more than|is bigger than|is larger than|is above|is higher than|greater "
                "than|more than|bigger than|larger than|>",
                "≤": "is at most|at most|≤",
                "≥": "is at least|at least|≥",
            }.items()
            for words in many.split("|")
        ),
        key=lambda row: -len(row[0]),
    )
)
RELATIONS: Final = frozenset("=≈<>≤≥")
BETWEEN: Final = frozenset({"by", "into", "less", "over", "upon", "all by", "whole by", "-"})
OPENING: Final = frozenset({"(", "sum(", "product(", "difference(", "√", "1/"})
JOINED: Final = {"sum(": "+", "product(": "*", "difference(": "-"}
PERCENT: Final = "%"


@dataclass(frozen=True, slots=True)
class Token:
    """A stretch of speech that means something in maths, or a plain word.

    Parameters
    ----------
    kind : str
        "number", "name", "sign", "relation", "unit" or "word".
    text : str
        The sign, relation, unit symbol or word; for a number its unit's symbol ("" if none was said).
    start, end : int
        Words of the speech, half open.
    value, place : Fraction
        Of a number: in SI units, and the worth of its last digit (0: exact).
    names : tuple of str
        What a letter may stand for.
    word : str
        How a relation was said ("gives").
    factors : tuple of str
        Two letters that it may be instead, side by side: "I r" beside a part R.
    """

    kind: str
    text: str
    start: int
    end: int
    value: Fraction = Fraction(0)
    place: Fraction = Fraction(0)
    names: tuple[str, ...] = ()
    factors: tuple[str, ...] = ()
    word: str = ""

    @property
    def unit(self) -> Unit | None:
        """A number's unit."""
        return read_unit(self.text) if self.text and self.text != PERCENT else None

    @property
    def is_operand(self) -> bool:
        """Whether an operator may stand beside it."""
        return self.kind in {"number", "name"}

    def expressions(self) -> tuple[Expression, ...]:
        """What it stands for in a formula."""
        span = Span("speech", self.start, self.end)
        if self.kind == "number":
            return (Number(self.value, self.unit, None, self.place, str(self.value), span),)
        alone = tuple(Name(each, span) for each in self.names)
        return (*alone, Product(tuple(Name(each, span) for each in self.factors))) if self.factors else alone


PLAIN_WORDS: Final = words_of("it is if in as at an am he me be by to do so no go we on of or us up my ex eh")
"""Never a letter with its index, even where a lesson has I_t or E_x."""


class Alphabet:
    """The letters of a lesson, by how they are said.

    Parameters
    ----------
    names : collection of str
        In normal spelling: ``E_1``, ``R``.
    keeps_case : bool
        Whether the captions write capitals where they are meant.
    """

    def __init__(self, names: Collection[str], *, keeps_case: bool = True) -> None:
        """Spell every name once."""
        self.names = frozenset(names)
        self.keeps_case = keeps_case
        self._by_sound: dict[tuple[str, ...], list[str]] = {}
        self._heads: set[str] = set()
        for name in sorted(self.names):
            stem, _, index = name.partition("_")
            stem = {"ε": "E"}.get(stem, stem)
            if len(stem) > 1 and not (len(stem) <= 3 and stem[1:].isdigit()):
                continue  # a whole word is no letter
            index = index or stem[1:]
            sound = (stem[0].lower(), *_index_sounds(index))
            self._by_sound.setdefault(sound, []).append(name)
            self._heads.add(stem[0].lower())
        self._longest = max(map(len, self._by_sound), default=0)

    def hear(
        self, words: Sequence[str], raw: Sequence[str], start: int
    ) -> tuple[tuple[str, ...], int] | None:
        """The names that the words from `start` may stand for, and the word behind them."""
        place, size = start, ""
        while place < len(words) and words[place] in SIZES and place < start + 2:
            size = SIZES[words[place]]
            place += 1
        if place >= len(words):
            return None
        letter, glued = self._letter(words[place])
        if letter is None:
            return None
        case = raw[place][:1]
        sounds, end = [letter, *glued], place + 1
        best = self._found(tuple(sounds), size, case)
        found = (best, end) if best else None
        while not glued and end < len(words) and len(sounds) < self._longest:
            word = words[end]
            if word == "sub":
                end += 1
                continue
            sounds.append(INDEXES.get(word, word))
            end += 1
            if (more := self._found(tuple(sounds), size, case)) and not (
                sounds[-1].isdigit() and hear_unit(words, end) and found
            ):
                found = (more, end)
        if found is None:
            return None
        after = words[found[1]] if found[1] < len(words) else ""
        is_index = after in INDEXES and not glued and len(sounds) < 3 and after not in {"too", "won"}
        unknown = is_index and found[1] == place + 1 and not hear_unit(words, found[1] + 1)
        if unknown and self._indexed(letter) and not _goes_on(words, found[1] + 1):
            return None  # "r three" where there is no r_3 is no letter
        return found

    def _indexed(self, letter: str) -> bool:
        return any(len(sound) > 1 and sound[0] == letter and sound[1].isdigit() for sound in self._by_sound)

    def _letter(self, word: str) -> tuple[str | None, tuple[str, ...]]:
        """The letter that a word begins with, and an index glued to it (``e1``, ``r_2``)."""
        plain = SOUNDS.get(word, word)
        if plain in self._heads:
            return plain, ()
        if len(word) > 1 and word[0] in self._heads:
            index = word[1:].lstrip("_").strip("{}")
            if (
                index
                and word not in PLAIN_WORDS
                and (
                    index.isdigit() or "_" in word or ((word[0], index) in self._by_sound and len(index) == 1)
                )
            ):
                return word[0], tuple(_index_sounds(index))
        return None, ()

    def _found(self, sound: tuple[str, ...], size: str, case: str) -> tuple[str, ...]:
        names = self._by_sound.get(sound, [])
        if len(names) < 2:
            return tuple(names)
        large = size == "large" or (not size and self.keeps_case and case.isupper())
        small = size == "small" or (not size and self.keeps_case and case.islower())
        fitting = [name for name in names if (large and name[0].isupper()) or (small and name[0].islower())]
        return tuple(fitting or names)


def _goes_on(words: Sequence[str], place: int) -> bool:
    return place < len(words) and words[place] in {"point", "hundred", "over", "upon"}


def _index_sounds(index: str) -> list[str]:
    """``12`` is said digit by digit, a word as a word."""
    return list(index) if index.isdigit() else [index.lower()] if index else []
