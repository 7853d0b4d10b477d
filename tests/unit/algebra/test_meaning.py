"""What written maths stands for: ratios, sums over an index, dimensions, numbers."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra.dimension import Mismatch, dimensioned
from boardproof.algebra.meaning import Unknown, number, square_root, typed_place, value
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.sigma import sum_of_family
from boardproof.algebra.written import read_line
from boardproof.quantities import AMPERE, OHM, PURE, VOLT, WATT
from boardproof.source import Source

letter = RationalFunction.letter


def tree(typed):
    line, found = read_line(Source("x", typed).slice(), known={"I", "R", "r"})
    assert not found
    return line.bare[0]


def ratio(typed, first=1):
    return value(tree(typed), letter, first=first)


@pytest.mark.parametrize(
    ("typed", "same"),
    [
        ("r_1 || r_2", "r_1 r_2/(r_1 + r_2)"),
        ("E_1/r_1 + E_2/r_2 + ... + E_n/r_n", r"\sum_{i=1}^{n} E_i/r_i"),
        ("r_1 + ... + r_n", r"\sum_{k=1}^{n} r_k"),
        (r"E_1 + \sum_{k=2}^{n} E_k", r"\sum_{k=1}^n E_k"),
        (r"\sum_{k=1}^{3} E_k", "E_1 + E_2 + E_3"),
        (r"\sum_{k=1}^{n} I r_k", r"I (r_1 + r_2 + ... + r_n)"),
        (r"\sum_{k=1}^{n} r", "n r"),
        (r"\sum_{k=3}^{n} r", "n r - 2 r"),
        (r"\sum_{k=1}^{n} (E_k - I r_k)", r"\sum_{k=1}^{n} E_k - I \sum_{j=1}^{n} r_j"),
        ("R + r_1 + r_2 + ... + r_n", r"\sum_{k=1}^{n} r_k + R"),
        ("r_1 + r_2 + ... + r_5", "r_1 + r_2 + r_3 + r_4 + r_5"),
        ("sqrt(R^2)", "R"),
        ("sqrt(4 R^2/(R + r)^2)", "2 R/(R + r)"),
        ("abs(-I)", "I"),
        ("2 V/4 ohm", "0.5 A"),
    ],
)
def test_different_spellings_of_one_thing(typed, same):
    assert ratio(typed) == ratio(same)
    assert ratio(typed, first=3) == ratio(same, first=3)


def test_low_terms_are_split_off_up_to_the_familys_first_index():
    family = sum_of_family(letter("E_k") / letter("r_k"), "n", first=3)
    assert ratio("E_1/r_1 + E_2/r_2 + ... + E_n/r_n", first=3) == ratio("E_1/r_1 + E_2/r_2") + family


def test_a_family_of_like_cells_is_a_product():
    def meaning(name):
        return letter("E") if name.startswith("E_") else letter(name)

    assert value(tree(r"\sum_{k=1}^{n} E_k"), meaning) == letter("n") * letter("E")


@pytest.mark.parametrize(
    "typed",
    ["r_1 + r_3 + ... + r_n", "r_1 + E_2 + ... + r_n", "1 + ... + n", "sqrt(R)", "abs(R - r)", "1/(R - R)",
     r"\sum_{k=1}^{n-1} r_k", r"\sum_{k=1}^{1000} r_k", "(r_1 + r_2 + r_3 + r_4)^8 (E_1 + E_2 + E_3 + E_4 + E_5)^8"],
)  # fmt: skip
def test_what_has_no_value_says_why(typed):
    found = ratio(typed)
    assert isinstance(found, Unknown)
    assert found.reason
    assert found.span is not None


def test_an_unknown_name_is_the_callers_to_explain():
    found = value(
        tree("E_1 + X"), lambda name: Unknown(f"{name} is nothing here") if name == "X" else letter(name)
    )
    assert found.reason == "X is nothing here"
    assert found.span.start == 6


DIMENSIONS = {"E": VOLT, "E_1": VOLT, "I": AMPERE, "r": OHM, "r_1": OHM, "r_2": OHM, "R": OHM, "P": WATT}


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("E/(R + r)", AMPERE),
        ("I^2 R", WATT),
        ("sqrt(P/R)", AMPERE),
        ("r_1 || r_2", OHM),
        ("E + 0", VOLT),
        ("0", None),
        ("E + X", VOLT),
        ("2*3", PURE),
        ("6 V/2 ohm", AMPERE),
        ("r_1 + ... + r_2", OHM),
        (r"\sum_{k=1}^{n} r", OHM),
    ],
)
def test_dimensions(typed, expected):
    assert dimensioned(tree(typed), DIMENSIONS.get) == expected


@pytest.mark.parametrize(
    ("typed", "left", "right", "at"),
    [
        ("1/r_1 + r_2", "a conductance (1/Ω)", "a resistance (Ω)", "r_2"),
        ("R + 3", "a resistance (Ω)", "a plain number", "3"),
        ("r_1 || E", "a resistance (Ω)", "a p.d. (V)", "E"),
        ("I (R + r_1 r_2)", "a resistance (Ω)", "a resistance squared (Ω²)", "r_1 r_2"),
        ("sqrt(R)", "a resistance (Ω)", "something that has a square root", "sqrt(R)"),
    ],
)
def test_mismatches_point_at_the_second(typed, left, right, at):
    found = dimensioned(tree(typed), DIMENSIONS.get)
    assert isinstance(found, Mismatch)
    assert (found.left, found.right) == (left, right)
    assert typed[found.span.start : found.span.end] == at


def test_numbers_and_their_places():
    assert number(tree("(2*3)/(2 + 3)")) == Fraction(6, 5)
    assert number(tree("1.5 V - 0.25 V")) == Fraction(5, 4)
    assert number(tree("R")) is None
    assert typed_place(tree("-0.50 A")) == Fraction(1, 100)
    assert typed_place(tree("6 V/2 ohm")) == 0


def test_roots_of_squares_only():
    R, r = letter("R"), letter("r")
    assert square_root((R + r) ** 2 / 9) == (R + r) / 3
    assert square_root((R - r) ** 2) is None
    assert square_root(R) is None
    assert square_root(-R * R) is None
