"""The `mark` job from papers to pages: queue, decisions, history, several workers."""

from __future__ import annotations

import csv
import io
import json
import shutil

import pytest

from boardproof.cli import main
from boardproof.kit.mark_work import batches, mark_batch, marked, records_in, source_of
from boardproof.kit.paper_work import Job, Order, do
from boardproof.practice.answer_files import read_answers

FAMILY = "one-cell"
TABLE = """Physics, set 2
Student code;Q1 (a);1b
S01;{key};6 V
S02;two-ish I reckon;3 V
S03;absent;absent
S04;"=HYPERLINK(""http://x"")";two-ish I reckon
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A folder of papers as `boardproof papers` writes it, without its prints."""
    folder = tmp_path_factory.mktemp("papers") / "cells"
    folder.mkdir()
    order = Order(f"{FAMILY},divider", ("S01", "S02", "S03", "S04"), 1)
    do(Job(order, "record", 0, 4, str(folder)))
    (folder / "order.json").write_text(json.dumps({"what": order.what}), encoding="utf-8")
    return folder


@pytest.fixture
def papers(made, tmp_path):
    folder = tmp_path / "papers"
    shutil.copytree(made, folder)
    key = json.loads((folder / "papers.jsonl").read_text("utf-8").splitlines()[0])["questions"][0]["parts"][
        0
    ]["shown"]
    (tmp_path / "class.csv").write_text(TABLE.format(key=key), encoding="utf-8")
    return folder


def told(capsys, *words):
    status = main(["mark", *map(str, words), "--json"])
    return status, json.loads(capsys.readouterr().out)


def test_answers_are_marked_and_what_is_not_read_waits(papers, tmp_path, capsys):
    status, found = told(capsys, papers, tmp_path / "class.csv")
    assert status == 1
    assert found["papers"] == 4
    first = next(each for each in found["marks"] if (each["student"], each["part"]) == ("S01", "a"))
    assert first["verdict"] == "right"
    assert {each["typed"][0] for each in found["waiting"]} == {"two-ish I reckon", '=HYPERLINK("http://x")'}
    marked_folder = papers / "marked"
    assert {"class.html", "class.pdf", "class.csv", "marks.csv", "queue.csv", "catch-up.html"} <= {
        each.name for each in marked_folder.iterdir()
    }
    assert ",'=HYPERLINK" in (marked_folder / "queue.csv").read_text("utf-8-sig").replace('"', "")


def test_a_decision_is_kept_and_the_first_mark_too(papers, tmp_path, capsys):
    told(capsys, papers, tmp_path / "class.csv")
    queue = papers / "marked" / "queue.csv"
    rows = list(csv.reader(io.StringIO(queue.read_text("utf-8-sig"))))
    for row in rows[1:]:
        row[5] = "M0 A0" if row[1] == "a" and row[3].startswith("'") else row[5]
        row[4] = "0.01 A" if row[3].startswith("two") and row[1] == "a" else row[4]
    out = io.StringIO()
    csv.writer(out).writerows(rows)
    queue.write_text(out.getvalue(), encoding="utf-8")
    for _ in range(2):  # a decision holds the next time as well
        _, found = told(capsys, papers)
        read = next(each for each in found["marks"] if (each["student"], each["part"]) == ("S02", "a"))
        assert read["decided_by"] == "teacher"
        assert read["verdict"] == "wrong"
    main(["mark", str(papers), "--export", "S02"])
    kept = json.loads(capsys.readouterr().out)
    assert [each["typed"] for each in kept["answers"] if each["part"] == "a"] == ["two-ish I reckon"]
    of_a = [each for each in kept["marks"] if each["answer"] == kept["answers"][0]["id"]]
    assert len(of_a) == 2
    assert of_a[1]["replaces"]


def test_a_student_is_erased_and_the_grid_is_made(papers, tmp_path, capsys):
    told(capsys, papers, tmp_path / "class.csv")
    assert main(["mark", str(papers), "--erase", "S02"]) == 0
    capsys.readouterr()
    main(["mark", str(papers), "--export", "S02"])
    assert json.loads(capsys.readouterr().out)["answers"] == []
    assert main(["mark", str(papers), "--grid", str(tmp_path / "grid.xlsx")]) == 0
    answers, _ = read_answers((tmp_path / "grid.xlsx").read_bytes(), "grid.xlsx")
    assert {each.state for each in answers} == {"blank"}


def test_a_changed_question_is_told_and_marked_again_on_request(papers, tmp_path, capsys):
    text = (papers / "papers.jsonl").read_text("utf-8")
    rows = [json.loads(line) for line in text.splitlines()]
    for row in rows:  # as printed, with a mistake in the key of part a
        row["questions"][0]["version"] = "misprinted00"
        row["questions"][0]["parts"][0]["key"] = "77"
    (papers / "papers.jsonl").write_text("\n".join(map(json.dumps, rows)), encoding="utf-8")
    _, before = told(capsys, papers, tmp_path / "class.csv")
    assert len(next(iter(before["changed"].values()))) == 4
    mine = [each for each in before["marks"] if (each["student"], each["part"]) == ("S01", "a")]
    assert mine[0]["verdict"] != "right"
    _, after = told(capsys, papers, "--again")
    mine = [each for each in after["marks"] if (each["student"], each["part"]) == ("S01", "a")]
    assert mine[0]["verdict"] == "right"
    main(["mark", str(papers), "--export", "S01"])
    kept = json.loads(capsys.readouterr().out)["marks"]
    assert [each["versions"]["question"] for each in kept].count("misprinted00") == 2


def test_what_is_no_folder_of_papers_is_refused(tmp_path, capsys):
    assert main(["mark", str(tmp_path)]) == 2
    assert "no papers" in capsys.readouterr().err


@pytest.mark.deep
@pytest.mark.timeout(180)
def test_a_cluster_gives_the_same_marks_with_a_worker_killed(papers, tmp_path):
    import distributed

    lines = records_in(papers) * 30
    answers, _ = read_answers((tmp_path / "class.csv").read_bytes(), "class.csv", papers={
        json.loads(line)["student"]: json.loads(line)["paper"] for line in records_in(papers)
    })  # fmt: skip
    here = marked(lines, answers, source_of(papers), again=False)
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        distributed.Client(cluster) as client,
    ):
        work = batches(lines, answers, source_of(papers), again=False)
        futures = client.map(mark_batch, work, retries=3)
        next(iter(cluster.workers.values())).process.process.kill()
        there = client.gather(futures)
    assert tuple(sorted((each for found in there for each in found), key=lambda each: each.student)) == here
