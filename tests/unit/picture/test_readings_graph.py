"""The graph of readings: what is left away is small, what is left out is open, nothing is written over anything."""

from __future__ import annotations

from itertools import combinations

import pytest

from boardproof.kit.measure import measure_grid
from boardproof.lab.sheet import read_grid
from boardproof.picture.drawing import Text
from boardproof.picture.labels import box_of
from boardproof.picture.readings_graph import readings_graph
from boardproof.picture.readings_panel import edges
from boardproof.source import Source

TABLE = "cell;I / A;V / V;note\n" + "\n".join(
    f"{name};{i};{E - r * i + jitter:.3f};{note}"
    for name, E, r in (("A", 1.5, 0.4), ("B", 1.45, 0.6), ("C", 1.52, 0.2))
    for i, jitter, note in (
        (0.1, 0.001, ""),
        (0.5, -0.001, ""),
        (0.3, 0.0, ""),
        (0.2, 0.05, "left out: warm"),
        (0.4, 0.001, ""),
    )
)


class Plain:
    def extent(self, label):
        return (0.5 * label.size * len(str(label.content)), 0.7 * label.size, 0.2 * label.size)


def graph(shape):
    made = measure_grid(read_grid(Source("a.csv", TABLE)), said={})
    return readings_graph(made.study.cells, Plain(), title="three cells", shape=shape)


@pytest.mark.parametrize("shape", ["figure", "figure near"])
def test_no_word_stands_on_another_and_all_is_within_the_frame(shape):
    frame = graph(shape)
    texts = [mark for each in frame.drawn for mark in each.marks if isinstance(mark, Text)]
    boxes = [box_of(each, Plain()) for each in texts]
    assert not any(a.meets(b) for a, b in combinations(boxes, 2))
    for each in boxes:
        assert each.left >= 0
        assert each.right <= frame.width
        assert each.top >= 0
        assert each.bottom <= frame.height


def test_every_reading_is_drawn_and_those_left_out_are_told_apart():
    frame = graph("figure")
    ids = [each.id for each in frame.drawn]
    assert sum(each.startswith("reading:") for each in ids) == 12
    assert sum(each.startswith("left-out:") for each in ids) == 3
    assert "three cells" in frame.title
    assert "A: 4 readings" in frame.alternative


@pytest.mark.parametrize(
    ("least", "most", "wanted"),
    [(0.0, 0.6, (0.0, 0.6)), (1.24, 1.52, (1.2, 1.6)), (2.0, 2.0, (2.0, 2.5)), (-3.0, 3.0, (-4.0, 4.0))],
)
def test_axes_end_at_round_numbers(least, most, wanted):
    low, high, ticks = edges(least, most)
    assert (low, high) == pytest.approx(wanted)
    assert (ticks[0], ticks[-1]) == (low, high)
