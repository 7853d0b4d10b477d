"""Questions for tests of marking, made by hand from a circuit's text."""

from __future__ import annotations

from fractions import Fraction

from boardproof.circuit.quantity import QuantityRef
from boardproof.circuit.read import read_circuit
from boardproof.practice.records import Answer, Asked, Point, Question, Solved, Variant
from boardproof.quantities import AMPERE, VOLT
from boardproof.source import Source

MAIN = read_circuit(Source("x", "A = cell 6 V, 1 ohm; R = resistor 5 ohm; main = A across R").slice()).at_hand
DRAW = {"E_A": Fraction(6), "r_A": Fraction(1), "R": Fraction(5)}
SCHEME = (Point("M1", "uses the whole resistance"), Point("A1", "value"))


def asked(label, kind, dimension, after=(), form="number"):
    ref = QuantityRef(kind, ("R",), MAIN.id)
    return Asked(label, f"Find the {kind}.", form, label, (ref,), dimension, 3, "", 2, SCHEME, after)


QUESTION = Question(
    "0123456789ab",
    "ba9876543210",
    "One cell",
    MAIN,
    "",
    (),
    (),
    (asked("a", "current", AMPERE), asked("b", "pd", VOLT, after=("a",))),
    ("emf_divided_by_load", "terminal_pd_is_emf"),
    "test",
)
VARIANT = Variant(
    QUESTION.id,
    QUESTION.version,
    1,
    DRAW,
    (
        Solved(
            "a", Fraction(1), "1.00 A", {"emf_divided_by_load": Fraction(6, 5), "load_left_out": Fraction(6)}
        ),
        Solved(
            "b", Fraction(5), "5.00 V", {"terminal_pd_is_emf": Fraction(6), "lost_volts_added": Fraction(7)}
        ),
    ),
)


def given(*typed, student="S01", state="given"):
    return [
        Answer(student, f"P-{student}", "1", label, text, state)
        for label, text in zip("ab", typed, strict=False)
    ]
