"""The `measure` job: from a file to a report, JSON and sheets."""

from __future__ import annotations

import io
import json
from pathlib import Path

import numpy as np
import openpyxl
import pikepdf
import pytest

from boardproof.cli import main
from boardproof.kit.measure import measure_grid
from boardproof.kit.measure_files import sheets
from boardproof.lab.sheet import read_grid
from boardproof.source import Source

BUOY = Path(__file__).parents[3] / "examples" / "weather-buoy" / "5-rows-and-columns.lesson.md"
METERS = """voltmeter: range 2 V, step 1 mV, accuracy 0.5 % + 1 digit, resistance 10 Mohm
ammeter: range 1 A, step 1 mA, accuracy 1 % + 2 digits
"""
ONE = """I / mA | V / V | note
100 | 1.462 |
500 | 1.302 |
300 | 1.381 |
600 | 1.259 |
200 | 1.419 | left out: warm
400 | 1.338 |
"""

KEPT = ((0.1, 0.5, 0.3, 0.6, 0.4), (1.462, 1.302, 1.381, 1.259, 1.338))


def told(capsys, *words):
    status = main(["measure", *map(str, words)])
    return status, capsys.readouterr()


def test_the_buoys_cell_from_its_lesson(capsys):
    status, out = told(capsys, BUOY)
    assert status == 0
    text = out.out.replace("\u202f", " ")
    assert "E = (1.501 ± 0.005) V" in text
    assert "r = (0.403 ± 0.005) Ω" in text
    assert "gain of the voltmeter" in text
    assert "Next mix the order" in text or "Next time mix the order" in text


def test_json_holds_all_of_the_fit(capsys, tmp_path):
    file = tmp_path / "one.txt"
    file.write_text(METERS + ONE, encoding="utf-8")
    status, out = told(capsys, file, "--json")
    made = json.loads(out.out)
    (cell,) = made["cells"]
    assert (status, made["schema"], made["simulated"]) == (0, 1, False)
    assert cell["left_out"] == [[8, "warm"]]
    assert cell["E"]["value"] == pytest.approx(np.polyfit(*KEPT, 1)[1], abs=2e-4)
    assert sum(share for _, _, share in cell["budget"]["r"]) == pytest.approx(1.0)
    assert -1 < cell["correlation"] < 1
    assert [each["name"] for each in cell["tests"]] == ["drift", "bend", "far off"]


def test_meters_of_the_command_line_go_before_the_files(capsys, tmp_path):
    file = tmp_path / "one.txt"
    file.write_text(METERS + ONE, encoding="utf-8")
    _, out = told(capsys, file, "--json", "--voltmeter", "range 2 V, step 1 mV, accuracy 5 %")
    _, plain = told(capsys, file, "--json")
    assert json.loads(out.out)["cells"][0]["E"]["u"] > 5 * json.loads(plain.out)["cells"][0]["E"]["u"]


def test_a_spreadsheet_a_comma_table_and_a_typed_table_give_the_same(capsys, tmp_path):
    rows = [line.rstrip(" |").split(" | ")[:2] for line in ONE.splitlines() if "left out" not in line]
    book = openpyxl.Workbook()
    for head, row in enumerate(rows):
        book.active.append(row if head == 0 else [float(each) for each in row])
    book.save(tmp_path / "a.xlsx")
    (tmp_path / "a.csv").write_text("\n".join(",".join(row) for row in rows), encoding="utf-8")
    (tmp_path / "a.txt").write_text("\n".join(" | ".join(row) for row in rows), encoding="utf-8")
    values = []
    for name in ("a.xlsx", "a.csv", "a.txt"):
        status, out = told(capsys, tmp_path / name, "--json")
        assert status == 0
        values.append(json.loads(out.out)["cells"][0]["r"]["value"])
    assert len({round(each, 12) for each in values}) == 1


def test_sheets_are_made_say_what_they_must_and_are_the_same_twice():
    made = measure_grid(read_grid(Source("one.txt", METERS + ONE)), said={})
    first, second = (dict(sheets(made, "2026-11-25")) for _ in range(2))
    assert first == second
    assert sorted(first) == [
        "lab-sheet.pdf",
        "readings-near.svg",
        "readings.svg",
        "results.pdf",
        "risk-assessment.pdf",
    ]
    assert (
        b"left out: warm" not in first["readings.svg"]
    )  # words are outlines; whoever can't see has the description
    assert b"5 readings" in first["readings.svg"]
    for name in ("lab-sheet.pdf", "results.pdf", "risk-assessment.pdf"):
        with pikepdf.open(io.BytesIO(first[name])) as document:
            assert document.Root.MarkInfo.Marked
            assert len(document.pages) <= 3


def test_simulated_readings_are_marked_everywhere_and_repeat(capsys, tmp_path):
    file = tmp_path / "one.txt"
    file.write_text(METERS + ONE, encoding="utf-8")
    status, out = told(capsys, file, "--simulate", 7, "--sheet", tmp_path / "out")
    _, again = told(capsys, file, "--simulate", 7)
    assert status == 0
    assert out.out == again.out
    assert "SIMULATED" in out.out.splitlines()[0]
    table = (tmp_path / "out" / "simulated.csv").read_text(encoding="utf-8")
    assert table.startswith("# SIMULATED")
    assert "simulated" in (tmp_path / "out" / "readings.svg").read_text(encoding="utf-8")
    status, out = told(capsys, tmp_path / "out" / "simulated.csv")
    assert status == 0


def test_an_expected_cell_makes_a_lab_sheet_before_any_reading(capsys, tmp_path):
    file = tmp_path / "empty.csv"
    file.write_text("I / A,V / V\n", encoding="utf-8")
    status, _ = told(capsys, file, "--expect", "1.5 V, 0.4 ohm", "--sheet", tmp_path / "out")
    assert status == 1  # there are no readings yet
    assert (tmp_path / "out" / "lab-sheet.pdf").exists()
    assert told(capsys, file, "--expect", "good")[0] == 2


def test_a_changed_sheet_is_not_written_over(capsys, tmp_path):
    file = tmp_path / "one.txt"
    file.write_text(METERS + ONE, encoding="utf-8")
    assert told(capsys, file, "--sheet", tmp_path / "out")[0] == 0
    (tmp_path / "out" / "results.pdf").write_bytes(b"mine")
    assert told(capsys, file, "--sheet", tmp_path / "out")[0] == 2
    assert (tmp_path / "out" / "results.pdf").read_bytes() == b"mine"


def test_cells_joined_and_groups_are_compared(capsys, tmp_path):
    lines = ["cell;I / A;V / V"]
    for name, E, r in (("A", 1.5, 0.4), ("B", 1.48, 0.6), ("A + B", 2.98, 1.0), ("A || B", 1.492, 0.24)):
        lines += [f"{name};{i};{E - r * i + 0.001 * (n % 2):.3f}" for n, i in enumerate((0.1, 0.5, 0.3, 0.2))]
    file = tmp_path / "two.csv"
    file.write_text("\n".join(lines), encoding="utf-8")
    _, out = told(capsys, file)
    assert out.out.count("expected - measured") == 4
    assert "A || B, in parallel" in out.out
    file.write_text(
        "\n".join(lines).replace("cell;", "group;", 1).replace("A + B", "C").replace("A || B", "D"),
        encoding="utf-8",
    )
    _, out = told(capsys, file)
    assert "The class:" in out.out
    assert "times more than the groups' own uncertainties say" in out.out.replace("\n    ", " ")


def test_what_is_not_there_or_no_table_is_told(capsys, tmp_path):
    assert told(capsys, tmp_path / "none.csv")[0] == 2
    file = tmp_path / "a.lesson.md"
    file.write_text("# A\n\n## B\n\nNothing.\n", encoding="utf-8")
    status, out = told(capsys, file)
    assert status == 2
    assert "No readings in a.lesson.md" in out.err


@pytest.mark.parametrize(
    ("bench", "text", "wanted"),
    [
        (
            "resistor",
            "I / A | V / V\n0.1 | 0.201\n0.3 | 0.599\n0.2 | 0.401\n0.5 | 1.002\n",
            "resistance R = (2.002 ±",
        ),
        ("bridge", "P: 100 ohm ± 0.1 %\nQ: 1 kohm ± 0.1 %\nS: 532 ohm ± 0.1 %\n", "X = (53.20 ± 0.09) Ω"),
        ("bridge-wire", "S: 10 ohm\nplace: 50.0 cm ± 1 mm\nwire: 100 cm\n", "X = (10.00 ± 0.04) Ω"),
        (
            "potentiometer",
            "load: 5 ohm\nopen place: 75.0 cm ± 0.5 mm\nloaded place: 69.4 cm ± 0.5 mm\n",
            "r = (0.403 ± 0.005) Ω",
        ),
        (
            "discharge",
            "resistance: 100 kohm ± 1 %\nt / s | V / V\n0 | 6.00\n5 | 3.64\n10 | 2.21\n15 | 1.34\n",
            "capacitance = (0.1001 ± 0.0010) mF",
        ),
        ("bridge", "P: 100 ohm\n", "I need a line above the table"),
    ],
)
def test_other_bench_work(capsys, tmp_path, bench, text, wanted):
    file = tmp_path / "a.txt"
    file.write_text(text, encoding="utf-8")
    status, out = told(capsys, file, "--bench", bench)
    assert wanted in out.out.replace("\u202f", " ")
    assert status == int("I need" in wanted)
