"""The picture that stands for a lesson where it is listed: its title, large, beside its circuit."""

from __future__ import annotations

from boardproof.caution import Caution
from boardproof.picture.drawing import Drawn, Frame, Label, Mark, Text
from boardproof.picture.sheet import bounds, moved
from boardproof.picture.strokes import caution_mark
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter

__all__ = ["thumbnail"]

WIDTH, HEIGHT, MARGIN, GAP = 64.0, 36.0, 3.0, 1.5
TITLE, SMALL = 4.2, 1.9


def thumbnail(
    figure: Frame, title: str, line: str, cautions: tuple[Caution, ...], typesetter: Typesetter
) -> bytes:
    """A PNG of 1280 by 720: words that can still be read at a fifth of its size.

    Parameters
    ----------
    figure : Frame
        The circuit alone; the sheet grows until it has room, and its words grow with it.
    title, line : str
        The lesson's title, and its course above it.
    cautions : tuple of Caution
        All that its circuits ask for; the picture carries their short form at its foot.
    typesetter : Typesetter
        Sets words.
    """
    words, below = _words(title, line, 1.0, typesetter)
    foot = 1.8 * SMALL if cautions else 0.0
    grown = max(1.0, figure.width / (WIDTH - 2 * MARGIN), figure.height / (HEIGHT - foot - below - 2 * GAP))
    words, below = _words(title, line, grown, typesetter)
    x = (grown * WIDTH - figure.width) / 2
    y = (below + grown * (HEIGHT - foot) - figure.height) / 2
    drawn = (words, *(moved(each, x, y) for each in figure.drawn), *_caution(cautions, grown, typesetter))
    frame = Frame("thumbnail", "figure", grown * WIDTH, grown * HEIGHT, drawn, title)
    return typesetter.png(frame_svg(frame, typesetter, "paper"), 1280)


def _caution(cautions: tuple[Caution, ...], grown: float, typesetter: Typesetter) -> list[Drawn]:
    """The triangle and the short caution, cut at a sentence if it is too long for one line."""
    if not cautions:
        return []
    left, base = MARGIN * grown, (HEIGHT - 1.3) * grown
    words = cautions[0].short
    label = Label(words, 0.7 * SMALL * grown)
    room = (WIDTH - 2 * MARGIN) * grown - 3 * SMALL * grown
    wide = typesetter.extent(label)[0]
    label = Label(words, label.size * min(1.0, room / max(wide, 1.0)))
    marks: list[Mark] = [
        *caution_mark(left, base + 0.25 * SMALL * grown, 1.4 * SMALL * grown),
        Text(label, left + 2.2 * SMALL * grown, base, "start"),
    ]
    return [Drawn("caution", "caution", "normal", bounds(marks, typesetter), tuple(marks), words)]


def _words(title: str, line: str, grown: float, typesetter: Typesetter) -> tuple[Drawn, float]:
    """Course and title, and where they end."""
    rows, size = _lines(title, typesetter)
    size, small, left = size * grown, SMALL * grown, MARGIN * grown
    texts = [Text(Label(line, small, "italic"), left, left + 0.5 * small, "start")] if line else []
    y = left + (2 * small if line else 0) + 0.6 * size
    for row in rows:
        texts.append(Text(Label(row, size, "semibold"), left, y, "start"))
        y += 1.15 * size
    box = bounds(texts, typesetter)
    return Drawn("words", "title", "normal", box, tuple(texts), title), box.bottom


def _lines(title: str, typesetter: Typesetter) -> tuple[list[str], float]:
    """The title in one or two lines, as large as they allow."""
    words = title.split()
    cuts = [[title]] + [[" ".join(words[:n]), " ".join(words[n:])] for n in range(1, len(words))]

    def fits(rows: list[str]) -> float:
        wide = max(typesetter.extent(Label(row, TITLE, "semibold"))[0] for row in rows)
        return min(TITLE, TITLE * (WIDTH - 2 * MARGIN) / max(wide, 1.0))

    rows = max(cuts, key=lambda each: (round(fits(each), 2), -len(each)))
    return rows, fits(rows)
