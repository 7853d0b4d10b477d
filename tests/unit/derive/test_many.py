import pytest

from unit.derive.boards import lines, refused, written

LIKE = "A = cell E = 1.5 V, r = 0.4 ohm; R = resistor 4 ohm; "
ROWS = (
    LIKE + "row = m of A in series; pack = n of row in parallel; main = pack across R; main but m = 8, n = 4"
)


def test_two_three_n_in_a_row() -> None:
    found = written(LIKE + "line = n of A in series; main = line across R", "E_line r_line", "two, three, n")
    assert lines(found) == [
        "r_two = 2 r", "E_two = 2 E", "r_three = 3 r", "E_three = 3 E", "r_line = n r", "E_line = n E"
    ]  # fmt: skip
    assert found.definitions == ("two = 2s of A", "three = 3s of A")


def test_two_three_n_side_by_side() -> None:
    found = written(LIKE + "bank = 5p of A; main = bank across R", "E_bank r_bank", "two, three, n")
    assert lines(found)[-2:] == ["r_bank = r/5", "E_bank = E"]


def test_factor_pairs_end_with_a_table() -> None:
    found = written(ROWS, "I", "factor pairs", numbers=True)
    assert lines(found)[:2] == ["I = m E/(R + m r/n)", "I = m n E/(n R + m r)"]
    assert len(found.closing.numbers) == 6
    assert found.closing.numbers[3] == "8*4*1.5 V/(4*4 ohm + 8*0.4 ohm) = 2.5 A"


@pytest.mark.parametrize(
    ("text", "targets", "route", "why"),
    [
        (LIKE + "bank = 2p of A; main = bank across R", "E_bank", "two, three, n", "not three"),
        (LIKE + "B = cell; g = A + B; main = g across R", "E_g", "two, three, n", "copies of one cell"),
        (LIKE + "main = A across R", "I", "factor pairs", "rows side by side"),
        (ROWS, "V", "factor pairs", "current in the load"),
        (LIKE + "main = A across R", "I", "backwards", "no group is named"),
        (
            LIKE + "two = A || R; L = resistor; b = 3s of A; main = b across L",
            "E_b",
            "two, three, n",
            "already means",
        ),
    ],
)
def test_a_route_that_does_not_fit_says_why(text: str, targets: str, route: str, why: str) -> None:
    assert why in refused(text, targets, route)
