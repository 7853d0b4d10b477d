"""Circuits in words for whoever does not see the drawing."""

from __future__ import annotations

import pytest

from boardproof.circuit.describe import described
from boardproof.circuit.read import read_circuit
from boardproof.circuit.write import write
from boardproof.source import Slice, Span

PARTS = """A, B, C = cell; R, L = resistor; S = switch closed; D = cell lithium
A_k = cell E_k, r_k for k = 1 to n
network web from a to d
  A from a to b
  R from b to d
"""


def at_hand(text: str):
    found = read_circuit(Slice(text, Span("t", 0, len(text)))).at_hand
    assert found is not None
    return found


THEIRS = ", with resistor R across their terminals."
ITS = ", with resistor R across its terminals."


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("(A || B) across R", f"Cells A and B in parallel, plus to plus{THEIRS}"),
        (
            "(A + S) across (R || L)",
            "Cell A and switch S (closed) in series, with (resistors R and L in parallel) across their terminals.",
        ),
        ("(A || -B) across R", f"Cell A and cell B (turned round) in parallel, plus to plus{THEIRS}"),
        ("A across R but open R", "Cell A, with resistor R (broken open) across its terminals."),
        ("(3s4p of A) across R", f"A bank of 4 rows side by side, each a row of 3 cells like A{ITS}"),
        ("(n of A in parallel) across R", f"A block of n cells like A{ITS}"),
        ("A across (2s of R)", "Cell A, with 2 resistors like R in series across its terminals."),
        (
            "(2p of (A + R)) across L",
            (
                "2 times (cell A and resistor R in series) in parallel, plus to plus, "
                "with resistor L across its terminals."
            ),
        ),
        ("web", "A network with ends a and d: cell A from a to b; resistor R from b to d."),
        ("(A_1 || ... || A_n) across R", f"Cells A_k with k from 1 to n in parallel{THEIRS}"),
    ],
)
def test_a_circuit_in_words(text: str, told: str) -> None:
    assert described(at_hand(PARTS + text)) == told


@pytest.mark.parametrize(
    "text",
    [
        "(3s4p link 1 mohm of A) across R",
        "(4p3s links of A) across R",
        "(2p of web) across L",
        "(A_1 || ... || A_n) across R",
        "D across (S + R) but open S",
        "bank = 3s4p of A\nbank across R but bank.2.3 = 1.2 V, bank.1.1 = wire, open bank.3, turn bank.4",
        "web across L but R = 2 ohm, A = resistor 3 ohm",
        "(n of (m of A in series) in parallel) across R but n = 2",
        "-web across L\nzero at b",
    ],
)
def test_a_circuit_written_reads_back(text: str) -> None:
    circuit = at_hand(PARTS + text)
    assert at_hand(write(circuit)) == circuit, write(circuit)
