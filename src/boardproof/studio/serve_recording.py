"""The `record` job: the pages for rehearsing and recording one lesson, until they are stopped."""

from __future__ import annotations

import socket
import sys
from argparse import Namespace

import uvicorn

from boardproof.studio.alone import recording_app

__all__ = ["run"]


def run(options: Namespace) -> int:
    """Serve the pages to this machine's browser.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 when stopped, 2 if it could not begin.
    """
    path = options.file
    if not path.is_file() or not path.name.endswith(".lesson.md"):
        sys.stderr.write(f"There is no lesson {path}: lessons are called NAME.lesson.md.\n")
        return 2
    with socket.socket() as tried:
        tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind(("127.0.0.1", options.port))
        except (OSError, OverflowError):
            sys.stderr.write(f"Not done: port {options.port} is taken. Choose another with --port.\n")
            return 2
    address = f"http://127.0.0.1:{options.port}/lessons/{path.name.removesuffix('.lesson.md')}"
    sys.stdout.write(f"Rehearse: {address}/rehearse\nRecord:   {address}/record\nStop with Ctrl+C.\n")
    sys.stdout.flush()
    app = recording_app(path.parent.resolve())
    uvicorn.run(app, host="127.0.0.1", port=options.port, log_level="warning")
    return 0
