"""Every kind of finding is planted in some lesson or course, or raised by a test that is named here."""

import ast
import json
from pathlib import Path

import pytest

from boardproof.kit.catalogue import CATALOGUE
from lessons.test_lessons import MISTAKES, expected

COURSES = sorted((Path(__file__).parent / "courses").glob("*/expected.json"))

# What no lesson can say by itself: files as they are found or saved, the command line, and questions of the solver
# that a lesson is told of in a sentence ("I can't check this: ...").
ELSEWHERE = {
    "changed-meanwhile": "lessons/test_courses.py::test_a_text_that_changed_on_disk_is_not_saved_over",
    "empty-row": "unit/lab/test_table_files.py::test_empty_rows_are_passed_over_and_told",
    "floating-part": "unit/solve/test_network.py::test_nothing_at_all_has_no_pd",
    "foreign-encoding": "lessons/test_courses.py::test_a_file_that_can_not_be_read_is_named_and_the_rest_goes_on",
    "foreign-file": "lessons/test_courses.py::test_a_persons_file_is_not_written_over",
    "left-out": "unit/lab/test_table_files.py::test_a_reading_is_left_out_only_for_a_reason_that_is_written",
    "missing-file": "lessons/test_courses.py::test_a_file_that_is_not_there_is_named_with_its_neighbour",
    "no-closed-path": "unit/solve/test_ill_posed.py::test_a_broken_group_has_no_equivalent",
    "no-such-quantity": "unit/solve/test_answers.py::test_no_cell_drives_no_efficiency",
    "outside-folder": "lessons/test_courses.py::test_a_link_that_leads_out_of_the_course_is_not_followed",
    "overlong-formula": "unit/solve/test_answers.py::test_an_overlong_formula_is_refused_by_its_limit",
    "overlong-captions": "unit/lesson/test_captions.py::test_limits",
    "too-large": "lessons/test_courses.py::test_a_file_that_can_not_be_read_is_named_and_the_rest_goes_on",
    "unknown-set": "lessons/test_courses.py::test_an_unknown_set_of_values_is_told_with_those_there_are",
    "unlike-cells": "unit/solve/test_answers.py::test_efficiency_of_unlike_cells_is_refused_in_letters",
    "unread-captions": "unit/lesson/test_captions.py::test_what_is_no_caption_file_is_told",
    "unread-cue": "unit/lesson/test_captions.py::test_a_cue_with_bad_times_is_told_and_the_rest_is_read",
    "unread-memory": "unit/kit/test_listen.py::test_a_memory_that_can_not_be_read_is_told",
    "unread-sheet": "unit/lab/test_table_files.py::test_a_file_that_is_no_workbook_is_told",
    "unread-file": "lessons/test_courses.py::test_a_folder_in_the_place_of_a_lesson_can_not_be_read",
}


def planted() -> set[str]:
    """Codes that the lessons and courses announce."""
    told = {code for path in MISTAKES for _, code in expected(path.read_text(encoding="utf-8"))}
    return told | {each["code"] for path in COURSES for each in json.loads(path.read_text(encoding="utf-8"))}


def test_every_kind_of_finding_is_planted_somewhere() -> None:
    assert sorted(set(CATALOGUE) - planted() - set(ELSEWHERE)) == []


def test_what_is_planted_is_a_kind_of_finding() -> None:
    assert sorted(planted() - set(CATALOGUE)) == []


@pytest.mark.parametrize("code", ELSEWHERE)
def test_what_stands_elsewhere_is_raised_there_and_not_planted(code: str) -> None:
    file, name = ELSEWHERE[code].split("::")
    path = Path(__file__).parents[1] / file
    text = path.read_text(encoding="utf-8")
    (test,) = (
        node for node in ast.parse(text).body if isinstance(node, ast.FunctionDef) and node.name == name
    )
    first = min([test.lineno, *(mark.lineno for mark in test.decorator_list)])
    body = "\n".join(text.splitlines()[first - 1 : test.end_lineno])
    assert f'"{code}"' in body
    assert code not in planted()
