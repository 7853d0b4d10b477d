import pytest

from unit.derive.boards import lines, refused, written

PARTS = "A = cell E_1, r_1; B = cell E_2, r_2; C = cell E_3, r_3; D = cell E_4, r_4; R = resistor; "
MIXED = PARTS + "row = A + B; pair = C || -D; pack = row || pair; main = pack across R"


def test_the_innermost_group_comes_first() -> None:
    found = written(MIXED, "E_pack r_pack", "inside out")
    assert lines(found)[:6] == [
        "r_row = r_1 + r_2",
        "E_row = E_1 + E_2",
        "1/r_pair = 1/r_3 + 1/r_4",
        "E_pair/r_pair = E_3/r_3 - E_4/r_4",
        "1/r_pack = 1/r_row + 1/r_pair",
        "E_pack/r_pack = E_row/r_row + E_pair/r_pair",
    ]


def test_and_back_in_for_a_current_deep_inside() -> None:
    found = written(MIXED, "I I_4", "inside out")
    assert "I = E_pack/(R + r_pack)" in lines(found)
    assert "V_pair = V" in lines(found)
    assert lines(found)[-1] == "I_3 = (E_3 - V_pair)/r_3 and I_4 = (E_4 + V_pair)/r_4"


def test_into_a_row_there_is_only_one_current() -> None:
    text = PARTS + "pair = A || B; pack = pair + -C; main = pack across R"
    found = written(text, "I_3 I_1 V_3", "inside out")
    assert "I_3 = -I" in lines(found)
    assert "V_3 = E_3 + I r_3" in lines(found)


def test_a_load_of_two_resistors_is_one_resistor() -> None:
    text = PARTS + "R_2 = resistor; side = R || R_2; main = A across side"
    found = written(text, "I", "inside out")
    assert lines(found)[0] == "1/r_side = 1/R + 1/R_2"
    assert "I = E_1/(r_1 + r_side)" in lines(found)


def test_eight_unlike_cells_are_told_by_their_own_letters() -> None:
    names = [f"A{k}" for k in range(1, 9)]
    cells = "\n".join(f"{name} = cell E_{k}, r_{k}" for k, name in enumerate(names, 1))
    found = written(
        f"{cells}\nR = resistor\ng = {' || '.join(names)}\nmain = g across R", "E_g r_g", "inside out"
    )
    assert lines(found)[-1].startswith("r_g = 1/(1/r_1 + 1/r_2")


def test_rows_of_like_cells_keep_their_letters() -> None:
    text = "A = cell E, r; R = resistor; row = m of A in series; pack = n of row in parallel; main = pack across R"
    found = written(text, "E_pack r_pack", "inside out")
    assert lines(found)[-2:] == ["E_pack = m E", "r_pack = m r/n"]


@pytest.mark.parametrize(
    ("text", "targets", "why"),
    [
        (PARTS + "A across R", "E_nobody", "means nothing"),
        (
            PARTS + "network pack from a to b\n A from a to b\n B from a to b\nmain = pack across R",
            "I",
            "neither",
        ),
        (PARTS + "S_1 = source; pack = A || S_1; main = pack across R", "E_pack", "without resistance"),
        (PARTS + "pack = A || B; main = pack across C", "I_1", "no name"),
    ],
)
def test_a_route_that_does_not_fit_says_why(text: str, targets: str, why: str) -> None:
    assert why in refused(text, targets, "inside out")
