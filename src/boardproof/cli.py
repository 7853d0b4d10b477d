"""The command line: reads arguments, calls one job, prints what it says, gives the exit status.

0: done, nothing wrong. 1: done, and something in the teacher's material is wrong. 2: not done. 130: interrupted.
Jobs are loaded when they are asked for, so that help is quick.
"""

from __future__ import annotations

import argparse
import importlib
import io
import math
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from boardproof import __version__

__all__ = ["command_parser", "main"]

OUTPUTS: Final = (
    "board",
    "script",
    "cue-cards",
    "board-plan",
    "handout",
    "page",
    "player",
    "explore",
    "slides",
    "thumbnail",
    "proof",
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    arguments : sequence of str, optional
        Words of the command line without the program's name.

    Returns
    -------
    int
        The exit status.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a terminal without Ω shows its code
    options = command_parser().parse_args(arguments)
    job = importlib.import_module(f"boardproof.{options.job}")
    try:
        status: int = job.run(options)
    except KeyboardInterrupt:
        sys.stderr.write("Stopped. Nothing half-written was left.\n")
        return 130
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115  # whoever read us has gone
        return 0
    except OSError as fault:  # of a disk or a folder; a lesson that can't be read is told where it is read
        sys.stderr.write(f"Not done: {fault.strerror or fault}: {fault.filename or 'the disk'}.\n")
        return 2
    return status


def _seconds(text: str) -> float:
    """A time limit: more than nought and not endless."""
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not 0 < seconds < math.inf:
        raise argparse.ArgumentTypeError(f"{text} is no number of seconds above nought")
    return seconds


def command_parser() -> argparse.ArgumentParser:
    """The reader of the command line; the page of commands is made from it."""
    parser = argparse.ArgumentParser(
        prog="boardproof",
        description="Board lessons on direct-current circuits: every drawing, equation and number is proved.",
    )
    parser.add_argument("--version", action="version", version=f"boardproof {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for add in (
        _check,
        _build,
        _derive,
        _solve,
        _new,
        _claim,
        _renumber,
        _course,
        _listen,
        _papers,
        _mark,
        _measure,
        _video,
        _pack,
        _studio,
        _hand_over,
        _open,
        _record,
        _why,
    ):
        add(commands)
    return parser


Commands = argparse._SubParsersAction  # noqa: SLF001  # argparse gives its type no public name


def _command(
    commands: Commands[argparse.ArgumentParser], name: str, job: str, words: str
) -> argparse.ArgumentParser:
    parser = commands.add_parser(name, help=words, description=words)
    parser.set_defaults(job=job if "." in job else f"kit.{job}")
    parser.add_argument("--json", action="store_true", help="print JSON for programs")
    parser.add_argument("--quiet", action="store_true", help="print findings only")
    parser.add_argument("--no-colour", action="store_true", help="print without colours")
    parser.add_argument(
        "--limit", type=_seconds, default=60.0, metavar="SECONDS", help="judge no more after this long (60)"
    )
    return parser


def _check(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "check", "check", "Judge every statement of a lesson, or of each in a course."
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a lesson, or a course folder")
    parser.add_argument("--strict", action="store_true", help="warnings count as errors")
    parser.add_argument("--values", metavar="SET", help="judge with this named set of values")


def _build(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "build", "build", "Make a lesson's kit: board, script, handout, page and proof."
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a lesson, or a course folder")
    parser.add_argument(
        "--draft", action="store_true", help="build in spite of wrong statements; every page says so"
    )
    parser.add_argument("--only", metavar="OUTPUTS", help=f"some of: {', '.join(OUTPUTS)}")
    parser.add_argument(
        "--to", type=Path, metavar="FOLDER", help="where to put kits (default: kits/ beside the lesson)"
    )
    parser.add_argument("--paper", choices=("a4", "letter"), help="one paper size only")
    parser.add_argument(
        "--theme", metavar="THEMES", help="of the board's frames, some of: paper, slate, print"
    )
    parser.add_argument("--png", action="store_true", help="board frames as PNG as well")


def _derive(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "derive", "derive", "Write the proven steps of a lesson's derive blocks.")
    parser.add_argument("file", type=Path, metavar="FILE", help="a lesson")
    parser.add_argument("--target", metavar="NAMES", help="what to derive, such as 'E_p, r_p of both'")
    parser.add_argument("--route", metavar="ROUTE", help="by which route")
    parser.add_argument(
        "--keep", action="store_true", help="write the steps into the lesson's empty derive blocks"
    )
    parser.add_argument("--values", metavar="SET", help="add the numbers of this named set")
    parser.add_argument("--all", action="store_true", help="show every route and say which fit")


def _solve(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "solve", "solve", "Answer a quick question about a circuit.")
    parser.add_argument(
        "circuit", metavar="CIRCUIT", help="such as 'A = cell 6 V, 1 ohm; R = resistor 5 ohm; A across R'"
    )
    parser.add_argument(
        "--for", dest="wanted", action="append", metavar="QUANTITY", help="such as 'I', 'p.d. across R'"
    )
    parser.add_argument("--letters", action="store_true", help="answer in letters")
    parser.add_argument(
        "--given", action="append", metavar="READING", help="such as 'V = 1.4 V when R = 7 ohm'"
    )


def _new(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "new", "new", "Start a lesson with its argument derived from a circuit.")
    parser.add_argument("name", metavar="NAME", help="the lesson's file name, without .lesson.md")
    parser.add_argument("circuit", metavar="CIRCUIT", help="as for solve")
    parser.add_argument("--target", metavar="NAMES", help="what the lesson derives")
    parser.add_argument("--route", metavar="ROUTE", help="by which route")


def _claim(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "claim", "claim", "Prove or refute a general statement, in words or in maths."
    )
    parser.add_argument(
        "words", metavar="CLAIM", help="such as 'the larger the load, the smaller the current'"
    )
    parser.add_argument("--circuit", metavar="CIRCUIT", help="as for solve (default: chosen by the words)")
    parser.add_argument(
        "--for", dest="scope", metavar="CONDITIONS", help="what it is said for, such as 'E_1 > E_2'"
    )


def _renumber(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "renumber", "renumber", "Give a lesson other numbers, in its maths and its sentences."
    )
    parser.add_argument("file", type=Path, metavar="LESSON", help="a lesson")
    parser.add_argument("--values", metavar="SET", required=True, help="the named set of values to put in")
    parser.add_argument("--write", action="store_true", help="save the lesson (else the changes are shown)")


def _course(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "course", "course", "Show what each lesson of a course leans on and establishes."
    )
    parser.add_argument("folder", type=Path, metavar="FOLDER", help="a course folder")
    parser.add_argument("--draw", type=Path, metavar="OUT.svg", help="draw the order of the lessons")


def _listen(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands,
        "listen",
        "listen",
        "Find what was said wrong in a recording, from its captions and the lesson.",
    )
    parser.add_argument("file", type=Path, metavar="LESSON", help="the lesson that was recorded")
    parser.add_argument("captions", type=Path, metavar="CAPTIONS", help="WebVTT or SubRip")
    parser.add_argument(
        "--free", action="store_true", help="a free talk: listen by the circuits, not by the script"
    )
    parser.add_argument(
        "--notes", type=Path, metavar="OUT.vtt", help="write the corrections as a caption track"
    )
    parser.add_argument(
        "--not-a-claim",
        action="append",
        metavar="KEY",
        help="remember that this is no claim, and don't tell it again",
    )


def _video(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "video", "video", "Make a lesson's video, with its captions and chapters.")
    parser.add_argument("file", type=Path, metavar="LESSON", help="a lesson")
    parser.add_argument(
        "--voice", type=Path, metavar="RECORDING", help="a recording's name or folder, or a sound file"
    )
    parser.add_argument(
        "--captions",
        type=Path,
        metavar="FILE",
        help="captions of a recording made elsewhere: keep step with it",
    )
    parser.add_argument(
        "--shape", choices=("wide", "near"), default="wide", help="1920 by 1080 (wide) or 1080 by 1920 (near)"
    )
    parser.add_argument("--format", choices=("mp4", "webm", "both"), default="both", help="one file only")
    parser.add_argument("--burn-in", action="store_true", help="write the captions into the picture")
    parser.add_argument("--resume", action="store_true", help="go on where an earlier run was stopped")
    parser.add_argument(
        "--draft", action="store_true", help="make it in spite of wrong statements; every picture says so"
    )
    parser.add_argument(
        "--to", type=Path, metavar="FOLDER", help="where to put kits (default: kits/ beside the lesson)"
    )


def _measure(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "measure", "measure", "Find a real cell's EMF and internal resistance from readings."
    )
    parser.add_argument(
        "file", type=Path, metavar="FILE", help="a table (text or .xlsx), or a lesson with a readings block"
    )
    meter = "such as 'range 2 V, step 1 mV, accuracy 2 digits, resistance 10 Mohm'"
    parser.add_argument("--voltmeter", metavar="METER", help=meter)
    parser.add_argument("--ammeter", metavar="METER", help="as for the voltmeter, in amperes")
    parser.add_argument(
        "--across", choices=("cell", "load"), help="what the voltmeter stands across (default: cell)"
    )
    parser.add_argument("--loads", metavar="PERCENT", help="tolerance of the loads, in per cent")
    parser.add_argument("--decimal", choices=(".", ","), help="the decimal mark of the table")
    parser.add_argument(
        "--sheet", type=Path, metavar="FOLDER", help="write results, lab sheet and risk form there"
    )
    parser.add_argument("--paper", choices=("a4", "letter"), help="size of the sheets (default: a4)")
    parser.add_argument(
        "--simulate", type=int, metavar="SEED", help="simulated readings for a rehearsal, marked as such"
    )
    parser.add_argument("--expect", metavar="CELL", help="what the cell should be: '1.5 V, 0.4 ohm'")
    parser.add_argument(
        "--bench",
        choices=("resistor", "bridge", "bridge-wire", "potentiometer", "discharge"),
        help="other bench work than a cell",
    )


def _mark(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "mark", "mark", "Mark answers to papers, and see where the class stands.")
    parser.add_argument("papers", type=Path, metavar="PAPERS", help="a folder that papers made")
    parser.add_argument(
        "answers", type=Path, nargs="*", metavar="ANSWERS", help="tables (.csv, .xlsx) or a quiz's .jsonl"
    )
    parser.add_argument("--queue", action="store_true", help="list what waits for your decision")
    parser.add_argument(
        "--again",
        action="store_true",
        help="mark anew with the questions as they are now; old marks are kept",
    )
    parser.add_argument(
        "--grid", type=Path, metavar="OUT.xlsx", help="only write a grid for typing answers in"
    )
    parser.add_argument(
        "--to", type=Path, metavar="FOLDER", help="where to put pages and tables (PAPERS/marked)"
    )
    parser.add_argument(
        "--markbook", metavar="ADDRESS", help="a department's database (default: marks.db beside the papers)"
    )
    parser.add_argument("--delete-by", metavar="DAY", help="delete these answers by this day, as 2027-07-31")
    parser.add_argument("--export", metavar="STUDENT", help="only print all that is kept of one student")
    parser.add_argument("--erase", metavar="STUDENT", help="only delete one student entirely")
    _several(parser)


def _several(parser: argparse.ArgumentParser) -> None:
    """Options of a job that several processes may share."""
    parser.add_argument("--workers", type=int, default=1, metavar="N", help="processes at work (1)")
    parser.add_argument(
        "--cluster", metavar="ADDRESS", help="work on this cluster of the distributed extra, or: local"
    )


def _papers(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "papers", "papers", "Make practice papers: one a student, or sets with a seat plan."
    )
    parser.add_argument(
        "what",
        metavar="LESSON|FAMILY",
        help="a lesson, a family such as branches, several with commas, or all",
    )
    parser.add_argument(
        "--students", metavar="CODES", help="how many, or codes with commas, or a file of codes"
    )
    parser.add_argument(
        "--sets", type=int, metavar="N", help="2 to 4 sets A to D instead of one paper a student"
    )
    parser.add_argument(
        "--seed", type=int, default=1, metavar="NUMBER", help="the same seed, the same papers (1)"
    )
    parser.add_argument(
        "--kind",
        choices=("practice", "exit", "hinge"),
        default="practice",
        help="papers, exit slips, hinge questions",
    )
    parser.add_argument("--large", action="store_true", help="large print")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the sheets (a4)")
    parser.add_argument("--quiz", choices=("practice", "marked"), help="web quizzes besides, one file each")
    parser.add_argument(
        "--qti", choices=("3.0", "2.2", "2.1"), help="a package for learning platforms besides"
    )
    _several(parser)
    parser.add_argument("--to", type=Path, metavar="FOLDER", help="where to put them (papers/)")


def _pack(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "pack", "pack", "Design a pack from a brief, with its argument proved: a sum on paper."
    )
    parser.add_argument(
        "brief",
        metavar="FILE|BRIEF",
        help="a lesson or text file, or 'voltage: at least 12 V; current: 3 A; cells: AA alkaline'",
    )
    parser.add_argument(
        "--aim", choices=("fewest cells", "least mass", "least cost", "least sag"), help="what best means"
    )
    parser.add_argument(
        "--faults",
        nargs="?",
        const="ten",
        choices=("ten", "all"),
        help="what if a cell is turned, dead, open ...",
    )
    parser.add_argument(
        "--spread", type=int, nargs="?", const=2000, metavar="PACKS", help="draw packs of unlike cells (2000)"
    )
    parser.add_argument("--run-down", action="store_true", help="p.d. over time to the brief's least p.d.")
    parser.add_argument(
        "--load", metavar="RESISTANCE", help="what the cells at hand can drive through this load"
    )
    parser.add_argument("--to", type=Path, metavar="FOLDER", help="write sheet, page and pictures there")


def _studio(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(commands, "studio", "studio.serve", "Write, prove and build lessons in the browser.")
    parser.add_argument(
        "folder",
        type=Path,
        nargs="?",
        default=Path(),
        metavar="FOLDER",
        help="of lessons (default: this one)",
    )
    parser.add_argument("--port", type=int, default=8420, help="where to listen; 0 for any (default: 8420)")
    parser.add_argument(
        "--open-to-network", action="store_true", help="let other devices in too, with a password"
    )
    parser.add_argument("--view-only", action="store_true", help="nobody may change anything")


def _record(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands,
        "record",
        "studio.serve_recording",
        "Rehearse and record a lesson in the browser, on this machine.",
    )
    parser.add_argument("file", type=Path, metavar="LESSON", help="a lesson")
    parser.add_argument("--port", type=int, default=8730, help="where the browser finds it (8730)")


def _hand_over(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands,
        "hand-over",
        "hand_over",
        "Pack a lesson or a course for a colleague, without anybody's answers.",
    )
    parser.add_argument("file", type=Path, metavar="FILE", help="a lesson, or a course folder")
    parser.add_argument(
        "--to", type=Path, metavar="ARCHIVE", help="what to write (default: beside the lesson)"
    )


def _open(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "open", "open_archive", "Unpack what a colleague handed over, and prove it again."
    )
    parser.add_argument("archive", type=Path, metavar="ARCHIVE", help="as hand-over wrote it")
    parser.add_argument(
        "--to", type=Path, metavar="FOLDER", help="a new folder (default: named like the archive)"
    )


def _why(commands: Commands[argparse.ArgumentParser]) -> None:
    parser = _command(
        commands, "why", "why", "Explain a kind of finding, with a sample and the sample put right."
    )
    parser.add_argument("code", metavar="CODE", help="such as overwide-equation")
