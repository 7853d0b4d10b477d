"""The lesson's page, script and cue cards in a browser: by eye at two widths, by keyboard, and by a screen reader."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from boardproof.publish.page import page
from boardproof.publish.script import cue_cards, script
from boardproof.publish.typeset import Typesetter
from unit.publish import sample

OUTPUTS = {"page": page, "script": script, "cue-cards": cue_cards}
WIDTHS = (360, 1280)


@pytest.fixture(scope="module")
def pages(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("pages")
    setter = Typesetter()
    for name, output in OUTPUTS.items():
        for stamp, end in ((sample.STAMP, ""), (sample.DRAFT, "-draft")):
            text = output(sample.document(), cautions=(sample.CAUTION,), stamp=stamp, typesetter=setter)
            (folder / f"{name}{end}.html").write_text(text, encoding="utf-8")
    return folder


def background(page) -> str:
    return page.evaluate("getComputedStyle(document.documentElement).backgroundColor")


@pytest.mark.parametrize(("width", "theme"), [(360, "light"), (1280, "dark")])
@pytest.mark.parametrize("name", OUTPUTS)
def test_no_accessibility_fault_and_no_sideways_scroll(
    pages, visiting, accessibility_faults, name: str, width: int, theme: str
) -> None:
    with visiting(width, theme=theme) as seen:
        opened = seen.open(pages / f"{name}.html")
        assert opened.evaluate("document.documentElement.scrollWidth") <= width
        for details in opened.query_selector_all("summary"):
            details.click() if details.is_visible() else None
        opened.check("#plain-letters")
        assert accessibility_faults(opened) == []
        assert opened.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_the_picture_fits_the_screen_and_its_letters_can_be_read(pages, visiting, width: int) -> None:
    with visiting(width) as seen:
        opened = seen.open(pages / "page.html")
        shown = [each for each in opened.query_selector_all("svg.board") if each.is_visible()]
        assert len(shown) == 2, "each figure once"
        shape, size = ("wide", 1.6) if width >= 960 else ("near", 2.2)
        for each in shown:
            assert shape in each.get_attribute("class").split()
            units = float(each.get_attribute("viewBox").split()[2])
            assert size * each.bounding_box()["width"] / units >= 14


def test_everything_is_done_by_keyboard(pages, visit) -> None:
    opened = visit.open(pages / "page.html")
    met = []
    for _ in range(60):
        opened.keyboard.press("Tab")
        at = opened.evaluate(
            "(() => { const e = document.activeElement; return e === document.body ? '' : "
            "e.id || e.textContent.trim() })()"
        )
        if at == "" and met:
            break
        met.append(at)
    assert met[0] == "Skip to the lesson"
    for wanted in ("theme-device", "plain-letters", "Check the ends", "Figure 1 in words", "Show the answer"):
        assert wanted in met


def test_focus_is_always_seen(pages, visit) -> None:
    opened = visit.open(pages / "page.html")
    opened.keyboard.press("Tab")
    assert opened.locator(".skip").bounding_box()["y"] >= 0
    opened.locator("summary").first.focus()
    opened.keyboard.press("Shift+Tab")
    opened.keyboard.press("Tab")
    assert opened.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"


def test_an_answer_is_hidden_until_asked_for(pages, visit) -> None:
    opened = visit.open(pages / "page.html")
    pause = opened.locator(".pause")
    assert "lies between" not in pause.inner_text()
    assert "lies between" not in pause.aria_snapshot()
    assert not opened.locator(".answer .maths").first.is_visible()
    opened.get_by_text("Show the answer").focus()
    opened.keyboard.press("Enter")
    assert "lies between" in pause.inner_text()
    assert "lies between" in pause.aria_snapshot()
    assert opened.locator(".answer .maths").first.is_visible()


def test_themes_and_plain_letters_are_choices(pages, visiting) -> None:
    with visiting(theme="dark") as seen:
        opened = seen.open(pages / "page.html")
        assert background(opened) == "rgb(23, 29, 33)"
        for choice, colour in (("paper", "rgb(236, 229, 214)"), ("print", "rgb(255, 255, 255)")):
            opened.get_by_label(choice.capitalize(), exact=True).check()
            assert background(opened) == colour
        opened.get_by_label("As the device").check()
        assert background(opened) == "rgb(23, 29, 33)"
        opened.get_by_label("Plain letters").check()
        assert "system-ui" in opened.evaluate("getComputedStyle(document.body).fontFamily")


def test_dimmed_lines_are_thin_in_print_only(pages, visit, tmp_path) -> None:
    document = sample.document()
    text = page(document, cautions=(), stamp=sample.STAMP, typesetter=Typesetter())
    path = tmp_path / "page.html"
    path.write_text(
        text.replace('class="s-normal k-resistor"', 'class="s-dimmed k-resistor"'), encoding="utf-8"
    )
    opened = visit.open(path)
    width = "parseFloat(getComputedStyle(document.querySelector('.wide .s-dimmed .r-wire')).strokeWidth)"
    on_screen = opened.evaluate(width)
    opened.emulate_media(media="print")
    assert opened.evaluate(width) == pytest.approx(on_screen / 2)
    opened.emulate_media(media="screen")
    opened.check("#theme-print")
    assert opened.evaluate(width) == pytest.approx(on_screen / 2)


def test_screen_readers_meet_landmarks_headings_and_maths(pages, visit) -> None:
    opened = visit.open(pages / "page.html")
    told = opened.locator("body").aria_snapshot()
    for part in (
        "banner",
        'navigation "Scenes"',
        "main",
        "contentinfo",
        'note "Caution"',
        'img "Two unlike cells in',
    ):
        assert part in told
    assert opened.get_by_role("heading", level=1).count() == 1
    levels = opened.evaluate("[...document.querySelectorAll('h1,h2,h3')].map(h => +h.tagName[1])")
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert opened.locator("math").count() == opened.locator("span.m").count()


def test_maths_stands_on_the_line_of_its_words(pages, visit) -> None:
    opened = visit.open(pages / "page.html")
    gaps = opened.evaluate(
        """[...document.querySelectorAll('p .maths')].map(svg => {
            const box = svg.getBoundingClientRect(), top = svg.viewBox.baseVal.y, all = svg.viewBox.baseVal.height
            const mark = document.createElement('span'); mark.textContent = 'x'; svg.parentElement.before(mark)
            const range = document.createRange(); range.selectNode(mark)
            const probe = document.createElement('img'); mark.append(probe)
            const line = probe.getBoundingClientRect().bottom
            const drawn = svg.getBoundingClientRect().bottom - box.height * (all + top) / all
            mark.remove()
            return Math.abs(line - drawn)
        })"""
    )
    assert gaps
    assert max(gaps) < 1


@pytest.mark.parametrize("name", OUTPUTS)
def test_a_draft_is_marked_on_screen_and_on_every_printed_page(pages, visit, name: str) -> None:
    opened = visit.open(pages / f"{name}-draft.html")
    content = opened.evaluate("getComputedStyle(document.querySelector('.sheet'), '::before').content")
    assert content == '"DRAFT"'
    assert not opened.locator(".stamped").is_visible()
    opened.emulate_media(media="print")
    assert opened.locator(".stamped").is_visible()
    assert opened.evaluate("getComputedStyle(document.querySelector('.stamped')).position") == "fixed"


def test_answers_and_controls_are_not_printed(pages, visit) -> None:
    opened = visit.open(pages / "page.html")
    opened.emulate_media(media="print")
    assert not opened.locator(".controls").is_visible()
    assert not opened.get_by_text("Show the answer").is_visible()
    assert opened.locator(".caution").first.is_visible()
