"""Reading circuits: the block that puts one on the board, and expressions wherever one may stand.

A reader never fails: what can't be read is left out, with a finding, and everything else goes on.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from boardproof.circuit.build import Builder, is_closed
from boardproof.circuit.change import apply
from boardproof.circuit.count import nodes_in
from boardproof.circuit.define import define
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.grammar import CHANGE_WORDS, Reader, Unreadable
from boardproof.circuit.kinds import finding
from boardproof.circuit.lay_flat import has_loop
from boardproof.circuit.model import Circuit
from boardproof.circuit.statement import (
    AtHand,
    GivenOf,
    Named,
    NetworkOf,
    Statement,
    Unread,
    ZeroAt,
    read_statements,
)
from boardproof.circuit.written import Change, Varied, Written
from boardproof.findings import Finding
from boardproof.record import record
from boardproof.source import Slice, Source, Span

__all__ = ["Given", "Reading", "circuit_at", "read_changes", "read_circuit", "with_zero"]


@record
class Given:
    """Readings that fix letters without values, and the circuit they were taken in."""

    readings: tuple[Slice, ...]
    circuit: Circuit
    span: Span


@record
class Reading:
    """What one circuit block says.

    Parameters
    ----------
    definitions : Definitions
        Of the whole lesson.
    at_hand : Circuit or None
        What it puts on the board; None if it changes nothing.
    givens : tuple of Given
        Its readings.
    statements : tuple of Statement
        Its lines, `Unread` ones too.
    broken : Span or None
        The line that should have put a circuit on the board, but can't be read or built.
    findings : tuple of Finding
        What is wrong with what it puts on the board; with its definitions too if `known` was not given.
    """

    definitions: Definitions
    at_hand: Circuit | None
    givens: tuple[Given, ...]
    statements: tuple[Statement, ...]
    findings: tuple[Finding, ...]
    broken: Span | None = None


def read_circuit(
    text: Slice,
    known: Definitions | None = None,
    *,
    files: Mapping[str, Source] | None = None,
    decimal: str = ".",
) -> Reading:
    """Read one circuit block, a file, or a line with semicolons.

    Parameters
    ----------
    text : Slice
        The body.
    known : Definitions or None
        What the whole lesson defines, this block included; None if this block is all there is.
    files : mapping of str to Source
        For `use`, if `known` is not given.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    Reading
        The circuit at hand is the one alone on a line; else `main` if defined here; else the last closed or
        varied circuit defined here.

    Examples
    --------
    >>> typed = "A = cell 6 V, 1 ohm; R = resistor 11 ohm; A across R"
    >>> read_circuit(Slice(typed, Span("x", 0, len(typed)))).at_hand.written
    'A across R'
    """
    wrong: tuple[Finding, ...] = ()
    if known is None:
        known, wrong = define([text], files, decimal=decimal)
    statements, _ = read_statements(text, decimal=decimal)
    at_hand, found = _at_hand(statements, known)
    broken = _broken(statements, known, at_hand)
    at_hand = None if broken or at_hand is None else with_zero(at_hand, statements)
    givens: list[Given] = []
    for statement in statements:
        if isinstance(statement, GivenOf):
            circuit: Circuit | None = at_hand
            if statement.when:
                circuit, more = circuit_at(statement.when, known, at_hand, decimal=decimal)
                found += more
            if circuit:
                givens.append(Given(statement.readings, circuit, statement.span))
    if at_hand:
        found += _open_ends(at_hand, statements)
    found = tuple(each for each in found if known.broken_by(each) is None)
    return Reading(known, at_hand, tuple(givens), statements, (*wrong, *found), broken)


def _at_hand(
    statements: tuple[Statement, ...], known: Definitions
) -> tuple[Circuit | None, tuple[Finding, ...]]:
    alone = [each for each in statements if isinstance(each, AtHand)]
    if alone:
        found: list[Finding] = []
        circuit: Circuit | None = None
        for each in alone:
            circuit, wrong = _built(each.expression, each.written, known)
            found += wrong
        return None if _are_errors(found) else circuit, tuple(found)
    named = [each for each in statements if isinstance(each, Named | NetworkOf)]
    if any(each.name == "main" for each in named):
        return known.circuits.get("main"), ()
    for one in reversed(named):
        circuit = known.circuits.get(one.name)
        is_varied = isinstance(one, Named) and isinstance(one.expression, Varied)
        if circuit and (is_varied or is_closed(circuit.item)):
            return circuit, ()
    return None, ()


def _are_errors(findings: Sequence[Finding]) -> bool:
    return any(each.kind.severity == "error" for each in findings)


def _broken(statements: tuple[Statement, ...], known: Definitions, at_hand: Circuit | None) -> Span | None:
    """The line that was to put a circuit on the board and does not."""
    lost = [each for each in statements if isinstance(each, Unread) and each.is_circuit]
    alone = [each.span for each in statements if isinstance(each, AtHand)]
    nameless = [each.span for each in lost if not each.names]
    if at_hand is None or nameless:
        named = [
            each.span
            for each in statements
            if isinstance(each, Named | NetworkOf) and each.name in known.broken
        ]
        return next(iter((*nameless, *alone, *(each.span for each in lost), *named)), None)
    if alone:
        return None
    chosen = max((each.span.start for each in statements if isinstance(each, Named | NetworkOf)), default=0)
    return next((each.span for each in lost if "main" in each.names or each.span.start > chosen), None)


def with_zero(circuit: Circuit, statements: Sequence[Statement]) -> Circuit:
    """The circuit with the zero of potential that the lines of a block give it, if they name one of its nodes.

    Parameters
    ----------
    circuit : Circuit
        At hand.
    statements : sequence of Statement
        The block's lines.
    """
    nodes = nodes_in(circuit.item)
    zeros = [each.node for each in statements if isinstance(each, ZeroAt) and each.node in nodes]
    return replace(circuit, zero=zeros[-1]) if zeros else circuit


def _built(written: Written, text: str, known: Definitions) -> tuple[Circuit | None, tuple[Finding, ...]]:
    builder = Builder(known, known.circuits.get)
    try:
        circuit = builder.circuit(written, text)
    except Unreadable as stopped:
        return None, (*builder.findings, stopped.finding)
    return circuit, tuple(builder.findings)


def _open_ends(circuit: Circuit, statements: tuple[Statement, ...]) -> tuple[Finding, ...]:
    if is_closed(circuit.item) or has_loop(circuit):
        return ()
    spans = [each.span for each in statements if isinstance(each, AtHand | Named | NetworkOf)]
    return (finding("open-ends", spans[-1], name=circuit.written or circuit.item.path),)


def read_changes(text: Slice, *, decimal: str = ".") -> tuple[tuple[Change, ...], tuple[Finding, ...]]:
    """The changes that stand alone in a text: ``turn B, R = 9.6 ohm``.

    Parameters
    ----------
    text : Slice
        As after `but`.
    decimal : str
        The course's decimal mark.

    Examples
    --------
    >>> changes, wrong = read_changes(Slice("turn B, R = 9.6 ohm", Span("x", 0, 19)))
    >>> len(changes), wrong
    (2, ())
    """
    try:
        reader = Reader(text, decimal=decimal)
        changes = reader.changes()
        reader.end()
    except Unreadable as stopped:
        return (), (stopped.finding,)
    return changes, ()


def circuit_at(
    text: Slice,
    known: Definitions,
    at_hand: Circuit | None = None,
    *,
    decimal: str = ".",
) -> tuple[Circuit | None, tuple[Finding, ...]]:
    """The circuit that an expression, or changes to the one at hand, stand for.

    Parameters
    ----------
    text : Slice
        ``main but turn B``; ``A across R``; ``R = 9.6 ohm, open S``; ``fresh`` (a set of values).
    known : Definitions
        What the lesson defines; for numbers drawn, `define.revalued` gives them other values.
    at_hand : Circuit or None
        What stands on the board: changes alone are made to it.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    circuit : Circuit or None
        None if it can't be read or built.
    findings : tuple of Finding
        Why, and what could not be changed.

    Examples
    --------
    >>> typed = "A = cell 6 V, 1 ohm; R = resistor 11 ohm; main = A across R"
    >>> known, _ = define([Slice(typed, Span("x", 0, len(typed)))])
    >>> circuit, wrong = circuit_at(Slice("main but R = 2 ohm", Span("x", 0, 18)), known)
    >>> circuit.values["R"], wrong
    (Fraction(2, 1), ())
    """
    text = text.trimmed()
    if at_hand is not None and _are_changes(text.text, known):
        changes, wrong = read_changes(_without_but(text), decimal=decimal)
        if wrong:
            return None, wrong
        circuit, found = apply(at_hand, changes, known)
        return replace(circuit, written=f"{at_hand.written} but {_without_but(text).text}"), found
    try:
        written = Reader(text, decimal=decimal).whole()
    except Unreadable as stopped:
        return None, (stopped.finding,)
    return _built(written, text.text, known)


def _without_but(text: Slice) -> Slice:
    found = re.match(r"(?i)but\s+", text.text)
    return text.part(found.end(), len(text.text)) if found else text


def _are_changes(text: str, known: Definitions) -> bool:
    """Whether a text is a list of changes, not a circuit."""
    if re.match(r"(?i)but\s", text):
        return True
    first = re.match(r"[^\W\d]+", text)
    if first and first[0].lower() in CHANGE_WORDS and not re.match(r"\s*=", text[first.end() :]):
        return True
    name = re.match(r"[^\s,=|+]+", text)
    is_set = bool(name and name[0] in known.sets and name[0] not in known.names())
    return is_set or bool(re.match(r"[^\s=,|+()]+\s*=", text))
