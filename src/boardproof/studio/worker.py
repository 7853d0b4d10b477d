"""Everything that computes is done in another process, which is killed at its limit; the server only waits.

Two processes stand ready: one for what is on the screen, one for long work, so that neither waits for the other.
Of the questions about one screen only the newest is worth an answer; older ones are dropped before they begin.
"""

from __future__ import annotations

import asyncio
from typing import Any, Final, Literal

from boardproof.algebra.worker import TimeUp, Worker

__all__ = ["Dropped", "Workers"]

Line = Literal["quick", "long"]
MOST_WAITING: Final = 20


class Dropped(Exception):
    """A newer question about the same thing has come; this one was not begun."""


class Workers:
    """The processes of one studio."""

    def __init__(self) -> None:
        """Nothing is started yet."""
        self._workers: dict[Line, Worker] = {"quick": Worker(), "long": Worker()}
        self._turns: dict[Line, asyncio.Lock] = {"quick": asyncio.Lock(), "long": asyncio.Lock()}
        self._newest: dict[str, int] = {}
        self._waiting = 0

    async def ask(
        self, job: str, *arguments: Any, seconds: float, line: Line = "quick", about: str = ""
    ) -> Any:
        """Have a job done.

        Parameters
        ----------
        job : str
            ``module:function`` of this package.
        *arguments
            Plain values.
        seconds : float
            The limit, counted from its beginning.
        line : {"quick", "long"}
            Which process.
        about : str
            What it is about; a newer job about the same drops this one if it has not begun.

        Raises
        ------
        TimeUp
            At the limit, or because too much is waiting.
        Dropped
            A newer one came.
        """
        number = self._newest[about] = self._newest.get(about, 0) + 1 if about else 0
        if self._waiting >= MOST_WAITING:
            raise TimeUp(job)
        self._waiting += 1
        try:
            async with self._turns[line]:
                if about and self._newest[about] != number:
                    raise Dropped(about)
                # Shielded: a page that is closed must not let the next job meet a half-read answer.
                work = asyncio.to_thread(self._workers[line].ask, job, *arguments, seconds=seconds)
                return await asyncio.shield(asyncio.ensure_future(work))
        finally:
            self._waiting -= 1

    def close(self) -> None:
        """Kill the processes."""
        for worker in self._workers.values():
            worker.close()
