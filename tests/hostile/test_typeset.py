"""Maths typed by anybody reaches the typesetter as letters, never as instructions."""

from __future__ import annotations

import re

import pytest

from boardproof.algebra.expression import Line
from boardproof.algebra.markup import typst
from boardproof.algebra.written import read_line
from boardproof.picture.drawing import Label
from boardproof.publish.typeset import Typesetter
from boardproof.source import Source

INSIDE = (
    '#read("/etc/passwd")', '"#panic()"', '\\"#sys.inputs', "#import", '"))#read("x")', "\\", "//", "/*", "$", "@a",
    "<a>", '\\") #eval("1', "#", "`", "~", "'", "&", "\u202e", "=",
)  # fmt: skip


def read(inside: str) -> Line | None:
    return read_line(Source("x", f"E_{{{inside}}} = 1").slice(), known=("E",))[0]


def test_most_of_it_is_read_as_a_name() -> None:
    assert sum(read(each) is not None for each in INSIDE) >= 10


@pytest.mark.parametrize("inside", INSIDE)
def test_what_stands_below_a_letter_is_never_an_instruction(inside: str) -> None:
    line = read(inside)
    for each in line.statements if line else ():
        outside = re.sub(r'"(?:[^"\\]|\\.)*"', "", typst(each.left))
        assert re.fullmatch(r"[A-Za-z_()]*", outside), outside
        wide, _, _ = Typesetter().extent(Label(each.left, 1.6))
        assert wide > 0
