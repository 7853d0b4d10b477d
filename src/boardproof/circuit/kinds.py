"""Kinds of finding about circuits, and names and phrases that mean something in one."""

from __future__ import annotations

from boardproof.findings import Finding, Kind, Kinds
from boardproof.source import Span

__all__ = ["KINDS", "finding"]


def _shown(circuit: str, line: str) -> str:
    """A sample of a lesson: a circuit and a line about it."""
    return f"````text\n```circuit\n{circuit}\n```\n\n{line}\n````\n\n"


KINDS = Kinds(
    [
        Kind(
            "unread-line",
            "error",
            "I can't read this line of the circuit: {why}.",
            "{forms}",
            "Every line defines something or puts a circuit on the board. What can't be read is left out, and the "
            "rest goes on.\n\n    A cell 6 V\n\nput right:\n\n    A = cell 6 V\n",
        ),
        Kind(
            "unknown-kind",
            "error",
            "I don't know a part called {word}.",
            "Did you mean {near}?",
            "Parts are: cell, source, resistor, switch, ammeter, voltmeter, wire, capacitor, lamp, diode.\n\n"
            "    R = resistr 10 ohm\n\nput right:\n\n    R = resistor 10 ohm\n",
        ),
        Kind(
            "unknown-name",
            "error",
            "I don't know {word}.",
            "Did you mean {near}?",
            "Parts, groups and letters may be defined above or below, but somewhere in the lesson.\n\n"
            "    A = cell 6 V\n    R = resistor 10 ohm\n    main = a across R\n\nput right:\n\n"
            "    A = cell 6 V\n    R = resistor 10 ohm\n    main = A across R\n",
        ),
        Kind(
            "name-taken",
            "error",
            "{name} is already {what}.",
            "Choose another name; to change a value write `but`.",
            "A name means one thing in the whole lesson.\n\n    R = resistor 4 ohm\n    R = resistor 9 ohm\n\n"
            "put right:\n\n    R = resistor 4 ohm\n    night = A across R but R = 9 ohm\n    A = cell 6 V\n",
        ),
        Kind(
            "reserved-name",
            "error",
            "{word} is a word of the lesson language.",
            "Try {word}_1.",
            "Words that begin or join the lines of a circuit are no names.\n\n    open = cell 6 V\n\nput right:\n\n"
            "    open_1 = cell 6 V\n",
        ),
        Kind(
            "look-alike",
            "error",
            "This {letter} only looks like {latin}.",
            "Replace it by the letter from the keyboard.",
            "Letters of other alphabets can look like Latin ones; two names that look alike would be two things.\n\n"
            "    \u0410 = cell 6 V\n\nput right:\n\n    A = cell 6 V\n",
        ),
        Kind(
            "two-meanings",
            "error",
            "{name} could be {a} or {b}.",
            "Say which: `let {name} = {better}`.",
            "A name that two things claim is used by neither.\n\n"
            + _shown("A = cell E_1, r_1\nR_1 = resistor\nmain = A across R_1", "$$ E_1 = I_1 (r_1 + R_1) $$")
            + "put right:\n\n"
            + _shown(
                "A = cell E_1, r_1\nR_1 = resistor\nmain = A across R_1\nlet I_1 = current in A",
                "$$ E_1 = I_1 (r_1 + R_1) $$",
            ),
        ),
        Kind(
            "two-values",
            "error",
            "{letter} is {x} here and {y} elsewhere.",
            "Use another letter, or `but`.",
            "Parts may share a letter, and then they share its value.\n\n    A = cell E = 6 V\n    B = cell E = 9 V\n\n"
            "put right:\n\n    A = cell E_1 = 6 V\n    B = cell E_2 = 9 V\n",
        ),
        Kind(
            "unclear-grouping",
            "error",
            "+ and || on one level can be read in two ways.",
            "Write {first} or {second}.",
            "For resistors people read one thing into it, for rows of cells the other.\n\n    g = A + B || C\n"
            "    A, B, C = cell\n\nput right:\n\n    g = (A + B) || C\n    A, B, C = cell\n",
        ),
        Kind(
            "decimal-mark",
            "error",
            "{typed}: this course writes {better}.",
            "{better}",
            "One mark for decimals in a course.\n\n    A = cell 1,5 V\n\nput right:\n\n    A = cell 1.5 V\n",
        ),
        Kind(
            "missing-unit",
            "error",
            "{number} what?",
            "{better}",
            "Units tell an EMF from a resistance.\n\n    R = resistor 10\n\nput right:\n\n    R = resistor 10 ohm\n",
        ),
        Kind(
            "wrong-unit",
            "error",
            "{what} can't be in {unit}.",
            "{better}",
            "Each part takes the values it can have.\n\n    R = resistor 10 V\n\nput right:\n\n"
            "    R = resistor 10 ohm\n",
        ),
        Kind(
            "part-used-twice",
            "error",
            "{name} is one thing and can't be in two places.",
            "`2p of {name}` for two like it.",
            "A part stands only once in a circuit.\n\n    A = cell\n    g = A || A\n\nput right:\n\n    A = cell\n"
            "    g = 2p of A\n",
        ),
        Kind(
            "already-closed",
            "error",
            "{name} is a complete circuit; nothing more can be joined to it.",
            "Join {inner} instead.",
            "Both its ends are in use.\n\n    A = cell\n    R, S_1 = resistor\n    main = A across R\n"
            "    more = main || S_1\n\nput right:\n\n    A = cell\n    R, S_1 = resistor\n"
            "    more = A across (R || S_1)\n",
        ),
        Kind(
            "open-ends",
            "warning",
            "Nothing is joined across {name}, and no current at all can flow in it.",
            "`{name} across R`",
            "The circuit on the board has no closed way round.\n\n    A = cell\n    A\n\nput right:\n\n    A = cell\n"
            "    R = resistor\n    A across R\n",
        ),
        Kind(
            "zero-count",
            "error",
            "{count}: no {what} at all.",
            "",
            "Counts start at 1.\n\n    A = cell\n    g = 3s0p of A\n\nput right:\n\n    A = cell\n    g = 3s1p of A\n",
        ),
        Kind(
            "no-such-member",
            "error",
            "{what}.",
            "{better}",
            "Members are counted as written, from 1, the minus end first.\n\n    A = cell\n    bank = 3s4p of A\n"
            "    bank but turn bank.5.1\n\nput right:\n\n    A = cell\n    bank = 3s4p of A\n"
            "    bank but turn bank.4.1\n",
        ),
        Kind(
            "made-of-itself",
            "error",
            "{name} is made of itself: {round}.",
            "",
            "A group can't be a member of itself.\n\n    A = cell\n    x = A + y\n    y = x + A\n\nput right:\n\n"
            "    A, B = cell\n    x = A + y\n    y = 2s of B\n",
        ),
        Kind(
            "nothing-to-close",
            "error",
            "{name} is neither a switch nor broken, so it can't be closed.",
            "",
            "Only a switch, or what was opened before, can be closed.\n\n    A = cell\n    R = resistor\n"
            "    A across R but close R\n\nput right:\n\n    A = cell\n    R = resistor\n    S = switch\n"
            "    (A + S) across R but close S\n",
        ),
        Kind(
            "unread-quantity",
            "error",
            "I can't read {words} as a quantity: {why}.",
            "{forms}",
            "Quantities are asked for as `current in R`, `emf of both`, `p.d. from a to b` and the like, of the "
            "circuit on the board.\n\n"
            + _shown("A = cell\nR = resistor", "The current is {current in R}.")
            + "put right:\n\n"
            + _shown("A = cell\nR = resistor\nmain = A across R", "The current is {current in R}."),
        ),
        Kind(
            "not-of-this",
            "error",
            "{what} of {name} means nothing: it is {kind}.",
            "",
            "An EMF belongs to a cell or to a group, a capacitance to a capacitor, a count to a group.\n\n"
            + _shown("A = cell\nR = resistor\nmain = A across R", "Its EMF is {emf of R}.")
            + "put right:\n\n"
            + _shown("A = cell\nR = resistor\nmain = A across R", "Its EMF is {emf of A}."),
        ),
        Kind(
            "too-much",
            "error",
            "This goes beyond a limit: {what}, more than {limit}.",
            "Look for a slip of the finger; else make several of it.",
            "Limits keep a slip of the finger from holding everything up.\n\n    A = cell\n    bank = 999s999p of A\n\n"
            "put right:\n\n    A = cell\n    bank = 9s9p of A\n",
        ),
    ]
)


def finding(code: str, span: Span, *, related: tuple[tuple[Span, str], ...] = (), **facts: str) -> Finding:
    """A finding of this room; facts that are empty are left out, and with them a help that needs them.

    Parameters
    ----------
    code : str
        Row of the table of kinds.
    span : Span
        The place.
    related : tuple of (Span, str)
        Other places that belong to it, with what stands there.
    **facts : str
        What its sentences speak of.

    Examples
    --------
    >>> from boardproof.source import Span
    >>> dict(finding("unknown-name", Span("x", 0, 1), word="E_z", near="").facts)
    {'word': 'E_z'}
    """
    return Finding(KINDS[code], span, {key: fact for key, fact in facts.items() if fact}, related=related)
