"""Where everything of a circuit stands: rows between upright rails, from measures to places.

A plan is first measured (`Block`: how much room it needs) and then placed between two rails. One rule serves every
circuit: a row puts its items side by side, a stack puts them below each other between two rails, a web takes the levels
of `picture.web`, and a closed circuit is its source over its terminals over its load.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from itertools import count as counting

from boardproof.picture.block import Block, Rule, as_row, lines_of, measured
from boardproof.picture.measure import Grade, Room
from boardproof.picture.plan import Closed, Dots, Plan, Row, Spot, Stack, Web, mirrored

__all__ = ["GroupPlace", "Layout", "Note", "Segment", "SpotPlace", "lay_out"]

SIGNS = 2.6


@dataclass(frozen=True, slots=True)
class SpotPlace:
    """A part: centre of its symbol, ends of its own wire along the row or rail, and where its labels go.

    `side` is +1 for labels above the wire and -1 for below; an upright part has them at its right. `first` and `last`
    are the nodes at its left and right (or upper and lower) end; `reach` is half of the room it keeps with its labels.
    """

    spot: Spot
    x: float
    y: float
    start: float
    end: float
    body: float
    side: int
    first: int
    last: int
    is_upright: bool = False
    reach: float = 0.0


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight piece of wire of a node, level or upright."""

    node: int
    x1: float
    y1: float
    x2: float
    y2: float
    is_dotted: bool = False


@dataclass(frozen=True, slots=True)
class GroupPlace:
    """A group between its two ports at height `y`, and all that it covers."""

    left: float
    right: float
    y: float
    top: float
    bottom: float
    forward: bool
    first: int
    last: int
    is_outermost: bool = False


@dataclass(frozen=True, slots=True)
class Note:
    """A measure line with words, from (x1, y1) to (x2, y2); or words alone at a point."""

    words: str
    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Layout:
    """A circuit's places, its left top corner at (0, 0)."""

    width: float
    height: float
    spots: tuple[SpotPlace, ...]
    segments: tuple[Segment, ...]
    groups: Mapping[str, GroupPlace]
    terminals: tuple[tuple[float, float, int], ...]
    points: tuple[tuple[str, float, float, int], ...]
    notes: tuple[Note, ...]
    numbers: tuple[tuple[str, float, float], ...]
    loose: tuple[tuple[str, float, float, float], ...]
    grade: Grade


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Things placed so far."""

    rule: Rule
    spots: list[SpotPlace] = field(default_factory=list)
    segments: list[Segment] = field(default_factory=list)
    groups: dict[str, GroupPlace] = field(default_factory=dict)
    points: list[tuple[str, float, float, int]] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    numbers: list[tuple[str, float, float]] = field(default_factory=list)
    loose: list[tuple[str, float, float, float]] = field(default_factory=list)
    nodes: Callable[[], int] = field(default_factory=lambda: counting(2).__next__)


def lay_out(
    plan: Plan,
    grade: Grade,
    rooms: Mapping[str, Room],
    widths: Mapping[str, float],
    *,
    size: float,
    area: tuple[float, float],
) -> Layout | None:
    """Place a plan in an area.

    Parameters
    ----------
    plan : Plan
        What stands where, still without measures.
    grade : Grade
        How crowded.
    rooms, widths : mapping of str to Room, to float
        Room of each part, and width of its labels side by side, by path.
    size : float
        Letter size in u.
    area : (float, float)
        Width and height to be kept, in u.

    Returns
    -------
    Layout or None
        None if it does not fit.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> from boardproof.picture.measure import GRADES
    >>> lamp = Spot("R", Part("R", "resistor"))
    >>> placed = lay_out(lamp, GRADES[0], {"R": Room(10, 4, 2, 3)}, {}, size=1.6, area=(54, 36))
    >>> [round(spot.y, 1) for spot in placed.spots]
    [4]
    """
    closed = plan if isinstance(plan, Closed) else Closed(plan, Dots(0), _path_of(plan))
    rule = Rule(grade, size, rooms, widths, area[0] - 2 * SIGNS)
    top = as_row(measured(closed.top, rule, 1, rule.limit), rule, keep=not isinstance(closed.top, Row))
    is_open = isinstance(closed.bottom, Dots)
    bottom = None if is_open else as_row(measured(closed.bottom, rule, -1, rule.limit), rule, keep=True)
    right = SIGNS + _margin(closed.top, rule)
    least = max(_outer_width(top), _outer_width(bottom) if bottom else 0.0)
    inner = max(least, min(max(0.74 * area[0], 1.1 * least), area[0] - SIGNS - right))
    ends = _heights(closed, top, bottom, grade, size)
    if inner + SIGNS + right > area[0] + 1e-6 or ends[-1] > area[1] + 1e-6:
        return None
    sheet = _Sheet(rule)
    x1, x2, y = SIGNS, SIGNS + inner, ends[0]
    terminals = _placed_circuit(sheet, closed, top, bottom, (x1, x2), ends)
    groups = {path: place for path, place in sheet.groups.items() if path}
    if closed.path:
        whole = GroupPlace(x1, x2, y, 0.0, ends[-1], closed.forward, 0, 1, is_outermost=True)
        groups.setdefault(closed.path, whole)
    return Layout(
        inner + SIGNS + right,
        ends[-1],
        tuple(sheet.spots),
        tuple(sheet.segments),
        groups,
        terminals,
        tuple(sheet.points),
        tuple(sheet.notes),
        tuple(sheet.numbers),
        tuple(sheet.loose),
        grade,
    )


def _path_of(plan: Plan) -> str:
    """Path of a plan, empty if it has none."""
    return "" if isinstance(plan, Dots) else plan.path


def _outer_width(block: Block) -> float:
    """Width between the circuit's rails, which are an outer stack's own."""
    return block.width - 2 * block.lead if isinstance(block.plan, Stack) else block.width


def _margin(plan: Plan, rule: Rule) -> float:
    """Room at the right for the words of a stack's measure line."""
    return 5.6 * rule.size if isinstance(plan, Stack) and plan.note else 0.0


def _heights(
    closed: Closed, top: Block, bottom: Block | None, grade: Grade, size: float
) -> tuple[float, float, float, float]:
    """Heights of the source's wire, of the terminals, of the load's wire, and of the foot."""
    source = top.above
    reach = source + top.below
    step = 0.75 * grade.gap
    terminal = reach + step + 0.55 * size if closed.has_terminals else reach
    if bottom is None:
        return source, terminal, terminal, terminal + 0.8 * size
    load = terminal + bottom.above + (step + 0.5 * size if closed.has_terminals else step)
    return source, terminal, load, load + bottom.below


def _placed_circuit(
    sheet: _Sheet,
    closed: Closed,
    top: Block,
    bottom: Block | None,
    between: tuple[float, float],
    heights: tuple[float, float, float, float],
) -> tuple[tuple[float, float, int], ...]:
    (x1, x2), (source, terminal, load, _) = between, heights
    _place(sheet, top, x1, x2, source, (0, 1))
    foot = load if bottom is not None else terminal
    for x, node in ((x1, 0), (x2, 1)):
        reached = max([s.y2 for s in sheet.segments if s.x1 == s.x2 == x], default=source)
        sheet.segments.append(Segment(node, x, reached, x, foot))
    if bottom is not None:
        _place(sheet, bottom, x1, x2, load, (0, 1))
    if isinstance(closed.top, Stack) and closed.top.note:
        rows = sorted({s.y for s in sheet.spots if s.y < terminal})
        sheet.notes.append(Note(closed.top.note, x2 + 1.6, rows[0], x2 + 1.6, rows[-1]))
    for path, place in list(sheet.groups.items()):
        if place.left == x1 and place.right == x2:
            sheet.groups[path] = replace(place, is_outermost=True)
    if not closed.has_terminals:
        return ()
    left, right = (x1, terminal, 0), (x2, terminal, 1)
    return (left, right) if closed.plus_right else (right, left)


def _place(sheet: _Sheet, block: Block, x1: float, x2: float, y: float, ends: tuple[int, int]) -> None:
    match block.plan:
        case Spot():
            _place_spot(sheet, block.plan, block, (x1, x2), y, ends)
        case Dots():
            sheet.segments.append(Segment(ends[0], x1, y, x2, y, is_dotted=True))
        case Row():
            _place_row(sheet, block, x1, x2, y, ends)
        case Stack():
            _place_stack(sheet, block, x1, x2, y, ends)
        case Web():
            _place_web(sheet, block, x1, x2, y, ends)
        case Closed():
            raise AssertionError("a complete circuit stands in nothing else")
    path = _path_of(block.plan)
    if path:
        forward = getattr(block.plan, "forward", True)
        sheet.groups[path] = GroupPlace(x1, x2, y, y - block.above, y + block.below, forward, *ends)


def _place_spot(
    sheet: _Sheet, spot: Spot, block: Block, between: tuple[float, float], y: float, ends: tuple[int, int]
) -> None:
    x1, x2 = between
    own = block.width - block.arrow
    # In a short row the symbol gives way to the arrow's label.
    shift = 0.2 * block.arrow if x2 - x1 < 3.8 * block.arrow else 0.0
    x = max(x1 + own / 2, min((x1 + x2) / 2 - shift, x2 - block.arrow - own / 2))
    body = sheet.rule.rooms[spot.path].body
    sheet.spots.append(SpotPlace(spot, x, y, x1, x2, body, block.side, *ends, reach=own / 2))


def _place_row(sheet: _Sheet, block: Block, x1: float, x2: float, y: float, ends: tuple[int, int]) -> None:
    if not block.kids:
        sheet.segments.append(Segment(ends[0], x1, y, x2, y))
        return
    lines = lines_of(block.kids, block.lines)
    left, right, node, height = x1, x2 - block.lead, ends[0], y
    drop = (block.below - max(kid.below for kid in block.kids)) / max(1, len(lines) - 1)
    for number, line in enumerate(lines):
        is_last = number == len(lines) - 1
        arrow = block.arrow if is_last else 0.0
        spare = (right - left - sum(kid.width for kid in line) - arrow) / len(line)
        at = left
        for place, kid in enumerate(line):
            is_end = place == len(line) - 1
            width = kid.width + spare + (arrow if is_end else 0.0)
            after = ends[1] if is_end and is_last else sheet.nodes()
            takes = is_end and not isinstance(kid.plan, Stack | Web | Dots)
            own = replace(kid, width=kid.width + arrow, arrow=arrow) if takes else kid
            _place(sheet, own, at, at + width, height, (node, after))
            node, at = after, at + width
        if not is_last:
            left = x1 + block.lead
            middle, below = height + drop / 2 + 0.3, height + drop
            sheet.segments.append(Segment(node, right, height, right, middle))
            sheet.segments.append(Segment(node, right, middle, left, middle))
            sheet.segments.append(Segment(node, left, middle, left, below))
            height = below
    if block.lead:
        sheet.segments.append(Segment(ends[1], right, height, x2, height))
        sheet.segments.append(Segment(ends[1], x2, height, x2, y))
    if isinstance(block.plan, Row) and block.plan.note:
        level = y - block.above + 0.9
        sheet.notes.append(Note(block.plan.note, x1, level, x2, level))


def _place_stack(sheet: _Sheet, block: Block, x1: float, x2: float, y: float, ends: tuple[int, int]) -> None:
    lead = 0.0 if ends == (0, 1) else block.lead
    left, right = x1 + lead, x2 - lead
    if lead:
        sheet.segments.extend((Segment(ends[0], x1, y, left, y), Segment(ends[1], right, y, x2, y)))
    numbers = block.plan.numbers if isinstance(block.plan, Stack) else ()
    height = before = y
    is_dotted = False
    for n, kid in enumerate(block.kids):
        if n:
            height += block.kids[n - 1].below + sheet.rule.grade.gap + kid.above
        if isinstance(kid.plan, Dots):
            is_dotted = True
            continue
        if n:
            for x, node in ((left, ends[0]), (right, ends[1])):
                sheet.segments.append(Segment(node, x, before, x, height, is_dotted=is_dotted))
        is_dotted, before = False, height
        _place(sheet, kid, left, right, height, ends)
        if numbers and numbers[n]:
            sheet.numbers.append((numbers[n], left, height))


def _place_web(sheet: _Sheet, block: Block, x1: float, x2: float, y: float, ends: tuple[int, int]) -> None:
    levels = block.levels
    assert levels is not None
    node = {number: ends[number] if number < 2 else sheet.nodes() for number in range(len(block.names))}
    stretch = (x2 - x1) / levels.x[1] if levels.x[1] else 1.0
    x = {number: x1 + at * stretch for number, at in levels.x.items()}
    x[1] = x2
    reach: dict[int, list[float]] = {0: [y], 1: [y]}
    foot = y
    for lane in levels.lanes:
        kid = _towards(block.kids[lane.number], sheet.rule, is_forward=lane.is_forward)
        _place(sheet, kid, x[lane.left], x[lane.right], y + lane.y, (node[lane.left], node[lane.right]))
        foot = max(foot, y + lane.y + kid.below)
        for point in (lane.left, lane.right):
            reach.setdefault(point, []).append(y + lane.y)
    for post in levels.uprights:
        kid = _towards(block.kids[post.number], sheet.rule, is_forward=post.is_downward)
        top, bottom = y + post.top, y + post.bottom
        spot = kid.plan
        assert isinstance(spot, Spot)
        body = sheet.rule.rooms[spot.path].body
        between = (node[post.above], node[post.below])
        middle = y + post.middle
        sheet.spots.append(
            SpotPlace(spot, x[post.above], middle, top, bottom, body, 1, *between, is_upright=True)
        )
        reach.setdefault(post.above, []).append(top)
        reach.setdefault(post.below, []).append(bottom)
    for n, row in enumerate(block.rows):
        height = foot + sheet.rule.grade.gap + row.above if levels.lanes or n else y
        _place(sheet, row, x1, x2, height, ends)
        reach[0].append(height)
        reach[1].append(height)
        foot = height + row.below
    for point, heights in reach.items():
        low, high = min(heights), max(heights)
        if high > low:
            sheet.segments.append(Segment(node[point], x[point], low, x[point], high))
        if " " not in block.names[point]:
            lower = any(post.below == point for post in levels.uprights)
            sheet.points.append((block.names[point], x[point], high if lower else low, node[point]))
    _place_loose(sheet, block, x1, foot)


def _place_loose(sheet: _Sheet, block: Block, x1: float, foot: float) -> None:
    """Branches that would have to cross others: below the web, between two rings with the points' letters."""
    levels = block.levels
    assert levels is not None
    for number in levels.loose:
        kid = block.kids[number]
        foot += sheet.rule.grade.gap + kid.above
        left = x1 + 3 * sheet.rule.size
        one, two = sheet.nodes(), sheet.nodes()
        right = left + kid.width + 4.0
        _place(sheet, kid, left, right, foot, (one, two))
        sheet.loose.append((_path_of(kid.plan), left, right, foot))
        foot += kid.below


def _towards(block: Block, rule: Rule, *, is_forward: bool) -> Block:
    """The block, or the same read from right to left."""
    if is_forward:
        return block
    return replace(measured(mirrored(block.plan), rule, block.side), width=block.width, arrow=block.arrow)
