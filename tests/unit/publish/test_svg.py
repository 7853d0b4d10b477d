"""Pictures as SVG: weights and colours by role and state, words for readers, nothing of what is hidden."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from lxml import etree

from boardproof.picture.drawing import Box, Drawn, Frame, Label, Outline, Text
from boardproof.publish.palette import PALETTES
from boardproof.publish.svg import frame_svg, inline_picture, labels_in, print_rules, weight
from boardproof.publish.typeset import Typesetter
from unit.publish import sample

NS = {"s": "http://www.w3.org/2000/svg"}
BOX = Box(0, 0, 1, 1)


@pytest.fixture(scope="module")
def typesetter() -> Typesetter:
    return Typesetter()


def read(text: str) -> etree._Element:
    return etree.fromstring(text.encode())


def one(drawn: Drawn, typesetter: Typesetter, theme: str = "paper", shape: str = "wide") -> etree._Element:
    return read(frame_svg(Frame("m", shape, 96, 54, (drawn,), "A picture", "Some words."), typesetter, theme))


def wire(state: str, kind: str = "wire", role: str = "wire", fill: str = "none") -> Drawn:
    return Drawn("part:A", kind, state, BOX, (Outline("M0 0H9", role, fill),), "a wire")


def path(root: etree._Element) -> etree._Element:
    (found,) = root.findall(".//s:g/s:path[@class]", NS)
    return found


@pytest.mark.parametrize("theme", ["paper", "slate", "print"])
def test_a_board_is_sound_xml_with_one_home_for_each_glyph(typesetter, theme: str) -> None:
    root = read(frame_svg(sample.board(), typesetter, theme))
    ids = [each.get("id") for each in root.iter() if each.get("id")]
    assert len(ids) == len(set(ids))
    used = {each.get("href")[1:] for each in root.iter(f"{{{NS['s']}}}use")}
    assert used
    assert used <= set(ids)


def test_readers_hear_title_and_words(typesetter) -> None:
    root = read(frame_svg(sample.board(), typesetter, "paper"))
    assert root.get("role") == "img"
    named = [root.find(f".//*[@id='{each}']").text for each in root.get("aria-labelledby").split()]
    assert named == ["What each cell does", sample.ALTERNATIVE]
    assert root[0].tag.endswith("title")
    part = root.find(".//*[@data-id='part:A']/s:title", NS)
    assert part.text == "cell A, 6 V and 1 Ω"
    assert root.find(".//*[@data-id='arrow:I_1']/s:desc", NS).text == "I_1 = 1 A"


def test_hidden_things_leave_no_trace(typesetter) -> None:
    frame = sample.board()
    hidden = next(drawn for drawn in frame.drawn if drawn.state == "hidden")
    text = frame_svg(frame, typesetter, "paper")
    assert "secret" not in text
    assert "hidden answer" not in text
    without = replace(frame, drawn=tuple(each for each in frame.drawn if each is not hidden))
    assert text == frame_svg(without, typesetter, "paper")
    assert all(mark.label not in labels_in([frame]) for mark in hidden.marks)


def test_focus_is_heavier_and_in_its_colour(typesetter) -> None:
    plain, lit, dim = (path(one(wire(state), typesetter)) for state in ("normal", "focus", "dimmed"))
    assert float(lit.get("stroke-width")) == pytest.approx(1.8 * float(plain.get("stroke-width")))
    assert dim.get("stroke-width") == plain.get("stroke-width")
    colours = [PALETTES["paper"][name] for name in ("ink", "focus", "dim")]
    assert [each.get("stroke") for each in (plain, lit, dim)] == colours


def test_print_dims_by_weight_alone(typesetter) -> None:
    plain, dim, lit = (path(one(wire(state), typesetter, "print")) for state in ("normal", "dimmed", "focus"))
    assert plain.get("stroke") == dim.get("stroke")
    weights = [float(each.get("stroke-width")) for each in (dim, plain, lit)]
    assert weights[0] * 2 == pytest.approx(weights[1])
    assert weights[1] * 1.8 == pytest.approx(weights[2])


def test_a_narrow_board_is_drawn_heavier_and_never_too_thin() -> None:
    for role, floor in (
        ("wire", 1.5),
        ("outline", 1.5),
        ("curve", 1.5),
        ("plate", 1.5),
        ("measure", 1),
        ("axis", 1),
    ):
        assert weight(role, "normal", near=True) >= max(1.35 * weight(role, "normal"), floor / 6.67) - 1e-9
    assert weight("measure", "normal", near=True) < 0.8 * weight("wire", "normal", near=True)


def test_replaced_things_are_dashed(typesetter) -> None:
    assert path(one(wire("replaced"), typesetter)).get("stroke-dasharray") == "0.5 0.45"
    assert path(one(wire("normal"), typesetter)).get("stroke-dasharray") is None


def test_special_kinds(typesetter) -> None:
    short = path(one(wire("normal", "imagined short"), typesetter))
    assert (short.get("stroke"), float(short.get("stroke-width"))) == (PALETTES["paper"]["focus"], 0.12)
    assert path(one(wire("focus", "caution"), typesetter)).get("stroke") == PALETTES["paper"]["ink"]
    case = path(one(wire("focus", "cell", "case", "shade"), typesetter))
    assert (case.get("stroke"), case.get("fill")) == (None, PALETTES["paper"]["lamp"])
    solid = path(one(wire("dimmed", "current", "solid", "ink"), typesetter))
    assert (solid.get("stroke"), solid.get("fill")) == (None, PALETTES["paper"]["dim"])
    assert path(one(wire("normal", "cell", "plate", "ink"), typesetter)).get("stroke") is None


@pytest.mark.parametrize(
    ("kind", "style", "state", "ink"),
    [
        ("words", "roman", "normal", "ink"),
        ("words", "italic", "normal", "quiet"),
        ("words", "italic", "focus", "ink"),
        ("words", "roman", "dimmed", "dimtext"),
        ("small", "roman", "normal", "quiet"),
        ("caution", "italic", "focus", "ink"),
        ("line", "roman", "focus", "focus"),
    ],
)
def test_ink_of_words(typesetter, kind: str, style: str, state: str, ink: str) -> None:
    drawn = Drawn("words:1", kind, state, BOX, (Text(Label("lost volts", 1, style), 1, 1),))
    group = one(drawn, typesetter).find(".//s:g[@class='text']/s:g", NS)
    assert group.get("fill") == PALETTES["paper"][ink]


def test_only_maths_in_focus_is_outlined_and_never_its_bars(typesetter) -> None:
    def letters(state: str, content: object) -> etree._Element:
        drawn = Drawn("line:1", "line", state, BOX, (Text(Label(content, 1, display=True), 1, 1),))
        return one(drawn, typesetter).find(".//s:g[@class='text']", NS)

    lit = letters("focus", sample.MEAN)
    assert lit.find("s:g", NS).get("stroke-width") == "1.8"
    assert {bar.get("stroke-width") for bar in lit.findall("s:path", NS)} != {"1.8"}
    assert letters("normal", sample.MEAN).find("s:g", NS).get("stroke") is None
    assert letters("focus", "words").find("s:g", NS).get("stroke") is None


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_labels_stand_where_they_are_put(typesetter, anchor: str) -> None:
    label = Label("terminal", 2)
    root = one(Drawn("words:1", "words", "normal", BOX, (Text(label, 40, 20, anchor),)), typesetter)
    x, y = map(float, re.findall(r"[\d.]+", root.find(".//s:g[@class='text']", NS).get("transform"))[:2])
    share = {"start": 0, "middle": 0.5, "end": 1}[anchor]
    assert x == pytest.approx(40 - share * typesetter.extent(label)[0], abs=0.001)
    assert y == 20


@pytest.mark.parametrize("text", ['"><script>alert(1)</script>', "a' b & <c>", "\x00]]>"])
def test_hostile_words_stay_words(typesetter, text: str) -> None:
    drawn = Drawn(f"part:{text}", text, "normal", BOX, (Text(Label(text, 1), 1, 1),), text)
    clean = text.replace("\x00", "")
    root = read(frame_svg(Frame("m", "wide", 96, 54, (drawn,), clean, clean), typesetter, "css"))
    assert not list(root.iter("{*}script"))
    assert root.find("s:title", NS).text == clean


def test_a_page_can_hold_many_pictures(typesetter) -> None:
    made = [inline_picture(sample.board(), typesetter, f"p{n}-") for n in range(40)]
    sheet = typesetter.glyph_sheet(frozenset().union(*(each.glyphs for each in made)))
    assert sum(len(each.svg) for each in made) + len(sheet) < 1_200_000
    ids = re.findall(r' id="([^"]+)"', "".join(each.svg for each in made) + sheet)
    assert len(ids) == len(set(ids))
    assert "style=" not in made[0].svg


def test_css_pictures_name_colours_and_fixed_ones_give_them(typesetter) -> None:
    assert "#" not in re.sub(r'href="#', "", inline_picture(sample.figure(), typesetter, "a").svg)
    assert "var(" not in frame_svg(sample.figure(), typesetter, "slate")


def test_rules_for_print_make_dimmed_lines_thin() -> None:
    (made,) = re.findall(
        r"main \.wide \.s-dimmed \.r-wire[^{]*\{stroke-width:([\d.]+)\}", print_rules("main")
    )
    assert float(made) == pytest.approx(weight("wire", "normal") / 2)


def test_same_frame_same_text() -> None:
    assert frame_svg(sample.board(), Typesetter(), "paper") == frame_svg(
        sample.board(), Typesetter(), "paper"
    )


@pytest.mark.parametrize(("shape", "lines"), [("wide", 2), ("near", 2), ("figure", 0)])
def test_a_caption_is_written_only_when_wanted_and_only_on_boards(typesetter, shape: str, lines: int) -> None:
    frame = Frame("m", shape, 96, 96, (), "t", caption=("Cell A has 6 V.", "5 V reach the terminals."))
    assert frame_svg(frame, typesetter, "paper").count('class="text"') == 0
    assert frame_svg(frame, typesetter, "paper", captions=True).count('class="text"') == lines
    if lines:
        with pytest.raises(ValueError, match="room for 2 lines"):
            frame_svg(replace(frame, caption=("a", "b", "c")), typesetter, "paper", captions=True)
