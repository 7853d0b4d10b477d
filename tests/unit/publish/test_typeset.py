"""Type: sizes, outlines, one store of glyphs, the same bytes each time, and words that stay words."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest

from boardproof.algebra.expression import Name, Quotient
from boardproof.algebra.notation import Notation
from boardproof.picture.drawing import Label
from boardproof.publish.typeset import Typesetter
from unit.publish import sample

HOSTILE = (
    '#import "@preview/x:1.0.0": *',
    '$ x $ #eval("1") \\ *b* _i_ `raw` <label> @ref // comment',
    '"}]; #read("/etc/passwd")',
    "</svg><script>alert(1)</script>",
    "&amp; ]]> <!-- -->",
)


@pytest.fixture(scope="module")
def typesetter() -> Typesetter:
    return Typesetter()


def test_size_scales_and_nothing_else_does(typesetter) -> None:
    small, large = (typesetter.extent(Label("Load line", size)) for size in (1.2, 2.4))
    assert large == pytest.approx([2 * each for each in small])
    assert typesetter.setting(Label("Load line", 1.2)) is typesetter.setting(Label("Load line", 2.4))


def test_ink_reaches_as_far_as_the_letters(typesetter) -> None:
    x, p, d = (typesetter.setting(Label(letter, 1)) for letter in "xpd")
    assert x.depth == pytest.approx(0, abs=2)
    assert p.depth > 15
    assert p.height == pytest.approx(x.height, abs=6)
    assert d.height > 1.4 * x.height


def test_fractions_stand_on_the_line_and_are_taller_when_displayed(typesetter) -> None:
    fraction = Quotient(Name("E"), Name("r"))
    stacked, slashed = (typesetter.setting(Label(fraction, 1, display=way)) for way in (True, False))
    assert len(stacked.bars) == 1
    assert slashed.bars == ()
    bar = stacked.bars[0]
    assert -35 < bar.y < -15, "the bar lies on the axis of the maths, above the baseline"
    assert stacked.height > 100
    assert stacked.depth > 40
    assert slashed.height < 90


def test_italics_and_weights_are_different_letters(typesetter) -> None:
    keys = {
        typesetter.setting(Label("a", 1, style=style)).glyphs[0].key
        for style in ("roman", "italic", "semibold")
    }
    assert len(keys) == 3


def test_notation_decides_the_letter() -> None:
    plain, greek = (Typesetter(Notation(emf=letter)).setting(Label(Name("E_1"), 1)) for letter in ("E", "ε"))
    assert plain.glyphs[0].key != greek.glyphs[0].key
    assert plain.glyphs[1].key == greek.glyphs[1].key


def test_many_at_once_equal_one_by_one() -> None:
    labels = [Label(f"scene {n}", 1) for n in range(30)] + [Label(Name(f"I_{n}"), 1) for n in range(10)]
    together, alone = Typesetter(), Typesetter()
    together.prepare(labels)
    assert [together.setting(label) for label in labels] == [alone.setting(label) for label in labels]


@pytest.mark.parametrize("words", HOSTILE)
def test_words_are_never_markup(typesetter, words: str) -> None:
    single = {letter: typesetter.setting(Label(letter, 1)).width for letter in set(words)}
    made = typesetter.setting(Label(words, 1))
    assert made.bars == ()
    assert made.width == pytest.approx(sum(single[letter] for letter in words), rel=0.1), "but for kerning"


def test_line_ends_and_control_characters_do_not_make_a_second_line(typesetter) -> None:
    broken, plain = (typesetter.setting(Label(words, 1)) for words in ("one\n\x00two\u2028x", "one two x"))
    assert broken == plain


def test_empty_words_have_no_size(typesetter) -> None:
    assert typesetter.extent(Label("", 2)) == (0, 0, 0)


def test_every_value_sign_has_a_letter_of_its_own(typesetter) -> None:
    missing = typesetter.setting(Label("\U0001f600", 1)).glyphs[0].key
    keys = {glyph.key for glyph in typesetter.setting(Label("−0.50\u202fA\u00a0kΩ µF ½ ’“” ≤ ∥ °", 1)).glyphs}
    assert missing not in keys


def test_threads_do_not_disturb_each_other() -> None:
    shared = Typesetter()
    with ThreadPoolExecutor(4) as pool:
        widths = list(pool.map(lambda n: shared.extent(Label(f"cell {n}", 1))[0], range(24)))
    assert widths == [Typesetter().extent(Label(f"cell {n}", 1))[0] for n in range(24)]


def test_glyph_sheet_defines_each_once(typesetter) -> None:
    keys = [glyph.key for glyph in typesetter.setting(Label("lesson", 1)).glyphs]
    sheet = typesetter.glyph_sheet(keys + keys)
    assert sheet.count("<path id=") == len(set(keys)) == 5
    assert sheet == typesetter.glyph_sheet(reversed(keys))


def test_pictures_are_the_same_bytes_each_time() -> None:
    size = 'viewBox="0 0 9 5" width="9" height="5"'
    picture = f'<svg xmlns="http://www.w3.org/2000/svg" {size}><path d="M1 1H8" stroke="red"/></svg>'
    first, second = Typesetter().png(picture, 90), Typesetter().png(picture, 90)
    assert first == second
    assert first[:4] == b"\x89PNG"
    assert int.from_bytes(first[16:20], "big") == 90


def test_maths_for_screen_readers(typesetter) -> None:
    assert "<mfrac>" in typesetter.mathml(sample.PAIR)
    assert typesetter.mathml(sample.PAIR, display=True).startswith('<math display="block">')
    assert "over" in typesetter.spoken(sample.PAIR)
