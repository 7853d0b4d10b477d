"""The plan of a real board on one sheet: how it stands when each scene ends, and in which order it is written."""

from __future__ import annotations

from boardproof.caution import Caution
from boardproof.publish.document import Document, Stamp
from boardproof.publish.sheet import Paper, Sheet, Value
from boardproof.publish.typeset import Typesetter

__all__ = ["board_plan"]


def board_plan(
    document: Document,
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    typesetter: Typesetter,
    paper: Paper = "a4",
) -> bytes:
    """The plan; text shrinks until it fits one sheet.

    Parameters
    ----------
    document : Document
        A lesson whose scenes carry their last board and its order of writing.
    cautions : tuple of Caution
        All that its circuits ask for.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets it.
    paper : {"a4", "us-letter"}
        Size of the sheet, which lies on its side.

    Returns
    -------
    bytes
        PDF/UA-1 of one page.
    """
    sheet = Sheet(typesetter, document)
    scenes: list[Value] = [
        {
            "title": scene.title or document.title,
            "board": sheet.picture(scene.board) if scene.board else None,
            "order": [sheet.runs(each) for each in scene.order],
        }
        for scene in document.scenes
    ]
    head = sheet.head(cautions=cautions, above=cautions, stamp=stamp, paper=paper)
    return typesetter.pdf("board-plan", head | {"scenes": scenes})
