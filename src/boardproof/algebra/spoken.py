"""Maths as people say it: running words become tokens, and tokens every sensible reading of a formula.

British "E one over r one", Indian "E one by r one", "upon", "into" for times, "whole upon", American "R sub two",
Australian "all over"; letters by the lesson's own names, capitals told apart where the captions keep them. Speech has
no brackets, so `readings` gives all groupings; whoever judges must find every one of them false before calling a
speaker wrong.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.expression import Expression, Name, Number, Product
from boardproof.algebra.spoken_numbers import hear_number, hear_unit
from boardproof.algebra.vocabulary import words_of
from boardproof.quantities import Unit, read_unit
from boardproof.source import Span

__all__ = ["Alphabet", "Token", "hear_tokens"]

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
            if index and (
                index.isdigit() or "_" in word or ((word[0], index) in self._by_sound and len(index) == 1)
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


def hear_tokens(
    words: Sequence[str], raw: Sequence[str], alphabet: Alphabet, stops: Sequence[str] = ()
) -> tuple[Token, ...]:
    """Running speech as tokens.

    Parameters
    ----------
    words : sequence of str
        In small letters, without punctuation; ``'s`` stands alone.
    raw : sequence of str
        The same words as they are written.
    alphabet : Alphabet
        The lesson's letters.
    stops : sequence of str, optional
        Punctuation behind each word; no number runs over it.

    Examples
    --------
    >>> said = "E p is E one by r one".split()
    >>> tokens = hear_tokens([w.lower() for w in said], said, Alphabet(["E_p", "E_1", "r_1"]))
    >>> [token.text or token.names[0] for token in tokens]
    ['E_p', '=', 'E_1', '/', 'r_1']
    """
    return tuple(_Ear(words, raw, alphabet, stops).tokens())


PRONOUN_NEXT: Final = words_of(
    "is equals equal = times squared over plus minus by upon into multiplied divided less r are"
)
DETERMINERS: Final = words_of(
    "this that the other which each every first second third next last good bad top bottom left "
    "right another no any weak strong weaker stronger new old tired turned reversed single volt ohm "
    "middle same old outer bigger smaller funny"
)


class _Ear:
    def __init__(
        self, words: Sequence[str], raw: Sequence[str], alphabet: Alphabet, stops: Sequence[str]
    ) -> None:
        self.words, self.raw, self.alphabet, self.stops = words, raw, alphabet, stops
        self.done: list[Token] = []
        self.joining: list[str] = []

    def tokens(self) -> list[Token]:
        place = 0
        while place < len(self.words):
            token = self.sign(place) or self.number(place) or self.letter(place)
            if token is None and self.words[place] not in FILLERS:
                token = self.plain(place)
            if token is None:
                place += 1
                continue
            self.done.append(token)
            place = token.end
        return self.done

    def plain(self, place: int) -> Token:
        word = self.words[place]
        if (
            word == "and"
            and self.joining
            and self.done
            and self.done[-1].is_operand
            and self.operand_at(place + 1)
        ):
            return Token("sign", self.joining.pop(), place, place + 1)
        if self.joining and self.done and self.done[-1].kind not in {"sign", "name", "number"}:
            self.joining.clear()
        return Token("word", word, place, place + 1)

    @property
    def last(self) -> Token | None:
        return self.done[-1] if self.done else None

    def operand_at(self, place: int) -> bool:
        """Whether a number, a letter or an opening stands at a word, fillers and articles left out."""
        while place < len(self.words) and self.words[place] in FILLERS | ASIDES:
            number = self.words[place] == "a" and hear_number(self.words, place)
            if number or any(sign in OPENING for sign in self.signs_at(place)):
                break
            place += 1
        if place >= len(self.words):
            return False
        return (
            hear_number(self.words, place) is not None
            or self.alphabet.hear(self.words, self.raw, place) is not None
            or any(sign in OPENING or sign == "-" for sign in self.signs_at(place))
        )

    def signs_at(self, place: int) -> list[str]:
        return [sign for words, sign in SIGNS if tuple(self.words[place : place + len(words)]) == words]

    def sign(self, place: int) -> Token | None:
        for words, sign in SIGNS:
            end = place + len(words)
            if tuple(self.words[place:end]) != words:
                continue
            if sign in RELATIONS:
                return Token("relation", sign, place, end, word=self.words[place])
            if self.fits(sign, " ".join(words), end):
                if sign in JOINED:
                    self.joining.append(JOINED[sign])
                    return Token("sign", "(", place, end)
                return Token("sign", sign, place, end)
        return None

    def fits(self, sign: str, words: str, end: int) -> bool:
        """Whether an operator stands where one can stand."""
        last = self.last
        behind = last is not None and (
            last.is_operand or (last.kind == "sign" and last.text in {")", "²", "³"})
        )
        if sign in {"²", "³"}:
            return (behind and last is not None and last.kind == "name") or (
                behind and words in {"squared", "cubed"}
            )
        if sign == ")":
            return behind
        if sign == "-" and words == "less":
            return behind and self.operand_at(end)
        if sign == "-" and words in {"minus", "−", "-"}:
            return self.operand_at(end)
        if sign in OPENING:
            return self.operand_at(end)
        if sign in {"/", "all/"} and words not in BETWEEN | {"/"} and not behind:
            return self.operand_at(end) and last is not None and last.kind == "sign"
        return behind and self.operand_at(end)

    def number(self, place: int) -> Token | None:
        stop = next(
            (n + 1 for n in range(place, min(place + 14, len(self.stops))) if self.stops[n]), len(self.words)
        )
        heard = hear_number(self.words[place - 1 if place else 0 : stop], 1 if place else 0)
        if heard is None:
            return self.article_unit(place)
        heard = replace(heard, end=heard.end + (place - 1 if place else 0))
        unit = hear_unit(self.words, heard.end)
        alone = heard.end == place + 1 and self.words[place] in {"one", "o", "oh"}
        if alone and not unit and self.is_pronoun(place):
            return None
        end = unit[1] if unit else heard.end
        symbol = unit[0] if unit else ""
        scale = Fraction(1, 100) if symbol == PERCENT else Fraction(1)
        if symbol and symbol != PERCENT:
            known = read_unit(symbol)
            scale = known.scale if known else Fraction(1)
        return Token("number", symbol, place, end, heard.value * scale, heard.place * scale)

    def is_pronoun(self, place: int) -> bool:
        """Whether "one" stands for a thing rather than a number."""
        before = self.words[place - 1] if place else ""
        after = self.words[place + 1] if place + 1 < len(self.words) else ""
        if after in {"over", "upon", "by", "plus", "minus", "point", "times", "half", "third", "hundred"}:
            return before in {"this", "that"}
        if before in DETERMINERS or (
            place > 1
            and self.words[place - 2] in {"the", "this", "that"}
            and before.isalpha()
            and not hear_number(self.words, place - 1)
        ):
            return True
        last = self.last
        return not (last is not None and last.kind in {"relation", "sign"}) and after in {
            "of", "is", "has", "gives", "takes", "does", "with", "that", "which", "", "carries", "so", "to", "and",
            "but",
        }  # fmt: skip

    def article_unit(self, place: int) -> Token | None:
        """Said like "a whole volt", "an amp": one of it."""
        if self.words[place] not in {"a", "an"} or (place and self.words[place - 1] == "per"):
            return None
        unit = hear_unit(self.words, place)
        if unit is None or len(self.words[unit[1] - 1]) < 3 or self.words[unit[1] - 1].endswith("s"):
            return None
        known = read_unit(unit[0])
        return Token("number", unit[0], place, unit[1], known.scale if known else Fraction(1))

    def letter(self, place: int) -> Token | None:
        word, raw = self.words[place], self.raw[place]
        found = self.alphabet.hear(self.words, self.raw, place)
        if found is None:
            return self.fused(place)
        names, end = found
        after = self.words[end] if end < len(self.words) else ""
        last = self.last
        beside = (last is not None and (last.kind in {"sign", "relation"} or last.kind == "name")) or (
            after in PRONOUN_NEXT
            or (self.alphabet.hear(self.words, self.raw, end) is not None and after != "a")
        )
        if end == place + 1:
            if word in {"i", "eye"} and not beside:
                return None
            if (
                word == "i"
                and last is not None
                and last.kind == "relation"
                and after not in PRONOUN_NEXT | {""}
                and last.end != place
            ):
                return None
            if word in {"are", "our", "ee", "vee", "pee", "a", "an"} and not (
                (last is not None and last.kind == "sign") or after in PRONOUN_NEXT - {"is", "are"}
            ):
                return None
            if word == "a" or (word == "e" and after == "m") or (word == "p" and after == "d"):
                return None
            if len(word) == 1 and raw.islower() and not beside and word in {"a", "i", "o"}:
                return None
        elif (
            word in {"are", "our"}
            and not (last is not None and last.kind in {"sign", "relation"})
            and after not in PRONOUN_NEXT
        ):
            return None
        return Token("name", "", place, end, names=names, factors=self.factors(names, place, end))

    def factors(self, names: tuple[str, ...], place: int, end: int) -> tuple[str, ...]:
        """Two letters of their own that sound like a letter with its index."""
        if end - place != 2 or len(names[0]) != 3:
            return ()
        one, other = (
            self.alphabet.hear([word], [raw], 0)
            for word, raw in zip(self.words[place:end], self.raw[place:end], strict=True)
        )
        return (one[0][0], other[0][0]) if one and other else ()

    def fused(self, place: int) -> Token | None:
        """``IR``, ``Ir``: two letters written as one word."""
        raw = self.raw[place]
        if (
            len(raw) == 2
            and raw.isalpha()
            and raw[0].isupper()
            and all(self.alphabet.hear([c.lower()], [c], 0) for c in raw)
        ):
            names = [self.alphabet.hear([c.lower()], [c], 0) for c in raw]
            if names[0] and names[1]:
                self.done.append(Token("name", "", place, place + 1, names=names[0][0]))
                return Token("name", "", place, place + 1, names=names[1][0])
        return None
