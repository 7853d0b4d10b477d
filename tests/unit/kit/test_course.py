"""The course ledger: what leans on what, and where the order or the letters break."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from boardproof.cli import main
from boardproof.kit.course import course_ledger, drawn
from boardproof.kit.files import read_folder

EXAMPLES = Path(__file__).parents[3] / "examples" / "weather-buoy"
COURSE = 'title = "Cells"\nlessons = [{lessons}]\nknown = ["Ohm\'s law", "loop rule", "junction rule"]\n'
CELL = """```lesson
establishes = ["cell rule"]
```

# A cell

## One

```circuit
A = cell E, r
R = resistor
main = A across R
```

$$ V = E - I r \\tag{cell rule} $$
"""
PAIR = """```lesson
leans_on = ["cell rule"]
establishes = ["parallel cells"]
```

# Two cells

## One

```circuit
A = cell E_1, r_1
B = cell E_2, r_2
R = resistor
both = A || B
main = both across R
let E_p = emf of both
```

`recall cell rule` Now there are two.

$$ E_p = (E_1 r_2 + E_2 r_1)/(r_1 + r_2) \\tag{parallel cells} $$
"""


@pytest.fixture
def course(tmp_path):
    def made(**lessons):
        names = ", ".join(f'"{name}"' for name in lessons)
        (tmp_path / "course.toml").write_text(COURSE.format(lessons=names), encoding="utf-8")
        for name, text in lessons.items():
            (tmp_path / f"{name}.lesson.md").write_text(text, encoding="utf-8")
        return tmp_path

    return made


def codes(folder):
    return [(each.code, each.span.source) for each in course_ledger(read_folder(folder)[0]).diagnostics]


def test_the_example_course_holds():
    ledger = course_ledger(read_folder(EXAMPLES)[0])
    assert not ledger.diagnostics
    assert [result.name for result in ledger.lessons[0].results] == ["cell rule", "more current, less p.d."]
    assert any(not use.declared for each in ledger.lessons for use in each.uses)


def test_right_order_and_wrong_order(course):
    assert codes(course(a=CELL, b=PAIR)) == []
    assert codes(course(b=PAIR, a=CELL)) == [("not-yet-taught", "b.lesson.md")]


def test_promised_but_not_there(course):
    assert codes(course(a=CELL.replace("\\tag{cell rule}", ""))) == [("not-established", "a.lesson.md")]


def test_a_kept_step_leans_on_its_rules(course):
    step = "```derive V of A by same current\n1. V = I R   by resistances in series\n```\n"
    folder = course(a=CELL + "\n" + step)
    assert codes(folder) == [("not-yet-taught", "a.lesson.md")]


def test_taught_twice_with_other_letters(course):
    again = CELL.replace("# A cell", "# Once more").replace("A = cell E, r", "A = cell E_0, r_i").replace(
        "V = E - I r \\tag{cell rule}", "V = E_0 - I r_i \\tag{terminal law}"
    ).replace('["cell rule"]', '["terminal law"]')  # fmt: skip
    ledger = course_ledger(read_folder(course(a=CELL, b=again))[0])
    assert [each.code for each in ledger.diagnostics] == ["taught-twice"]
    assert "There with V, E, I, r, here with V, E_0, I, r_i." in ledger.diagnostics[0].help
    assert codes(course(a=CELL, b=CELL.replace("# A cell", "# Again"))) == [("taught-twice", "b.lesson.md")]


def test_a_letter_that_changes_its_meaning(course):
    other = PAIR.replace("let E_p = emf of both", "let E_p = emf of both\nlet r = resistance of R").replace(
        "r_1", "r_1"
    )
    [found] = course_ledger(read_folder(course(a=CELL, b=other))[0]).diagnostics
    assert found.code == "changed-meaning"
    assert "r was the internal resistance of a cell" in found.message


def test_command_prints_draws_and_gives_its_status(course, capsys, tmp_path):
    folder = course(b=PAIR, a=CELL)
    picture = tmp_path / "order.svg"
    assert main(["course", str(folder), "--draw", str(picture)]) == 1
    assert "cell rule is used before it is taught" in capsys.readouterr().out
    tree = ET.fromstring(picture.read_text(encoding="utf-8"))
    assert "Two cells. Leans on cell rule." in tree.find("{http://www.w3.org/2000/svg}desc").text
    assert main(["course", str(folder), "--json"]) == 1
    told = json.loads(capsys.readouterr().out)
    assert told["lessons"][0]["leans_on"] == [
        {"name": "cell rule", "declared": True},
        {"name": "cell rule", "declared": False},
    ]
    assert main(["course", str(tmp_path / "nowhere")]) == 2


def test_the_drawing_is_the_same_every_time():
    ledger = course_ledger(read_folder(EXAMPLES)[0])
    assert drawn(ledger) == drawn(ledger)


def test_another_file_is_not_overwritten(course, tmp_path):
    note = tmp_path / "note.txt"
    note.write_text("mine", encoding="utf-8")
    assert main(["course", str(course(a=CELL)), "--draw", str(note)]) == 2
    assert note.read_text(encoding="utf-8") == "mine"
