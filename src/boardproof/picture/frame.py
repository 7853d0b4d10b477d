"""The whole board at one moment: scene header, figure, maths, caution, and the band for captions."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from boardproof.algebra.expression import Line
from boardproof.picture.board import BoardState, Written
from boardproof.picture.drawing import Box, Drawn, Frame, Label, Lettering, Mark, Outline, Shape, State, Text
from boardproof.picture.figure import Figure, figure_of
from boardproof.picture.height import potential_round
from boardproof.picture.sheet import bounds, moved
from boardproof.picture.strokes import caution_mark, path_of
from boardproof.picture.unfold import counted, plan_of
from boardproof.picture.words import told_circuit

__all__ = ["frame"]


@dataclass(frozen=True, slots=True)
class _Board:
    """Measures of one shape, in u (look: type, grid and spacing)."""

    width: float
    height: float
    margin: float
    title: float
    number: float
    label: float
    maths: float
    small: float
    caption: float
    levels: tuple[float, float, float]
    figure: Box
    column: Box
    text_left: float
    hairline: float
    caption_lines: tuple[float, float]


WIDE = _Board(
    96, 54, 4, 2.5, 1.3, 1.6, 1.75, 1.2, 1.75, (4.1, 7.3, 9.2),
    Box(4, 10.8, 58.5, 46.7), Box(61.4, 11, 92, 46.5), 63, 47.6, (50.2, 52.5),
)  # fmt: skip
NEAR = _Board(
    54, 96, 3, 3.1, 2.2, 2.2, 2.5, 2.1, 2.45, (4.6, 8.6, 10.8),
    Box(2.4, 12.6, 51.6, 52.4), Box(3, 53.4, 51, 83.4), 5, 84.4, (88.4, 91.9),
)  # fmt: skip
FIGURE_MARGIN = 1.0


def frame(state: BoardState, shape: Shape, lettering: Lettering, moment: str = "") -> Frame:
    """The picture of a moment.

    Parameters
    ----------
    state : BoardState
        Everything that stands on the board.
    shape : {"wide", "near", "figure", "figure near"}
        The whole board, or the circuit alone, cut to its size.
    lettering : Lettering
        Measures labels; hashable, for places are kept while it lives.
    moment : str
        Key of the moment.

    Returns
    -------
    Frame
        Nothing reaches over its edges; no label touches a line or another label.

    Examples
    --------
    >>> class Plain:
    ...     def extent(self, label):
    ...         return (0.5 * label.size * 6, 0.75 * label.size, 0.25 * label.size)
    >>> from boardproof.circuit.model import Circuit, Leaf, Part
    >>> lamp = Circuit(Leaf("R", Part("R", "resistor")))
    >>> [each.id for each in frame(BoardState(lamp), "figure", Plain()).drawn]
    ['net:R.a', 'net:R.b', 'part:R', 'terminals']
    """
    board = NEAR if shape in {"near", "figure near"} else WIDE
    figure = None
    if state.circuit is not None:
        figure = figure_of(
            state, state.circuit, lettering, size=board.label, small=board.small, area=board.figure
        )
    title = state.scene or state.lesson
    told = "" if state.circuit is None else _told(state)
    if state.heights:
        figure, said = _heights(state, board, lettering, near=shape in {"near", "figure near"})
        told = f"{told} {said}"
    if shape in {"figure", "figure near"}:
        return _cut(moment, shape, figure, title, told)
    drawn = [*_header(state, board, lettering), *(figure.drawn if figure else ())]
    drawn += _maths(state, board, lettering)
    drawn += _caution(state, board, lettering)
    drawn.append(_rule("rule:captions", board.margin, board.width - board.margin, board.hairline, "dimmed"))
    lines = _wrapped(state.caption, Label("", board.caption), board.width - 2 * board.margin, lettering)
    return Frame(moment, shape, board.width, board.height, tuple(drawn), title, told, lines)


def _heights(state: BoardState, board: _Board, lettering: Lettering, *, near: bool) -> tuple[Figure, str]:
    """The picture of potential round a loop, where the circuit would stand, and its words."""
    picture = potential_round(state.heights, lettering, shape="figure near" if near else "figure")
    area = board.figure
    x = area.left + (area.right - area.left - picture.width) / 2
    y = area.top + (area.bottom - area.top - picture.height) / 2
    drawn = tuple(moved(each, x, y) for each in picture.drawn)
    return Figure(drawn, Box(x, y, x + picture.width, y + picture.height), None), picture.alternative


def _told(state: BoardState) -> str:
    """The circuit in words: connections and given values; nothing that was worked out."""
    assert state.circuit is not None
    parts = [told_circuit(plan_of(counted(state.circuit.item, state.circuit.values)), state.circuit.values)]
    parts += [f"A short across {path} is imagined." for path, how in state.imagined if how == "short"]
    parts += [
        f"The EMFs in {path} are taken out, in thought." for path, how in state.imagined if how != "short"
    ]
    parts += [f"{path} is drawn as one {kind}." for path, kind in state.replaced]
    if state.hidden:
        parts.append(f"Not drawn yet: {', '.join(state.hidden)}.")
    return " ".join(parts)


def _cut(moment: str, shape: Shape, figure: Figure | None, title: str, told: str) -> Frame:
    """The figure alone."""
    if figure is None:
        return Frame(moment, shape, 1.0, 1.0, (), title, told)
    box = figure.box.grown(FIGURE_MARGIN)
    drawn = tuple(moved(each, -box.left, -box.top) for each in figure.drawn)
    return Frame(moment, shape, box.right - box.left, box.bottom - box.top, drawn, title, told)


def _rule(name: str, x1: float, x2: float, y: float, state: State = "normal") -> Drawn:
    mark = Outline(path_of([(x1, y), (x2, y)]), "rule")
    kind = "rule" if name.startswith("rule:scene") else "hairline"
    return Drawn(name, kind, state, Box(x1, y, x2, y), (mark,))


def _header(state: BoardState, board: _Board, lettering: Lettering) -> list[Drawn]:
    """Scene number, lesson, title, and a rule with one piece a scene."""
    one, two, three = board.levels
    left, right = board.margin, board.width - board.margin
    number = Label(f"Scene {state.scene_number} of {state.scenes}", board.number)
    drawn = [_heading("words:scene", "small", Text(number, left, one, "start"), lettering)]
    if state.lesson and board is WIDE:
        lesson = _fitting(Label(state.lesson, board.number), 0.75 * (right - left), lettering)
        drawn.append(_heading("words:lesson", "small", Text(lesson, right, one, "end"), lettering))
    if state.scene:
        title = _fitting(Label(state.scene, board.title, "semibold"), right - left, lettering, board.label)
        drawn.append(_heading("words:title", "title", Text(title, left, two, "start"), lettering))
    gap = 0.5
    piece = (right - left - gap * (state.scenes - 1)) / state.scenes
    for scene in range(1, state.scenes + 1):
        x = left + (scene - 1) * (piece + gap)
        now: State = (
            "focus" if scene == state.scene_number else "normal" if scene < state.scene_number else "dimmed"
        )
        drawn.append(_rule(f"rule:scene{scene}", x, x + piece, three, now))
    return drawn


def _heading(name: str, kind: str, text: Text, lettering: Lettering) -> Drawn:
    return Drawn(name, kind, "normal", bounds([text], lettering), (text,), str(text.label.content))


def _fitting(label: Label, width: float, lettering: Lettering, least: float | None = None) -> Label:
    """The label made smaller down to `least`, then cut off with three dots, until it fits."""
    wide = lettering.extent(label)[0]
    if wide > width and least is not None:
        label = replace(label, size=max(least, label.size * width / wide * 0.995))
    words = str(label.content)
    while lettering.extent(label)[0] > width and " " in words:
        words = words.rpartition(" ")[0]
        label = replace(label, content=f"{words} …")
    return label


@dataclass(frozen=True, slots=True)
class _Entry:
    """A written line measured: its texts from its own top, its height, and whether it is in focus."""

    written: Written
    marks: tuple[Text, ...]
    height: float


def _maths(state: BoardState, board: _Board, lettering: Lettering) -> list[Drawn]:
    """The column of maths: oldest lines leave together when it is full."""
    if not state.written:
        return []
    entries = [_entry(each, board, lettering) for each in state.written]
    bottom = min(board.column.bottom, _caution_top(state, board, lettering) - 1.0)
    gap = 1.9 if board is WIDE else 1.5
    first = _first_shown(entries, bottom - board.column.top, gap, board)
    y = board.column.top + 0.6
    drawn = []
    if first:
        words = "line 1 is" if first == 1 else f"lines 1 to {first} are"
        label = Label(f"{words} on the handout", board.small, "italic")
        text = Text(label, board.text_left, y + 0.75 * board.small, "start")
        drawn.append(
            Drawn("words:handout", "words", "normal", bounds([text], lettering), (text,), str(label.content))
        )
        y += board.small + gap
    for entry in entries[first:]:
        drawn.append(_line(entry, board, y, lettering))
        y += entry.height + gap
    return drawn


def _first_shown(entries: Sequence[_Entry], room: float, gap: float, board: _Board) -> int:
    """How many of the oldest lines have left; the newest always stays."""
    for first in range(len(entries)):
        head = board.small + gap if first else 0.0
        if head + sum(entry.height + gap for entry in entries[first:]) - gap + 1.6 <= room:
            return first
    return len(entries) - 1


def _entry(written: Written, board: _Board, lettering: Lettering) -> _Entry:
    width = board.column.right - board.text_left - 0.5
    texts: list[Text] = []
    y = 0.0
    if written.reason:
        for line in _wrapped(written.reason, Label("", board.small, "italic"), width, lettering):
            y += 0.75 * board.small
            texts.append(Text(Label(line, board.small, "italic"), board.text_left, y, "start"))
            y += 0.55 * board.small
        y += 0.9 - 0.25 * board.small
    if isinstance(written.line, str):
        for line in _wrapped(written.line, Label("", board.maths), width, lettering):
            y += 0.8 * board.maths
            texts.append(Text(Label(line, board.maths), board.text_left, y, "start"))
            y += 0.5 * board.maths
        return _Entry(written, tuple(texts), y - 0.2 * board.maths)
    for piece in _pieces(written, board, lettering, width):
        _, high, deep = lettering.extent(piece)
        y += high
        texts.append(Text(piece, board.text_left, y, "start"))
        y += deep + 0.7
    return _Entry(written, tuple(texts), y - 0.7)


def _pieces(written: Written, board: _Board, lettering: Lettering, width: float) -> list[Label]:
    """A line of maths, cut at its chains or between its equals signs if it is too wide for the column."""
    line = written.line
    assert not isinstance(line, str)
    whole = Label(line, board.maths, display=True)
    if lettering.extent(whole)[0] <= width:
        return [whole]
    pieces: list[Label] = []
    run: list[int] = []
    for number in range(len(line.statements)):
        said = _piece(replace(line, condition=None), [*run, number], board)
        if run and lettering.extent(said)[0] > width:
            pieces.append(_piece(line, run, board))
            run = []
        run.append(number)
    if run:
        pieces.append(_piece(line, run, board))
    cut = [part for piece in pieces or [whole] for part in _parted(piece, lettering, width)]
    return [each if lettering.extent(each)[0] <= width else replace(each, display=False) for each in cut]


def _piece(line: Line, numbers: list[int], board: _Board) -> Label:
    """Some statements of a line; its tag and its condition go with the last."""
    is_last = numbers[-1] == len(line.statements) - 1
    statements = tuple(line.statements[n] for n in numbers)
    cut = replace(
        line, statements=statements, bare=(), tag=line.tag if is_last else None,
        condition=line.condition if is_last else None,
    )  # fmt: skip
    return Label(cut, board.maths, display=True)


def _parted(piece: Label, lettering: Lettering, width: float) -> list[Label]:
    """A piece that is too wide, with its condition in a row of its own."""
    line = piece.content
    if not isinstance(line, Line) or line.condition is None or lettering.extent(piece)[0] <= width:
        return [piece]
    said = replace(line, condition=None, tag=None)
    under = Line((), condition=line.condition, tag=line.tag, span=line.span)
    return [replace(piece, content=said), replace(piece, content=under)]


def _line(entry: _Entry, board: _Board, top: float, lettering: Lettering) -> Drawn:
    """A written line where it stands, on its wash if it is in focus."""
    texts = [replace(text, y=text.y + top) for text in entry.marks]
    marks: list[Mark] = list(texts)
    state: State = "focus" if entry.written.in_focus else "normal"
    if entry.written.in_focus:
        left, right = board.column.left, board.column.right
        box = bounds(texts, lettering)
        y1, y2 = box.top - 0.8, box.bottom + 0.8
        corners = [(left, y1), (right, y1), (right, y2), (left, y2)]
        bar = [(left, y1), (left + 0.42, y1), (left + 0.42, y2), (left, y2)]
        marks = [
            Outline(path_of(corners, closed=True), "wash", "lamp"),
            Outline(path_of(bar, closed=True), "solid", "ink"),
            *texts,
        ]
    return Drawn(f"line:{entry.written.key}", "line", state, bounds(marks, lettering), tuple(marks))


def _caution_lines(state: BoardState, board: _Board, lettering: Lettering) -> tuple[str, ...]:
    width = (
        board.column.right - (board.text_left if board is WIDE else board.margin + 0.2) - 2.8 * board.small
    )
    return _wrapped(state.caution, Label("", board.small), width, lettering)


def _caution_top(state: BoardState, board: _Board, lettering: Lettering) -> float:
    """Where the caution begins: it stands at the foot of the maths."""
    if not state.caution:
        return board.hairline - 0.2
    lines = max(2, len(_caution_lines(state, board, lettering)))
    return board.hairline - 1.2 - 1.45 * board.small * lines


def _caution(state: BoardState, board: _Board, lettering: Lettering) -> list[Drawn]:
    """The triangle and its sentence."""
    if not state.caution:
        return []
    top = _caution_top(state, board, lettering)
    left = board.text_left if board is WIDE else board.margin + 0.2
    marks: list[Mark] = list(caution_mark(left, top + 1.8 * board.small, 1.9 * board.small))
    for number, line in enumerate(_caution_lines(state, board, lettering)):
        y = top + board.small + 1.45 * board.small * number
        marks.append(Text(Label(line, board.small), left + 2.8 * board.small, y, "start"))
    return [Drawn("caution", "caution", "normal", bounds(marks, lettering), tuple(marks), state.caution)]


def _wrapped(text: str, like: Label, width: float, lettering: Lettering) -> tuple[str, ...]:
    """Words in lines no wider than `width`."""
    words, lines = text.split(), []
    while words:
        count = _first_line(words, like, width, lettering)
        lines.append(" ".join(words[:count]))
        words = words[count:]
    return tuple(lines)


def _first_line(words: Sequence[str], like: Label, width: float, lettering: Lettering) -> int:
    """How many words a line takes, one at least; guessed by letters, for each that is measured is set in type."""

    def wide(count: int) -> float:
        return lettering.extent(replace(like, content=" ".join(words[:count])))[0]

    fits, too_many = 1, len(words) + 1
    guess = len(words)
    letters = list(accumulate(len(word) + 1 for word in words))
    while too_many - fits > 1:
        measured = wide(guess)
        if measured <= width:
            fits = guess
        else:
            too_many = guess
        room = letters[guess - 1] * width / measured if measured else letters[-1]
        guess = min(max(bisect_right(letters, room), fits + 1), too_many - 1)
    return fits
