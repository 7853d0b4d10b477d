"""Spoken maths: numbers, letters and signs in many ways of talking, and every reading of a formula."""

from __future__ import annotations

from fractions import Fraction

import pytest

from boardproof.algebra.ear import hear_tokens
from boardproof.algebra.plain import plain
from boardproof.algebra.readings import readings
from boardproof.algebra.spoken import Alphabet, Token
from boardproof.algebra.spoken_numbers import hear_number
from boardproof.listen.hear import spell

NAMES = ("E", "E_1", "E_2", "E_p", "I", "I_1", "R", "V", "r_1", "r_2", "r_p")


def tokens(text: str) -> tuple[Token, ...]:
    words: list[str] = []
    raw: list[str] = []
    for word in text.split():
        more, typed, _ = spell(word)
        words, raw = words + more, raw + typed
    return hear_tokens(words, raw, Alphabet(NAMES))


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("nought point five", "1/2"),
        ("oh point oh two", "1/50"),
        ("point one five eleven", "3/20"),
        ("half", "1/2"),
        ("one and a third", "4/3"),
        ("5 and a half", "11/2"),
        ("two hundredths", "1/50"),
        ("thirty one and a quarter", "125/4"),
        ("seven hundred and fifty", "750"),
        ("1,200", "1200"),
        (".8", "4/5"),
    ],
)
def test_numbers(said: str, value: str) -> None:
    heard = hear_number(said.split(), 0)
    assert heard is not None
    assert heard.value == Fraction(value)


@pytest.mark.parametrize("said", ["a third cell", "the second row", "other half"])
def test_no_numbers(said: str) -> None:
    assert hear_number(said.split(), 0) is None


@pytest.mark.parametrize(
    ("said", "unit", "value"),
    [
        ("half an amp", "A", "1/2"),
        ("500 milliamps", "mA", "1/2"),
        ("12V", "V", "12"),
        ("an eighth of an ampere", "A", "1/8"),
        ("a whole volt", "V", "1"),
        ("10 homes", "Ω", "10"),
        ("92 percent", "%", "23/25"),
    ],
)
def test_values(said: str, unit: str, value: str) -> None:
    (token,) = tokens(said)
    assert (token.text, token.value) == (unit, Fraction(value))


@pytest.mark.parametrize(
    "said",
    [
        "E p equals E one over r one",
        "E p is E one by r one",
        "E p is equal to E one upon r one",
        "E sub p equals E1 divided by r1",
        "E p equals, er, E one over little r one",
    ],
)
def test_ways_of_saying_one_formula(said: str) -> None:
    heard = [(token.text or token.names[0]) for token in tokens(said) if token.text != "er"]
    assert heard == ["E_p", "=", "E_1", "/", "r_1"]


def test_what_is_no_letter() -> None:
    assert [token.kind for token in tokens("I think we are done")] == ["word"] * 5
    assert all(token.kind != "name" for token in tokens("E m f"))


def test_readings_hold_the_right_one() -> None:
    said = tokens("E one r two plus E two r one over r one plus r two")
    assert "(E_1 r_2 + E_2 r_1)/(r_1 + r_2)" in {plain(tree) for tree in readings(said).trees}


def test_all_over_binds_the_whole_top() -> None:
    said = tokens("E one r two plus E two r one all over r one plus r two")
    assert [plain(tree) for tree in readings(said).trees] == ["(E_1 r_2 + E_2 r_1)/(r_1 + r_2)"]


def test_twins_are_grouped_alike() -> None:
    found = readings(tokens("E over R plus r one"), tokens("E over R minus r one"))
    pairs = {(plain(tree), plain(twin)) for tree, twin in zip(found.trees, found.twins, strict=True)}
    assert ("E/(R + r_1)", "E/(R − r_1)") in pairs
    assert len(pairs) == len(found.trees) == 2


def test_too_much_is_not_called_complete() -> None:
    long = tokens(" over ".join(["E one plus r one"] * 14))
    assert not readings(long).is_complete
