"""What a board looks like on its way into the next one, worked out from the two frames alone.

The same id is the same thing: it moves, dims or comes into focus. What is new is drawn on stroke by stroke, a line of
maths is uncovered from left to right; what is replaced dims, closes up along its row, and its equivalent comes; a
turned cell makes a half-turn in the plane while its letters stay upright. With reduced motion every change is a short
cross-fade. Times are those of the look: parts dim before anything lights up, and nothing takes longer than 750 ms.

A `Transition` is plain numbers, so a page can be given it as data; `layers_at` is what such a page does with it.
"""

from __future__ import annotations

from typing import Final, Literal

from boardproof.picture.drawing import Box, Drawn, Frame, Outline, Text
from boardproof.picture.unhurried import eased
from boardproof.record import record

__all__ = ["Change", "Layer", "Transition", "layers_at", "transition"]

What = Literal["fade", "shift", "squeeze", "turn", "uncover", "strokes"]
FADE: Final = 240
REDUCED: Final = 120
RESTATE: Final = 200
TURN: Final = 500
UNCOVER: Final = 320
STROKES: Final = 350
SHORT: Final = 400
CLOSE_UP: Final = (200, 350, 150)  # dim, close up, the equivalent comes
MOST: Final = 750
PALE: Final = 0.45
STILL_PLATES: Final = 0.05  # u: from here on a plate stands somewhere else


@record
class Change:
    """One number or a few that go from one value to another.

    Parameters
    ----------
    id : str
        Of the thing drawn.
    of : {"old", "new"}
        Which frame's drawing of it.
    what : {"fade", "shift", "squeeze", "turn", "uncover", "strokes"}
        Opacity; a way in u; two factors about a point (the last two numbers); degrees about a point; the share
        uncovered from the left; the share of each stroke that is drawn.
    begin, ms : int
        When it begins, and how long it takes.
    start, end : tuple of float
        Its values before and after.
    marks : {"all", "plates", "rest"}
        What of the thing changes: all of it, a cell's plates, or all but those.
    """

    id: str
    of: Literal["old", "new"]
    what: What
    begin: int
    ms: int
    start: tuple[float, ...]
    end: tuple[float, ...]
    marks: Literal["all", "plates", "rest"] = "all"

    def at(self, milliseconds: float) -> tuple[float, ...]:
        """Its values at a time.

        Parameters
        ----------
        milliseconds : float
            From the beginning of the transition.
        """
        share = min(1.0, max(0.0, (milliseconds - self.begin) / self.ms)) if self.ms else 1.0
        if self.what in {"shift", "squeeze", "turn"}:
            share = eased(share)
        return tuple(a + (b - a) * share for a, b in zip(self.start, self.end, strict=True))


@record
class Transition:
    """All changes between two boards, and how long they take together."""

    ms: int
    changes: tuple[Change, ...]


@record
class Layer:
    """A thing as it is drawn at one instant.

    Parameters
    ----------
    drawn : Drawn
        The old frame's drawing or the new one's.
    of : {"old", "new"}
        Which.
    values : tuple of (marks, what, numbers)
        What is different from its place at rest.
    """

    drawn: Drawn
    of: Literal["old", "new"]
    values: tuple[tuple[str, What, tuple[float, ...]], ...] = ()

    @property
    def opacity(self) -> float:
        """Of the whole thing, from 0 to 1."""
        return min((n[0] for marks, what, n in self.values if what == "fade" and marks == "all"), default=1.0)


def transition(old: Frame, new: Frame, *, reduced: bool = False, speed: float = 1.0) -> Transition:
    """The changes between two boards of one shape.

    Parameters
    ----------
    old, new : Frame
        Before and after.
    reduced : bool
        Cross-fades only, for whoever asked for reduced motion.
    speed : float
        Above 0; 2 is twice as quick.

    Examples
    --------
    >>> from boardproof.picture.drawing import Text, Label
    >>> line = Drawn("line:a", "line", "normal", Box(0, 0, 9, 2), ())
    >>> made = transition(Frame("1", "wide", 96, 54, ()), Frame("2", "wide", 96, 54, (line,)))
    >>> [(each.what, each.ms) for each in made.changes]
    [('uncover', 320)]
    """
    before = {each.id: each for each in old.drawn if each.state != "hidden"}
    after = {each.id: each for each in new.drawn if each.state != "hidden"}
    found: list[Change] = []
    if reduced or _scene(old) != _scene(new):
        found = _crossed(before, after, REDUCED if reduced else FADE)
    else:
        found = _by_identity(before, after)
    made = tuple(_quicker(each, speed) for each in found)
    return Transition(max((each.begin + each.ms for each in made), default=0), made)


def layers_at(old: Frame, new: Frame, way: Transition, t: float) -> tuple[Layer, ...]:
    """The drawing at a share of the way, back to front.

    Parameters
    ----------
    old, new : Frame
        Before and after.
    way : Transition
        Between them.
    t : float
        From 0 to 1; at 0 the old board, at 1 the new one.
    """
    if t <= 0 or t >= 1:
        whole = old if t <= 0 else new
        side: Literal["old", "new"] = "old" if t <= 0 else "new"
        return tuple(Layer(each, side) for each in whole.drawn if each.state != "hidden")
    changing: dict[tuple[str, str], list[Change]] = {}
    for each in way.changes:
        changing.setdefault((each.id, each.of), []).append(each)
    sides: tuple[tuple[Literal["old", "new"], Frame], ...] = (("old", old), ("new", new))
    found = [
        Layer(each, of, tuple((c.marks, c.what, c.at(t * way.ms)) for c in changing.get((each.id, of), ())))
        for of, frame in sides
        for each in frame.drawn
        if each.state != "hidden" and (of == "new" or (each.id, "old") in changing)
    ]
    return tuple(each for each in found if each.opacity > 0)


def _by_identity(before: dict[str, Drawn], after: dict[str, Drawn]) -> list[Change]:
    """What leaves goes first, then what stays moves, then what is new comes: nothing crosses on its way."""
    closing = {name: each for each in after.values() for name in each.replaces if name in before}
    both = [name for name in before if name in after and before[name] != after[name]]
    gone = [name for name in before if name not in after and name not in closing]
    dims = RESTATE if any(_dims(before[name], after[name]) for name in both) else 0
    moves = any(_way(before[name], after[name]) for name in both)
    clear = RESTATE if gone and moves else 0
    step = STROKES if not clear else MOST - clear - UNCOVER
    found = [change for name, into in closing.items() for change in _closes_up(before[name], into)]
    found += [Change(name, "old", "fade", 0, RESTATE, (1.0,), (0.0,)) for name in gone]
    for name in both:
        found += _changes(before[name], after[name], dims, (clear, step))
    late = sum(CLOSE_UP[:2]) if closing else clear + step if moves else dims
    for name, each in after.items():
        if name not in before:
            found += _appears(each, late)
    return found


def _scene(frame: Frame) -> str:
    return next((each.alternative for each in frame.drawn if each.id == "words:scene"), "")


def _crossed(before: dict[str, Drawn], after: dict[str, Drawn], ms: int) -> list[Change]:
    gone = [name for name in before if before[name] != after.get(name)]
    come = [name for name in after if after[name] != before.get(name)]
    return [Change(name, "old", "fade", 0, ms, (1.0,), (0.0,)) for name in gone] + [
        Change(name, "new", "fade", 0, ms, (0.0,), (1.0,)) for name in come
    ]


def _dims(old: Drawn, new: Drawn) -> bool:
    return old.state != "dimmed" and new.state == "dimmed"


def _closes_up(old: Drawn, into: Drawn) -> list[Change]:
    """A part on its way into its equivalent: pale, then along its row, then away."""
    dim, close, come = CLOSE_UP
    x, y = _middle(into.box)
    across = (into.box.right - into.box.left) / max(old.box.right - old.box.left, 1.0)
    return [
        Change(old.id, "old", "fade", 0, dim, (1.0,), (PALE,)),
        Change(old.id, "old", "shift", dim, close, (0.0, 0.0), (0.0, y - _middle(old.box)[1])),
        Change(old.id, "old", "squeeze", dim, close, (1.0, 1.0, x, y), (min(1.0, across), 0.4, x, y)),
        Change(old.id, "old", "fade", dim + close, come, (1.0,), (0.0,)),
    ]


def _changes(old: Drawn, new: Drawn, dims: int, move: tuple[int, int]) -> list[Change]:
    """A thing that stays: turned round, moved, or in another state."""
    turn = _turned(old, new)
    if turn is not None:
        return [
            Change(new.id, "old", "fade", 0, 0, (1.0,), (0.0,), "plates"),
            Change(new.id, "old", "fade", 0, TURN, (1.0,), (0.0,), "rest"),
            Change(new.id, "new", "fade", 0, TURN, (0.0,), (1.0,), "rest"),
            Change(new.id, "new", "turn", 0, TURN, (180.0, *turn), (0.0, *turn), "plates"),
        ]
    begin = dims if new.state == "focus" and old.state != "focus" else 0
    fades = [
        Change(new.id, "old", "fade", begin, RESTATE, (1.0,), (0.0,)),
        Change(new.id, "new", "fade", begin, RESTATE, (0.0,), (1.0,)),
    ]
    way = _way(old, new)
    if way is None:
        return fades
    back = Change(new.id, "new", "shift", *move, (-way[0], -way[1]), (0.0, 0.0))
    if old.state == new.state:
        return [Change(new.id, "old", "fade", 0, 0, (1.0,), (0.0,)), back]
    return [*fades, back, Change(new.id, "old", "shift", *move, (0.0, 0.0), way)]


def _way(old: Drawn, new: Drawn) -> tuple[float, float] | None:
    """How far a thing moved, if what it shows stands elsewhere: by its letters, for a wash has its own size."""
    a = [mark for mark in old.marks if isinstance(mark, Text)]
    b = [mark for mark in new.marks if isinstance(mark, Text)]
    if len(a) != len(b) or not a or any(p.label != q.label for p, q in zip(a, b, strict=True)):
        return None
    ways = {(round(q.x - p.x, 3), round(q.y - p.y, 3)) for p, q in zip(a, b, strict=True)}
    return ways.pop() if len(ways) == 1 and ways != {(0.0, 0.0)} else None


def _appears(new: Drawn, late: int) -> list[Change]:
    if new.kind == "line":
        return [Change(new.id, "new", "uncover", late, UNCOVER, (0.0,), (1.0,))]
    if new.replaces:
        return [Change(new.id, "new", "fade", late, CLOSE_UP[2], (0.0,), (1.0,))]
    if late == 0 and any(
        isinstance(mark, Outline) and mark.role not in {"wash", "solid"} for mark in new.marks
    ):
        ms = SHORT if new.kind == "imagined short" else STROKES
        return [
            Change(new.id, "new", "strokes", 0, ms, (0.0,), (1.0,)),
            Change(new.id, "new", "fade", 0, FADE, (0.0,), (1.0,)),
        ]
    return [Change(new.id, "new", "fade", late, min(FADE, MOST - late), (0.0,), (1.0,))]


def _turned(old: Drawn, new: Drawn) -> tuple[float, float] | None:
    """The point about which a cell turned, if it did: its plates changed places."""
    a, b = _plates(old), _plates(new)
    if a is None or b is None:
        return None
    ahead, middle = a
    way, now = b
    stays = all(abs(p - q) < STILL_PLATES for p, q in zip(middle, now, strict=True))
    return now if stays and ahead[0] * way[0] + ahead[1] * way[1] < 0 else None


def _plates(cell: Drawn) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Where a cell's long plate stands from its short one, and the middle between them."""
    roles = {mark.role: mark for mark in cell.marks if isinstance(mark, Outline)}
    if "plate" not in roles or "thick plate" not in roles:
        return None
    plus, minus = _middle_of(roles["plate"].path), _middle_of(roles["thick plate"].path)
    way = plus[0] - minus[0], plus[1] - minus[1]
    return way, ((plus[0] + minus[0]) / 2, (plus[1] + minus[1]) / 2)


def _middle_of(path: str) -> tuple[float, float]:
    """The middle of a straight stroke or a closed box."""
    pairs = [pair.split() for pair in path.strip("MZ").split("L")]
    xs, ys = [float(pair[0]) for pair in pairs], [float(pair[1]) for pair in pairs]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _middle(box: Box) -> tuple[float, float]:
    return (box.left + box.right) / 2, (box.top + box.bottom) / 2


def _quicker(change: Change, speed: float) -> Change:
    if speed == 1.0:
        return change
    return Change(
        change.id, change.of, change.what, round(change.begin / speed), round(change.ms / speed),
        change.start, change.end, change.marks,
    )  # fmt: skip
