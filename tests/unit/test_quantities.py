"""Units as people spell them, values as people read them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.quantities import (
    AMPERE,
    COULOMB,
    FARAD,
    JOULE,
    NARROW_SPACE,
    OHM,
    PURE,
    SECOND,
    VOLT,
    WATT,
    Quantity,
    Style,
    agrees,
    dimension_words,
    read_decimal,
    read_quantity,
    read_unit,
    round_to_place,
    shown,
    si_unit,
    speech,
    unit_spellings,
)


@pytest.mark.parametrize(
    ("typed", "symbol", "scale"),
    [
        ("V", "V", 1),
        ("volts", "V", 1),
        ("amps", "A", 1),
        ("milliamperes", "mA", Fraction(1, 1000)),
        ("kilohms", "kΩ", 1000),
        ("kilo" + "ohms", "kΩ", 1000),
        ("megohm", "MΩ", 10**6),
        ("mohm", "mΩ", Fraction(1, 1000)),
        ("Mohm", "MΩ", 10**6),
        ("\u2126", "Ω", 1),
        ("uF", "µF", Fraction(1, 10**6)),
        ("μF", "µF", Fraction(1, 10**6)),
        ("min", "min", 60),
        ("hours", "h", 3600),
        ("A h", "A h", 3600),
        ("mAh", "mA h", Fraction(18, 5)),
        ("kWh", "kW h", 3600000),
        ("Joules", "J", 1),
    ],
)
def test_spellings(typed, symbol, scale):
    unit = read_unit(typed)
    assert (unit.symbol, unit.scale) == (symbol, scale)


@pytest.mark.parametrize("typed", ["", "x", "v", "MMV", "ohmss", "kmin", "hV"])
def test_no_units(typed):
    assert read_unit(typed) is None


def test_every_spelling_reads_back():
    assert all(read_unit(each) is not None for each in unit_spellings())


def test_dimensions_have_units_and_words():
    for dimension in (VOLT, AMPERE, OHM, WATT, JOULE, COULOMB, FARAD, SECOND):
        assert si_unit(dimension).symbol in dimension_words(dimension)
    assert si_unit(PURE) is None
    assert dimension_words(VOLT * SECOND).endswith("V s")
    assert dimension_words(OHM**-1) == "a conductance (1/Ω)"


@pytest.mark.parametrize(
    ("typed", "decimal", "value"),
    [
        ("1.5 V", ".", Quantity(Fraction(3, 2), VOLT)),
        ("1/3 ohm", ".", Quantity(Fraction(1, 3), OHM)),
        ("-0.2 ohm", ".", Quantity(Fraction(-1, 5), OHM)),
        ("10 000 ohm", ".", Quantity(Fraction(10000), OHM)),
        ("4", ".", Quantity(Fraction(4), PURE)),
        ("1,5 V", ",", Quantity(Fraction(3, 2), VOLT)),
        ("1.5 V", ",", Quantity(Fraction(3, 2), VOLT)),
        ("1.500 V", ",", None),
        ("1,5 V", ".", None),
        ("1/0 V", ".", None),
        ("5 apples", ".", None),
        ("1 00 V", ".", None),
        ("1.2.3 V", ".", None),
        ("٣ V", ".", None),
        ("9" * 16 + " V", ".", None),
    ],
)
def test_quantities(typed, decimal, value):
    assert read_quantity(typed, decimal) == value


def test_decimals_keep_their_places():
    assert read_decimal("0.50") == (Fraction(1, 2), 2)
    assert read_decimal(".5") == (Fraction(1, 2), 1)
    assert read_decimal("") is None


@pytest.mark.parametrize(
    ("value", "up", "even"),
    [("1/8", "13/100", "3/25"), ("-1/8", "-13/100", "-3/25"), ("3/200", "1/50", "1/50")],
)
def test_halves(value, up, even):
    place = Fraction(1, 100)
    assert round_to_place(Fraction(value), place) == Fraction(up)
    assert round_to_place(Fraction(value), place, "even") == Fraction(even)


@pytest.mark.parametrize(
    ("value", "dimension", "text"),
    [
        ("1/2", AMPERE, "0.5 A"),
        ("1/20", AMPERE, "50 mA"),
        ("1/3", AMPERE, "1/3 A"),
        ("16/3", VOLT, "16/3 V"),
        ("1501", OHM, "1.50 kΩ"),
        ("1500", OHM, "1.5 kΩ"),
        ("-1/10", AMPERE, "−0.1 A"),
        ("0", VOLT, "0 V"),
        ("5/8", WATT, "0.625 W"),
        ("123/23", VOLT, "5.35 V"),
        ("9999/1000", VOLT, "10.0 V"),
        ("1/1000000000", FARAD, "1 nF"),
        ("1234", PURE, "1234"),
        ("12345", PURE, "12 345"),
        ("2/3", PURE, "2/3"),
        ("999999/1000", VOLT, "1.00 kV"),
    ],
)
def test_shown(value, dimension, text):
    assert shown(Fraction(value), dimension).replace(NARROW_SPACE, " ") == text


def test_shown_by_request():
    half = Fraction(1, 2)
    assert shown(half, AMPERE, figures=2) == f"0.50{NARROW_SPACE}A"
    assert shown(half, AMPERE, unit=read_unit("mA")) == f"500{NARROW_SPACE}mA"
    assert shown(half, OHM, Style(decimal=",", ohm="ohm")) == f"0,5{NARROW_SPACE}ohm"
    assert shown(half, VOLT / SECOND) == f"0.5{NARROW_SPACE}V/s"


def test_agreement_is_correct_rounding():
    exact, place = Fraction(16, 3), Fraction(1, 100)
    assert agrees(exact, Fraction(533, 100), place)
    assert not agrees(exact, Fraction(532, 100), place)
    assert not agrees(exact, Fraction(533, 100), Fraction(0))
    assert agrees(Fraction(1, 8), Fraction(12, 100), place, "even")
    assert not agrees(Fraction(1, 8), Fraction(12, 100), place)


@pytest.mark.parametrize(
    ("value", "dimension", "words"),
    [
        ("1/2", AMPERE, "half an ampere"),
        ("1/4", VOLT, "a quarter of a volt"),
        ("1", OHM, "one ohm"),
        ("5/4", VOLT, "one point two five volts"),
        ("-3/2", VOLT, "minus one point five volts"),
        ("12", PURE, "twelve"),
        ("121", OHM, "one hundred and twenty-one ohms"),
        ("1500", OHM, "one point five kilohms"),
        ("16/3", VOLT, "sixteen over three volts"),
    ],
)
def test_spoken_values(value, dimension, words):
    assert speech(Fraction(value), dimension) == words
