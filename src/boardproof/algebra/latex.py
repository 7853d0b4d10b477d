"""LaTeX spelling put into plain signs, keeping for every character the place it came from."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from boardproof.algebra.refusal import stop
from boardproof.findings import near_names
from boardproof.source import Slice, Span

__all__ = ["ADDED", "FRACTION", "LEFT_BAR", "RIGHT_BAR", "ROOT", "Plain", "plain_signs"]

FRACTION, ROOT, ADDED, LEFT_BAR, RIGHT_BAR = "\ue000", "\ue001", "∑", "\ue003", "\ue004"
COMMANDS: Final[Mapping[str, str]] = {
    "frac": FRACTION,
    "dfrac": FRACTION,
    "tfrac": FRACTION,
    "sqrt": ROOT,
    "sum": ADDED,
    "lvert": LEFT_BAR,
    "rvert": RIGHT_BAR,
    **dict.fromkeys(("left", "right", "displaystyle"), ""),
    **dict.fromkeys(("quad", "qquad"), " "),
    **dict.fromkeys(("le", "leq"), "≤"),
    **dict.fromkeys(("ge", "geq"), "≥"),
    **dict.fromkeys(("ne", "neq"), "≠"),
    "lt": "<",
    "gt": ">",
    "approx": "≈",
    "parallel": "∥",
    "cdot": "·",
    "times": "×",
    "div": "÷",
    "infty": "∞",
    **dict.fromkeys(("to", "rightarrow"), "→"),
    **dict.fromkeys(("dots", "cdots", "ldots"), "…"),
    "varepsilon": "E",
    "epsilon": "E",
    "Omega": "Ω",
    "mu": "µ",
    "eta": "η",
    "tau": "τ",
    "rho": "ρ",
    "pi": "π",
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "theta": "θ",
    "lambda": "λ",
    "sigma": "σ",
    "phi": "φ",
    "omega": "ω",
    "Delta": "Δ",
    "Phi": "Φ",
    "Sigma": "Σ",
    "Lambda": "Λ",
    "Gamma": "Γ",
    "varphi": "φ",
}
BRACED: Final = ("mathrm", "text", "mathcal", "mathit", "textrm", "operatorname")
UPRIGHT: Final = frozenset({"mathrm", "text", "textrm"})
SPACES: Final = ",;!: "
COMMAND: Final = re.compile(r"\\([A-Za-z]+|.|$)", re.DOTALL)
OPENING: Final = re.compile(r"\s*\{")


@dataclass(frozen=True, slots=True)
class Plain:
    """Maths in plain signs.

    Parameters
    ----------
    text : str
        The signs.
    starts : tuple of int or None
        For every character its place in the source; None where nothing was changed.
    whole : Slice
        The source.
    upright : frozenset of int
        Where upright letters begin.
    """

    text: str
    starts: tuple[int, ...] | None
    whole: Slice
    upright: frozenset[int] = frozenset()

    def span(self, start: int, end: int) -> Span:
        """Place in the source of the characters from `start` to `end`."""
        base = self.whole.span.start
        if self.starts is None:
            return Span(self.whole.span.source, base + start, base + end)
        return Span(self.whole.span.source, base + self.starts[start], base + self.starts[end])


def plain_signs(whole: Slice) -> Plain:
    r"""Maths in plain signs.

    Parameters
    ----------
    whole : Slice
        As typed; plain spelling is left alone.

    Raises
    ------
    Stopped
        At a command that nobody knows.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> plain_signs(Source("x", r"a \times b \le c").slice()).text
    'a × b ≤ c'
    """
    text = whole.text
    if not any(sign in text for sign in ("\\", "~", "{,}")):
        return Plain(text, None, whole)
    out: list[str] = []
    starts: list[int] = []
    digits: set[int] = set()  # places of single digits that are arguments of a fraction
    ends: dict[int, str] = {}  # places of closing braces of \text{...} and what to put there
    upright: set[int] = set()  # where the letters of \mathrm{...} begin in what is put out

    def put(what: str, place: int) -> None:
        out.extend(what)
        starts.extend([place] * len(what))

    place = 0
    while place < len(text):
        char = text[place]
        if place in ends:
            put(ends[place], place)
        elif place in digits:
            put("{" + char + "}", place)
        elif char == "~":
            put(" ", place)
        elif text.startswith("{,}", place):
            put(",", place)  # LaTeX for a decimal comma
            place += 2
        elif char != "\\":
            put(char, place)
        else:
            word = COMMAND.match(text, place)
            place = _command(whole, place, put, out, digits, ends)
            if word and word[1] in UPRIGHT:
                upright.add(len(out))
            continue
        place += 1
    return Plain("".join(out), (*starts, len(text)), whole, frozenset(upright))


def _command(
    whole: Slice, place: int, put: object, out: list[str], digits: set[int], ends: dict[int, str]
) -> int:
    """Put one command into plain signs; the place after it."""
    assert callable(put)
    text = whole.text
    found = COMMAND.match(text, place)
    assert found
    word, after = found[1], found.end()
    if word == "mu":
        put("µ", place)
        after = re.compile(r"(?:\s|\\,)*").match(text, after).end()  # type: ignore[union-attr]  # it matches nothing too
    elif word in COMMANDS:
        put(COMMANDS[word], place)
        if COMMANDS[word] == FRACTION:
            _mark_digits(text, after, digits)
    elif word in BRACED:
        opening = OPENING.match(text, after)
        closing = _closing(text, opening.end() - 1) if opening else None
        if opening is None or closing is None:
            raise stop("unread-maths", whole.part(place, after).span, reason=f"\\{word} needs braces")
        inside = "".join(out).rstrip()[-1:]
        put("{" if inside == "_" else "" if inside in ("{", "µ") or word == "mathcal" else " ", place)
        ends[closing] = "}" if inside == "_" else "" if inside == "{" or word == "mathcal" else " "
        after = opening.end()
    elif word and word in SPACES:
        put(" ", place)
    else:
        near = " or ".join(f"\\{each}" for each in near_names(word, [*COMMANDS, *BRACED]))
        raise stop("unread-command", whole.part(place, after).span, word=f"\\{word}", near=near)
    return after


def _closing(text: str, opening: int) -> int | None:
    depth = 0
    for place in range(opening, len(text)):
        depth += {"{": 1, "}": -1}.get(text[place], 0)
        if depth == 0:
            return place
    return None


def _mark_digits(text: str, place: int, digits: set[int]) -> None:
    r"""Mark single digits that are the arguments of a fraction: ``\tfrac14``."""
    for _ in range(2):
        while place < len(text) and text[place] == " ":
            place += 1
        if place >= len(text):
            return
        if text[place] in "0123456789":
            digits.add(place)
            place += 1
        elif text[place] == "{" and (closing := _closing(text, place)) is not None:
            place = closing + 1
        else:
            return
