"""The script as it would be said, cut into clauses; each word knows which proved piece of the lesson it speaks."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from boardproof.algebra.ear import hear_tokens
from boardproof.algebra.expression import Condition
from boardproof.algebra.spoken import Alphabet, Token
from boardproof.listen.align import Clause
from boardproof.listen.hear import spell
from boardproof.prove.world import World

__all__ = ["Piece", "PieceKind", "Script", "cut"]

PieceKind = Literal["words", "maths", "value", "limit", "wrong"]
SHORT = 4


@dataclass(frozen=True)
class Piece:
    """A stretch of the script.

    Parameters
    ----------
    text : str
        As it would be said.
    kind : PieceKind
        Plain words, a proved relation, a value, a limit, or a trap's wrong statement.
    world : World or None
        What its letters mean.
    condition : Condition or None
        What a relation is proved under.
    """

    text: str
    kind: PieceKind = "words"
    world: World | None = None
    condition: Condition | None = None


@dataclass(frozen=True)
class Script:
    """The whole script.

    Parameters
    ----------
    pieces : tuple of Piece
        In order.
    clauses : tuple of Clause
        What is looked for in the talk.
    sentences : tuple of str
        For each clause the sentence it stands in.
    """

    pieces: tuple[Piece, ...]
    clauses: tuple[Clause, ...]
    sentences: tuple[str, ...]


def cut(paragraphs: Sequence[Sequence[Piece]], names: Sequence[str]) -> Script:
    """Cut paragraphs into clauses.

    Parameters
    ----------
    paragraphs : sequence of sequence of Piece
        The lesson, in order.
    names : sequence of str
        The letters that it has.
    """
    alphabet = Alphabet(names)
    pieces: list[Piece] = []
    clauses: list[Clause] = []
    sentences: list[str] = []
    for paragraph in paragraphs:
        first = len(pieces)
        pieces += paragraph
        for tokens, owners, sentence in _clauses(paragraph, first, alphabet):
            lean = _lean(tokens, [pieces[owner] for owner in owners])
            clauses.append(Clause(len(clauses), tokens, owners, lean))
            sentences.append(sentence)
    return Script(tuple(pieces), tuple(clauses), tuple(sentences))


def _lean(tokens: Sequence[Token], owners: Sequence[Piece]) -> frozenset[int]:
    """Tokens of formulas that stand among words, up to each chain's last member."""
    content = [n for n, token in enumerate(tokens) if owners[n].kind == "words" and token.kind == "word"]
    if len(content) < 2:
        return frozenset()
    found: set[int] = set()
    for piece in {id(owner): owner for owner in owners if owner.kind == "maths"}.values():
        mine = [n for n, owner in enumerate(owners) if owner is piece]
        relations = [n for n in mine if tokens[n].kind == "relation"]
        found |= {n for n in mine if relations and n <= relations[-1]}
    return frozenset(found)


def _clauses(
    paragraph: Sequence[Piece], first: int, alphabet: Alphabet
) -> list[tuple[tuple[Token, ...], tuple[int, ...], str]]:
    words: list[str] = []
    raw: list[str] = []
    stops: list[str] = []
    owners: list[int] = []
    written: list[tuple[str, int]] = []
    for number, piece in enumerate(paragraph):
        for word in piece.text.split():
            pieces, typed, ends = spell(word)
            if not pieces and stops:
                stops[-1] += word
            words, raw, stops = words + pieces, raw + typed, stops + ends
            owners += [number] * len(pieces)
            written.append((word, len(words)))
    tokens = hear_tokens(words, raw, alphabet)
    ends_at = _breaks(words, stops, owners, paragraph)
    found = []
    start = 0
    for end in ends_at:
        inside = tuple(token for token in tokens if start <= token.start < end)
        if inside:
            sentence = _sentence(written, stops, start, end)
            found.append((inside, tuple(first + owners[token.start] for token in inside), sentence))
        start = end
    return found


def _breaks(words: list[str], stops: list[str], owners: list[int], paragraph: Sequence[Piece]) -> list[int]:
    """Where clauses end: at stops, and at commas unless they would leave a scrap or cut a formula."""
    found: list[int] = []
    start = 0
    for place, stop in enumerate(stops):
        after = words[place + 1] if place + 1 < len(words) else ""
        in_maths = paragraph[owners[place]].kind != "words"
        hard = any(mark in stop for mark in ".?!;:")
        soft = "," in stop and (after == "and" if in_maths else place + 1 - start >= SHORT)
        if hard or soft or place == len(stops) - 1:
            found.append(place + 1)
            start = place + 1
    return found


def _sentence(written: list[tuple[str, int]], stops: list[str], start: int, end: int) -> str:
    """The whole sentence around a clause, as it would be said."""
    while start > 0 and not any(mark in stops[start - 1] for mark in ".?!"):
        start -= 1
    while end < len(stops) and not any(mark in stops[end - 1] for mark in ".?!"):
        end += 1
    text = " ".join(word for word, behind in written if start < behind <= end)
    return re.sub(r"\s+([,.;:!?])", r"\1", text)
