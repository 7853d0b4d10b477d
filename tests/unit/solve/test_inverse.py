from fractions import Fraction as F

from boardproof.algebra.polynomial import RationalFunction
from boardproof.findings import worded
from boardproof.solve.answers import answers
from boardproof.solve.equations import solve_equations
from boardproof.solve.inverse import Reading, inverse
from unit.solve.asking import circuit, ref

letter = RationalFunction.letter


def read(text, *readings, **options):
    """Readings as (question, value)."""
    whole = circuit(text)
    return inverse(
        [Reading(ref(question, whole), F(value), whole) for question, value in readings], **options
    )


def test_one_reading_fixes_one_letter():
    found = read("P = resistor\nmain = A across P", ("current A", "0.5"))
    assert (found.values, found.findings, found.rounded) == ({"R_P": 11}, (), frozenset())


def test_two_states_of_a_switch_give_emf_and_resistance():
    parts = "C = cell\nP = resistor 4 ohm\nS1 = switch\n"
    closed = circuit(parts + "main = C across (P || (R + S1)) but close S1")
    opened = circuit(parts + "main = C across (P || (R + S1))")
    found = inverse(
        [
            Reading(ref("pd C", closed), F("4.44444444444"), closed),
            Reading(ref("current C", opened), F("1.2"), opened),
        ]
    )
    assert abs(found.values["E_C"] - 6) < F(1, 10**8)
    assert abs(found.values["r_C"] - 1) < F(1, 10**8)


def test_too_few_readings_say_what_would_help():
    found = read("C = cell\nmain = C across R", ("current C", "0.5"))
    assert found.values == {}
    message = worded(found.findings[0])
    assert message.message == "The readings leave E_C and r_C open."
    assert message.help == "One more would fix it: the p.d. across C with nothing joined to it."
    assert found.put_into(letter("E_C") - letter("r_C") / 2).as_number == 5


def test_an_impossible_reading_is_named():
    found = read("P = resistor\nmain = A across P", ("current A", 8))
    assert found.values == {"R_P": F(-1, 4)}
    told = worded(found.findings[0])
    assert (told.code, told.message) == ("impossible-value", "R_P = -1/4 cannot be.")
    assert told.help == "Forced by: current of A = 8."
    assert read("P = resistor\nmain = A across P", ("current A", 8), allow_negative=True).findings == ()


def test_readings_that_contradict_each_other():
    found = read("P = resistor\nmain = X across P", ("current P", 2), ("current P", 3))
    assert [each.kind.code for each in found.findings] == ["clashing-readings"]


def test_of_two_roots_the_positive_one():
    found = read(
        "P = resistor\nmain = X across (P + (R || P2)) but R = 4 ohm\nP2 = resistor 4 ohm", ("power P", 4)
    )
    assert found.values["R_P"] in {F(1), F(4)}
    assert found.findings == ()


def test_an_irrational_root_is_rounded_and_says_so():
    found = solve_equations([letter("z") ** 2 - 2], ["z"])
    assert abs(found.values["z"] ** 2 - 2) < F(1, 10**25)
    assert found.rounded == {"z"}


def test_higher_powers_are_solved_in_numbers():
    found = solve_equations([letter("z") ** 3 - 2], ["z"])
    assert abs(float(found.values["z"]) ** 3 - 2) < 1e-12
    assert solve_equations([letter("z") ** 2 + 1], ["z"]).findings[0].kind.code == "clashing-readings"


def test_a_count_is_whole():
    whole = circuit("many = n of A in parallel\nmain = many across R")
    good = inverse([Reading(ref("pd many", whole), F(6) * 20 / 21, whole)])
    assert (good.values, good.findings) == ({"n": 2}, ())
    odd = inverse([Reading(ref("pd many", whole), F(5), whole)])
    assert odd.findings[0].kind.code == "impossible-value"


def test_a_balanced_bridge_needs_no_other_value():
    net = (
        "P1, P2, P3, P4, G = resistor\nnetwork net\n  X from a to d\n  P1 from d to b\n  P2 from b to a\n"
        "  P3 from d to c\n  P4 from c to a\n  G from b to c\nnet"
    )
    found = read(net, ("current G", 0))
    assert (
        found.partly["P1"] == letter("P2") * letter("P3") / letter("P4")
        if "P1" in found.partly
        else found.partly
    )


def test_a_sum_may_be_read():
    whole = circuit("P = resistor\nmain = X across (P || R)")
    both = (ref("current P", whole), ref("current R", whole))
    found = inverse([Reading(both, F("1.6"), whole)])
    assert found.values == {"R_P": 6}
    assert "+" in Reading(both, F(1), whole).words


def test_a_reading_in_time_fixes_a_resistance():
    whole = circuit("P = resistor\nmain = X across (P + K)")
    timed = Reading(ref("pd K", whole), F("0.001"), whole, level=F(3))
    found = inverse([timed])
    assert abs(float(found.values["R_P"]) - 0.001 / 2e-6 / 0.6931471805599453) < 1e-6
    assert found.rounded == {"R_P"}
    at = inverse([Reading(ref("pd K", whole), F(3), whole, at=F("0.001"))])
    assert abs(at.values["R_P"] - found.values["R_P"]) < F(1, 10**6)


def test_a_reading_in_time_that_cannot_be_leaves_it_open():
    whole = circuit("P = resistor\nmain = X across (P + K)")
    found = inverse([Reading(ref("pd K", whole), F("0.001"), whole, level=F(7))])
    assert [each.kind.code for each in found.findings] == ["not-fixed"]


def test_a_reading_of_what_has_no_meaning_gives_its_reason():
    whole = circuit("P = resistor\nmain = X across P")
    found = inverse([Reading(ref("current Z", whole), F(1), whole)])
    assert found.findings[0].kind.code == "no-such-quantity"


def test_values_found_answer_the_readings_again():
    text = "C = cell\nP = resistor\nmain = C across (P || R)"
    found = read(text, ("current P", "0.2"), ("pd R", "4"), ("short_circuit_current C", "6"))
    whole = circuit(f"{text} but E_C = {found.values['E_C']} V, r_C = {found.values['r_C']} ohm, P = 20 ohm")
    assert answers(whole).ask(ref("pd R", whole)).exact == 4


def test_letters_that_only_stand_in_higher_powers_together_stay_open():
    x, y = letter("x"), letter("y")
    found = solve_equations([x**2 + y**2 - 1], ["x", "y"])
    assert [each.kind.code for each in found.findings] == ["not-fixed"]
    assert found.values == {}


def test_the_words_of_a_reading_are_those_it_came_with():
    whole = circuit("P = resistor\nmain = A across P")
    reading = Reading(ref("current A", whole), F(8), whole, said="I = 8 A")
    assert "I = 8 A" in worded(inverse([reading]).findings[0]).help


def test_a_timed_reading_with_two_letters_open_fixes_neither():
    whole = circuit("P = resistor\nC = capacitor\nmain = X across (P + C)")
    found = inverse([Reading(ref("pd C", whole), F(1, 1000), whole, level=F(3))])
    assert found.values == {}
    assert (
        worded(found.findings[0]).help
        == "One more would fix it: a reading in another circuit with the same parts."
    )


def test_a_root_that_would_divide_by_nought_is_no_solution():
    x, y = letter("x"), letter("y")
    found = solve_equations([x * y - 1, x], ["x", "y"])
    assert [each.kind.code for each in found.findings] == ["clashing-readings"]
