"""The pieces of one step of a typed answer: numbers, units, words, signs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Final, NamedTuple

from boardproof.algebra.answered_numbers import NUMBER, Written, read_literal
from boardproof.algebra.answered_text import Unclear
from boardproof.algebra.answered_units import PER_CENT, PREFIX_WORDS, PREFIXES, Kind, TypedUnit, unit_in
from boardproof.algebra.answered_words import GAP, HIGHER, LOWER

__all__ = ["Piece", "pieces_of"]

MOST_DOUBTS: Final = 6
OHM: Final[Kind] = (1, -1, 0, 0, 0)


class Piece(NamedTuple):
    """One piece.

    Parameters
    ----------
    kind : {"number", "unit", "prefix", "word", "name", "sign", "function", "endless"}
        What it is; a name is a letter with its subscript.
    text : str
        As it stands.
    readings : tuple of Written
        Of a number.
    unit : TypedUnit or None
        Of a unit; of a prefix that stands alone its scale.
    """

    kind: str
    text: str
    readings: tuple[Written, ...] = ()
    unit: TypedUnit | None = None


LETTERS: Final = re.compile(r"(?:[^\W\d_]|°C?)+")
SIGN: Final = re.compile(rf"\|\||//|[-+*/^():;,%{LOWER}{HIGHER}]")
SUBSCRIPT: Final = re.compile(r"\d+(?![.,]\d)|_\{?[A-Za-z0-9]{1,8}\}?")
SHORT: Final = re.compile(r"(?P<letter>[RkKMG])(?P<rest>\d+)?(?P<ohm> ?(?:Ω|[Oo]hms?))?(?![^\W_])")
POWER: Final = r"(?:\^\(?[+-]?\d\)?(?![\d.,])|-\d(?! ?[^\W\d_]|[\d.,]))?"
RUN: Final = re.compile(rf"(?:[^\W\d_]|°C?)+{POWER}(?:(?: ?[*./] ?|[ -])(?:[^\W\d_])+{POWER})*")
TIMES: Final = re.compile(r"[xX] ?(?=[\d(√.])")
FUNCTIONS: Final = {"sqrt": "sqrt", "√": "sqrt", "ln": "ln", "exp": "exp"}


def pieces_of(text: str, wanted: Kind | None = None) -> tuple[Piece, ...]:
    """The pieces of a step.

    Parameters
    ----------
    text : str
        Words written out.
    wanted : tuple of int, optional
        The expected kind, for units whose letters have the other case.

    Raises
    ------
    Unclear
        At a sign without meaning, and at numbers that are none.

    Examples
    --------
    >>> [(each.kind, each.text) for each in pieces_of("12 V / 8ohm")]
    [('number', '12'), ('unit', 'V'), ('sign', '/'), ('number', '8'), ('unit', 'ohm')]
    """
    found: list[Piece] = []
    at = doubts = 0
    while at < len(text):
        if text[at] in {" ", GAP}:
            at += 1
            continue
        number = NUMBER.match(text, at)
        if number is not None:
            made = tuple(_number(number, wanted))
            doubts += len(made[0].readings) > 1
            if doubts > MOST_DOUBTS:
                raise Unclear("too many of its commas and points can be read in two ways")
        else:
            made = (_other(text, at, found, wanted),)
        found += made
        at += sum(len(each.text) for each in made)
    return tuple(found)


def _number(match: re.Match[str], wanted: Kind | None) -> Iterator[Piece]:
    """A number, with its letter if it is written in the trade's short form."""
    readings = read_literal(match)
    short = SHORT.match(match.string, match.end()) if wanted == OHM and not match["power"] else None
    if short is None or not (short["rest"] or short["letter"] == "R"):
        yield Piece("number", match[0], readings)
        return
    scale = PREFIXES.get(short["letter"], Fraction(1))
    if short["rest"]:
        if not match[0].isdigit():
            raise Unclear("its letter cannot be the decimal mark twice")
        digits = (match[0] + short["rest"]).lstrip("0")
        value = Fraction(int(match[0] + short["rest"]), 10 ** len(short["rest"]))
        readings = (Written(value, len(digits), len(digits)),)
    yield Piece("number", match[0], readings)
    yield Piece("unit", short[0], unit=TypedUnit(OHM, scale))


def _other(text: str, at: int, before: list[Piece], wanted: Kind | None) -> Piece:
    if text[at] == "√":
        return Piece("function", "√")
    if text[at] == "∞":
        return Piece("endless", "∞")
    if text[at] == "%":
        return Piece("unit", "%", unit=PER_CENT)
    if before and (before[-1].kind in {"number", "unit"} or before[-1].text == ")"):
        times = TIMES.match(text, at)
        if times is not None:
            return Piece("sign", times[0])
        if text[at] == "(" and (bracketed := re.compile(r"\( ?([^\d()]+?) ?\)").match(text, at)):
            unit = unit_in(bracketed[1], wanted)
            if unit is not None:
                return Piece("unit", bracketed[0], unit=unit)
    sign = SIGN.match(text, at)
    if sign is not None:
        return Piece("sign", sign[0])
    return _word(text, at, before, wanted)


def _word(text: str, at: int, before: list[Piece], wanted: Kind | None) -> Piece:
    letters = LETTERS.match(text, at)
    if letters is None:
        if (
            text[at] == "."
            and before
            and before[-1].kind in {"unit", "word"}
            and text[at + 1 : at + 2] in {"", " "}
        ):
            return Piece("word", ".")
        raise Unclear("it holds a sign without a meaning here")
    word = letters[0]
    if word.lower() in FUNCTIONS:
        return Piece("function", word)
    run = RUN.match(text, at)
    ends = [run.end()] if run else []
    ends += reversed(_breaks(text, at, ends[0] if ends else at))
    for end in ends:
        unit = unit_in(text[at:end], wanted)
        if unit is not None and not SUBSCRIPT.match(text, end):
            return Piece("unit", text[at:end], unit=unit)
    subscript = SUBSCRIPT.match(text, letters.end())
    if subscript is not None:
        return Piece("name", text[at : subscript.end()])
    if before and before[-1].kind == "number" and (word in PREFIXES or word.lower() in PREFIX_WORDS):
        scale = PREFIXES.get(word) or PREFIX_WORDS[word.lower()]
        return Piece("prefix", word, unit=TypedUnit((0, 0, 0, 0, 0), scale))
    return Piece("word", word)


def _breaks(text: str, start: int, end: int) -> list[int]:
    """Where a run of words that is no unit as a whole may end earlier; a few are tried."""
    return [each.start() + start for each in re.finditer(r" ?[*./] ?|[ -]", text[start:end])][:4]
