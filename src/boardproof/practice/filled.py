"""The words of a question with one student's numbers in them, and its circuit with what the words give and no more."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from boardproof.circuit.change import settled
from boardproof.circuit.model import Circuit
from boardproof.circuit.spelling import normal_name
from boardproof.practice.prepared import Prepared
from boardproof.practice.variants import amount

__all__ = ["circuit_given", "filled", "pieces"]

BRACES: Final = re.compile(r"\{([^{}]*)\}")


def filled(text: str, prepared: Prepared, draw: Mapping[str, Fraction]) -> str:
    """Words with values for what stands in braces; maths stays between dollar signs.

    Parameters
    ----------
    text : str
        The stem, or a part's words.
    prepared : Prepared
        Its question.
    draw : mapping of str to Fraction
        The numbers.
    """
    values = prepared.all_values(draw)

    def value(found: re.Match[str]) -> str:
        given = prepared.given.get(found[1])
        return found[0] if given is None else amount(given.formula.evaluate(values), given.dimension)

    return BRACES.sub(value, text)


def pieces(text: str) -> tuple[tuple[str, bool], ...]:
    """Words and maths in turn; True for maths.

    Parameters
    ----------
    text : str
        With maths between dollar signs.

    Examples
    --------
    >>> pieces("Give $V$ in letters.")
    (('Give ', False), ('V', True), (' in letters.', False))
    """
    found = enumerate(text.split("$"))
    return tuple((piece, at % 2 == 1) for at, piece in found if piece)


def circuit_given(prepared: Prepared, draw: Mapping[str, Fraction]) -> Circuit | None:
    """The circuit as a student may see it: letters have values only where the words give them.

    Parameters
    ----------
    prepared : Prepared
        The question.
    draw : mapping of str to Fraction
        The numbers.
    """
    circuit = prepared.question.circuit
    if circuit is None:
        return None
    told = [prepared.question.stem, *(part.asked.words for part in prepared.parts)]
    named = {key for text in told for key in BRACES.findall(text)}
    letters = {next(iter(prepared.given[key].formula.letters)) for key in named if _is_letter(prepared, key)}
    values = {letter: value for letter, value in prepared.all_values(draw).items() if letter in letters}
    counts = {letter: draw[letter] for letter in circuit.counts if letter in draw}
    item = settled(circuit.item, values)
    return replace(circuit, item=item, values=MappingProxyType({**values, **counts}))


def _is_letter(prepared: Prepared, key: str) -> bool:
    given = prepared.given.get(key)
    if given is None or len(given.formula.letters) != 1:
        return False
    return given.formula == type(given.formula).letter(normal_name(key))
