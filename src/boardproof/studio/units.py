"""Places in a text as a browser counts them: in UTF-16 units. Nothing but the studio's edge counts so."""

from __future__ import annotations

from bisect import bisect_left

from boardproof.source import Span

__all__ = ["Units"]


class Units:
    r"""Turns code points of one text into UTF-16 units and back.

    Parameters
    ----------
    text : str
        The text.

    Examples
    --------
    >>> Units("a\U0001d6fcb").at(2), Units("a\U0001d6fcb").point(3)
    (3, 2)
    """

    def __init__(self, text: str) -> None:
        """Note where the wide ones stand."""
        self._wide = [place for place, char in enumerate(text) if ord(char) > 0xFFFF]
        self._after = [place + number + 2 for number, place in enumerate(self._wide)]

    def at(self, point: int) -> int:
        """UTF-16 units before a code point.

        Parameters
        ----------
        point : int
            From 0.
        """
        return point + bisect_left(self._wide, point)

    def point(self, unit: int) -> int:
        """Code points before a UTF-16 unit; one in the middle of a pair counts as before it.

        Parameters
        ----------
        unit : int
            From 0.
        """
        whole = bisect_left(self._after, unit + 1)
        return unit - whole - (1 if whole < len(self._after) and self._after[whole] - 1 == unit else 0)

    def span(self, span: Span) -> tuple[int, int]:
        """Both ends of a place.

        Parameters
        ----------
        span : Span
            In this text.
        """
        return self.at(span.start), self.at(span.end)
