"""Free talk about one circuit: what is found, what is left alone."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest

from boardproof.circuit.read import read_circuit
from boardproof.lesson.captions import Cue
from boardproof.listen.board import Board, Wire
from boardproof.listen.free import listen_freely
from boardproof.listen.hear import hear
from boardproof.prove.worlds import Worlds
from boardproof.source import Slice, Span

TYPED = (
    "A = cell E_1 = 9 V, r_1 = 1 ohm; B = cell E_2 = 6 V, r_2 = 2 ohm; "
    "R = resistor 6 ohm; pair = A || B; pair across R"
)
LETTERS = ("E_1", "E_2", "r_1", "r_2", "R", "I", "I_1", "I_2", "V")


def board() -> Board:
    return Board(
        (
            Wire("A", Fraction(1), "q", "p", Fraction(9)),
            Wire("B", Fraction(2), "q", "p", Fraction(6)),
            Wire("R", Fraction(6), "p", "q", None, True),
        ),
        ("p", "q"),
    )


def heard(text: str, letters: Sequence[str] = LETTERS) -> list[tuple[str, str]]:
    read = read_circuit(Slice(TYPED, Span("circuit", 0, len(TYPED))))
    words = text.split()
    cues = [Cue(n * 1000, n * 1000 + 900, " ".join(words[n : n + 6])) for n in range(0, len(words), 6)]
    speech = hear(cues, letters)
    report = listen_freely(speech, board(), Worlds(read.definitions).of(read.at_hand)).report(speech)
    return [(slip.kind, slip.quote) for slip in report.findings]


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("number", "So the EMF of the pair is seven and a half volts."),
        ("unit", "The current in the load is one point two volts."),
        ("unit", "The load has seven point two amps across it."),
        ("direction", "B gives nought point six amps."),
        ("direction", "Cell A is being charged."),
        ("number", "A gives two point eight amps."),
        ("sign", "V equals E one plus I one r one."),
        ("number", "Take B out and the load gets two amps."),
        ("overgeneral", "The terminal voltage of a cell is always less than its EMF."),
        ("formula", "net EMF times total resistance gives you the current"),
        ("comparison", "If the load goes up the current goes up."),
    ],
)
def test_slips_are_found(kind: str, said: str) -> None:
    kinds = [found for found, _ in heard(said)]
    assert len(kinds) == 1, kinds
    assert kinds[0] == kind or {kinds[0], kind} <= {"sign", "formula", "dimension"}


@pytest.mark.parametrize(
    "said",
    [
        "So the EMF of the pair is eight volts and the resistance of the pair is two thirds of an ohm.",
        "The load current is about one point two amps.",
        "B takes nought point six amps, it is being charged.",
        "Is the current in the load two amps?",
        "Students often say that the EMF of the pair is fifteen volts. It is not so.",
        "The current in the load is two amps, sorry, one point two amps.",
        "Take B out and the load current is nine over seven, one point two nine amps.",
        "With no load there is still one amp going round.",
        "V equals E one minus I one r one, and I equals I one plus I two.",
        "Hello again, today we have two cells and in five minutes you will know what they do.",
    ],
)
def test_what_is_true_or_no_claim_is_left_alone(said: str) -> None:
    assert heard(said) == []


def test_a_finding_quotes_the_words_as_they_stand() -> None:
    assert heard("So the load current is, um, 2.2 amps.") == [
        ("number", "the load current is, um, 2.2 amps.")
    ]


def test_the_board_knows_its_values() -> None:
    facts = {(fact.kind, fact.of): fact.value for fact in board().facts}
    assert facts["current", "B"] == Fraction(-3, 5)
    assert facts["emf", "whole"] == 8
    assert facts["pd", "whole"] == Fraction(36, 5)
    assert facts["resistance", "whole"] == Fraction(2, 3)
