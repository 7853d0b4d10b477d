"""Recording in a real browser with its own pretended microphone, reloaded in the middle."""

from __future__ import annotations

import re
import shutil
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import uvicorn
from playwright.sync_api import expect

from boardproof.kit.takes import chosen_steps, read_recording
from boardproof.kit.voice import read_voice
from boardproof.lesson.captions import Cue
from boardproof.publish.captions import Chapter, chapters_vtt, webvtt
from boardproof.studio.alone import recording_app

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, BrowserContext, Page

BUOY = Path(__file__).parents[2] / "examples" / "weather-buoy"
LESSON = "3-cells-in-parallel"


@pytest.fixture(scope="module")
def course(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copytree(BUOY, tmp_path_factory.mktemp("course") / "buoy"))


@pytest.fixture(scope="module")
def address(course: Path) -> Iterator[str]:
    server = uvicorn.Server(uvicorn.Config(recording_app(course), port=0, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}/lessons/{LESSON}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="module")
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 1280, "height": 900})
    yield made
    made.close()


def opened(context: BrowserContext, address: str) -> Page:
    page = context.new_page()
    page.on("dialog", lambda dialog: dialog.accept())
    page.goto(address)
    expect(page.locator("body[data-ready=yes]")).to_be_attached(timeout=20_000)
    return page


def seconds_kept(page: Page) -> float:
    minutes, seconds = page.locator("#kept").inner_text().split(" ")[0].split(":")
    return 60 * int(minutes) + int(seconds)


def test_a_reload_in_the_middle_loses_less_than_five_seconds(
    context: BrowserContext, address: str, course: Path, accessibility_faults: Callable[[Page], list[str]]
) -> None:
    page = opened(context, f"{address}/record")
    with context.expect_page() as opening:
        page.click("#speaker")
    speaker = opening.value
    expect(speaker.locator("body[data-ready=yes]")).to_be_attached(timeout=20_000)
    page.keyboard.press("r")
    expect(page.locator("#record")).to_have_text("Stop recording")
    began = time.monotonic()
    page.wait_for_timeout(1500)
    page.keyboard.press("ArrowRight")
    page.wait_for_timeout(1000)
    speaker.click("#next")
    expect(page.locator("#now")).to_contain_text("Step 3")
    expect(speaker.locator("#scene")).to_contain_text("step 3")
    page.click("#pen")
    box = page.locator("#stage").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 300, box["y"] + 200)
    page.mouse.down()
    page.mouse.move(box["x"] + 340, box["y"] + 220, steps=4)
    page.mouse.up()
    page.wait_for_timeout(2500)
    assert page.evaluate("document.getElementById('level').value") > 0
    spoken = time.monotonic() - began
    page.reload()
    expect(page.locator("body[data-ready=yes]")).to_be_attached(timeout=20_000)
    assert spoken - seconds_kept(page) <= 5
    expect(page.locator("#now")).to_contain_text("Step 3")
    page.keyboard.press("r")
    expect(page.locator("#record")).to_have_text("Stop recording")
    page.wait_for_timeout(1200)
    page.keyboard.press("r")
    expect(page.locator("#record")).to_have_text("Record from this step")
    expect(page.locator("#listen-to label")).to_have_count(2)
    for each in (page, speaker):
        assert accessibility_faults(each) == []
    (folder,) = (course / ".boardproof" / "recordings" / LESSON).iterdir()
    made = read_recording(folder)
    assert made is not None
    assert [len(take.steps) for take in made.takes] == [3, 1]
    assert (folder / "01" / "pen.jsonl").read_text().count("\n") >= 3
    voice = read_voice(folder)
    assert voice.length_ms == pytest.approx(made.length_ms, abs=2)
    assert abs(voice.sound.astype(int)).max() > 1000, "the pretended microphone beeps"
    steps = list(chosen_steps(made).values())
    assert steps == sorted(steps)
    speaker.close()
    page.close()


@pytest.mark.parametrize("width", [360, 1920])
@pytest.mark.parametrize("name", ["rehearse", "record"])
def test_pages_fit_and_are_accessible(
    context: BrowserContext,
    address: str,
    name: str,
    width: int,
    accessibility_faults: Callable[[Page], list[str]],
) -> None:
    page = opened(context, f"{address}/{name}")
    page.set_viewport_size({"width": width, "height": 900})
    page.keyboard.press("ArrowRight")
    expect(page.locator("#now")).to_contain_text(re.compile(r"Step \d"))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert accessibility_faults(page) == []
    page.close()


def test_the_browser_reads_our_captions_and_chapters(context: BrowserContext) -> None:
    # The judge is the browser's own reader of WebVTT tracks.
    cues = [
        Cue(0, 2500, "r < R & so V is near E."),
        Cue(2500, 6000, "Two batteries side by side, on one pair of wires."),
    ]
    texts = {
        "captions": webvtt(cues, notes=["a --> b"]),
        "chapters": chapters_vtt([Chapter("One <1>", 0, 6000)]),
    }
    page = context.new_page()
    for kind, text in texts.items():
        read = page.evaluate(
            """async ([kind, text]) => {
                const track = document.createElement("track"), video = document.createElement("video");
                track.kind = kind; track.src = URL.createObjectURL(new Blob([text], {type: "text/vtt"}));
                video.append(track); document.body.append(video); track.track.mode = "hidden";
                await new Promise((done, fail) => { track.onload = done; track.onerror = fail; });
                return [...track.track.cues].map((cue) => [cue.startTime, cue.endTime, cue.getCueAsHTML().textContent]);
            }""",
            [kind, text],
        )
        wanted = (
            [
                [0, 2.5, "r < R & so V is near E."],
                [2.5, 6, "Two batteries side by side,\non one pair of wires."],
            ]
            if kind == "captions"
            else [[0, 6, "One <1>"]]
        )
        assert read == wanted
    page.close()
