"""A progress bar for people at a terminal; plain lines elsewhere."""

from __future__ import annotations

import sys
from types import TracebackType
from typing import Final, Self

__all__ = ["Progress"]

WIDTH: Final = 30


class Progress:
    """Tells how far a long job is.

    Parameters
    ----------
    steps : int
        How many there are.
    quiet : bool
        Say nothing but what is said with `say`.

    Examples
    --------
    >>> with Progress(2, quiet=True) as progress:
    ...     progress.step("first")
    """

    def __init__(self, steps: int, *, quiet: bool = False) -> None:
        """Begin at nought."""
        self.steps, self.done, self.words = steps, 0, ""
        self.drawn = sys.stderr.isatty() and not quiet

    def __enter__(self) -> Self:
        """Draw the empty bar."""
        self._draw()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Leave a clean line."""
        self._clear()

    def step(self, words: str) -> None:
        """Begin the next step."""
        self.words = words
        self.done += 1
        self._draw()

    def skip(self, steps: int) -> None:
        """Leave steps out."""
        self.done += steps
        self._draw()

    def say(self, text: str) -> None:
        """Print a line above the bar."""
        self._clear()
        sys.stdout.write(text + "\n")
        sys.stdout.flush()
        self._draw()

    def _draw(self) -> None:
        if self.drawn:
            filled = WIDTH * min(self.done, self.steps) // max(1, self.steps)
            bar = "━" * filled + "·" * (WIDTH - filled)
            sys.stderr.write(f"\r\x1b[2K{bar} {self.done}/{self.steps} {self.words[:60]}")
            sys.stderr.flush()

    def _clear(self) -> None:
        if self.drawn:
            sys.stderr.write("\r\x1b[2K")
            sys.stderr.flush()
