"""Current arrows and measure lines of p.d.s, each put where its label has room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardproof.algebra.expression import Name
from boardproof.picture.board import Arrow
from boardproof.picture.drawing import Box, Drawn, Label, Mark, Text
from boardproof.picture.labels import FROM_STROKE, Content, box_of, equals
from boardproof.picture.layout import GroupPlace, SpotPlace
from boardproof.picture.measure import drop, is_cased, lift, symbol_reach
from boardproof.picture.sheet import Sheet
from boardproof.picture.strokes import barb, measure_line
from boardproof.picture.symbols import case_reach, foot

__all__ = ["current_arrow", "pd_line"]


@dataclass(frozen=True, slots=True)
class _Wire:
    """A straight stretch where a barb may stand; `plain` is the direction of a positive count, `side` of its labels."""

    x1: float
    y1: float
    x2: float
    y2: float
    plain: str
    side: int
    level: float


def current_arrow(sheet: Sheet, arrow: Arrow) -> list[Drawn]:
    """An arrow on a wire of the part or group in which its current flows.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    arrow : Arrow
        Its name, path and sense, and what it shows.

    Returns
    -------
    list of Drawn
        Empty if nothing of the path is seen or there is no wire for a barb.
    """
    state = sheet.state_of(arrow.path)
    size = max(0.55, min(1.0, sheet.grade.scale)) * (1.15 if state == "focus" else 1.0)
    contents = _contents(arrow)
    for number, content in enumerate(contents):
        label = Label(content, sheet.size)
        for wire in _wires(sheet, arrow.path):
            for x, y in _stands(wire, size):
                head = barb(x, y, _direction(wire.plain, arrow.sense), size)
                if not _head_is_free(sheet, x, y, size):
                    continue
                text = sheet.crowd.first_free(label, _beside(sheet, wire, x, y, size), sheet.lettering)
                if text is None:
                    continue
                if number:
                    sheet.left_out.append(Label(contents[0], sheet.size))
                sheet.crowd.strokes.append(Box(x - size, y - size * 0.7, x + size, y + size * 0.7))
                marks: list[Mark] = [head, text]
                marks += _note(sheet, arrow, wire, x, y, size)
                return [
                    sheet.thing(f"arrow:{arrow.name}", "current", marks, state, _told(arrow), arrow.readout)
                ]
    # Without an arrow the sign says the direction.
    if arrow.readout is not None and (sheet.place(arrow.path) or sheet.group(arrow.path)):
        shown = arrow.readout.shown.removeprefix("−")
        value = shown if arrow.sense > 0 else f"−{shown}"
        sheet.left_out.append(Label(equals(Name(arrow.name), value), sheet.size))
    return []


def _told(arrow: Arrow) -> str:
    """Where a current is counted; never its value or its true direction."""
    return f"current {arrow.name} in {arrow.path}"


def _contents(arrow: Arrow) -> list[Content]:
    name = Name(arrow.name)
    if arrow.readout is None:
        return [name]
    return [equals(name, arrow.readout.shown.removeprefix("−")), name]


def _direction(plain: str, sense: int) -> str:
    back = {"right": "left", "left": "right", "up": "down", "down": "up"}
    return plain if sense >= 0 else back[plain]


def _wires(sheet: Sheet, path: str) -> Iterator[_Wire]:
    """Stretches of wire that carry a path's current, best first."""
    place = sheet.place(path)
    group = sheet.group(path)
    if place is not None:
        yield from _own_wires(sheet, place)
    elif group is not None:
        yield from _group_wires(sheet, path, group)


def _own_wires(sheet: Sheet, place: SpotPlace) -> Iterator[_Wire]:
    body = place.body + (0.25 if is_cased(place.spot, sheet.grade) else 0.0)
    if place.is_upright:
        plain = "down" if place.spot.forward else "up"
        yield _Wire(place.x, place.y + body, place.x, place.end, plain, 1, 0.0)
        yield _Wire(place.x, place.start, place.x, place.y - body, plain, 1, 0.0)
        return
    plain = "right" if place.spot.forward else "left"
    level = _level(sheet, place)
    for each in (place, *_in_line(sheet, place)):
        half = each.body + (0.25 if is_cased(each.spot, sheet.grade) else 0.0)
        yield _Wire(each.x + half, each.y, each.end, each.y, plain, each.side, level)
        yield _Wire(each.start, each.y, each.x - half, each.y, plain, each.side, level)


def _in_line(sheet: Sheet, place: SpotPlace) -> list[SpotPlace]:
    """Other parts of the same row that carry the same current."""
    level = [p for p in sheet.places if not p.is_upright and abs(p.y - place.y) < 0.01]
    railed = {segment.node for segment in sheet.layout.segments}
    found = [place]
    for each in found:
        for other in level:
            shared = {each.first, each.last} & {other.first, other.last}
            if other not in found and shared - railed:
                found.append(other)
    return found[1:]


def _level(sheet: Sheet, place: SpotPlace) -> float:
    """Baseline of the labels of a part's row."""
    tall = max(
        symbol_reach(p.spot, sheet.grade, sheet.size)[1]
        for p in sheet.places
        if abs(p.y - place.y) < 0.01 and not p.is_upright
    )
    if place.side > 0:
        return place.y - lift(sheet.grade, sheet.size, tall)
    return place.y + drop(sheet.grade, sheet.size, tall)


def _group_wires(sheet: Sheet, path: str, group: GroupPlace) -> Iterator[_Wire]:
    inside = sheet.parts_of(path)
    row = [
        p for p in sheet.places if p.spot.path in inside and abs(p.y - group.y) < 0.01 and not p.is_upright
    ]
    plain = "right" if group.forward else "left"
    ends = [p for p in row if abs(p.end - group.right) < 0.01 or abs(p.start - group.left) < 0.01]
    alone = all(abs(p.y - group.y) < 0.01 for p in sheet.places if p.spot.path in inside)
    if alone and ends:
        for place in sorted(ends, key=lambda p: -p.end):
            for wire in _own_wires(sheet, place):
                yield _Wire(wire.x1, wire.y1, wire.x2, wire.y2, plain, wire.side, wire.level)
    if group.is_outermost and sheet.layout.terminals:
        down = "down" if group.forward else "up"
        back = "up" if group.forward else "down"
        foot_of = min(y for _, y, _ in sheet.layout.terminals)
        ends_at = max(s.y2 for s in sheet.layout.segments)
        rows = [p.y for p in sheet.places if p.spot.path in inside]
        if rows:
            low, high = (max(rows), foot_of) if max(rows) < foot_of else (foot_of, min(rows))
            yield _Wire(group.right, low + 0.5, group.right, high - 0.5, down, 1, 0.0)
            yield _Wire(group.left, low + 0.5, group.left, high - 0.5, back, 1, 0.0)
            yield _Wire(group.right, foot_of + 0.5, group.right, ends_at - 0.5, down, 1, 0.0)
    around = [
        s
        for s in sheet.layout.segments
        if s.y1 == s.y2 == group.y and not s.is_dotted and (s.x1 == group.left or s.x2 == group.right)
    ]
    for s in around:
        yield _Wire(s.x1, s.y1, s.x2, s.y2, plain, 1, group.y - lift(sheet.grade, sheet.size, 1.0))


def _stands(wire: _Wire, size: float) -> Iterator[tuple[float, float]]:
    """Where on a wire a barb may stand: in its middle, then towards its ends."""
    upright = wire.x1 == wire.x2
    low, high = (wire.y1, wire.y2) if upright else (wire.x1, wire.x2)
    room = high - low - 2.0 * size
    if room < 0:
        return
    for share in (0.5, 0.7, 0.3, 0.9, 0.1):
        at = low + size + share * room
        yield (wire.x1, at) if upright else (at, wire.y1)


def _head_is_free(sheet: Sheet, x: float, y: float, size: float) -> bool:
    box = Box(x - size, y - size * 0.7, x + size, y + size * 0.7)
    if any(box.grown(FROM_STROKE).meets(label) for label in sheet.crowd.labels):
        return False
    # Its own wire, level or upright, is what it stands on.
    others = (
        s
        for s in sheet.crowd.strokes
        if max(abs(s.top - y), abs(s.bottom - y)) > 0.01 and max(abs(s.left - x), abs(s.right - x)) > 0.01
    )
    near = box.grown(0.1)
    return not any(near.touches(s) for s in others)


def _beside(sheet: Sheet, wire: _Wire, x: float, y: float, size: float) -> list[tuple[float, float, str]]:
    """Places for a barb's label."""
    high = sheet.size
    if wire.x1 == wire.x2:
        heights = [y + share * high for share in (0.35, 0.1, 0.6, -0.2)]
        return [(x + 1.4, at, "start") for at in heights] + [(x - 1.4, at, "end") for at in heights]
    near_above = y - 0.62 * size - 0.55 - 0.3 * high
    near_below = y + 0.62 * size + 0.6 + 0.8 * high
    levels = [wire.level, near_above, near_below] if wire.side > 0 else [wire.level, near_below, near_above]
    shifts = (0.0, 1.0, -1.0, 2.0, -2.0)
    return [(x + dx, at, "middle") for at in levels for dx in shifts]


def _note(sheet: Sheet, arrow: Arrow, wire: _Wire, x: float, y: float, size: float) -> list[Text]:
    """State words on the other side of the wire."""
    if not arrow.note:
        return []
    label, small = Label(arrow.note, sheet.small, "italic"), sheet.small
    below, above = y + 0.62 * size + 0.7 + 0.8 * small, y - 0.62 * size - 0.7 - 0.3 * small
    levels = (below, above) if wire.side > 0 else (above, below)
    if wire.x1 == wire.x2:
        places = [(x + 1.4, y + 0.4 * small + 1.5 * sheet.size, "start"), (x - 1.4, y + 0.4 * small, "end")]
    else:
        places = [(x + dx, at, "middle") for at in levels for dx in (0.0, 1.5, -1.5)]
        places += [(x, below + 0.8 * small, "middle"), (x, above - 2.0 * sheet.size, "middle")]
    text = sheet.crowd.first_free(label, places, sheet.lettering)
    return [] if text is None else [text]


def pd_line(sheet: Sheet, arrow: Arrow) -> list[Drawn]:
    """A measure line along a part or group, an open arrow at its higher end.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    arrow : Arrow
        `path` is what the p.d. is across; `sense` is -1 if the first-named end is the lower one.

    Returns
    -------
    list of Drawn
        Empty if there is no room or nothing of the path is seen.
    """
    for content in _contents(arrow):
        label = Label(content, sheet.size)
        wide = sheet.lettering.extent(label)[0]
        for x1, x2, y, second_is_higher in _lines(sheet, arrow):
            if x2 - x1 < wide + 3.0:
                continue
            middle = (x1 + x2) / 2
            text = Text(label, middle, y + 0.33 * sheet.size)
            box = Box(x1, y - 0.8, x2, y + 0.8)
            blocked = any(box.grown(FROM_STROKE).meets(other) for other in sheet.crowd.labels)
            blocked |= any(box.grown(0.2).touches(other) for other in sheet.crowd.strokes)
            if blocked or not sheet.crowd.is_free(box_of(text, sheet.lettering)):
                continue
            gap = (middle - wide / 2 - 0.7 - x1, middle + wide / 2 + 0.7 - x1)
            marks: list[Mark] = list(
                measure_line(x1, y, x2, y, gap, "second" if second_is_higher else "first")
            )
            sheet.strike([*marks, text])
            told = f"p.d. {arrow.name} across {arrow.path}"
            state = sheet.state_of(arrow.path)
            return [sheet.thing(f"pd:{arrow.name}", "pd", [*marks, text], state, told, arrow.readout)]
    return []


def _plus_right(place: SpotPlace) -> bool:
    """Whether a positive p.d. is higher at the right: a cell's plus, or where another part's current enters."""
    return place.spot.forward == (place.spot.part.kind in {"cell", "source"})


def _lines(sheet: Sheet, arrow: Arrow) -> Iterator[tuple[float, float, float, bool]]:
    """Places for a measure line: between the terminals, or along the part."""
    place, group = sheet.place(arrow.path), sheet.group(arrow.path)
    size, grade = sheet.size, sheet.grade
    if group is not None and group.is_outermost and sheet.layout.terminals:
        (a, y, _), (b, _, _) = sheet.layout.terminals
        plus_right = b > a if place is None else _plus_right(place)
        yield min(a, b) + 1.3, max(a, b) - 1.3, y, plus_right == (arrow.sense >= 0)
    if place is not None and not place.is_upright:
        higher_right = _plus_right(place) == (arrow.sense >= 0)
        over = case_reach(grade, size)[0] if is_cased(place.spot, grade) else lift(grade, size, 1.75) + size
        under = foot(place, grade, size)
        half = max(place.body + 0.6, 3.6 * size)
        for depth in (under + 1.4, under + 2.4, under + 3.4):
            yield place.x - half, place.x + half, place.y + place.side * depth, higher_right
        for height in (over + 1.6, over + 2.6):
            yield place.x - half, place.x + half, place.y - place.side * height, higher_right
    elif group is not None:
        higher_right = group.forward == (arrow.sense >= 0)
        for y in (group.bottom + 1.2, group.bottom + 2.2, group.top - 1.0, group.top - 2.0):
            yield group.left + 0.8, group.right - 0.8, y, higher_right
