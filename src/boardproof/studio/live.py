"""What is pushed to open pages: a lesson was saved elsewhere, a file changed on disk, a build went on."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Mapping
from pathlib import Path
from typing import Final

from watchfiles import Change, DefaultFilter, awatch

__all__ = ["Live", "watch"]

MOST_PAGES, MOST_WAITING = 200, 100
QUIET: Final = 15.0


class Live:
    """Open pages and what each still has to hear."""

    def __init__(self) -> None:
        """Nobody listens yet."""
        self._pages: set[asyncio.Queue[str]] = set()
        self._closed = asyncio.Event()

    def push(self, kind: str, told: Mapping[str, object]) -> None:
        """Tell every open page.

        Parameters
        ----------
        kind : str
            Name of the event.
        told : mapping
            Plain values.
        """
        text = f"event: {kind}\ndata: {json.dumps(told)}\n\n"
        for page in self._pages:
            if page.qsize() < MOST_WAITING:
                page.put_nowait(text)

    def close(self) -> None:
        """Let every page go."""
        self._closed.set()
        for page in self._pages:
            page.put_nowait("")

    async def events(self) -> AsyncIterator[str]:
        """What one page hears, until it or the studio is closed."""
        if len(self._pages) >= MOST_PAGES:
            return
        page: asyncio.Queue[str] = asyncio.Queue()
        self._pages.add(page)
        try:
            yield "retry: 500\n\n"
            while not self._closed.is_set():
                try:
                    text = await asyncio.wait_for(page.get(), QUIET)
                except TimeoutError:
                    text = ": still here\n\n"
                if text:
                    yield text
        finally:
            self._pages.discard(page)


class _Teacher(DefaultFilter):
    """Lessons, circuits, settings and tables; not what is made or kept by us."""

    def __call__(self, change: Change, path: str) -> bool:
        """Whether a change matters."""
        del change
        name = Path(path).name
        return not name.startswith(".") and name.endswith((".lesson.md", ".circuit", "course.toml", ".csv"))


async def watch(root: Path, live: Live, stop: asyncio.Event) -> None:
    """Tell pages of changes on disk until `stop` is set.

    Parameters
    ----------
    root : Path
        The folder.
    live : Live
        Whom to tell.
    stop : asyncio.Event
        The end.
    """
    async for changes in awatch(
        root, watch_filter=_Teacher(), stop_event=stop, recursive=False, debounce=200
    ):
        live.push("disk", {"files": sorted({Path(path).name for _, path in changes})})
