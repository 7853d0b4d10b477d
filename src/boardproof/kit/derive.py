"""The `derive` job: the proven steps of a lesson's derive blocks, shown, offered by route, or kept in the lesson."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from boardproof.derive.block import written_block
from boardproof.derive.routes import ROUTES, Fit, Unfitting
from boardproof.derive.steps import Derivation
from boardproof.findings import Finding, near_names
from boardproof.kit.argument import Sought, argument, offers, route_named, sought_in, target_block
from boardproof.kit.deadline import deadline
from boardproof.kit.files import CourseFolder, save_source
from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.kit.report import in_short, visible
from boardproof.lesson.edit import apply
from boardproof.lesson.model import Derive
from boardproof.prove.walk import Place
from boardproof.source import Edit, Source, Span

__all__ = ["kept", "run"]

PROVED: Final = "Each step is true of the circuit and follows from the lines and rules that it names."
TOLD_LATER: Final = frozenset({"long-lesson"})
"""Warnings that steps may bring, since what an empty block says was not counted before."""
NOT_PROVED: Final = "Not every step could be proved: "


def _asked_for(proof: Proof, target: str) -> Sought | tuple[Finding, ...]:
    """What the command line asks for, on the circuit at hand at the end of the lesson."""
    block = target_block(target)
    visits = proof.walk.visits
    return (
        Sought(block, visits[-1].place if visits else Place(0, 0, None))
        if isinstance(block, Derive)
        else block
    )


def kept(proof: Proof) -> tuple[Edit, tuple[tuple[Sought, str], ...]]:
    """The edit that writes steps into every empty derive block, and the blocks left as they are, with the reason.

    Parameters
    ----------
    proof : Proof
        The lesson.

    Returns
    -------
    (Edit, tuple of (Sought, str))
        Only whole new lines inside those blocks; an edit without changes if there is nothing to keep.
    """
    source = proof.lesson.source
    line_end = "\r\n" if "\r\n" in source.text else "\n"
    changes: list[tuple[Span, str]] = []
    left: list[tuple[Sought, str]] = []
    for sought in sought_in(proof.walk):
        why_not, text = _to_keep(proof, sought)
        if why_not:
            left.append((sought, why_not))
            continue
        end = source.text.rfind("\n", 0, sought.block.span.end) + 1
        changes.append((Span(source.name, end, end), text.replace("\n", line_end)))
    return Edit(tuple(changes), "safe", source.sha256), tuple(left)


def _to_keep(proof: Proof, sought: Sought) -> tuple[str, str]:
    """Why a block is left alone, else the lines to put into it."""
    if sought.block.steps:
        return "it has its steps already; they are yours", ""
    span = sought.block.span
    first, *body = proof.lesson.source.text[span.start : span.end].splitlines()
    marks = first.lstrip()[:3]
    if not body or not body[-1].strip().startswith(marks):
        return "the block is not closed", ""
    if any(line.strip() and not line.lstrip().startswith("#") for line in body[:-1]):
        return "there are words in it already; they are yours", ""
    found = argument(proof.worlds, sought)
    if isinstance(found, Unfitting):
        return f"{found.route or 'no route'}: {found.why}", ""
    if not found.is_proved:
        return "not every step could be proved", ""
    if found.definitions:
        return f"it speaks of new things. Add to the circuit block first: {'; '.join(found.definitions)}", ""
    return "", written_block(found)


def run(options: Namespace) -> int:
    """Derive what the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    folder, findings, one = open_course(options.file)
    if options.file.is_dir() or not folder.lessons:
        for each in findings:
            sys.stderr.write(in_short(each) + "\n")
        if not findings:
            sys.stderr.write(f"{options.file} is no lesson: they are called NAME.lesson.md.\n")
        return 2
    route = options.route and route_named(options.route)
    if options.route and route is None:
        near = near_names(options.route, ROUTES) or tuple(ROUTES)
        return _refuse(f"There is no route called {options.route}. There are: {'; '.join(near)}.")
    if options.keep and options.target:
        return _refuse("--keep fills the lesson's own derive blocks; --target is only shown.")
    name = one or folder.lessons[0].name
    late = deadline(options.limit)
    proof = next(iter(prove_lessons(folder, findings, only=name, values=options.values, late=late)))
    if options.values and options.values not in proof.walk.definitions.sets:
        sets = ", ".join(proof.walk.definitions.sets) or "none"
        return _refuse(f"The lesson has no set of values called {options.values}. It has: {sets}.")
    if options.keep:
        return _keep(options.file, folder, proof)
    return _show(proof, options, route)


def _refuse(words: str) -> int:
    sys.stderr.write(visible(words) + "\n")
    return 2


def _show(proof: Proof, options: Namespace, route: str | None) -> int:
    many: Sequence[Sought] = sought_in(proof.walk)
    if options.target:
        asked = _asked_for(proof, options.target)
        if not isinstance(asked, Sought):
            return _refuse(in_short(asked[0]))
        many = (asked,)
    if not many:
        return _refuse(
            "There is no derive block in this lesson. Name what you want: --target 'E_p, r_p of both'."
        )
    name = proof.lesson.source.name
    if options.all:
        fits = [(sought, offers(proof.worlds, sought)) for sought in many]
        if options.json:
            _print_json(
                name, [{**_heading(each), "routes": [_fit_json(fit) for fit in all_]} for each, all_ in fits]
            )
        else:
            sys.stdout.write(visible("\n\n".join(_offered(name, *each) for each in fits)) + "\n")
        return 0 if all(any(fit.fits for fit in all_) for _, all_ in fits) else 1
    found = [(each, argument(proof.worlds, each, route=route, numbers=bool(options.values))) for each in many]
    if options.json:
        _print_json(name, [_argument_json(*each) for each in found])
    else:
        sys.stdout.write(visible("\n\n".join(_shown(name, *each) for each in found)) + "\n")
    return 0 if all(isinstance(each, Derivation) and each.is_proved for _, each in found) else 1


def _where(name: str, sought: Sought) -> str:
    return f"{name}:{sought.line}" if sought.line else name


def _offered(name: str, sought: Sought, fits: Sequence[Fit]) -> str:
    """All routes for one target, in the order to offer."""
    lines = [f"{_where(name, sought)}: {sought.words()}"]
    width = max(map(len, ROUTES))
    for fit in fits:
        said = f"no: {fit.why_not}"
        if fit.fits:
            aside = "; offered later, because it imagines a short circuit of cells that could do harm"
            said = f"fits{aside if fit.steps_aside else ''}"
        lines.append(f"  {fit.route.ljust(width)}   {said}")
    return "\n".join(lines)


def _shown(name: str, sought: Sought, found: Derivation | Unfitting) -> str:
    """One argument, with its end."""
    where = _where(name, sought)
    if isinstance(found, Unfitting):
        return f"{where}: {sought.words(found.route)}\n  does not fit: {found.why}. See --all for the routes that do."
    blocks = [f"{where}: {sought.words(found.route)}"]
    if sought.block.steps:
        blocks.append(
            f"Your own argument, {len(sought.block.steps)} steps, stays as it is. A fresh one beside it:"
        )
    blocks.append(written_block(found).rstrip())
    end = found.closing
    blocks += [" ".join(filter(None, (end.units, end.sentence)))]
    lines = (*end.limits, *end.numbers)
    if lines:
        blocks.append("\n".join(f"   {line}" for line in lines))
    if found.definitions:
        blocks.append("Add to the circuit block: " + "; ".join(found.definitions))
    unproved = ", ".join(str(step.number) for step in found.steps if not step.is_proved)
    blocks.append(NOT_PROVED + unproved if unproved else PROVED)
    return "\n\n".join(filter(None, blocks))


def _heading(sought: Sought) -> dict[str, object]:
    return {"line": sought.line or None, "targets": list(sought.targets), "group": sought.group}


def _fit_json(fit: Fit) -> dict[str, object]:
    return {"route": fit.route, "fits": fit.fits, "why_not": fit.why_not, "steps_aside": fit.steps_aside}


def _argument_json(sought: Sought, found: Derivation | Unfitting) -> dict[str, object]:
    head = _heading(sought)
    if isinstance(found, Unfitting):
        return {**head, "route": found.route or None, "why_not": found.why, "steps": []}
    end = found.closing
    return {
        **head,
        "route": found.route,
        "why_not": None,
        "steps": [
            {
                "number": step.number,
                "maths": step.maths,
                "rules": list(step.rules),
                "from": list(step.from_),
                "words": step.words,
                "moves": list(step.moves),
                "proved": step.is_proved,
            }
            for step in found.steps
        ],
        "closing": {
            "units": end.units,
            "limits": list(end.limits),
            "sentence": end.sentence,
            "numbers": list(end.numbers),
        },
        "definitions": list(found.definitions),
    }


def _print_json(name: str, arguments: list[dict[str, object]]) -> None:
    sys.stdout.write(
        json.dumps({"schema": 1, "file": name, "arguments": arguments}, ensure_ascii=False) + "\n"
    )


def _keep(path: Path, folder: CourseFolder, proof: Proof) -> int:
    """Write the steps into the lesson, if it then checks as clean as before."""
    edit, left = kept(proof)
    name = proof.lesson.source.name
    for sought, why in left:
        sys.stdout.write(f"{_where(name, sought)}: {sought.words()}: left as it is: {why}.\n")
    is_stuck = any(not sought.block.steps for sought, _ in left)
    if not edit.changes:
        sys.stdout.write("Nothing was changed.\n")
        return 1 if is_stuck else 0
    after = apply(proof.lesson.source, edit)
    for told in _new_troubles(folder, proof, after):
        sys.stderr.write(f"Not kept, since the lesson would not check as before: {told}\n")
        return 1
    if found := save_source(path, after, base=proof.lesson.source.sha256):
        return _refuse(in_short(found[0]))
    many = "blocks" if len(edit.changes) > 1 else "block"
    sys.stdout.write(
        f"{name}: steps written into {len(edit.changes)} derive {many}; reword them as you like.\n"
    )
    return 1 if is_stuck else 0


def _new_troubles(folder: CourseFolder, before: Proof, after: Source) -> Iterator[str]:
    """Errors and warnings that a changed text has and the old one had not."""
    lessons = tuple(after if each.name == after.name else each for each in folder.lessons)
    proof = next(iter(prove_lessons(replace(folder, lessons=lessons), only=after.name)))
    old = Counter((each.code, each.message) for each in before.report.diagnostics)
    for each in proof.report.diagnostics:
        key = (each.code, each.message)
        if each.severity != "note" and each.code not in TOLD_LATER and not old[key]:
            yield f"line {proof.lesson.source.position(each.span.start)[0]}: {each.message}"
        old[key] -= 1
