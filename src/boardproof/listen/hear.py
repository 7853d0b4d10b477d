"""From captions to words and tokens; every word knows its caption, so a quote is a slice of what stands there."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from boardproof.algebra.ear import hear_tokens
from boardproof.algebra.spoken import Alphabet, Token
from boardproof.algebra.vocabulary import words_of
from boardproof.lesson.captions import Cue, time_stamp

__all__ = ["Speech", "hear", "spell"]

MOST_WORDS: Final = 60_000
STOPS: Final = re.compile(r"[.,;:!?…]+$")
PIECES: Final = re.compile(
    r"\d+(?:,\d{3})+(?:\.\d+)?|\d*\.\d+|\d+/\d+(?!\d)|\d+|[^\W\d_]+(?:\.[^\W\d_]){1,3}\.?|[^\W\d_]+\d*(?:_\{?\w+\}?)?"
    r"|[-+=<>×÷*/%²³−≈≤≥()]"
)
CONTRACTED: Final = {
    "isn't": ("is", "not"), "aren't": ("are", "not"), "doesn't": ("does", "not"), "don't": ("do", "not"),
    "won't": ("will", "not"), "can't": ("can", "not"), "wasn't": ("was", "not"), "didn't": ("did", "not"),
    "wouldn't": ("would", "not"), "shouldn't": ("should", "not"), "couldn't": ("could", "not"),
    "haven't": ("have", "not"),
    "hasn't": ("has", "not"), "weren't": ("were", "not"), "cannot": ("can", "not"), "it's": ("it", "is"),
    "that's": ("that", "is"), "there's": ("there", "is"), "here's": ("here", "is"), "what's": ("what", "is"),
    "let's": ("let", "us"), "i'm": ("i'm",), "i'd": ("i'd",), "i've": ("i've",), "i'll": ("i'll",),
    "it'd": ("it", "would"),
    "they're": ("they", "are"), "we're": ("we", "are"), "you're": ("you", "are"), "you'd": ("you", "would"),
    "we'd": ("we", "would"), "there'd": ("there", "would"), "it'll": ("it", "will"), "you'll": ("you", "will"),
    "she's": ("she", "is"), "he's": ("he", "is"), "who's": ("who", "is"), "which's": ("which", "is"),
}  # fmt: skip
HESITATIONS: Final = words_of("er um erm uh ah hmm mm uhm eh")
ASIDES: Final = (
    ("you", "know"),
    ("let", "us", "see"),
    ("kind", "of"),
    ("sort", "of"),
    ("basically",),
    ("actually",),
)
LED: Final = frozenset(
    {"the", "a", "terminal", "no", "any", "same", "its", "this", "that", "more", "less", "lower", "higher"}
)
ABBREVIATED: Final = re.compile(r"[a-z](?:\.[a-z])+")
DOTTED: Final = {"e.m.f": "emf", "p.d": "pd", "emf": "emf"}


@dataclass(frozen=True)
class Speech:
    """What was said.

    Parameters
    ----------
    cues : tuple of Cue
        The captions.
    said : tuple of (str, int)
        Every word as it stands, with the number of its caption.
    words, raw : tuple of str
        The words as they are compared (small letters, taken apart), and as they are written.
    at : tuple of int
        For each of these its place in `said`.
    stops : tuple of str
        Punctuation behind each.
    tokens : tuple of Token
        What they mean.
    """

    cues: tuple[Cue, ...]
    said: tuple[tuple[str, int], ...]
    words: tuple[str, ...]
    raw: tuple[str, ...]
    at: tuple[int, ...]
    stops: tuple[str, ...]
    tokens: tuple[Token, ...]

    def quote(self, start: int, end: int) -> str:
        """The words from `start` to `end` as they stand in the captions."""
        first, last = self.at[start], self.at[max(start, end - 1)]
        return " ".join(word for word, _ in self.said[first : last + 1])

    def word(self, token: int) -> str:
        """The word that a token begins with ("gives" for a relation)."""
        return self.words[self.tokens[token].start]

    def cue_of(self, word: int) -> int:
        """The caption of a word."""
        return self.said[self.at[word]][1]

    def time_of(self, word: int) -> str:
        """When its caption begins."""
        return time_stamp(self.cues[self.cue_of(word)].start)

    def ends_sentence(self, word: int) -> bool:
        """Whether a full stop or question mark stands behind a word."""
        return any(mark in self.stops[word] for mark in ".?!")


def spell(text: str) -> tuple[list[str], list[str], list[str]]:
    """One written word, taken apart: compared words, written words, stops behind each.

    Examples
    --------
    >>> spell("half-an-amp,")[0], spell("12V")[0], spell("EMF's")[0], spell("isn't")[0]
    (['half', 'an', 'amp'], ['12', 'v'], ['emf', "'s"], ['is', 'not'])
    """
    stop = STOPS.search(text)
    plain = text[: stop.start()] if stop else text
    plain = plain.replace("’", "'").strip("\"“”()[]'«»")
    low = plain.lower()
    ends = stop[0] if stop else ""
    if ABBREVIATED.fullmatch(low):
        ends = ends[1:]  # the last point of "p.d." ends no sentence
    if low in CONTRACTED:
        words = list(CONTRACTED[low])
        raw = words if len(words) > 1 else [plain]
    else:
        tail = ["'s"] if low.endswith("'s") else []
        raw = PIECES.findall(plain[:-2] if tail else plain)
        if len(raw) > 1 and "-" in raw and raw[0] not in "-−":
            raw = [piece for piece in raw if piece != "-"]
        words = [
            DOTTED.get(
                piece.lower().strip("."),
                piece.lower().strip(".") if piece.strip(".").isalpha() else piece.lower(),
            )
            for piece in raw
        ]
        words, raw = [*words, *tail], [*raw, *tail]
    return words, raw, [""] * (len(words) - 1) + [ends] if words else []


def hear(cues: Sequence[Cue], names: Sequence[str]) -> Speech:
    """Captions as words and tokens.

    Parameters
    ----------
    cues : sequence of Cue
        The captions.
    names : sequence of str
        The letters that the lesson has.

    Examples
    --------
    >>> speech = hear([Cue(0, 900, "so I equals"), Cue(900, 2000, "half an amp")], ["I"])
    >>> [token.kind for token in speech.tokens], speech.quote(3, 6)
    (['word', 'name', 'relation', 'number'], 'half an amp')
    """
    said = [(word, number) for number, cue in enumerate(cues) for word in cue.text.split()][:MOST_WORDS]
    words: list[str] = []
    raw: list[str] = []
    at: list[int] = []
    stops: list[str] = []
    for place, (word, _) in enumerate(said):
        pieces, written, ends = spell(word)
        if len(pieces) == 1 and pieces[0] in HESITATIONS:
            if stops and ends[0].strip(","):
                stops[-1] += ends[0]
            continue
        words += pieces
        raw += written
        stops += ends
        at += [place] * len(pieces)
    kept = _without_asides(words)
    words, raw, at, stops = ([column[n] for n in kept] for column in (words, raw, at, stops))  # type: ignore[assignment]  # each keeps its own kind
    alphabet = Alphabet(names, keeps_case=_keeps_case(raw))
    tokens = _initials(hear_tokens(words, raw, alphabet, stops))
    return Speech(tuple(cues), tuple(said), tuple(words), tuple(raw), tuple(at), tuple(stops), tokens)


def _initials(tokens: tuple[Token, ...]) -> tuple[Token, ...]:
    """Said letter by letter: "the terminal p d"."""
    found: list[Token] = []
    for token in tokens:
        before = found[-1] if found else None
        led = found[-2].text if len(found) > 1 else ""
        spelt = (
            before is not None
            and before.kind == token.kind == "word"
            and (before.text, token.text) == ("p", "d")
        )
        if spelt and before is not None and led in LED:
            found[-1] = replace(before, text="pd", end=token.end)
        else:
            found.append(token)
    return tuple(found)


def _without_asides(words: Sequence[str]) -> list[int]:
    """Places of the words that are left when "you know", "let's see" and the like are taken out."""
    kept: list[int] = []
    place = 0
    while place < len(words):
        aside = next((each for each in ASIDES if tuple(words[place : place + len(each)]) == each), None)
        if aside is None:
            kept.append(place)
        place += len(aside or ("",))
    return kept


def _keeps_case(raw: Sequence[str]) -> bool:
    """Whether single letters are written both large and small, so that case can be trusted."""
    single = [word for word in raw if len(word) == 1 and word.isalpha() and word not in "aIi"]
    return any(word.isupper() for word in single) and any(word.islower() for word in single)
