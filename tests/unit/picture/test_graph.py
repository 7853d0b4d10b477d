"""Graphs put what they are given in its place."""

from __future__ import annotations

import pytest

from boardproof.picture.axes import ticks
from boardproof.picture.board import Piece
from boardproof.picture.drawing import Outline, Text
from boardproof.picture.graph import load_line, power_curve
from boardproof.picture.height import potential_round
from laws.drawn import Plain, text_box

PLAIN = Plain()
LOOP = (Piece("cell", 6, "E = 6 V", kind="cell"), Piece("r", -1, "1 V", in_focus=True), Piece("R", -5, "5 V"))


def thing(made, name):
    return next(each for each in made.drawn if each.id == name)


def points(mark: Outline) -> list[tuple[float, float]]:
    return [tuple(map(float, pair.split())) for pair in mark.path.strip("MZ").split("L")]


@pytest.mark.parametrize("shape", ["figure", "figure near"])
def test_the_working_point_lies_on_both_lines(shape):
    made = load_line(6, 2, 4, PLAIN, shape=shape)
    (x, y), _ = points(thing(made, "point:working").marks[0])
    for name in ("curve:cell", "curve:load"):
        (a, b), (c, d) = points(thing(made, name).marks[0])
        assert b + (x - a) * (d - b) / (c - a) == pytest.approx(y, abs=0.01)


def test_power_is_greatest_where_the_load_equals_the_inside():
    made = power_curve(6, 2, 4, PLAIN)
    curve = points(thing(made, "curve:power").marks[0])
    highest = min(curve, key=lambda point: point[1])
    (x, y), _ = points(thing(made, "point:most").marks[0])
    assert highest[0] == pytest.approx(x, abs=0.8)
    assert y <= highest[1] + 0.01


def test_the_loop_ends_where_it_began_and_focus_is_on_what_was_asked():
    made = potential_round(LOOP, PLAIN)
    flat = thing(made, "potential").marks
    assert points(flat[0])[0][1] == pytest.approx(points(flat[-1])[-1][1])
    assert [thing(made, f"potential:{n}").state for n in range(3)] == ["normal", "focus", "normal"]
    with pytest.raises(ValueError, match="add up"):
        potential_round(LOOP[:2], PLAIN)


@pytest.mark.parametrize(
    "made",
    [
        load_line(1.5, 0.5, 2.5, PLAIN, shape="figure near"),
        power_curve(6, 2, None, PLAIN),
        potential_round(LOOP, PLAIN),
    ],
)
def test_names_stay_on_the_sheet_and_apart(made):
    boxes = [text_box(m, PLAIN) for each in made.drawn for m in each.marks if isinstance(m, Text)]
    for n, (left, top, right, bottom) in enumerate(boxes):
        assert left >= 0
        assert top >= 0
        assert right <= made.width
        assert bottom <= made.height
        for other in boxes[n + 1 :]:
            assert right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top


def test_ticks_are_round_and_few():
    assert ticks(0.09) == [0.0, 0.02, 0.04, 0.06, 0.08]
    assert len(ticks(1e-6)) <= 7
