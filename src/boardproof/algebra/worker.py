"""Work that may take too long: done in one warm process of its own, which is killed at its limit and replaced.

The library for polynomials cannot be interrupted, so what might explode is not begun here. Jobs are named
``module:function``, get plain values and give plain values back; a job may therefore be done again.
"""

from __future__ import annotations

import atexit
import importlib
import multiprocessing
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any, Final

__all__ = ["TimeUp", "Worker", "shared"]

OURS: Final = "boardproof."


class TimeUp(Exception):
    """The limit was reached, or the process ended; nothing is known of the answer."""


def _serve(inbox: Connection) -> None:
    """The worker's own loop: one job after another until the line is closed."""
    while True:
        try:
            job, arguments = inbox.recv()
        except (EOFError, OSError):
            return
        module, _, name = job.partition(":")
        try:
            answer: tuple[bool, Any] = (True, getattr(importlib.import_module(module), name)(*arguments))
        except Exception as fault:  # noqa: BLE001 - told to whoever asked
            answer = (False, f"{type(fault).__name__}: {fault}")
        inbox.send(answer)


@dataclass
class Worker:
    """One warm process; started with the first job.

    Examples
    --------
    >>> worker = Worker()
    >>> worker.ask("boardproof.algebra.polynomial:natural", "r_2", seconds=20)[1]
    'r'
    >>> worker.close()
    """

    process: BaseProcess | None = None
    line: Connection | None = None
    kills: int = field(default=0)

    def ask(self, job: str, *arguments: Any, seconds: float) -> Any:
        """Have a job done.

        Parameters
        ----------
        job : str
            ``module:function``, of this package only.
        *arguments
            Plain values.
        seconds : float
            The limit.

        Raises
        ------
        TimeUp
            The process was killed at its limit; the next job gets a new one.
        RuntimeError
            The job itself failed.
        """
        if not job.startswith(OURS):
            raise ValueError(f"not one of our jobs: {job}")
        line = self._ready()
        try:
            line.send((job, arguments))
            answered = line.recv() if line.poll(seconds) else None
        except (EOFError, OSError):
            answered = None
        if answered is None:
            self.close()
            self.kills += 1
            raise TimeUp(job)
        fine, answer = answered
        if not fine:
            raise RuntimeError(answer)
        return answer

    def _ready(self) -> Connection:
        if self.line is None or self.process is None or not self.process.is_alive():
            self.close()
            ours, theirs = multiprocessing.get_context("spawn").Pipe()
            self.process = multiprocessing.get_context("spawn").Process(
                target=_serve, args=(theirs,), daemon=True
            )
            self.process.start()
            theirs.close()
            self.line = ours
        return self.line

    def close(self) -> None:
        """Kill the process, if there is one."""
        if self.process is not None:
            self.process.kill()
            self.process.join(5)
        if self.line is not None:
            self.line.close()
        self.process = self.line = None


_SHARED: list[Worker] = []


def shared() -> Worker:
    """The one worker of this process; it ends with it."""
    if not _SHARED:
        _SHARED.append(Worker())
        atexit.register(_SHARED[0].close)
    return _SHARED[0]
