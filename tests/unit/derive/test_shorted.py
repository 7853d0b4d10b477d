import pytest

from unit.derive.boards import lines, refused, written

PAIR = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; "
SIDE = PAIR + "both = A || B; main = both across R; "


def test_short_then_emfs_out_is_the_lesson_s_argument() -> None:
    text = (
        SIDE + "let E_p = emf of both; let r_p = resistance of both; let I_s = short-circuit current of both"
    )
    found = written(text, "E_p r_p", "short, then EMFs taken out")
    assert lines(found)[:4] == [
        "I_s = E_1/r_1 + E_2/r_2",
        "1/r_p = 1/r_1 + 1/r_2",
        "E_p = I_s r_p",
        "E_p = (E_1/r_1 + E_2/r_2)/(1/r_1 + 1/r_2)",
    ]
    assert found.definitions == ()
    assert [step.moves for step in found.steps[:3]] == [
        ("short both",),
        ("no emf in both",),
        ("replace both by one cell",),
    ]
    assert "on paper only" in found.steps[0].words


def test_a_name_that_is_lacking_is_asked_for() -> None:
    found = written(SIDE, "E_both", "short, then EMFs taken out")
    assert found.definitions == ("let I_s = short-circuit current of both",)


def test_a_row_inside_goes_by_its_place() -> None:
    text = "A = cell; B = cell; C = cell; R = resistor; g = (A + B) || C; main = g across R"
    found = written(text, "E_g r_g", "short, then EMFs taken out")
    assert lines(found)[1] == "1/r_g = 1/r_g.1 + 1/r_C"


def test_open_then_short_uses_the_lesson_s_own_names() -> None:
    text = SIDE + "let I_round = current in A when main but remove R; let I_s = short-circuit current of both"
    found = written(text, "E_both r_both", "open, then short")
    assert lines(found)[0] == "I_round = (E_1 - E_2)/(r_1 + r_2)"
    assert found.definitions == ("let V_0 = p.d. across both when both",)
    assert lines(found)[-1] == "r_both = (r_1 r_2)/(r_1 + r_2)"


def test_open_then_short_for_the_emf_of_a_turned_pair() -> None:
    found = written(SIDE.replace("|| B", "|| -B"), "E_both", "open, then short")
    assert lines(found)[0] == "I_0 = (E_1 + E_2)/(r_1 + r_2)"


@pytest.mark.parametrize(
    ("text", "targets", "route", "why"),
    [
        (SIDE.replace("|| B", "|| -B"), "E_both r_both", "open, then short", "could cancel"),
        (SIDE.replace("A ||", "-A ||"), "E_both", "open, then short", "turned"),
        ("A = cell; R = resistor; g = 3p of A; main = g across R", "E_g", "open, then short", "two cells"),
        (SIDE + "let I_s = current in A", "E_both", "short, then EMFs taken out", "already means"),
        (SIDE + "let I_0 = current in R", "E_both", "open, then short", "already means"),
        (PAIR + "S_1 = source; g = A || S_1; main = g across R", "E_g", "open, then short", "without limit"),
    ],
)
def test_a_route_that_does_not_fit_says_why(text: str, targets: str, route: str, why: str) -> None:
    assert why in refused(text, targets, route)
