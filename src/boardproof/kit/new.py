"""The `new` job: start a lesson whose argument is already derived from a circuit."""

from __future__ import annotations

import json
import re
import sys
from argparse import Namespace
from pathlib import Path
from typing import Final

from boardproof.derive.routes import ROUTES
from boardproof.findings import near_names, worded
from boardproof.kit.argument import route_named, target_block
from boardproof.kit.files import read_folder, save_source
from boardproof.kit.ground import NotDerivable, ground_of
from boardproof.kit.report import CheckReport, findings_text, in_short, visible
from boardproof.kit.skeleton import lesson_around
from boardproof.lesson.model import Derive
from boardproof.source import Source

__all__ = ["run", "title_of"]

ENDING: Final = ".lesson.md"
PLAIN: Final = re.compile(r"[^\W_][\w .-]{0,80}")


def title_of(name: str) -> str:
    """A title from a file's name.

    Parameters
    ----------
    name : str
        Without ``.lesson.md``.

    Examples
    --------
    >>> title_of("3-two-cells_in-parallel")
    'Two cells in parallel'
    """
    words = " ".join(re.sub(r"^\d+", "", name.replace("-", " ").replace("_", " ")).split()) or name
    return words[:1].upper() + words[1:]


def run(options: Namespace) -> int:
    """Write the lesson that the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    path = Path(options.name.removesuffix(ENDING) + ENDING)
    name = path.name.removesuffix(ENDING)
    if not PLAIN.fullmatch(name):
        return _refuse(f"{name!r} can't be a lesson's name: use letters, digits, spaces, - and _.")
    if path.exists():
        return _refuse(f"{path} is there already, and a lesson is never overwritten. Choose another name.")
    if not path.parent.is_dir():
        return _refuse(f"There is no folder {path.parent}.")
    route = options.route and route_named(options.route)
    if options.route and route is None:
        near = near_names(options.route, ROUTES) or tuple(ROUTES)
        return _refuse(f"There is no route called {options.route}. There are: {'; '.join(near)}.")
    block: Derive | None = None
    if options.target:
        found = target_block(options.target)
        if not isinstance(found, Derive):
            return _refuse(in_short(found[0]))
        block = found
    ground = ground_of(options.circuit)
    if isinstance(ground, NotDerivable):
        return _not_derivable(ground)
    folder, _ = read_folder(path.parent)
    comma = folder.course.notation.mark == ","
    text = lesson_around(ground, title_of(name), block=block, route=route, decimal_comma=comma)
    if isinstance(text, NotDerivable):
        return _not_derivable(text)
    if refused := save_source(path, Source(path.name, text), base=""):
        return _refuse(in_short(refused[0]))
    if options.json:
        sys.stdout.write(json.dumps({"schema": 1, "file": str(path)}, ensure_ascii=False) + "\n")
    elif not options.quiet:
        sys.stdout.write(f"{path} is written. Make it yours, then: boardproof check {path}\n")
    return 0


def _refuse(words: str) -> int:
    sys.stderr.write(visible(words) + "\n")
    return 2


def _not_derivable(found: NotDerivable) -> int:
    """Nothing is written; say why."""
    if found.findings and found.source is not None:
        report = CheckReport(found.source, (), tuple(worded(each) for each in found.findings), {})
        sys.stderr.write(findings_text(report) + "\n")
    if found.why:
        sys.stderr.write(f"{found.why[:1].upper()}{found.why[1:].rstrip('.')}. Nothing was written.\n")
    return 1
