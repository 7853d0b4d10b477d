"""One output of a kit, built in the worker by the same job as on the command line."""

from __future__ import annotations

import contextlib
import io
from argparse import Namespace
from pathlib import Path
from typing import Any, Final

from boardproof.kit import build as job

__all__ = ["build"]

SECONDS: Final = 50.0


def build(path: str, output: str, is_draft: bool) -> dict[str, Any]:  # noqa: FBT001 - travels to the worker by place
    """Build one output.

    Parameters
    ----------
    path : str
        The lesson's file.
    output : str
        As after ``--only``.
    is_draft : bool
        In spite of what is wrong.

    Returns
    -------
    dict
        The exit ``status`` and what was ``said``.
    """
    options = Namespace(
        file=Path(path), only=output, draft=is_draft, theme=None, paper=None, to=None, png=False,
        quiet=True, json=False, no_colour=True, limit=SECONDS,
    )  # fmt: skip
    said = io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(said):
        status = job.run(options)
    return {"status": status, "said": said.getvalue().strip()}
