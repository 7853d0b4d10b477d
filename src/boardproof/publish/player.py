"""The lesson played: one page that shows the board moment by moment, waits at pauses and needs no network.

Nothing of a pause's answer stands in the page before it is asked for: the page's values are read and taken out of it
at once, and the script puts in only what has been reached.
"""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import Any

from boardproof.caution import Caution
from boardproof.picture.drawing import Frame
from boardproof.picture.moments import Cause
from boardproof.picture.timeline import Timeline
from boardproof.publish.document import Cue, Document, Stamp
from boardproof.publish.explore import Live, live_values
from boardproof.publish.player_board import Things, boards_and_ways
from boardproof.publish.typeset import Typesetter
from boardproof.publish.web import WebPage
from boardproof.record import record

__all__ = ["Stage", "Voice", "player"]


@record
class Stage:
    """A moment as the page shows it.

    Parameters
    ----------
    key, cause
        The moment's.
    wide, near : Frame
        Its board in both shapes.
    pause : int
        Seconds that most people need for it, if the lesson waits here.
    """

    key: str
    cause: Cause
    wide: Frame
    near: Frame
    pause: int = 0


@record
class Voice:
    """A recording that goes with the lesson: its sound, and the media type of that."""

    sound: bytes
    kind: str


def player(
    document: Document,
    stages: Sequence[Stage],
    timeline: Timeline,
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    typesetter: Typesetter,
    live: Live | None = None,
    voice: Voice | None = None,
) -> str:
    """The lesson's player.

    Parameters
    ----------
    document : Document
        The lesson; its cues are the moments, in the same order.
    stages : sequence of Stage
        One a moment.
    timeline : Timeline
        When each comes.
    cautions : tuple of Caution
        All that its circuits ask for.
    stamp : Stamp
        Version, date, draft.
    typesetter : Typesetter
        Sets maths and pictures.
    live : Live, optional
        A circuit to play with, under the lesson.
    voice : Voice, optional
        Its recording.

    Returns
    -------
    str
        HTML in one piece.
    """
    page = WebPage(typesetter, document)
    things = Things(typesetter)
    values: dict[str, Any] = {
        "shapes": {
            "wide": boards_and_ways([stage.wide for stage in stages], things),
            "near": boards_and_ways([stage.near for stage in stages], things),
        },
        "moments": _moments(page, document, stages, timeline),
        "scenes": [scene.title for scene in document.scenes],
        "voice": ""
        if voice is None
        else f"data:{voice.kind};base64,{base64.b64encode(voice.sound).decode()}",
    }
    if live is not None:
        values["live"] = live_values(live, page, things)
    values["things"] = things.all()
    page.need(things.glyphs)
    return page.render(
        "player",
        cautions=cautions,
        above=cautions,
        stamp=stamp,
        title=document.title,
        data=values,
        scripts=("player", "explore") if live is not None else ("player",),
        live=live,
        voice=voice,
    )


def _moments(
    page: WebPage, document: Document, stages: Sequence[Stage], timeline: Timeline
) -> list[dict[str, Any]]:
    cues = [(number, cue) for number, scene in enumerate(document.scenes) for cue in scene.cues]
    return [
        {
            "key": stage.key,
            "scene": scene,
            "cause": stage.cause,
            "at": start,
            "ms": end - start,
            "said": page.runs(cue.said),
            "shown": _shown(page, cue),
            "waits": cue.waits,
            "pause": stage.pause,
            "title": stage.wide.title,
            "words": stage.wide.alternative,
        }
        for (scene, cue), stage, (_, start, end) in zip(cues, stages, timeline.entries, strict=True)
    ]


def _shown(page: WebPage, cue: Cue) -> str:
    """What is written then, for the transcript."""
    return "".join(f'<div class="line">{page.display(line)}</div>' for line in cue.written)
