from fractions import Fraction

from boardproof.algebra.polynomial import RationalFunction
from boardproof.derive.closing import at_the_end, dimension_of_name, written_value
from boardproof.derive.naming import Naming
from boardproof.quantities import AMPERE, OHM, PURE, VOLT
from unit.derive.boards import place, written

E, r, R = (RationalFunction.letter(name) for name in ("E", "r", "R"))


def test_limits_are_worked_out() -> None:
    current = E / (R + r)
    assert [at_the_end(current, "R", grows=grows) for grows in (True, False)] == ["0", "E/r"]
    assert at_the_end(E * R / (R + r), "R", grows=True) == "E"
    assert at_the_end(E * R / (R + r), "R", grows=False) == "0"
    assert at_the_end(R / r, "R", grows=True) == ""
    assert at_the_end(E / r, "r", grows=False) == ""


def test_values_as_a_teacher_types_them() -> None:
    assert written_value(Fraction(27, 5), VOLT) == ("5.4 V", True)
    assert written_value(Fraction(-1, 10), AMPERE) == ("-0.1 A", True)
    assert written_value(Fraction(5), PURE) == ("5", True)
    assert written_value(Fraction(1000, 2671), AMPERE)[1] is False


def test_dimensions_of_letters_names_and_lets() -> None:
    world = place("A = cell; R = resistor; main = A across R; let x = current in R")
    names = Naming(world, ("x",))
    assert [dimension_of_name(each, names) for each in ("E_A", "R", "x", "V_A")] == [VOLT, OHM, AMPERE, VOLT]


def test_numbers_show_the_working_with_units() -> None:
    text = "A = cell 6 V, 2 ohm; B = cell 4.5 V, 3 ohm; R = resistor 4.2 ohm; g = A || B; main = g across R"
    found = written(text, "E_g r_g", "same terminal p.d.", numbers=True)
    assert found.closing.numbers == (
        "E_g = (6 V/2 ohm + 4.5 V/3 ohm)/(1/(2 ohm) + 1/(3 ohm)) = 5.4 V",
        "r_g = 1/(1/(2 ohm) + 1/(3 ohm)) = 1.2 ohm",
    )
    assert "E_g = E_A if E_B = E_A and r_B = r_A" in found.closing.limits
