"""Words and letters about a circuit: counts of copies, letters of points, state words, and the key below the figure."""

from __future__ import annotations

from boardproof.algebra.expression import Name
from boardproof.picture.drawing import Drawn, Label, Mark, Text
from boardproof.picture.labels import box_of
from boardproof.picture.layout import Note, SpotPlace
from boardproof.picture.measure import is_cased, symbol_reach
from boardproof.picture.plan import Plan
from boardproof.picture.sheet import Sheet
from boardproof.picture.strokes import measure_line, ring
from boardproof.picture.symbols import case_reach, foot

__all__ = ["count_lines", "key_row", "loose_ends", "point_letters", "state_words"]

STATE_WORDS = {"turned": "turned round", "removed": "taken away", "without emf": "EMF taken out"}


def count_lines(sheet: Sheet) -> list[Drawn]:
    """Measure lines that count copies, and the rows' numbers.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    """
    found = [_measure(sheet, note, f"words:count{n}") for n, note in enumerate(sheet.layout.notes)]
    for number, x, y in sheet.layout.numbers:
        mark = Text(Label(number, sheet.small, "italic"), x - 1.0, y + 0.33 * sheet.small, "end")
        sheet.strike([mark])
        found.append(sheet.thing(f"words:row{number}", "words", [mark], alternative=f"row {number}"))
    if sheet.grade.labels == "none":
        page, words = sheet.crowd.page, "Too many parts for their names on this board."
        y = page.bottom - 0.4 * sheet.small
        mark = Text(Label(words, sheet.small, "italic"), page.left + 1.0, y, "start")
        if sheet.crowd.settle([mark], sheet.lettering):
            found.append(sheet.thing("words:crowded", "words", [mark], alternative=words))
    return found


def _measure(sheet: Sheet, note: Note, name: str) -> Drawn:
    size = sheet.size
    if note.x1 == note.x2:
        lines = note.words.replace(" in parallel", "\nin parallel").replace(", ", ",\n").split("\n")
        first = (note.y1 + note.y2) / 2 - 0.7 * size * (len(lines) - 1) + 0.3 * size
        texts = [
            text
            for n, line in enumerate(lines)
            for text in _worded(
                sheet, line, note.x1 + 1.3, first + 1.4 * size * n, 0.9 * size if size < 2 else sheet.small
            )
        ]
        gap = (note.y2 - note.y1, note.y2 - note.y1)
    else:
        wide = max(box_of(text, sheet.lettering).right for text in _worded(sheet, note.words, 0.0, 0.0, size))
        start = (note.x1 + note.x2 - wide) / 2
        texts = _worded(sheet, note.words, start, note.y1 + 0.33 * size, size)
        gap = (start - 0.7 - note.x1, start + wide + 0.7 - note.x1)
    marks: list[Mark] = [*measure_line(note.x1, note.y1, note.x2, note.y2, gap), *texts]
    sheet.strike(marks)
    return sheet.thing(name, "measure", marks, alternative=note.words)


def _worded(sheet: Sheet, words: str, x: float, y: float, size: float) -> list[Text]:
    """Words from `x` on; a letter that leads them is a quantity."""
    letter, _, rest = words.partition(" ")
    if not (letter.isalpha() and len(letter) == 1 and rest):
        return [Text(Label(words, size), x, y, "start")]
    head = Text(Label(Name(letter), size), x, y, "start")
    return [head, Text(Label(rest, size), box_of(head, sheet.lettering).right + 0.3 * size, y, "start")]


def point_letters(sheet: Sheet) -> list[Drawn]:
    """Letters of a network's points, quiet, beside the rail.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    """
    found = []
    seen = {node for place in sheet.places for node in (place.first, place.last)}
    for name, x, y, node in sheet.layout.points:
        if node not in seen:
            continue
        label = Label(name, sheet.size, "italic")
        d = 1.0
        places = [
            (x, y - d, "middle"), (x, y + d + 0.7 * sheet.size, "middle"),
            (x - d, y - 0.8, "end"), (x + d, y - 0.8, "start"),
            (x - d, y + 0.3 * sheet.size, "end"), (x + d, y + 0.3 * sheet.size, "start"),
            (x - d, y + 0.8 + 0.7 * sheet.size, "end"), (x + d, y + 0.8 + 0.7 * sheet.size, "start"),
        ]  # fmt: skip
        text = sheet.crowd.first_free(label, places, sheet.lettering)
        if text is not None:
            found.append(sheet.thing(f"point:{name}", "words", [text], alternative=f"point {name}"))
    return found


def loose_ends(sheet: Sheet) -> list[Drawn]:
    """Ends of branches that would have to cross others: rings that bear the letter of the point they belong to.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    """
    found = []
    joins = {getattr(branch, "path", ""): (a, b) for web in _webs(sheet.plan) for branch, a, b in web}
    for path, left, right, y in sheet.layout.loose:
        first, last = joins.get(path, ("", ""))
        marks: list[Mark] = []
        for x, name, anchor in ((left, first, "end"), (right, last, "start")):
            out = -0.9 if anchor == "end" else 0.9
            text = Text(
                Label(name, sheet.size, "italic"),
                x + out,
                y + 0.3 * sheet.size,
                "end" if out < 0 else "start",
            )
            marks += [ring(x, y), text]
        sheet.strike(marks)
        found.append(
            sheet.thing(
                f"words:joined {path}", "terminal", marks, alternative=f"{path} joins {first} and {last}"
            )
        )
    return found


def _webs(plan: Plan) -> list[tuple[tuple[Plan, str, str], ...]]:
    inner = [getattr(plan, name) for name in ("top", "bottom") if hasattr(plan, name)]
    branches = getattr(plan, "branches", ())
    inner += [*getattr(plan, "items", ()), *(each for each, _, _ in branches)]
    return [*([branches] if branches else []), *(web for each in inner for web in _webs(each))]


def state_words(sheet: Sheet) -> list[Drawn]:
    """Words under parts: turned round, idle, and the like.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    """
    told: dict[str, list[str]] = {}
    changes = [(place.spot.path, how) for place in sheet.places for how in place.spot.changes]
    states = [(path, STATE_WORDS[how]) for path, how in changes if how in STATE_WORDS]
    for path, words in (*sheet.state.notes, *states):
        told.setdefault(path, []).append(words)
    found = []
    for number, (path, many) in enumerate(told.items()):
        words = ", ".join(dict.fromkeys(many))
        spot = sheet.place(path)
        if spot is None:
            continue
        label = Label(words, sheet.small, "italic")
        text = sheet.crowd.first_free(label, _under(sheet, spot), sheet.lettering)
        if text is not None:
            found.append(sheet.thing(f"words:{path}:{number}", "words", [text], sheet.state_of(path), words))
    return found


def _under(sheet: Sheet, place: SpotPlace) -> list[tuple[float, float, str]]:
    """Places for words about a part, nearest first."""
    grade, small = sheet.grade, sheet.small
    if place.is_upright:
        x = place.x + symbol_reach(place.spot, grade, sheet.size)[1] + 0.8
        return [(x, place.y + dy, "start") for dy in (2.6, 3.4, -2.2, -3.0, 4.2)]
    depth = foot(place, grade, sheet.size) + 0.65
    away = place.y + place.side * depth
    near = away + 0.75 * small if place.side > 0 else away - 0.3 * small
    reach = case_reach(grade, sheet.size)[0] if is_cased(place.spot, grade) else depth
    over = place.y - place.side * reach
    shifts = (0.0, -3.0, 3.0, -6.0, 6.0)
    heights = (near, near + place.side * 0.8, near + place.side * 1.6 * sheet.size)
    return [(place.x + dx, y, "middle") for y in heights for dx in shifts] + [
        (place.x, over - place.side * 0.6, "middle"),
        (place.x, over - place.side * 2.0 * sheet.size, "middle"),
    ]


def key_row(sheet: Sheet) -> list[Drawn]:
    """What found no place in the figure stands in a row at its foot.

    Parameters
    ----------
    sheet : Sheet
        The picture so far; what is drawn is booked on it.
    """
    found = []
    x, y = sheet.crowd.page.left, sheet.crowd.page.bottom - 0.4 * sheet.size
    for number, label in enumerate(sheet.left_out):
        wide = sheet.lettering.extent(label)[0]
        text = Text(label, x, y, "start")
        if sheet.crowd.settle([text], sheet.lettering):
            found.append(sheet.thing(f"words:key{number}", "words", [text]))
        x += wide + 2.0
    return found
