"""Maths in running text: on the baseline, and in pieces where a phone could not hold it."""

from __future__ import annotations

import pytest
from lxml import etree

from boardproof.picture.drawing import Label
from boardproof.publish.inline import LONGEST, inline_maths
from boardproof.publish.typeset import Typesetter
from unit.publish import sample

SETTER = Typesetter()
LONG = sample.line(*sample.OWN_PARTS, *sample.OWN_PARTS)


def read(piece: str) -> etree._Element:
    return etree.fromstring(piece)


def test_maths_in_text_tells_its_depth() -> None:
    made = inline_maths(Label(sample.MEAN, 1.15, display=True), SETTER)
    (root,) = map(read, made.pieces)
    top, height = (float(root.get("viewBox").split()[at]) for at in (1, 3))
    assert made.depth == pytest.approx((top + height) * 1.15 / 100)
    assert root.get("aria-hidden") == "true"
    assert "currentColor" in made.pieces[0]


def test_a_long_chain_is_cut_before_its_later_signs() -> None:
    label = Label(LONG, 1.15, display=True)
    whole = SETTER.setting(label)
    assert whole.width > LONGEST
    made = inline_maths(label, SETTER)
    assert len(made.pieces) == len(LONG.statements)
    drawn = [len(list(read(piece).iter("{*}use", "use"))) for piece in made.pieces]
    assert sum(drawn) == len(whole.glyphs)
    assert min(drawn) >= 2, "a sign and something after it"
    widths = [float(read(piece).get("width").removesuffix("em")) for piece in made.pieces]
    assert sum(widths) == pytest.approx(whole.width * 1.15 / 100, abs=0.01)
    assert len({read(piece).get("height") for piece in made.pieces}) == 1, "one baseline"


def test_a_short_line_stays_whole() -> None:
    assert len(inline_maths(Label(sample.OWN, 1.15, display=True), SETTER).pieces) == 1
