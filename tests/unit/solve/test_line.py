from fractions import Fraction as F

import pytest

from boardproof.circuit.model import Family, Leaf, Part, Worth
from boardproof.circuit.network import Branch
from boardproof.solve.arithmetic import Arithmetic
from boardproof.solve.ill_posed import NoAnswer
from boardproof.solve.line import Line, line_of, line_of_family, line_of_part

EXACT = Arithmetic("exact")
CELL = Part("A", "cell", Worth("E", F(6)), Worth("r", F(1)))


def triple(line):
    return (line.a, line.b, line.c)


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        (CELL, (1, 1, 6)),
        (Part("X", "source", Worth("E", F(6))), (1, 0, 6)),
        (Part("R", "resistor", resistance=Worth("R", F(3))), (1, 3, 0)),
        (Part("W", "wire"), (1, 0, 0)),
        (Part("N", "ammeter"), (1, 0, 0)),
        (Part("M", "voltmeter"), (0, 1, 0)),
        (Part("M", "voltmeter", resistance=Worth("R", F(9))), (1, 9, 0)),
        (Part("S", "switch"), (0, 1, 0)),
        (Part("S", "switch", closed=True), (1, 0, 0)),
        (Part("C", "capacitor", capacitance=Worth("C", F(1))), (0, 1, 0)),
    ],
)
def test_lines_of_parts(part, expected):
    assert triple(line_of_part(part, EXACT)) == expected


def test_a_lamp_is_a_resistor_and_a_diode_has_no_line() -> None:
    lamp = Part("L", "lamp", resistance=Worth("R_L", F(5)))
    assert triple(line_of_part(lamp, EXACT)) == (1, 5, 0)
    with pytest.raises(NoAnswer) as stopped:
        line_of_part(Part("D", "diode"), EXACT)
    assert stopped.value.reason.kind.code == "curved-part"


def test_what_was_done_to_a_branch():
    leaf = Leaf("A", CELL)
    assert triple(line_of(Branch(leaf, "A", 0, 1, turned=True), EXACT)) == (1, 1, -6)
    assert triple(line_of(Branch(leaf, "A", 0, 1, emf_out=True), EXACT)) == (1, 1, 0)
    assert triple(line_of(Branch(leaf, "A", 0, 1, is_open=True), EXACT)) == (0, 1, 0)
    assert triple(line_of(Branch(None, "short:A", 0, 1), EXACT)) == (1, 0, 0)
    rows = line_of(Branch(leaf, "A", 0, 1, in_series=(3,), in_parallel=(4,)), EXACT)
    assert (rows.emf, rows.resistance, rows.short_circuit_current) == (18, F(3, 4), 24)


def test_ideal_and_broken_lines_join_as_they_should():
    wire, gap, cell = Line(F(1), F(0), F(0)), Line(F(0), F(1), F(0)), Line(F(1), F(1), F(6))
    assert triple(cell.parallel(wire)) == (1, 0, 0)
    assert triple(cell.series(gap)) == (0, 1, 0)
    assert triple(cell.parallel(gap)) == triple(cell)


@pytest.mark.parametrize("joined", ["series", "parallel"])
def test_a_family_with_a_known_last_member_is_written_out(joined):
    part = Part("A_k", "cell", Worth("E_k"), Worth("r_k"))
    values = {f"{stem}_{k}": F(k + (stem == "E")) for k in (2, 3) for stem in "Er"}
    family = Family(part, "k", 2, "n", "A_k", joined)
    line = line_of_family(family, Arithmetic("exact", {**values, "n": F(3)}))
    pair = [Line(F(1), F(k), F(k + 1)) for k in (2, 3)]
    whole = pair[0].series(pair[1]) if joined == "series" else pair[0].parallel(pair[1])
    assert (line.emf, line.resistance) == (whole.emf, whole.resistance)
    with pytest.raises(ValueError, match="without members"):
        line_of_family(family, Arithmetic("exact", {"n": F(1)}))


def test_a_family_in_series_adds_up():
    part = Part("A_j", "cell", Worth("E_j"), Worth("r"))
    line = line_of_family(Family(part, "j", 1, "n", "A_j", "series"), EXACT)
    assert (str(line.c), str(line.b)) == ("Σ(k=1..n: E_k)", "n*r")
