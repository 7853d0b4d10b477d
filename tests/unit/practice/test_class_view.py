"""The picture of a class: whole numbers, those most in need first, and nothing on the student's page that labels."""

from __future__ import annotations

import re
from dataclasses import replace

from boardproof.practice.class_evidence import evidence, student_words
from boardproof.practice.class_view import Cell, MarkedPaper, class_view
from boardproof.practice.marking import mark_paper
from boardproof.practice.records import Answer
from boardproof.publish.class_page import catch_up_page, class_page, student_page
from unit.practice.circuits import QUESTION, VARIANT

QUESTIONS = tuple(
    replace(QUESTION, id=f"{n:012x}", topic=topic) for n, topic in enumerate(("one cell", "lost volts"), 1)
)
BELIEF = "terminal_pd_is_emf"


def paper(student, *typed, state="given"):
    places = [("1", "a"), ("1", "b"), ("2", "a"), ("2", "b")]
    answers = [
        Answer(student, f"P-{student}", question, part, text, state)
        for (question, part), text in zip(places, typed, strict=True)
    ]
    marks = mark_paper(QUESTIONS, (VARIANT, VARIANT), answers)
    return MarkedPaper(student, QUESTIONS, (VARIANT, VARIANT), marks)


CLASS = (
    paper("S01", "1.00 A", "5.00 V", "1.00 A", "5.00 V"),
    paper("S02", "1.00 A", "6.00 V", "1.00 A", "6.00 V"),
    paper("S03", "7 A", "", "3 A", ""),
    paper("S04", "", "", "", "", state="absent"),
    paper("S05", "1.00 A", "6.00 V", "1.00 A", "6.00 V"),
)


def test_the_belief_of_two_answers_is_shown_with_its_letter_and_count():
    view = class_view(CLASS)
    assert view.beliefs == (("a", BELIEF, 2),)
    row = next(each for each in view.rows if each.student == "S02")
    assert {cell.belief for cell in row.cells} == {"a"}
    assert "2 of 4 work as if" in view.opening


def test_those_who_were_not_there_count_nowhere():
    view = class_view(CLASS)
    assert view.absent == ("S04",)
    assert view.rows[-1].student == "S04"
    assert [each.asked for each in view.ideas] == [4, 4]


def test_each_student_is_in_one_group():
    view = class_view(CLASS)
    named = [student for _, students in view.groups for student in students]
    assert sorted(named) == ["S01", "S02", "S03", "S05"]


def test_squares_are_empty_only_for_nothing_and_full_only_for_all():
    assert [Cell(given, 20).quarters for given in (0, 1, 10, 19, 20)] == [0, 1, 2, 3, 4]


def test_evidence_is_a_sentence_with_whole_numbers():
    held = class_view(CLASS).rows[0].diagnosis.held[0]
    assert evidence(held).startswith("2 of 2 answers are exactly what this gives")


def test_a_student_reads_no_probability_no_label_and_no_rank():
    view = class_view(CLASS)
    for each in CLASS:
        row = next(one for one in view.rows if one.student == each.student)
        if row.diagnosis is None:
            continue
        page = student_page(
            student_words(row, view, each, {"one cell": ("One?", "Two?")}), title="One cell", day="1 May"
        )
        words = re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL)
        assert not re.search(r"%|probab|misconception|belie|rank|weak|of the class|0\.\d", words)
        assert not set(re.findall(r"S\d\d", words)) - {each.student}


def test_markup_in_an_answer_is_shown_as_text():
    bad = paper("S06", "<script>alert(1)</script>", "5.00 V", "<img onerror=x>", "")
    view = class_view((*CLASS, bad))
    row = next(each for each in view.rows if each.student == "S06")
    page = student_page(student_words(row, view, bad, {}), title="<b>", day="")
    assert "<script>" not in page
    assert "<img" not in page
    assert "<b>" not in class_page(view, title="<b>", day="")


def test_the_class_page_says_each_cell_in_words_too():
    page = class_page(class_view(CLASS), title="One cell", day="1 May 2027")
    assert 'class="unseen">wrong idea a<' in page
    assert 'class="unseen">4 of 4 marks<' in page
    assert "No answers yet" in class_page(class_view(()), title="One cell", day="")


def test_the_catch_up_sheet_names_what_was_missed():
    page = catch_up_page(("S04",), ("one cell",), ("Find I.",), title="One cell", day="")
    assert "S04" in page
    assert "Find I." in page
