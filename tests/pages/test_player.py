"""The player in a browser: played, stepped, waited at, linked to, read aloud, on a phone and by keyboard."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from boardproof.kit.outputs import Wanted, make_outputs
from boardproof.kit.proof import open_course, prove_lessons


@pytest.fixture(scope="module")
def kit(tmp_path_factory) -> Path:
    """The player and explore pages of the demo course's lesson with unequal cells."""
    folder = tmp_path_factory.mktemp("kit")
    source = Path("examples/weather-buoy/3-cells-in-parallel.lesson.md")
    course, findings, one = open_course(source)
    (proof,) = prove_lessons(course, findings, only=one)
    built = make_outputs(proof, Wanted(frozenset({"player", "explore"})), made=date(2026, 1, 5))
    assert not built.failed
    for name, content in built.files.items():
        (folder / name).write_bytes(content)
    return folder


ANSWER = "nearer to the battery with the smaller"


def to_the_pause(page) -> None:
    for _ in range(40):
        if page.locator("#wait").is_visible():
            return
        page.keyboard.press("ArrowRight")
    raise AssertionError("no pause")


def test_it_is_one_small_file(kit) -> None:
    stages = 28
    assert (kit / "player.html").stat().st_size <= 1.5e6 * stages / 40


@pytest.mark.parametrize(("width", "theme"), [(360, "light"), (1280, "dark"), (1920, "light")])
def test_every_state_is_free_of_faults_and_of_sideways_scroll(
    kit, visiting, accessibility_faults, width: int, theme: str
) -> None:
    with visiting(width, theme=theme) as seen:
        page = seen.open(kit / "player.html")
        for state in ("start", "pause", "revealed", "last"):
            if state == "pause":
                to_the_pause(page)
            elif state == "revealed":
                page.click("#show")
                page.click("#play")
            elif state == "last":
                page.locator("#chapters button").last.click()
                page.check("#plain-letters")
            page.wait_for_timeout(300)
            assert accessibility_faults(page) == [], state
            assert page.evaluate("document.documentElement.scrollWidth") <= width, state


def test_an_answer_is_nowhere_until_it_is_asked_for(kit, visit) -> None:
    page = visit.open(kit / "player.html")
    to_the_pause(page)
    assert ANSWER not in page.content()
    assert ANSWER not in page.locator("body").aria_snapshot()
    page.fill("#mine", "the mean")
    page.click("#show")
    assert ANSWER in page.locator("#said").inner_text()
    assert ANSWER in page.locator("body").aria_snapshot()
    assert page.locator("#yours").inner_text() == "You wrote: the mean"


def test_a_skipped_answer_stays_hidden_in_the_transcript(kit, visit) -> None:
    page = visit.open(kit / "player.html")
    page.locator("#chapters button").nth(2).click()
    assert ANSWER not in page.content()
    assert "once you have asked for it" in page.locator("#lines").inner_text()


def test_the_lesson_is_stepped_through_by_keyboard_alone(kit, visit) -> None:
    page = visit.open(kit / "player.html")
    keys = set()
    for _ in range(60):
        page.keyboard.press("ArrowRight")
        keys.add(page.evaluate("location.hash"))
    assert len(keys) == 27  # every moment but the first
    assert page.locator("#on").is_disabled()
    page.keyboard.press("ArrowLeft")
    assert page.locator("#on").is_enabled()
    met = []
    for _ in range(80):
        page.keyboard.press("Tab")
        met.append(page.evaluate("document.activeElement.id || document.activeElement.textContent.trim()"))
    for wanted in ("play", "back", "captions", "pace", "here", "Transcript", "v-E_1", "try"):
        assert wanted in met, wanted


def test_playing_goes_on_by_itself_and_really_waits_at_a_pause(kit, visit) -> None:
    page = visit.open(kit / "player.html")
    page.clock.install()
    page.reload()
    page.focus("#play")
    page.keyboard.press("Enter")
    for _ in range(12):
        page.clock.run_for(10_000)
    assert page.locator("#wait").is_visible()
    page.clock.run_for(600_000)
    assert page.locator("#wait").is_visible()
    assert page.locator("#play").inner_text() == "Play"
    page.click("#show")
    for _ in range(40):
        page.clock.run_for(10_000)
    assert page.locator("#chapters .now").inner_text().startswith("6")


def test_a_link_leads_to_its_moment(kit, visit) -> None:
    page = visit.open(kit / "player.html")
    for _ in range(9):
        page.keyboard.press("ArrowRight")
    link, words = page.get_attribute("#here", "href"), page.locator("#said").inner_text()
    page.goto("about:blank")
    page.goto((kit / "player.html").resolve().as_uri() + link)
    assert page.locator("#said").inner_text() == words
    assert page.get_attribute("#here", "href") == link


def test_boards_move_and_come_to_rest_as_drawn(kit, browser) -> None:
    context = browser.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="no-preference")
    page = context.new_page()
    page.goto((kit / "player.html").resolve().as_uri())
    for _ in range(12):
        page.keyboard.press("ArrowRight")
        page.wait_for_timeout(60)
    page.wait_for_timeout(1000)
    moved = page.locator("#board svg").inner_html()
    context.close()
    context = browser.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="reduce")
    still = context.new_page()
    still.goto((kit / "player.html").resolve().as_uri())
    for _ in range(12):
        still.keyboard.press("ArrowRight")
    still.wait_for_timeout(400)
    assert still.locator("#board svg").inner_html() == moved
    context.close()


def test_letters_on_the_board_can_be_read_on_a_phone(kit, visiting) -> None:
    with visiting(360) as seen:
        page = seen.open(kit / "player.html")
        box = page.locator("#board svg").bounding_box()
        assert 2.1 * box["width"] / 54 >= 14 - 0.1
