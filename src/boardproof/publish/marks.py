"""The marks beside statements, made from the equals sign: each verdict has its own outline, hue is a courtesy.

A mark stands in a box of 20 by 20 and always beside its word.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from boardproof.publish.palette import Ink, Theme, colour

__all__ = ["MARKS", "Piece", "VerdictKind", "VerdictMark", "mark_shapes", "mark_svg"]

VerdictKind = Literal[
    "true", "true-only-when", "near-enough", "right-number-wrong-reason", "wrong", "units-differ",
    "not-checked", "not-yet-following",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Piece:
    """A path of a mark: filled (overlaps are holes) if `weight` is 0, else drawn as a line."""

    path: str
    weight: float = 0.0
    dash: str = ""


@dataclass(frozen=True, slots=True)
class VerdictMark:
    """A verdict's word, its ink, and its outline."""

    word: str
    ink: Ink
    pieces: tuple[Piece, ...]


def _bar(y: float, left: float = 5.6, right: float = 14.4) -> str:
    return f"M{left} {y - 0.95:g}H{right}V{y + 0.95:g}H{left}Z"


def _slash(top: float, bottom: float) -> str:
    """Part of the stroke from (12.6, 4.2) to (7.4, 15.8) between two heights, 1.9 thick, with level ends."""
    half = 1.04  # half of 1.9, measured along a level line
    at = {y: 12.6 - (y - 4.2) * 5.2 / 11.6 for y in (top, bottom)}
    return (
        f"M{at[top] - half:.2f} {top:g}L{at[top] + half:.2f} {top:g}"
        f"L{at[bottom] + half:.2f} {bottom:g}L{at[bottom] - half:.2f} {bottom:g}Z"
    )


def _disc(radius: float) -> str:
    half = f"A{radius} {radius} 0 1 1"
    return f"M{10 - radius:g} 10{half} {10 + radius:g} 10{half} {10 - radius:g} 10Z"


def _wave(y: float) -> str:
    ys = (f"{y + up:g}" for up in (0.6, -2.1, -1.5, 0, 1.5, 2.1, -0.6))
    return "M5.4 {}C6.9 {} 8.5 {} 10 {}C11.5 {} 13.1 {} 14.6 {}".format(*ys)


_RIGHT_SIDE = "1.2H17.4A1.4 1.4 0 0 1 18.8 2.6V17.4A1.4 1.4 0 0 1 17.4 18.8"
_SQUARE = f"M2.6 {_RIGHT_SIDE}H2.6A1.4 1.4 0 0 1 1.2 17.4V2.6A1.4 1.4 0 0 1 2.6 1.2Z"
_HALF_AND_HALF = f"M10 {_RIGHT_SIDE}H10A8.8 8.8 0 0 1 10 1.2Z"
_TWO_BARS = _bar(7.9) + _bar(12.1)

MARKS: Mapping[VerdictKind, VerdictMark] = MappingProxyType(
    {
        "true": VerdictMark("true", "holds", (Piece(_disc(9) + _TWO_BARS),)),
        "true-only-when": VerdictMark(
            "true only when",
            "only",
            (Piece(_disc(8.2), 1.6), Piece(_bar(7)), Piece("M1.8 10H18.2A8.2 8.2 0 0 1 1.8 10Z" + _bar(13))),
        ),
        "near-enough": VerdictMark(
            "near enough", "only", (Piece(_disc(8.2), 1.6), Piece(_wave(7.6), 1.7), Piece(_wave(12.4), 1.7))
        ),
        "right-number-wrong-reason": VerdictMark(
            "right number, wrong reason",
            "wrong",
            (Piece(_HALF_AND_HALF + _TWO_BARS + _slash(9.7, 11.05) + _slash(13.05, 16.6)),),
        ),
        "wrong": VerdictMark(
            "wrong",
            "wrong",
            (Piece(_SQUARE + _TWO_BARS + _slash(4.2, 6.95) + _slash(8.85, 11.15) + _slash(13.05, 15.8)),),
        ),
        "units-differ": VerdictMark(
            "units don’t match",
            "units",
            (
                Piece("M0 9.6A8 8 0 0 1 16 9.6Z" + _bar(6.4, 4.2, 11.8)),
                Piece("M4 10.4A8 8 0 0 0 20 10.4Z" + _bar(13.6, 8.2, 15.8)),
            ),
        ),
        "not-checked": VerdictMark(
            "not checked",
            "open",
            (
                Piece(_disc(8.2), 1.6, "3.2 1.95"),
                Piece("M7.5 8.1A2.55 2.55 0 1 1 11.2 10.3Q10 11 10 12.3", 1.6),
                Piece("M9 14.2A1 1 0 1 1 11 14.2A1 1 0 1 1 9 14.2Z"),
            ),
        ),
        "not-yet-following": VerdictMark(
            "true, but doesn’t follow yet",
            "open",
            (
                Piece("M4.2 4.2A8.2 8.2 0 1 1 4.2 15.8", 1.6),
                Piece(_bar(7.9, 1.2, 14.4)),
                Piece(_bar(12.1, 1.2, 14.4)),
            ),
        ),
    }
)


def mark_shapes(kind: VerdictKind, theme: Theme) -> str:
    """A mark's paths, to stand inside an `<svg>` or `<symbol>` with viewBox 0 0 20 20.

    Parameters
    ----------
    kind : VerdictKind
        Which verdict.
    theme : Theme
        Whose colour.

    Examples
    --------
    >>> "dasharray" in mark_shapes("not-checked", "print")
    True
    """
    mark = MARKS[kind]
    ink = colour(mark.ink, theme)
    return "".join(
        f'<path d="{piece.path}" fill="none" stroke="{ink}" stroke-width="{piece.weight:g}"'
        + (f' stroke-dasharray="{piece.dash}"/>' if piece.dash else "/>")
        if piece.weight
        else f'<path d="{piece.path}" fill="{ink}" fill-rule="evenodd"/>'
        for piece in mark.pieces
    )


def mark_svg(kind: VerdictKind, theme: Theme, size: float = 20) -> str:
    """A mark as a picture of its own; its word must stand beside it, so it is silent for screen readers.

    Parameters
    ----------
    kind : VerdictKind
        Which verdict.
    theme : Theme
        Whose colour.
    size : float
        Side in pixels.

    Examples
    --------
    >>> mark_svg("true", "print")[:4]
    '<svg'
    """
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20" width="{size:g}" height="{size:g}"'
        f' class="mark" aria-hidden="true" focusable="false">{mark_shapes(kind, theme)}</svg>'
    )
