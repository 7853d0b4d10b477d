"""Phrases for quantities: ``current in R when main but turn B``, ``emf of both``, ``R that makes I_2 = 0``."""

from __future__ import annotations

import re
from typing import Final

from boardproof.circuit.count import nodes_in
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.grammar import Reader, Unreadable
from boardproof.circuit.kinds import finding
from boardproof.circuit.look_up import Resolved, Unresolved, letters_of, look_up, missing
from boardproof.circuit.model import Circuit
from boardproof.circuit.of_a_part import quantity_of
from boardproof.circuit.quantity import QuantityKind, QuantityRef
from boardproof.circuit.read import circuit_at
from boardproof.circuit.spelling import normal_name
from boardproof.source import Slice

__all__ = ["FORMS", "read_phrase"]

# What is said before the name, longest first where one begins like another.
FORMS: Final[tuple[tuple[str, QuantityKind], ...]] = (
    (r"number\s+of\s+cells\s+in", "cells_in"),
    (r"short[- ]circuit\s+current\s+of", "short_circuit_current"),
    (r"terminal\s+p\.?d\.?\s+of", "terminal_pd"),
    (r"greatest\s+power\s+from", "greatest_power"),
    (r"power\s+given\s+by", "power_given"),
    (r"power\s+out\s+of", "power_out"),
    (r"power\s+in", "power"),
    (r"heat\s+in", "heat"),
    (r"lost\s+volts\s+in", "lost_volts"),
    (r"e\.?m\.?f\.?\s+of", "emf"),
    (r"(?:internal\s+)?resistance\s+of", "resistance"),
    (r"capacitance\s+of", "capacitance"),
    (r"current\s+(?:in|through)", "current"),
    (r"p\.?d\.?\s+across", "pd"),
    (r"efficiency\s+of", "efficiency"),
    (r"charge\s+on", "charge"),
    (r"energy\s+in", "energy"),
    (r"time\s+constant\s+of", "time_constant"),
)
PATTERN: Final = re.compile(
    r"(?i)\s*(?:the\s+)?(?:"
    + "|".join(f"(?P<{kind}>{form})" for form, kind in FORMS)
    + r")\s+(?:the\s+)?(?P<what>.+)"
)
BETWEEN: Final = re.compile(r"(?i)\s*(?:the\s+)?p\.?d\.?\s+from\s+(\S+)\s+to\s+(\S+)\s*")
POTENTIAL: Final = re.compile(r"(?i)\s*(?:the\s+)?potential\s+(?:of|at)\s+(\S+)\s*")
MAKES: Final = re.compile(r"(?i)\s*(\S+)\s+that\s+makes\s+(.+?)\s*")
AS_READ: Final = re.compile(r"(?i)\s*(\S+)\s+as\s+read\s*")
WHEN: Final = re.compile(r"(?i)(?<!\w)when(?!\w)")
LONGEST: Final = 400


def read_phrase(
    text: Slice,
    known: Definitions,
    circuit: Circuit | None,
    *,
    when: Slice | None = None,
    decimal: str = ".",
) -> Resolved | Unresolved | None:
    """What a phrase asks for.

    Parameters
    ----------
    text : Slice
        The phrase, perhaps with its own `when`.
    known : Definitions
        What the lesson defines.
    circuit : Circuit or None
        The one at hand.
    when : Slice or None
        A condition that was split off already: a circuit, or changes to the one at hand.
    decimal : str
        The course's decimal mark.

    Returns
    -------
    Resolved, Unresolved or None
        None if the text is no phrase: then it is a name or an expression.
    """
    if len(text.text) > LONGEST:
        return Unresolved(finding("too-much", text.span, what="a phrase", limit=f"{LONGEST} characters"))
    split = WHEN.search(text.text)
    if split and when is None and _is_phrase(text.text[: split.start()]):
        when = text.part(split.end(), len(text.text)).trimmed()
        text = text.part(0, split.start())
    if not _is_phrase(text.text):
        return None
    if when is not None:
        circuit, wrong = circuit_at(when, known, circuit, decimal=decimal)
        if wrong or circuit is None:
            return (
                Unresolved(wrong[0])
                if wrong
                else missing("unread-quantity", words=text.text, why="no circuit")
            )
    return _plain(text, known, circuit)


def _is_phrase(text: str) -> bool:
    return any(one.fullmatch(text) for one in (PATTERN, BETWEEN, POTENTIAL, MAKES, AS_READ))


def _plain(text: Slice, known: Definitions, circuit: Circuit | None) -> Resolved | Unresolved:
    if found := AS_READ.fullmatch(text.text):
        where = circuit or next(iter(known.circuits.values()), None)
        if where is None:
            return Unresolved(
                finding(
                    "unread-quantity", text.span, words=text.text.strip(), why="the lesson has no circuit"
                )
            )
        return Resolved(QuantityRef("as_read", (normal_name(found[1]),), where.id), where)
    if circuit is None:
        return Unresolved(
            finding("unread-quantity", text.span, words=text.text.strip(), why="no circuit is at hand")
        )
    if found := MAKES.fullmatch(text.text):
        letter = normal_name(found[1])
        if letter not in letters_of(circuit):
            return Unresolved(
                finding("unknown-name", text.span, word=letter, near=", ".join(letters_of(circuit)[:4]))
            )
        return Resolved(QuantityRef("value_that_makes", (letter, found[2]), circuit.id), circuit)
    if found := BETWEEN.fullmatch(text.text) or POTENTIAL.fullmatch(text.text):
        return _of_nodes(text, [normal_name(node) for node in found.groups()], circuit)
    matched = PATTERN.fullmatch(text.text)
    assert matched is not None
    kind: QuantityKind = next(kind for _, kind in FORMS if matched[kind])
    return _of_item(kind, text.part(matched.start("what"), matched.end("what")), known, circuit)


def _of_nodes(text: Slice, nodes: list[str], circuit: Circuit) -> Resolved | Unresolved:
    there = nodes_in(circuit.item)
    for node in nodes:
        if node not in there:
            near = ", ".join(sorted(there)[:4])
            return Unresolved(finding("unknown-name", text.span, word=node, near=near))
    kind: QuantityKind = "pd" if len(nodes) == 2 else "potential"
    return Resolved(QuantityRef(kind, tuple(nodes), circuit.id), circuit)


def _of_item(kind: QuantityKind, what: Slice, known: Definitions, circuit: Circuit) -> Resolved | Unresolved:
    """A quantity of a part or group, which may be named the other way round."""
    try:
        reader = Reader(what)
        is_turned = reader.ahead(reader.is_sign("-") or reader.is_word("turned"))
        path = reader.path().path
        reader.end()
    except Unreadable as stopped:
        return Unresolved(stopped.finding)
    found = look_up(path, known, circuit)
    if isinstance(found, Unresolved):
        return Unresolved(found.at(what.span))
    asked = quantity_of(kind, found, path, -1 if is_turned and kind in DIRECTED else 1)
    return Unresolved(asked.at(what.span)) if isinstance(asked, Unresolved) else asked


DIRECTED: Final = frozenset({"emf", "current", "pd", "terminal_pd", "short_circuit_current", "charge"})
