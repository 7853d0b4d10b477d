"""What `check` and `build` say of a lesson's questions: readable, answerable, with good numbers, beliefs apart."""

from __future__ import annotations

from collections.abc import Iterator

from boardproof.findings import Finding
from boardproof.lesson import model
from boardproof.practice.draws import first_good, pool_of
from boardproof.practice.prepared import Prepared
from boardproof.practice.question_kinds import KINDS, finding
from boardproof.practice.questions import prepare
from boardproof.prove.walk import Walk
from boardproof.prove.worlds import Worlds
from boardproof.source import Span

__all__ = ["no_draw", "question_findings"]

PLAIN = (
    "each draw misses a plain answer, or gives a wrong rule the same answer as the right one or as another"
)


def question_findings(walk: Walk, worlds: Worlds) -> Iterator[Finding]:
    """Findings about every question of a lesson; what names mean is told elsewhere.

    Parameters
    ----------
    walk : Walk
        The lesson.
    worlds : Worlds
        What names mean in it.
    """
    for visit in walk.visits:
        if not isinstance(visit.element, model.Question):
            continue
        ready, found = prepare(visit.element, worlds, visit.place.circuit)
        yield from (each for each in found if each.kind.code in KINDS)
        if ready is not None and ready.letters and first_good(ready) is None and pool_of(ready) is None:
            yield no_draw(ready, visit.element.vary[0].span)


def no_draw(prepared: Prepared, span: Span | None = None) -> Finding:
    """That no numbers make a good question of this one.

    Parameters
    ----------
    prepared : Prepared
        The question.
    span : Span, optional
        Its first range; else where the question stands.
    """
    place = prepared.question.source
    return finding(
        "no-good-draw", span or (place if isinstance(place, Span) else Span(place, 0, 0)), reason=PLAIN
    )
