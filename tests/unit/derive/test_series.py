from unit.derive.boards import lines, written

PAIR = "A = cell E_1 = 6 V, r_1 = 2 ohm; B = cell E_2 = 4.5 V, r_2 = 3 ohm; R = resistor 4.2 ohm; "
SIDE = PAIR + "both = A || B; main = both across R; let E_p = emf of both; let r_p = resistance of both"
ROW = PAIR + "row = A + B; main = row across R"
LIKE = "A = cell E, r; R = resistor; "


def test_same_current_for_two_cells() -> None:
    found = written(ROW, "E_row r_row", "same current")
    assert lines(found) == [
        "V = V_1 + V_2",
        "V = (E_1 - I r_1) + (E_2 - I r_2)",
        "V = (E_1 + E_2) - I (r_1 + r_2)",
        "E_row = E_1 + E_2",
        "r_row = r_1 + r_2",
    ]


def test_like_cells_of_which_one_is_turned() -> None:
    text = LIKE + "line = 4s of A; main = line across R; main but turn line.2"
    found = written(text, "E_line r_line", "same current")
    assert lines(found)[-2:] == ["E_line = 2 E", "r_line = 4 r"]


def test_two_like_cells_against_each_other_leave_no_cell() -> None:
    text = LIKE + "B = cell E, r; g = A + -B; main = g across R"
    found = written(text, "E_g r_g", "same current")
    assert "E_g = 0" in lines(found)
    assert "no cell" in found.steps[-2].words


def test_two_turned_cells_make_a_turned_one() -> None:
    found = written(PAIR + "g = -A + -B; main = g across R", "E_g", "same current")
    assert "turned" in found.steps[-1].words


def test_a_resistor_in_a_row_adds_its_resistance_only() -> None:
    text = PAIR + "L = resistor; g = A + L; main = g across R"
    found = written(text, "E_g r_g", "same current")
    assert lines(found)[-2:] == ["E_g = E_1", "r_g = R_L + r_1"]


def test_a_group_inside_a_row_goes_by_its_place() -> None:
    found = written(PAIR + "g = A + (B || R); L = resistor; main = g across L", "E_g", "same current")
    assert lines(found)[-1] == "E_g = E_1 + E_g.2"


def test_lines_on_the_graph_both_ways() -> None:
    assert "heights add" in " ".join(s.words for s in written(ROW, "E_row r_row", "lines on the graph").steps)
    assert "wide" in " ".join(s.words for s in written(SIDE, "E_p r_p", "lines on the graph").steps)
