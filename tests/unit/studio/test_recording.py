"""What the recording pages ask of the machine: kept at once, in turn, from this machine's own pages only."""

from __future__ import annotations

import json
import shutil
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING

import httpx
import pytest
import uvicorn

from boardproof.kit.corrections import with_correction
from boardproof.kit.takes import read_recording
from boardproof.lesson.edit import apply
from boardproof.lesson.read import read_lesson
from boardproof.source import Source
from boardproof.studio import record, rehearse
from boardproof.studio.alone import recording_app
from boardproof.studio.stops import stops

if TYPE_CHECKING:
    from collections.abc import Iterator

BUOY = Path(__file__).parents[3] / "examples" / "weather-buoy"
LESSON = "3-cells-in-parallel"
AT = f"/lessons/{LESSON}"


@pytest.fixture(scope="module")
def course(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copytree(BUOY, tmp_path_factory.mktemp("course") / "buoy"))


@pytest.fixture(scope="module")
def client(course: Path) -> Iterator[httpx.Client]:
    server = uvicorn.Server(uvicorn.Config(recording_app(course), port=0, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    port = server.servers[0].sockets[0].getsockname()[1]
    with httpx.Client(base_url=f"http://127.0.0.1:{port}", timeout=30) as client:
        yield client
    server.should_exit = True
    thread.join(10)


def test_steps_tell_what_each_moment_needs(client: httpx.Client) -> None:
    told = client.get(f"{AT}/steps.json").json()
    assert len(told["steps"]) > 20
    for step in told["steps"]:
        assert step["board"].startswith("<svg")
        assert 1 <= len(step["cue"].split()) <= 6 or step["cue"].startswith("Write ")
    said = " ".join(step["said"] for step in told["steps"])
    assert "E₁ minus V" in said
    assert [step["waits"] for step in told["steps"]].count(True) == 1


def test_a_take_is_on_the_disk_before_it_is_acknowledged(client: httpx.Client, course: Path) -> None:
    made = client.post(f"{AT}/recordings", json={"consent": "the teacher"}).json()
    steps = [step["key"] for step in client.get(f"{AT}/steps.json").json()["steps"]]
    at = f"{AT}/recordings/{made['id']}"
    take = client.post(f"{at}/takes", json={"moment": steps[0]}).json()["take"]
    folder = course / ".boardproof" / "recordings" / LESSON / made["id"]
    for number in (1, 2, 3):
        told = client.post(f"{at}/takes/{take}/pieces/{number}?ms={2000 * number}", content=b"abc%d" % number)
        assert told.json()["length_ms"] == 2000 * number
        assert (folder / take / f"{number:04}.webm").read_bytes() == b"abc%d" % number
    rows = {"steps": [{"moment": steps[1], "ms": 2500}], "pen": [{"ms": 1, "x": 2, "y": 3, "new": True}]}
    assert client.post(f"{at}/takes/{take}/notes", json=rows).json()["steps"] == {steps[0]: 0, steps[1]: 2500}
    assert json.loads((folder / take / "pen.jsonl").read_text()) == {
        "ms": 1.0,
        "x": 2.0,
        "y": 3.0,
        "new": True,
    }
    kept = read_recording(folder)
    assert kept is not None
    assert (kept.consent, kept.length_ms, kept.delete_by > kept.made) == ("the teacher", 6000, True)
    assert client.get(f"{at}/takes/{take}/sound").content == b"abc1abc2abc3"
    again = client.post(f"{at}/takes", json={"moment": steps[1]}).json()
    assert (again["take"], again["length_ms"]) == ("02", 2500)


@pytest.mark.parametrize(
    ("method", "path", "body"),
    [
        ("GET", "/lessons/nobody/steps.json", None),
        ("GET", "/lessons/..%2f..%2fetc/steps.json", None),
        ("POST", f"{AT}/recordings/..%2f..%2fx/takes", {"moment": "a"}),
        ("POST", f"{AT}/recordings/2020-01-01-1/takes", {"moment": "a"}),
        ("POST", f"{AT}/recordings", [1]),
        ("POST", f"{AT}/recordings/2020-01-01-1/delete", {}),
        ("POST", f"{AT}/corrections", {"what": " "}),
    ],
)
def test_what_does_not_fit_is_refused_in_words(
    client: httpx.Client, method: str, path: str, body: object
) -> None:
    answer = client.request(method, path, json=body)
    assert answer.status_code in {404, 409}
    if answer.status_code == 409:
        assert answer.json()["error"]


def test_too_much_is_refused(client: httpx.Client) -> None:
    assert client.post(f"{AT}/corrections", content=b"x" * 4_100_000).status_code == 413


@pytest.mark.parametrize(
    "headers",
    [
        {"host": "evil.example"},
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"host": "127.0.0.1.evil:1"},
    ],
)
def test_pages_from_elsewhere_get_no_answer(client: httpx.Client, headers: dict[str, str]) -> None:
    assert client.get(f"{AT}/recordings", headers=headers).status_code == 403
    assert client.post(f"{AT}/recordings", headers=headers, json={}).status_code == 403


def test_every_answer_carries_the_policy(client: httpx.Client) -> None:
    for path in ("/record.js", "/record.css", f"{AT}/rehearse", f"{AT}/speaker"):
        answer = client.get(path)
        assert answer.status_code == 200
        assert "default-src 'none'" in answer.headers["content-security-policy"]


def test_a_slip_stands_at_its_step(client: httpx.Client) -> None:
    made = client.post(f"{AT}/recordings", json={}).json()
    steps = [step["key"] for step in client.get(f"{AT}/steps.json").json()["steps"]]
    at = f"{AT}/recordings/{made['id']}"
    take = client.post(f"{at}/takes", json={"moment": steps[0]}).json()["take"]
    client.post(f"{at}/takes/{take}/pieces/1?ms=9000", content=b"x")
    client.post(f"{at}/takes/{take}/notes", json={"steps": [{"moment": steps[5], "ms": 4000}]})
    captions = (
        "WEBVTT\n\n00:00.000 --> 00:03.000\nIn thought, lay a bare wire over the terminals.\n\n"
        "00:05.000 --> 00:09.000\nI s equals E one over r one minus E two over r two.\n"
    )
    told = client.post(f"{at}/captions", content=captions.encode()).json()["heard"]
    assert [(each["moment"], each["sure"]) for each in told] == [(steps[5], True)]
    assert 5000 <= told[0]["ms"] < 9000
    assert "plus" in told[0]["instead"]
    assert "error" in client.post(f"{at}/captions", content=b"no captions").json()


def test_a_correction_goes_into_the_lesson(client: httpx.Client, course: Path) -> None:
    path = course / f"{LESSON}.lesson.md"
    before = path.read_text(encoding="utf-8")
    told = client.post(
        f"{AT}/corrections", json={"what": 'I said "minus"; it is plus', "where": "at 1:20"}
    ).json()
    assert told == {"corrections": 1}
    lesson, found = read_lesson(Source(path.name, path.read_text(encoding="utf-8")))
    assert found == read_lesson(Source(path.name, before))[1]
    assert [(each.what, each.where) for each in lesson.settings.corrections] == [
        ('I said "minus"; it is plus', "at 1:20")
    ]
    client.post(f"{AT}/corrections", json={"what": "second"})
    again, _ = read_lesson(Source(path.name, path.read_text(encoding="utf-8")))
    assert {each.what for each in again.settings.corrections} == {'I said "minus"; it is plus', "second"}


@pytest.mark.parametrize(
    "text",
    [
        "# A\n",
        "\ufeff# A\n",
        "```lesson\nminutes = 5\n```\n\n# A\n",
        "```lesson\r\nminutes = 5\r\n[notation]\r\ndecimal = 'comma'\r\n```\r\n\r\n# A\r\n",
        '```lesson\ncorrections = [\n  { what = "old" },\n]\n```\n\n# A\n',
        "```lesson\n```\n# A\n",
    ],
)
def test_a_correction_fits_any_lesson(text: str) -> None:
    lesson, _ = read_lesson(Source("a.lesson.md", text))
    new = apply(lesson.source, with_correction(lesson, 'x\ny \\ " é', "", "2026-11-25"))
    again, found = read_lesson(new)
    assert 'x y \\ " é' in [each.what for each in again.settings.corrections]
    assert len(again.settings.corrections) == len(lesson.settings.corrections) + 1
    assert found == ()
    assert again.title == lesson.title


def test_the_studio_leads_to_the_pages() -> None:
    pages = {(page.method, page.path): page for stop in (rehearse.STOP, record.STOP) for page in stop.routes}
    assert pages["GET", "/lessons/{lesson}/record"].allow == ("microphone",)
    assert pages["GET", "/rehearse/{lesson}"].allow == ()
    assert {"rehearse", "record"} <= {stop.key for stop in stops()}
