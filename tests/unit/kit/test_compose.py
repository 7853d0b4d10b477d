"""From a proved lesson to moments and documents."""

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from boardproof.kit.compose import Composer
from boardproof.kit.proof import open_course, prove_lessons
from boardproof.picture.drawing import Label
from boardproof.publish.document import (
    CautionItem,
    Document,
    Figure,
    Formula,
    Maths,
    PauseItem,
    Prose,
    Steps,
    TrapItem,
    Words,
)

PARTS = """
```circuit
A = cell E_1 = 6 V, r_1 = 2 ohm
B = cell E_2 = 4.5 V, r_2 = 3 ohm
R = resistor 9.6 ohm
both = A || B
main = both across R
let E_p = emf of both
let r_p = resistance of both
```
"""


class Ruler:
    """Measures letters as if all were alike."""

    def extent(self, label: Label) -> tuple[float, float, float]:
        return 2.0 * label.size, 0.7 * label.size, 0.2 * label.size


def composed(folder: Path, text: str) -> Composer:
    path = folder / "a.lesson.md"
    path.write_text(f"# Two\n{text}", encoding="utf-8")
    course, findings, only = open_course(path)
    (proof,) = prove_lessons(course, findings, only=only)
    assert not proof.report.has_errors, proof.report.diagnostics
    return Composer(proof, Ruler())


def items(document: Document, kind: type) -> list[object]:
    return [item for scene in document.scenes for item in scene.items if isinstance(item, kind)]


def test_a_moment_begins_a_scene_makes_a_move_writes_a_line_waits_or_reveals(tmp_path: Path) -> None:
    text = f"""
## One
{PARTS}
Look. `focus A` This is A.

$$ E_p = 5.4 V $$

```pause 20 s
What is the current?
answer:
$I = 0.5 A$.
```
"""
    moments = composed(tmp_path, text).moments
    assert [moment.cause for moment in moments] == ["scene", "move", "line", "pause", "reveal"]
    assert len({moment.key for moment in moments}) == 5
    assert moments[1].state.focused == ("A",)
    assert [len(moment.state.written) for moment in moments] == [0, 0, 1, 1, 1]
    assert [moment.waits for moment in moments] == [False, False, False, True, False]


def test_a_pause_takes_its_words_and_its_seconds(tmp_path: Path) -> None:
    text = "\n## One\n" + PARTS + "\n```pause 20 s\nNow you try this one please.\nanswer:\nYes.\n```\n"
    composer = composed(tmp_path, text)
    pause = next(moment for moment in composer.moments if moment.waits)
    assert composer.seconds(pause) == 20 + Fraction(60 * 6, 130)


def test_what_a_scene_hides_and_labels_ends_with_it(tmp_path: Path) -> None:
    text = f"\n## One\n{PARTS}\n`hide R` Two. `label A with values` See.\n\n## Two\n\nNothing hidden.\n"
    moments = composed(tmp_path, text).moments
    assert moments[-2].state.hidden == ("R",)
    assert moments[-2].state.labels == (("A", "values"),)
    assert (moments[-1].state.hidden, moments[-1].state.labels) == ((), ())


def test_arrows_show_positive_values_turned_to_fit(tmp_path: Path) -> None:
    text = f"\n## One\n{PARTS}\n`arrow I_1, I_2` There.\n"
    one, two = composed(tmp_path, text).moments[-1].state.arrows
    assert (one.sense, one.readout and one.readout.shown) == (1, "0.6\u202fA")
    assert (two.sense, two.readout and two.readout.shown, two.note) == (-1, "0.1\u202fA", "being charged")


@pytest.mark.parametrize(("emf", "kind"), [("3 V", "turned cell"), ("6 V", "resistor"), ("9 V", "cell")])
def test_an_equivalent_is_drawn_by_the_sign_of_its_emf(tmp_path: Path, emf: str, kind: str) -> None:
    text = f"""
## One

```circuit
A = cell E_1 = {emf}, r_1 = 2 ohm
B = cell E_2 = 6 V, r_2 = 3 ohm
R = resistor 5 ohm
row = A + -B
main = row across R
let E_s = emf of row
let r_s = resistance of row
```

`replace row by one cell` From outside.
"""
    state = composed(tmp_path, text).moments[-1].state
    assert state.replaced == (("row", kind),)
    letters = "r_s" if kind == "resistor" else "E_s, r_s"
    assert state.labels == (("row", letters),)


def test_a_document_holds_every_block_in_reading_order(tmp_path: Path) -> None:
    text = f"""
## One
{PARTS}
The pair gives {{I}}.

$$ E_p = (E_1 r_2 + E_2 r_1)/(r_1 + r_2) \\tag{{pair}} $$

```derive r_p of both by short, then EMFs taken out
1. 1/r_p = 1/r_1 + 1/r_2   by resistances in parallel
   Side by side, reciprocals add.
```

```trap
wrong: E_p = (E_1 + E_2)/2
belief: parallel plain mean
The mean forgets the resistances.
```

> Printed only.
"""
    composer = composed(tmp_path, text)
    document = composer.document()
    (scene,) = document.scenes
    kinds = [type(item) for item in scene.items]
    assert kinds == [CautionItem, Figure, Prose, Formula, Steps, TrapItem, Prose]
    prose, formula, steps, trap, quiet = scene.items[2:]
    assert isinstance(prose, Prose)
    assert prose.runs[1] == Words("0.5\u202fA", "value")
    assert isinstance(formula, Formula)
    assert formula.tag == "pair"
    assert isinstance(steps, Steps)
    assert steps.steps[0].words[0].runs == (Words("Side by side, reciprocals add."),)
    assert isinstance(trap, TrapItem)
    assert trap.right is not None
    assert isinstance(trap.only_when[0], Maths)
    assert isinstance(quiet, Prose)
    assert not quiet.said
    assert composer.stamp(date(2026, 11, 5), draft=False).words == "every statement proved, 5 November 2026"


def test_no_figure_before_a_pause_shows_its_answer(tmp_path: Path) -> None:
    text = f"""
## One
{PARTS}
`hide R` Two batteries.

```pause 10 s
What is the current?
answer:
`arrow I` It is $I = 0.5 A$.
```

So it is.
"""
    document = composed(tmp_path, text).document()
    order = [item for item in document.scenes[0].items if isinstance(item, Figure | PauseItem)]
    assert isinstance(order[0], Figure)
    assert isinstance(order[1], PauseItem)
    before = " ".join(each.alternative for each in (order[0].wide, order[0].near))
    assert "0.5" not in before
    assert not any(drawn.id.startswith("arrow:") for drawn in order[0].wide.drawn)


def test_the_same_picture_is_not_printed_twice(tmp_path: Path) -> None:
    text = f"\n## One\n{PARTS}\nOne.\n\nTwo.\n\n## Two\n\nThree.\n"
    assert len(items(composed(tmp_path, text).document(), Figure)) == 1


def test_an_empty_derive_block_is_filled_with_proven_steps(tmp_path: Path) -> None:
    text = f"\n## One\n{PARTS}\n```derive E_p, r_p of both by same terminal p.d.\n```\n"
    composer = composed(tmp_path, text)
    (steps,) = items(composer.document(), Steps)
    assert isinstance(steps, Steps)
    assert len(steps.steps) >= 4
    assert sum(moment.cause == "line" for moment in composer.moments) == len(steps.steps)
