"""Words, names and numbers in a line of a circuit, with their places; every spelling of a name made one.

What the words mean together is `grammar`'s work.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Final, Literal

from boardproof.circuit.model import Kind
from boardproof.quantities import Unit, read_unit
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = [
    "KINDS_OF_PART",
    "LONGEST_NAME",
    "RESERVED",
    "Word",
    "head",
    "logical_lines",
    "look_alikes",
    "normal_name",
    "squeezed",
    "words",
]

LONGEST_NAME: Final = 40
KINDS_OF_PART: Final[dict[str, Kind]] = {
    "cell": "cell",
    "source": "source",
    "resistor": "resistor",
    "switch": "switch",
    "ammeter": "ammeter",
    "voltmeter": "voltmeter",
    "wire": "wire",
    "capacitor": "capacitor",
    "lamp": "lamp",
    "diode": "diode",
}
RESERVED: Final = frozenset(KINDS_OF_PART) | frozenset(
    [
        "across",
        "and",
        "at",
        "but",
        "close",
        "closed",
        "emf",
        "for",
        "from",
        "given",
        "in",
        "let",
        "link",
        "links",
        "lithium",
        "network",
        "no",
        "of",
        "open",
        "or",
        "parallel",
        "rechargeable",
        "remove",
        "series",
        "short",
        "to",
        "turn",
        "turned",
        "use",
        "values",
        "when",
        "zero",
    ]
)
SUBSCRIPTS: Final = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
EMF_LETTERS: Final = str.maketrans({"ε": "E", "ϵ": "E", "ℰ": "E"})
# Letters of other alphabets that are drawn like a Latin one (Unicode's list of confusables, those of one letter).
LOOK_ALIKES: Final = dict(
    zip(
        "ΑΒΕΖΗΙΚΜΝΟΡΤΥΧοАВЕКМНОРСТУХаеорсухіјѕԁһ",
        "ABEZHIKMNOPTYXoABEKMHOPCTYXaeopcyxijsdh",
        strict=True,
    )
)
LETTER: Final = r"[^\W\d_\u2070-\u209c\u00b2\u00b3\u00b9]"
NAME: Final = (
    rf"{LETTER}+(?:_\{{[^{{}}\n]*\}}|_(?:{LETTER}+[0-9₀-₉]*|[0-9₀-₉]+)|[0-9₀-₉]+)?(?:\.[0-9]+(?![0-9]*\.\.))*"
)
NUMBER: Final = (
    r"[0-9]{1,3}(?:[ \u00a0\u2009\u202f][0-9]{3})+(?![0-9])(?:[.,][0-9]+)?"
    r"|[0-9]+/[0-9]+|[0-9]*[.,][0-9]+|[0-9]+"
)
PATTERN: Final = re.compile(
    rf"(?P<space>\s+)|(?P<short>[0-9]+[sSpP](?:[0-9]+[sSpP])?(?!\w))|(?P<name>{NAME})|(?P<number>{NUMBER})"
    r"|(?P<sign>\|\||∥|\.\.\.|…|[-−–+(),=:])|(?P<odd>.)",
    re.DOTALL,
)
UNIT: Final = re.compile(r"\s*([^\W\d_]+(?:[ ·-][^\W\d_]+)?)")
SIGNS: Final = {"∥": "||", "−": "-", "–": "-", "…": "..."}


@record
class Word:
    """One word, name, number or sign of a line.

    Parameters
    ----------
    kind : {"name", "number", "short", "sign", "odd", "end"}
        "short" is a spelling like ``3s4p``; "end" closes every line.
    text : str
        In normal form; of a number as typed, without its unit.
    span : Span
        Its place.
    unit : Unit or None
        Of a number.
    """

    kind: Literal["name", "number", "short", "sign", "odd", "end"]
    text: str
    span: Span
    unit: Unit | None = None


def normal_name(text: str) -> str:
    """The one spelling of a name: ``A1``, ``A₁``, ``A_{1}`` are ``A_1``; ε is E.

    Parameters
    ----------
    text : str
        A name as typed: letters, digits, a subscript raised by ``_`` or set low.

    Examples
    --------
    >>> normal_name("A₁"), normal_name("R_{load}"), normal_name("ε_2"), normal_name("E_bank.2.3")
    ('A_1', 'R_load', 'E_2', 'E_bank.2.3')
    """
    plain = text.translate(SUBSCRIPTS).translate(EMF_LETTERS)
    before, line, after = plain.partition("_")
    if line:
        return f"{before}_{re.sub(r'[{}_ ]', '', after)}"
    numbered = re.fullmatch(rf"({LETTER}+)([0-9]+)((?:\.[0-9]+)*)", plain)
    return f"{numbered[1]}_{numbered[2]}{numbered[3]}" if numbered else plain


def head(name: str) -> str:
    """What stands before the subscript.

    Parameters
    ----------
    name : str
        In normal form.

    Examples
    --------
    >>> head("R_load"), head("bank.2")
    ('R', 'bank')
    """
    return re.split(r"[_.]", name, maxsplit=1)[0]


def squeezed(name: str) -> str:
    """A name as it stands in a subscript: part ``A_1`` has ``E_A1``.

    Parameters
    ----------
    name : str
        In normal form.

    Examples
    --------
    >>> f"E_{squeezed('A_1')}"
    'E_A1'
    """
    return name.replace("_", "")


def look_alikes(text: str) -> Iterator[tuple[int, str, str]]:
    """Place, name and Latin double of each letter that only looks Latin: shown alone, the two can't be told apart.

    Parameters
    ----------
    text : str
        Any text.

    Examples
    --------
    >>> [(place, double) for place, _, double in look_alikes("\N{CYRILLIC CAPITAL LETTER IE} = 6 V")]
    [(0, 'E')]
    """
    for place, char in enumerate(text):
        if char in LOOK_ALIKES:
            yield place, unicodedata.name(char, char).capitalize(), LOOK_ALIKES[char]


def words(line: Slice) -> tuple[Word, ...]:
    """The words of one line, closed by an "end".

    Parameters
    ----------
    line : Slice
        One logical line, without comments.

    Examples
    --------
    >>> from boardproof.source import Span
    >>> [word.text for word in words(Slice("A1 = cell 1.5 V || -B", Span("x", 0, 21)))]
    ['A_1', '=', 'cell', '1.5', '||', '-', 'B', '']
    """
    found: list[Word] = []
    text, place = line.text, 0
    while place < len(text):
        match = PATTERN.match(text, place)
        assert match is not None
        kind, place = match.lastgroup, match.end()
        span = line.part(match.start(), place).span
        raw = match[0]
        if kind == "number":
            unit, place = _unit(text, place)
            found.append(Word("number", raw, line.part(match.start(), place).span, unit))
        elif kind == "name":
            found.append(Word("name", normal_name(raw), span))
        elif kind == "sign":
            found.append(Word("sign", SIGNS.get(raw, raw), span))
        elif kind == "short":
            found.append(Word("short", raw.lower(), span))
        elif kind == "odd":
            found.append(Word("odd", raw, span))
    found.append(Word("end", "", line.part(len(text), len(text)).span))
    return tuple(found)


def _unit(text: str, place: int) -> tuple[Unit | None, int]:
    """The unit after a number, by its longest spelling, and where it ends."""
    match = UNIT.match(text, place)
    if match:
        both, first = match[1], re.split(r"[ ·-]", match[1])[0]
        for spelled in (both, first):
            unit = read_unit(spelled)
            end = match.start(1) + len(spelled)
            if unit and not re.match(r"[\w]", text[end : end + 1]):
                return unit, end
    return None, place


GOES_ON: Final = re.compile(r"(?:[-−+,(]|\|\||∥|\b(?:across|but))\s*\Z", re.IGNORECASE)


def logical_lines(text: Slice) -> Iterator[Slice]:
    r"""Lines without comments, empty ones left out; a line ending in an operator, comma or bracket goes on.

    A semicolon ends a line too, so that a whole circuit can be given on one.

    Parameters
    ----------
    text : Slice
        A circuit block, or one circuit expression.

    Examples
    --------
    >>> text = "A = cell # new\n\nmain = A across (\n R)"
    >>> [" ".join(line.text.split()) for line in logical_lines(Slice(text, Span("x", 0, len(text))))]
    ['A = cell', 'main = A across ( R)']
    """
    bare = re.sub(r"(?m)(^[ \t\ufeff]*|[ \t])#.*$", lambda found: " " * len(found[0]), text.text)
    bare = bare.replace("\ufeff", " ")
    start = place = 0
    for piece in re.findall(r"[^\r\n;]*(?:\r\n|[\r\n;]|\Z)", bare):
        place += len(piece)
        so_far = bare[start:place].rstrip("\r\n; \t")
        if so_far.strip() and not (GOES_ON.search(so_far) and piece[-1:] != ";"):
            yield _flat(text, bare, start, place)
            start = place
        elif not so_far.strip():
            start = place
    if bare[start:].strip("; \t\r\n"):
        yield _flat(text, bare, start, len(bare))


def _flat(text: Slice, bare: str, start: int, end: int) -> Slice:
    """A line in one: comments and line ends are spaces, places stay."""
    flat = re.sub(r"[\r\n;]", " ", bare[start:end])
    return Slice(flat, text.part(start, end).span).trimmed()
