"""Sentences: clauses, conditions, quotations, numbers in plain words."""

import pytest

from boardproof.algebra.written import read_line
from boardproof.circuit.read import read_circuit
from boardproof.lesson.read import read_lesson
from boardproof.lesson.sentence import Maths, Paragraph
from boardproof.prove.clause import Sentence
from boardproof.prove.loose_number import said_in
from boardproof.prove.prose import given_by_part, named_quantity, names_kind
from boardproof.prove.unit_behind import with_unit_behind
from boardproof.prove.walk import Place, Visit
from boardproof.prove.worlds import Worlds
from boardproof.quantities import PURE, VOLT
from boardproof.source import Source


def sentence(text: str) -> Sentence:
    lesson, _ = read_lesson(Source("a", text))
    (paragraph,) = lesson.scenes[0].blocks
    assert isinstance(paragraph, Paragraph)
    place = Place(0, 0, None)
    return Sentence.of(
        [Visit(place, each, "text", paragraph, paragraph, each.span) for each in paragraph.content]
    )


def numbers(text: str) -> list[str]:
    return [loose.typed for loose in said_in(sentence(text), ".")]


def test_numbers_that_state_something_are_found() -> None:
    assert numbers("It takes 0.5 A, and half a volt is lost in ten ohms.") == [
        "0.5 A",
        "half a volt",
        "ten ohms",
    ]


@pytest.mark.parametrize("word", ["if", "only if", "when", "unless", "suppose", "let", "whether"])
def test_a_number_after_a_condition_word_states_nothing(word: str) -> None:
    assert numbers(f"We ask {word} it takes 0.5 A.") == []


def test_a_comma_ends_the_condition() -> None:
    assert numbers("If it is on, it takes 0.5 A.") == ["0.5 A"]


@pytest.mark.parametrize("said", ['"it takes 0.5 A"', "“it takes 0.5 A”"])
def test_somebodys_words_are_not_judged(said: str) -> None:
    assert numbers(f"Some say {said} and are wrong.") == []


def test_a_decimal_point_ends_no_clause() -> None:
    inner = sentence("The load takes 0.5 A at 1.25 V. It is warm.")
    start, end = inner.clause(inner.text.index("1.25"))
    assert inner.text[start:end] == "The load takes 0.5 A at 1.25 V"


def test_the_place_of_a_number_is_its_own() -> None:
    text = "With $I = 2 A$ the lamp takes 0.5 A now."
    (loose,) = said_in(sentence(text), ".")
    assert text[loose.span.start : loose.span.end] == "0.5 A"


def conditions(text: str) -> list[tuple[list[str], bool]]:
    """For each maths of a paragraph that states something: what it is said under, and whether surely."""
    inner = sentence(text)
    maths = [n for n, each in enumerate(inner.visits) if isinstance(each.element, Maths)]
    stating = [inner.starts[n] for n in maths if not inner.is_condition(inner.starts[n])]
    under = [inner.said_under(at) for at in stating]
    return [([each.text.text for each in found], firm) for found, firm in under]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("$a = b$ if $c = d$.", [(["c = d"], True)]),
        ("$a = b$ for $c = d$ and $e = f$.", [(["c = d", "e = f"], True)]),
        ("If $c = d$, then $a = b$.", [(["c = d"], True)]),
        ("If $c = d$ then $a = b$.", [(["c = d"], True)]),
        ("When $c = d$ we get $a = b$.", [(["c = d"], True)]),
        ("Suppose $c = d$. Then $a = b$.", [(["c = d"], False)]),
        ("If $c = d$, all is well. Here $a = b$.", [([], False)]),
        ("We have $a = b$ and $c = d$.", [([], False), ([], False)]),
    ],
)
def test_maths_is_said_under_the_condition_of_its_sentence(text, expected) -> None:
    assert conditions(text) == expected


def test_the_stops_of_an_abbreviation_end_no_clause() -> None:
    inner = sentence("The terminal p.d. across it is 5 V. The e.m.f. of A is 6 V.")
    start, end = inner.clause(inner.text.index("5 V"))
    assert inner.text[start:end] == "The terminal p.d. across it is 5 V"


def test_a_denied_number_states_nothing() -> None:
    assert numbers("The p.d. is 4 V and not the 6 V of the label.") == ["4 V"]


@pytest.mark.parametrize(
    ("words", "sign"),
    [("is", "="), ("is about", "≈"), ("is less than", "<"), ("stays above", ">")],
)
def test_how_a_number_is_compared(words, sign) -> None:
    (loose,) = said_in(sentence(f"The current in the load {words} 0.5 A."), ".")
    assert loose.sign == sign


CIRCUIT = "A = cell E = 6 V, r = 1 ohm\nS = switch closed\nR = resistor 11 ohm\nmain = (A + S) across R"


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("The current in the load is 0.5 A.", "current in R"),
        ("The voltage across the bulb is 5.5 V.", "p.d. across R"),
        ("The p.d. across A is 5.5 V.", "p.d. across A"),
        ("The power in the lamp is 2.75 W.", "power in R"),
        ("The current in A is 0.5 A and the p.d. across R is 5.5 V.", "current in A"),
        ("The current in the load was 0.5 A.", None),
        ("The current in the flux is 0.5 A.", None),
    ],
)
def test_a_number_is_tied_by_its_clause(text, phrase) -> None:
    read = read_circuit(Source("c", CIRCUIT).slice())
    world = Worlds(read.definitions).of(read.at_hand)
    loose = next(said_in(sentence(text), "."))
    found = named_quantity(loose, world, read.at_hand)
    assert (found and found[0]) == phrase


def test_a_quantity_named_without_its_part() -> None:
    read = read_circuit(Source("c", CIRCUIT).slice())
    named = [
        names_kind(next(said_in(sentence(text), ".")), read.at_hand)
        for text in ("The current is 0.5 A.", "It takes 0.5 A.", "The current was 0.5 A.")
    ]
    assert named == ["flow", "", ""]


def test_a_unit_outside_the_dollars_belongs_to_the_number() -> None:
    line, _ = read_line(Source("x", "V = 5").slice(), known=())
    (relation,) = with_unit_behind(line, " V, and more", lambda _: VOLT).statements
    assert relation.right.unit.symbol == "V"
    assert with_unit_behind(line, " Volts", lambda _: VOLT) == line
    assert with_unit_behind(line, " V", lambda _: PURE) == line


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("A gives 0.5 A.", "current in A"),
        ("The lamp has 5.5 V across it.", "p.d. across R"),
        ("The lamp turns 2.75 W into light.", "power in R"),
        ("A gives 0.6 A.", None),
    ],
)
def test_what_a_part_gives_may_be_said_by_its_unit(text, phrase) -> None:
    read = read_circuit(Source("c", CIRCUIT).slice())
    world = Worlds(read.definitions).of(read.at_hand)
    found = given_by_part(next(said_in(sentence(text), ".")), world, read.at_hand)
    assert (found and found[0]) == phrase


def test_times_and_questions_state_no_quantity() -> None:
    assert numbers("In ten seconds it is warm, in 10 s too. Is it 0.5 A or 0.6 A?") == []


def test_a_quantity_may_stand_behind_its_number() -> None:
    read = read_circuit(Source("c", CIRCUIT).slice())
    world = Worlds(read.definitions).of(read.at_hand)
    (first,) = said_in(sentence("Half an ampere is the current in A."), ".")
    _, second = said_in(sentence("The current in A is 0.5 A and in R 0.6 A."), ".")
    named = [named_quantity(each, world, read.at_hand) for each in (first, second)]
    assert [each and each[0] for each in named] == ["current in A", None]
