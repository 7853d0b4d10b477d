"""Plain sentences: what they are read as, how they are judged, what is asked, and what is left alone."""

from __future__ import annotations

import pytest

from boardproof.circuit.read import read_circuit
from boardproof.prove.gathered import Asked, Read
from boardproof.prove.sentences import read_sentence
from boardproof.prove.trade_words import in_trade_words
from boardproof.prove.worded import judge_read
from boardproof.prove.worlds import Worlds
from boardproof.source import Source, Span

ONE = "A = cell E, r\nR = resistor\nmain = A across R"
PAIR = "A = cell E_1, r_1\nB = cell E_2, r_2\nR = resistor\nboth = A || B\nmain = both across R"
TWO = "A = cell E_1, r_1\nB = cell E_2, r_2\nR = resistor\ntwo = A + B\nmain = two across R"
LIKE = "A = cell E, r\nR = resistor\nrow = n of A in series\nside = n of A in parallel\nmain = A across R"
LAMPS = "A = cell E, r\nR_1, R_2 = resistor\nmain = A across (R_1 || R_2)"

JUDGED = (
    (ONE, "The larger the load resistance, the larger the terminal p.d.", ["true"], None),
    (ONE, "The more load resistance, the less current.", ["true"], None),
    (ONE, "The terminal p.d. falls as the current grows.", ["true"], None),
    (ONE, "A larger load resistance takes more power.", ["true-only-when"], "R < r"),
    (
        ONE,
        "The load takes the greatest power when the load resistance equals the internal resistance.",
        ["true"],
        None,
    ),
    (ONE, "The terminal p.d. is always less than the EMF.", ["true"], None),
    (ONE, "The terminal p.d. is never above the EMF.", ["true"], None),
    (ONE, "The terminal p.d. equals the EMF, whatever the load.", ["wrong"], None),
    (ONE, "The efficiency is one half exactly when R = r.", ["true"], None),
    (ONE, "The short-circuit current does not depend on the load.", ["true"], None),
    (ONE, "The current is the same for every load.", ["wrong"], None),
    (ONE, "Increasing the load resistance lowers the current.", ["true"], None),
    (ONE, "The lost volts are half the EMF when R = r.", ["true"], None),
    (
        PAIR,
        "Two batteries side by side have less internal resistance than either of them alone.",
        ["true"] * 2,
        None,
    ),
    (PAIR, "If A has the larger EMF, the EMF of the pair lies between the two.", ["true"], None),
    (PAIR, "The EMF of the pair is the mean of the two EMFs.", ["true-only-when"], "E_1 = E_2 or r_1 = r_2"),
    (PAIR, "The EMF of the pair is the sum of the two EMFs.", ["wrong"], None),
    (PAIR, "B is charged exactly when its EMF is less than V.", ["true"], None),
    (PAIR, "B is charged when E_1 > E_2.", ["true-only-when"], "E_1 R > E_2 (R + r_1)"),
    (PAIR, "Adding B raises the current.", ["true-only-when"], "E_1 R < E_2 (R + r_1)"),
    (PAIR, "Removing B lowers the terminal p.d. exactly when E_2 (R + r_1) > E_1 R.", ["true"], None),
    (TWO, "Adding B always raises the current.", ["true-only-when"], "E_1 r_2 < E_2 (R + r_1)"),
    (TWO, "Turning B lowers the size of the current.", ["true"], None),
    (LIKE, "n like cells in series drive more current than one.", ["true"], None),
    (
        LIKE,
        "n like cells in parallel drive more current than n like cells in series exactly when R < r.",
        ["true"],
        None,
    ),
    (LIKE, "In parallel they give more current than in series.", ["true-only-when"], "R < r"),
    (LIKE, "n like cells in parallel drive n times the current of one.", ["wrong"], None),
    (LIKE, "Parallel has more efficiency than series.", ["true"], None),
    (LAMPS, "R_1 is brighter than R_2.", ["true-only-when"], "R_1 < R_2"),
)


def read(circuit, words):
    known = read_circuit(Source("circuit", circuit).slice())
    return known, read_sentence(words, known.definitions, known.at_hand)


@pytest.mark.parametrize(
    ("circuit", "words", "verdicts", "condition"), JUDGED, ids=[row[1] for row in JUDGED]
)
def test_sentence_is_read_and_judged(circuit, words, verdicts, condition):
    known, found = read(circuit, words)
    assert isinstance(found, Read)
    rulings = judge_read(found, Worlds(known.definitions), known.at_hand, Span("words", 0, len(words)))
    assert [ruling.verdict.kind for _, ruling in rulings] == verdicts
    assert rulings[-1][1].verdict.condition == condition
    assert all(each.span.source == "words" for _, ruling in rulings for each in ruling.findings)


@pytest.mark.parametrize(
    ("circuit", "words", "word", "readings"),
    [
        (PAIR, "A drives more current than B.", "the cell", 2),
        (PAIR, "The current in A is larger than the current in B.", "larger current", 2),
        (PAIR, "The power in the cell falls with R.", "the cell", 2),
        (LIKE, "Parallel is better than series.", "better", 3),
        (ONE, "The internal resistance is negligible.", "negligible", 2),
    ],
)
def test_two_readings_are_asked_about(circuit, words, word, readings):
    _, found = read(circuit, words)
    assert isinstance(found, Asked)
    assert found.word == word
    assert len({each.means + each.lets for _, each in found.readings}) == readings


@pytest.mark.parametrize(
    "words",
    [
        "E_1 has a nice cup of tea.",
        "Internal resistance is a nuisance.",
        "The more we talk, the less we measure.",
        "Nothing is lost.",
        "Rises with",
        "",
    ],
)
def test_other_sentences_are_left_alone(words):
    assert read(ONE, words)[1] is None


@pytest.mark.parametrize(
    ("circuit", "condition", "words"),
    [
        (PAIR, "E_1 R < E_2 (R + r_1)", "the EMF of B exceeds the terminal p.d. that is there without it"),
        (
            TWO,
            "E_1 r_2 < E_2 (R + r_1)",
            "the short-circuit current of B exceeds the current that flows without it",
        ),
        (
            PAIR,
            "E_1 = E_2 or r_1 = r_2",
            "the EMF of A equals that of B, or the internal resistance of A equals that of B",
        ),
        (ONE, "R < r", "the resistance of R is less than the internal resistance"),
        (ONE, "R < 2 r", None),
    ],
)
def test_conditions_in_the_trades_words(circuit, condition, words):
    known, _ = read(circuit, "")
    assert in_trade_words(condition, known.definitions, known.at_hand) == words
