"""What is on the board at each point of a lesson."""

from fractions import Fraction

from boardproof.lesson.read import read_lesson
from boardproof.lesson.sentence import Maths
from boardproof.prove.walk import Walk, walk_lesson
from boardproof.prove.worlds import Worlds, values_from_readings
from boardproof.source import Source

PARTS = """
```circuit
A = cell E_1 = 6 V, r_1 = 1 ohm
B = cell E_2 = 4 V, r_2 = 1 ohm
R = resistor 8 ohm
row = A + B
main = row across R
```
"""


def walked(text: str, **options: object) -> Walk:
    lesson, found = read_lesson(Source("a.lesson.md", text))
    assert not found
    return walk_lesson(lesson, {}, **options)  # type: ignore[arg-type]


def values(walk: Walk, name: str) -> list[Fraction | str]:
    """The value of a name wherever the text says ``$X$``."""
    worlds = Worlds(walk.definitions)
    found: list[Fraction | str] = []
    for visit in walk.visits:
        if isinstance(visit.element, Maths):
            value = worlds.at(visit.place).in_numbers(name)
            found.append(value if isinstance(value, Fraction) else value.reason)
    return found


def test_a_circuit_lasts_until_the_next_one() -> None:
    walk = walked(f"# T\n\n## One\n{PARTS}\n$X$\n\n## Two\n\n$X$\n\n```circuit\nA across R\n```\n\n$X$\n")
    assert values(walk, "I") == [1, 1, Fraction(6, 9)]


def test_a_turn_lasts_to_the_end_of_its_scene() -> None:
    walk = walked(f"# T\n\n## One\n{PARTS}\n$X$ `turn B` $X$\n\n$X$\n\n## Two\n\n$X$\n")
    assert values(walk, "I") == [1, Fraction(1, 5), Fraction(1, 5), 1]


def test_take_brings_another_circuit_for_the_scene() -> None:
    walk = walked(f"# T\n\n## One\n{PARTS}\n`take main but R = 3 ohm` $X$\n\n## Two\n\n$X$\n")
    assert values(walk, "I") == [2, 1]


def test_an_imagined_short_ends_with_its_paragraph_and_changes_no_value() -> None:
    walk = walked(f"# T\n\n## One\n{PARTS}\n`short row` $X$\n\n$X$\n")
    places = [visit.place for visit in walk.visits if isinstance(visit.element, Maths)]
    assert [place.imagined for place in places] == [(("row", "short"),), ()]
    assert values(walk, "E_row") == [10, 10]


def test_a_step_changes_the_circuit_for_itself_only() -> None:
    step = "```derive I by junctions and loops\n1. I = I_A by junction rule\n   `turn B` Now.\n```\n"
    walk = walked(f"# T\n\n## One\n{PARTS}\n{step}\n$X$\n")
    assert values(walk, "I") == [1]
    inside = next(visit.place.circuit for visit in walk.visits if visit.role == "step")
    assert inside is not None
    assert "turn B" in inside.written


def test_readings_give_letters_their_values() -> None:
    text = """# T

## One

```circuit
X = cell
L = resistor
test = X across L
given V_X = 1.25 V, I_X = 0.5 A when L = 2.5 ohm
given V_X = 1.4 V, I_X = 0.2 A when L = 7 ohm
```

$X$
"""
    walk = walked(text, fixed=values_from_readings)
    assert values(walk, "E_X") == [Fraction(3, 2)]
    assert values(walk, "r_X") == [Fraction(1, 2)]


def test_a_named_set_of_values_can_be_put_on_every_circuit() -> None:
    text = f"# T\n\n## One\n{PARTS.replace('main =', 'values fresh: E_1 = 16 V' + chr(10) + 'main =')}\n$X$\n"
    assert values(walked(text, values="fresh"), "I") == [2]


def test_what_contradicts_itself_is_told_where_it_is_put_on_the_board() -> None:
    text = "# T\n\n## One\n\n```circuit\nX = source 6 V\nY = source 4 V\n(X || Y) across L\nL = resistor 2 ohm\n```\n"
    walk = walked(text)
    (fault,) = walk.findings
    assert fault.kind.code == "clashing-sources"
    assert walk.lesson.source.position(fault.span.start)[0] == 8
