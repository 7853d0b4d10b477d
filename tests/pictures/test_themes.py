"""Every state and verdict tells apart in three themes, on a grey copy, and in print even in black and white."""

from __future__ import annotations

from io import BytesIO
from itertools import combinations

import pytest
from PIL import Image, ImageChops

from boardproof.picture.drawing import Box, Drawn, Frame, Outline
from boardproof.publish.marks import MARKS, mark_svg
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter
from unit.publish import sample

STATES = ("hidden", "dimmed", "normal", "focus", "replaced")
THEMES = ("paper", "slate", "print")
SETTER = Typesetter()


def grey(svg: str, width: int) -> Image.Image:
    """Lightness alone, on white where the picture has no ground."""
    drawn = Image.open(BytesIO(SETTER.png(svg, width))).convert("RGBA")
    ground = Image.new("RGBA", drawn.size, "white")
    return Image.alpha_composite(ground, drawn).convert("L")


def black_and_white(image: Image.Image) -> Image.Image:
    return image.point(lambda value: 255 if value >= 128 else 0)


def inked(image: Image.Image) -> int:
    """Black points of a black and white picture."""
    return image.histogram()[0]


def share_that_differs(one: Image.Image, other: Image.Image, by: int) -> float:
    histogram = ImageChops.difference(one, other).histogram()
    return sum(histogram[by:]) / (one.width * one.height)


def lone(mark: Outline, state: str) -> Frame:
    drawn = Drawn("part:A", "cell", state, Box(0, 0, 1, 1), (mark,))
    return Frame("m", "wide", 16, 6, (drawn,), "A")


def part(state: str, shape: str = "wide") -> Frame:
    """A resistor between two wires."""
    marks = (
        Outline("M1 3H5M11 3H15", "wire"),
        Outline("M5 2H11V4H5Z", "outline", "paper"),
        Outline("M13.9 3L12.1 2.4L12.55 3L12.1 3.6Z", "solid", "ink"),
    )
    return Frame("m", shape, 16, 6, (Drawn("part:R", "resistor", state, Box(1, 2, 15, 4), marks),), "R")


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("shape", ["wide", "near"])
def test_states_tell_apart_without_hue(theme: str, shape: str) -> None:
    pictures = {state: grey(frame_svg(part(state, shape), SETTER, theme), 320) for state in STATES}
    for one, other in combinations(STATES, 2):
        told = share_that_differs(pictures[one], pictures[other], by=40)
        assert told > 0.004, f"{one} and {other} look alike in {theme}"


@pytest.mark.parametrize("shape", ["wide", "near"])
def test_print_tells_states_apart_in_black_and_white(shape: str) -> None:
    pictures = {
        state: black_and_white(grey(frame_svg(part(state, shape), SETTER, "print"), 640)) for state in STATES
    }
    ink = {state: inked(image) for state, image in pictures.items()}
    assert ink["hidden"] == 0
    assert ink["replaced"] < 0.9 * ink["dimmed"]
    assert ink["dimmed"] < 0.75 * ink["normal"]
    assert ink["normal"] < 0.75 * ink["focus"]


def test_nothing_is_lost_when_a_printed_board_is_copied_in_black_and_white() -> None:
    frame = sample.board()
    whole = inked(black_and_white(grey(frame_svg(frame, SETTER, "print"), 900)))
    for at, drawn in enumerate(frame.drawn):
        if drawn.state == "hidden" or drawn.kind == "rule":
            continue
        without = Frame("m", "wide", 96, 54, (*frame.drawn[:at], *frame.drawn[at + 1 :]), "t")
        left = inked(black_and_white(grey(frame_svg(without, SETTER, "print"), 900)))
        assert left < whole, f"{drawn.id} leaves no ink"


@pytest.mark.parametrize("theme", THEMES)
def test_verdict_marks_differ_in_outline(theme: str) -> None:
    pictures = {kind: black_and_white_mark(kind, theme) for kind in MARKS}
    for one, other in combinations(MARKS, 2):
        assert share_that_differs(pictures[one], pictures[other], by=128) > 0.06, f"{one} and {other}"


def black_and_white_mark(kind: str, theme: str) -> Image.Image:
    """The mark's shape alone: whatever it covers is black."""
    drawn = Image.open(BytesIO(SETTER.png(mark_svg(kind, theme), 80))).convert("RGBA")
    return drawn.getchannel("A").point(lambda value: 0 if value >= 128 else 255)


def test_the_washed_part_is_on_another_ground() -> None:
    for theme in THEMES:
        case = Outline("M0 0H16V6H0Z", "case", "shade")
        lit, plain = (grey(frame_svg(lone(case, state), SETTER, theme), 64) for state in ("focus", "normal"))
        assert lit.getpixel((30, 12)) != plain.getpixel((30, 12))
