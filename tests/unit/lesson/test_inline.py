"""Sentences: maths, fills, ties, moves, emphasis, escapes, links, and marks without a partner."""

from __future__ import annotations

from typing import Any

import pytest

from boardproof.lesson.moves import MOVE_WORDS
from boardproof.lesson.read import read_lesson
from boardproof.lesson.sentence import Fill, Maths, Move, Tie, Words
from boardproof.source import Source


def pieces(text: str) -> tuple[tuple[Any, ...], list[str]]:
    lesson, found = read_lesson(Source("a", text))
    content = lesson.scenes[0].blocks[0].content if lesson.scenes else ()
    return content, [fault.kind.code for fault in found]


def words(text: str) -> str:
    content, found = pieces(text)
    assert found == []
    return "".join(piece.text for piece in content if isinstance(piece, Words))


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        (r"It costs \$5, \{not filled\} and 3 \* 4 \* 5.", "It costs $5, {not filled} and 3 * 4 * 5."),
        ("See [the *old* lesson](https://example.org/a_(b)) again.", "See the old lesson again."),
        ("At <https://example.org> now.", "At https://example.org now."),
        ("E_1 and E_2 and 2 * 3 * 4 stay.", "E_1 and E_2 and 2 * 3 * 4 stay."),
        ("A *lone star and **another.", "A *lone star and **another."),
        ("[1] and (2) and {I} are no links.", "[1] and (2) and  are no links."),
        ("a < b & c <b>d</b>", "a < b & c <b>d</b>"),
        ("[a]: b", "[a]: b"),
        ("One\\\ntwo  \nthree", "One two three"),
    ],
)
def test_plain_words_are_kept(text: str, shown: str) -> None:
    assert words(text) == shown


def test_emphasis_nests_and_the_inner_one_wins() -> None:
    content, found = pieces("a **b *c* d** _e_ ***f***")
    assert found == []
    assert [(piece.text, piece.style) for piece in content] == [
        ("a ", "plain"), ("b ", "strong"), ("c", "emphasis"), (" d", "strong"), (" ", "plain"), ("e", "emphasis"),
        (" ", "plain"), ("f", "strong"),
    ]  # fmt: skip


def test_braces_within_maths_are_maths() -> None:
    (maths,), found = pieces(r"$\frac{E}{r}$")
    assert (maths.text.text, found) == (r"\frac{E}{r}", [])


@pytest.mark.parametrize(
    ("text", "of", "unit", "figures"),
    [
        ("{I}", "I", None, None),
        ("{ I in mA }", "I", "mA", None),
        ("{I to 2 figures}", "I", None, 2),
        ("{I in mA to 3 s.f.}", "I", "mA", 3),
        ("{current in A}", "current in A", None, None),
        ("{current in A in mA}", "current in A", "mA", None),
        ("{lost volts in A}", "lost volts in A", None, None),
        ("{E as read}", "E as read", None, None),
        ("{r_1 + r_2}", "r_1 + r_2", None, None),
        ("{heat in row}", "heat in row", None, None),
        ("{E_{load}}", "E_{load}", None, None),
    ],
)
def test_a_fill_tells_the_quantity_from_its_unit_and_figures(
    text: str, of: str, unit: str | None, figures: int | None
) -> None:
    (fill,), found = pieces(text)
    assert isinstance(fill, Fill)
    assert (fill.of.text, fill.unit, fill.figures, found) == (of, unit, figures, [])


def test_a_tie_leads_to_a_quantity_or_to_a_reason() -> None:
    content, found = pieces('[half](=I) [50 mA](=free "from the label (large)") [2 A](=(I + I_1))')
    ties = [piece for piece in content if isinstance(piece, Tie)]
    assert found == []
    assert [(tie.words.text, tie.to.text if tie.to else None, tie.reason) for tie in ties] == [
        ("half", "I", None),
        ("50 mA", None, "from the label (large)"),
        ("2 A", "(I + I_1)", None),
    ]


@pytest.mark.parametrize("text", ["a $ b", "a { b", "a ` b", "a $$ b", "a <!-- b"])
def test_a_mark_without_a_partner_is_reported_and_stays_a_word(text: str) -> None:
    content, found = pieces(text)
    assert found == ["never-closed"]
    assert all(isinstance(piece, Words) for piece in content)


MOVES = {
    "show A, B": ("show", ["A", "B"], ""),
    "hide row 2 of bank and B": ("hide", ["row 2 of bank", "B"], ""),
    "plain": ("plain", [], ""),
    "label A with E, r": ("label", ["A"], "E, r"),
    "label A, B with values": ("label", ["A", "B"], "values"),
    "label A": ("label", ["A"], ""),
    "arrow I, I_1": ("arrow", ["I", "I_1"], ""),
    "height": ("height", [], ""),
    "height of main": ("height", ["main"], ""),
    "replace both by one cell": ("replace", ["both"], "cell"),
    "replace R_1 || R_2 by one resistor": ("replace", ["R_1 || R_2"], "resistor"),
    'write "Short, then open"': ("write", ["Short, then open"], ""),
    "recall more current, less p.d.": ("recall", ["more current, less p.d."], ""),
    "take main but turn B, R = 2 ohm": ("take", ["main but turn B, R = 2 ohm"], ""),
    "No EMFs  in both": ("no emf in", ["both"], ""),
    "short both": ("short", ["both"], ""),
}


@pytest.mark.parametrize("text", MOVES)
def test_a_move_has_its_word_and_what_it_acts_on(text: str) -> None:
    (move,), found = pieces(f"`{text}`")
    assert isinstance(move, Move)
    assert found == []
    assert (move.word, [part.text for part in move.of], move.with_) == MOVES[text]


@pytest.mark.parametrize("word", set(MOVE_WORDS) - {"plain", "height", "replace", "write"})
def test_a_move_that_acts_on_something_needs_it(word: str) -> None:
    assert pieces(f"Now `{word}`")[1] == ["unfit-move"]


@pytest.mark.parametrize(
    "text", ["plain A", "height main", "replace A", "write Hello", "label A with", "label with E"]
)
def test_a_move_of_another_form_is_not_made(text: str) -> None:
    content, found = pieces(f"Now `{text}`")
    assert found == ["unfit-move"]
    assert not any(isinstance(piece, (Move, Maths)) for piece in content)
