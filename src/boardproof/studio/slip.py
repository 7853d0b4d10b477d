"""Slips: what is to be said of a statement or a place, and what can be done about it with one click."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, Literal

from boardproof.findings import Diagnostic
from boardproof.kit.proof import Proof
from boardproof.kit.telling import Telling
from boardproof.prove.verdict import Judged
from boardproof.publish.marks import VerdictKind
from boardproof.publish.web import Html, WebPage
from boardproof.record import record
from boardproof.source import Source, Span
from boardproof.studio.units import Units

__all__ = ["Action", "Slip", "slips", "worst"]

Action = Literal["right", "trap", "leave", "proof"]
ORDER: Final[tuple[VerdictKind, ...]] = (
    "wrong", "units-differ", "true-only-when", "right-number-wrong-reason", "near-enough", "not-checked",
    "not-yet-following", "true",
)  # fmt: skip
MET: Final = "wrong, as it should be"


@record
class Slip:
    """One slip.

    Parameters
    ----------
    span : Span
        What it is about.
    start, end : int
        The same in UTF-16 units.
    kind : VerdictKind
        The verdict; "not-checked" for a finding that is about no statement.
    word : str
        Instead of the verdict's own word; empty for that.
    is_met : bool
        Whether all is as it should be.
    text : str
        The statement as typed.
    reasons : tuple of str
        Why, in sentences.
    right : Html
        The right line, set; empty if there is none.
    code : str
        Of the finding; empty if there is none.
    severity : str
        Of the finding; empty if there is none.
    actions : tuple of Action
        What can be done.
    """

    span: Span
    start: int
    end: int
    kind: VerdictKind
    word: str
    is_met: bool
    text: str
    reasons: tuple[str, ...]
    right: Html
    code: str
    severity: str
    actions: tuple[Action, ...]


def slips(proof: Proof, page: WebPage, units: Units) -> tuple[Slip, ...]:
    """All slips of a lesson in text order: of statements first, then of findings that no statement carries.

    Parameters
    ----------
    proof : Proof
        The lesson.
    page : WebPage
        Sets the right lines.
    units : Units
        Of its text.
    """
    name = proof.lesson.source.name
    found = [each for each in proof.report.diagnostics if each.span.source == name]
    abouts = [_about(judged, found) for judged in proof.checked.judged]
    made = [
        _of_statement(judged, about, proof, page, units)
        for judged, about in zip(proof.checked.judged, abouts, strict=True)
    ]
    made += [_of_finding(each, units) for each in found if each not in abouts]
    return tuple(sorted(made, key=lambda each: each.span))


def _about(judged: Judged, found: Sequence[Diagnostic]) -> Diagnostic | None:
    """The finding that a statement's slip tells; it may point at a piece of the statement only."""
    inside = [each for each in found if each.span.within(judged.said.span)]
    same = [each for each in inside if each.span == judged.said.span]
    return next(iter(same or ([] if judged.met else inside)), None)


def _of_statement(
    judged: Judged, about: Diagnostic | None, proof: Proof, page: WebPage, units: Units
) -> Slip:
    said, verdict = judged.said, judged.verdict
    start, end = units.span(said.span)
    right = _right_line(judged, proof, page)
    kind: VerdictKind = "not-yet-following" if verdict.follows == "not-yet" and judged.met else verdict.kind
    word = MET if judged.expected == "wrong" and judged.met else ""
    is_met = judged.met and (kind in {"true", "wrong"} or judged.expected == "wrong")
    reasons = tuple(_reasons(judged, about))
    return Slip(
        said.span, start, end, kind, word, is_met, said.text, reasons, right, about.code if about else "",
        about.severity if about else "", tuple(_actions(judged, about)),
    )  # fmt: skip


def _reasons(judged: Judged, about: Diagnostic | None) -> Iterator[str]:
    verdict = judged.verdict
    if about:
        yield about.message
    seen = {about.message} if about else set()
    for each in (*(about.evidence if about else ()), *verdict.evidence):
        if each.text not in seen and each.kind != "machine":
            seen.add(each.text)
            yield each.text
    if about and about.help:
        yield about.help


def _right_line(judged: Judged, proof: Proof, page: WebPage) -> Html:
    right = judged.verdict.right
    visit = next((each for each in proof.walk.visits if each.place.number == judged.said.place), None)
    if not right or visit is None or judged.verdict.kind == "true":
        return Html("")
    line = Telling(proof).line(Source("right", right).slice(), visit.place)
    return Html("") if line is None else page.display(line)


def _actions(judged: Judged, about: Diagnostic | None) -> Iterator[Action]:
    is_wrong = judged.expected != "wrong" and judged.verdict.kind != "true"
    if is_wrong and judged.verdict.right:
        yield "right"
    if not judged.met and judged.said.kind in {"equation", "inequality", "number"} and judged.verdict.kind in {
        "wrong", "true-only-when",
    }:  # fmt: skip
        yield "trap"
    if judged.said.relation is not None:
        yield "proof"
    if about and about.severity != "error":
        yield "leave"


def _of_finding(each: Diagnostic, units: Units) -> Slip:
    reasons = tuple(filter(None, (each.message, *(one.text for one in each.evidence), each.help)))
    word = {"error": "to be put right", "warning": "to be looked at", "note": "a note"}[each.severity]
    actions: tuple[Action, ...] = () if each.severity == "error" else ("leave",)
    kind: VerdictKind = "wrong" if each.severity == "error" else "not-checked"
    start, end = units.span(each.span)
    return Slip(
        each.span, start, end, kind, word, False, "", reasons, Html(""), each.code, each.severity, actions
    )


def worst(told: Sequence[Slip], within: Span) -> str:
    """The worst verdict in a place; empty if nothing was judged there.

    Parameters
    ----------
    told : sequence of Slip
        All slips.
    within : Span
        The place.
    """
    kinds = [
        "true" if each.is_met else each.kind
        for each in told
        if each.span.within(within) and (each.text or each.severity == "error")
    ]
    return min(kinds, key=ORDER.index) if kinds else ""
