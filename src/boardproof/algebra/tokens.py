"""Cutting a line of maths into signs: numbers with their units, names, signs and words, each with its place.

LaTeX spelling is first put into plain signs (`latex`); then one table of patterns reads both. Nothing is carried out.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Final, Literal

from boardproof.algebra.latex import ADDED, FRACTION, LEFT_BAR, RIGHT_BAR, ROOT, Plain, plain_signs
from boardproof.algebra.name import LETTER, NAME_PATTERN, ONE_NAME, SUB, cut, normal_name
from boardproof.algebra.refusal import Stopped, stop
from boardproof.quantities import Unit, read_decimal, read_unit, unit_spellings
from boardproof.source import Edit, Slice, Span

__all__ = ["LENGTH_AT_MOST", "Token", "tokens"]

LENGTH_AT_MOST: Final = 400
DIGITS_AT_MOST: Final = 15
RUN_AT_MOST: Final = 60

LATIN_OF: Final = dict(
    zip("АВЕКМНОРСТХаеорсхуіјѕΑΒΕΖΗΙΚΜΝΟΡΤΥΧονιⅼ", "ABEKMHOPCTXaeopcxyijsABEZHIKMNOPTYXovil", strict=True)
)
POWERS: Final = dict(zip("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789", strict=True))
WORDS: Final = frozenset(
    {"if", "when", "for", "only", "exactly", "here", "with", "and", "as", "infinity", "sqrt", "abs", "all"}
)

Kind = Literal["number", "name", "sign", "word", "power", "unit", "end"]

RUN: Final = re.compile(f"(?:{NAME_PATTERN})+")
NUMBER: Final = re.compile(
    r"(?:[0-9]{1,3}(?:[ \u00a0\u2009\u202f][0-9]{3})+(?![0-9])|[0-9]+)?(?:[.,](?=[0-9])[0-9]+)?"
)
TEN: Final = re.compile(r"\s*[×*·⋅]\s*10\s*\^\s*(?:\{\s*([-−]?[0-9]+)\s*\}|([-−]?[0-9]+))(?![0-9])")
UNIT: Final = re.compile(
    r"[ \u00a0\u2009\u202f]*("
    + "|".join(
        re.escape(each).replace(r"\ ", r"\s") for each in sorted(unit_spellings(), key=len, reverse=True)
    )
    + rf")(?![{LETTER}0-9_{SUB}])"
)
DIGITS: Final = re.compile("[0-9]+")
TIMES_TEN: Final = re.compile(r"[eE][-+]?([0-9]+)(?![A-Za-z_0-9])")
RAISED: Final = re.compile(f"[{''.join(POWERS)}]+")
OVER: Final = re.compile(r"\s*/\s*([0-9]+)")
SIGN: Final = re.compile(
    rf"->|\|\||<=|>=|!=|\.\.\.|[-+*/^()\[\]{{}}=<>≤≥≠≈→∥·⋅×÷−–…⋯,_∞:{FRACTION}{ROOT}{ADDED}{LEFT_BAR}{RIGHT_BAR}]"
)
CLOSING: Final = frozenset({")", "}", "]"})
ALONE: Final = frozenset("+*/^()=")  # signs that begin no longer one, and no unit: most of all signs
SAME: Final = (
    {"->": "→", "||": "∥", "<=": "≤", ">=": "≥", "!=": "≠", "...": "…", "⋯": "…", "−": "-", "–": "-"}
    | dict.fromkeys("·⋅×*", "*")
    | {"÷": "/", "[": "(", "]": ")"}
)


@dataclass(frozen=True, slots=True)
class Token:
    """One sign of maths.

    Parameters
    ----------
    kind : str
        "number", "name", "sign", "word", "power" (a raised number), "unit" (behind a bracket) or "end".
    text : str
        The sign in plain spelling; a name in normal form; a number as typed.
    span : Span
        Its place in the source.
    value, unit, figures, place
        Of a number, as in `expression.Number`; of a unit, that of one such unit.
    """

    kind: Kind
    text: str
    span: Span
    value: Fraction = Fraction(0)
    unit: Unit | None = None
    figures: int | None = None
    place: Fraction = Fraction(0)


def tokens(whole: Slice, known: Collection[str], decimal: str = ".") -> list[Token]:
    """The signs of a line, ended by one of kind "end".

    Parameters
    ----------
    whole : Slice
        The line.
    known : collection of str
        Names, in normal form, that letters written without a space may be cut into.
    decimal : str
        The course's decimal mark.

    Raises
    ------
    Stopped
        With the finding, where something cannot be read in one way only.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> [token.text for token in tokens(Source("x", "IR = 2.5 V").slice(), {"I", "R"})]
    ['I', 'R', '=', '2.5', '']
    """
    plain = plain_signs(whole)
    text = plain.text
    found: list[Token] = []
    place = 0
    while place < len(text):
        char = text[place]
        if char.isspace():
            place += 1
        elif char in "0123456789" or (
            char == "." and text[place + 1 : place + 2].isdigit() and text[place + 1] < "\x7f"
        ):
            token, place = _number(plain, place, decimal, raised=bool(found) and found[-1].text == "^")
            found.append(token)
        elif char in ALONE:
            found.append(Token("sign", char, plain.span(place, place + 1)))
            place += 1
        elif (
            found
            and (
                found[-1].text in CLOSING
                or found[-1].kind == "power"
                or _is_raised(found)
                or _goes_on_as_unit(found)
            )
            and (unit := _unit(plain, place, known))
        ):
            found.append(unit)
            place += len(unit.text)
        elif match := RUN.match(text, place):
            found += _names(plain, match, known)
            place = match.end()
        elif match := SIGN.match(text, place):
            found.append(Token("sign", SAME.get(match[0], match[0]), plain.span(place, match.end())))
            place = match.end()
        elif match := RAISED.match(text, place):
            raised = "".join(POWERS[each] for each in match[0])
            found.append(Token("power", raised, plain.span(place, match.end())))
            place = match.end()
        else:
            raise _strange(plain, place)
    found.append(Token("end", "", plain.span(len(text), len(text))))
    return found


def _goes_on_as_unit(found: list[Token]) -> bool:
    """Whether the last signs are a unit, perhaps with a sign for a compound one: ``3.5 V*ohm``, ``1 J/C``."""
    before = found[:-1] if found[-1].text in {"*", "/"} else found
    return bool(before) and (before[-1].unit is not None or (before is found and before[-1].kind == "unit"))


def _is_raised(found: list[Token]) -> bool:
    """Whether the last sign is a power written after ``^``."""
    return found[-1].kind == "number" and len(found) > 1 and found[-2].text == "^"


def _unit(plain: Plain, place: int, known: Collection[str]) -> Token | None:
    """A unit behind a bracket: upright, or no name that means anything here."""
    match = UNIT.match(plain.text, place)
    unit = read_unit(match[1]) if match else None
    if match is None or unit is None:
        return None
    if place not in plain.upright and (normal_name(match[1]) in known or cut(match[1], known)):
        return None
    return Token("unit", match[1], plain.span(place, match.end()), unit.scale, unit)


def _strange(plain: Plain, place: int) -> Stopped:
    """Why a character cannot be read."""
    char, span = plain.text[place], plain.span(place, place + 1)
    latin = LATIN_OF.get(char) or (unicodedata.normalize("NFKC", char) if char.isalpha() else "")
    if latin.isascii() and latin.isalpha():
        edit = Edit(((span, latin),), "safe", "")
        return stop("look-alike", span, edit, letter=unicodedata.name(char, char).capitalize(), latin=latin)
    shown = char if char.isprintable() else unicodedata.name(char, "a character without a sign").lower()
    return stop("unread-maths", span, reason=f"{shown} is no sign of maths that I know")


def _number(plain: Plain, place: int, decimal: str, *, raised: bool) -> tuple[Token, int]:
    """A number, with its power of ten and its unit if it has them."""
    text = plain.text
    match = DIGITS.match(text, place) if raised else NUMBER.match(text, place)
    assert match
    typed, end = match[0], match.end()
    span = plain.span(place, end)
    if len(typed) > DIGITS_AT_MOST and sum(char.isdigit() for char in typed) > DIGITS_AT_MOST:
        raise stop("long-number", span, length=str(len(typed)), most=str(DIGITS_AT_MOST))
    if not raised:
        _refuse_unclear(plain, place, end, decimal)
    read = read_decimal(typed, decimal)
    if read is None:
        raise stop("unread-maths", span, reason=f"{typed} can be read as two numbers")
    value, places = read
    if raised:
        return Token("number", typed, span, value), end
    power = 0
    if ten := TEN.match(text, end):
        power = int((ten[1] or ten[2]).replace("−", "-"))
        if abs(power) > DIGITS_AT_MOST:
            raise stop(
                "long-number", plain.span(place, ten.end()), length=str(abs(power)), most=str(DIGITS_AT_MOST)
            )
        end = ten.end()
    over = OVER.match(text, end) if places == 0 and not power else None
    if over and int(over[1]) and (unit := UNIT.match(text, over.end())) and len(over[1]) <= DIGITS_AT_MOST:
        return _quantity(plain, place, over.end(), unit, value / int(over[1]), None)
    value = value * _ten_to(power) if power else value
    return _quantity(plain, place, end, UNIT.match(text, end), value, _ten_to(power - places))


@cache
def _ten_to(power: int) -> Fraction:
    """Ten to a power of a few digits."""
    return Fraction(10) ** power


def _quantity(
    plain: Plain, place: int, end: int, unit: re.Match[str] | None, value: Fraction, last: Fraction | None
) -> tuple[Token, int]:
    known = read_unit(unit[1]) if unit else None
    typed = plain.text[place:end].strip()
    end = unit.end() if unit else end
    figures = _figures(typed) if last is not None else None
    step = last or Fraction(0)
    if known and known.scale != 1:
        value, step = value * known.scale, step * known.scale
    return Token("number", typed, plain.span(place, end), value, known, figures, step), end


def _figures(typed: str) -> int:
    """Significant figures of a number as typed."""
    digits = (
        typed if typed.isascii() and typed.isdigit() else re.sub("[^0-9]", "", re.split(r"\s*[×*]", typed)[0])
    )
    return max(1, len(digits.lstrip("0")))


def _refuse_unclear(plain: Plain, place: int, end: int, decimal: str) -> None:
    """Refuse ``2E3``, and a comma in a course that writes a point."""
    text, typed = plain.text, plain.text[place:end]
    if "," in typed and decimal == ".":
        span, right = plain.span(place, end), typed.replace(",", ".")
        raise stop("decimal-mark", span, Edit(((span, right),), "safe", ""), typed=typed, right=right)
    if match := TIMES_TEN.match(text, end):
        first, second = f"{typed} E_{match[1]}", f"{typed}×10^{match[0][1:]}"
        raise stop("unclear-power-of-ten", plain.span(place, match.end()), first=first, second=second)
    if not plain.text[place:end]:
        raise stop("unread-maths", plain.span(place, place + 1), reason="a number is missing here")


def _names(plain: Plain, match: re.Match[str], known: Collection[str]) -> Iterator[Token]:
    """The names (or the word) that a run of letters spells."""
    run, place = match[0], match.start()
    if run in WORDS:
        yield Token("word", run, plain.span(place, match.end()))
        return
    if len(run) > RUN_AT_MOST:
        raise stop(
            "unread-maths", plain.span(place, match.end()), reason="so many letters need spaces between them"
        )
    pieces: tuple[str, ...] = (run,)
    if not (ONE_NAME.fullmatch(run) and normal_name(run) in known):
        ways = cut(run, known)
        if len(ways) > 1:
            first, second = (" ".join(way) for way in ways[:2])
            raise stop("unclear-letters", plain.span(place, match.end()), first=first, second=second)
        pieces = ways[0] if ways else tuple(each[0] for each in ONE_NAME.finditer(run))
    for piece in pieces:
        yield Token("name", normal_name(piece), plain.span(place, place + len(piece)))
        place += len(piece)
