"""The markbook keeps history, takes a file twice without harm, and forgets a student entirely."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from boardproof.practice.markbook import answer_id, open_markbook
from boardproof.practice.marking import mark_paper
from unit.practice.circuits import QUESTION, VARIANT, given


@pytest.fixture
def book(tmp_path):
    opened = open_markbook(f"sqlite:///{tmp_path / 'marks.db'}", clock=lambda: "2027-01-01T00:00:00")
    yield opened
    opened.close()


def filled(book, *students):
    for student in students:
        answers = given("1.2 A", "4.8 V", student=student)
        book.add_answers(answers, source="class.csv", delete_by="2027-07-31")
        book.add_marks(mark_paper([QUESTION], [VARIANT], answers))
    return book


def test_reading_a_file_twice_changes_nothing(book):
    filled(book, "S01")
    before = book.history()
    assert book.add_answers(given("1.2 A", "4.8 V"), source="again.csv") == 0
    filled(book, "S01")
    assert book.history() == before


def test_a_mark_comes_back_as_it_was_given(book):
    filled(book, "S01")
    given_then = mark_paper([QUESTION], [VARIANT], given("1.2 A", "4.8 V"))
    for was, now in zip(given_then, book.history("S01"), strict=True):
        assert (was.points, was.beliefs, was.follow_through, was.rule) == (
            now.points,
            now.beliefs,
            now.follow_through,
            now.rule,
        )
        assert now.versions["question"] == QUESTION.version
        assert now.versions["tool"]


def test_a_corrected_question_gives_a_second_mark_and_the_first_is_kept(book):
    filled(book, "S01")
    corrected = replace(QUESTION, version="corrected")
    book.add_marks(mark_paper([corrected], [VARIANT], given("1.2 A", "4.8 V")))
    history = book.history("S01", "P-S01")
    assert len(history) == 4
    assert history[2].replaces == history[0].id
    assert {each.versions["question"] for each in book.latest("S01")} == {"corrected"}


def test_erasing_a_student_leaves_no_trace_in_the_file(book, tmp_path):
    filled(book, "S01", "SECRETCODE")
    assert json.loads(book.export("SECRETCODE"))["answers"]
    assert book.erase("SECRETCODE") == 2
    assert not json.loads(book.export("SECRETCODE"))["answers"]
    assert len(book.latest()) == 2
    book.close()
    assert b"SECRETCODE" not in (tmp_path / "marks.db").read_bytes()


def test_answers_are_deleted_by_their_day(book):
    filled(book, "S01")
    assert book.expire("2027-07-30") == 0
    assert book.expire("2027-07-31") == 2
    assert not book.history()


def test_nothing_leaves_unless_it_is_noted(book):
    assert book.ways_out() == ()
    book.note_way_out("marks of set 2", "the department")
    assert [each[1:] for each in book.ways_out()] == [("marks of set 2", "the department")]


def test_a_book_of_the_first_version_is_brought_up_to_date(tmp_path):
    from alembic import command
    from alembic.config import Config
    from sqlalchemy import create_engine, text

    address = f"sqlite:///{tmp_path / 'old.db'}"
    engine = create_engine(address)
    config = Config()
    config.set_main_option("script_location", "boardproof.practice:markbook_changes")
    with engine.begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "first")
        row = "'a','S01','P1','1','a','1 A','given','','old.csv','2026'"
        connection.execute(text(f"INSERT INTO answers VALUES ({row})"))
    engine.dispose()
    book = open_markbook(address)
    assert json.loads(book.export("S01"))["answers"][0]["delete_by"] is None
    book.close()


def test_the_changes_lead_to_the_tables_that_the_code_knows(tmp_path):
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext
    from sqlalchemy import create_engine

    from boardproof.practice.markbook_tables import METADATA

    address = f"sqlite:///{tmp_path / 'now.db'}"
    open_markbook(address).close()
    engine = create_engine(address)
    with engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    engine.dispose()


def test_an_answer_is_known_by_what_it_says():
    one, other = given("1 A", "2 V")
    assert answer_id(one) != answer_id(other)
