from unit.derive.boards import lines, written

LIKE = "A = cell E = 1.5 V, r = 0.4 ohm; R = resistor 4 ohm; "


def test_backwards_from_two_readings() -> None:
    found = written(LIKE + "B = cell; g = A + B; main = g across R", "E_g r_g", "backwards")
    assert lines(found)[2] == "r_g = (V_a - V_b)/(I_b - I_a)"
    assert len(found.definitions) == 6
