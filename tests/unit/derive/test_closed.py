import pytest

from unit.derive.boards import lines, refused, written

PAIR = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; "
SIDE = PAIR + "both = A || B; main = both across R"
ROW = PAIR + "row = A + B; main = row across R"


def test_potential_at_the_junction() -> None:
    found = written(SIDE, "V I_2", "potential at the junction")
    assert lines(found)[:5] == [
        "I_1 = (E_1 - V)/r_1 and I_2 = (E_2 - V)/r_2",
        "I = V/R",
        "I = I_1 + I_2",
        "V (1/R + 1/r_1 + 1/r_2) = E_1/r_1 + E_2/r_2",
        "V = (E_1/r_1 + E_2/r_2)/(1/R + 1/r_1 + 1/r_2)",
    ]


def test_one_cell_at_a_time_adds_currents() -> None:
    found = written(ROW, "I", "one cell at a time")
    assert lines(found)[:3] == ["I_a = E_1/(R + r_1 + r_2)", "I_b = E_2/(R + r_1 + r_2)", "I = I_a + I_b"]
    assert found.definitions == (
        "let I_a = current in R when no emf in B",
        "let I_b = current in R when no emf in A",
    )


def test_energy_in_one_second_divides_by_the_current_and_says_so() -> None:
    found = written(ROW, "I", "energy in one second")
    assert lines(found)[-1] == "I = (E_1 + E_2)/(R + r_1 + r_2)"
    assert [repr(each) for each in found.steps[1].checks[0].conditions] == ["I"]


@pytest.mark.parametrize(
    ("text", "targets", "route", "why"),
    [
        (ROW, "I", "potential at the junction", "branches side by side"),
        (SIDE, "E_both", "potential at the junction", "something else is wanted"),
        (SIDE, "I", "energy in one second", "plain loop"),
        (ROW, "V", "energy in one second", "plain loop"),
        ("A = cell; R = resistor; A across R", "I", "one cell at a time", "two to four cells"),
        (
            PAIR + "network w\n A from a to b\n R from b to a\n w",
            "I_1",
            "potential at the junction",
            "one load",
        ),
        (
            "A, B, C = cell; R = resistor; row = A + B; g = row || C; main = g across R",
            "I",
            "potential at the junction",
            "inside out",
        ),
    ],
)
def test_a_route_that_does_not_fit_says_why(text: str, targets: str, route: str, why: str) -> None:
    assert why in refused(text, targets, route)
