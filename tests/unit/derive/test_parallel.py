import pytest

from unit.derive.boards import lines, refused, written

PAIR = "A = cell E_1 = 6 V, r_1 = 2 ohm; B = cell E_2 = 4.5 V, r_2 = 3 ohm; R = resistor 4.2 ohm; "
SIDE = PAIR + "both = A || B; main = both across R; let E_p = emf of both; let r_p = resistance of both"
ROW = PAIR + "row = A + B; main = row across R"
LIKE = "A = cell E, r; R = resistor; "


def test_same_terminal_pd_for_two_cells() -> None:
    found = written(SIDE, "E_p r_p", "same terminal p.d.")
    assert lines(found) == [
        "V = E_1 - I_1 r_1 and V = E_2 - I_2 r_2",
        "I_1 = (E_1 - V)/r_1 and I_2 = (E_2 - V)/r_2",
        "I = I_1 + I_2",
        "I = E_1/r_1 + E_2/r_2 - V (1/r_1 + 1/r_2)",
        "V = (E_1/r_1 + E_2/r_2)/(1/r_1 + 1/r_2) - I/(1/r_1 + 1/r_2)",
        "E_p = (E_1/r_1 + E_2/r_2)/(1/r_1 + 1/r_2)",
        "r_p = 1/(1/r_1 + 1/r_2)",
    ]
    assert found.steps[0].words.startswith("What is the same for both?")


def test_a_turned_cell_beside_another_pushes_the_other_way() -> None:
    found = written(SIDE.replace("A || B", "A || -B"), "E_p r_p", "same terminal p.d.")
    assert "I = I_1 - I_2" in lines(found)
    assert "B sits the other way round" in found.steps[0].words


def test_a_resistor_beside_a_cell_takes_its_share() -> None:
    text = PAIR + "L = resistor; g = A || L; main = g across R"
    assert "I = I_1 - I_L" in lines(written(text, "E_g r_g", "same terminal p.d."))


def test_copies_side_by_side_count() -> None:
    text = LIKE + "row = m of A in series; pack = n of row in parallel; main = pack across R"
    assert "I = n*I_pack.1" in lines(written(text, "E_pack r_pack", "same terminal p.d."))


def test_by_symmetry_for_n_like_cells() -> None:
    found = written(LIKE + "pack = n of A in parallel; main = pack across R", "E_pack r_pack", "by symmetry")
    assert lines(found) == [
        "I_pack.1 = I/n",
        "V = E - (I/n) r",
        "V = E - I (r/n)",
        "E_pack = E",
        "r_pack = r/n",
    ]


@pytest.mark.parametrize(
    ("text", "targets", "route", "why"),
    [
        (ROW, "E_row", "same terminal p.d.", "row does not have its parts side by side"),
        (SIDE, "E_p", "same current", "both does not have its parts in series"),
        (SIDE, "E_p", "by symmetry", "not copies of one cell"),
        (SIDE, "I", "same terminal p.d.", "no group is named"),
        (PAIR + "both = A || B; both", "E_both", "same terminal p.d.", "nothing is joined across both"),
        (
            PAIR + "S_1 = source 3 V; g = A || S_1; main = g across R",
            "E_g",
            "same terminal p.d.",
            "without resistance",
        ),
        (
            PAIR + "S_1 = source 3 V; g = A || S_1; main = g across R",
            "E_g",
            "lines on the graph",
            "level line",
        ),
    ],
)
def test_a_route_that_does_not_fit_says_why(text: str, targets: str, route: str, why: str) -> None:
    assert why in refused(text, targets, route)
