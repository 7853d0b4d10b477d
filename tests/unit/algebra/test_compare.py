"""Conditions as a teacher would write them, points as a class can check them, and expressions worth reading."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra.answer import Always, Never, Undecided, When
from boardproof.algebra.certificate import by_order, by_squares
from boardproof.algebra.compare import small_counterexample, zero_when
from boardproof.algebra.linear import Singular, solve_linear
from boardproof.algebra.meaning import value
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.product import TooLarge
from boardproof.algebra.show import plain
from boardproof.algebra.sign import sign_of
from boardproof.algebra.tidy import balanced, to_expression
from boardproof.algebra.written import read_line
from boardproof.source import Source

letter = RationalFunction.letter
PAIR = "(E_1 r_2 + E_2 r_1)/(r_1 + r_2)"


def ratio(typed):
    line, found = read_line(Source("x", typed).slice(), known={"I", "R", "r", "E", "n"})
    assert not found
    return value(line.bare[0], letter)


def cases(answer):
    return " or ".join(" and ".join(plain(relation) for relation in case) for case in answer.cases)


@pytest.mark.parametrize(
    ("left", "right", "condition"),
    [
        (PAIR, "(E_1 + E_2)/2", "E_1 = E_2 or r_1 = r_2"),
        (PAIR, "E_1", "E_1 = E_2"),
        ("r_1 || r_2", "r_1/2", "r_1 = r_2"),
        ("(E_1 r_2 - E_2 r_1)/(r_1 + r_2)", "0", "E_1 r_2 = E_2 r_1"),
        ("E_1 (R + 2 r_2)", "E_2 (R + 2 r_1)", "E_1 (R + 2 r_2) = E_2 (R + 2 r_1)"),
        ("R^2", "2 r^2", "R² = 2 r²"),
    ],
)
def test_equal_only_when(left, right, condition):
    answer = zero_when(ratio(left) - ratio(right))
    assert isinstance(answer, When)
    assert cases(answer) == condition
    assert (ratio(left) - ratio(right)).evaluate(answer.fails) != 0
    if answer.holds:
        assert (ratio(left) - ratio(right)).evaluate(answer.holds) == 0


def test_an_irrational_solution_exists_but_no_point_is_given():
    assert zero_when(ratio("R^2 - 2 r^2")).holds is None


def test_always_and_never_equal():
    assert zero_when(ratio(PAIR) - ratio("(E_1/r_1 + E_2/r_2)/(1/r_1 + 1/r_2)")) == Always(
        "identity", "Both sides are the same expression."
    )
    assert isinstance(zero_when(ratio("r_1 || r_2") - ratio("r_1 + r_2")), Never)
    assert isinstance(zero_when(ratio("R^2 - R r + r^2")), Never)


def test_counts_are_whole():
    n = letter("n")
    assert isinstance(zero_when(2 * n - 3, ["n"]), Never)
    assert cases(zero_when(n - 1, ["n"])) == "n = 1"
    assert isinstance(sign_of(n - 1, "≥", counts=["n"]), Always)
    assert cases(sign_of(n - 1, ">", counts=["n"])) == "n > 1"


@pytest.mark.parametrize(
    ("left", "sign", "right", "condition"),
    [
        ("R", ">", "r_1 + r_2", "R > r_1 + r_2"),
        ("E_1 (2 R + r_2)", ">", "E_2 (2 R + r_1)", "E_1 (2 R + r_2) > E_2 (2 R + r_1)"),
        ("(E_1 - E_2) (r_1 - r_2)", ">", "0", "E_1 > E_2 and r_1 > r_2 or E_1 < E_2 and r_1 < r_2"),
        ("R r", "≤", "r^2", "R ≤ r"),
        ("(R - r)^2", ">", "0", "R ≠ r"),
        ("(R - r)^2", "≤", "0", "R = r"),
        ("R", "≠", "r", "R ≠ r"),
    ],
)
def test_inequalities_only_when(left, sign, right, condition):
    answer = sign_of(ratio(left) - ratio(right), sign)
    assert isinstance(answer, When)
    assert cases(answer) == condition


@pytest.mark.parametrize(
    ("left", "sign", "right", "given", "by"),
    [
        ("r_1 || r_2", "<", "r_1", [], "factors"),
        ("r_1 || r_2", "≤", "(r_1 + r_2)/4", [], "factors"),
        (PAIR, "<", "E_1", [("E_1 - E_2", ">")], "factors"),
        ("E_1/(R + r_1)", ">", "E_2/(R + r_2)", [("E_1 - E_2", ">"), ("E_1/r_1 - E_2/r_2", ">")], None),
        ("x^2 + y^2 + z^2", "≥", "x y + y z + z x", [], "squares"),
        ("(a + b + c + d)/4", "≥", "4/(1/a + 1/b + 1/c + 1/d)", [], "squares"),
        ("x^3 + y^3 + z^3", "≥", "3 x y z", [], None),
        ("E_1", "=", "E_2", [("E_1 - E_2", "=")], "identity"),
    ],
)
def test_proved(left, sign, right, given, by):
    facts = [(ratio(typed), comparison) for typed, comparison in given]
    answer = sign_of(ratio(left) - ratio(right), sign, given=facts)
    assert isinstance(answer, Always)
    assert by is None or answer.decided_by == by
    assert small_counterexample(ratio(left) - ratio(right), sign, given=facts) is None


def test_proofs_are_not_given_where_there_are_none():
    x, y, z = letter("x"), letter("y"), letter("z")
    for false in (x**2 + y**2 - 3 * x * y, x - y, x * y * z - x**3):
        assert by_squares(false) is None
        assert by_order(false) is None
    motzkin = x**4 * y**2 + x**2 * y**4 + z**6 - 3 * x**2 * y**2 * z**2
    assert not isinstance(sign_of(motzkin, "≥"), Never | When)
    assert isinstance(sign_of(-motzkin, ">"), Never | Undecided)


def test_counterexamples_are_small_and_true():
    point = small_counterexample(ratio(PAIR) - ratio("(E_1 + E_2)/2"))
    assert point == {"E_1": 6, "E_2": 3, "r_1": 1, "r_2": 2}
    assert small_counterexample(ratio("R - R")) is None


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("(E_1/r_1 + E_2/r_2)/(1/r_1 + 1/r_2)", "(E_1 r_2 + E_2 r_1)/(r_1 + r_2)"),
        ("E/(r + R)", "E/(R + r)"),
        ("2 (E_1 + E_2)/4", "(E_1 + E_2)/2"),
        ("E_2 - E_1", "E_2 − E_1"),
        ("-E_1 - E_2", "−(E_1 + E_2)"),
        ("I^2 R + I^2 r", "I² (R + r)"),
        ("0", "0"),
        ("3/2", "3/2"),
        (r"\sum_{k=1}^n E_k/r_k", "∑_{k=1}^{n} E_k/r_k"),
        ("r_10 + r_9", "r_9 + r_10"),
    ],
)
def test_expressions_as_a_teacher_writes_them(typed, written):
    assert plain(to_expression(ratio(typed))) == written


def test_a_ratio_is_written_alike_whichever_letter_was_met_first():
    late, early = RationalFunction.letter("Y_2"), RationalFunction.letter("Y_1")  # nobody else has these
    assert plain(to_expression(late / (early - late))) == "Y_2/(Y_1 − Y_2)"
    assert plain(to_expression(early / (late - early))) == "−Y_1/(Y_1 − Y_2)"


def test_balanced_comparisons_have_no_minus_sign():
    for typed in ("R - r", "r - R", "R - r_1 - r_2", "E_1 r_2 - E_2 r_1", "-R - r"):
        for sign in ("=", ">", "≤"):
            assert "−" not in plain(balanced(ratio(typed), sign))


def test_a_bridge_and_what_is_missing():
    R, r, E = letter("R"), letter("r"), letter("E")
    one, nought = RationalFunction.constant(1), RationalFunction.constant(0)
    current, pd = solve_linear([[r, one], [-R, one]], [E, nought])
    assert current == E / (R + r)
    assert pd == E * R / (R + r)
    assert solve_linear([[R, r]], [E]) == Singular(1, (1,), True)
    assert solve_linear([[R], [R]], [E, r]) == Singular(1, (), False)


def test_what_grows_too_large_is_refused_before_it_is_made():
    base = sum((letter(f"x_{k}") for k in range(1, 9)), RationalFunction.constant(1))
    with pytest.raises(TooLarge):
        base**8


def test_letters_met_late_do_not_disturb_earlier_ones():
    early = ratio(PAIR)
    for k in range(60):
        letter(f"late_{k}")
    again = ratio(PAIR)
    assert again == early
    assert hash(again) == hash(early)
    assert (early - again).is_zero
    assert (early + letter("late_59")).letters == early.letters | {"late_59"}


def test_parts_of_a_ratio():
    R, r = letter("R"), letter("r")
    assert (R / (R + r)).derivative("R") == r / (R + r) ** 2
    assert (R**2 * r).degree("R") == 2
    assert (R**2 + 3 * r).coefficients("R") == (3 * r, 0, 1)
    assert (R / r).evaluate({"R": Fraction(1, 2), "r": 3}) == Fraction(1, 6)
    with pytest.raises(ZeroDivisionError):
        (1 / (R - r)).evaluate({"R": 1, "r": 1})
    with pytest.raises(ZeroDivisionError):
        (1 / (R - r)).substitute({"R": r})


def test_equations_given_for_letters_that_hang_on_each_other():
    a, b, c, d = (RationalFunction.letter(name) for name in "abcd")
    answer = zero_when(a - d, given=((a - b * c, "="), (b - a * d, "="), (a - d, ">")))
    assert not isinstance(answer, Always)
