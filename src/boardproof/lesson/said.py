"""A paragraph as running words: what is said aloud, what is printed, and how many words that is.

How a formula or a value sounds is not known here: the caller hands that in.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final, assert_never

from boardproof.lesson.sentence import Fill, Maths, Move, Paragraph, Tie, Words

__all__ = ["printed_words", "spoken_words", "word_count"]

EMPHASIS: Final = re.compile(r"(?<!\w)(\*{1,3}|_{1,3})(?=\S)(.+?)(?<=\S)\1(?!\w)", re.DOTALL)
SPACE: Final = re.compile(r"\s+")
BEFORE_A_STOP: Final = re.compile(r"\s+([,.;:!?])(?=\s|$)")


def printed_words(paragraph: Paragraph, fill: Callable[[Fill], str], maths: Callable[[Maths], str]) -> str:
    """The words of a paragraph as they are printed; board moves leave no trace.

    Parameters
    ----------
    paragraph : Paragraph
        Any.
    fill : callable
        What is printed for a value to be filled in.
    maths : callable
        What is printed for maths.

    Examples
    --------
    >>> from boardproof.lesson.read import read_lesson
    >>> from boardproof.source import Source
    >>> lesson, _ = read_lesson(Source("a", "It gives {I} `focus A` to **the load**."))
    >>> printed_words(lesson.scenes[0].blocks[0], lambda value: "2 A", lambda formula: formula.text.text)
    'It gives 2 A to the load.'
    """
    words = []
    for piece in paragraph.content:
        match piece:
            case Words(text=text):
                words.append(text)
            case Maths():
                words.append(maths(piece))
            case Fill():
                words.append(fill(piece))
            case Tie(words=tied):
                words.append(EMPHASIS.sub(r"\2", tied.text))
            case Move():
                words.append(" ")
            case _:
                assert_never(piece)
    return BEFORE_A_STOP.sub(r"\1", SPACE.sub(" ", "".join(words))).strip()


def spoken_words(paragraph: Paragraph, fill: Callable[[Fill], str], say: Callable[[Maths], str]) -> str:
    r"""The words of a paragraph as they are said; empty for a block quote, which is printed only.

    Parameters
    ----------
    paragraph : Paragraph
        Any.
    fill : callable
        How a value to be filled in is said.
    say : callable
        How maths is said.

    Examples
    --------
    >>> from boardproof.lesson.read import read_lesson
    >>> from boardproof.source import Source
    >>> lesson, _ = read_lesson(Source("a", "> A law.\n\nNow $I = 2 A$."))
    >>> [spoken_words(block, str, lambda formula: "I is two amperes") for block in lesson.scenes[0].blocks]
    ['', 'Now I is two amperes.']
    """
    return printed_words(paragraph, fill, say) if paragraph.said else ""


def word_count(text: str) -> int:
    """How many words are said.

    Parameters
    ----------
    text : str
        As it is said.

    Examples
    --------
    >>> word_count("minus nought point one -- that is all")
    7
    """
    return sum(1 for word in text.split() if any(char.isalnum() for char in word))
