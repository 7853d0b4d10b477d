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


PARALLEL = "resistances in parallel"
E_R = "A = cell E, r; R = resistor; "
MORE = [
    (E_R + "S = switch open; main = (A + S) across R; let V_k = p.d. across S", "V_k = E", "loop rule"),
    (E_R + "g = -A; m = g across R; m", "V_A = E - I_A r", "cell rule"),
    (BRIDGE + "\nzero at a", "V_ba = V_bd + V_da", "loop rule"),
    (E_R + "B = cell E, r; g = A || B; main = g across R; main but no emf in g", "1/r_g = 2/r", PARALLEL),
    (E_R + "bank = 3p of A; main = bank across R", "1/r_bank = 3/r", PARALLEL),
    (E_R + "C = capacitor; g = R || C; main = A across g", "1/r_g = 1/R", PARALLEL),
    (E_R + "B = cell E, r; g = A || B; main = g across R; main but no emf in A", "V_A = -I_A r", "cell rule"),
    (
        E_R + "L = resistor; g = A + (R || L); W = wire; main = g across W",
        "r_g = r + r_g.2",
        "resistances in series",
    ),
]


@pytest.mark.parametrize(("text", "maths", "rule"), MORE)
def test_rules_meet_switches_wires_turned_cells_and_nodes(text: str, maths: str, rule: str) -> None:
    assert kind(text, maths, rule) == "yes"


def test_power_of_a_broken_part_has_no_law() -> None:
    text = "A = cell E, r; R = resistor; S = switch open; main = (A + S) across R; let P = power in S"
    assert kind(text, "P = I^2 R", "power") != "yes"


def test_rows_with_joints_are_seen_from_their_ends_only() -> None:
    text = "A = cell E, r; R = resistor; bank = 3s2p of A link 1 ohm; main = bank across R"
    assert kind(text, "V = E_bank - I r_bank", "cell rule") == "yes"
    assert kind(text, "r_bank = 3*r/2", "resistances in series", "resistances in parallel") != "yes"
