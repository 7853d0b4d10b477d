from fractions import Fraction as F

import pytest

from boardproof.findings import Finding
from boardproof.solve.answers import answers
from boardproof.solve.cell import cell_state, vi_line
from unit.solve.asking import circuit

WEAK = "D = cell 1 V, 10 ohm\n"


@pytest.mark.parametrize(
    ("text", "path", "state"),
    [
        ("main = A across R", "A", "driving"),
        ("main = (A || B) across R", "B", "being charged"),
        ("main = A across (R + S)", "A", "idle"),
        (WEAK + "main = (A + D) across Q", "D", "driven backwards"),
        ("main = (A + -B) across R", "B", "being charged"),
        ("both = A || B\nmain = both across R", "both", "driving"),
    ],
)
def test_states(text, path, state):
    assert cell_state(answers(circuit(text)), path) == state


def test_states_in_letters_where_the_signs_are_sure():
    assert cell_state(answers(circuit("main = A across R"), "letters"), "A") == "driving"
    unsure = cell_state(answers(circuit("main = (A || B) across R"), "letters"), "A")
    assert unsure.kind.code == "unlike-cells"
    assert isinstance(cell_state(answers(circuit("main = A across R")), "Z"), Finding)


def test_the_line_of_a_group():
    line = vi_line(answers(circuit("both = A || B\nmain = both across R")), "both")
    assert (line.emf, line.resistance, line.short_circuit_current) == (5, F(2, 3), F(15, 2))
    assert (line.greatest_power, line.best_load, line.terminal_pd(3)) == (F(75, 8), F(2, 3), 3)


def test_the_line_of_an_ideal_source_is_level():
    line = vi_line(answers(circuit("main = X across R")), "X")
    assert (line.emf, line.resistance, line.short_circuit_current, line.greatest_power) == (6, 0, None, None)
    assert isinstance(vi_line(answers(circuit("main = X across R")), "Z"), Finding)
