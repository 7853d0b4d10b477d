"""Course folders with planted mistakes: `expected.json` names each finding with its file and line."""

import json
from collections import Counter
from pathlib import Path

import pytest

from boardproof.cli import main
from boardproof.findings import Finding
from boardproof.kit.catalogue import CATALOGUE
from boardproof.kit.check import check_file
from boardproof.kit.course import course_ledger
from boardproof.kit.files import read_folder, save_source, write_kit
from boardproof.kit.report import in_short, text_report
from boardproof.source import Source, Span

COURSES = sorted(path.parent for path in (Path(__file__).parent / "courses").glob("*/expected.json"))
LESSON = "# Words\n\n## Scene\n\nNothing is said of a circuit.\n"


def told(folder: Path) -> Counter[tuple[str, int, str]]:
    """File, line and code of every finding, of the lessons and of their order; what both tell counts once."""
    found = Counter(
        (source.name, source.position(each.span.start)[0], each.code)
        for report in check_file(folder)
        for each in report.diagnostics
        for source in [report.sources.get(each.span.source, report.source)]
    )
    ledger = course_ledger(read_folder(folder)[0])
    sources = {source.name: source for source in ledger.sources}
    return found | Counter(
        (each.span.source, sources[each.span.source].position(each.span.start)[0], each.code)
        for each in ledger.diagnostics
    )


@pytest.mark.parametrize("folder", COURSES, ids=lambda path: path.name)
def test_each_planted_mistake_of_a_course_is_found_on_its_line_and_nothing_else(folder: Path) -> None:
    wanted = json.loads((folder / "expected.json").read_text(encoding="utf-8"))
    assert told(folder) == Counter((each["file"], each["line"], each["code"]) for each in wanted)


@pytest.mark.parametrize(
    ("name", "content", "code"),
    [
        ("2-latin.lesson.md", b"# One\n\n## Two \xb5A\n", "foreign-encoding"),
        ("2-large.lesson.md", b"# One\n" + b"a" * 2_000_001, "too-large"),
        ("latin.circuit", b"A = cell 2 \xb5V\n", "foreign-encoding"),
    ],
)
def test_a_file_that_can_not_be_read_is_named_and_the_rest_goes_on(
    tmp_path: Path, name: str, content: bytes, code: str
) -> None:
    (tmp_path / "1-words.lesson.md").write_text(LESSON, encoding="utf-8")
    (tmp_path / name).write_bytes(content)
    (report,) = check_file(tmp_path)
    assert [(each.code, each.span.source) for each in report.diagnostics] == [(code, name)]
    assert name in report.diagnostics[0].message
    assert f"{name}:1:1: error" in text_report(report)


def test_a_folder_in_the_place_of_a_lesson_can_not_be_read(tmp_path: Path) -> None:
    (tmp_path / "1-words.lesson.md").write_text(LESSON, encoding="utf-8")
    (tmp_path / "2-folder.lesson.md").mkdir()
    (report,) = check_file(tmp_path)
    assert [each.code for each in report.diagnostics] == ["unread-file"]


def test_a_link_that_leads_out_of_the_course_is_not_followed(tmp_path: Path) -> None:
    course = tmp_path / "course"
    course.mkdir()
    (course / "1-words.lesson.md").write_text(LESSON, encoding="utf-8")
    (tmp_path / "other.lesson.md").write_text(LESSON, encoding="utf-8")
    (course / "2-other.lesson.md").symlink_to(tmp_path / "other.lesson.md")
    (report,) = check_file(course)
    assert [each.code for each in report.diagnostics] == ["outside-folder"]


def test_a_file_that_is_not_there_is_named_with_its_neighbour(tmp_path: Path) -> None:
    (tmp_path / "1-words.lesson.md").write_text(LESSON, encoding="utf-8")
    _, (found,) = read_folder(tmp_path / "1-word.lesson.md")
    assert (found.kind.code, found.facts["near"]) == ("missing-file", "1-words.lesson.md")


def test_a_persons_file_is_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text("mine", encoding="utf-8")
    (found,) = write_kit(tmp_path, {"page.html": b"new"}, version="0.1.0", made="2026-01-05", draft=False)
    assert found.kind.code == "foreign-file"
    assert (tmp_path / "page.html").read_text(encoding="utf-8") == "mine"


def test_a_text_that_changed_on_disk_is_not_saved_over(tmp_path: Path) -> None:
    path = tmp_path / "a.lesson.md"
    path.write_text("theirs", encoding="utf-8")
    (found,) = save_source(path, Source("a.lesson.md", "mine"), base=Source("a.lesson.md", "before").sha256)
    assert found.kind.code == "changed-meanwhile"
    assert path.read_text(encoding="utf-8") == "theirs"


def test_an_unknown_set_of_values_is_told_with_those_there_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a.lesson.md"
    path.write_text("# A\n\n## B\n\n```circuit\nvalues fresh: E_A = 6 V\nA = cell\n```\n", encoding="utf-8")
    assert main(["check", str(path), "--values", "frehs"]) == 2
    said = Finding(CATALOGUE["unknown-set"].kinds[0][1], Span("", 0, 0), {"word": "frehs", "near": "fresh"})
    assert capsys.readouterr().err == in_short(said) + "\n"
