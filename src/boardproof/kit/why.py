"""The `why` job: explain a kind of finding, with a sample and the sample put right."""

from __future__ import annotations

import json
import sys
from argparse import Namespace

from boardproof.findings import near_names
from boardproof.kit.catalogue import CATALOGUE, Entry
from boardproof.kit.report import visible

__all__ = ["explained", "run"]


def explained(entry: Entry) -> str:
    """What a terminal shows of a code.

    Parameters
    ----------
    entry : Entry
        Of the catalogue.

    Examples
    --------
    >>> print(explained(CATALOGUE["zero-count"]).splitlines()[0])
    zero-count (error)
    """
    note = "\n\n({words} in braces stand for what your lesson says.)" if "{" in entry.page() else ""
    return f"{entry.code} ({entry.severity})\n\n{entry.page()}{note}"


def run(options: Namespace) -> int:
    """Explain the code that the command line names.

    Parameters
    ----------
    options : Namespace
        What the command line gave; `cli` says which words there are.

    Returns
    -------
    int
        Exit status: 0 if nothing is wrong, 1 if something in the material is, 2 if it was not done.
    """
    code = "-".join(options.code.lower().strip("[] ").split())
    entry = CATALOGUE.get(code)
    if entry is None:
        near = (
            near_names(code, CATALOGUE)
            or tuple(each for each in CATALOGUE if set(code.split("-")) & set(each.split("-")))[:4]
        )
        hint = f" Did you mean {' or '.join(near)}?" if near else ""
        sys.stderr.write(f"There is no kind of finding called {visible(options.code)}.{hint}\n")
        return 2
    if options.json:
        whole = {
            "schema": 1,
            "code": entry.code,
            "severity": entry.severity,
            "kinds": [
                {"about": room, "message": kind.message, "help": kind.help, "page": kind.page}
                for room, kind in entry.kinds
            ],
        }
        sys.stdout.write(json.dumps(whole, ensure_ascii=False) + "\n")
    else:
        sys.stdout.write(explained(entry) + "\n")
    return 0
