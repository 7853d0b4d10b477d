"""Changes in the picture as edits of the circuit's text: each touches only the line that it is about.

A part that stands in the line of its group is changed there. A member of a bank, or a part of a shared file, is
changed where the circuit is put on the board: ``main = bank across R but turn bank.2.3``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from boardproof.circuit.statement import AtHand, Named, Parts, Statement, Unread, read_statements
from boardproof.circuit.written import Closed, Copied, Joined, Ref, Turned, Varied, Written
from boardproof.kit.proof import Proof
from boardproof.lesson.edit import apply
from boardproof.lesson.model import CircuitBlock, Lesson
from boardproof.lesson.read import read_lesson
from boardproof.record import record
from boardproof.source import Edit, Span

__all__ = ["ACTS", "alter"]

VALUE: Final = re.compile(r"\d{1,9}([.,]\d{1,9}|/\d{1,9})? ?[a-zA-Zµ]{0,2}(V|ohm|Ω|F|volts?|ohms?|A)")
KIND: Final = re.compile(r"(resistor|cell|switch|ammeter|capacitor|wire)( [^\n;`#]{1,60})?")
Changes = tuple[tuple[Span, str], ...]


@record
class _Place:
    """A part in the text of a circuit: its name there, what it stands in, the whole line."""

    ref: Ref
    above: tuple[Written, ...]
    line: Statement


class _Text:
    """The circuit blocks of a lesson up to the scene of the picture."""

    def __init__(self, proof: Proof, span: Span, path: str) -> None:
        self.proof, self.path, self.name = proof, path, proof.lesson.source.name
        self.text = proof.lesson.source.text
        self.lines = [
            line for start, line in _lines(proof.lesson, proof.course.notation.mark) if start <= span.start
        ]

    def places(self) -> Iterator[_Place]:
        """Where the part's name stands in a group or a circuit, the last first."""
        for line in reversed(self.lines):
            if isinstance(line, Named | AtHand):
                yield from (
                    _Place(ref, above, line)
                    for ref, above in _refs(line.expression, ())
                    if ref.path == self.path
                )

    def insert(self, at: int, text: str) -> tuple[Span, str]:
        return Span(self.name, at, at), text

    def on_board(self, change: str) -> Changes | str:
        """The change written where the circuit is put on the board."""
        for line in reversed(self.lines):
            if isinstance(line, Named | AtHand) and isinstance(line.expression, Closed | Varied):
                sign = ", " if isinstance(line.expression, Varied) else " but "
                return (self.insert(line.expression.span.end, f"{sign}{change}"),)
        return "No line of this lesson puts this circuit on the board."


def _lines(lesson: Lesson, decimal: str) -> Iterator[tuple[int, Statement]]:
    for scene in lesson.scenes:
        for block in scene.blocks:
            if isinstance(block, CircuitBlock):
                yield from (
                    (scene.span.start, line) for line in read_statements(block.body, decimal=decimal)[0]
                )


def _refs(written: Written, above: tuple[Written, ...]) -> Iterator[tuple[Ref, tuple[Written, ...]]]:
    """Names in an expression with what they stand in, the innermost last."""
    inner = (*above, written)
    match written:
        case Ref():
            yield written, above
        case Turned(of=of) | Copied(of=of):
            yield from _refs(of, inner)
        case Joined(items=items):
            for item in items:
                yield from _refs(item, inner)
        case Closed(first=first, second=second):
            yield from _refs(first, inner)
            yield from _refs(second, inner)
        case Varied(base=base):
            yield from _refs(base, inner)
        case _:
            return


def _turn(text: _Text, given: str) -> Changes | str:
    del given
    place = next(text.places(), None)
    if place is None or any(isinstance(each, Copied) for each in place.above):
        return text.on_board(f"turn {text.path}")
    if place.above and isinstance(place.above[-1], Turned):
        return ((Span(text.name, place.above[-1].span.start, place.ref.span.start), ""),)
    return (text.insert(place.ref.span.start, "-"),)


def _value(text: _Text, given: str) -> Changes | str:
    letter, _, value = given.partition(" ")
    if not VALUE.fullmatch(value):
        return f"{value or 'Nothing'} is no value with a unit, such as 4.5 V."
    for line in text.lines:
        if isinstance(line, Parts) and [name for name, _ in line.names] == [text.path]:
            part = text.proof.walk.definitions.parts.get(text.path)
            letters = [worth.letter for worth in part.worths()] if part else []
            if letter in letters and letters.index(letter) < len(line.entries):
                entry = line.entries[letters.index(letter)]
                return ((entry.span, f"{entry.letter} = {value}" if entry.letter else value),)
            return (
                (text.insert(line.entries[-1].span.end, f", {value}"),)
                if line.entries
                else text.on_board(f"{letter} = {value}")
            )
    return text.on_board(f"{letter} = {value}")


def _beside(sign: str) -> Callable[[_Text, str], Changes | str]:
    def change(text: _Text, given: str) -> Changes | str:
        place = next(text.places(), None)
        if not KIND.fullmatch(given):
            return "Say what it is, such as: resistor 10 ohm."
        if place is None:
            return f"{text.path} does not stand in a line of its own in this lesson."
        name = _free(text, given)
        whole = (
            place.above[-1].span if place.above and isinstance(place.above[-1], Turned) else place.ref.span
        )
        outer = next((each for each in reversed(place.above) if not isinstance(each, Turned)), None)
        is_same = isinstance(outer, Joined) and outer.sign == sign
        needs = not is_same and isinstance(outer, Joined | Copied | Closed)
        new_line = text.insert(place.line.span.start, f"{name} = {given}\n")
        if is_same or not needs:
            return new_line, text.insert(whole.end, f" {sign} {name}")
        return new_line, text.insert(whole.start, "("), text.insert(whole.end, f" {sign} {name})")

    return change


def _free(text: _Text, given: str) -> str:
    """A name that nothing bears yet."""
    letter = {"cell": "C", "switch": "S", "ammeter": "M", "capacitor": "K", "wire": "W"}.get(
        given.split(maxsplit=1)[0], "R"
    )
    known = set(text.proof.walk.definitions.names())
    return next(name for number in range(1, 1000) if (name := f"{letter}{number}") not in known)


def _out(text: _Text, given: str) -> Changes | str:
    del given
    place = next(text.places(), None)
    above = list(place.above) if place else []
    item: Written | None = place.ref if place else None
    while above and isinstance(above[-1], Turned):
        item = above.pop()
    if item is None or not above or not isinstance(above[-1], Joined):
        return text.on_board(f"remove {text.path}")
    items = above[-1].items
    number = items.index(item)
    if number:
        return ((Span(text.name, items[number - 1].span.end, item.span.end), ""),)
    return ((Span(text.name, item.span.start, items[1].span.start), ""),)


def _switch(text: _Text, given: str) -> Changes | str:
    return text.on_board(f"{'open' if given == 'open' else 'close'} {text.path}")


def _equivalent(text: _Text, given: str) -> Changes | str:
    """A move at the end of the scene: the group that holds the part gives way to its equivalent."""
    place = next(text.places(), None)
    if (
        place is None
        or not isinstance(place.line, Named)
        or isinstance(place.line.expression, Closed | Varied)
    ):
        return f"{text.path} stands in no group with a name."
    if not given.isdigit():
        return "Which scene?"
    scenes = text.proof.lesson.scenes
    scene = scenes[min(int(given), len(scenes) - 1)]
    end = scene.span.start + len(text.text[scene.span.start : scene.span.end].rstrip())
    return (text.insert(end, f"\n\n`replace {place.line.name} by one cell`"),)


_DOES: Final[Mapping[str, tuple[Callable[[_Text, str], Changes | str], str]]] = {
    "turn": (_turn, "{} is turned round."),
    "value": (_value, "{} has its new value."),
    "series": (_beside("+"), "{} has another in series with it."),
    "parallel": (_beside("||"), "{} has another in parallel with it."),
    "out": (_out, "{} is taken out."),
    "switch": (_switch, "{} is switched."),
    "equivalent": (_equivalent, "The group with {} gives way to one cell."),
}
ACTS: Final = frozenset(_DOES)


def alter(proof: Proof, act: str, given: str, span: Span) -> tuple[Edit, str] | str:
    """The edit for something done to a part in a picture.

    Parameters
    ----------
    proof : Proof
        The lesson as it stands.
    act : str
        One of `ACTS`.
    given : str
        The part's path, then what the act needs besides: ``A``, ``A E_1 4.5 V``, ``R resistor 10 ohm``.
    span : Span
        The scene whose picture it is.

    Returns
    -------
    (Edit, str) or str
        The edit and what to say, or why there is none.
    """
    path, _, more = given.partition(" ")
    if not re.fullmatch(r"[\w.]{1,60}", path):
        return "Choose a part first."
    does, words = _DOES[act]
    found = does(_Text(proof, span, path), " ".join(more.split()))
    if isinstance(found, str):
        return found
    source = proof.lesson.source
    edit = Edit(found, "ask", source.sha256)
    lesson, _ = read_lesson(apply(source, edit))
    if any(isinstance(line, Unread) for _, line in _lines(lesson, proof.course.notation.mark)):
        return "The circuit's text could not be read any more after that, so nothing was changed."
    return edit, words.format(path)
