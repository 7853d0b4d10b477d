from fractions import Fraction

from boardproof.derive.numbers import good_values, is_plain
from unit.derive.boards import place

PAIR = "A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; both = A || B; main = both across R; "


def test_targets_come_out_plain_and_unlike_letters_unlike() -> None:
    world = place(PAIR)
    values = good_values(world, ["E_both", "r_both", "I", "I_2"])
    assert values is not None
    assert values["E_1"] != values["E_2"]
    assert values["r_1"] != values["r_2"]
    emf, resistance = 0, 0
    for e, r in (("E_1", "r_1"), ("E_2", "r_2")):
        emf, resistance = emf + values[e] / values[r], resistance + 1 / values[r]
    assert is_plain(emf / resistance)
    assert is_plain(1 / resistance)


def test_one_seed_gives_one_set() -> None:
    world = place(PAIR)
    assert good_values(world, ["I"], seed=3) == good_values(world, ["I"], seed=3)


def test_values_that_must_stay_do() -> None:
    values = good_values(place(PAIR), ["I"], kept={"R": Fraction(4)})
    assert values is not None
    assert values["R"] == 4


def test_what_cannot_come_out_well_gives_none() -> None:
    assert good_values(place(PAIR), ["nobody"]) is None
    assert (
        good_values(place("A = cell E, r; B = cell E, r; R = resistor; g = A + -B; main = g across R"), ["I"])
        is None
    )


def test_counts_are_whole() -> None:
    text = "A = cell E, r; R = resistor; row = n of A in series; main = row across R"
    values = good_values(place(text), ["I"])
    assert values is not None
    assert values["n"].denominator == 1
