"""The `solve` job: a quick question about a circuit that is typed on the command line."""

from __future__ import annotations

import json
import sys
import textwrap
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from boardproof.algebra.expression import names_in
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.caution import Caution, caution_for, dangers
from boardproof.circuit.build import is_closed
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.lay_flat import has_loop
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Circuit
from boardproof.circuit.read import Reading, read_circuit
from boardproof.findings import Finding, worded
from boardproof.kit.circuit_table import Amount, PartRow, SourceRow, amount, part_rows, source_row
from boardproof.kit.report import CheckReport, findings_text, in_short, json_report, visible
from boardproof.kit.worth import worth
from boardproof.lesson.course import Course
from boardproof.prove.worlds import Worlds, values_from_readings
from boardproof.quantities import PURE, Style, shown, si_unit
from boardproof.record import record
from boardproof.solve.answers import answers
from boardproof.source import Source, Span

__all__ = ["Answered", "Asked", "answer", "run"]

NAME: Final = "circuit"
QUESTION: Final = "question"
WIDEST: Final = 48
NOTHING_THERE: Final = (
    "No circuit is put together here. End with one: 'A = cell 6 V, 1 ohm; R = resistor 5 ohm; A across R'."
)


@record
class Asked:
    """One question and its answer; `note` tells a direction."""

    words: str
    amount: Amount
    note: str = ""


@record
class Answered:
    """All that is told about a circuit.

    Parameters
    ----------
    source : Source
        What was typed, readings included.
    circuit : Circuit or None
        None if none is at hand.
    findings : tuple of Finding
        What is wrong with it.
    fixed : tuple of (str, str)
        Letters that readings fix, with their values.
    asked : tuple of Asked
        Answers to what was asked for.
    parts : tuple of PartRow
        Every part, if nothing was asked for.
    group : SourceRow or None
        The group of cells, likewise.
    caution : Caution or None
        What must be said beside it.
    unread : tuple of (str, Finding)
        Questions that mean nothing here.
    """

    source: Source
    circuit: Circuit | None
    findings: tuple[Finding, ...] = ()
    fixed: tuple[tuple[str, str], ...] = ()
    asked: tuple[Asked, ...] = ()
    parts: tuple[PartRow, ...] = ()
    group: SourceRow | None = None
    caution: Caution | None = None
    unread: tuple[tuple[str, Finding], ...] = ()

    @property
    def status(self) -> int:
        """Exit status: 2 if nothing could be asked, 1 if the circuit is ill-posed or an answer is missing."""
        if self.circuit is None and not self.findings:
            return 2
        if any((each.severity or each.kind.severity) == "error" for each in self.findings):
            return 1
        if self.unread:
            return 2
        return 1 if any(each.amount.why_not for each in self.asked) else 0


def answer(
    typed: str, wanted: Sequence[str] = (), *, given: Sequence[str] = (), letters: bool = False
) -> Answered:
    """Answer questions about a circuit.

    Parameters
    ----------
    typed : str
        Lines of a circuit, parted by semicolons or line ends.
    wanted : sequence of str
        Names, phrases or expressions; empty for everything.
    given : sequence of str
        Readings that fix letters without values: ``V = 1.4 V when R = 7 ohm``.
    letters : bool
        Answer in letters.

    Examples
    --------
    >>> found = answer("A = cell 6 V, 1 ohm; R = resistor 5 ohm; A across R", ["I", "power in R"])
    >>> [each.amount.exact for each in found.asked]
    [Fraction(1, 1), Fraction(5, 1)]
    """
    source = Source(NAME, "\n".join((typed, *(f"given {each}" for each in given))))
    read = read_circuit(source.slice())
    circuit = read.at_hand or _last(read.definitions)
    if circuit is None:
        return Answered(source, None, read.findings)
    findings, fixed = read.findings, tuple[tuple[str, str], ...]()
    style = Style()
    if read.givens:
        circuit, more, fixed = _with_readings(read, circuit, style)
        findings += more
    if is_closed(circuit.item) or has_loop(circuit):
        findings += _at(answers(circuit).faults(), source, typed)
    if any(each.kind.code == "impossible-value" for each in findings):
        return Answered(
            source, circuit, findings, fixed
        )  # what such a value would lead to is nobody's question
    caution = caution_for(dangers(circuit, style=style), rules=Course().rules)
    whole = Answered(source, circuit, findings, fixed, caution=caution)
    if any(each.kind.severity == "error" for each in read.findings):
        return whole
    if wanted:
        return _with_answers(whole, read.definitions, wanted, style, letters=letters)
    open_letters = {*circuit.letters, *circuit.counts} - set(circuit.values)
    letters = letters or bool(open_letters)
    parts = tuple(part_rows(circuit, style, letters=letters))
    return replace(whole, parts=parts, group=source_row(circuit, style, letters=letters))


def _last(known: Definitions) -> Circuit | None:
    """The last group that was named, where none stands alone."""
    return tuple(known.circuits.values())[-1] if known.circuits else None


def _with_readings(
    read: Reading, circuit: Circuit, style: Style
) -> tuple[Circuit, tuple[Finding, ...], tuple[tuple[str, str], ...]]:
    values, found = values_from_readings(read.givens, read.definitions)
    told = []
    for letter, value in sorted(values.items()):
        known = read.definitions.letters.get(letter)
        told.append((letter, shown(value, known.dimension if known else PURE, style)))
    more = {letter: value for letter, value in values.items() if letter not in circuit.values}
    valued = replace(circuit, values=MappingProxyType({**circuit.values, **more}))
    return valued, found, tuple(told)


def _at(found: tuple[Finding, ...], source: Source, typed: str) -> tuple[Finding, ...]:
    """Faults with a place: that of the part to blame, else the last line typed."""
    start = max(typed.rfind(mark) for mark in (";", "\n")) + 1
    start += len(typed[start:]) - len(typed[start:].lstrip())
    last = Span(source.name, start, len(typed))
    return tuple(each if each.span.source == source.name else replace(each, span=last) for each in found)


def _with_answers(
    whole: Answered, known: Definitions, wanted: Sequence[str], style: Style, *, letters: bool
) -> Answered:
    worlds = Worlds(known)
    world = worlds.of(whole.circuit)
    asked: list[Asked] = []
    unread: list[tuple[str, Finding]] = []
    for words in wanted:
        text = Source(QUESTION, words).slice()
        found = worlds.phrase(text, whole.circuit)
        if not isinstance(found, Finding | Resolved | RationalFunction):
            found = next(filter(None, map(world.trouble, names_in(found))), found)
        if isinstance(found, Finding):
            unread.append((words, replace(found, span=text.span)))
            continue
        if isinstance(found, RationalFunction):
            asked.append(Asked(words, amount(found, PURE, style)))
            continue
        note = ""
        if isinstance(found, Resolved) and found.ref.kind in {"current", "pd"}:
            note = world.with_name("it", found).sense("it")
        value = worth(found, world, letters=letters)
        if isinstance(value, Unknown):
            asked.append(Asked(words, Amount("", why_not=_sentence(value.reason))))
        else:
            asked.append(Asked(words, amount(*value, style), note))
    return replace(whole, asked=tuple(asked), unread=tuple(unread))


def _sentence(reason: str) -> str:
    return f"{reason[:1].upper()}{reason[1:].rstrip('.')}."


def run(options: Namespace) -> int:
    """Answer what the command line asks.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    found = answer(options.circuit, options.wanted or (), given=options.given or (), letters=options.letters)
    if found.circuit is None and not found.findings:
        sys.stderr.write(NOTHING_THERE + "\n")
    elif options.json:
        sys.stdout.write(json.dumps(_as_json(found), ensure_ascii=False) + "\n")
    else:
        colour = sys.stdout.isatty() and not options.no_colour
        sys.stdout.write(_text(found, colour=colour) + "\n")
        for words, trouble in found.unread:
            sys.stderr.write(f"{visible(words)}: {in_short(trouble)}\n")
    return found.status


def _report(found: Answered) -> CheckReport:
    return CheckReport(found.source, (), tuple(worded(each) for each in found.findings), {})


def _text(found: Answered, *, colour: bool) -> str:
    """The answers for a terminal: troubles, then values, then cautions."""
    blocks = [findings_text(_report(found), colour=colour)] if found.findings else []
    if found.fixed:
        blocks.append("From the readings: " + ", ".join(f"{name} = {value}" for name, value in found.fixed))
    if found.asked:
        blocks.append("\n".join(_asked_line(each) for each in found.asked))
    if found.parts:
        blocks.append(_table(found.parts))
    if found.group is not None:
        blocks.append(_group(found.group))
    if found.caution is not None:
        blocks.append("\n".join(textwrap.wrap(f"Caution. {found.caution.full}", 100)))
    return "\n\n".join(blocks)


def _asked_line(each: Asked) -> str:
    if each.amount.why_not:
        return visible(f"{each.words}: no answer. {each.amount.why_not}")
    return visible(f"{each.words} = {each.amount.shown}") + (f"   ({each.note})" if each.note else "")


def _table(parts: Sequence[PartRow]) -> str:
    """Parts in columns, or one under another where letters make them wide."""
    heads = ("part", "current", "p.d.", "power")
    rows = [(_named(part), _current(part), _pd(part), _power(part)) for part in parts]
    widths = [max(len(row[place]) for row in (heads, *rows)) for place in range(len(heads))]
    if max(widths[1:3]) > WIDEST:
        return "\n".join(
            f"{name}\n" + "\n".join(f"  {head}: {cell}" for head, cell in zip(heads[1:], cells, strict=True))
            for name, *cells in rows
        )
    return "\n".join(
        "   ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in (heads, *rows)
    )


def _named(part: PartRow) -> str:
    alike = f", one of {part.alike}" if part.alike else ""
    return f"{part.path} ({part.kind}{alike})"


def _current(part: PartRow) -> str:
    if part.current.why_not:
        return "unknown"
    return "none" if part.direction == "none" else f"{part.current.shown} {part.direction}".rstrip()


def _pd(part: PartRow) -> str:
    return part.pd.shown or "unknown"


def _power(part: PartRow) -> str:
    if part.power.why_not:
        return "unknown"
    takes = part.kind not in {"cell", "source"}
    amount_ = part.power.turned(Style()) if part.power.sign < 0 else part.power
    told = f"{'takes' if takes or part.power.sign < 0 else 'gives'} {amount_.shown}"
    if not part.power.exact:
        told = "none"
    extra = [f"{name} {value.shown or 'unknown'}" for name, value in part.stored]
    return "; ".join(filter(None, (told, part.state, *extra)))


def _group(group: SourceRow) -> str:
    width = max(len(words) for words, _ in group.amounts)
    rows = [f"  {words.ljust(width)}   {value.shown or value.why_not}" for words, value in group.amounts]
    return "\n".join(
        (f"Seen from its ends, {group.name}:".replace("its ends, the", "their ends, the"), *rows)
    )


def _as_json(found: Answered) -> dict[str, object]:
    report = json.loads(json_report(_report(found)))
    return {
        "schema": 1,
        "circuit": found.circuit.written if found.circuit else None,
        "fixed": dict(found.fixed),
        "answers": [
            {"for": each.words, **_amount_json(each.amount), "note": each.note} for each in found.asked
        ],
        "parts": [_part_json(part) for part in found.parts],
        "group": None
        if found.group is None
        else {"name": found.group.name}
        | {words.replace(" ", "_"): _amount_json(value) for words, value in found.group.amounts},
        "findings": [
            *report["findings"],
            *(
                {
                    "code": each.kind.code,
                    "for": words,
                    "message": worded(each).message,
                    "help": worded(each).help,
                }
                for words, each in found.unread
            ),
        ],
        "caution": None
        if found.caution is None
        else {"tier": found.caution.tier, "kinds": list(found.caution.kinds), "full": found.caution.full},
    }


def _amount_json(value: Amount) -> dict[str, object]:
    """Exact numbers travel as strings."""
    unit = si_unit(value.dimension)
    is_number = isinstance(value.exact, Fraction)
    return {
        "exact": str(value.exact) if is_number else None,
        "letters": plain(to_expression(value.exact)) if isinstance(value.exact, RationalFunction) else None,
        "unit": unit.symbol if unit else "",
        "shown": value.shown or None,
        "why_not": value.why_not or None,
    }


def _part_json(part: PartRow) -> dict[str, object]:
    return {
        "path": part.path,
        "kind": part.kind,
        "alike": part.alike,
        "current": _amount_json(part.current),
        "direction": part.direction,
        "pd": _amount_json(part.pd),
        "power": _amount_json(part.power),
        "state": part.state or None,
        **{name: _amount_json(value) for name, value in part.stored},
    }
