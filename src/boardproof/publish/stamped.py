"""Version, date and the word DRAFT on a picture that may travel alone."""

from __future__ import annotations

from dataclasses import replace

from boardproof.picture.drawing import Box, Drawn, Frame, Label, Text
from boardproof.publish.document import Stamp
from boardproof.publish.typeset import Typesetter

__all__ = ["stamped"]


def stamped(frame: Frame, stamp: Stamp, typesetter: Typesetter) -> Frame:
    """A board that tells version and date to whoever reads it; a draft shows it.

    Parameters
    ----------
    frame : Frame
        The board.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Measures the word.
    """
    told = replace(frame, alternative=f"{frame.alternative} {stamp.words}.")
    if not stamp.draft:
        return told
    size = 1.3 if frame.shape == "wide" else 2.1
    label = Label("DRAFT", size, "semibold")
    x, y = frame.width / 2, 1.6 * size
    width, height, depth = typesetter.extent(label)
    box = Box(x - width / 2, y - height, x + width / 2, y + depth)
    mark = Drawn("draft", "words", "normal", box, (Text(label, x, y),), stamp.words)
    return replace(told, drawn=(*told.drawn, mark))
