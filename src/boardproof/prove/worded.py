"""Judging a claim that is said in a plain sentence, by its reading in the lesson language."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from boardproof.circuit.model import Circuit
from boardproof.findings import Finding
from boardproof.prove.bench import Ruling
from boardproof.prove.claims import judge_claim
from boardproof.prove.gathered import Read
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.quantities import Style
from boardproof.source import Slice, Source, Span

__all__ = ["judge_read", "world_with"]


def world_with(lets: Sequence[tuple[str, str]], worlds: Worlds, circuit: Circuit | None) -> World | Finding:
    """The world of a circuit with more names in it.

    Parameters
    ----------
    lets : sequence of (str, str)
        Names and the phrases they stand for.
    worlds : Worlds
        Of the lesson.
    circuit : Circuit or None
        At hand.

    Returns
    -------
    World or Finding
        A finding if a phrase means nothing there.
    """
    world = worlds.of(circuit)
    for name, phrase in lets:
        meant = worlds.phrase(Source("let", phrase).slice(), circuit)
        if isinstance(meant, Finding):
            return meant
        world = world.with_name(name, meant)
    return world


def judge_read(
    read: Read,
    worlds: Worlds,
    circuit: Circuit | None,
    span: Span,
    *,
    for_: Slice | None = None,
    style: Style | None = None,
) -> tuple[tuple[str, Ruling], ...]:
    """Judge each line of a sentence's reading; findings stand at the sentence.

    Parameters
    ----------
    read : Read
        The sentence in the lesson language.
    worlds : Worlds
        Of the lesson.
    circuit : Circuit or None
        At hand.
    span : Span
        Where the sentence stands.
    for_ : Slice or None
        What the claim is said for besides.
    style : Style, optional
        How values are shown.
    """
    world = world_with(read.lets, worlds, circuit)
    if isinstance(world, Finding):
        return ()
    scope = " and ".join(filter(None, (for_.text.strip() if for_ else "", *read.scope)))
    rulings = judge_claim(
        [Source("sentence", line).slice() for line in read.means],
        Source("scope", scope).slice() if scope else None,
        world,
        decimal=worlds.decimal,
        style=style,
    )
    return tuple(
        (
            line.text,
            replace(ruling, findings=tuple(replace(each, span=span, related=()) for each in ruling.findings)),
        )
        for line, ruling in rulings
    )
