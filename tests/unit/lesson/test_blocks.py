"""The bodies of blocks: fields, parts, comments, and what is missing or unknown in them."""

from __future__ import annotations

from typing import Any

import pytest

from boardproof.lesson.blocks import BLOCK_WORDS, FIELDS
from boardproof.lesson.model import Display, Unread
from boardproof.lesson.read import read_lesson
from boardproof.source import Source


def block(text: str) -> tuple[Any, list[str]]:
    lesson, found = read_lesson(Source("a", text))
    return lesson.scenes[0].blocks[0], [fault.kind.code for fault in found]


def texts(slices: Any) -> list[str]:
    return [each.text for each in slices]


def said(paragraphs: Any) -> list[str]:
    return ["".join(getattr(piece, "text", "?") for piece in each.content) for each in paragraphs]


@pytest.mark.parametrize(
    ("headline", "seconds"), [("", 20), ("15 s", 15), ("40", 40), ("1 min", 60), ("30 seconds", 30)]
)
def test_a_pause_lasts_as_long_as_it_says(headline: str, seconds: int) -> None:
    pause, found = block(f"```pause {headline}\nTry.\nanswer: Done.\n```\n")
    assert (pause.seconds, found) == (seconds, [])


@pytest.mark.parametrize("headline", ["soon", "0 s", "11 min", "-3"])
def test_a_pause_of_no_length_has_the_usual_one(headline: str) -> None:
    pause, found = block(f"```pause {headline}\nTry.\nanswer: Done.\n```\n")
    assert (pause.seconds, found) == (20, ["unread-headline"])


def test_an_answer_goes_on_to_the_end_with_all_that_it_holds() -> None:
    pause, found = block(
        "```pause\nTry.\nanswer: First.\n# a comment\n$$ V = E $$\n\nwhere: it stays text\n\n- an item\n```\n"
    )
    assert found == []
    assert said(pause.task) == ["Try."]
    assert [type(part).__name__ for part in pause.answer] == [
        "Paragraph",
        "Display",
        "Paragraph",
        "Paragraph",
    ]
    assert isinstance(pause.answer[1], Display)
    assert pause.answer[3].bullet == "-"


def test_a_sentence_with_a_colon_is_a_sentence() -> None:
    pause, found = block("```pause\nBefore I do, write down:\nless: or more?\nanswer:\nNote: less.\n```\n")
    assert (found, said(pause.task)) == ([], ["Before I do, write down: less: or more?"])


def test_a_trap_has_a_wrong_statement_a_belief_and_a_refutation() -> None:
    trap, found = block("```trap\nwrong: V = E\nbelief: terminal_pd is emf\nNo.\n\n$$ V = E - I r $$\n```\n")
    assert (found, trap.wrong.text, trap.belief.text) == ([], "V = E", "terminal_pd is emf")
    assert len(trap.refutation) == 2


def test_a_claim_may_mean_several_things() -> None:
    claim, found = block(
        "```claim a, b\nWords.\nmeans: V < E   # always\nmeans: V falls with I\nfor: n = 1, 2, 3, ...\n```\n"
    )
    assert (found, claim.name.text, texts(claim.means)) == ([], "a, b", ["V < E", "V falls with I"])
    assert claim.for_.text == "n = 1, 2, 3, ..."


QUESTION = """```question two cells
Stem with {E_1}.
vary:
  E_1 = one of 6, 9 V
  # not this
  r = 1 to 3 ohm
where: E_1 > 6 V, r != 2 ohm
where: r < 3 ohm
(a) What
current?
ask: I as number, 2 marks
(b) Why?
ask: words, 2 marks
credit: one, 1 mark
credit: two, 1 mark
tell apart: a b, c d
```
"""


def test_a_question_has_a_stem_parts_draws_and_beliefs() -> None:
    question, found = block(QUESTION)
    assert found == []
    assert texts(question.vary) == ["E_1 = one of 6, 9 V", "r = 1 to 3 ohm"]
    assert texts(question.where) == ["E_1 > 6 V", "r != 2 ohm", "r < 3 ohm"]
    assert [(part.label, said(part.words), part.ask.text) for part in question.parts] == [
        ("a", ["What current?"], "I as number, 2 marks"),
        ("b", ["Why?"], "words, 2 marks"),
    ]
    assert [texts(part.credit) for part in question.parts] == [[], ["one, 1 mark", "two, 1 mark"]]
    assert texts(question.tell_apart) == ["a b", "c d"]
    assert len(question.stem) == 1


def test_a_question_without_letters_has_one_part() -> None:
    question, found = block("```question q\nWhat current?\nask: I as number\n```\n")
    assert (found, [(part.label, part.ask.text) for part in question.parts]) == ([], [("", "I as number")])


def test_readings_are_a_table_of_raw_cells() -> None:
    readings, found = block(
        "```readings of cell 3 of row 2\nMeasure.\nvoltmeter: range 2 V\ntable:\n  I / mA | V / V\n  --- | ---\n"
        "  100 | 1.4\n| 200 | |\n\nfind: E, r\n```\n"
    )
    assert (found, readings.of.text, texts(readings.headings)) == ([], "cell 3 of row 2", ["I / mA", "V / V"])
    assert [texts(row) for row in readings.rows] == [["100", "1.4"], ["200", ""]]
    assert {name: field.text for name, field in readings.fields.items()} == {
        "voltmeter": "range 2 V",
        "find": "E, r",
    }


def test_a_brief_keeps_its_lines_in_order() -> None:
    brief, found = block(
        "```brief the beacon\nvoltage: at least 12 V\ncells: A, at most 60\ncells: B\nbest: fewest cells\n```\n"
    )
    assert (found, brief.purpose.text) == ([], "the beacon")
    assert [(name, value.text) for name, value in brief.fields] == [
        ("voltage", "at least 12 V"),
        ("cells", "A, at most 60"),
        ("cells", "B"),
        ("best", "fewest cells"),
    ]


def test_a_board_makes_one_move_a_line() -> None:
    board, found = block("```board\n# first\nshow A, B\n\narrow I   # the current\nfokus A\n```\n")
    assert ([move.word for move in board.moves], found) == (["show", "arrow"], ["unread-move"])


def test_a_circuit_keeps_its_text_raw() -> None:
    circuit, found = block("```circuit\nA = cell 6 V   # new\n\n  main = A across R\n```\n")
    assert (circuit.body.text, found) == ("A = cell 6 V   # new\n\n  main = A across R", [])


def test_an_empty_block_is_read() -> None:
    for word in set(BLOCK_WORDS) - {"lesson"}:
        lesson, _ = read_lesson(Source("a", f"```{word}\n```\n"))
        assert not isinstance(lesson.scenes[0].blocks[0], Unread)


@pytest.mark.parametrize("word", sorted(FIELDS))
def test_a_field_of_a_block_is_known_and_another_one_is_not(word: str) -> None:
    lines = "".join(f"{name}: x\n\n" for name in FIELDS[word] if name != "answer")
    headline = {"pause": "20", "readings": "of A", "trap": ""}.get(word, "name")
    _, found = block(
        f"```{word} {headline}\n{lines}\nnonsense: x\n{'answer: y' if word == 'pause' else ''}\n```\n"
    )
    assert found == ["unknown-field"]


def test_a_field_given_twice_counts_once() -> None:
    trap, found = block("```trap\nwrong: a = b\nwrong: c = d\nNo.\n```\n")
    assert (trap.wrong.text, found) == ("a = b", ["repeated-field"])
    _, found = block("```question q\n(a) x\nask: I\nask: V\n(b) y\nask: I\n```\n")
    assert found == ["repeated-field"]


def test_blocks_do_not_nest() -> None:
    _, found = block("````pause\n```circuit\nA = cell\n```\nanswer: x\n````\n")
    assert found == ["misplaced-block"]
