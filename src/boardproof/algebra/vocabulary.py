"""Sets of words, written as they are read: side by side."""

from __future__ import annotations

__all__ = ["words_of"]


def words_of(text: str) -> frozenset[str]:
    """The words of a text, each once.

    Parameters
    ----------
    text : str
        Words with spaces between.

    Examples
    --------
    >>> sorted(words_of("plus minus plus"))
    ['minus', 'plus']
    """
    return frozenset(text.split())
