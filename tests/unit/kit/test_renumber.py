"""New numbers for a lesson: only proved ones change, at their figures and units; what stops being true is told."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from boardproof.cli import main
from boardproof.kit.check import check_file
from boardproof.kit.proof import open_course
from boardproof.kit.renumber import renumber
from boardproof.lesson.edit import apply, inverse

EXAMPLES = Path(__file__).parents[3] / "examples" / "weather-buoy"
LESSON = """# A cell

## Scene

```circuit
A = cell E = 6 V, r = 1 ohm
R = resistor 11 ohm
values fresh: E = 9 V, r = 3 ohm, R = 15 ohm
values weak: E = 3 V
main = A across R
```

The current in the load is half an ampere, and the terminal p.d. is 5.5 V.
The lost volts are [0.50 V](=lost volts in A).
$I = 6 V/(11 ohm + 1 ohm) = 0.5 A$, that is $I = 500 mA$. Nobody can hear [50 dB](=free "a number from outside").
By then it is [half an ampere](=I). The load takes $R I^2 = 2.75 W$.
"""


@pytest.fixture
def lesson(tmp_path):
    path = tmp_path / "a.lesson.md"
    path.write_text(LESSON, encoding="utf-8")
    return path


def renumbered(path, values):
    folder, _, only = open_course(path)
    return renumber(folder, only or folder.lessons[0].name, values)


def test_numbers_in_maths_and_in_sentences(lesson):
    found = renumbered(lesson, "fresh")
    text = found.after.text
    assert "A = cell E = 9 V, r = 3 ohm" in text
    assert "R = resistor 15 ohm" in text
    assert "values fresh: E = 9 V, r = 3 ohm, R = 15 ohm" in text
    assert "is half an ampere, and the terminal p.d. is 7.5 V" in text
    assert "[1.50 V](=lost volts in A)" in text or "[1.5 V](=lost volts in A)" in text
    assert "$I = 9 V/(15 ohm + 3 ohm) = 0.5 A$" in text
    assert '[50 dB](=free "a number from outside")' in text
    assert "3.75 W" in text
    assert found.clean


def test_words_stay_words_if_they_can_be_said(lesson):
    text = renumbered(lesson, "weak").after.text
    assert "is a quarter of an ampere" in text
    assert "[a quarter of an ampere](=I)" in text
    assert "= 0.25 A$, that is $I = 250 mA$" in text


def test_only_the_named_places_change_and_can_be_undone(lesson):
    found = renumbered(lesson, "fresh")
    assert apply(found.after, inverse(found.source, found.edit)) == found.source
    rest, done = [], 0
    for span, _ in sorted(found.edit.changes, key=lambda change: change[0]):
        rest.append(found.source.text[done : span.start])
        done = span.end
    assert all(piece in found.after.text for piece in rest)


def test_written_lesson_checks_clean_and_nothing_is_written_unasked(lesson, capsys):
    assert main(["renumber", str(lesson), "--values", "fresh"]) == 0
    assert lesson.read_text(encoding="utf-8") == LESSON
    assert main(["renumber", str(lesson), "--values", "fresh", "--write"]) == 0
    assert "Saved" in capsys.readouterr().out
    [report] = check_file(lesson)
    assert not report.diagnostics
    assert "9 V" in lesson.read_text(encoding="utf-8")


def test_unknown_set_is_refused(lesson, capsys):
    assert main(["renumber", str(lesson), "--values", "fersh"]) == 2
    assert "Did you mean fresh" in capsys.readouterr().err


def test_values_of_another_file_and_a_verb_that_no_longer_fits(tmp_path, capsys):
    folder = tmp_path / "buoy"
    shutil.copytree(EXAMPLES, folder)
    path = folder / "3-cells-in-parallel.lesson.md"
    values = "values fresh: E_1 = 9 V, r_1 = 1 ohm, E_2 = 6 V, r_2 = 2 ohm"
    text = path.read_text(encoding="utf-8").replace(
        "main = both across R\n", f"main = both across R\n{values}\n", 1
    )
    path.write_text(text, encoding="utf-8")
    found = renumbered(path, "fresh")
    assert "main = both across R but fresh" in found.after.text
    assert "$$ r_p = (1 * 2)/(1 + 2) = 0.667 ohm $$" in found.after.text
    assert "$$ I_s = 9 V/1 ohm + 6 V/2 ohm = 9 A + 3 A = 12 A $$" in found.after.text
    assert not [each for each in found.worse if each.severity == "error"]
    assert any("B gives a mere" in each.words for each in found.unsaid)
    assert main(["renumber", str(path), "--values", "fresh", "--write", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["clean"] is False
    assert path.read_text(encoding="utf-8") == text


def test_an_order_that_turns_round_is_told(tmp_path):
    path = tmp_path / "b.lesson.md"
    path.write_text(
        "# Two\n\n## Scene\n\n```circuit\nA = cell E_1 = 6 V, r_1 = 1 ohm\nB = cell E_2 = 3 V, r_2 = 1 ohm\n"
        "R = resistor 5 ohm\nvalues other: E_1 = 2 V\n(A || B) across R\n```\n\n"
        "$E_1$ is bigger than $E_2$. And $E_1 = 6 V$.\n",
        encoding="utf-8",
    )
    [told] = renumbered(path, "other").unsaid
    assert told.words.startswith("$E_1$ is bigger than $E_2$")
    assert "smaller" in told.reason
