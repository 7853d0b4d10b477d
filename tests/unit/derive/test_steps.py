import pytest

from boardproof.derive.block import written_block, written_closing
from boardproof.derive.naming import Naming
from boardproof.derive.steps import Draft, relations
from boardproof.lesson.model import Derive
from boardproof.lesson.read import read_lesson
from boardproof.source import Source
from unit.derive.boards import place, written

PAIR = "A = cell E_1 = 6 V, r_1 = 2 ohm; B = cell E_2 = 4.5 V, r_2 = 3 ohm; R = resistor 4.2 ohm; "
SIDE = PAIR + "both = A || B; main = both across R"


def test_a_written_block_reads_back_as_the_same_steps() -> None:
    found = written(SIDE, "E_both r_both", "short, then EMFs taken out")
    text = f"# T\n\n## S\n\n```derive E_both, r_both of both by short, then EMFs taken out\n{written_block(found)}```\n"
    lesson, findings = read_lesson(Source("t.lesson.md", text))
    assert findings == ()
    (block,) = (each for each in lesson.scenes[0].blocks if isinstance(each, Derive))
    assert [step.maths.text.strip() for step in block.steps] == [step.maths for step in found.steps]
    assert [tuple(rule.text.strip() for rule in step.rules) for step in block.steps] == [
        step.rules for step in found.steps
    ]
    assert [step.from_ for step in block.steps] == [step.from_ for step in found.steps]


def test_no_line_of_a_block_is_wide_and_no_move_is_cut() -> None:
    found = written(SIDE, "E_both r_both", "same terminal p.d.")
    for line in written_block(found).splitlines():
        assert len(line) <= 110
        assert line.count("`") % 2 == 0


def test_the_end_is_units_limits_sentence_numbers() -> None:
    text = written_closing(written(SIDE, "E_both", "same terminal p.d.", numbers=True))
    order = [text.index(each) for each in ("Units first", "-> infinity", "Side by side", "5.4 V")]
    assert order == sorted(order)


def test_letters_only_give_no_numbers() -> None:
    assert written(SIDE, "E_both", "same terminal p.d.").closing.numbers == ()


def test_briefly_says_one_sentence_a_step() -> None:
    found = written(SIDE, "E_both", "same terminal p.d.", briefly=True)
    assert all(step.words.count(". ") == 0 for step in found.steps)


def test_an_unreadable_line_is_a_slip_of_the_route() -> None:
    with pytest.raises(ValueError, match="cannot be read"):
        relations("E_1 = = 2")


def test_a_line_that_does_not_follow_is_seen() -> None:

    draft = Draft(Naming(place(SIDE)))
    draft.add("I = I_1 + I_2", "loop rule")
    draft.add("I = I_1 - I_2", "junction rule")
    assert [(step.is_true, step.is_proved) for step in draft.steps] == [(True, False), (False, False)]
