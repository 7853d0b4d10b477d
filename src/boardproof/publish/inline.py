"""Maths in the running text of a page: drawn in the colour of the words around it, on their baseline.

A long line is cut before its second and later relation signs, so that a narrow screen can put the pieces under each
other instead of shrinking them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from boardproof.algebra.expression import Line, Name, Relation
from boardproof.picture.drawing import Label
from boardproof.publish.svg import letters
from boardproof.publish.typeset import Setting, Typesetter

__all__ = ["InlineMaths", "inline_maths"]

MARGIN = 4  # hundredths of the letter size: rounded glyphs never touch the edge
LONGEST = 1450  # hundredths: what a screen of 360 pixels holds at the size of a page
SIGNS = ("=", "≈", "<", ">", "≤", "≥", "≠")


@dataclass(frozen=True, slots=True)
class InlineMaths:
    """Maths for a page.

    Parameters
    ----------
    pieces : tuple of str
        SVG, to stand in one row where there is room.
    glyphs : frozenset of str
        Keys that the page's glyph sheet must hold.
    depth : float
        What it reaches below the baseline, in em.
    """

    pieces: tuple[str, ...]
    glyphs: frozenset[str]
    depth: float


def inline_maths(label: Label, typesetter: Typesetter) -> InlineMaths:
    """A piece of maths, in `currentColor`.

    Parameters
    ----------
    label : Label
        Its size is in em of the text around it.
    typesetter : Typesetter
        Sets it.

    Examples
    --------
    >>> made = inline_maths(Label(Name("E"), 1), Typesetter())
    >>> made.pieces[0].count("<use"), len(made.glyphs), 0 < made.depth < 0.1
    (1, 1, True)
    """
    made, scale = typesetter.setting(label), label.size / 100
    top, below = made.height + MARGIN, made.depth + MARGIN
    cuts = _cuts(made, typesetter) if made.width > LONGEST and isinstance(label.content, Line) else []
    edges = [0.0, *cuts, made.width]
    pieces = tuple(
        f'<svg class="maths" aria-hidden="true" focusable="false" width="{(right - left) * scale:.3f}em" '
        f'height="{(top + below) * scale:.3f}em" viewBox="{left:g} {-top:g} {right - left:g} {top + below:g}">'
        f"{letters(_between(made, left, right), 'currentColor')}</svg>"
        for left, right in pairwise(edges)
    )
    return InlineMaths(pieces, frozenset(glyph.key for glyph in made.glyphs), below * scale)


def _cuts(made: Setting, typesetter: Typesetter) -> list[float]:
    """Where relation signs start, but for the first; signs inside a sum's limits stand off the baseline."""
    labels = [Label(Line((Relation(Name("x"), sign, Name("y")),)), 1) for sign in SIGNS]  # type: ignore[arg-type]  # names of relations
    typesetter.prepare(labels)
    keys = {typesetter.setting(label).glyphs[1].key for label in labels}
    return [glyph.x for glyph in made.glyphs if glyph.key in keys and abs(glyph.y) < 1][1:]


def _between(made: Setting, left: float, right: float) -> Setting:
    glyphs = tuple(glyph for glyph in made.glyphs if left <= glyph.x < right)
    bars = tuple(bar for bar in made.bars if left <= bar.x < right)
    return replace(made, glyphs=glyphs, bars=bars)
