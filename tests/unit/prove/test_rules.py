import pytest

from boardproof.prove.eliminate import eliminate
from boardproof.prove.follows import follows
from boardproof.prove.rules import RULES, Scope, Unknowns
from boardproof.prove.wiring import wiring
from unit.prove.boards import BRIDGE, LOOP, PAIR, at, equation


def kind(text: str, maths: str, *rules: str) -> str:
    return follows(equation(maths), [], rules, at(text), taught=()).kind


CELL = "A = cell; R = resistor; main = A across R; "
SERIES = "resistances in series"
CASES = [
    (PAIR, "I = I_1 + I_2", "junction rule"),
    (PAIR, "V = E_1 - I_1 r_1", "cell rule"),
    (PAIR, "V = E_p - I r_p", "cell rule"),
    (PAIR, "E_p = I_s r_p", "cell rule"),
    (PAIR, "V = I R", "Ohm's law"),
    (PAIR, "E_1 - I_1 r_1 = E_2 - I_2 r_2", "loop rule"),
    (PAIR, "1/r_p = 1/r_1 + 1/r_2", "resistances in parallel"),
    (LOOP, "E = I (R + r)", "loop rule"),
    (LOOP, "P_warm = I^2 r", "power"),
    (BRIDGE, "V_ab + V_bd = V_ac + V_cd", "loop rule"),
    (BRIDGE, "V_M = I_b R_M", "Ohm's law"),
    ("A = cell; S_1 = source 3 V; R = resistor; row = A + S_1; main = row across R", "r_row = r_A", SERIES),
    ("R1 = resistor; R2 = resistor; A = cell; side = R1 || R2; main = A across side", "V_side = I R_side", "Ohm's law"),
    ("R1 = resistor; R2 = resistor; A = cell; s = R1 + R2; main = A across s", "R_s = R1 + R2", SERIES),
    (CELL + "let v = lost volts in A", "v = I r", "Ohm's law"),
    (CELL + "let v = lost volts in A", "V_A = E - v", "cell rule"),
    (CELL + "let P = power in R; let Q = power given by A", "Q = E I", "power"),
    (CELL + "let P = power in R", "P = I^2 R", "power"),
    (CELL + "let P = power out of A", "P = V_A I", "power"),
    ("A = cell E, r; R = resistor; row = n of A in series; main = row across R", "r_row = n r", SERIES),
]  # fmt: skip


@pytest.mark.parametrize(("text", "maths", "rule"), CASES)
def test_a_rule_gives_its_instance(text: str, maths: str, rule: str) -> None:
    assert kind(text, maths, rule) == "yes"


@pytest.mark.parametrize(("text", "maths", "rule"), CASES)
def test_no_other_rule_is_needed_and_algebra_is_not_enough(text: str, maths: str, rule: str) -> None:
    assert kind(text, maths, "algebra") != "yes"


def test_a_cell_without_its_emf_keeps_its_resistance_only() -> None:
    text = PAIR + "\nmain but no emf in A"
    assert kind(text, "V = -I_1 r_1", "cell rule") == "yes"
    assert kind(text, "V = E_1 - I_1 r_1", "cell rule") != "yes"


def test_instances_of_one_circuit_do_not_contradict_each_other() -> None:
    for text in (PAIR, LOOP, BRIDGE):
        circuit = at(text).circuit
        scope = Scope(wiring(circuit.item, circuit.zero), 0, Unknowns())
        rows = [poly for rule in ("", *RULES) for poly in scope.instances(rule) if poly]
        solved = eliminate({(0,): rows[0][next(iter(rows[0]))]}, rows)
        assert all(set(row.poly) != {()} for row in solved.left_over)
