"""The pages that are played: the lesson moment by moment, and its circuit to play with."""

from __future__ import annotations

from boardproof.caution import Caution
from boardproof.kit.compose import Composer
from boardproof.kit.live import live_of
from boardproof.picture.timeline import Timeline, at_pace
from boardproof.publish.document import Document, Stamp
from boardproof.publish.explore import explore
from boardproof.publish.player import Stage, Voice, player
from boardproof.publish.stamped import stamped
from boardproof.publish.typeset import Typesetter

__all__ = ["explore_page", "player_page"]


def player_page(
    composer: Composer,
    document: Document,
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    typesetter: Typesetter,
    timeline: Timeline | None = None,
    voice: Voice | None = None,
) -> str:
    """The lesson's player, with its circuit to explore under it where there is one.

    Parameters
    ----------
    composer : Composer
        The lesson with its moments.
    document : Document
        The same for readers.
    cautions, stamp, typesetter
        As every output has them.
    timeline : Timeline, optional
        When each moment comes; at the course's pace if it is not given.
    voice : Voice, optional
        The recording that the timeline belongs to.
    """
    moments = composer.moments
    stages = [
        Stage(moment.key, moment.cause, wide, near, moment.pause.seconds if moment.pause else 0)
        for moment in moments
        for wide, near in [
            [stamped(composer.frame(moment, shape), stamp, typesetter) for shape in ("wide", "near")]
        ]
    ]
    when = timeline or at_pace((moment.key, composer.seconds(moment)) for moment in moments)
    return player(
        document, stages, when, cautions=cautions, stamp=stamp, typesetter=typesetter, live=live_of(composer),
        voice=voice,
    )  # fmt: skip


def explore_page(
    composer: Composer,
    document: Document,
    *,
    cautions: tuple[Caution, ...],
    stamp: Stamp,
    typesetter: Typesetter,
) -> str:
    """The lesson's circuit to play with, as a page of its own; empty where no circuit of the lesson can be.

    Parameters
    ----------
    composer, document, cautions, stamp, typesetter
        As for `player_page`.
    """
    live = live_of(composer)
    if live is None:
        return ""
    return explore(document, live, cautions=cautions, stamp=stamp, typesetter=typesetter)
