"""Sentences that other numbers make untrue: "gives" where a cell is charged now, "bigger" where it is smaller now."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from boardproof.algebra.expression import names_in
from boardproof.algebra.written import read_line
from boardproof.lesson.sentence import Fill, Maths, Tie, Words
from boardproof.prove.clause import Sentence
from boardproof.prove.loose_number import said_in
from boardproof.prove.prose import named_quantity
from boardproof.prove.rewriting import Numbered
from boardproof.prove.walk import Place, Visit
from boardproof.prove.world import World
from boardproof.quantities import Dimension
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = ["Unsaid", "unsaid"]

ENDS: Final = re.compile(r"(?<!p\.d)(?<!m\.f)[.!?](?=\s|$)")
DIRECTION: Final = re.compile(
    r"(?i)\b(?:gives?|giving|drives?|driving|delivers?|supplies|feeds?|charges?|charged"
    r"|charging|takes|goes into|into|out of|"
    r"reversed|minus|backwards?)\b"
)
ORDER: Final = re.compile(
    r"(?i)\b(?:more|less|larger|smaller|bigger|greater|higher|lower|above|below|between"
    r"|most|least|nearer|stronger|weaker|"
    r"exceeds?|beats|beaten|over|under|mere|only|rises|falls|drops|wins)\b"
)
SAME: Final = re.compile(r"(?i)\b(?:same|equal|equals|half|twice|double|third|times|both)\b")


NOW: Final = {1: "runs the way it counts", 0: "is nought", -1: "runs the other way"}
THEN: Final = {1: "ran the way it counts", 0: "was nought", -1: "ran the other way"}


@record
class Unsaid:
    """A sentence to look at: its place, its words, and what changed in what it speaks of."""

    span: Span
    words: str
    reason: str


@record
class _Spoken:
    name: str
    old: Fraction
    new: Fraction
    dimension: Dimension | None


def unsaid(lesson: Numbered) -> tuple[Unsaid, ...]:
    """Sentences whose verb or comparison may no longer fit.

    Parameters
    ----------
    lesson : Numbered
        Before and after.

    Returns
    -------
    tuple of Unsaid
        Where a quantity that the sentence speaks of changed its sign, or two of them their order.
    """
    pairs = list(zip(lesson.before[0].visits, lesson.after[0].visits, strict=True))
    found: list[Unsaid] = []
    for _, group in itertools.groupby(pairs, key=lambda pair: id(pair[0].paragraph or pair[0])):
        both = list(group)
        if both[0][0].paragraph is not None:
            after = {id(old): new.place for old, new in both}
            found += _paragraph([old for old, _ in both], after, lesson)
    return tuple(found)


def _paragraph(visits: Sequence[Visit], after: Mapping[int, Place], lesson: Numbered) -> Iterator[Unsaid]:
    sentence = Sentence.of(visits)
    ends = [0, *(match.end() for match in ENDS.finditer(sentence.text)), len(sentence.text)]
    for start, end in itertools.pairwise(ends):
        inside = [visit for visit, at in zip(visits, sentence.starts, strict=True) if start <= at < end]
        words = sentence.text[start:end]
        spoken = list(_spoken(inside, after, lesson)) + list(_told(sentence, start, end, after, lesson))
        if inside and (first := inside[0].span) and (last := inside[-1].span):
            reason = _reason(words, spoken)
            if reason:
                whole = first.to(last)
                text = lesson.before[0].lesson.source.text[whole.start : whole.end]
                yield Unsaid(whole, " ".join(text.split())[:160], reason)


def _spoken(visits: Sequence[Visit], after: Mapping[int, Place], lesson: Numbered) -> Iterator[_Spoken]:
    """Quantities that a sentence names in maths, values and ties."""
    for visit in visits:
        world = lesson.before[1].at(visit.place)
        new = lesson.after[1].at(after[id(visit)])
        text = {Maths: "text", Fill: "of", Tie: "to"}.get(type(visit.element))
        typed = getattr(visit.element, text) if text else None
        if typed is None:
            if isinstance(visit.element, Words):
                yield from _cells(visit.element.text, world, new)
            continue
        line, _ = read_line(
            typed, known=lesson.before[1].known(visit.place.circuit), decimal=lesson.before[1].decimal
        )
        trees = [*(line.statements if line else ()), *(line.bare if line else ())]
        for name in dict.fromkeys(name.text for tree in trees for name in names_in(tree)):
            yield from _named(name, world, new)


def _cells(text: str, world: World, new: World) -> Iterator[_Spoken]:
    """Currents of the cells that plain words name."""
    circuit = world.at_hand
    for leaf in circuit.leaves if circuit else ():
        if leaf.part.kind in {"cell", "source"} and re.search(rf"(?<!\w){re.escape(leaf.path)}(?!\w)", text):
            yield from _named(f"I_{leaf.path}", world, new)


def _named(name: str, world: World, new: World) -> Iterator[_Spoken]:
    old, now = world.in_numbers(name), new.in_numbers(name)
    if isinstance(old, Fraction) and isinstance(now, Fraction):
        yield _Spoken(name, old, now, world.dimension(name))


def _told(
    sentence: Sentence, start: int, end: int, after: Mapping[int, Place], lesson: Numbered
) -> Iterator[_Spoken]:
    """Quantities whose numbers stand in plain words."""
    for loose in said_in(sentence, lesson.before[1].decimal):
        if not start <= loose.said.start < end:
            continue
        world = lesson.before[1].at(loose.visit.place)
        named = named_quantity(loose, world, loose.visit.place.circuit)
        if named is not None:
            new = lesson.after[1].at(after[id(loose.visit)])
            found = lesson.after[1].phrase(_slice(named[0]), new.at_hand)
            ends = (
                world.with_name("it", named[1]).in_numbers("it"),
                new.with_name("it", found).in_numbers("it"),
            )
            if isinstance(ends[0], Fraction) and isinstance(ends[1], Fraction):
                yield _Spoken(named[0], ends[0], ends[1], loose.said.unit.dimension)


def _slice(text: str) -> Slice:
    return Slice(text, Span("", 0, len(text)))


def _reason(words: str, spoken: Sequence[_Spoken]) -> str:
    """What changed that the sentence speaks of; empty if nothing that it says of them can have changed."""
    unique = list({each.name: each for each in spoken}.values())
    if DIRECTION.search(words):
        for each in unique:
            if _sign(each.old) != _sign(each.new):
                ways = NOW[_sign(each.new)], THEN[_sign(each.old)]
                return f"{each.name} {ways[0]} now; before it {ways[1]}."
    if ORDER.search(words) or SAME.search(words):
        for one, other in itertools.combinations(unique, 2):
            before, now = _sign(one.old - other.old), _sign(one.new - other.new)
            if one.dimension == other.dimension and before != now:
                order = {1: "is larger than", 0: "equals", -1: "is smaller than"}
                return f"{one.name} {order[now]} {other.name} now; before it was the other way."
    return ""


def _sign(value: Fraction) -> int:
    return (value > 0) - (value < 0)
