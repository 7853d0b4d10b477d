"""Marks by the scheme, an earlier slip carried on by the circuit, and what a person must decide."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from boardproof.practice.marking import Policy, mark_paper
from boardproof.practice.queue import Decision, applied, key_of, queue_of, with_readings
from boardproof.practice.records import Answer
from unit.practice.circuits import QUESTION, VARIANT, given


def marks(*typed, policy=None, **more):
    return mark_paper([QUESTION], [VARIANT], given(*typed, **more), policy)


def total(mark):
    return sum(point[1] for point in mark.points)


@pytest.mark.parametrize(
    ("typed", "verdict", "points"),
    [
        ("1.00 A", "right", 2),
        ("1 A", "right", 2),
        ("1000 mA", "right", 2),
        ("1", "unit_missing", 1),
        ("-1 A", "sign", 1),
        ("1 mA", "power_of_ten", 1),
        ("1.01 A", "near_miss", 1),
        ("1.2 A", "wrong", 0),
        ("1 V", "unit_wrong_kind", 0),
        ("M1 A0", "by hand", 1),
        ("", "blank", 0),
    ],
)
def test_points_follow_the_verdict(typed, verdict, points):
    (mark,) = marks(typed)
    assert (mark.verdict, total(mark)) == (verdict, points)
    assert mark.points[0][3].endswith(".")


def test_the_belief_behind_an_answer_is_noted():
    assert marks("1.2 A")[0].beliefs == ("emf_divided_by_load",)


@pytest.mark.parametrize("typed", ["4.8 V", "6 V"], ids=["V = E - I r", "V = I R"])
def test_an_earlier_slip_is_carried_on_by_either_way_of_working(typed):
    _, second = marks("1.2 A", typed)
    assert total(second) == 2
    assert second.follow_through == {"a": Fraction(6, 5)}
    assert "part (a)" in second.points[0][3]


def test_no_tolerance_is_widened_for_follow_through():
    assert total(marks("1.2 A", "4.6 V")[1]) == 0
    assert total(marks("1.2 A", "4.8 V", policy=Policy(follow_through=False))[1]) == 0


def test_after_a_right_answer_nothing_is_carried_on():
    assert not marks("1 A", "6 V")[1].follow_through


@pytest.mark.parametrize("state", ["absent", "excused", "not reached"])
def test_five_things_are_no_answer(state):
    assert marks("", "", state=state)[0].verdict == state


def test_late_answers_are_marked():
    assert total(marks("1 A", state="late")[0]) == 2


def test_a_decision_applies_to_all_alike():
    answers = [
        Answer(f"S{n:02}", f"P{n}", "1", "a", text)
        for n, text in enumerate(("one ampish", "One  ampish!", "2 A"))
    ]
    found = [mark for each in answers for mark in mark_paper([QUESTION], [VARIANT], [each])]
    (waiting,) = queue_of(found)
    assert len(waiting.answers) == 2
    read = with_readings(answers, [waiting], [Decision("1", "a", waiting.key, reads="1 A")])
    assert [each.typed for each in read] == ["1 A", "1 A", "2 A"]
    decided = applied(found, [waiting], [Decision("1", "a", waiting.key, points=(1, 0), words="Close.")])
    assert [total(each) for each in decided] == [1, 1, 0]
    assert decided[0].replaces == found[0].id
    assert decided[0].decided_by == "teacher"


def test_answers_in_words_are_grouped_by_what_they_say():
    question = replace(QUESTION, parts=(replace(QUESTION.parts[0], form="words"),))
    variant = replace(VARIANT, parts=VARIANT.parts[:1])
    texts = (
        "The current is the same everywhere in the loop",
        "current the same everywhere in a loop",
        "the current is not the same everywhere in the loop",
        "it gets used up by the lamp",
    )
    found = [
        mark
        for n, text in enumerate(texts)
        for mark in mark_paper([question], [variant], [Answer(f"S{n}", f"P{n}", "1", "a", text)])
    ]
    assert [len(each.answers) for each in queue_of(found)] == [2, 1, 1]
    assert key_of(" Same. ") == "same"
