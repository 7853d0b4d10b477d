"""A condition in the trade's words: "only if the EMF of B exceeds the p.d. that is there without it".

What a condition compares is looked for among the quantities that people speak of in this circuit: it is that comparison
if the two differ by a factor of one sign.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from boardproof.algebra import meaning
from boardproof.algebra.expression import Comparison, Relation
from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.written import read_line
from boardproof.circuit.definitions import Definitions
from boardproof.circuit.look_up import Resolved
from boardproof.circuit.model import Circuit
from boardproof.prove.nouns import Nouns
from boardproof.solve.answers import Value, answers
from boardproof.source import Slice, Span

__all__ = ["in_trade_words"]

VERBS: dict[Comparison, str] = {
    ">": "exceeds", "<": "is less than", "=": "equals", "≥": "is at least", "≤": "is at most", "≠": "differs from",
    "≈": "is about",
}  # fmt: skip
TURNED: dict[Comparison, Comparison] = {">": "<", "<": ">", "≥": "≤", "≤": "≥"}
Spoken = tuple[str, RationalFunction]


def in_trade_words(condition: str | None, known: Definitions, circuit: Circuit | None) -> str | None:
    """A printed condition in words.

    Parameters
    ----------
    condition : str or None
        As a verdict prints it.
    known : Definitions
        What the lesson defines.
    circuit : Circuit or None
        The one at hand.

    Returns
    -------
    str or None
        None if a part of it is nothing that people speak of.

    Examples
    --------
    >>> from boardproof.circuit.read import read_circuit
    >>> from boardproof.source import Source
    >>> typed = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; main = both across R"
    >>> read = read_circuit(Source("x", typed).slice())
    >>> in_trade_words("E_2 (R + r_1) > E_1 R", read.definitions, read.at_hand)
    'the EMF of B exceeds the terminal p.d. that is there without it'
    """
    if not condition or circuit is None:
        return None
    speaker = Nouns(known, circuit)
    pairs = tuple(_pairs(speaker))
    cases = []
    for case in condition.split(" or "):
        told = [_told(each, speaker, pairs) for each in case.split(" and ")]
        if None in told:
            return None
        cases.append(" and ".join(each for each in told if each))
    return ", or ".join(dict.fromkeys(cases))


def _told(text: str, speaker: Nouns, pairs: tuple[tuple[Spoken, Spoken], ...]) -> str | None:
    line, _ = read_line(Slice(text, Span("", 0, len(text))), known=speaker.names | set(speaker.known.letters))
    relation = line.statements[0] if line and len(line.statements) == 1 else None
    if not isinstance(relation, Relation):
        return None
    sides = [meaning.value(side, RationalFunction.letter) for side in (relation.left, relation.right)]
    if isinstance(sides[0], Unknown) or isinstance(sides[1], Unknown):
        return None
    gap = sides[0] - sides[1]
    for (first, one), (second, other) in pairs:
        difference = one - other
        if difference.is_zero or gap.is_zero:
            continue
        factor = (gap / difference).one_signed
        if factor:
            sign = relation.sign if factor > 0 else TURNED.get(relation.sign, relation.sign)
            return f"{first} {VERBS[sign]} {second}"
    return None


def _pairs(speaker: Nouns) -> Iterator[tuple[Spoken, Spoken]]:
    """Pairs of quantities that people compare in this circuit."""
    cells = speaker.cells
    for cell in cells:
        emf, gone = _value(speaker, f"emf of {cell}"), _without(speaker, cell)
        if emf is not None and gone is not None and len(cells) > 1:
            there = "the terminal p.d. that is there without it"
            yield (f"the EMF of {cell}", emf), (there, gone)
        short = _value(speaker, f"short-circuit current of {cell}")
        flowing = _value(speaker, f"current in {cell} when short {cell}") if len(cells) > 1 else None
        load = speaker.loads[0] if len(speaker.loads) == 1 else ""
        if (load and flowing is None and len(cells) > 1) or (load and len(cells) > 1):
            flowing = _value(speaker, f"current in {load} when short {cell}")
        if short is not None and flowing is not None:
            yield (
                (f"the short-circuit current of {cell}", short),
                ("the current that flows without it", flowing),
            )
    for one, other in itertools.combinations(cells, 2):
        for phrase, word in (
            ("emf of", "EMF"),
            ("resistance of", "internal resistance"),
            ("short-circuit current of", "short-circuit current"),
        ):
            ends = _value(speaker, f"{phrase} {one}"), _value(speaker, f"{phrase} {other}")
            if ends[0] is not None and ends[1] is not None:
                yield (f"the {word} of {one}", ends[0]), (f"that of {other}", ends[1])
    for load in speaker.loads:
        out = _value(speaker, f"resistance of {load}")
        inside = _value(speaker, f"resistance of {speaker.group}") if speaker.group else None
        if out is not None and inside is not None:
            yield (f"the resistance of {load}", out), ("the internal resistance", inside)
        for cell in cells:
            own = _value(speaker, f"resistance of {cell}")
            if out is not None and own is not None and speaker.group != cell:
                yield (
                    (f"the resistance of {load}", out),
                    (f"the internal resistance of {'one cell' if len(cells) == 1 else cell}", own),
                )
    for load in speaker.loads:
        current = _value(speaker, f"current in {load}")
        if current is not None:
            yield (f"the current in {load}", current), ("nought", RationalFunction.constant(0))
    for one, other in itertools.combinations(speaker.loads, 2):
        ends = _value(speaker, f"resistance of {one}"), _value(speaker, f"resistance of {other}")
        if ends[0] is not None and ends[1] is not None:
            yield (f"the resistance of {one}", ends[0]), (f"that of {other}", ends[1])


def _without(speaker: Nouns, cell: str) -> RationalFunction | None:
    """The p.d. at the place of a cell that was taken away, plus less minus."""
    for load in speaker.loads if speaker.side_by_side else ():
        return _value(speaker, f"p.d. across {load} when remove {cell}")
    return None


def _value(speaker: Nouns, phrase: str) -> RationalFunction | None:
    found = speaker.meant(phrase)
    if not isinstance(found, Resolved):
        return None
    value = answers(found.circuit, "letters").ask(found.ref)
    exact = value.exact if isinstance(value, Value) else None
    return exact if isinstance(exact, RationalFunction) else None
