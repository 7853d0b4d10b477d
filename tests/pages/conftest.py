"""A page in a real browser that cannot reach the network, and the accessibility checker."""

from __future__ import annotations

import os
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright
from run import find_browser

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from playwright.sync_api import Browser, ConsoleMessage, Page, Route

FLAGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-fake-device-for-media-stream",  # a pretended microphone, for recording
    "--use-fake-ui-for-media-stream",
)


@dataclass
class Visit:
    """A page, what it complained of, and what it asked of the network (refused)."""

    page: Page
    errors: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def open(self, path: Path) -> Page:
        self.page.goto(path.resolve().as_uri())
        return self.page

    def keep_error(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"}:
            self.errors.append(message.text)

    def only_files(self, route: Route) -> None:
        if route.request.url.startswith(("file:", "data:", "blob:")):
            route.continue_()
        else:
            self.refused.append(route.request.url)
            route.abort()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all page tests of a process, with an empty profile."""
    found = find_browser()
    assert found, "no Chromium found; `python3 run.py pages` says how to get one"
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    flags = [*FLAGS, *(["--no-sandbox"] if is_root else [])]
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=found, headless=True, args=flags)
        yield started
        started.close()


@pytest.fixture
def visiting(browser: Browser) -> Callable[..., Visit]:
    """Give a context manager for a page of some size and theme; it fails on complaints and on the network."""

    @contextmanager
    def visit(width: int = 1280, height: int = 900, *, theme: str = "light") -> Iterator[Visit]:
        context = browser.new_context(
            viewport={"width": width, "height": height}, color_scheme=theme, reduced_motion="reduce"
        )
        try:
            seen = Visit(context.new_page())
            context.route("**/*", seen.only_files)
            seen.page.on("console", seen.keep_error)
            seen.page.on("pageerror", lambda error: seen.errors.append(str(error)))
            yield seen
        finally:
            context.close()
        assert seen.refused == []
        assert seen.errors == []

    return visit


@pytest.fixture
def visit(visiting: Callable[..., Visit]) -> Iterator[Visit]:
    """Visit at 1280 pixels."""
    with visiting() as seen:
        yield seen


@pytest.fixture(scope="session")
def accessibility_faults() -> Callable[[Page], list[str]]:
    """Give a function that lists what the accessibility checker finds on a page."""
    axe = Axe()

    def faults(page: Page) -> list[str]:
        found = axe.run(page).response["violations"]
        return [
            f"{fault['id']}: {fault['help']} at {place['target']}"
            for fault in found
            for place in fault["nodes"]
        ]

    return faults
