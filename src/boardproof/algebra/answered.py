"""Typed answers: a number with its unit, or a ratio, read as a careful examiner would; nothing is guessed.

What is read is the last step of what was typed, without the words that say nothing of its value. Two fair readings
(12,000 may be twelve or twelve thousand) are both given. The rules are those of docs/reference/typed-answers.md.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from typing import Final

from boardproof.algebra.answered_text import SIMPLE, Unclear, plain_text
from boardproof.algebra.answered_tokens import Piece, pieces_of
from boardproof.algebra.answered_units import PER_CENT, TypedUnit, unit_in
from boardproof.algebra.answered_value import Number, Reading, values_of
from boardproof.algebra.answered_words import is_number_word, without_reasons, without_words
from boardproof.record import record

__all__ = ["Ratio", "Unread", "prepared", "read_number", "read_ratio", "steps_of"]


@record
class Unread:
    """No single answer; `reason` completes "I can't read it: ..."."""

    reason: str


@record
class Ratio:
    """One reading of a ratio: its parts, and whether a unit stands at its end."""

    parts: tuple[Number, ...]
    unit: bool = False


FORBIDDEN: Final = re.compile(r'[<>@#&"`$\\≤≥]')
SUBSCRIPTED: Final = re.compile(r"[^\W\d_](?:\d+(?![.,]\d)|_\{?[A-Za-z0-9]+\}?)")
LETTERS: Final = re.compile(r"[^\W\d_]+")
LABEL: Final = re.compile(r"([^:\d]*[^\W\d_][^:]{0,30}?) ?: ?(?=\S)(.+)", re.DOTALL)
QUICK: Final = re.compile(
    r"(?:([0-9A-Za-z_.+*/ =-]*)= ?)?([+-]?)(\d{1,30})(?:\.(\d{1,30}))? ?([A-Za-zΩµμ%]{0,5})"
)
NOT_QUICK: Final = re.compile(r"(?i)because|since|minus|\+-|\+/|->|_ |__")
SHORT_WORDS: Final = frozenset({"a", "i", "I", "x", "X", "e", "E", "k", "K", "R", "p", "n", "u", "M", "G"})


def read_number(typed: str, asked: TypedUnit) -> tuple[Reading, ...] | Unread:
    """Every fair reading of a typed number.

    Parameters
    ----------
    typed : str
        As the student typed it.
    asked : TypedUnit
        The unit asked for: its kind decides about the case of a letter.

    Examples
    --------
    >>> from boardproof.algebra.answered_units import expected_unit
    >>> read_number("12/8 = 1.5 A", expected_unit("A"))[0].value
    Fraction(3, 2)
    >>> read_number("1.5 or 2", expected_unit("A"))
    Unread(reason='it gives more than one answer')
    """
    quick = QUICK.fullmatch(typed)
    if quick is not None and (found := _quick(quick, asked)) is not None:
        return found
    try:
        last, _ = _last_step(prepared(typed))
        last, label = _without_label(last, asked)
        pieces = pieces_of(without_words(last), asked.kind)
        if label is not None:
            pieces = (Piece("unit", ":", unit=label), *pieces)
        return _answer(pieces, asked)
    except Unclear as why:
        return Unread(str(why))


def _quick(match: re.Match[str], asked: TypedUnit) -> tuple[Reading, ...] | None:
    """What most students type, a decimal and a unit: the same as by the long way."""
    before, sign, whole, rest, word = match.groups()
    if before and NOT_QUICK.search(before):
        return None
    unit = None
    if word:
        if word in SHORT_WORDS or (len(word) > 2 and is_number_word(word)):
            return None
        unit = unit_in(word, asked.kind)
        if unit is None:
            return None
    all_digits = int(whole + rest) if rest else int(whole)
    top = -all_digits if sign == "-" else all_digits
    if not rest:
        digits = whole.lstrip("0")
        return (Reading(Fraction(top), unit, len(digits.rstrip("0")), len(digits)),)
    count = len((whole + rest).lstrip("0"))
    decimal = Reading(Fraction(top, 10 ** len(rest)), unit, count, count)
    if len(rest) != 3 or len(whole) > 3 or whole[0] == "0":
        return (decimal,)
    return decimal, Reading(Fraction(top), unit, len((whole + rest).rstrip("0")), count)


def prepared(typed: str) -> str:
    """Plain characters, arrows as equals signs, up to 'because'; what has no meaning anywhere is refused.

    Parameters
    ----------
    typed : str
        As stored.

    Raises
    ------
    Unclear
        If nothing can be read.
    """
    text = plain_text(typed)
    if SIMPLE.fullmatch(text) and "=" not in text and "->" not in text:
        return without_reasons(text)
    text = text.replace("=>", "=").replace("->", "=")
    if FORBIDDEN.search(text):
        raise Unclear("it gives a bound, or holds a sign without a meaning")
    return without_reasons(text)


def steps_of(text: str) -> list[str]:
    """The parts between equals signs that are not empty.

    Parameters
    ----------
    text : str
        Plain characters.
    """
    return [each.strip() for each in text.split("=") if each.strip(" ,.;:!?")]


def _last_step(text: str) -> tuple[str, list[str]]:
    """The last part with a number, and the names and labels that stood before it."""
    parts = steps_of(text)
    for at in range(len(parts) - 1, -1, -1):
        if _has_number(parts[at]):
            return parts[at], parts[:at]
    raise Unclear("no number is written")


def _has_number(part: str) -> bool:
    if "∞" in part or "√" in part:
        return True
    bare = SUBSCRIPTED.sub(" ", part)
    starts = re.match(r"\W*\d", part) is not None
    return (
        starts
        or any(each.isdigit() for each in bare)
        or any(is_number_word(each) for each in LETTERS.findall(bare))
    )


def _without_label(text: str, asked: TypedUnit) -> tuple[str, TypedUnit | None]:
    """The step without 'ans:' before it; a unit as a label is the unit."""
    match = LABEL.fullmatch(text)
    if match is None or _has_number(match[1]):
        return text, None
    label = without_words(match[1]).strip("\x1f ,.")
    unit = unit_in(label, asked.kind) if label else None
    if unit is None and label and not re.fullmatch(r"[^\W\d_](?:[A-Za-z0-9]{0,6}|_\{?\w{1,6}\}?)", label):
        raise Unclear("the words before the colon are no name")
    return match[2], unit


def _answer(pieces: Sequence[Piece], asked: TypedUnit) -> tuple[Reading, ...]:
    """One answer, or several that say the same."""
    answers = _parted(pieces)
    found = [_checked(each) for each in answers]
    first = found[0]
    for other in found[1:]:
        values = {each.value_in(asked) for each in other if _alike(each, first)}
        first = tuple(each for each in first if each.value_in(asked) in values)
    if not first:
        raise Unclear("it gives more than one answer")
    return first


def _alike(one: Reading, others: Sequence[Reading]) -> bool:
    return any(one.unit is None or each.unit is None or one.unit.kind == each.unit.kind for each in others)


def _parted(pieces: Sequence[Piece]) -> list[tuple[Piece, ...]]:
    groups: list[list[Piece]] = [[]]
    for each in pieces:
        if each.text.lower() in {"or", "and", ";", ","} and each.kind in {"word", "sign"}:
            groups.append([])
        else:
            groups[-1].append(each)
    joined: list[list[Piece]] = []
    for group in groups:
        if joined and not (_counts(group) and _counts(joined[-1])):
            joined[-1] += group
        else:
            joined.append(group)
    return [tuple(each) for each in joined]


def _counts(group: Sequence[Piece]) -> bool:
    return any(each.kind in {"number", "endless"} for each in group)


def _checked(pieces: tuple[Piece, ...]) -> tuple[Reading, ...]:
    """The readings of one answer, unless it is a range."""
    kinds = [each.kind for each in pieces]
    if kinds.count("number") == 2 and len(pieces) <= 5:
        middle = next((at for at, each in enumerate(pieces) if each.text in {"-", "to"} and at), 0)
        left, right = pieces[:middle], pieces[middle + 1 :]
        if middle and _measured(left) and _measured(right):
            _refuse_range(left, right)
    return values_of(pieces)


def _measured(side: Sequence[Piece]) -> bool:
    return [each.kind for each in side] in (["number"], ["number", "unit"], ["number", "prefix"])


def _refuse_range(left: tuple[Piece, ...], right: tuple[Piece, ...]) -> None:
    unit = next((each.unit for each in reversed((*left, *right)) if each.unit is not None), None)
    sides = []
    for side in (left, right):
        own = next((each.unit for each in side if each.unit is not None), unit)
        scale = own.scale if own is not None else Fraction(1)
        sides.append([each.value * scale for each in side[0].readings])
    if any(0 < one < other for one, other in product(*sides)):
        raise Unclear("it gives a range, not a value")


def read_ratio(typed: str, of: Sequence[str]) -> tuple[Ratio, ...] | Unread:
    """Every fair reading of a typed ratio.

    Parameters
    ----------
    typed : str
        As the student typed it.
    of : sequence of str
        What it compares, in order; a name before the equals sign may hold them the other way round.

    Examples
    --------
    >>> read_ratio("6 to 4", ("E_1", "E_2"))[0].parts, read_ratio("P2:P1 = 1:4", ("P_1", "P_2"))[0].parts
    ((Fraction(6, 1), Fraction(4, 1)), (Fraction(4, 1), Fraction(1, 1)))
    """
    try:
        text = re.sub(r"(?i)(?<![^\W\d_])(?:is )?to(?! the)(?![^\W\d_])", ":", prepared(typed))
        last, before = _last_step(text)
        while (match := re.match(r"([^:]*[^\W\d_][^:]*?) ?: ?(?=\S)", last)) and not _has_number(match[1]):
            before.append(match[1])
            last = last[match.end() :]
        found = _ratios(pieces_of(without_words(last)))
        turned = any(_turned(each, of) for each in (*before, ":".join(before)))
    except Unclear as why:
        return Unread(str(why))
    return tuple(Ratio(each.parts[::-1], each.unit) for each in found) if turned else found


def _ratios(pieces: tuple[Piece, ...]) -> tuple[Ratio, ...]:
    groups: list[list[Piece]] = [[]]
    for each in pieces:
        if each.text == ":":
            groups.append([])
        else:
            groups[-1].append(each)
    if len(groups) == 1:
        answers = _answer(
            pieces, PER_CENT if any(each.text == "%" for each in pieces) else TypedUnit((0, 0, 0, 0, 0))
        )
        return tuple(
            Ratio((each.value * (each.unit.scale if each.unit else 1), Fraction(1)), _is_unit(each.unit))
            for each in answers
        )
    parts = [_checked(tuple(each)) for each in groups]
    if len(parts) > 8:
        raise Unclear("it has too many parts")
    found = []
    for chosen in product(*parts):
        if not chosen[-1].value and len(chosen) == 2:
            raise Unclear("it divides by nought")
        found.append(Ratio(tuple(each.value for each in chosen), any(_is_unit(each.unit) for each in chosen)))
    return tuple(found)


def _is_unit(unit: TypedUnit | None) -> bool:
    return unit is not None and not unit.share and unit.kind != (0, 0, 0, 0, 0)


def _turned(label: str, of: Sequence[str]) -> bool:
    """Whether a name holds the two things the other way round."""
    plain = [re.sub(r"[\W_]", "", each).lower() for each in of]
    names = [re.sub(r"[\W_]", "", each).lower() for each in re.split(r"[:/]", label)]
    return len(plain) == 2 and names == plain[::-1]
