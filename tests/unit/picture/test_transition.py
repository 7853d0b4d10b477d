"""The board on its way from one moment to the next: what stays, comes, goes, turns and closes up."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations, pairwise

import pytest

from boardproof.circuit.model import Circuit
from boardproof.circuit.read import read_circuit
from boardproof.picture.board import BoardState, Written
from boardproof.picture.drawing import Frame
from boardproof.picture.frame import frame
from boardproof.picture.timeline import Timeline, at_pace
from boardproof.picture.transition import layers_at, transition
from boardproof.picture.unhurried import eased
from boardproof.source import Slice, Span
from laws.drawn import Plain

PAIR = """A = cell E_1 = 6 V, r_1 = 1 ohm
B = cell E_2 = 4 V, r_2 = 2 ohm
R = resistor 10 ohm
both = A || B
main = both across R
"""


def slice_of(text: str) -> Slice:
    return Slice(text, Span("typed", 0, len(text)))


def circuit(text: str) -> Circuit:
    made = read_circuit(slice_of(text)).at_hand
    assert made is not None
    return made


MAIN, ODD = circuit(PAIR + "main"), circuit(PAIR + "main but turn B")


def board(made: Circuit = MAIN, **state: object) -> Frame:
    return frame(BoardState(made, (MAIN, ODD), scene="S", **state), "wide", Plain())


def written(count: int) -> tuple[Written, ...]:
    lines = [f"with load {number} the p.d. falls" for number in range(1, 13)]
    return tuple(Written(str(n), line, "cell rule", n == count - 1) for n, line in enumerate(lines[:count]))


def test_equal_boards_have_nothing_between():
    assert transition(board(), board()).changes == ()


def test_a_part_in_focus_waits_until_the_others_are_dim():
    way = transition(board(), board(focused=("A",), dimmed=("B",)))
    begins = {(each.id, each.begin) for each in way.changes if each.of == "new"}
    assert ("part:B", 0) in begins
    assert ("part:A", 200) in begins
    assert way.ms <= 750


def test_a_cell_turns_in_its_place_and_its_letters_stay_upright():
    way = transition(board(), board(ODD))
    turns = [each for each in way.changes if each.what == "turn"]
    assert [(each.id, each.ms, each.marks) for each in turns] == [("part:B", 500, "plates")]
    assert turns[0].at(0)[0] == 180
    assert turns[0].at(500)[0] == 0


def test_a_group_closes_up_into_its_equivalent():
    old, new = board(), board(replaced=(("both", "cell"),))
    way = transition(old, new)
    assert {each.id for each in way.changes if each.what == "squeeze"} >= {"part:A", "part:B"}
    comes = [each for each in way.changes if each.id == "same:both"]
    assert [(each.what, each.begin, each.ms) for each in comes] == [("fade", 550, 150)]
    assert way.ms <= 750
    half = {layer.drawn.id for layer in layers_at(old, new, way, 0.5)}
    assert "part:A" in half
    assert "same:both" not in half


def test_a_line_is_uncovered_when_the_older_ones_have_made_room():
    way = transition(board(written=written(8)), board(written=written(9)))
    uncovered = next(each for each in way.changes if each.what == "uncover")
    others = [each for each in way.changes if each.what == "shift"]
    assert others
    assert all(each.begin + each.ms <= uncovered.begin for each in others)
    assert way.ms <= 750


def test_a_new_part_is_drawn_stroke_by_stroke_at_the_speed_wanted():
    slow = transition(board(hidden=("R",)), board())
    quick = transition(board(hidden=("R",)), board(), speed=2)
    assert any(each.what == "strokes" and each.id == "part:R" for each in slow.changes)
    assert quick.ms == slow.ms / 2


def test_reduced_motion_is_a_short_cross_fade_of_everything():
    way = transition(board(), board(ODD, replaced=(("both", "cell"),)), reduced=True)
    assert {each.what for each in way.changes} == {"fade"}
    assert way.ms == 120


@pytest.mark.parametrize("t", [0.0, 0.2, 0.5, 0.8, 1.0])
def test_both_ends_are_the_boards_and_what_is_fully_seen_never_overlaps_on_the_way(t):
    boards = [board(written=written(count), focused=("A",) if count % 2 else ()) for count in range(1, 10)]
    for old, new in pairwise(boards):
        layers = layers_at(old, new, transition(old, new), t)
        if t in {0.0, 1.0}:
            assert tuple(layer.drawn for layer in layers) == (new if t else old).drawn
        lines = []
        for layer in layers:
            shown = {what: numbers for _, what, numbers in layer.values}
            if layer.drawn.kind == "line" and layer.opacity > 0.5 and shown.get("uncover", (1,))[0] > 0:
                lines.append((layer.drawn.box, shown.get("shift", (0, 0))[1]))
        for (one, up), (other, down) in combinations(lines, 2):
            assert one.bottom + up <= other.top + down + 1 or other.bottom + down <= one.top + up + 1


def test_easing_is_the_curve_of_the_style_sheets():
    # Values of cubic-bezier(.2, 0, 0, 1) by solving the cubic for x with numpy.roots.
    np = pytest.importorskip("numpy")
    for share in (0.1, 0.25, 0.5, 0.9):
        roots = np.roots([1 + 3 * 0.2, -6 * 0.2, 3 * 0.2, -share])
        u = next(root.real for root in roots if abs(root.imag) < 1e-9 and 0 <= root.real <= 1)
        assert eased(share) == pytest.approx(3 * (1 - u) * u**2 + u**3)


def test_a_timeline_has_no_gaps():
    assert at_pace([("a", Fraction(3)), ("b", Fraction(0))]).entries == (("a", 0, 3000), ("b", 3000, 4200))
    with pytest.raises(ValueError, match="moment b"):
        Timeline("recording", (("a", 0, 10), ("b", 12, 20)))
