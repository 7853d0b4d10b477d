"""Files: read as they stand with clear findings, written whole, a person's work never overwritten."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from boardproof.findings import worded
from boardproof.kit.files import (
    LEDGER,
    read_folder,
    read_ledger,
    read_source,
    save_source,
    write_kit,
    write_whole,
)
from boardproof.kit.kinds import KINDS
from boardproof.source import Source

BUOY = Path(__file__).parents[3] / "examples" / "weather-buoy"


def codes(found: object) -> list[str]:
    return [fault.kind.code for fault in found]  # type: ignore[attr-defined]


def kit(folder: Path, **files: str) -> list[str]:
    contents = {name.replace("_", "."): text.encode() for name, text in files.items()}
    return codes(write_kit(folder, contents, version="0.1.0", made="2026-01-05", draft=False))


def test_a_text_is_read_with_its_byte_order_mark_and_line_ends(tmp_path: Path) -> None:
    (tmp_path / "a.lesson.md").write_bytes("\ufeff# Ω\r\nx\r".encode())
    source, found = read_source(tmp_path / "a.lesson.md")
    assert (source, found) == (Source("a.lesson.md", "\ufeff# Ω\r\nx\r"), ())


def test_what_cannot_be_read_is_reported_by_name(tmp_path: Path) -> None:
    (tmp_path / "latin.lesson.md").write_bytes(b"one\ntwo \xb5A")
    (tmp_path / "large.lesson.md").write_bytes(b"a" * 101)
    (tmp_path / "folder.lesson.md").mkdir()
    os.mkfifo(tmp_path / "pipe.lesson.md")
    for name, code in {
        "latin": "foreign-encoding", "large": "too-large", "folder": "unread-file", "pipe": "unread-file",
        "lattin": "missing-file", "a" * 300: "unread-file", "a\0b": "unread-file",
    }.items():  # fmt: skip
        source, found = read_source(tmp_path / f"{name}.lesson.md", max_bytes=100)
        assert (source, codes(found)) == (None, [code]), name
        assert name[:20] in worded(found[0]).message


def test_a_wrong_byte_is_told_by_its_line_and_a_wrong_name_by_its_neighbour(tmp_path: Path) -> None:
    (tmp_path / "latin.lesson.md").write_bytes(b"one\ntwo \xb5A")
    _, (fault,) = read_source(tmp_path / "latin.lesson.md")
    assert "byte 9, in line 2" in worded(fault).message
    _, (fault,) = read_source(tmp_path / "latn.lesson.md")
    assert worded(fault).help == "Did you mean latin.lesson.md?"


def test_the_demo_course_is_read_in_teaching_order() -> None:
    folder, found = read_folder(BUOY)
    assert found == ()
    assert [lesson.name for lesson in folder.lessons] == [
        f"{name}.lesson.md" for name in folder.course.lessons
    ]
    assert list(folder.circuits) == ["batteries"]


def test_one_lesson_comes_with_its_course_and_circuits() -> None:
    folder, found = read_folder(BUOY / "3-cells-in-parallel.lesson.md")
    assert found == ()
    assert [lesson.name for lesson in folder.lessons] == ["3-cells-in-parallel.lesson.md"]
    assert folder.course.title == "Cells for a weather buoy"
    assert list(folder.circuits) == ["batteries"]


def test_an_order_and_a_folder_that_disagree_are_both_shown(tmp_path: Path) -> None:
    (tmp_path / "course.toml").write_text('lessons = ["two", "one", "../out"]')
    for name in ("one", "too", "three"):
        (tmp_path / f"{name}.lesson.md").write_text("# x")
    folder, found = read_folder(tmp_path)
    assert [lesson.name for lesson in folder.lessons] == ["one.lesson.md", "three.lesson.md", "too.lesson.md"]
    assert codes(found) == ["missing-lesson", "missing-lesson", "unlisted-lesson", "unlisted-lesson"]


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "secret.lesson.md").write_text("# x")
    course = tmp_path / "course"
    course.mkdir()
    (course / "a.lesson.md").symlink_to(tmp_path / "secret.lesson.md")
    folder, found = read_folder(course)
    assert (folder.lessons, codes(found)) == ((), ["outside-folder"])


def test_a_write_that_fails_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "a.html"
    write_whole(target, b"old")

    def refuse(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(OSError, match="disk full"):
        write_whole(target, b"new")
    assert [path.name for path in tmp_path.iterdir()] == ["a.html"]
    assert target.read_bytes() == b"old"


def test_a_text_changed_meanwhile_is_not_saved_over(tmp_path: Path) -> None:
    path = tmp_path / "a.lesson.md"
    first, second = Source("a.lesson.md", "\ufeffone\r\n"), Source("a.lesson.md", "two")
    assert save_source(path, first, base="") == ()
    assert path.read_bytes() == first.text.encode()
    assert save_source(path, second, base=first.sha256) == ()
    assert codes(save_source(path, first, base=first.sha256)) == ["changed-meanwhile"]
    assert path.read_text() == "two"


def test_made_files_are_remembered_and_made_again(tmp_path: Path) -> None:
    assert kit(tmp_path / "k", page_html="one", notes_vtt="x") == []
    assert kit(tmp_path / "k", page_html="two") == []
    ledger = read_ledger(tmp_path / "k")
    assert ledger is not None
    assert sorted(ledger.files) == ["notes.vtt", "page.html"]
    assert (tmp_path / "k" / "page.html").read_text() == "two"


@pytest.mark.parametrize("owner", ["never made", "changed since"])
def test_a_persons_file_is_refused_by_name_and_nothing_is_written(tmp_path: Path, owner: str) -> None:
    if owner == "changed since":
        assert kit(tmp_path, page_html="made") == []
    (tmp_path / "page.html").write_text("mine")
    before = sorted(path.name for path in tmp_path.iterdir())
    found = write_kit(
        tmp_path, {"page.html": b"new", "other.html": b"new"}, version="0.1.0", made="2026-01-05", draft=True
    )
    assert [worded(fault).message.split()[0] for fault in found] == ["page.html"]
    assert codes(found) == ["foreign-file"]
    assert sorted(path.name for path in tmp_path.iterdir()) == before
    assert (tmp_path / "page.html").read_text() == "mine"


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[1]", "[" * 9000, '{"schema": 1, "version": "0", "made": "x", "draft": 0, "files": {}}'],
)
def test_a_ledger_that_is_not_ours_is_never_overwritten(tmp_path: Path, text: str) -> None:
    (tmp_path / LEDGER).write_text(text)
    assert read_ledger(tmp_path) is None
    assert kit(tmp_path, page_html="x") == ["foreign-file"]
    assert [path.name for path in tmp_path.iterdir()] == [LEDGER]


@pytest.mark.parametrize("name", ["../a", "/a", "", "a/../../b", "a\\b", "c:a", LEDGER, "a\0"])
def test_a_made_file_has_a_plain_name(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="plain relative name"):
        write_kit(tmp_path, {name: b""}, version="0", made="x", draft=False)


def test_a_folder_that_leads_out_of_the_kit_is_refused(tmp_path: Path) -> None:
    inside, outside = tmp_path / "kit", tmp_path / "other"
    inside.mkdir()
    outside.mkdir()
    (inside / "board").symlink_to(outside)
    found = write_kit(inside, {"board/1.svg": b""}, version="0", made="x", draft=False)
    assert codes(found) == ["outside-folder"]
    assert list(outside.iterdir()) == []


def test_the_ledger_says_what_it_promises(tmp_path: Path) -> None:
    assert kit(tmp_path, a_txt="x") == []
    record = json.loads((tmp_path / LEDGER).read_text())
    assert list(record) == ["schema", "version", "made", "draft", "files"]
    assert len(record["files"]["a.txt"]) == 64


def test_every_kind_has_a_page() -> None:
    assert all(kind.page for kind in KINDS.values())
