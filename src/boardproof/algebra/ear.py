"""Running speech as tokens: signs where a sign can stand, numbers with their units, letters of the lesson."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from boardproof.algebra.spoken import (
    ASIDES,
    BETWEEN,
    FILLERS,
    JOINED,
    OPENING,
    PERCENT,
    RELATIONS,
    SIGNS,
    Alphabet,
    Token,
)
from boardproof.algebra.spoken_numbers import hear_number, hear_unit
from boardproof.algebra.vocabulary import words_of
from boardproof.quantities import read_unit

__all__ = ["hear_tokens"]


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
