"""Where in a talk each stretch of the script was said, however loosely the teacher kept to it.

The script is cut into clauses. Each looks for its place among the words that were said: candidates come from shared
words, the best one from a semi-global alignment (Needleman and Wunsch, with free ends in the talk). Clauses that fit
best choose first; the others are looked for near where their neighbours stand. So sentences may come in another order.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from boardproof.algebra.spoken import Token
from boardproof.listen.opposites import FUNCTION_WORDS, pole_of, stem, strength_of
from boardproof.record import record

__all__ = ["Clause", "Placed", "align", "is_equal", "is_short_for", "key_of", "weight", "word_of"]

BEST_WINDOWS: Final = 4
ENOUGH: Final = 0.42
NEAR: Final = 45
CRITICAL: Final = frozenset({"number", "name", "sign", "relation"})
NOTHING: Final = -1
UNSAID: Final = -0.15
BEGINNING: Final = 1.0


@record
class Clause:
    """A stretch of the script that is looked for as a whole.

    Parameters
    ----------
    number : int
        Its place among the clauses.
    tokens : tuple of Token
        As the script would be said.
    pieces : tuple of int
        For each token the piece of the script it belongs to.
    lean : frozenset of int
        Tokens of a formula within a sentence: a speaker may give its value alone.
    """

    number: int
    tokens: tuple[Token, ...]
    pieces: tuple[int, ...]
    lean: frozenset[int] = frozenset()


@record
class Placed:
    """A clause with its place in the talk.

    Parameters
    ----------
    clause : Clause
        Which.
    pairs : tuple of (int, int)
        Token of the clause, token of the talk; -1 where one has no partner.
    share : float
        How much of the clause was found, from 0 to 1.
    """

    clause: Clause
    pairs: tuple[tuple[int, int], ...]
    share: float

    @property
    def heard(self) -> tuple[int, ...]:
        """The talk's tokens that have a partner."""
        return tuple(there for here, there in self.pairs if here >= 0 and there >= 0)


def key_of(token: Token) -> tuple[str, str]:
    """What makes two tokens the same for finding a place."""
    match token.kind:
        case "number":
            return "number", f"{token.value}"
        case "name":
            return "name", "/".join(token.names)
        case "word":
            return "word", stem(token.text)
        case "sign":
            return "sign", "/" if token.text == "all/" else token.text
        case _:
            return token.kind, token.text


def is_equal(a: Token, b: Token) -> bool:
    """Whether two tokens say the same."""
    if a.kind == "number" and b.kind == "number":
        return a.value == b.value and (not a.text or not b.text or _measure(a) == _measure(b))
    if a.kind == "name" and b.kind == "name":
        # "r" and a part's name behind it may be heard as one letter: "... r. T and Q lift".
        short = is_short_for(a, b) or is_short_for(b, a)
        return (
            short
            or bool(set(a.names) & set(b.names))
            or any(
                one.startswith(f"{other}_") and one[-1].isupper()
                for one, other in ((a.names[0], b.names[0]), (b.names[0], a.names[0]))
            )
        )
    if a.kind == b.kind == "word":
        poles = pole_of(a.text), pole_of(b.text)
        return (
            a.text == b.text
            or (stem(a.text) == stem(b.text) and (poles[0] is None or poles[0] == poles[1]))
            or (poles[0] is not None and poles[0] == poles[1])
        )
    return key_of(a) == key_of(b)


def is_short_for(said: Token, wanted: Token) -> bool:
    """Whether a letter is said without the word below it: "E" for E_line.

    Parameters
    ----------
    said, wanted : Token
        A letter of the talk, a letter of the script.
    """
    if said.kind != "name" or wanted.kind != "name" or set(said.names) & set(wanted.names):
        return False
    letter, _, below = wanted.names[0].partition("_")
    return len(below) > 1 and below.isalpha() and letter in said.names


def _measure(token: Token) -> object:
    return token.unit.dimension if token.unit else token.text


def weight(token: Token) -> float:
    """How much a token tells about where one is."""
    match token.kind:
        case "number" | "name":
            return 2.4
        case "sign":
            return 1.2
        case "relation":
            return 0.6
        case _:
            return strength_of(token.text)


def _score(a: Token, b: Token) -> float:
    if is_equal(a, b):
        return weight(a)
    if a.kind == b.kind and a.kind in CRITICAL:
        return -0.1 if a.kind != "relation" else 0.0
    poles = pole_of(word_of(a)), pole_of(word_of(b))
    if poles[0] and poles[1] and poles[0][0] == poles[1][0]:
        return 0.2
    if a.kind == b.kind == "word":
        if len(a.text) == 1 and len(b.text) == 1:
            return 0.0
        return -0.6 if a.text in FUNCTION_WORDS and b.text in FUNCTION_WORDS else -1.3
    return -2.5


def word_of(token: Token) -> str:
    """A plain word, or the word that a relation was said with."""
    return token.text if token.kind == "word" else token.word


def _gap(token: Token) -> float:
    if token.kind == "word":
        return -0.12 if token.text in FUNCTION_WORDS else -0.5
    return -0.5 if token.kind == "relation" else -0.8


class _Scores:
    """Scores of token pairs, each kind of pair worked out once."""

    def __init__(self) -> None:
        self.codes: dict[tuple[object, ...], int] = {}
        self.pairs: dict[tuple[int, int], float] = {}
        self.tokens: list[Token] = []

    def code(self, token: Token) -> int:
        """Tokens that score alike share a number."""
        key = (token.kind, token.text, token.names, token.value, token.word)
        if key not in self.codes:
            self.codes[key] = len(self.tokens)
            self.tokens.append(token)
        return self.codes[key]

    def of(self, one: int, other: int) -> float:
        """The score of two numbers."""
        found = self.pairs.get((one, other))
        if found is None:
            found = self.pairs[one, other] = _score(self.tokens[one], self.tokens[other])
        return found


@dataclass(frozen=True)
class _Talk:
    """A talk as numbers of tokens that score alike, and what it costs to leave each out."""

    codes: list[int]
    gaps: list[float]
    scores: _Scores


def _fit(clause: Clause, talk: _Talk, start: int, end: int) -> tuple[float, list[tuple[int, int]]]:
    """The best alignment of a clause within a window of the talk, and its score."""
    width = end - start
    gaps, scores = talk.gaps[start:end], talk.scores
    codes = [scores.code(token) for token in clause.tokens]
    rows: list[list[float]] = [[0.0] * (width + 1)]
    steps: list[list[int]] = [[0] * (width + 1)]
    window = talk.codes[start:end]
    for place, (token, code) in enumerate(zip(clause.tokens, codes, strict=True)):
        above = rows[-1]
        missing = max(_gap(token), UNSAID) if place in clause.lean else _gap(token)
        known = {other: scores.of(code, other) for other in set(window)}
        left = above[0] + missing
        row, step = [left], [1]
        for n, other in enumerate(window):
            best, way = above[n] + known[other], 0
            if (up := above[n + 1] + missing) > best:
                best, way = up, 1
            if (left := left + gaps[n]) > best:
                best, way = left, 2
            left = best
            row.append(best)
            step.append(way)
        rows.append(row)
        steps.append(step)
    last = rows[-1]
    column = max(range(width + 1), key=last.__getitem__)
    score, line = last[column], len(clause.tokens)
    pairs: list[tuple[int, int]] = []
    while line > 0:
        match steps[line][column] if column else 1:
            case 0:
                line, column = line - 1, column - 1
                pairs.append((line, start + column))
            case 1:
                line -= 1
                pairs.append((line, NOTHING))
            case _:
                column -= 1
                pairs.append((NOTHING, start + column))
    return score, pairs[::-1]


def align(
    clauses: Sequence[Clause], talk: Sequence[Token], starts: frozenset[int] = frozenset()
) -> tuple[Placed, ...]:
    """Find every clause in the talk.

    Parameters
    ----------
    clauses : sequence of Clause
        The script.
    talk : sequence of Token
        What was said.
    starts : frozenset of int
        Tokens of the talk that begin a sentence: a clause hardly reaches over one.

    Returns
    -------
    tuple of Placed
        Those that were found, in script order; no word of the talk belongs to two.
    """
    return _Aligner(clauses, talk, starts).run()


def _whole(clause: Clause, pairs: Sequence[tuple[int, int]]) -> float:
    """What a clause would score if all of it were said; an unsaid formula in a sentence hardly counts."""
    unsaid = {here for here, there in pairs if there < 0} & clause.lean
    return sum(weight(token) * (0.1 if n in unsaid else 1.0) for n, token in enumerate(clause.tokens)) or 1.0


class _Aligner:
    def __init__(self, clauses: Sequence[Clause], talk: Sequence[Token], starts: frozenset[int]) -> None:
        self.clauses, self.talk = clauses, talk
        self.where: dict[tuple[str, str], list[int]] = defaultdict(list)
        for place, token in enumerate(talk):
            self.where[key_of(token)].append(place)
        scores = _Scores()
        gaps = [_gap(token) - (BEGINNING if n in starts else 0.0) for n, token in enumerate(talk)]
        self.numbers = _Talk([scores.code(token) for token in talk], gaps, scores)
        self.taken = [False] * len(talk)
        self.placed: dict[int, Placed] = {}

    def run(self) -> tuple[Placed, ...]:
        waiting = [clause for clause in self.clauses if len(clause.tokens) >= 2]
        for round_, least in enumerate((0.72, 0.55, ENOUGH, 0.34)):
            found = [fit for clause in waiting if (fit := self.best(clause, near=round_ > 0)) is not None]
            found.sort(key=lambda fit: -fit.share * min(len(fit.clause.tokens), 8))
            for fit in found:
                self.take(fit, least if len(fit.clause.tokens) > 4 else max(least, 0.5))
            waiting = [clause for clause in waiting if clause.number not in self.placed]
        return tuple(self.placed[number] for number in sorted(self.placed))

    def take(self, fit: Placed, least: float) -> None:
        """Give a clause its place if it fits well and the words are still free."""
        if fit.share < least or fit.clause.number in self.placed:
            return
        heard = fit.heard
        if not heard or sum(self.taken[place] for place in heard) > 0.25 * len(heard):
            return
        for place in range(heard[0], heard[-1] + 1):
            self.taken[place] = True
        self.placed[fit.clause.number] = fit

    def best(self, clause: Clause, *, near: bool) -> Placed | None:
        """The best place of a clause among its windows."""
        fits = [
            (*_fit(clause, self.numbers, start, end), start) for start, end in self.windows(clause, near=near)
        ]
        expected = self.expected(clause)
        if not fits:
            return None

        def worth(fit: tuple[float, list[tuple[int, int]], int]) -> float:
            away = abs(fit[2] - expected[0]) / max(len(self.talk), 1) if expected else 0.0
            return fit[0] / _whole(clause, fit[1]) - 0.3 * away

        score, pairs, _ = max(fits, key=worth)
        return Placed(clause, tuple(pairs), max(0.0, score / _whole(clause, pairs)))

    def expected(self, clause: Clause) -> tuple[int, int] | None:
        """About where a clause should stand by its neighbours."""
        before = next((self.placed[n] for n in range(clause.number - 1, -1, -1) if n in self.placed), None)
        after = next(
            (self.placed[n] for n in range(clause.number + 1, len(self.clauses)) if n in self.placed), None
        )
        if before is None and after is None:
            return None
        first = before.heard[-1] if before else max(0, after.heard[0] - NEAR)  # type: ignore[union-attr]  # one of them is there
        last = after.heard[0] if after else first + NEAR
        return (first, last) if first <= last else (last, first)

    def windows(self, clause: Clause, *, near: bool) -> list[tuple[int, int]]:
        length = len(clause.tokens)
        reach = length + 8
        hits: Counter[int] = Counter()
        for token in clause.tokens:
            places = self.where.get(key_of(token), ())
            rarity = weight(token) / (1 + len(places))
            for place in places:
                if not self.taken[place]:
                    hits[place // 8] += rarity  # type: ignore[assignment]  # a share is fine as a count
        scored: Counter[int] = Counter()
        for block, worth in hits.items():
            for other in (block - 1, block, block + 1):
                scored[other] += worth
        found = [block * 8 + 4 for block, _ in scored.most_common(BEST_WINDOWS)]
        spans = {(max(0, middle - reach), min(len(self.talk), middle + reach)) for middle in found}
        if near and (expected := self.expected(clause)) is not None and expected[1] - expected[0] <= 4 * NEAR:
            spans |= {(max(0, expected[0] - length), min(len(self.talk), expected[1] + length + 4))}
        return [self.free(start, end) for start, end in sorted(spans)]

    def free(self, start: int, end: int) -> tuple[int, int]:
        """A window without the taken words at its ends."""
        while start < end and self.taken[start]:
            start += 1
        while end > start and self.taken[end - 1]:
            end -= 1
        return start, end
