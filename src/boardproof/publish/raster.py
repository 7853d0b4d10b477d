"""Boards as pixels, one after another: only what differs from the board before is drawn anew.

Every whole u falls on whole pixels, so a part that is drawn alone gives the same pixels as the whole board would.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from boardproof.picture.drawing import Box, Drawn, Frame
from boardproof.publish.palette import Theme
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.publish.video import pixels

if TYPE_CHECKING:
    from boardproof.publish.video import Pixels

__all__ = ["Raster"]

MARGIN: Final = 1.0  # u round a thing's box: weights in focus, ends of strokes
MOST: Final = 0.7  # of the board: from there the whole of it is as quick


class Raster:
    """Draws boards of one shape, remembering the last one.

    Parameters
    ----------
    typesetter : Typesetter
        Sets labels and turns SVG into pixels.
    theme : Theme
        "paper", "slate" or "print".
    scale : int
        Pixels a u.
    """

    def __init__(self, typesetter: Typesetter, theme: Theme = "paper", scale: int = 20) -> None:
        """Begin with an empty hand."""
        self.typesetter, self.theme, self.scale = typesetter, theme, scale
        self._last: Frame | None = None
        self._pixels: Pixels | None = None

    def draw(self, frame: Frame) -> Pixels:
        """The board's pixels, with its captions in their band.

        Parameters
        ----------
        frame : Frame
            A whole board.

        Returns
        -------
        array
            Height, width, 3; the caller does not write into it.
        """
        if self._last is None or self._pixels is None or self._last.shape != frame.shape:
            made = self._part(frame, Box(0, 0, frame.width, frame.height))
        else:
            made = self._mended(self._pixels, self._last, frame)
        self._last, self._pixels = frame, made
        return made

    def _mended(self, before: Pixels, last: Frame, frame: Frame) -> Pixels:
        areas = _areas(last, frame)
        if sum(_size(each) for each in areas) > MOST * frame.width * frame.height:
            return self._part(frame, Box(0, 0, frame.width, frame.height))
        if not areas:
            return before
        made = before.copy()
        for area in areas:
            top, left = round(area.top * self.scale), round(area.left * self.scale)
            part = self._part(frame, area)
            made[top : top + part.shape[0], left : left + part.shape[1]] = part
        return made

    def _part(self, frame: Frame, area: Box) -> Pixels:
        wide, high = area.right - area.left, area.bottom - area.top
        near = tuple(each for each in frame.drawn if _meets(each, area))
        svg = frame_svg(replace(frame, drawn=near), self.typesetter, self.theme, captions=True)
        whole = f'viewBox="0 0 {frame.width:g} {frame.height:g}"'
        assert whole in svg
        svg = svg.replace(whole, f'viewBox="{area.left:g} {area.top:g} {wide:g} {high:g}"', 1)
        made = pixels(self.typesetter.png(svg, round(wide * self.scale)))
        rows, columns = round(high * self.scale), round(wide * self.scale)
        assert made.shape[0] >= rows, "the typesetter gave too few rows"
        assert made.shape[1] >= columns, "the typesetter gave too few columns"
        return made[:rows, :columns]


def _meets(drawn: Drawn, area: Box) -> bool:
    return drawn.box.grown(MARGIN).touches(area)


def _size(box: Box) -> float:
    return (box.right - box.left) * (box.bottom - box.top)


def _areas(last: Frame, frame: Frame) -> list[Box]:
    """Where two boards differ, in whole u, overlapping places joined."""
    before = {each.id: each for each in last.drawn}
    after = {each.id: each for each in frame.drawn}
    changed = [
        each
        for name in dict.fromkeys((*before, *after))
        if before.get(name) != after.get(name)
        for each in (before.get(name), after.get(name))
        if each is not None and each.marks
    ]
    areas = [_whole(each.box.grown(MARGIN), frame) for each in changed]
    if last.caption != frame.caption:
        areas.append(_whole(Box(0, 48 if frame.shape == "wide" else 85, frame.width, frame.height), frame))
    joined: list[Box] = []
    for area in areas:
        one = area
        while meeting := next((each for each in joined if each.touches(one)), None):
            joined.remove(meeting)
            one = Box(
                min(one.left, meeting.left),
                min(one.top, meeting.top),
                max(one.right, meeting.right),
                max(one.bottom, meeting.bottom),
            )
        joined.append(one)
    return joined


def _whole(box: Box, frame: Frame) -> Box:
    return Box(
        max(0, math.floor(box.left)),
        max(0, math.floor(box.top)),
        min(frame.width, math.ceil(box.right)),
        min(frame.height, math.ceil(box.bottom)),
    )
