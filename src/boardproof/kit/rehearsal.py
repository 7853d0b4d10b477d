"""What the pages for rehearsing and recording show: each moment's board, its cue, its words, its time."""

from __future__ import annotations

from typing import Any

from boardproof.kit.compose import Composer
from boardproof.kit.in_time import at_pace
from boardproof.kit.proof import Proof
from boardproof.kit.said import readable
from boardproof.kit.telling import Telling
from boardproof.publish.svg import inline_picture
from boardproof.publish.typeset import Typesetter
from boardproof.record import record

__all__ = ["Rehearsal", "Step", "rehearsal"]


@record
class Step:
    """One moment as the teacher meets it.

    Parameters
    ----------
    key : str
        Of the moment.
    scene : str
        Number and title of its scene.
    cue, said : str
        Three to six words, and all that is said.
    ms : int
        Its time at the course's pace.
    waits : bool
        The viewer is to try here.
    board, told : str
        The board as SVG, and in words.
    """

    key: str
    scene: str
    cue: str
    said: str
    ms: int
    waits: bool
    board: str
    told: str

    def as_json(self) -> dict[str, Any]:
        """As the page reads it."""
        return {
            "key": self.key,
            "scene": self.scene,
            "cue": self.cue,
            "said": self.said,
            "ms": self.ms,
            "waits": self.waits,
            "board": self.board,
            "told": self.told,
        }


@record
class Rehearsal:
    """A lesson ready to be rehearsed: its title, its text's hash, its steps, the letters that its boards use."""

    title: str
    sha256: str
    steps: tuple[Step, ...]
    glyphs: str
    caution: str


def rehearsal(proof: Proof) -> Rehearsal:
    """Everything the pages need, made once.

    Parameters
    ----------
    proof : Proof
        The lesson, proved or not: who rehearses may still be writing.
    """
    typesetter = Typesetter(Telling(proof).notation)
    composer = Composer(proof, typesetter)
    document = composer.document()
    cues = [cue for scene in document.scenes for cue in scene.cues]
    glyphs: set[str] = set()
    steps = []
    entries = at_pace(composer)
    for number, (moment, cue, (_, start, end)) in enumerate(
        zip(composer.moments, cues, entries, strict=True)
    ):
        frame = composer.frame(moment, "wide")
        picture = inline_picture(frame, typesetter, f"b{number}-")
        glyphs |= picture.glyphs
        title = proof.lesson.scenes[moment.scene].title or proof.lesson.title
        steps.append(
            Step(
                moment.key,
                f"{moment.scene + 1}. {title}",
                cue.words,
                readable(composer.telling, moment).replace("\N{NO-BREAK SPACE}", " "),
                end - start,
                moment.waits,
                picture.svg,
                frame.alternative,
            )
        )
    caution = composer.telling.caution([visit.place for visit in proof.walk.visits])
    return Rehearsal(
        proof.lesson.title,
        proof.lesson.source.sha256,
        tuple(steps),
        typesetter.glyph_sheet(glyphs),
        caution.full if caution else "",
    )
