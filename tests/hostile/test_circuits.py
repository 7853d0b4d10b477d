"""Circuits made to do harm: long, deep, huge, odd. Each ends soon, with a finding or a circuit, never an error."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.names import known_names, resolve
from boardproof.circuit.phrases import read_phrase
from boardproof.circuit.read import Reading, circuit_at, read_circuit
from boardproof.findings import worded
from boardproof.source import Slice, Source, Span


def slice_of(text: str) -> Slice:
    return Slice(text, Span("hostile", 0, len(text)))


def reading(text: str) -> Reading:
    read = read_circuit(slice_of(text))
    for found in read.findings:
        assert worded(found).message
        assert 0 <= found.span.start <= found.span.end <= len(text)
    if read.at_hand:
        lay_flat(read.at_hand)
    return read


@pytest.mark.parametrize(
    "text",
    [
        "(" * 5000 + "A" + ")" * 5000,
        "A = cell; " + "(" * 300 + "A" + ")" * 300,
        "A" * 5000 + " = cell",
        "A = cell " + "1" * 5000 + " V",
        "A = cell; x = 999999 of A in series",
        "A = cell; x = 999999s999999p of A; x",
        "\n".join(f"A{n} = cell" for n in range(5000)),
        "A = cell; x0 = 9s of A; " + "; ".join(f"x{n + 1} = 9p of x{n}" for n in range(60)),
        "A = cell; x0 = 2s1p of A; " + "; ".join(f"x{n + 1} = 1 of x{n} in series" for n in range(60)),
        "A = cell; x0 = A + A; " + "; ".join(f"x{n + 1} = x{n} + x{n}" for n in range(60)),
        "; ".join(f"x{n} = x{n + 1} + x{n + 1}" for n in range(300)),
        "A = cell; x = 99s99p links of A; x",
        "A + " * 2000,
        ", ".join("A" for _ in range(3000)) + " = cell",
        "network x\n" + "A from a to b\n" * 1500,
        "A = cell but but but",
        "given " + "V = 1 V, " * 900,
        "let x = " + "y " * 900,
        "\x00\x01\ufeff\u202e A = cell",
        "A = cell 1/0 V; B = cell 0/1 V; A across B",
    ],
    ids=range(20),
)
def test_what_is_made_to_do_harm_ends_with_a_finding_or_a_circuit(text: str) -> None:
    reading(text)


def test_a_bank_of_a_hundred_thousand_cells_is_one_branch() -> None:
    circuit = reading("A = cell; R = resistor; bank = 100s999p of A; bank across R").at_hand
    assert circuit is not None
    assert len(lay_flat(circuit).branches) == 2


def test_more_than_a_hundred_thousand_parts_are_counted_and_refused() -> None:
    read = reading("A = cell; bank = 400s400p of A; bank")
    assert "too-much" in [each.kind.code for each in read.findings]
    assert read.at_hand is None


def test_a_count_given_later_is_held_to_the_same_limit() -> None:
    read = reading(
        "A = cell; R = resistor; line = n of A in series; main = line across R; main but n = 999999"
    )
    assert [each.kind.code for each in read.findings] == ["too-much"]


@pytest.mark.parametrize("name", ["../secret", "/etc/passwd", "a/b", "..", "con:"])
def test_a_file_outside_the_folder_is_not_even_asked_for(name: str) -> None:
    files = {name: Source(name, "A = cell")}
    read = read_circuit(slice_of(f"use {name}"), files=files)
    assert not read.definitions.parts
    assert [each.kind.code for each in read.findings] == ["unread-line"]


WORDS = """A B R x E_1 = + || - ( ) , . 1 3s4p 0 6_V 1,5_V cell resistor of in_series across but turn open when let
values network from to given zero_at use link links ... : ; # ² \u0391 _ k"""
ALPHABET = st.sampled_from(
    [*(word.replace("_V", " V").replace("_s", " s") for word in WORDS.split()), " ", "\n", "\t"]
)


@given(st.lists(ALPHABET, max_size=40).map("".join))
def test_any_mixture_of_the_languages_words_is_read(text: str) -> None:
    reading("A, B = cell 6 V, 1 ohm; R = resistor 2 ohm; main = A across R\n" + text)


@given(st.text(max_size=60))
def test_any_name_phrase_or_circuit_is_answered(text: str) -> None:
    read = reading("A, B = cell 6 V, 1 ohm; R = resistor 2 ohm; both = A || B; main = both across R")
    resolve(text, read.definitions, read.at_hand)
    read_phrase(slice_of(f"current in {text}"), read.definitions, read.at_hand)
    circuit_at(slice_of(text), read.definitions, read.at_hand)


def test_many_names_are_listed_soon() -> None:
    cells = "; ".join(f"A{n} = cell; R{n} = resistor" for n in range(60))
    row = " + ".join(f"A{n} + R{n}" for n in range(60))
    read = reading(f"{cells}; main = ({row}) across L; L = resistor")
    assert len(known_names(read.definitions, read.at_hand)) > 500
