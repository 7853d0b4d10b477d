"""Values that make a statement true, in letters and in the scene's numbers."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra.meaning import Unknown
from boardproof.algebra.polynomial import RationalFunction
from boardproof.algebra.show import plain
from boardproof.algebra.tidy import to_expression
from boardproof.circuit.phrases import read_phrase
from boardproof.circuit.read import read_circuit
from boardproof.findings import Finding
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.quantities import OHM, VOLT
from boardproof.source import Source
from unit.prove.claim_cases import ONE, PAIR

BUOY = PAIR.replace("E_1, r_1", "E_1 = 6 V, r_1 = 2 ohm").replace("E_2, r_2", "E_2 = 4.5 V, r_2 = 3 ohm")
VALUED = ONE.replace("E, r", "E = 6 V, r = 1 ohm").replace("R = resistor", "R = resistor 5 ohm")


def asked(circuit, phrase):
    """A world in which X stands for a phrase."""
    read = read_circuit(Source("circuit", circuit).slice())
    worlds = Worlds(read.definitions)
    found = read_phrase(Source("x", phrase).slice(), read.definitions, read.at_hand)
    assert not isinstance(found, Finding)
    assert found is not None

    def meant(name):
        return found if name == "X" else worlds.meant(name, read.at_hand)

    return World(read.at_hand, meant, definitions=read.definitions, elsewhere=worlds.of)


@pytest.mark.parametrize(
    ("circuit", "phrase", "letters"),
    [
        (PAIR, "R that makes I_2 = 0", "E_2 r_1/(E_1 − E_2)"),
        (PAIR, "E_2 that makes I_2 = 0", "E_1 R/(R + r_1)"),
        (ONE, "R that makes V = E/2", "r"),
        (ONE, "R that makes I = E/(3 r)", "2 r"),
        (ONE, "r that makes V = E/2 when R = 5 ohm", "R"),
    ],
)
def test_linear_in_letters(circuit, phrase, letters):
    found = asked(circuit, phrase).in_letters("X")
    assert isinstance(found, RationalFunction)
    assert plain(to_expression(found)) == letters


def test_in_numbers_and_its_dimension():
    world = asked(BUOY, "R that makes I_2 = 0")
    assert world.in_numbers("X") == 6
    assert world.dimension("X") == OHM
    assert asked(BUOY, "E_2 that makes I_2 = 0 when R = 6 ohm").in_numbers("X") == Fraction(9, 2)
    assert asked(BUOY, "E_2 that makes I_2 = 0").dimension("X") == VOLT


def test_a_square_root_that_comes_out():
    world = asked(VALUED, "R that makes P = 8 W")
    found = world.in_letters("X")
    assert isinstance(found, Unknown)
    assert "square root" in found.reason
    two = world.in_numbers("X")  # 2 ohm and 1/2 ohm: power below the greatest is met twice
    assert isinstance(two, Unknown)
    assert "more than one R" in two.reason
    assert asked(VALUED, "R that makes P = 9 W").in_numbers("X") == 1
    assert asked(VALUED, "r that makes P = 5 W").in_numbers("X") == 1


@pytest.mark.parametrize(
    ("circuit", "phrase", "reason"),
    [
        (VALUED, "R that makes P = 7 W", "no end"),
        (VALUED, "R that makes P = 10 W", "no positive R"),
        (VALUED, "R that makes I = 7 A", "no positive R"),
        (VALUED, "R that makes I = E/(R + r)", "for every R"),
        (VALUED, "R that makes V > 2 V", "not one equation"),
        (VALUED, "R that makes V = ", "not one equation"),
        (VALUED, "R that makes I_9 = 0", "I_9"),
        (VALUED, "R that makes V = 0", "no R makes"),
        (VALUED, "R that makes I^3 = E/R", "of degree"),
    ],
)
def test_no_value_says_why(circuit, phrase, reason):
    found = asked(circuit, phrase).in_numbers("X")
    assert isinstance(found, Unknown)
    assert reason in found.reason
