import pytest

from boardproof.algebra.polynomial import RationalFunction
from boardproof.prove.eliminate import ONE, OutOfTime, eliminate

A, B = RationalFunction.letter("a"), RationalFunction.letter("b")
X, Y, Z = (0,), (1,), (2,)


def test_a_line_follows_from_linear_lines() -> None:
    first, second = {X: ONE, Y: -A}, {Y: ONE, (): -B}
    found = eliminate({X: ONE, (): -A * B}, [first, second])
    assert found.follows
    assert found.rest.used == {0, 1}
    assert found.rest.conditions == frozenset()


def test_what_does_not_follow_is_decided_if_all_is_linear() -> None:
    found = eliminate({X: ONE, (): -A}, [{X: ONE, Y: -ONE}])
    assert not found.follows
    assert found.is_decided


def test_a_pivot_that_may_vanish_becomes_a_condition() -> None:
    found = eliminate({X: ONE, Y: -ONE}, [{X: A - B, Y: B - A}])
    assert found.follows
    assert {repr(each) for each in found.rest.conditions} == {"a - b"}


def test_a_product_of_unknowns_is_solved_once_one_is_known() -> None:
    product, known = {(0, 1): ONE, Z: -ONE}, {X: ONE, (): -A}
    assert eliminate({Z: ONE, Y: -A}, [product, known]).follows


def test_lines_are_multiplied_by_unknowns_where_needed() -> None:
    first = {(0, 0): ONE, (1, 1): -ONE}  # x^2 = y^2
    line = {(0, 0, 0): ONE, (0, 1, 1): -ONE}  # x^3 = x y^2
    assert eliminate(line, [first]).follows


def test_what_multiplying_cannot_show_stays_undecided() -> None:
    found = eliminate({X: ONE, Y: -ONE}, [{(0, 0): ONE, (1, 1): -ONE}])
    assert not found.follows
    assert not found.is_decided


def test_a_positive_unknown_may_be_divided_out() -> None:
    line, given = {X: ONE, (): -A}, [{(0, 1): ONE, Y: -A}]
    assert not eliminate(line, given).follows
    assert eliminate(line, given, positive=frozenset({1})).follows


def test_a_condition_between_letters_proves_nothing_by_itself() -> None:
    assert not eliminate({(0, 1): ONE}, [{(): A - B}, {(0, 0): ONE, (1, 1): -ONE}]).follows


def test_hypotheses_about_other_unknowns_are_left_alone() -> None:
    found = eliminate({X: ONE}, [{Y: ONE, Z: -ONE}])
    assert found.solved == ()


def test_no_time_raises() -> None:
    with pytest.raises(OutOfTime):
        eliminate({X: ONE}, [{X: ONE, Y: ONE}], seconds=0)
