"""A group drawn as its equivalent, and a short that is only imagined."""

from __future__ import annotations

from dataclasses import replace

from boardproof.circuit.model import Part, Worth
from boardproof.picture.drawing import Drawn, Label, Mark, Outline, Text
from boardproof.picture.layout import GroupPlace, SpotPlace
from boardproof.picture.measure import body_half, is_cased, lift
from boardproof.picture.plan import Spot
from boardproof.picture.sheet import Sheet
from boardproof.picture.strokes import path_of, rounded
from boardproof.picture.symbols import case_points, foot, symbol

__all__ = ["equivalent", "held_by", "imagined_short"]

DASH = (0.5, 0.45)


def equivalent(sheet: Sheet, path: str, kind: str) -> list[Drawn]:
    """A dashed outline with the old names at its corner, and in it the one part that does the same.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    path : str
        Of the group.
    kind : {"cell", "turned cell", "resistor"}
        A turned cell for a negative EMF; a resistor where there is no EMF.

    Returns
    -------
    list of Drawn
        Empty if the group is not on the board.
    """
    group = sheet.group(path)
    if group is None:
        return []
    size, grade = sheet.size, sheet.grade
    stem = path.rpartition(".")[2] if "." not in path else path
    emf = None if kind == "resistor" else Worth(f"E_{stem}")
    part = Part(path, "cell" if emf else "resistor", emf, Worth(f"{'r' if emf else 'R'}_{stem}"))
    spot = Spot(path, part, group.forward != (kind == "turned cell"))
    labels = [Label(each, size) for each in sheet.naming.labels(path, part)]
    widths = tuple(sheet.lettering.extent(label)[0] for label in labels)
    half = body_half(spot, grade, widths, size)
    room = (group.right - group.left) / 2 - 0.5
    if half > room:
        spot = replace(spot, is_packed=True)
        half = body_half(spot, grade, widths, size)
    y = _height_of(group)
    x = (group.left + group.right) / 2
    place = SpotPlace(spot, x, y, group.left, group.right, half, 1, group.first, group.last)
    marks: list[Mark] = list(symbol(place, grade, size, zigzag=sheet.state.resistor == "zigzag"))
    sheet.strike(marks)
    cased = is_cased(spot, grade)
    level = y - lift(grade, size, 1.75 * grade.scale if emf else grade.scale)
    if cased and len(labels) == 2:
        at = case_points(half, grade)
        texts = [Text(label, x + dx, level) for label, dx in zip(labels, at, strict=True)]
    else:
        step = max(widths, default=0.0) / 2 + 0.6
        shift = (-step, step) if len(labels) == 2 else (0.0,)
        texts = [Text(label, x + dx, level) for label, dx in zip(labels, shift, strict=True)]
    outline = _outline(sheet, path, group, y)
    kept = []
    for text in texts:
        if sheet.crowd.settle([text], sheet.lettering):
            kept.append(text)
        else:
            sheet.left_out.append(text.label)
    old = tuple(f"part:{inner}" for inner in sorted(sheet.parts_of(path)))
    told = f"{path} as one {kind}"
    state = sheet.state_of(path)
    same = sheet.thing(f"same:{path}", "equivalent", [*marks, *kept], state, told, replaces=old)
    return [outline, same]


def held_by(sheet: Sheet, path: str) -> tuple[tuple[float, float], ...]:
    """Where the rest of the circuit holds the equivalent of a group: the two ends of its wire.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    path : str
        Of the group.

    Returns
    -------
    tuple of (float, float)
        Left and right; none if the group is not on the board.
    """
    group = sheet.group(path)
    if group is None:
        return ()
    y = round(_height_of(group), 3)
    return (round(group.left, 3), y), (round(group.right, 3), y)


def _height_of(group: GroupPlace) -> float:
    """Where the wire of an equivalent runs: amid an outer group, but not above its first row, where no rail is."""
    return max(group.y, (group.top + group.bottom) / 2) if group.is_outermost else group.y


def _outline(sheet: Sheet, path: str, group: GroupPlace, y: float) -> Drawn:
    """Where the group stood, with what stood there."""
    inset = 1.2 if group.is_outermost else 0.3
    left, right = group.left + inset, group.right - inset
    top, bottom = min(group.top, y - 5.0) if group.is_outermost else group.top, max(group.bottom, y + 1.5)
    names = ", ".join(sorted(sheet.parts_of(path)))
    label = Label(names if len(names) < 24 else path, sheet.small, "italic")
    marks: list[Mark] = [Outline(rounded(left, top, right, bottom), "measure", dash=DASH)]
    corners = [
        (right - 0.7, bottom - 0.3 * sheet.small - 0.6, "end"),
        (left + 0.7, bottom - 0.3 * sheet.small - 0.6, "start"),
        (left + 0.7, top + 0.8 * sheet.small + 0.6, "start"),
    ]
    sheet.strike(marks)
    text = sheet.crowd.first_free(label, corners, sheet.lettering)
    if text is not None:
        marks.append(text)
    return sheet.thing(f"replaced:{path}", "outline", marks, "replaced", f"{path} was here")


def imagined_short(sheet: Sheet, path: str) -> list[Drawn]:
    """A doubled line between two ends: only thought of.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    path : str
        What is shorted.

    Returns
    -------
    list of Drawn
        Empty if it is not on the board.
    """
    group, place = sheet.group(path), sheet.place(path)
    words = Label("imagined short", sheet.small, "italic")
    if group is not None and group.is_outermost and sheet.layout.terminals:
        (a, y, _), (b, _, _) = sheet.layout.terminals
        x1, x2 = min(a, b) + 0.5, max(a, b) - 0.5
        lines = [path_of([(x1, y + dy), (x2, y + dy)]) for dy in (-0.32, 0.32)]
        spots = [
            (x2 - 1.0, y - 0.95, "end"),
            (x1 + 1.0, y - 0.95, "start"),
            (x2 - 1.0, y + 1.0 + sheet.small, "end"),
        ]
    elif (place is not None and not place.is_upright) or group is not None:
        left, right, y, side, depth = _around(sheet, place, group)
        lines = [
            path_of(
                [
                    (left + d, y),
                    (left + d, y + side * (depth - d)),
                    (right - d, y + side * (depth - d)),
                    (right - d, y),
                ]
            )
            for d in (0.0, 0.64)
        ]
        far = y + side * depth
        below = far + 0.6 + 0.8 * sheet.small if side > 0 else far - 0.6
        spots = [((left + right) / 2, below, "middle"), (left, below, "start"), (right, below, "end")]
    else:
        return []
    marks: list[Mark] = [Outline(line, "wire") for line in lines]
    sheet.strike(marks)
    text = sheet.crowd.first_free(words, spots, sheet.lettering)
    if text is not None:
        marks.append(text)
    return [
        sheet.thing(
            f"short:{path}", "imagined short", marks, "focus", f"a short across {path}, imagined only"
        )
    ]


def _around(
    sheet: Sheet, place: SpotPlace | None, group: GroupPlace | None
) -> tuple[float, float, float, int, float]:
    """Left, right, level, side and depth of a way round a part or group."""
    if place is not None:
        half = place.body + 0.5
        left, right = max(place.start + 0.3, place.x - half), min(place.end - 0.3, place.x + half)
        return left, right, place.y, place.side, foot(place, sheet.grade, sheet.size) + 0.9
    assert group is not None
    return group.left + 0.2, group.right - 0.2, group.y, 1, group.bottom - group.y + 0.6
