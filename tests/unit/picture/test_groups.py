"""A group drawn as its equivalent stays joined to the rest of the circuit."""

import pytest

from boardproof.circuit.read import read_circuit
from boardproof.picture.board import BoardState
from boardproof.picture.drawing import Outline
from boardproof.picture.frame import frame
from boardproof.source import Source
from laws.drawn import Plain


@pytest.mark.parametrize("shape", ["wide", "near", "figure"])
@pytest.mark.parametrize("group", ["A + B", "A || B", "A + -B", "(A + B) || C", "A + (B || C)"])
def test_an_equivalent_hangs_on_both_rails(group: str, shape: str) -> None:
    text = f"A = cell; B = cell; C = cell; R = resistor; g = {group}; g across R"
    circuit = read_circuit(Source("x", text).slice()).at_hand
    assert circuit is not None
    made = frame(BoardState(circuit, replaced=(("g", "cell"),)), shape, Plain())  # type: ignore[arg-type]
    same = next(each for each in made.drawn if each.kind == "equivalent")
    wire = next(mark for mark in same.marks if isinstance(mark, Outline) and mark.role == "wire")
    y = float(wire.path.split("L")[0].split()[1])
    rails = [
        each for each in made.drawn
        if each.kind == "wire" and each.box.top - 0.2 <= y <= each.box.bottom + 0.2
    ]  # fmt: skip
    reached = {side for each in rails for side, x in (("left", same.box.left), ("right", same.box.right))
               if each.box.left - 0.2 <= x <= each.box.right + 0.2}  # fmt: skip
    assert reached == {"left", "right"}
