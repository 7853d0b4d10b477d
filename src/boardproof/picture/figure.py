"""The circuit on the board: parts, wires, labels, arrows, and what is imagined, each thing in its state."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardproof.circuit.model import Circuit
from boardproof.picture.arrows import current_arrow, pd_line
from boardproof.picture.board import BoardState
from boardproof.picture.drawing import Box, Drawn, Label, Lettering, Mark, Outline, State, Text
from boardproof.picture.groups import equivalent, held_by, imagined_short
from boardproof.picture.labels import box_of
from boardproof.picture.layout import Segment, SpotPlace
from boardproof.picture.measure import aside, drop, is_cased, lift, symbol_reach
from boardproof.picture.notes import count_lines, key_row, loose_ends, point_letters, state_words
from boardproof.picture.plan import Plan
from boardproof.picture.sheet import Sheet, sheet_for
from boardproof.picture.stage import staged
from boardproof.picture.strokes import disc, dotted, path_of, ring, rounded
from boardproof.picture.symbols import case_points, symbol
from boardproof.picture.wiring import junctions, port_points, trimmed
from boardproof.picture.words import told_part

__all__ = ["Figure", "figure_of"]

WASH = 1.0


@dataclass(frozen=True, slots=True)
class Figure:
    """What a circuit's picture holds, back to front; all of it within `box`."""

    drawn: tuple[Drawn, ...]
    box: Box
    plan: Plan | None


def figure_of(
    state: BoardState, circuit: Circuit, lettering: Lettering, *, size: float, small: float, area: Box
) -> Figure:
    """Draw a circuit in an area of the board.

    Parameters
    ----------
    state : BoardState
        What is on the board and how it is shown.
    circuit : Circuit
        At hand.
    lettering : Lettering
        Measures labels.
    size, small : float
        Of labels and of state words, in u.
    area : Box
        Where it may stand.
    """
    made = staged(
        circuit,
        state.stage,
        lettering,
        modes=state.labels,
        default=state.default_label,
        size=size,
        area=(area.right - area.left, area.bottom - area.top),
    )
    sheet = sheet_for(state, circuit, made, lettering, size=size, small=small, area=area)
    symbols = [symbol(p, sheet.grade, size, zigzag=state.resistor == "zigzag") for p in sheet.places]
    for marks in symbols:
        sheet.strike(marks)
    over: list[Drawn] = []
    for path, kind in state.replaced:
        over += equivalent(sheet, path, kind)
    wires = _wires(sheet, [point for path, _ in state.replaced for point in held_by(sheet, path)])
    fixed = [*_terminals(sheet), *count_lines(sheet)]
    for path, how in state.imagined:
        if how == "short":
            over += imagined_short(sheet, path)
    parts = [_part(sheet, place, marks) for place, marks in zip(sheet.places, symbols, strict=True)]
    told = [*point_letters(sheet), *loose_ends(sheet)]
    for arrow in state.pds:
        over += pd_line(sheet, arrow)
    for arrow in state.arrows:
        over += current_arrow(sheet, arrow)
    drawn = [*wires, *parts, *fixed, *told, *over, *state_words(sheet), *key_row(sheet)]
    return Figure(tuple(drawn), _hull(drawn), made.plan)


def _hull(drawn: Sequence[Drawn]) -> Box:
    boxes = [each.box for each in drawn if each.marks]
    if not boxes:
        return Box(0.0, 0.0, 1.0, 1.0)
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )


def _wires(sheet: Sheet, held: Sequence[tuple[float, float]]) -> list[Drawn]:
    """Rails and whatever wire belongs to no part, node by node, with their junctions."""
    layout = sheet.layout
    ports = [point for place in sheet.places for point in port_points(place)]
    ends = [(round(x, 3), round(y, 3)) for x, y, _ in layout.terminals]
    dots = [s for s in layout.segments if s.is_dotted and s.y1 == s.y2]
    ports += [(round(x, 3), round(s.y1, 3)) for s in dots for x in (s.x1, s.x2)]
    pieces = trimmed(layout.segments, [*ports, *ends, *held])
    by_node: dict[int, list[Segment]] = defaultdict(list)
    for piece in pieces:
        by_node[piece.node].append(piece)
    meeting: dict[int, list[Outline]] = defaultdict(list)
    scale = max(0.6, min(1.0, sheet.grade.scale))
    for x, y, node in junctions([p for p in pieces if not (p.is_dotted and p.y1 == p.y2)], sheet.places):
        meeting[node].append(disc(x, y, 0.34 * scale))
    names: dict[int, list[str]] = defaultdict(list)
    for place in sheet.places:
        for node, end in ((place.first, "a"), (place.last, "b")):
            names[node].append(f"{place.spot.path}.{end if place.spot.forward else 'ba'['ab'.index(end)]}")
    found = []
    for node, run in by_node.items():
        solid = [p for p in run if not p.is_dotted]
        path = "".join(path_of([(p.x1, p.y1), (p.x2, p.y2)]) for p in _joined(solid))
        marks: list[Mark] = [Outline(path, "wire")] if path else []
        marks += [dotted(p.x1, p.y1, p.x2, p.y2) for p in run if p.is_dotted]
        for piece in run:
            sheet.crowd.strokes.append(_box(piece))
        marks += meeting.pop(node, [])
        found.append(
            sheet.thing("net:" + "+".join(sorted(names[node])), "wire", marks, _net_state(sheet, run))
        )
    for node, discs in meeting.items():
        found.append(sheet.thing("net:" + "+".join(sorted(names[node])), "junction", discs))
    for each in found:
        sheet.strike(m for m in each.marks if isinstance(m, Outline) and m.role == "solid")
    return found


def _net_state(sheet: Sheet, run: Sequence[Segment]) -> State:
    """A wire is dimmed with the parts that it joins, if all of them are."""
    node = run[0].node
    states = {sheet.state_of(p.spot.path) for p in sheet.places if node in (p.first, p.last)}
    return "dimmed" if states == {"dimmed"} else "normal"


def _joined(pieces: Sequence[Segment]) -> list[Segment]:
    """Pieces in one line made one, so that no stroke is broken where nothing breaks it."""
    upright: dict[tuple[bool, float], list[tuple[float, float]]] = defaultdict(list)
    for p in pieces:
        is_up = p.x1 == p.x2
        low, high = sorted((p.y1, p.y2) if is_up else (p.x1, p.x2))
        upright[is_up, p.x1 if is_up else p.y1].append((low, high))
    found = []
    for (is_up, at), runs in upright.items():
        runs.sort()
        low, high = runs[0]
        for a, b in [*runs[1:], (float("inf"), 0.0)]:
            if a > high + 1e-6:
                found.append(Segment(0, at, low, at, high) if is_up else Segment(0, low, at, high, at))
                low, high = a, b
            high = max(high, b)
    return found


def _box(piece: Segment) -> Box:
    return Box(
        min(piece.x1, piece.x2), min(piece.y1, piece.y2), max(piece.x1, piece.x2), max(piece.y1, piece.y2)
    )


def _part(sheet: Sheet, place: SpotPlace, marks: tuple[Mark, ...]) -> Drawn:
    spot = place.spot
    is_told = sheet.grade.labels != "none" and spot.is_labelled and "removed" not in spot.changes
    texts = _label_texts(sheet, place) if is_told else []
    kept: list[Text] = []
    letters = sheet.naming.labels(spot.path, spot.part, "letters")
    if "without emf" in spot.changes and len(texts) > 1:
        texts, letters = texts[1:], letters[1:]
    for text, letter in zip(texts, letters, strict=False):
        # Where the whole label has no room its letter may have; the whole then stands in the key.
        for content in (text.label.content, letter):
            trial = replace(text, label=replace(text.label, content=content))
            if sheet.crowd.settle([trial], sheet.lettering):
                kept.append(trial)
                break
        if not kept or kept[-1].label != text.label:
            sheet.left_out.append(text.label)
    state = sheet.state_of(spot.path)
    whole: list[Mark] = [*marks, *kept]
    if state == "focus" and not is_cased(spot, sheet.grade):
        whole.insert(0, _wash(sheet, place, kept))
    told = told_part(spot.part, sheet.circuit.values, spot.changes)
    return sheet.thing(f"part:{spot.path}", spot.part.kind, whole, state, told)


def _wash(sheet: Sheet, place: SpotPlace, texts: Sequence[Text]) -> Outline:
    """The wash behind a body and its labels."""
    half, high = symbol_reach(place.spot, sheet.grade, sheet.size)
    a, b = (high, half) if place.is_upright else (half, high)
    boxes = [Box(place.x - a, place.y - b, place.x + a, place.y + b)]
    boxes += [box_of(text, sheet.lettering) for text in texts]
    left, right = min(x.left for x in boxes), max(x.right for x in boxes)
    top, bottom = min(x.top for x in boxes), max(x.bottom for x in boxes)
    return Outline(rounded(left - WASH, top - WASH, right + WASH, bottom + WASH), "wash", "lamp")


def _label_texts(sheet: Sheet, place: SpotPlace) -> list[Text]:
    """A part's labels at the places kept for them."""
    grade, size, spot = sheet.grade, sheet.size, place.spot
    short = grade.labels == "short"
    labels = [Label(each, size) for each in sheet.naming.labels(spot.path, spot.part, short=short)]
    height = symbol_reach(spot, grade, size)[1]
    if place.is_upright:
        x = place.x + max(2.0 * grade.scale, height + 0.7)
        first = place.y + 0.35 * size - 0.8 * size * (len(labels) - 1)
        return [Text(label, x, first + 1.6 * size * n, "start") for n, label in enumerate(labels)]
    tall = max(
        symbol_reach(p.spot, grade, size)[1]
        for p in sheet.places
        if abs(p.y - place.y) < 0.01 and not p.is_upright
    )
    above = place.y - lift(grade, size, tall) if place.side > 0 else place.y + drop(grade, size, tall)
    below = place.y + drop(grade, size, tall) if place.side > 0 else place.y - lift(grade, size, tall)
    if is_cased(spot, grade) and grade.case == "wide":
        plates, inner = case_points(place.body, grade)
        at = [place.x + plates, place.x + inner]
        if len(labels) == 1:
            return [Text(labels[0], place.x, above)]
        return [Text(label, x, above) for label, x in zip(labels, at, strict=False)]
    if grade.beside:
        half = aside(spot, grade, size)
        spots: list[tuple[float, str]] = [(place.x + half, "start"), (place.x - half, "end")]
        return [
            Text(label, x, above, "start" if anchor == "start" else "end")
            for label, (x, anchor) in zip(labels[::-1] if len(labels) > 1 else labels, spots, strict=False)
        ]
    if len(labels) == 1:
        return [Text(labels[0], place.x, above)]
    return [Text(label, place.x, y) for label, y in zip(labels, sorted((above, below)), strict=False)]


def _terminals(sheet: Sheet) -> list[Drawn]:
    """Rings on the rails, with minus and plus outside; plain rings where there is no cell."""
    if not sheet.layout.terminals:
        return []
    marks: list[Mark] = []
    left = min(x for x, _, _ in sheet.layout.terminals)
    for (x, y, _), sign in zip(sheet.layout.terminals, "−+", strict=True):
        marks.append(ring(x, y, 0.48 * max(0.7, sheet.grade.scale)))
        out = -1.6 if x == left else 1.6
        arms = [[(x + out - 0.55, y), (x + out + 0.55, y)], [(x + out, y - 0.55), (x + out, y + 0.55)]]
        marks += [Outline(path_of(arm), "measure") for arm in arms[: 1 + (sign == "+")]]
    sheet.strike(marks)
    return [sheet.thing("terminals", "terminal", marks, alternative="terminals, minus and plus")]
