"""Write the pages of the reference that are made from the code: kinds of findings, and commands.

python docs/make_reference.py            write them
python docs/make_reference.py --check    say whether they are current
"""

# ruff: noqa: SLF001 - argparse gives no public way to list what a parser reads

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from boardproof.cli import command_parser
from boardproof.kit.catalogue import CATALOGUE

HERE = Path(__file__).parent / "reference"
SEVERITIES = {
    "error": "something in the lesson is wrong: the exit status is 1",
    "warning": "look at this; with `--strict` the exit status is 1",
    "note": "for your knowledge",
}
STATUSES = (
    "Exit status: **0** done, nothing wrong; **1** done, and something in your material is wrong; **2** not done; "
    "**130** interrupted. `boardproof COMMAND --help` says the same in the terminal."
)
MADE = "<!-- Made by docs/make_reference.py from the code; change it there. -->"


def findings_page() -> str:
    """Every kind of finding, in alphabetical order."""
    lines = [
        MADE,
        "",
        "# Kinds of findings",
        "",
        f"There are {len(CATALOGUE)}; `boardproof why CODE` shows one. {{Words}} in braces stand for yours.",
        "",
    ]
    lines += [f"- **{severity}**: {words}." for severity, words in SEVERITIES.items()]
    lines += ["", "| code | severity | where |", "| --- | --- | --- |"]
    for entry in CATALOGUE.values():
        rooms = ", ".join(room for room, _ in entry.kinds)
        lines.append(f"| [{entry.code}](#{entry.code}) | {entry.severity} | {rooms} |")
    for entry in CATALOGUE.values():
        lines += ["", f"## {entry.code}", "", f"{entry.severity.capitalize()}.", "", quoted(entry.page())]
    return "\n".join(lines) + "\n"


def quoted(page: str) -> str:
    """A page on which what the tool says is read as it stands: `[words](=I)` there is no link."""
    return "\n".join(
        line.replace("](", "]\\(") if line.startswith(">") else line for line in page.split("\n")
    )


def commands_page() -> str:
    """Every command with its options, as the command line knows them."""
    parser = command_parser()
    lines = [
        MADE,
        "",
        "# Commands",
        "",
        STATUSES,
    ]
    for name, command in subcommands(parser).items():
        actions = [each for each in command._actions if not isinstance(each, argparse._HelpAction)]
        usage = " ".join([f"boardproof {name}", *(shown(each) for each in actions)])
        lines += ["", f"## {name}", "", command.description or "", "", "```text", usage, "```", ""]
        lines += ["| argument | does |", "| --- | --- |"]
        lines += [f"| {cell(each)} | {told(each)} |" for each in actions]
    return "\n".join(lines) + "\n"


def subcommands(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    """Each command's own parser, in the order of the help page."""
    found = next(each for each in parser._actions if isinstance(each, argparse._SubParsersAction))
    return dict(found.choices)


def value_of(action: argparse.Action) -> str:
    """The word that stands for an argument's value; empty if it takes none."""
    if action.nargs == 0:
        return ""
    return str(action.metavar) if action.metavar else "|".join(action.choices or [action.dest.upper()])


def shown(action: argparse.Action) -> str:
    """An argument as the usage line has it."""
    if not action.option_strings:
        return value_of(action)
    return f"[{' '.join(filter(None, (action.option_strings[0], value_of(action))))}]"


def cell(action: argparse.Action) -> str:
    """An argument as the table has it."""
    text = " ".join(filter(None, (*action.option_strings[:1], value_of(action)))).replace("|", "\\|")
    return f"`{text}`"


def told(action: argparse.Action) -> str:
    """What an argument does."""
    again = "; may be given several times" if isinstance(action, argparse._AppendAction) else ""
    return ((action.help or "") + again).replace("|", "\\|")


PAGES = {"findings.md": findings_page, "commands.md": commands_page}


def stale() -> list[str]:
    """Names of pages that differ from what the code says."""
    return [
        name
        for name, make in PAGES.items()
        if not (HERE / name).is_file() or (HERE / name).read_text(encoding="utf-8") != make()
    ]


def main() -> int:
    """Write the pages, or say which are out of date."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--check", action="store_true", help="write nothing")
    if reader.parse_args().check:
        old = stale()
        sys.stdout.write(f"Out of date: {', '.join(old)}\n" if old else "All current.\n")
        return 1 if old else 0
    HERE.mkdir(parents=True, exist_ok=True)
    for name, make in PAGES.items():
        (HERE / name).write_text(make(), encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
