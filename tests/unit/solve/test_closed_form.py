import json
from dataclasses import asdict
from fractions import Fraction as F

import numpy as np
import pytest

from boardproof.findings import Finding
from boardproof.solve.answers import answers
from boardproof.solve.closed_form import Input, closed_form
from unit.solve.asking import circuit, ref

LOAD = Input("R", "Ω", F(1), F(40), F(10))
TURN = Input("B", "", F(-1), F(1), F(1), "turn")
SWITCH = tuple(Input(f"S:{each}", "", F(0), F(1), F(each == "b"), "switch") for each in "ab")
TEXT = "both = A || B\nmain = both across (R || (Q + S))"


def form(*names):
    whole = circuit(TEXT)
    asked = {name: ref(name, whole) for name in names}
    return whole, closed_form(whole, asked, [LOAD, TURN, *SWITCH])


def test_the_program_agrees_with_the_circuit_it_was_made_from():
    _, found = form("current A", "current Q", "pd R")
    for resistance in (1, 10, 33):
        for turned in ("", ", turn B"):
            for closed, pair in (("", (0, 1)), (", close S", (1, 0))):
                now = circuit(f"{TEXT} but R = {resistance} ohm{turned}{closed}")
                values = {
                    "R": F(resistance),
                    "B": F(-1 if turned else 1),
                    "S:a": F(pair[0]),
                    "S:b": F(pair[1]),
                }
                told = found.run(values)
                assert told == {name: answers(now).ask(ref(name, now)).exact for name in told}


def test_a_switch_may_stand_for_a_resistance():
    _, found = form("current Q")
    now = circuit("P = resistor 7 ohm\nboth = A || B\nmain = both across (R || (Q + P))")
    told = found.run({"S:a": F(1), "S:b": F(-7)})
    assert told == {"current Q": answers(now).ask(ref("current Q", now)).exact}


def test_it_travels_as_json_and_shares_what_is_equal():
    _, found = form("current A", "current both", "pd both")
    again = json.loads(json.dumps(asdict(found), default=str))
    assert len({tuple(line) for line in again["program"]}) == len(again["program"])
    ops = {line[0] for line in again["program"]}
    assert ops <= {"const", "add", "sub", "mul", "div", "neg"}
    first = len(again["inputs"])
    for place, (op, *operands) in enumerate(again["program"], first):
        assert op == "const" or all(each is None or each < place for each in operands)


def test_where_it_would_divide_by_nought_there_is_no_number():
    _, found = form("current Q")
    whole = found.run({"S:a": F(0), "S:b": F(0)})
    assert whole == {"current Q": None}
    assert found.nonzero


def test_many_cases_run_at_once():
    _, found = form("pd R")
    told = found.run({"R": np.array([1.0, 10.0]), "S:a": 0.0, "S:b": 1.0})["pd R"]
    assert np.allclose([float(each) for each in told], [5 / (1 + 2 / 3), 5 * 10 / (10 + 2 / 3)])


def test_what_has_no_formula_gives_its_reason():
    assert isinstance(form("current Z")[1], Finding)


def test_what_does_not_move_is_a_constant():
    _, found = form("emf A")
    assert found.run({}) == {"emf A": 6}


def test_minus_signs_are_kept():
    whole = circuit("both = A || -B\nmain = both across R")
    found = closed_form(whole, {"I": ref("current B", whole)}, [LOAD, Input("E_A", "V", F(1), F(9), F(6))])
    for emf in (F(1), F(9)):
        now = circuit(f"both = A || -B\nmain = both across R but E_A = {emf} V")
        assert found.run({"E_A": emf})["I"] == answers(now).ask(ref("current B", now)).exact


def test_an_equivalent_is_refused_while_a_cell_may_be_turned():
    whole = circuit("both = A || B\nmain = both across R")
    turn = Input("B", "", F(-1), F(1), F(1), "turn")
    with pytest.raises(ValueError, match="cannot follow"):
        closed_form(whole, {"E": ref("emf both", whole)}, [turn])


def test_the_resistance_seen_from_the_load_follows_a_switch_in_the_source():
    whole = circuit("both = A || (B + S)\nmain = both across R")
    load = [
        Input(f"R:{each}", "", F(-99), F(9), start, "switch") for each, start in (("a", F(1)), ("b", F(-2)))
    ]
    found = closed_form(whole, {"r": ref("resistance both", whole)}, [*load, *SWITCH])
    pair, alone = circuit("both = A || B\nmain = both across R"), circuit("main = A across R")
    both, one = (
        answers(each).ask(ref(f"resistance {of}", each)).exact for each, of in ((pair, "both"), (alone, "A"))
    )
    assert found.run({"S:a": F(1), "S:b": F(0)}) == {"r": both}
    assert found.run({"S:a": F(0), "S:b": F(1)}) == {"r": one}
