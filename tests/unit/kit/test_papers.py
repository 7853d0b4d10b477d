"""The papers job: the same seed the same bytes, whoever works; a stopped run goes on; nothing gives the key away."""

from __future__ import annotations

import base64
import json
import zipfile
from argparse import Namespace
from fractions import Fraction

import pytest

from boardproof.cli import main
from boardproof.kit.papers import run, students_named
from boardproof.practice.seats import seat_plan

FILES = {"worksheets.pdf", "key.pdf", "mark-scheme.pdf", "marking-sheet.pdf", "papers.jsonl"}


def options(folder, **more):
    usual = {
        "what": "one-cell,divider", "students": "2", "sets": None, "seed": 7, "kind": "practice", "large": False,
        "paper": "a4", "quiz": None, "qti": None, "workers": 1, "cluster": None, "to": folder, "quiet": True,
        "json": False,
    }  # fmt: skip
    return Namespace(**{**usual, **more})


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    root = tmp_path_factory.mktemp("papers")
    assert run(options(root, quiz="marked", qti="3.0")) == 0
    return root / "one-cell-divider-practice-7"


def test_all_is_there_and_two_processes_make_the_same_bytes(made, tmp_path):
    assert {path.name for path in made.iterdir()} >= FILES
    assert run(options(tmp_path, workers=2)) == 0
    other = tmp_path / "one-cell-divider-practice-7"
    assert {
        name: (made / name).read_bytes() == (other / name).read_bytes() for name in FILES
    } == dict.fromkeys(FILES, True)


def test_a_stopped_run_makes_only_what_is_missing(made):
    kept = (made / "key.pdf").stat().st_mtime_ns
    whole = (made / "worksheets.pdf").read_bytes()
    (made / "worksheets.pdf").unlink()
    assert run(options(made.parent, quiz="marked", qti="3.0")) == 0
    assert (made / "worksheets.pdf").read_bytes() == whole
    assert (made / "key.pdf").stat().st_mtime_ns == kept


def test_records_hold_exact_keys(made):
    papers = [json.loads(line) for line in (made / "papers.jsonl").read_text(encoding="utf-8").splitlines()]
    assert [each["student"] for each in papers] == ["S01", "S02"]
    for paper in papers:
        first = paper["questions"][0]
        drawn = {name: Fraction(value) for name, value in first["draw"].items()}
        assert Fraction(first["parts"][0]["key"]) == drawn["E"] / (drawn["R"] + drawn["r"])


def test_a_marked_quiz_holds_no_key(made):
    papers = [json.loads(line) for line in (made / "papers.jsonl").read_text(encoding="utf-8").splitlines()]
    for paper in papers:
        (page,) = made.glob(f"quiz-{paper['student']}-*.html")
        text = page.read_text(encoding="utf-8")
        facts = json.loads(text.split('id="quiz">')[1].split("</script>")[0])
        assert "keys" not in facts
        assert "thinks" not in json.dumps(facts)
        shown = paper["questions"][0]["parts"][0]["shown"]
        plain = base64.b64decode(text.split("base64,")[1].split('"')[0]).decode()
        assert f">{shown}<" not in text
        assert shown not in plain
        assert "http" not in text.replace("http-equiv", "").replace("http://www.w3.org", "")


def test_a_package_opens_at_its_manifest(made):
    with zipfile.ZipFile(made / "questions.zip") as archive:
        names = archive.namelist()
    assert names[0] == "imsmanifest.xml"
    assert "handed over" not in (made / "questions-report.txt").read_text(encoding="utf-8")


def test_sets_with_a_seat_plan_part_neighbours():
    rows = seat_plan([f"S{n:02}" for n in range(1, 31)], across=6)
    for y, row in enumerate(rows):
        for x, (_, own) in enumerate(row):
            near = [rows[b][a][1] for b in (y - 1, y, y + 1) for a in (x - 1, x, x + 1)
                    if (a, b) != (x, y) and 0 <= b < len(rows) and 0 <= a < len(rows[b])]  # fmt: skip
            assert own not in near


def test_what_is_no_code_no_lesson_or_no_set_is_refused(tmp_path, capsys):
    assert students_named("S01, Anna Berg").startswith("Anna Berg is no student")
    assert run(options(tmp_path, what="spring")) == 2
    assert run(options(tmp_path, sets=7)) == 2
    assert "no family of that name" in capsys.readouterr().err


def test_a_lesson_with_a_question_that_has_no_good_draw_makes_no_paper(tmp_path, capsys):
    lesson = tmp_path / "1-cell.lesson.md"
    text = "# Cell\n\n## One\n\n```circuit\nA = cell E = 6 V, r = 1 ohm\nR = resistor 5 ohm\nmain = A across R\n```\n\n"
    block = "```question a cell\nA lamp of {R}.\nvary:\n  R = one of 6, 10, 12 ohm\nask: I as number, 2 marks\n```\n"
    lesson.write_text(text + block, encoding="utf-8")
    assert main(["papers", str(lesson), "--to", str(tmp_path / "out")]) == 1
    assert "no-good-draw" in capsys.readouterr().out
    lesson.write_text(
        text + block.replace("one of 6, 10, 12 ohm", "1 to 11 ohm in steps of 0.5"), encoding="utf-8"
    )
    assert main(["papers", str(lesson), "--kind", "exit", "--to", str(tmp_path / "out"), "--quiet"]) == 0


def test_papers_of_another_order_keep_their_folder(tmp_path):
    assert run(options(tmp_path, what="divider", students="1")) == 0
    first = tmp_path / "divider-practice-7"
    before = {path.name: path.read_bytes() for path in first.iterdir()}
    assert run(options(tmp_path, what="divider", students="2")) == 0
    assert {path.name: path.read_bytes() for path in first.iterdir()} == before
    second = (tmp_path / "divider-practice-7-2" / "papers.jsonl").read_text(encoding="utf-8")
    assert len(second.splitlines()) == 2
