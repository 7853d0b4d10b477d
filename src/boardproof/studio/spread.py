"""A lesson as the Write page shows it: scenes as spreads, verdicts, slips, pictures; made in the worker.

Only what the page does not hold already is sent: each scene's words and pictures go under a hash of their own.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any, Final

from boardproof.algebra.notation import Notation
from boardproof.kit.compose import Composer
from boardproof.kit.proof import Proof
from boardproof.kit.telling import Telling
from boardproof.lesson.model import Block
from boardproof.picture.moments import Moment
from boardproof.publish.document import Document, SceneDoc
from boardproof.publish.typeset import Typesetter
from boardproof.publish.web import clock
from boardproof.studio.answers import answers
from boardproof.studio.pages import environment
from boardproof.studio.parts import parts
from boardproof.studio.piece import Pieces
from boardproof.studio.proofs import verdict_symbols
from boardproof.studio.proving import proved
from boardproof.studio.slip import slips, worst
from boardproof.studio.units import Units

__all__ = ["spread", "warm"]

CAUSES: Final = {
    "scene": "the scene begins",
    "line": "this line",
    "pause": "the pause",
    "reveal": "the answer",
}


def warm() -> bool:
    """Load what the first page needs."""
    environment().get_template("block.html")
    Typesetter(Notation()).prepare(())
    return True


def spread(root: str, name: str, text: str, known: Sequence[str]) -> dict[str, Any]:
    """Everything on the sheet that the page does not have yet.

    Parameters
    ----------
    root : str
        The folder.
    name : str
        The lesson's file.
    text : str
        Its text as typed.
    known : sequence of str
        Hashes that the page holds.

    Returns
    -------
    dict
        Plain values.
    """
    proof = proved(root, name, text)
    typesetter = Typesetter(Telling(proof).notation)
    composer = Composer(proof, typesetter)
    units = Units(text)
    blocks = [(number, block, visits) for number, block, visits in _blocks(proof)]
    documents = tuple(
        SceneDoc(str(number), composer.block_items(block, visits), (), None, ())
        for number, block, visits in blocks
    )
    page = Pieces(typesetter, Document("", "", "en", (), documents))
    told = slips(proof, page, units)
    have, scenes = set(known), []
    seconds = 0.0
    for number, scene in enumerate(proof.lesson.scenes):
        mine = [
            (block, doc.items) for (at, block, _), doc in zip(blocks, documents, strict=True) if at == number
        ]
        moments = [moment for moment in composer.moments if moment.scene == number]
        length = sum(float(composer.seconds(moment)) for moment in moments)
        seconds += length
        words = page.scene(mine, told, units)
        pictures = _pictures(composer, page, moments, number) if moments else []
        start, end = units.span(scene.span)
        scenes.append(
            {
                "title": scene.title, "start": start, "end": end, "time": clock(length),
                "worst": worst(told, scene.span),
                "words": _sent(words, have), "pictures": [_sent(each, have) for each in pictures],
                "moments": [_moment(moment, units) for moment in moments], "parts": parts(proof, number),
            }
        )  # fmt: skip
    summary = proof.report.summary
    pace = proof.course.pace.words_a_minute
    plan = proof.lesson.settings.minutes or proof.course.pace.longest_lesson
    return {
        "title": proof.lesson.title, "scenes": scenes, "summary": page.summary(summary),
        "answers": answers(proof, page),
        "time": f"{clock(seconds)} of {clock(60 * float(plan or 0))} at {pace} words a minute",
        "glyphs": page.glyph_sheet() + verdict_symbols(), "depths": page.depths(), "errors": summary["errors"],
        "findings": page.loose(proof, units),
    }  # fmt: skip


def _blocks(proof: Proof) -> Iterable[tuple[int, Block, list[Any]]]:
    """Each block with its scene and its elements; those without any are there too."""
    visits = {
        key: list(group) for key, group in groupby(proof.walk.visits, key=lambda visit: id(visit.block))
    }
    for number, scene in enumerate(proof.lesson.scenes):
        for block in scene.blocks:
            yield number, block, visits.get(id(block), [])


def _pictures(composer: Composer, page: Pieces, moments: Sequence[Moment], scene: int) -> list[str]:
    return [
        page.figure(composer.frame(moment, "figure near"), f"s{scene}m{place}-")
        if moment.state.circuit is not None
        else ""
        for place, moment in enumerate(moments)
    ]


def _moment(moment: Moment, units: Units) -> dict[str, Any]:
    what = CAUSES.get(moment.cause) or (moment.move.word if moment.move else "the board changes")
    return {"at": units.at(moment.span.start) if moment.span else -1, "what": what}


def _sent(text: str, have: set[str]) -> dict[str, str]:
    """A piece under its hash; without its text if the page has it."""
    key = hashlib.sha256(text.encode()).hexdigest()[:16]
    sent = {"key": key} if key in have else {"key": key, "html": text}
    have.add(key)
    return sent
