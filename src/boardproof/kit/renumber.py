"""The `renumber` job: a lesson with other numbers. What changes is shown first; what stops being true is listed."""

from __future__ import annotations

import json
import re
import sys
from argparse import Namespace
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Final

from boardproof.circuit.definitions import Definitions
from boardproof.circuit.read import circuit_at
from boardproof.circuit.statement import AtHand, Named, read_statements
from boardproof.circuit.written import Closed
from boardproof.findings import Diagnostic, near_names, worded
from boardproof.kit.files import CourseFolder, save_source
from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.lesson.edit import apply
from boardproof.lesson.model import CircuitBlock
from boardproof.prove.renumber import renumbered
from boardproof.prove.rewriting import Change, Numbered
from boardproof.prove.unsaid import Unsaid, unsaid
from boardproof.quantities import Style, read_unit
from boardproof.quantities.showing import digits_of
from boardproof.record import record
from boardproof.source import Edit, Source, Span

__all__ = ["Renumbered", "renumber", "run"]

VALUE: Final = re.compile(r"=\s*(?P<number>[0-9][0-9., /]*[0-9]|[0-9])\s*(?P<unit>[^\W\d]+)?")
NUMBER: Final = re.compile(r"[0-9][0-9.,/]*")


@record
class Renumbered:
    """A lesson with other numbers.

    Parameters
    ----------
    source : Source
        As it stands.
    edit : Edit
        What makes it the new one; nothing else changes.
    after : Source
        The new text.
    changes : tuple of Change
        Each number, in text order.
    unsaid : tuple of Unsaid
        Sentences that stop being true, or whose verb no longer fits.
    worse : tuple of Diagnostic
        Errors and warnings that the new text has and the old one hasn't.
    left : tuple of str
        Letters of the set that were left as they are, and why.
    """

    source: Source
    edit: Edit
    after: Source
    changes: tuple[Change, ...]
    unsaid: tuple[Unsaid, ...]
    worse: tuple[Diagnostic, ...]
    left: tuple[str, ...]

    @property
    def clean(self) -> bool:
        """Whether everything that was true still is."""
        return not self.unsaid and not any(each.severity == "error" for each in self.worse)


def renumber(folder: CourseFolder, name: str, values: str) -> Renumbered | str:
    """Give a lesson the numbers of a named set.

    Parameters
    ----------
    folder : CourseFolder
        The course.
    name : str
        The lesson's file name.
    values : str
        The set.

    Returns
    -------
    Renumbered or str
        A sentence if it can't be done.
    """
    before = next(prove_lessons(folder, only=name))
    known = before.walk.definitions
    if values not in known.sets:
        near = near_names(values, known.sets)
        return f"There is no set of values {values} in {name}." + (
            f" Did you mean {', '.join(near)}?" if near else ""
        )
    wanted = _wanted(before, values)
    given, left = _given(before, wanted, values)
    source = before.lesson.source
    middle = apply(source, Edit(tuple((each.span, each.text) for each in given), "safe", source.sha256))
    after = _proved(folder, middle)
    if len(after.walk.visits) != len(before.walk.visits):
        return "The lesson reads differently with these values; nothing was changed."
    policy, notation = before.course.policy, before.course.notation
    lesson = Numbered(
        (before.walk, before.worlds),
        (after.walk, after.worlds),
        before.checked.judged,
        policy.show,
        Style(policy.show, policy.half, notation.mark, notation.ohm),
    )
    places = {each.span for each in given}
    more = [each for each in renumbered(lesson) if not any(_touch(each.span, place) for place in places)]
    changes = tuple(sorted((*given, *more), key=lambda each: each.span))
    edit = Edit(tuple((each.span, each.text) for each in changes), "show", source.sha256)
    new = apply(source, edit)
    final = _proved(folder, new)
    return Renumbered(source, edit, new, changes, unsaid(lesson), _worse(before, final), left)


def _proved(folder: CourseFolder, source: Source) -> Proof:
    lessons = tuple(source if each.name == source.name else each for each in folder.lessons)
    return next(prove_lessons(replace(folder, lessons=lessons), only=source.name))


def _touch(one: Span, other: Span) -> bool:
    return one.start < other.end and other.start < one.end


def _worse(before: Proof, after: Proof) -> tuple[Diagnostic, ...]:
    """What the new text has to be told of and the old one hasn't."""
    old = {
        (each.code, before.lesson.source.position(each.span.start)[0]) for each in before.report.diagnostics
    }
    return tuple(
        each
        for each in after.report.diagnostics
        if each.severity != "note"
        and (each.code, after.lesson.source.position(each.span.start)[0]) not in old
    )


# Where values are given


def _wanted(proof: Proof, values: str) -> Mapping[str, Fraction]:
    """Letters that the set gives another value in some circuit of the lesson, with that value."""
    known, wanted = proof.walk.definitions, dict[str, Fraction]()
    for _, circuit in proof.walk.circuits:
        put, _ = circuit_at(Source("set", values).slice(), known, circuit, decimal=proof.worlds.decimal)
        named = {each.name for each in known.sets[values].assigned}
        for letter, value in put.values.items() if put else ():
            if letter in named or circuit.values.get(letter) != value:
                wanted[letter] = value
    return wanted


def _given(proof: Proof, wanted: Mapping[str, Fraction], values: str) -> tuple[list[Change], tuple[str, ...]]:
    """Changes of the values that circuits give, and what was left."""
    known, source = proof.walk.definitions, proof.lesson.source
    changes: list[Change] = []
    left: list[str] = []
    elsewhere: set[str] = set()
    for letter, value in wanted.items():
        places = list(_places(letter, known, proof))
        told = {_said(source, place) for place in places}
        inside = [place for place in places if place.source == source.name]
        if len(told) > 1:
            left.append(f"{letter} has several values in this lesson; they are left as they are.")
        elif inside:
            changes += [_written(source, place, letter, value) for place in inside]
        else:
            elsewhere.add(letter)
    if elsewhere:
        changes += _in_force(proof, values, elsewhere)
    return changes, tuple(left)


def _places(letter: str, known: Definitions, proof: Proof) -> Iterator[Span]:
    """Where a letter's value is given: at its part, or once in a variation or a move."""
    source = proof.lesson.source
    for part in known.parts.values():
        for worth in part.worths():
            if worth.letter == letter and worth.value is not None and worth.span is not None:
                yield worth.span
    sets = [each.span for each in known.sets.values()]
    for found in re.finditer(rf"(?<![\w.{{]){re.escape(letter)}\s*{VALUE.pattern}", source.text):
        span = Span(source.name, found.start(), found.end())
        line = source.line(source.position(span.start)[0])
        if re.search(r"\bbut\b|`take\b", line) and not any(
            _touch(span, each) for each in sets if each.source == source.name
        ):
            yield span


def _said(source: Source, span: Span) -> str:
    return " ".join(source.text[span.start : span.end].split()) if span.source == source.name else str(span)


def _written(source: Source, span: Span, letter: str, value: Fraction) -> Change:
    """The number of ``E_1 = 6 V`` written anew in its own unit."""
    text = source.text[span.start : span.end]
    found = list(NUMBER.finditer(text))
    number = next(each for each in reversed(found))
    unit = re.match(r"\s*([^\W\d]+)", text[number.end() :])
    read = read_unit(unit[1]) if unit else None
    scale = read.scale if read else Fraction(1)
    digits = digits_of(value / scale, Style(9), 9).replace("\u202f", " ")
    place = Span(span.source, span.start + number.start(), span.start + number.end())
    return Change(place, digits, letter)


def _in_force(proof: Proof, values: str, letters: set[str]) -> list[Change]:
    """``but fresh`` after each closed circuit whose letters' values stand in another file."""
    changes = []
    for scene in proof.lesson.scenes:
        for block in scene.blocks:
            if not isinstance(block, CircuitBlock):
                continue
            statements, _ = read_statements(block.body, decimal=proof.worlds.decimal)
            for each in statements:
                if not isinstance(each, AtHand | Named) or not isinstance(each.expression, Closed):
                    continue
                circuit, _ = circuit_at(
                    Source("circuit", each.written).slice(),
                    proof.walk.definitions,
                    decimal=proof.worlds.decimal,
                )
                if circuit is not None and letters & set(circuit.letters):
                    end = Span(each.span.source, each.span.end, each.span.end)
                    changes.append(Change(end, f" but {values}", values))
    return changes


# The command


def run(options: Namespace) -> int:
    """Renumber what the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    path: Path = options.file
    folder, findings, only = open_course(path)
    name = only or (folder.lessons[0].name if folder.lessons and not path.is_dir() else None)
    if name is None:
        for each in findings:
            sys.stderr.write(f"{worded(each).message}\n")
        sys.stderr.write("Name one lesson: NAME.lesson.md.\n")
        return 2
    found = renumber(folder, name, options.values)
    if isinstance(found, str):
        sys.stderr.write(found + "\n")
        return 2
    saved = ""
    if options.write and found.clean and found.changes:
        trouble = save_source(path, found.after, base=found.source.sha256)
        if trouble:
            sys.stderr.write(worded(trouble[0]).message + "\n")
            return 2
        saved = f"Saved {name}."
    elif options.write and not found.clean:
        saved = "Not saved: mend the sentences below first, then ask again."
    sys.stdout.write((_json(found) if options.json else _text(found, saved)) + "\n")
    return 0 if found.clean else 1


def _text(found: Renumbered, saved: str) -> str:
    """Each changed line before and after, then what no longer holds."""
    blocks = ["\n".join(_lines(found)) or "Nothing changes."]
    if saved:
        blocks.append(saved)
    rows = [
        f"  line {found.source.position(each.span.start)[0]}: {each.words}\n    {each.reason}"
        for each in found.unsaid
    ]
    for each in found.worse:
        if each.severity == "error" or each.code in {"hidden-trap", "loose-number"}:
            line = found.after.position(each.span.start)[0]
            rows.append(f"  line {line}: {each.message} {each.help}".rstrip())
    if rows:
        blocks.append("No longer right:\n" + "\n".join(rows))
    if found.left:
        blocks.append("\n".join(found.left))
    count = len(found.changes)
    blocks.append(
        f"{count} number{'' if count == 1 else 's'} rewritten, {len(found.unsaid)} sentences to look at."
    )
    return "\n\n".join(blocks)


def _lines(found: Renumbered) -> Iterator[str]:
    before, after = found.source, found.after
    shown: set[int] = set()
    shift = 0
    for change in found.changes:
        row = before.position(change.span.start)[0]
        if row not in shown:
            shown.add(row)
            yield f"{row:4d} - {before.line(row)}"
            yield f"     + {after.line(after.position(change.span.start + shift)[0])}"
        shift += len(change.text) - (change.span.end - change.span.start)


def _json(found: Renumbered) -> str:
    def place(span: Span) -> dict[str, int]:
        line, column = found.source.position(span.start)
        return {"line": line, "column": column}

    return json.dumps(
        {
            "schema": 1,
            "file": found.source.name,
            "changes": [
                {
                    **place(each.span),
                    "old": found.source.text[each.span.start : each.span.end],
                    "new": each.text,
                    "of": each.of,
                }
                for each in found.changes
            ],
            "sentences": [
                {**place(each.span), "text": each.words, "reason": each.reason} for each in found.unsaid
            ],
            "findings": [
                {"code": each.code, "severity": each.severity, "message": each.message}
                for each in found.worse
            ],
            "left": list(found.left),
            "clean": found.clean,
        },
        ensure_ascii=False,
    )
