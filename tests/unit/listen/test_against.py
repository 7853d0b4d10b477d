"""A talk against its script."""

from __future__ import annotations

import pytest

from boardproof.circuit.read import read_circuit
from boardproof.lesson.captions import Cue
from boardproof.listen.against import listen_against
from boardproof.listen.hear import hear
from boardproof.listen.script import Piece, cut
from boardproof.listen.slip import best_of
from boardproof.prove.worlds import Worlds
from boardproof.source import Slice, Span

TYPED = "A = cell E = 6 V, r = 1 ohm; R = resistor 5 ohm; A across R"
LETTERS = ("E", "r", "R", "I", "V")


def heard(text: str) -> list[tuple[str, str]]:
    read = read_circuit(Slice(TYPED, Span("circuit", 0, len(TYPED))))
    world = Worlds(read.definitions).of(read.at_hand)
    script = cut(
        [
            [
                Piece(
                    "The lamp on the buoy takes its current from one cell, "
                    "and so the terminals give less than the label. "
                ),
                Piece("I equals E over R plus r, which equals one ampere", "maths", world),
                Piece(" in the lamp, and inside the cell we lose "),
                Piece("one volt", "value", world),
                Piece("."),
            ],
            [Piece("V equals E minus I r, which equals five volts", "maths", world)],
            [
                Piece(
                    "When the switch is open no current flows, and then the label is right. "
                    "Current goes out of A at its plus."
                )
            ],
        ],
        LETTERS,
    )
    words = text.split()
    speech = hear(
        [Cue(n * 1000, n * 1000 + 900, " ".join(words[n : n + 7])) for n in range(0, len(words), 7)], LETTERS
    )
    findings, _ = best_of(list(listen_against(speech, script, {"A", "R"}).slips))
    return [(slip.kind, slip.quote) for slip in findings]


GOOD = (
    "okay so the lamp on the buoy takes its current from one cell and the terminals give less than the label "
    "I is E over R plus r that's one amp in the lamp and inside the cell we lose a volt "
    "V is E minus I r five volts when the switch is open no current flows and then the label's right "
    "current goes out of A at its plus"
)


def test_a_loose_version_is_left_alone() -> None:
    assert heard(GOOD) == []


@pytest.mark.parametrize(
    ("right", "said", "kind"),
    [
        ("less than the label", "more than the label", "comparison"),
        ("R plus r", "R minus r", "sign"),
        ("that's one amp", "that's two amps", "number"),
        ("lose a volt", "lose two volts", "number"),
        ("E minus I r", "E plus I r", "sign"),
        ("five volts", "five amps", "dimension"),
        ("goes out of A", "goes into A", "direction"),
        ("switch is open", "switch is closed", "condition"),
    ],
)
def test_one_word_turned(right: str, said: str, kind: str) -> None:
    assert right in GOOD
    found = heard(GOOD.replace(right, said))
    assert [kinds for kinds, _ in found] == [kind], found


@pytest.mark.parametrize(
    ("right", "said"),
    [
        ("that's one amp", "that's two sorry one amp"),
        ("that's one amp", "that's a thousand milliamps"),
        ("E over R plus r", "E upon r plus R"),
        ("less than the label", "lower than the label"),
        ("five volts", "so that makes er five volts"),
    ],
)
def test_the_same_in_other_words(right: str, said: str) -> None:
    assert heard(GOOD.replace(right, said)) == []
