"""Sheets of the laboratory on paper: words, tables with room to write, pictures, blanks; one template for all."""

from __future__ import annotations

from typing import Final, Literal

from boardproof.picture.drawing import Frame
from boardproof.publish.marks import MARKS, mark_svg
from boardproof.publish.sheet import Paper, Value
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from boardproof.record import record

__all__ = ["Blank", "Caution", "Head", "LabPage", "Part", "Picture", "Table", "Words", "lab_pdf"]

WIDEST: Final = 165


@record
class Head:
    """A heading, perhaps at the top of a new sheet."""

    text: str
    breaks: bool = False


@record
class Words:
    """A paragraph; with a number or a bullet in front if it is one of a list; quiet for notes."""

    text: str
    mark: str = ""
    style: Literal["plain", "quiet", "strong"] = "plain"


@record
class Table:
    """A table: headings, cells, shares of the width, and the height of a row in millimetres (more to write in)."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[float, ...]
    height: float = 6.0


@record
class Picture:
    """A picture with its caption, so many millimetres wide."""

    frame: Frame
    caption: str
    width: float = 130.0


@record
class Caution:
    """A caution in full."""

    text: str


@record
class Blank:
    """Something to fill in, with so many lines."""

    text: str
    lines: int = 1


Part = Head | Words | Table | Picture | Caution | Blank


@record
class LabPage:
    """A sheet: its title, the line above it, its parts, and what its foot says.

    Parameters
    ----------
    title, line, foot : str
        At the head and the foot.
    parts : tuple of Part
        In order.
    banner : str
        On every page, such as "SIMULATED"; empty for none.
    paper_only : str
        What a paper exercise says; empty for other sheets.
    """

    title: str
    line: str
    foot: str
    parts: tuple[Part, ...]
    banner: str = ""
    paper_only: str = ""


def lab_pdf(page: LabPage, typesetter: Typesetter, *, paper: Paper = "a4") -> bytes:
    """A sheet as tagged PDF.

    Parameters
    ----------
    page : LabPage
        What stands on it.
    typesetter : Typesetter
        Sets it.
    paper : {"a4", "us-letter"}
        Size.

    Examples
    --------
    >>> lab_pdf(LabPage("A cell", "Results", "today", (Words("It works."),)), Typesetter())[:8]
    b'%PDF-1.7'
    """
    values: dict[str, Value] = {
        "title": page.title,
        "line": page.line,
        "stamp": page.foot,
        "banner": page.banner,
        "parts": [_part(each, typesetter) for each in page.parts],
        "paper": paper,
        "language": "en",
        "region": None,
        "draft": False,
        "paper_only": page.paper_only,
        "corrections": [],
        "cautions": [],
        "unproved": [],
        "statements": 0,
        "marks": {kind: mark_svg(kind, "print") for kind in MARKS},
    }
    return typesetter.pdf("lab", values)


def _part(part: Part, typesetter: Typesetter) -> dict[str, Value]:
    match part:
        case Head(text=text, breaks=breaks):
            return {"kind": "head", "text": text, "breaks": breaks}
        case Words(text=text, mark=mark, style=style):
            return {"kind": "words", "text": text.replace("± ", "±\u00a0"), "mark": mark, "style": style}
        case Table(heads=heads, rows=rows, shares=shares, height=height):
            cells: list[Value] = [list[Value](row) for row in rows]
            made: dict[str, Value] = {"kind": "table", "heads": list[Value](heads), "rows": cells}
            return made | {"shares": list[Value](shares), "height": height}
        case Picture(frame=frame, caption=caption, width=width):
            svg = frame_svg(frame, typesetter, "print")
            size = min(width, WIDEST)
            told = frame.alternative or frame.title
            return {"kind": "picture", "svg": svg, "caption": caption, "width": size, "words": told}
        case Caution(text=text):
            return {"kind": "caution", "text": text}
        case Blank(text=text, lines=lines):
            return {"kind": "blank", "text": text, "lines": lines}
