"""The course's ledger: what each lesson leans on and establishes, from its own text, and where that breaks.

A lesson establishes what it tags and what it claims by name. It leans on what it says it leans on, and on what its
kept steps and its `recall` moves name. Nothing is judged here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final, Literal

from boardproof.algebra.expression import Name, Relation, names_in
from boardproof.algebra.show import plain
from boardproof.algebra.written import read_lines
from boardproof.circuit.look_up import Resolved, look_up
from boardproof.circuit.model import Across, Changed, Copies, Item, Leaf, Network, Parallel, Series
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.lesson.model import Claim, Derive, DeriveStep, Display
from boardproof.lesson.sentence import Move
from boardproof.prove.follows import Established
from boardproof.prove.kinds import finding
from boardproof.prove.rules import RULES
from boardproof.prove.walk import Walk
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.record import record
from boardproof.source import Span

__all__ = ["LessonLedger", "Result", "Use", "broken", "established_by", "ledger_of"]

ALWAYS: Final = frozenset({"definition", "algebra", "numbers"})


@record
class Result:
    """Something that a lesson establishes, or that the class brings along.

    Parameters
    ----------
    name : str
        Its tag, or the claim's name.
    lesson : str
        The lesson's file name; empty for what is known beforehand.
    span : Span or None
        Where.
    kind : {"known", "tag", "claim"}
        What it is.
    statement : tuple of str
        Its lines with each letter replaced by the role it plays there; equal for the same law in other letters.
    letters : tuple of str
        The letters it is written in, in order.
    """

    name: str
    lesson: str
    span: Span | None
    kind: Literal["known", "tag", "claim"]
    statement: tuple[str, ...] = ()
    letters: tuple[str, ...] = ()


@record
class Use:
    """A place that leans on a result; `declared` in the lesson's settings, or used in a step or a recall."""

    name: str
    lesson: str
    span: Span
    declared: bool


@record
class LessonLedger:
    """One lesson's rows.

    Parameters
    ----------
    lesson, title : str
        File name and title.
    results : tuple of Result
        What it establishes.
    uses : tuple of Use
        What it leans on, each name once declared and once used at most.
    promised : tuple of (str, Span)
        What its settings promise.
    meanings : mapping of str to (str, Span or None)
        What its letters mean.
    """

    lesson: str
    title: str
    results: tuple[Result, ...]
    uses: tuple[Use, ...]
    promised: tuple[tuple[str, Span], ...]
    meanings: Mapping[str, tuple[str, Span | None]]


def established_by(walk: Walk, worlds: Worlds, *, decimal: str = ".") -> dict[str, Established]:
    r"""The results of a lesson, read without judging anything.

    Parameters
    ----------
    walk : Walk
        The lesson.
    worlds : Worlds
        Made for its definitions.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    dict of str to Established
        Tags with their equations; claims with none.
    """
    found: dict[str, Established] = {}
    for name, established, _, kind in _established(walk, worlds, decimal):
        if kind == "tag":
            found[name] = established
        else:
            found.setdefault(name, established)
    return found


def _established(
    walk: Walk, worlds: Worlds, decimal: str
) -> Iterator[tuple[str, Established, Span | None, Literal["tag", "claim"]]]:
    for visit in walk.visits:
        element = visit.element
        if isinstance(element, Display) and r"\tag" in element.text.text:
            lines, _ = read_lines(element.text, known=worlds.known(visit.place.circuit), decimal=decimal)
            for line in lines:
                if line.tag:
                    relations = tuple(each for each in line.statements if isinstance(each, Relation))
                    yield line.tag, Established(relations, worlds.at(visit.place)), visit.span, "tag"
        elif isinstance(element, Claim) and element.name is not None:
            yield (
                element.name.text.strip(),
                Established((), worlds.at(visit.place)),
                element.name.span,
                "claim",
            )


def ledger_of(walk: Walk, worlds: Worlds, *, decimal: str = ".") -> LessonLedger:
    """A lesson's rows in the ledger.

    Parameters
    ----------
    walk : Walk
        The lesson.
    worlds : Worlds
        Made for its definitions.
    decimal : str
        The course's decimal mark.
    """
    lesson = walk.lesson
    name = lesson.source.name
    results = tuple(
        Result(each, name, span, kind, *_in_roles(established))
        for each, established, span, kind in _established(walk, worlds, decimal)
    )
    declared = [Use(each.text.strip(), name, each.span, declared=True) for each in lesson.settings.leans_on]
    used = {use.name: use for use in reversed(list(_used(walk)))}
    promised = tuple((each.text.strip(), each.span) for each in lesson.settings.establishes)
    title = lesson.title.strip() or name.removesuffix(".lesson.md")
    meanings = dict(_meanings(walk, worlds))
    return LessonLedger(name, title, results, (*declared, *used.values()), promised, meanings)


def _used(walk: Walk) -> Iterator[Use]:
    """Rules of kept steps and lines recalled."""
    name = walk.lesson.source.name
    for visit in walk.visits:
        match visit.element:
            case DeriveStep(rules=rules):
                yield from (
                    Use(each.text.strip(), name, each.span, declared=False)
                    for each in rules
                    if each.text.strip() not in ALWAYS
                )
            case Move(word="recall", of=(of, *_)):
                yield Use(of.text.strip(), name, of.span, declared=False)
            case Derive():
                continue
            case _:
                continue


def _in_roles(established: Established) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """A result's lines with roles for letters, and its letters."""
    world = established.world
    if not isinstance(world, World):
        return (), ()
    letters: dict[str, str] = {}
    counted: dict[str, int] = {}
    for relation in established.relations:
        for name in names_in(relation):
            if name.text not in letters:
                role = _role(name, world)
                counted[role] = counted.get(role, 0) + 1
                letters[name.text] = f"[{role} {counted[role]}]"
    if not letters:
        return (), ()
    longest_first = sorted(letters, key=len, reverse=True)
    name_in_text = re.compile(rf"(?<![\w])(?:{'|'.join(map(re.escape, longest_first))})(?![\w])")
    lines = tuple(
        name_in_text.sub(lambda match: letters[match[0]], plain(each)) for each in established.relations
    )
    return lines, tuple(letters)


def _role(name: Name, world: World) -> str:
    meant = world.means(name.text)
    if not isinstance(meant, QuantityRef):
        return "expression"
    if meant.kind in {"letter", "count"}:
        return f"{meant.kind} in {world.dimension(name.text)}"
    return meant.kind


def _meanings(walk: Walk, worlds: Worlds) -> Iterator[tuple[str, tuple[str, Span | None]]]:
    """What each letter of a lesson stands for, in words that are equal from lesson to lesson."""
    known = walk.definitions
    for part in known.parts.values():
        for worth in part.worths():
            if worth is part.emf:
                what = "the EMF of a cell"
            elif worth is part.capacitance:
                what = "a capacitance"
            else:
                what = "the internal resistance of a cell" if part.kind == "cell" else "a resistance"
            yield worth.letter, (what, worth.span)
    for name, let in known.lets.items():
        circuit = next((each for _, each in reversed(walk.circuits)), None)
        meant = worlds.meant(name, circuit)
        if isinstance(meant, Resolved):
            yield name, (_let_words(meant, worlds), let.span)


def _let_words(meant: Resolved, worlds: Worlds) -> str:
    kind = meant.ref.kind.replace("_", " ").replace("emf", "EMF").replace("pd", "p.d.")
    owner = meant.ref.of[0] if len(meant.ref.of) == 1 else ""
    found = look_up(owner, worlds.definitions, meant.circuit) if owner else None
    item = getattr(found, "item", None)
    return f"the {kind} of {_shape(item)}" if item is not None else f"a {kind}"


def _shape(item: Item) -> str:
    while isinstance(item, Changed):
        item = item.item
    match item:
        case Leaf(part=part):
            return f"a {part.kind}"
        case Series():
            return "a row"
        case Parallel():
            return "cells or parts in parallel"
        case Copies(joined=joined):
            return "like cells in a row" if joined == "series" else "like cells in parallel"
        case Network():
            return "a network"
        case Across():
            return "the circuit"
        case _:
            return "a family of parts"


def broken(known: Sequence[str], lessons: Sequence[LessonLedger]) -> tuple[Finding, ...]:
    """What is wrong with the order of lessons, or with their letters.

    Parameters
    ----------
    known : sequence of str
        What the class brings along.
    lessons : sequence of LessonLedger
        In teaching order.

    Returns
    -------
    tuple of Finding
        ``not-yet-taught``, ``not-established``, ``taught-twice``, ``changed-meaning``.
    """
    taught: dict[str, str] = dict.fromkeys(known, "")
    found: list[Finding] = []
    for ledger in lessons:
        own = {each.name for each in ledger.results}
        found += _too_early(ledger, own, taught, lessons)
        found += [
            finding("not-established", span, facts={"result": name})
            for name, span in ledger.promised
            if name not in own
        ]
        taught |= dict.fromkeys(own, ledger.lesson)
    return (*found, *_twice(lessons), *_changed(lessons))


def _too_early(
    ledger: LessonLedger, own: set[str], taught: Mapping[str, str], lessons: Sequence[LessonLedger]
) -> Iterator[Finding]:
    told: set[str] = set()
    for use in ledger.uses:
        if use.name in taught or use.name in told or (use.name in own and not use.declared):
            continue
        if not use.declared and use.name in RULES and not any(_teaches(each, use.name) for each in lessons):
            where = "Add it to `known` in course.toml, if the class brings it along."
        else:
            later = next((each.title for each in lessons if _teaches(each, use.name)), "")
            where = f"“{later}” establishes it." if later else "No lesson of this course establishes it."
        told.add(use.name)
        yield finding("not-yet-taught", use.span, facts={"result": use.name, "where": where})


def _teaches(ledger: LessonLedger, name: str) -> bool:
    return any(each.name == name for each in ledger.results)


def _twice(lessons: Sequence[LessonLedger]) -> Iterator[Finding]:
    """One name established twice; one law in two lessons with different letters."""
    names: dict[str, Result] = {}
    laws: dict[tuple[str, ...], Result] = {}
    titles = {each.lesson: each.title for each in lessons}
    for ledger in lessons:
        for result in ledger.results:
            before = names.get(result.name) or (laws.get(result.statement) if result.statement else None)
            if before is not None and before.lesson != result.lesson and result.span is not None:
                facts = {"result": result.name, "first": titles[before.lesson], "second": ledger.title}
                if result.letters and before.letters and result.letters != before.letters:
                    facts["letters"] = (
                        f"There with {', '.join(before.letters)}, here with {', '.join(result.letters)}."
                    )
                related = ((before.span, "first taught here"),) if before.span else ()
                yield finding("taught-twice", result.span, facts={"letters": "", **facts}, related=related)
            names.setdefault(result.name, result)
            if result.statement:
                laws.setdefault(result.statement, result)


def _changed(lessons: Sequence[LessonLedger]) -> Iterator[Finding]:
    """A letter that means one thing in a lesson and another in a later one."""
    first: dict[str, tuple[str, Span | None, str]] = {}
    for ledger in lessons:
        for letter, (what, span) in ledger.meanings.items():
            before = first.setdefault(letter, (what, span, ledger.title))
            if before[0] != what:
                place = (
                    span if span is not None and span.source == ledger.lesson else Span(ledger.lesson, 0, 0)
                )
                facts = {"letter": letter, "before": before[0], "lesson": before[2], "now": what}
                yield finding("changed-meaning", place, facts=facts)
