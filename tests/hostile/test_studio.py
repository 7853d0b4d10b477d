"""Requests and files that try to get into the studio, out of its folder, or to hold it up."""

from __future__ import annotations

import asyncio
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from itertools import product
from typing import TYPE_CHECKING

import httpx
import pytest

from boardproof.algebra.worker import TimeUp
from boardproof.studio.app import make_app
from boardproof.studio.desk import Desk
from boardproof.studio.guard import Door
from boardproof.studio.live import Live
from boardproof.studio.worker import Workers
from boardproof.studio.workspace import NotHere, Workspace

if TYPE_CHECKING:
    from collections.abc import AsyncIterator, Iterator
    from pathlib import Path


def apart(work):
    """What a coroutine gives, run in a thread of its own: a browser's loop may be running in this one."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, work).result()


HOME = "http://127.0.0.1:8420"
DOOR = Door("w" * 24, "l" * 24, frozenset({"127.0.0.1:8420", "localhost:8420"}))
KEY = {"cookie": f"boardproof={DOOR.write}", "origin": HOME, "content-type": "application/json"}
LESSON = "# A\n\n## A\n\nWords.\n"
SECRET = "nobody else's"

HOSTS = (
    "evil.example", "evil.example:8420", "127.0.0.1", "127.0.0.1:80", "127.0.0.1:8420.evil.example", "localhost",
    "localhost:1", "127.0.0.1:8420@evil.example", "[::1]:8420", "0.0.0.0:8420", "2130706433:8420", "127.1:8420", "",
    "localhost.:8420", "LOCALHOST:84200", "127.0.0.1:8420, evil.example", "boardproof.local:8420",
)  # fmt: skip
ORIGINS = (
    "http://evil.example", "null", "https://127.0.0.1:8420", "http://127.0.0.1", "http://127.0.0.1:8421", "file://", "",
    "http://localhost", "http://127.0.0.1:8420.evil.example", "chrome-extension://abc", "http://127.0.0.1:8420/x",
)  # fmt: skip
TOKENS = (
    "", "x", DOOR.write[:-1], DOOR.write + "x", DOOR.write.upper(), '"', "w; boardproof=", "\xff", "%77" * 24,
    "' OR 1=1", "null", "undefined", "0", "w" * 4000,
)  # fmt: skip
NAMES = (
    "..%2fsecret", "%2e%2e%2fsecret", "..%5csecret", "secret%00", "/etc/passwd", "%2fetc%2fpasswd",
    "linked", ".hidden", "~", "~root", "a%0d%0aSet-Cookie:x=1", "a/b", "con:", "C:%5cx", "..%c0%afsecret", "a" * 300,
    "%00", "-rf", "a%20", "a.", "%EF%BC%8E%EF%BC%8E", "a*", "a?x", "<script>", "{{7*7}}", "%s%s%s", "${x}",
)  # fmt: skip
ADDRESSES = ("/write/{}", "/write/{}/text", "/write/{}/saves", "/prove/{}", "/publish/{}")
KIT = (
    "/kits/one/../../secret.txt", "/kits/one/%2e%2e/%2e%2e/secret.txt", "/kits/../secret.txt", "/kits/one/link.txt",
    "/kits/one//etc/passwd", "/kits/.boardproof/history", "/kits/one/%00.html",
    "/kits/one/page.html%2f..%2f..%2fsecret.txt",
    "/kits/outside/secret.txt", "/static/../app.py", "/static/%2e%2e%2fapp.py", "/static/..%5capp.py",
    "/static/studio.css%00", "/static/LICENCES.txt", "/static/make_editor.sh", "/static/", "/kits/one/evil.exe",
)  # fmt: skip
BODIES = (
    b"", b"{", b"[]", b"null", b"1", b'"x"', b"\xff\xfe", b"{}", b'{"text":1,"base":"","tab":"x"}', b'{"text":"x"}',
    b'{"text":null,"base":null,"tab":null}', b"[" * 100_000, b'{"text":"\\ud800","base":"","tab":"x"}', b"NaN",
    b'{"text":["x"],"base":"","tab":"x"}', b'{"__proto__":{"x":1}}',
)  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    root = tmp_path / "course"
    (root / "kits" / "one").mkdir(parents=True)
    (tmp_path / "secret.lesson.md").write_text(SECRET, encoding="utf-8")
    (tmp_path / "secret.txt").write_text(SECRET, encoding="utf-8")
    (root / "one.lesson.md").write_text(LESSON, encoding="utf-8")
    (root / "linked.lesson.md").symlink_to(tmp_path / "secret.lesson.md")
    (root / "kits" / "one" / "link.txt").symlink_to(tmp_path / "secret.txt")
    (root / "kits" / "outside").symlink_to(tmp_path)
    (root / "kits" / "one" / "evil.exe").write_bytes(b"x")
    return root


@asynccontextmanager
async def asking(folder: Path) -> AsyncIterator[httpx.AsyncClient]:
    desk = Desk(Workspace(folder), Workers(), Live(), asyncio.Lock())
    transport = httpx.ASGITransport(make_app(desk, DOOR), raise_app_exceptions=False)
    try:
        async with httpx.AsyncClient(transport=transport, base_url=HOME) as client:
            yield client
    finally:
        desk.worker.close()


Ask = tuple[str, str, dict[str, str | bytes], bytes]


def asks() -> Iterator[Ask]:
    """Every request of the kinds above: method, address, headers, body."""
    for host, path in product(HOSTS, ("/choose", "/start?token=" + DOOR.write)):
        yield "GET", path, {**KEY, "host": host}, b""
    for origin, path in product(ORIGINS, ("/write/one/save", "/choose/new")):
        yield "POST", path, {**KEY, "origin": origin}, b"{}"
    for token in TOKENS:
        yield "GET", "/write/one/text", {"cookie": f"boardproof={token}".encode("latin-1")}, b""
    for site in ("cross-site", "same-site", "evil"):
        yield "GET", "/choose", {**KEY, "sec-fetch-site": site}, b""
    for method in ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "PROPFIND"):
        yield method, "/write/one/text", KEY, b""
    for address, name in product(ADDRESSES, NAMES):
        yield "GET", address.format(name), KEY, b""
    for path in KIT:
        yield "GET", path, KEY, b""
    for content in BODIES:
        yield "POST", "/write/one/save", KEY, content
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""):
        yield "POST", "/write/one/save", {**KEY, "content-type": kind}, b"{}"
    for path in ("/write/one/save", "/choose/new", "/publish/one/build", "/write/one/change"):
        yield "POST", path, {**KEY, "cookie": f"boardproof={DOOR.look}"}, b"{}"
    for size in ("99999999999", "-1", "1e3", "²"):
        yield "POST", "/write/one/save", {**KEY, "content-length": size.encode("utf-8")}, b"{}"


async def _refusals(folder: Path) -> list[tuple[Ask, httpx.Response]]:
    async with asking(folder) as client:
        return [
            (ask, await client.request(ask[0], ask[1], headers=ask[2], content=ask[3] or None))
            for ask in asks()
        ]


def test_no_hostile_request_gets_through(folder) -> None:
    found = apart(_refusals(folder))
    assert len(found) >= 200
    through = [(what[:2], answer.status_code) for what, answer in found if answer.status_code < 400]
    assert through == []
    assert [what for what, answer in found if answer.status_code == 500] == []
    assert [what for what, answer in found if SECRET in answer.text] == []
    assert (folder / "one.lesson.md").read_text(encoding="utf-8") == LESSON


def test_every_answer_carries_the_strict_policy(folder) -> None:
    for what, answer in apart(_refusals(folder)):
        policy = answer.headers["content-security-policy"]
        assert "unsafe-eval" not in policy, what
        assert "'unsafe-inline'" not in policy or policy.startswith("sandbox"), what
        assert answer.headers["x-content-type-options"] == "nosniff", what


@pytest.mark.parametrize("part", ["..", "", ".", "a/b", "a\\b", "c:", "\0", "a*"])
def test_no_part_of_a_path_leaves_the_folder(folder, part) -> None:
    with pytest.raises(NotHere):
        Workspace(folder).inside("kits", part)


def test_a_history_that_leads_outside_is_not_followed(folder, tmp_path) -> None:
    (folder / ".boardproof").mkdir()
    (folder / ".boardproof" / "history").symlink_to(tmp_path)
    with pytest.raises(NotHere):
        Workspace(folder).save("one", "# B\n", base="")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["course", "secret.lesson.md", "secret.txt"]


def test_hostile_words_of_a_lesson_reach_the_page_escaped(folder) -> None:
    evil = "<script>alert(1)</script><img src=x onerror=alert(1)>"
    blocks = f"```trap\nwrong: {evil}\n{evil}\n```\n\n```circuit\n{evil}\n```\n"
    text = f"# {evil}\n\n## {evil}\n\n{evil} $x{evil}$\n\n{blocks}"

    async def ask() -> httpx.Response:
        async with asking(folder) as client:
            told = {"text": text, "known": [], "version": 1, "tab": "x"}
            return await client.post("/write/one/spread", headers=KEY, json=told, timeout=60)

    answer = apart(ask())
    assert answer.status_code == 200
    found = answer.json()
    markup = [found["summary"], found["glyphs"], *(piece["words"]["html"] for piece in found["scenes"])]
    assert not any("<script" in each or "<img" in each for each in markup)


def test_a_job_beyond_its_limit_is_stopped_and_the_next_is_done(folder) -> None:
    async def ask() -> tuple[float, str]:
        workers, longest = Workers(), 0.0
        arguments = (str(folder), "one.lesson.md", LESSON, [])
        try:
            work = asyncio.ensure_future(
                workers.ask("boardproof.studio.spread:spread", *arguments, seconds=0.05)
            )
            while not work.done():
                before = time.perf_counter()
                await asyncio.sleep(0.01)
                longest = max(longest, time.perf_counter() - before - 0.01)
            with pytest.raises(TimeUp):
                await work
            return longest, await workers.ask(
                "boardproof.studio.begin:circuit_of", "a 6 V 1 ohm cell", seconds=30
            )
        finally:
            workers.close()

    longest, answer = apart(ask())
    assert answer.startswith("A = cell 6 V, 1 ohm")
    assert longest < 1.0
