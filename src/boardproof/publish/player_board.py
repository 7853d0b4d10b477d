"""The boards of a lesson as a page's script draws them: every thing once, boards as lists of things, ways between."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Any, Final

from boardproof.picture.drawing import Drawn, Frame
from boardproof.picture.transition import transition
from boardproof.publish.svg import labels_in, thing_svg
from boardproof.publish.typeset import Typesetter

__all__ = ["Things", "boards_and_ways"]

_OWN_ID: Final = re.compile(r'^<g id="[^"]*" ')
# A board's height without the band for captions: the page sets those in its own letters, as large as its reader wants.
CUT: Final = {"wide": 47.4, "near": 84.2}


class Things:
    """Drawings that a page holds once, each with its number.

    Parameters
    ----------
    typesetter : Typesetter
        Sets labels.
    """

    def __init__(self, typesetter: Typesetter) -> None:
        """Begin without any."""
        self.typesetter = typesetter
        self.glyphs: set[str] = set()
        self._numbers: dict[str, int] = {}

    def number(self, drawn: Drawn, *, near: bool) -> int:
        """Where a thing stands among the drawings.

        Parameters
        ----------
        drawn : Drawn
            A thing that is seen.
        near : bool
            For a narrow screen.
        """
        made = thing_svg(drawn, self.typesetter, near=near)
        self.glyphs |= made.glyphs
        return self._numbers.setdefault(_OWN_ID.sub("<g ", made.svg), len(self._numbers))

    def board(self, frame: Frame) -> list[int]:
        """The things of a picture, back to front.

        Parameters
        ----------
        frame : Frame
            The picture.
        """
        near = frame.shape in {"near", "figure near"}
        return [self.number(each, near=near) for each in frame.drawn if each.state != "hidden"]

    def all(self) -> list[str]:
        """Every drawing, by number."""
        return list(self._numbers)


def boards_and_ways(frames: Sequence[Frame], things: Things) -> dict[str, Any]:
    """Boards of one shape and the changes from each to the next.

    Parameters
    ----------
    frames : sequence of Frame
        In the lesson's order.
    things : Things
        Gathers the drawings.
    """
    things.typesetter.prepare(labels_in(frames))
    shown = [_shown(frame) for frame in frames]
    first = frames[0]
    return {
        "width": first.width,
        "height": CUT.get(first.shape, first.height),
        "boards": [things.board(frame) for frame in shown],
        "ways": [_way(old, new) for old, new in pairwise(shown)],
    }


def _shown(frame: Frame) -> Frame:
    """A board without rules: the page has its own for scenes, and the edge of the captions."""
    drawn = tuple(each for each in frame.drawn if not each.id.startswith("rule:"))
    return Frame(frame.moment, frame.shape, frame.width, frame.height, drawn, frame.title, frame.alternative)


def _way(old: Frame, new: Frame) -> list[list[Any]]:
    """Changes as plain numbers; things by their place on the old board or the new one."""
    places = {
        "old": {each.id: number for number, each in enumerate(_seen(old))},
        "new": {each.id: number for number, each in enumerate(_seen(new))},
    }
    return [
        [places[c.of][c.id], c.of, c.what, c.begin, c.ms, _short(c.start), _short(c.end), c.marks]
        for c in transition(old, new).changes
    ]


def _seen(frame: Frame) -> Iterable[Drawn]:
    return (each for each in frame.drawn if each.state != "hidden")


def _short(numbers: Sequence[float]) -> list[float]:
    return [round(each, 2) for each in numbers]
