"""A claim block: its lines in symbols are judged, its words are read; words alone are judged by their reading."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from boardproof.findings import Evidence, Finding
from boardproof.lesson.model import Claim
from boardproof.lesson.said import printed_words
from boardproof.lesson.sentence import Fill, Maths
from boardproof.prove.bench import Ruling
from boardproof.prove.claims import judge_claim
from boardproof.prove.gathered import Asked, Read
from boardproof.prove.kinds import finding
from boardproof.prove.sentences import read_sentence
from boardproof.prove.verdict import Verdict
from boardproof.prove.walk import Place
from boardproof.prove.worded import judge_read
from boardproof.prove.worlds import Worlds
from boardproof.quantities import Style
from boardproof.source import Span

__all__ = ["judge_block"]


def judge_block(
    claim: Claim, worlds: Worlds, place: Place, *, style: Style | None = None
) -> Iterator[tuple[Span, Ruling]]:
    """Judge a claim block.

    Parameters
    ----------
    claim : Claim
        The block.
    worlds : Worlds
        Of the lesson.
    place : Place
        Where it stands.
    style : Style, optional
        How values are shown.

    Yields
    ------
    (Span, Ruling)
        One a line in symbols; without any, one a line of the sentence's reading, which a note shows.
    """
    span = _place(claim)
    said = _read(claim, worlds, place)
    if claim.means:
        rulings = judge_claim(claim.means, claim.for_, worlds.at(place), decimal=worlds.decimal, style=style)
        apart = _apart(claim, said, rulings, worlds, place, span)
        for number, (line, ruling) in enumerate(rulings):
            yield line.span, replace(ruling, findings=(*ruling.findings, *(apart if number == 0 else ())))
        return
    match said:
        case Read():
            yield from _by_words(claim, said, worlds, place, span, style)
        case Asked(word=word, readings=readings):
            choices = " or ".join(f"`means: {'; '.join(read.means)}` ({told})" for told, read in readings)
            note = finding("unclear-claim", span, facts={"word": word, "choices": choices})
            yield span, _unchecked(f"“{word}” can be read in {len(readings)} ways", note)
        case _:
            reason = "its words are of no form that I can read, and there is no `means` line"
            yield span, _unchecked(reason, finding("unchecked-statement", span, facts={"reason": reason}))


def _place(claim: Claim) -> Span:
    if claim.words:
        return claim.words[0].span.to(claim.words[-1].span)
    return claim.name.span if claim.name is not None else claim.span


def _unchecked(reason: str, note: Finding) -> Ruling:
    return Ruling(Verdict("not-checked", evidence=(Evidence("machine", reason),)), (note,))


def _read(claim: Claim, worlds: Worlds, place: Place) -> Read | Asked | None:
    if place.circuit is None:
        return None
    words = " ".join(printed_words(each, _filled, _typed) for each in claim.words)
    return read_sentence(words, worlds.definitions, place.circuit, decimal=worlds.decimal)


def _filled(fill: Fill) -> str:
    return fill.of.text


def _typed(maths: Maths) -> str:
    return maths.text.text


def _by_words(
    claim: Claim, read: Read, worlds: Worlds, place: Place, span: Span, style: Style | None
) -> Iterator[tuple[Span, Ruling]]:
    lets = "".join(f", with {name} = {phrase}" for name, phrase in read.lets)
    scope = "".join(f"; for: {each}" for each in read.scope)
    for line, ruling in judge_read(read, worlds, place.circuit, span, for_=claim.for_, style=style):
        note = finding("read-claim", span, facts={"reading": f"{line}{lets}{scope}"})
        yield span, replace(ruling, findings=(note, *ruling.findings))


def _apart(
    claim: Claim,
    said: Read | Asked | None,
    rulings: tuple[tuple[object, Ruling], ...],
    worlds: Worlds,
    place: Place,
    span: Span,
) -> tuple[Finding, ...]:
    """What the words say beside true symbols, if that is not true too."""
    if not isinstance(said, Read) or any(ruling.verdict.kind != "true" for _, ruling in rulings):
        return ()
    for line, ruling in judge_read(said, worlds, place.circuit, span, for_=claim.for_):
        if ruling.verdict.kind in {"true-only-when", "wrong"}:
            symbols = "; ".join(each.text.strip() for each in claim.means)
            facts = {"words": line, "symbols": symbols}
            return (finding("words-and-symbols", span, facts=facts, evidence=ruling.verdict.evidence),)
    return ()
