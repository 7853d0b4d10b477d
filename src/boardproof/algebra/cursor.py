"""A place in a list of signs: what is next, what may be taken, what went wrong there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from boardproof.algebra.refusal import Stopped, stop
from boardproof.algebra.tokens import Token
from boardproof.source import Slice, Span

__all__ = ["DEPTH_AT_MOST", "Cursor"]

DEPTH_AT_MOST: Final = 40


@dataclass(slots=True)
class Cursor:
    """A list of signs, read from left to right.

    Parameters
    ----------
    signs : list of Token
        Ended by one of kind "end".
    whole : Slice
        The line they were cut from.
    at, depth : int
        The sign that is next, and how many brackets stand around it.
    """

    signs: list[Token]
    whole: Slice
    at: int = 0
    depth: int = 0

    @property
    def next(self) -> Token:
        """The sign that is next."""
        return self.signs[self.at]

    def ended(self) -> bool:
        """Whether every sign is taken."""
        return self.signs[self.at].kind == "end"

    def take(self) -> Token:
        """Take the next sign."""
        token = self.signs[self.at]
        self.at = min(self.at + 1, len(self.signs) - 1)
        return token

    def is_sign(self, *texts: str) -> bool:
        """Whether one of these signs is next."""
        token = self.signs[self.at]
        return token.kind == "sign" and token.text in texts

    def is_word(self, *texts: str) -> bool:
        """Whether one of these words is next."""
        token = self.signs[self.at]
        return token.kind == "word" and token.text in texts

    def expect(self, text: str, opened: Token) -> Token:
        """Take a closing bracket; `opened` is the one that it closes."""
        if not self.is_sign(text):
            raise self.unread(
                f"the bracket {opened.text} is not closed" if text in ")}" else f"{text} is missing"
            )
        return self.take()

    def unread(self, reason: str, token: Token | None = None, hint: str = "") -> Stopped:
        """Why the reading stops here, ready to be raised."""
        span = (token or self.next).span
        return stop("unread-maths", span, reason=reason, hint=hint)

    def since(self, start: Span) -> Span:
        """The place from a sign's start to the end of the last sign taken."""
        return Span(start.source, start.start, max(start.end, self.signs[self.at - 1].span.end))

    def typed(self, first: int, after: int) -> str:
        """What was typed from one sign up to, but not including, another."""
        base = self.whole.span.start
        start, end = self.signs[first].span.start - base, self.signs[after - 1].span.end - base
        return " ".join(self.whole.text[start:end].split())

    def deeper(self, token: Token) -> None:
        """One bracket deeper; a line too deep is refused."""
        self.depth += 1
        if self.depth > DEPTH_AT_MOST:
            raise stop("deep-maths", token.span, most=str(DEPTH_AT_MOST))
