from unit.derive.boards import lines, refused, written
from unit.prove.boards import BRIDGE


def test_a_plain_loop_takes_one_line() -> None:
    found = written("A = cell E, r; R = resistor; main = A across R", "I", "junctions and loops")
    assert lines(found) == ["E = I (R + r)", "I = E/(R + r)"]


def test_the_bridge_of_the_lesson() -> None:
    found = written(BRIDGE, "I_b", "junctions and loops")
    assert lines(found)[0] == "I_b = I_P + I_Q"
    assert lines(found)[-1] == "I_b = E/(R_M + r)"
    assert {"junction rule", "loop rule", "algebra"} == {rule for step in found.steps for rule in step.rules}


def test_briefly_leaves_the_elimination_out() -> None:
    long, short = (
        written(BRIDGE, "I_b", "junctions and loops", briefly=briefly) for briefly in (False, True)
    )
    assert len(short.steps) < len(long.steps)


def test_two_unlike_cells_and_a_load() -> None:
    text = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; main = both across R"
    found = written(text, "I V_1", "junctions and loops")
    assert lines(found)[0] == "I = I_1 + I_2"
    assert lines(found)[-1].startswith("V_1 = ")


def test_what_is_too_much_for_a_board_is_refused() -> None:
    names = [f"A{k}" for k in range(1, 13)]
    cells = "\n".join(f"{name} = cell E_{k}, r_{k}" for k, name in enumerate(names, 1))
    text = f"{cells}\nR = resistor\ng = {' || '.join(names)}\nmain = g across R"
    assert "too many" in refused(text, "I", "junctions and loops")


def test_rows_of_like_cells_are_left_to_another_route() -> None:
    text = "A = cell; R = resistor; row = n of A in series; main = row across R"
    assert "row of like cells" in refused(text, "I", "junctions and loops")
    assert "something else" in refused(text, "E_row", "junctions and loops")
