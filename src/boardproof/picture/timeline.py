"""When each moment of a lesson comes: without gaps, in the lesson's order, up to the end of the sound."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from fractions import Fraction
from typing import Final, Literal

from boardproof.record import record

__all__ = ["STILL", "Entry", "Timeline", "at_pace"]

Entry = tuple[str, int, int]
STILL: Final = 1200  # what a change on the board takes with the stillness after it, when nothing is said


@record
class Timeline:
    """Moments in time.

    Parameters
    ----------
    source : {"pace", "recording", "captions"}
        Where the times come from: the course's pace, a recording's steps, or captions made elsewhere.
    entries : tuple of (str, int, int)
        Key, beginning and end of each moment in milliseconds; each begins where the one before ends.
    """

    source: Literal["pace", "recording", "captions"]
    entries: tuple[Entry, ...]

    def __post_init__(self) -> None:
        """Refuse gaps."""
        at = 0
        for key, start, end in self.entries:
            if start != at or end < start:
                raise ValueError(f"moment {key} runs from {start} to {end}, after {at}")
            at = end

    @property
    def length(self) -> int:
        """Milliseconds in all."""
        return self.entries[-1][2] if self.entries else 0

    def at(self, milliseconds: int) -> int | None:
        """Number of the moment at a time; the first and the last reach beyond the ends.

        Parameters
        ----------
        milliseconds : int
            From the beginning.

        Examples
        --------
        >>> Timeline("pace", (("a", 0, 1200), ("b", 1200, 3000))).at(1200)
        1
        """
        if not self.entries:
            return None
        return max(0, bisect_right(self.entries, milliseconds, key=lambda entry: entry[1]) - 1)


def at_pace(moments: Iterable[tuple[str, Fraction]]) -> Timeline:
    """Moments at an estimated pace; a change without words has its time too.

    Parameters
    ----------
    moments : iterable of (str, Fraction)
        Key of each moment, and how many seconds its words take.

    Examples
    --------
    >>> at_pace([("1-scene-0", Fraction(5, 2)), ("1-move-1", Fraction(0))]).entries
    (('1-scene-0', 0, 2500), ('1-move-1', 2500, 3700))
    """
    entries: list[Entry] = []
    start = 0
    for key, seconds in moments:
        end = start + max(STILL, round(1000 * seconds))
        entries.append((key, start, end))
        start = end
    return Timeline("pace", tuple(entries))
