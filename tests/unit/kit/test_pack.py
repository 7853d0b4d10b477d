"""The `pack` command from words to numbers and files."""

import json
from pathlib import Path

import pytest

from boardproof.cli import main
from boardproof.kit.check import check_file
from boardproof.kit.pack_lesson import proved_pack
from boardproof.pack.design import design
from boardproof.pack.read import read_typed

BEACON = (
    "voltage: at least 12 V at the load; current: 3 A; cells: A 1.5 V, 0.4 ohm, at most 60; "
    "each cell: at most 0.75 A"
)
MAST = "voltage: at least 96 V at 20 % charge; current: 20 A; for: 1 h; cells: Li-ion 18650"


def told(capsys, *words):
    status = main(["pack", *words])
    out, err = capsys.readouterr()
    return status, out, err


def test_a_brief_typed_as_words(capsys) -> None:
    status, out, _ = told(capsys, BEACON)
    assert status == 0
    assert "10s4p of A: 10 in a row, 4 rows, 40 cells." in out
    assert "Counting EMFs alone would give 8s4p: p.d. at the load 9.6" in out
    assert "Caution." in out


def test_json_has_every_limit_with_its_margin_and_the_proof(capsys) -> None:
    status, out, _ = told(capsys, BEACON, "--json", "--faults", "--spread", "100")
    made = json.loads(out)
    assert status == 0
    assert [(each["limit"], each["margin"]) for each in made["chosen"]["meets"]] == [
        ("p.d. at the load", "0"),
        ("current through each cell", "0"),
        ("number of cells", "20"),
    ]
    assert made["best"] == {"fewest cells": "10s4p", "least sag": "10s6p"}
    assert made["proof"]["summary"]["statements"] == made["proof"]["summary"]["true"] > 10
    assert {each["wiring"] for each in made["spread"]} == {"rows", "blocks"}
    assert len(made["faults"]) == 24


def test_the_aim_of_the_command_line_wins(capsys) -> None:
    assert "10s6p of A" in told(capsys, BEACON, "--aim", "least sag")[1]


def test_ten_faults_are_shown_and_all_on_request(capsys) -> None:
    ten, every = (told(capsys, BEACON, "--faults", *more)[1] for more in ((), ("all",)))
    assert "10. " in ten
    assert "11. " not in ten
    assert "24. " in every


@pytest.mark.parametrize(
    "brief",
    [
        BEACON,
        MAST,
        "voltage: 1.2 V; current: 0.1 A; cells: AA alkaline",
        "voltage: 11 V; current: 7 A, peak 11 A; for: 3 h; cells: lead-acid 12 V 7 Ah, contacts 3 mohm, cable 10 mohm",
        "voltage: 4 V; current: 0.3 A; cells: Q 1.37 V, 0.123 ohm; each cell: at most 0.13 A",
    ],
)
def test_every_line_of_the_argument_is_proved(brief) -> None:
    proof = proved_pack(design(read_typed(brief).brief))
    assert proof.report.diagnostics == ()
    assert proof.report.summary["statements"] == proof.report.summary["true"] >= 10


def test_a_brief_that_can_not_be_met_says_by_how_much(capsys) -> None:
    status, _, err = told(capsys, "voltage: 12 V; current: 3 A; cells: A 1.5 V, 0.4 ohm, at most 20")
    assert status == 1
    assert "brief-unmet" in err
    assert "10s2p gives 9" in err


def test_what_is_not_read_is_told_with_its_place(capsys) -> None:
    status, _, err = told(capsys, "voltage: 12 V; current: lots; cells: AA alkaline")
    assert status == 1
    assert "unread-brief" in err
    assert "lots" in err


def test_a_missing_file_is_not_done(capsys) -> None:
    status, _, err = told(capsys, "no-such.txt")
    assert status == 2
    assert "no-such.txt" in err


def test_a_brief_in_a_text_file_and_one_in_a_lesson(capsys, tmp_path: Path) -> None:
    plain = tmp_path / "beacon.txt"
    plain.write_text(BEACON.replace("; ", "\n"), encoding="utf-8")
    assert "10s4p" in told(capsys, str(plain))[1]
    lesson = tmp_path / "beacon.lesson.md"
    lesson.write_text(
        "# A beacon\n\n## What it wants\n\n```circuit\nA = cell 1.5 V, 0.4 ohm\nR = resistor 4 ohm\n"
        "10s4p of A across R\n```\n\n"
        "```brief the beacon\nvoltage: at least 12 V at the load\ncurrent: 3 A\ncells: A, at most 60\n```\n",
        encoding="utf-8",
    )
    status, out, _ = told(capsys, str(lesson))
    assert status == 0
    assert "of A" in out
    (report,) = check_file(lesson)
    assert report.diagnostics == ()


def test_given_cells_and_a_load(capsys) -> None:
    status, out, _ = told(capsys, "cells: A 2 V, 0.5 ohm, at most 20", "--load", "2.5 ohm")
    assert status == 0
    assert "10 in a row, 2 rows" in out
    assert "holds exactly" in out
    unlike = (
        "cells: A 1.6 V, 0.2 ohm; cells: B 1.5 V, 0.3 ohm; cells: C 1.4 V, 0.5 ohm; cells: D 1.45 V, 0.25 ohm"
    )
    assert "best of all 52 series-parallel arrangements" in told(capsys, unlike, "--load", "1 ohm")[1]
    assert told(capsys, unlike, "--load", "1 V")[0] == 2


def test_a_large_pack_is_a_paper_exercise_on_every_page(capsys, tmp_path: Path) -> None:
    pikepdf = pytest.importorskip("pikepdf")
    status, out, _ = told(capsys, MAST, "--to", str(tmp_path))
    assert status == 0
    assert out.startswith("PAPER EXERCISE ONLY")
    page = (tmp_path / "pack.html").read_text(encoding="utf-8")
    assert "Paper exercise only" in page
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "pack-a4.pdf",
        "pack-efficiency.svg",
        "pack-letter.pdf",
        "pack-run-down.svg",
        "pack-sag.svg",
        "pack-sharing.svg",
        "pack.html",
    ]
    for name in ("pack-efficiency.svg", "pack-sag.svg", "pack-run-down.svg", "pack-sharing.svg"):
        assert "aper exercise" in (tmp_path / name).read_text(encoding="utf-8"), (
            name
        )  # words beside the glyphs
    with pikepdf.open(tmp_path / "pack-a4.pdf") as sheet:
        assert len(sheet.pages) > 3
