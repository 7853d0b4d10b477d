"""Lines of a circuit as statements: parts, families, named groups, networks, lets, values, readings.

A reader never fails: a line that can't be read becomes `Unread`, with its finding, and the rest goes on.
"""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import Final

from boardproof.circuit.grammar import Reader, Unreadable
from boardproof.circuit.kinds import finding
from boardproof.circuit.model import Count, Kind
from boardproof.circuit.spelling import KINDS_OF_PART, LONGEST_NAME, Word, logical_lines, normal_name
from boardproof.circuit.written import Assign, Entry, Written
from boardproof.findings import Finding, near_names
from boardproof.record import record
from boardproof.source import Slice, Span

__all__ = [
    "AtHand",
    "FamilyOf",
    "GivenOf",
    "LetOf",
    "Named",
    "NetworkOf",
    "Parts",
    "Statement",
    "Unread",
    "UseOf",
    "ValuesOf",
    "ZeroAt",
    "read_statements",
]

MOST_LINES: Final = 2000


@record
class Parts:
    """``A, B = cell 1.5 V, 0.2 ohm``."""

    names: tuple[tuple[str, Span], ...]
    kind: Kind
    entries: tuple[Entry, ...]
    span: Span


@record
class FamilyOf:
    """``A_k = cell E_k, r_k for k = 3 to n``."""

    name: str
    kind: Kind
    entries: tuple[Entry, ...]
    index: str
    first: Count
    last: Count
    span: Span


@record
class Named:
    """``both = A || B``."""

    name: str
    expression: Written
    written: str
    span: Span


@record
class AtHand:
    """A circuit that stands alone on its line."""

    expression: Written
    written: str
    span: Span


@record
class NetworkOf:
    """``network bridge from a to d`` with its lines; not whole if one of them could not be read."""

    name: str
    ends: tuple[str, str] | None
    branches: tuple[tuple[Written, str, str], ...]
    span: Span
    is_whole: bool = True


@record
class LetOf:
    """``let I_0 = current in R when main but turn B``; body and condition raw, for the readers of phrases."""

    name: str
    body: Slice
    when: Slice | None
    span: Span


@record
class ValuesOf:
    """``values fresh: E_1 = 6 V``."""

    name: str
    assigned: tuple[Assign, ...]
    span: Span


@record
class GivenOf:
    """``given V_X = 1.25 V, I_X = 0.5 A when L = 2.5 ohm``; raw, for the reader of maths."""

    readings: tuple[Slice, ...]
    when: Slice | None
    span: Span


@record
class ZeroAt:
    """``zero at d``."""

    node: str
    span: Span


@record
class UseOf:
    """``use batteries``, ``use A, B from batteries``."""

    file: str
    names: tuple[str, ...]
    span: Span


@record
class Unread:
    """A line that could not be read.

    Parameters
    ----------
    span : Span
        Its place.
    names : tuple of str
        What it would have defined, as far as can be told.
    is_circuit : bool
        Whether it would have put a circuit on the board, or might have.
    """

    span: Span
    names: tuple[str, ...] = ()
    is_circuit: bool = False


Statement = (
    Parts | FamilyOf | Named | AtHand | NetworkOf | LetOf | ValuesOf | GivenOf | ZeroAt | UseOf | Unread
)
OPENERS: Final = ("use", "values", "let", "given", "zero", "network")


def read_statements(
    text: Slice, *, decimal: str = ".", most_lines: int = MOST_LINES
) -> tuple[tuple[Statement, ...], tuple[Finding, ...]]:
    """The statements of a circuit text and what was found wrong in it.

    Parameters
    ----------
    text : Slice
        The body of one block, a file, or one line with semicolons.
    decimal : str
        The course's decimal mark.
    most_lines : int
        Lines after this many are left out, with a finding.

    Examples
    --------
    >>> typed = "A = cell 6 V, 1 ohm; A"
    >>> found, wrong = read_statements(Slice(typed, Span("x", 0, len(typed))))
    >>> [type(each).__name__ for each in found], wrong
    (['Parts', 'AtHand'], ())
    """
    statements: list[Statement] = []
    wrong: list[Finding] = []
    for number, line in enumerate(logical_lines(text)):
        if number >= most_lines:
            wrong.append(finding("too-much", line.span, what="this circuit", limit=f"{most_lines} lines"))
            break
        try:
            statement = _statement(line, decimal)
            branch = _branch(line, decimal) if statement is None else None
        except Unreadable as stopped:
            wrong.append(stopped.finding)
            last = statements[-1] if statements else None
            if isinstance(last, NetworkOf) and re.search(r"\b(?:from|to)\b", line.text):
                statements[-1] = replace(last, is_whole=False)
            else:
                statements.append(_unread(line))
            continue
        if branch is not None:
            open_network = statements[-1] if statements else None
            if isinstance(open_network, NetworkOf):
                branches, span = (*open_network.branches, branch), open_network.span.to(line.span)
                statements[-1] = replace(open_network, branches=branches, span=span)
            else:
                why = "a line with `from` and `to` belongs under a `network`"
                wrong.append(
                    finding("unread-line", line.span, why=why, forms="Write `network NAME` above it.")
                )
        elif statement is not None:
            statements.append(statement)
    return tuple(statements), tuple(wrong)


def _unread(line: Slice) -> Unread:
    """What can be told of a line that can't be read."""
    left, equals, right = line.text.partition("=")
    if not equals and (part := re.match(rf"\s*([^\W\d][\w.]*)\s+(?i:{'|'.join(KINDS_OF_PART)})\b", left)):
        return Unread(line.span, (normal_name(part[1]),))
    opener = re.match(rf"\s*(?:{'|'.join(OPENERS)})\b", left)
    typed = left[opener.end() :] if opener else left if equals else ""
    names = tuple(normal_name(each) for each in re.findall(r"[^\W\d][\w.]*", typed.partition(":")[0]))
    return Unread(
        line.span, names, not opener and (not equals or bool(re.search(r"\bacross|\bbut\b", right)))
    )


def _statement(line: Slice, decimal: str) -> Statement | None:
    """One statement; None if the line is a branch of a network."""
    opener = re.match(r"(\w+)\s+(?!=)", line.text)
    word = opener[1].lower() if opener else ""
    if word == "let":
        return _let(line, decimal)
    if word == "given":
        return _given(line)
    if word == "use":
        return _use(line)
    reader = Reader(line, decimal=decimal)
    if word == "values":
        return _values(reader)
    if word == "zero":
        reader.take()
        reader.expect(reader.is_word("at"), "`at` and a node")
        node = reader.name("a node").text
        reader.end()
        return ZeroAt(node, line.span)
    if word == "network":
        return _network(reader)
    if any(one.kind == "sign" and one.text == "=" for one in reader.words[:2]) or _names_then_equals(reader):
        return _definition(reader)
    if any(reader.is_word("from", ahead=place) for place in range(len(reader.words))):
        return None
    if reader.peek().kind == "name" and reader.peek(1).text.lower() in KINDS_OF_PART:
        rest = reader.text(reader.peek(1).span.to(reader.words[-1].span)).strip()
        raise reader.refuse("a part needs an equals sign", f"{reader.peek().text} = {rest}", reader.peek(1))
    return AtHand(reader.whole(), line.text, line.span)


def _names_then_equals(reader: Reader) -> bool:
    """Whether names parted by commas and then an equals sign begin the line."""
    place = 0
    while reader.peek(place).kind == "name" and reader.is_sign(",", ahead=place + 1):
        place += 2
    return place > 0 and reader.peek(place).kind == "name" and reader.is_sign("=", ahead=place + 1)


def _definition(reader: Reader) -> Statement:
    line = reader.line
    names = [_new_name(reader)]
    while reader.ahead(reader.is_sign(",")):
        names.append(_new_name(reader))
    reader.expect(reader.is_sign("="), "an equals sign")
    written = reader.text(reader.peek().span.to(reader.words[-1].span)).strip()
    kind = _kind(reader)
    if kind is None:
        if len(names) > 1:
            raise reader.refuse("several names at once are for like parts", "A, B = cell 1.5 V, 0.2 ohm")
        if reader.peek().kind == "number" and reader.peek(1).kind == "end":
            raise reader.refuse(
                "a value needs a kind of part before it", f"{names[0].text} = resistor {written}"
            )
        return Named(names[0].text, reader.whole(), written, line.span)
    entries = reader.entries()
    if reader.ahead(reader.is_word("for")):
        index = reader.name("the letter that counts").text
        reader.expect(reader.is_sign("="), "an equals sign")
        first = reader.count()
        reader.expect(reader.is_word("to"), "`to`")
        last = reader.count()
        reader.end()
        if len(names) > 1 or not names[0].text.endswith(f"_{index}"):
            raise reader.refuse(
                f"the name of a family ends in its letter {index}", f"A_{index} = cell ...", names[0]
            )
        return FamilyOf(names[0].text, kind, entries, index, first, last, line.span)
    reader.end()
    return Parts(tuple((name.text, name.span) for name in names), kind, entries, line.span)


def _new_name(reader: Reader) -> Word:
    name = reader.name("the name of a part or a group")
    if "." in name.text:
        raise reader.refuse("a member is named by its group; it can't be defined anew", word=name)
    return name


def _kind(reader: Reader) -> Kind | None:
    """The kind of part that stands here; None if an expression does."""
    word, after = reader.peek(), reader.peek(1)
    if word.kind != "name":
        return None
    known = KINDS_OF_PART.get(word.text.lower())
    if known:
        reader.take()
        return known
    is_value = after.kind == "number" or (after.kind == "name" and reader.is_sign("=", ahead=2))
    if is_value and not reader.is_word("of", ahead=1):
        near = ", ".join(near_names(word.text.lower(), KINDS_OF_PART))
        raise Unreadable(finding("unknown-kind", word.span, word=word.text, near=near))
    return None


def _network(reader: Reader) -> NetworkOf:
    reader.take()
    name, ends = _new_name(reader).text, None
    if reader.ahead(reader.is_word("from")):
        first = reader.name("a node").text
        reader.expect(reader.is_word("to"), "`to`")
        ends = (first, reader.name("a node").text)
    reader.end()
    return NetworkOf(name, ends, (), reader.line.span)


def _branch(line: Slice, decimal: str) -> tuple[Written, str, str]:
    reader = Reader(line, decimal=decimal)
    item = reader.joined()
    reader.expect(reader.is_word("from"), "`from`")
    tail = reader.name("a node").text
    reader.expect(reader.is_word("to"), "`to`")
    head = reader.name("a node").text
    reader.end()
    return item, tail, head


def _values(reader: Reader) -> ValuesOf:
    reader.take()
    name = _new_name(reader).text
    reader.expect(reader.is_sign(":"), "a colon")
    assigned: list[Assign] = []
    while not assigned or reader.ahead(reader.is_sign(",")):
        path = reader.path()
        reader.expect(reader.is_sign("="), "an equals sign")
        assigned.append(reader.assign(path))
    reader.end()
    return ValuesOf(name, tuple(assigned), reader.line.span)


def _split_when(text: Slice) -> tuple[Slice, Slice | None]:
    found = re.search(r"(?i)(?<!\w)when(?!\w)", text.text)
    if not found:
        return text.trimmed(), None
    return text.part(0, found.start()).trimmed(), text.part(found.end(), len(text.text)).trimmed()


def _let(line: Slice, decimal: str) -> LetOf:
    left = re.match(r"(?i)let\s+([^=]*)=", line.text)
    if not left:
        raise Unreadable(
            finding("unread-line", line.span, why="a let names something", forms="`let I_0 = current in R`")
        )
    reader = Reader(line.part(left.start(1), left.end(1)), decimal=decimal)
    name = reader.name("the new name").text
    reader.end()
    body, when = _split_when(line.part(left.end(), len(line.text)))
    if not body.text:
        raise Unreadable(finding("unread-line", line.span, why=f"it does not say what {name} is"))
    return LetOf(name, body, when, line.span)


def _given(line: Slice) -> GivenOf:
    rest, when = _split_when(line.part(len("given"), len(line.text)))
    # A comma between digits belongs to a number; any other parts two readings.
    cuts = [
        0,
        *(found.end() for found in re.finditer(r",(?![0-9])|(?<![0-9]),", rest.text)),
        len(rest.text) + 1,
    ]
    readings = tuple(rest.part(a, b - 1).trimmed() for a, b in pairwise(cuts))
    if not all("=" in reading.text for reading in readings):
        why = "a reading is a quantity, an equals sign and a value"
        raise Unreadable(
            finding("unread-line", line.span, why=why, forms="`given V_X = 1.25 V, I_X = 0.5 A`")
        )
    return GivenOf(readings, when, line.span)


def _use(line: Slice) -> UseOf:
    found = re.fullmatch(r"(?i)use\s+(?:(.+?)\s+from\s+)?([\w-]+?)(?:\.circuit)?", line.text.strip())
    if not found or len(found[2]) > LONGEST_NAME:
        why = "a file is named by its plain name, in the course folder"
        raise Unreadable(finding("unread-line", line.span, why=why, forms="`use batteries`"))
    names: list[str] = []
    if found[1]:
        reader = Reader(line.part(found.start(1), found.end(1)))
        names.append(reader.name().text)
        while reader.ahead(reader.is_sign(",")):
            names.append(reader.name().text)
        reader.end()
    return UseOf(found[2], tuple(names), line.span)
