"""What names and phrases mean in a circuit, each case of the table of names."""

from __future__ import annotations

import pytest

from boardproof.circuit.look_up import Resolved, Unresolved
from boardproof.circuit.names import Meaning, dimension_of, known_names, resolve
from boardproof.circuit.phrases import read_phrase
from boardproof.circuit.read import read_circuit
from boardproof.findings import worded
from boardproof.quantities import AMPERE, OHM, PURE, VOLT
from boardproof.source import Slice, Span


def slice_of(text: str) -> Slice:
    return Slice(text, Span("t", 0, len(text)))


PARTS = """A = cell E_1 = 6 V, r_1 = 2 ohm
B = cell E_2, r_2
C = cell 1.5 V
R = resistor 10 ohm
R_load = resistor
K = capacitor
S = switch
M = voltmeter
A_k = cell E_k, r_k for k = 3 to n
both = A || -B
bank = 3s4p of C
row = m of C in series
many = A || A_3 || ... || A_n
main = both across R
let E_p = emf of both
let I_0 = current in R when main but turn B
let N = 2 m
let I_bad = current in K
network web from a to d
  A from a to b
  B from b to d
  R from a to b
"""


def asked(name: str, circuit: str = "main"):
    read = read_circuit(slice_of(PARTS + circuit))
    assert not [each for each in read.findings if each.kind.severity == "error"]
    return resolve(name, read.definitions, read.at_hand), read


@pytest.mark.parametrize(
    ("name", "circuit", "kind", "of", "sense"),
    [
        ("E_1", "main", "letter", ("E_1",), 1),
        ("ε₁", "main", "letter", ("E_1",), 1),
        ("E_A", "main", "letter", ("E_1",), 1),
        ("r_B", "main", "letter", ("r_2",), 1),
        ("R", "main", "letter", ("R",), 1),
        ("R_load", "A across R_load", "letter", ("R_load",), 1),
        ("I_load", "A across R_load", "current", ("R_load",), 1),
        ("E_both", "main", "emf", ("both",), 1),
        ("R_both", "main", "resistance", ("both",), 1),
        ("E_p", "main", "emf", ("both",), 1),
        ("I_1", "main", "current", ("A",), 1),
        ("V_2", "main", "pd", ("B",), 1),
        ("I_both", "main", "current", ("both",), 1),
        ("I", "main", "current", ("R",), 1),
        ("V", "A across (R + R_load)", "pd", ("2",), 1),
        ("E", "A across R", "letter", ("E_1",), 1),
        ("r", "A across R", "letter", ("r_1",), 1),
        ("C_K", "A across K", "letter", ("C_K",), 1),
        ("V_ab", "web", "pd", ("a", "b"), 1),
        ("E_bank.2.3", "bank across R", "letter", ("E_C",), 1),
        ("E_bank.2", "bank across R", "emf", ("bank.2",), 1),
        ("I_C", "bank across R", "current", ("bank.1.1",), 1),
        ("m", "row across R", "count", ("m",), 1),
        ("E_row", "main", "emf", ("row",), 1),
        ("E_n", "many across R", "letter", ("E_n",), 1),
        ("E_3", "many across R", "letter", ("E_3",), 1),
        ("I_0", "A across R", "current", ("R",), 1),
    ],
)
def test_a_name_means(name: str, circuit: str, kind: str, of: tuple[str, ...], sense: int) -> None:
    found, _ = asked(name, circuit)
    assert isinstance(found, Resolved)
    assert (found.ref.kind, found.ref.of, found.ref.sense) == (kind, of, sense)
    assert found.ref.circuit == found.circuit.id


@pytest.mark.parametrize(
    ("name", "circuit", "code"),
    [
        ("X", "main", "unknown-name"),
        ("E_X", "main", "unknown-name"),
        ("E", "main", "two-meanings"),
        ("I", "both", "unknown-name"),
        ("I", "A across B", "two-meanings"),
        ("E_R", "main", "not-of-this"),
        ("I_B", "A across R", "no-such-member"),
        ("I_bad", "main", "no-such-member"),
        ("E_bank.9", "bank across R", "no-such-member"),
        ("E_main", "main", "not-of-this"),
        ("V_main", "main", "not-of-this"),
        ("C_both", "main", "not-of-this"),
        ("I_C", "bank across R but turn bank.1.2", "two-meanings"),
    ],
)
def test_a_name_that_means_nothing_here(name: str, circuit: str, code: str) -> None:
    found, _ = asked(name, circuit)
    assert isinstance(found, Unresolved)
    assert found.at(Span("t", 3, 4)).span == Span("t", 3, 4)
    assert worded(found.finding).message
    assert found.finding.kind.code == code


def test_two_claims_on_a_name_are_both_told() -> None:
    read = read_circuit(slice_of("A = cell E_1, r_1; R_1 = resistor; A across R_1"))
    found = resolve("I_1", read.definitions, read.at_hand)
    assert isinstance(found, Unresolved)
    assert worded(found.finding).message == "I_1 could be current in A or current in R_1."


def test_a_let_goes_before_an_implied_name() -> None:
    read = read_circuit(
        slice_of("A, B = cell; R = resistor; both = A || B; let E_A = emf of both; both across R")
    )
    found = resolve("E_A", read.definitions, read.at_hand)
    assert isinstance(found, Resolved)
    assert found.ref.kind == "emf"


def test_a_let_may_name_an_expression() -> None:
    found, _ = asked("N")
    assert isinstance(found, Meaning)
    assert found.let.body.text == "2 m"


def test_a_group_outside_the_circuit_is_asked_by_itself_with_the_values_at_hand() -> None:
    read = read_circuit(slice_of(PARTS + "A across R but E_1 = 9 V"))
    found = resolve("E_both", read.definitions, read.at_hand)
    assert isinstance(found, Resolved)
    assert found.circuit != read.at_hand
    assert found.circuit.values["E_1"] == 9


def test_a_near_name_is_offered() -> None:
    found, _ = asked("E_boht")
    assert isinstance(found, Unresolved)
    assert "E_both" in worded(found.finding).help


def test_known_names_can_all_be_resolved() -> None:
    _, read = asked("E_1")
    names = known_names(read.definitions, read.at_hand)
    assert {"E_1", "r_2", "R", "I", "V", "E_p", "I_both", "E_both", "m", "N"} <= names
    unresolved = {
        name for name in names if isinstance(resolve(name, read.definitions, read.at_hand), Unresolved)
    }
    assert unresolved <= {"I_bad", "E_k", "r_k"}


@pytest.mark.parametrize(
    ("phrase", "kind", "of", "sense"),
    [
        ("emf of both", "emf", ("both",), 1),
        ("the e.m.f. of -both", "emf", ("both",), -1),
        ("emf of A", "letter", ("E_1",), 1),
        ("internal resistance of A", "letter", ("r_1",), 1),
        ("resistance of both", "resistance", ("both",), 1),
        ("current in -B", "current", ("B",), -1),
        ("current through the R", "current", ("R",), 1),
        ("p.d. across R", "pd", ("R",), 1),
        ("terminal p.d. of A", "terminal_pd", ("A",), 1),
        ("lost volts in A", "lost_volts", ("A",), 1),
        ("short-circuit current of both", "short_circuit_current", ("both",), 1),
        ("power in R", "power", ("R",), 1),
        ("power given by A", "power_given", ("A",), 1),
        ("power out of A", "power_out", ("A",), 1),
        ("heat in B", "heat", ("B",), 1),
        ("greatest power from both", "greatest_power", ("both",), 1),
        ("efficiency of A", "efficiency", ("A",), 1),
        ("number of cells in both", "cells_in", ("both",), 1),
        ("R that makes I_2 = 0", "value_that_makes", ("R", "I_2 = 0"), 1),
        ("E as read", "as_read", ("E",), 1),
        ("current in A when main but remove R", "current", ("A",), 1),
        ("current in A when turn B, R = 3 ohm", "current", ("A",), 1),
        ("p.d. from a to b when web", "pd", ("a", "b"), 1),
        ("potential of a when web", "potential", ("a",), 1),
        ("time constant of K when A across K", "time_constant", ("K",), 1),
        ("current in C when bank across R", "current", ("bank.1.1",), 1),
        ("charge on K when A across K", "charge", ("K",), 1),
        ("current in cell 3 of row 2 of bank when bank across R", "current", ("bank.2.3",), 1),
    ],
)
def test_a_phrase_asks_for(phrase: str, kind: str, of: tuple[str, ...], sense: int) -> None:
    read = read_circuit(slice_of(PARTS + "main"))
    found = read_phrase(slice_of(phrase), read.definitions, read.at_hand)
    assert isinstance(found, Resolved), found
    assert (found.ref.kind, found.ref.of, found.ref.sense) == (kind, of, sense)


@pytest.mark.parametrize(
    ("phrase", "code"),
    [
        ("current in Q", "unknown-name"),
        ("current in C", "no-such-member"),
        ("emf of R", "not-of-this"),
        ("capacitance of A", "not-of-this"),
        ("potential of a", "unknown-name"),
        ("Q that makes I = 0", "unknown-name"),
        ("current in R when nonsense", "unknown-name"),
        ("current in R and A", "unread-line"),
        ("current in " + "x" * 500, "too-much"),
    ],
)
def test_a_phrase_that_asks_for_nothing(phrase: str, code: str) -> None:
    read = read_circuit(slice_of(PARTS + "main"))
    found = read_phrase(slice_of(phrase), read.definitions, read.at_hand)
    assert isinstance(found, Unresolved)
    assert found.finding.kind.code == code


def test_what_is_no_phrase_is_left_to_the_reader_of_maths() -> None:
    read = read_circuit(slice_of(PARTS + "main"))
    assert read_phrase(slice_of("I_1 + I_2"), read.definitions, read.at_hand) is None


def test_dimensions_of_names() -> None:
    for name, dimension in {"E_1": VOLT, "I": AMPERE, "R": OHM, "E_both": VOLT, "m": PURE, "V": VOLT}.items():
        found, read = asked(name)
        assert isinstance(found, Resolved)
        assert dimension_of(found.ref, read.definitions, found.circuit) == dimension
