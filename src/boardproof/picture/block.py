"""How much room each piece of a circuit needs, before anything has a place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from boardproof.picture.measure import Grade, Room
from boardproof.picture.plan import Closed, Dots, Plan, Row, Spot, Stack, Web, mirrored
from boardproof.picture.web import Extent, Levels, levels_of

__all__ = ["Block", "Rule", "as_row", "lines_of", "measured"]

UPRIGHT = {"resistor", "switch", "ammeter", "voltmeter", "wire", "capacitor", "lamp", "diode"}


@dataclass(frozen=True, slots=True)
class Block:
    """A measured plan: width, reach above and below its wire, room kept at its right for a current arrow.

    `lines` are the numbers of items in each line of a row that was wrapped; `levels`, the points' `names` and the
    `rows` below it belong to a web.
    """

    plan: Plan
    width: float
    above: float
    below: float
    side: int
    kids: tuple[Block, ...] = ()
    arrow: float = 0.0
    lead: float = 0.0
    lines: tuple[int, ...] = ()
    levels: Levels | None = None
    names: tuple[str, ...] = ()
    rows: tuple[Block, ...] = ()


@dataclass(frozen=True, slots=True)
class Rule:
    """What measuring needs to know: grade, letter size, room of each part by path, width of upright parts' labels."""

    grade: Grade
    size: float
    rooms: Mapping[str, Room]
    widths: Mapping[str, float]
    limit: float


def as_row(block: Block, rule: Rule, *, keep: bool) -> Block:
    """A row of a stack, a web or a circuit keeps room for a current arrow at its end.

    Parameters
    ----------
    block : Block
        The row, measured.
    rule : Rule
        Sizes that hold for the whole picture.
    keep : bool
        False where no arrow will stand.
    """
    if isinstance(block.plan, Stack | Web | Closed | Dots) or not keep or not rule.grade.arrow:
        return block
    arrow = rule.grade.arrow * rule.size
    return replace(block, width=block.width + arrow, arrow=arrow)


def measured(plan: Plan, rule: Rule, side: int, limit: float = float("inf")) -> Block:
    """Room of a plan.

    Parameters
    ----------
    plan : Plan
        What stands where, still without measures.
    rule : Rule
        Sizes that hold for the whole picture.
    side : +1 or -1
        Labels above or below.
    limit : float
        Width beyond which a row is wrapped, if the grade wraps rows.

    Examples
    --------
    >>> from boardproof.circuit.model import Part
    >>> from boardproof.picture.measure import GRADES
    >>> rule = Rule(GRADES[0], 1.6, {"R": Room(10, 4, 2, 3)}, {}, 40)
    >>> block = measured(Row((Spot("R", Part("R", "resistor")), Dots(2))), rule, 1)
    >>> block.width, block.above
    (18.0, 4.0)
    """
    match plan:
        case Spot():
            room = rule.rooms[plan.path]
            above, below = (room.above, room.below) if side > 0 else (room.below, room.above)
            return Block(plan, room.width, above, below, side)
        case Dots():
            reach = 0.6 * rule.grade.scale
            return Block(plan, 8.0 * rule.grade.scale, reach, reach, side)
        case Row():
            return _measured_row(plan, rule, side, limit)
        case Stack():
            return _measured_stack(plan, rule, side)
        case Web():
            return _measured_web(plan, rule)
        case Closed():
            return measured(plan.top, rule, side, limit)


def _measured_row(plan: Row, rule: Rule, side: int, limit: float) -> Block:
    kids = tuple(measured(each, rule, side) for each in plan.items)
    width = sum(kid.width for kid in kids)
    above, below = max(kid.above for kid in kids), max(kid.below for kid in kids)
    head = 2.2 * rule.size if plan.note else 0.0
    if width <= limit or not rule.grade.wraps:
        return Block(plan, width, above + head, below, side, kids, lines=(len(kids),))
    lines = _split(tuple(kid.width for kid in kids), limit - 2 * _turn(rule))
    longest = max(sum(kid.width for kid in line) for line in lines_of(kids, lines))
    tall = below + (len(lines) - 1) * (above + below + rule.grade.gap + _turn(rule))
    return Block(plan, longest + 2 * _turn(rule), above, tall, side, kids, lead=_turn(rule), lines=lines)


def _turn(rule: Rule) -> float:
    """Room for the wire that leads from one line of a row to the next."""
    return 1.6 * rule.grade.scale


def _split(widths: tuple[float, ...], limit: float) -> tuple[int, ...]:
    """Numbers of items a line, as even as they come."""
    for lines in range(2, len(widths) + 1):
        fair, more = divmod(len(widths), lines)
        counts = tuple(fair + (n < more) for n in range(lines))
        at, fits = 0, True
        for number in counts:
            fits = fits and sum(widths[at : at + number]) <= limit
            at += number
        if fits:
            return counts
    return (1,) * len(widths)


def lines_of(kids: tuple[Block, ...], lines: tuple[int, ...]) -> list[tuple[Block, ...]]:
    """A row's items line by line.

    Parameters
    ----------
    kids : tuple of Block
        The row's items, left to right.
    lines : tuple of int
        How many in each line.

    Examples
    --------
    >>> lines_of(("a", "b", "c"), (2, 1))
    [('a', 'b'), ('c',)]
    """
    found, at = [], 0
    for number in lines:
        found.append(kids[at : at + number])
        at += number
    return found


def _measured_stack(plan: Stack, rule: Rule, side: int) -> Block:
    limit = rule.limit
    kids = tuple(as_row(measured(each, rule, side, limit), rule, keep=True) for each in plan.items)
    lead = 1.5 * rule.grade.scale
    below = kids[0].below
    for kid in kids[1:]:
        below += rule.grade.gap + kid.above + kid.below
    return Block(plan, max(kid.width for kid in kids) + 2 * lead, kids[0].above, below, side, kids, lead=lead)


def _measured_web(plan: Web, rule: Rule) -> Block:
    """Branches with the same ends become one stack; what joins the outer ends stands below the rest."""
    names = {plan.left: 0, plan.right: 1}
    bundles: dict[tuple[int, int], list[Plan]] = {}
    for branch, a, b in plan.branches:
        first, second = (names.setdefault(name, len(names)) for name in (a, b))
        if first == second:
            # Both ends at one point: a loop of wire through two points of its own.
            one, two = len(names), len(names) + 1
            names[f"{a} {one}"], names[f"{a} {two}"] = one, two
            bundles[first, one] = [branch]
            bundles[one, two] = [Row(())]
            bundles[two, first] = [Row(())]
            continue
        backwards = (second, first) in bundles
        key = (second, first) if backwards else (first, second)
        bundles.setdefault(key, []).append(mirrored(branch) if backwards else branch)
    joined: list[tuple[tuple[int, int], Plan]] = [
        (key, many[0] if len(many) == 1 else Stack(tuple(many))) for key, many in bundles.items()
    ]
    inner = [(key, each) for key, each in joined if set(key) != {0, 1}]
    outer = [each if key == (0, 1) else mirrored(each) for key, each in joined if set(key) == {0, 1}]
    blocks = [_branch_block(each, rule, 1) for _, each in inner]
    keys = [key for key, _ in inner]
    levels = levels_of(len(names), keys, [_extent(block, rule) for block in blocks], rule.grade.gap)
    # Single parts at the foot have their labels below: that leaves more room for what stands upright on them.
    for lane in levels.lanes:
        each = inner[lane.number][1]
        is_bare = isinstance(each, Spot) and each.part.kind != "cell"
        if lane.is_lowest and lane.y > 0 and not outer and is_bare:
            blocks[lane.number] = _branch_block(each, rule, -1)
    levels = levels_of(len(names), keys, [_extent(block, rule) for block in blocks], rule.grade.gap)
    rows = [_branch_block(each, rule, 1) for each in outer]
    return _web_block(plan, tuple(names), levels, blocks, rows, rule)


def _branch_block(plan: Plan, rule: Rule, side: int) -> Block:
    if isinstance(plan, Row) and not plan.items:
        return Block(plan, 2.0, 0.2, 0.2, side)
    return as_row(measured(plan, rule, side), rule, keep=rule.grade.case == "wide")


def _extent(block: Block, rule: Rule) -> Extent:
    grade = rule.grade
    if not isinstance(block.plan, Spot) or block.plan.part.kind not in UPRIGHT:
        return Extent(block.width, block.above, block.below)
    body = rule.rooms[block.plan.path].body
    length = 2 * body + 1.4 + (2.75 * rule.size if grade.arrow else 0.0)
    beside = (
        2.0 * grade.scale + max(rule.widths.get(block.plan.path, 0.0), grade.arrow * rule.size * 0.8) + 0.9
    )
    return Extent(block.width, block.above, block.below, (length, max(beside, 3.0 * grade.scale)))


def _web_block(
    web: Web, names: tuple[str, ...], levels: Levels, blocks: list[Block], rows: list[Block], rule: Rule
) -> Block:
    width = max([levels.x[1], *(row.width for row in rows)])
    lanes = levels.lanes
    above = max([blocks[lane.number].above - lane.y for lane in lanes] or [rows[0].above if rows else 0.5])
    below = max([lane.y + blocks[lane.number].below for lane in lanes] or [0.0])
    for n, row in enumerate(rows):
        below += row.below if n == 0 and not lanes else rule.grade.gap + row.above + row.below
    loose = [blocks[n] for n in levels.loose]
    for block in loose:
        below += rule.grade.gap + block.above + block.below
        width = max(width, block.width + 8 * rule.size)
    return Block(web, width, above, below, 1, tuple(blocks), levels=levels, names=names, rows=tuple(rows))
