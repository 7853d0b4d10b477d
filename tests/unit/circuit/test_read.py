"""Reading circuit blocks: what is put on the board, what is said of slips, what is never guessed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.circuit.define import define, revalued
from boardproof.circuit.model import Changed, Circuit, Copies, Leaf, Parallel, Run, Series, has_cells
from boardproof.circuit.read import Reading, circuit_at, read_circuit
from boardproof.findings import worded
from boardproof.source import Slice, Source, Span


def slice_of(text: str) -> Slice:
    return Slice(text, Span("t", 0, len(text)))


def reading(text: str, **options) -> Reading:
    return read_circuit(slice_of(text), **options)


def at_hand(text: str) -> Circuit:
    read = reading(text)
    assert [worded(each).message for each in read.findings if each.kind.severity == "error"] == []
    assert read.at_hand is not None
    return read.at_hand


def codes(text: str, **options) -> list[str]:
    return [each.kind.code for each in reading(text, **options).findings]


PARTS = "A, B, C, D = cell 1.5 V, 0.2 ohm\nR = resistor 10 ohm\n"


def test_rows_first_and_blocks_first_are_built_in_the_order_read() -> None:
    item = at_hand(PARTS + "bank = 3s4p of A\nbank").item
    assert isinstance(item, Copies)
    (rows,) = item.runs
    assert (item.joined, rows.count, rows.item.joined, rows.item.runs[0].count) == (
        "parallel",
        4,
        "series",
        3,
    )
    assert rows.item.runs[0].item.path == "bank.1.1"
    blocks = at_hand(PARTS + "bank = 4p3s of A\nbank").item
    assert (blocks.joined, blocks.runs[0].count, blocks.runs[0].item.runs[0].count) == ("series", 3, 4)


def test_copies_in_words_say_the_same() -> None:
    short = at_hand(PARTS + "bank = 3s4p of A\nbank")
    words = at_hand(PARTS + "row = 3 of A in series\nbank = 4 of row in parallel\nbank")
    assert short == words


@pytest.mark.parametrize(
    ("spelled", "same"),
    [
        ("A || B", "A ∥ B"),
        ("A + -B", "A + turned B"),
        ("A + B - C", "A + B + (-C)"),
        ("(A + B) across R", "R across (A + B)"),
        ("(A + B) across R", "(A +\n\n  B) across   # goes on\n R"),
    ],
)
def test_spellings_that_mean_the_same(spelled: str, same: str) -> None:
    assert at_hand(PARTS + spelled) == at_hand(PARTS + same)


def test_a_name_has_one_spelling() -> None:
    for name in ("A1", "A_1", "A₁", "A_{1}"):
        circuit = at_hand(f"A1 = cell\nR = resistor\n{name} across R")
        assert circuit.item.source.path == "A_1"


def test_definitions_hold_above_and_below() -> None:
    first, second = "main = both across R", "both = A || B\n" + PARTS
    known, wrong = define([slice_of(first), slice_of(second)])
    assert not wrong
    assert read_circuit(slice_of(first), known).at_hand == known.circuits["main"]


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("x = A across R\ny = B across R\nx", "x"),
        ("main = A across R\nother = B across R", "A across R"),
        ("x = A across R\ny = x but R = 5 ohm\nz = C || D", "x but R = 5 ohm"),
    ],
)
def test_which_circuit_is_at_hand(text: str, written: str) -> None:
    assert reading(PARTS + text).at_hand.written == written


def test_a_block_without_a_circuit_changes_nothing() -> None:
    assert reading(PARTS + "z = C || D").at_hand is None


def test_a_value_in_a_variation_leaves_the_first_circuit_alone() -> None:
    known, _ = define([slice_of(PARTS + "main = A across R\nnight = main but R = 40 ohm, turn A")])
    assert known.circuits["main"].values["R"] == 10
    assert known.circuits["night"].values["R"] == 40
    assert isinstance(known.circuits["night"].item.source, Changed)


def test_a_set_of_values_serves_as_a_change() -> None:
    text = "A = cell E_1, r_1; R = resistor; main = A across R\n"
    text += "values fresh: E_1 = 6 V, r_1 = 1 ohm, R = 5 ohm\nmain but fresh"
    assert dict(at_hand(text).values) == {"E_1": 6, "r_1": 1, "R": 5}


def test_a_member_given_its_own_value_gets_its_own_letter() -> None:
    circuit = at_hand(PARTS + "bank = 3s4p of A\nmain = bank across R\nmain but bank.2.3 = 1.2 V, 3 ohm")
    assert circuit.values["E_bank.2.3"] == Fraction(6, 5)
    assert circuit.values["E_A"] == Fraction(3, 2)
    runs = circuit.item.source.runs
    assert [(run.first, run.count) for run in runs] == [(1, 1), (2, 1), (3, 2)]
    assert [(run.first, run.count) for run in runs[1].item.runs] == [(1, 2), (3, 1)]


def test_a_letter_count_becomes_a_number_when_one_member_is_addressed() -> None:
    text = PARTS + "row = m of A in series\nmain = row across R\nmain but turn row.2, m = 4"
    row = at_hand(text).item.source
    assert [(run.first, run.count) for run in row.runs] == [(1, 1), (2, 1), (3, 2)]


@pytest.mark.parametrize("path", ["cell 3 of row 2 of bank", "bank.2.3", "cell 3 of bank.2"])
def test_members_are_named_by_numbers_or_words(path: str) -> None:
    circuit = at_hand(PARTS + f"bank = 3s4p of A\nmain = bank across R\nmain but turn {path}")
    assert circuit == at_hand(PARTS + "bank = 3s4p of A\nmain = bank across R\nmain but turn bank.2.3")


def test_a_family_stands_for_as_many_as_its_letter_says() -> None:
    circuit = at_hand("A = cell\nA_k = cell E_k, r_k for k = 3 to n\nR = resistor\nA || A_3 || ... || A_n")
    assert isinstance(circuit.item, Parallel)
    family = circuit.item.items[1]
    assert (family.first, family.last, family.part.emf.letter) == (3, "n", "E_k")


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("A across", "unread-line"),
        ("A B", "unread-line"),
        ("A || (B", "unread-line"),
        ("A || B + C", "unclear-grouping"),
        ("3s of A + B", "unread-line"),
        ("x = A across Z", "unknown-name"),
        ("x = cel 6 V", "unknown-kind"),
        ("x = cell 6", "missing-unit"),
        ("x = resistor 6 V", "wrong-unit"),
        ("x = resistor 6 V, open", "unread-line"),
        ("x = resistor open", "unread-line"),
        ("A = cell", "name-taken"),
        ("x = A || A", "part-used-twice"),
        ("main = A across R\ny = main + B", "already-closed"),
        ("(A across R) || B", "already-closed"),
        ("A across R across B", "already-closed"),
        ("x = y + A\ny = x + B", "made-of-itself"),
        ("x = 0s of A", "zero-count"),
        ("main = A across R but turn B", "no-such-member"),
        ("main = A across R but close A", "nothing-to-close"),
        ("main = A across R but frech", "unknown-name"),
        ("bank = 3s of A\nbank across R but turn bank.4", "no-such-member"),
        ("bank = n of A in series\nbank across R but turn bank.4", "no-such-member"),
        ("bank = n of A in series\nbank across R but n = 0", "zero-count"),
        ("bank = n of A in series\nbank across R but n = 2 V", "wrong-unit"),
        ("bank = n of A in series\nbank across R but n = 1/2", "unread-line"),
        ("main = A across R but R = 3 V", "wrong-unit"),
        ("main = A across R but R = 3", "missing-unit"),
        ("x = cell 1,5 V", "decimal-mark"),
        ("use batteries", "unknown-name"),
        ("A from a to b", "unread-line"),
        ("network x from a to z\nA from a to b", "unknown-name"),
        ("network x", "unread-line"),
        ("x = cell E = 1 V\ny = cell E = 2 V", "two-values"),
        ("x = cell E\ny = resistor E", "two-values"),
        ("A + B", "open-ends"),
        ("let = current in A", "reserved-name"),
        ("given V_A", "unread-line"),
        ("x = A + ... + B", "unread-line"),
        ("A_j = cell for k = 1 to n", "unread-line"),
        ("A_k = cell for k = 5 to 3", "zero-count"),
        ("x = 99999999s of A", "too-much"),
        ("x = 9999999 of A in series", "too-much"),
        ("x = 999s999p of A", "too-much"),
    ],
)
def test_a_slip_gives_its_finding(text: str, code: str) -> None:
    assert code in codes(PARTS + text)


def test_both_readings_of_an_unclear_group_are_offered() -> None:
    (found,) = reading(PARTS + "x = A + B || C + D").findings
    assert worded(found).help == "Write `(A + B) || (C + D)` or `A + (B || C) + D`."


def test_a_line_that_cannot_be_read_does_not_spoil_the_others() -> None:
    read = reading(PARTS + "x = = 3\nA across R")
    assert read.at_hand.written == "A across R"
    assert [each.kind.code for each in read.findings] == ["unread-line"]


def test_a_course_with_decimal_comma() -> None:
    circuit = read_circuit(slice_of("A = cell 1,5 V, 0,2 ohm\nR = resistor\nA across R"), decimal=",").at_hand
    assert circuit.values["E_A"] == Fraction(3, 2)


def test_a_file_is_taken_in_as_if_written_there_and_may_not_use_others() -> None:
    files = {"batteries.circuit": Source("batteries.circuit", "A = cell 6 V, 2 ohm\nuse more\nB = cell")}
    read = reading("use A from batteries\nR = resistor\nA across R", files=files)
    assert read.at_hand.values["E_A"] == 6
    assert "B" not in read.definitions.parts
    assert codes("use batteries", files=files) == ["unread-line"]


def test_changes_alone_are_made_to_the_circuit_at_hand() -> None:
    read = reading(PARTS + "S = switch closed\nmain = (A + S) across R\nvalues low: R = 1 ohm")
    for text in ("open S", "but open S", "R = 3 ohm, turn A", "low"):
        changed, wrong = circuit_at(slice_of(text), read.definitions, read.at_hand)
        assert not wrong
        assert changed != read.at_hand
    fresh, _ = circuit_at(slice_of("B across R"), read.definitions, read.at_hand)
    assert fresh.item.source.path == "B"


def test_other_numbers_reach_every_circuit() -> None:
    known, _ = define([slice_of(PARTS + "bank = n of A in series\nmain = bank across R")])
    drawn = revalued(known, {"R": Fraction(3), "n": Fraction(5)})
    assert dict(drawn.circuits["main"].values) == {
        "E_A": Fraction(3, 2),
        "r_A": Fraction(1, 5),
        "R": 3,
        "n": 5,
    }
    assert drawn.parts["R"].resistance.value == 3


def test_a_short_and_a_missing_emf_keep_the_part() -> None:
    item = at_hand(PARTS + "A across R but short A, no emf in A, turn A").item
    assert isinstance(item.source, Changed)
    assert has_cells(item.source)


def test_an_alias_is_a_group_of_one() -> None:
    item = at_hand(PARTS + "alone = A\nalone across R").item.source
    assert item == Series((Leaf("A", item.items[0].part),), "alone")


def test_links_tie_blocks_and_join_rows() -> None:
    blocks = at_hand(PARTS + "bank = 4p3s link 0.2 mohm of A\nbank").item
    assert (blocks.tied, blocks.link.value) == (True, Fraction(1, 5000))
    rows = at_hand(PARTS + "bank = 3s4p of A link 0.2 mohm\nbank").item
    assert (rows.tied, rows.link, rows.runs[0].item.link.value) == (False, None, Fraction(1, 5000))


def test_runs_of_like_neighbours_join_again() -> None:
    circuit = at_hand(PARTS + "bank = 3s of A\nbank across R but turn bank.2, turn bank.2")
    assert circuit.item.source.runs == (Run(1, 3, circuit.item.source.runs[0].item),)
