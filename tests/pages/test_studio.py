"""A teacher's evening in the studio, in a real browser: from a form to a kit, mended slips, nothing lost."""

from __future__ import annotations

import difflib
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page

pytestmark = [pytest.mark.timeout(180), pytest.mark.xdist_group("studio")]
SENTENCE = "two cells side by side, 6 V 1 Ω and 4 V 2 Ω, and a 10 Ω load"
PAIR = """# A pair

## Two cells

```circuit
A = cell 6 V, 1 ohm
B = cell 4 V, 2 ohm
R = resistor 10 ohm
both = A || B
main = both across R
let E_p = emf of both
```

Two cells stand side by side.

$$ E_p = 16/3 V $$

And that is all.
"""


class Studio:
    """The program in a folder of its own."""

    def __init__(self, folder: Path, port: int = 0) -> None:
        self.folder, self.port = folder, port
        self.start()

    def start(self, *options: str) -> None:
        words = [
            sys.executable,
            "-m",
            "boardproof",
            "studio",
            str(self.folder),
            "--quiet",
            "--port",
            str(self.port),
        ]
        self.process = subprocess.Popen([*words, *options], stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        self.link = self.process.stdout.readline().partition("open: ")[2].strip()
        self.home = self.link.partition("/start")[0]
        self.port = int(self.home.rpartition(":")[2])

    def end(self, how: signal.Signals = signal.SIGTERM) -> int:
        self.process.send_signal(how)
        code = self.process.wait(10)
        assert self.process.stdout is not None
        self.process.stdout.close()
        return code

    def lesson(self, name: str) -> Path:
        return self.folder / f"{name}.lesson.md"


@pytest.fixture
def studio(tmp_path) -> Iterator[Studio]:
    folder = tmp_path / "course"
    folder.mkdir()
    (folder / "1-pair.lesson.md").write_text(PAIR, encoding="utf-8")
    running = Studio(folder)
    yield running
    if running.process.poll() is None:
        running.end()


@pytest.fixture
def page(browser: Browser, studio: Studio) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1440, "height": 1000}, reduced_motion="reduce")
    context.set_default_timeout(45_000)
    made = context.new_page()
    made.goto(studio.link)
    yield made
    context.close()


def open_lesson(page: Page, studio: Studio, name: str = "1-pair") -> None:
    page.goto(f"{studio.home}/write/{name}")
    page.wait_for_selector("body[data-ready]")


def until(page: Page, fact: str, seconds: float = 30) -> None:
    """Wait for a fact; the page's policy lets nobody put programs into it, so it is asked again and again."""
    last = time.monotonic() + seconds
    while not page.evaluate(fact):
        assert time.monotonic() < last, fact
        page.wait_for_timeout(50)


def changed(before: str, after: str) -> list[str]:
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [line for line in lines if line[:1] in "+-" and line[:3] not in {"+++", "---"}]


def wait_saved(page: Page, studio: Studio, name: str = "1-pair") -> str:
    until(page, "document.getElementById('saved').textContent.startsWith('Saved')")
    return studio.lesson(name).read_text(encoding="utf-8")


def test_from_a_sentence_to_a_built_kit_without_typing_a_block(page, studio) -> None:
    page.fill("input[name=name]", "2 unequal cells")
    page.fill("input[name=sentence]", SENTENCE)
    page.click("text=Draft the lesson")
    page.wait_for_url(re.compile("/write/2-unequal-cells"))
    page.wait_for_selector("body[data-ready]")
    assert page.locator(".scene").count() >= 4
    assert page.locator("#summary").inner_text().count("wrong,") <= 1
    page.click("nav >> text=Publish")
    page.click("#build")
    page.wait_for_selector("text=page.html")
    assert (studio.folder / "kits" / "2-unequal-cells" / "page.html").is_file()


def test_a_broken_equation_is_caught_and_mended_by_one_click(page, studio) -> None:
    open_lesson(page, studio)
    page.click(".block.display")
    page.keyboard.press("Control+End")
    for _ in range(len("16/3 V $$")):
        page.keyboard.press("Backspace")
    page.keyboard.type("4 V $$")
    slip = page.locator(".block.open .slip.wrong")
    slip.wait_for()
    assert "= 4 V $$" in wait_saved(page, studio)
    slip.locator("text=Put in the right one").click()
    page.locator(".block.open .slip.true, .block.open .slip.met").first.wait_for()
    assert "= 4 V" not in wait_saved(page, studio)


def test_turning_a_cell_in_the_picture_changes_one_line_and_undo_takes_it_back(page, studio) -> None:
    open_lesson(page, studio)
    page.click("button[data-key=B]")
    page.click("button[data-key=turn]")
    until(page, "studio.text.includes('|| -B')")
    after = wait_saved(page, studio)
    assert changed(PAIR, after) == ["-both = A || B", "+both = A || -B"]
    page.click("#undo")
    until(page, "!studio.text.includes('|| -B')")
    page.wait_for_timeout(400)
    assert wait_saved(page, studio) == PAIR


def test_a_killed_server_loses_nothing_that_was_typed(page, studio) -> None:
    open_lesson(page, studio)
    page.click(".block.paragraph")
    page.keyboard.press("Control+End")
    page.keyboard.type(" One more sentence.")
    page.wait_for_timeout(1000)
    studio.end(signal.SIGKILL)
    assert "One more sentence." in studio.lesson("1-pair").read_text(encoding="utf-8")
    kept = sorted((studio.folder / ".boardproof" / "history" / "1-pair").iterdir())
    assert kept[0].read_text(encoding="utf-8") == PAIR


def test_an_outside_change_is_noticed_and_one_at_the_same_place_stands_beside(page, studio) -> None:
    open_lesson(page, studio)
    file = studio.lesson("1-pair")
    file.write_text(PAIR.replace("And that is all.", "Written elsewhere."), encoding="utf-8")
    until(page, "studio.text.includes('Written elsewhere.')")
    page.click(".block.paragraph >> nth=-1")
    page.keyboard.press("Control+End")
    page.keyboard.type(" Mine.")
    file.write_text(PAIR.replace("And that is all.", "Once more, elsewhere."), encoding="utf-8")
    page.wait_for_selector("text=Keep mine")
    page.click("text=Keep mine")
    until(page, "document.getElementById('beside').hidden")
    assert "Mine." in wait_saved(page, studio)


def test_two_tabs_write_one_lesson(page, studio) -> None:
    open_lesson(page, studio)
    other = page.context.new_page()
    open_lesson(other, studio)
    other.click(".block.paragraph >> nth=0")
    other.keyboard.press("Control+End")
    other.keyboard.type(" From the other tab.")
    until(page, "studio.text.includes('From the other tab.')")
    page.click(".block.paragraph >> nth=-1")
    page.keyboard.press("Control+End")
    page.keyboard.type(" From this one.")
    until(other, "studio.text.includes('From this one.')")
    text = studio.lesson("1-pair").read_text(encoding="utf-8")
    assert "From the other tab." in text
    assert "From this one." in text


@pytest.mark.parametrize("width", [360, 1440])
def test_pages_are_accessible_and_fit(page, studio, accessibility_faults, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    shutil.copy(studio.lesson("1-pair"), studio.lesson("2-copy"))
    for stop in ("choose", "prove/1-pair", "publish/1-pair", "write/1-pair"):
        page.goto(f"{studio.home}/{stop}")
        if stop.startswith("write"):
            page.wait_for_selector("body[data-ready]")
            page.click(".block.display")
            page.locator(".block.open .slip").first.wait_for()
        assert accessibility_faults(page) == [], stop
        assert page.evaluate("document.documentElement.scrollWidth") <= width, stop
