"""Kinds of finding about how a lesson or a course file is written: one row each."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from boardproof.findings import Finding, Kind, Kinds, Severity, near_names
from boardproof.source import Span

__all__ = ["KINDS", "clipped", "finding", "nearby"]

LONGEST: Final = 60
TYPED: Final = {
    "word",
    "text",
    "mark",
    "end",
    "words",
    "field",
    "value",
}  # facts that repeat the teacher's text
NEAR: Final = "Did you mean {near}?"


def _row(code: str, severity: Severity, message: str, help_: str, why: str, sample: str, better: str) -> Kind:
    page = f"{why}\n\n````text\n{sample}\n````\n\nput right:\n\n````text\n{better}\n````\n"
    return Kind(code, severity, message, help_, page)


KINDS: Final = Kinds(
    [
        _row(
            "unread-move",
            "error",
            "I don't know a board move called {word}.",
            NEAR,
            "Text between backticks is a move: it changes the picture at that word, and nobody says or prints it. "
            "An unknown one would leave the class looking at the wrong place.",
            "Now look at A. `fokus A`",
            "Now look at A. `focus A`",
        ),
        _row(
            "unfit-move",
            "error",
            "I can't read the move {text}.",
            "It is written: {form}.",
            "Each move has its own short form; what does not fit it is not made.",
            "`replace both`",
            "`replace both by one cell`",
        ),
        _row(
            "misplaced-move",
            "warning",
            "A move in a heading is not made.",
            "Put it into the first sentence below.",
            "Headings are labels: nobody says them, so there is no moment at which the picture could change.",
            "## The load `focus R`",
            "## The load\n\nHere is the load. `focus R`",
        ),
        _row(
            "unknown-field",
            "error",
            "I don't know a line called {word} in this block.",
            NEAR,
            "A line that begins with a word and a colon says what the line is for. One that is misspelt would be "
            "read out as part of the text.",
            "```pause\nWhat does the meter say?\nanswr:\nLess.\n```",
            "```pause\nWhat does the meter say?\nanswer:\nLess.\n```",
        ),
        _row(
            "repeated-field",
            "error",
            "{field} stands here a second time; the first one counts.",
            "Take one of them out.",
            "Two answers to one question would leave open which of them the class is shown.",
            "```trap\nwrong: V = E\nwrong: V = 0\nNot here.\n```",
            "```trap\nwrong: V = E\nNot here.\n```",
        ),
        _row(
            "missing-field",
            "error",
            "This {word} needs a line {field}.",
            "Add `{field}: ...`.",
            "A trap is a wrong statement and how it is refuted; without the statement there is nothing to refute.",
            "```trap\nThat is not true here.\n```",
            "```trap\nwrong: V = E\nThat is not true here.\n```",
        ),
        _row(
            "missing-answer",
            "warning",
            "The pause has no answer.",
            "Add a line `answer:` and the answer below it.",
            "Whoever stops to try wants to know whether it came out right.",
            "```pause 20 s\nWhat does the meter say?\n```",
            "```pause 20 s\nWhat does the meter say?\nanswer:\nLess.\n```",
        ),
        _row(
            "unknown-block",
            "error",
            "I don't know a block called {word}.",
            NEAR,
            "The word after the backticks says what the block is. An unknown block is left out.",
            "```circiut\nA = cell\n```",
            "```circuit\nA = cell\n```",
        ),
        _row(
            "nameless-block",
            "error",
            "This block does not say what it is.",
            "Write its word after the backticks: circuit, board, derive, pause, trap, claim, question, readings or "
            "brief.",
            "A block without its word could be anything, so it is left out.",
            "```\nA = cell\n```",
            "```circuit\nA = cell\n```",
        ),
        _row(
            "misplaced-block",
            "error",
            "A {word} block can't stand inside a list, a quotation or another block.",
            "Put it on lines of its own, between two paragraphs.",
            "Blocks are steps of the lesson; inside something else it would be unclear when their turn comes.",
            "> ```circuit\n> A = cell\n> ```",
            "```circuit\nA = cell\n```",
        ),
        _row(
            "unread-headline",
            "error",
            "I can't read {text} after {word}.",
            "It is written: {form}.",
            "What follows the block's word has one form for each block.",
            "```pause quickly\nTry it.\nanswer:\nDone.\n```",
            "```pause 20 s\nTry it.\nanswer:\nDone.\n```",
        ),
        _row(
            "unknown-route",
            "error",
            "I don't know a route called {word}.",
            "Known routes: {near}.",
            "A route is the order in which a class is led to the result. Without a known one no argument can be "
            "written.",
            "```derive E_p of both by same terminal voltage\n```",
            "```derive E_p of both by same terminal p.d.\n```",
        ),
        _row(
            "no-target",
            "error",
            "This does not say what is to be derived.",
            "Write the letters after the word: derive E_p, r_p of both.",
            "An argument needs an end to be led to.",
            "```derive\n```",
            "```derive I by junctions and loops\n```",
        ),
        _row(
            "step-order",
            "error",
            "Line {number} stands where line {place} is expected.",
            "Number the lines 1, 2, 3, ...",
            "Lines lean on each other by their numbers; two counts in one argument cannot be followed.",
            "```derive I by same current\n1. V = I R by Ohm's law\n3. I = V/R by algebra\n```",
            "```derive I by same current\n1. V = I R by Ohm's law\n2. I = V/R by algebra\n```",
        ),
        _row(
            "later-line",
            "error",
            "Line {number} can't lean on line {other}: it does not stand above it.",
            "Name lines above, or change their order.",
            "An argument that leans on what comes later goes round in a circle.",
            "```derive I by same current\n1. I = V/R by algebra from 2\n2. V = I R by Ohm's law\n```",
            "```derive I by same current\n1. V = I R by Ohm's law\n2. I = V/R by algebra from 1\n```",
        ),
        _row(
            "loose-words",
            "warning",
            "These words belong to no line of the argument, so they are left out.",
            "Put them below line 1, or above the block.",
            "In an argument each sentence explains the line above it.",
            "```derive I by same current\nWalk round.\n1. V = I R by Ohm's law\n```",
            "```derive I by same current\n1. V = I R by Ohm's law\n   Walk round.\n```",
        ),
        _row(
            "never-closed",
            "error",
            "{mark} is opened here and never closed.",
            "Close it with {end}; if only the sign is meant, write \\ before it.",
            "Maths, values, moves, notes and blocks go from one mark to its partner. A sum of money is written \\$.",
            "Then $V = 2 V is left.",
            "Then $V = 2 V$ is left.",
        ),
        _row(
            "unread-fill",
            "error",
            "I can't fill in {text}.",
            "Write a letter or a quantity: {{I}}, {{I in mA}}, {{I to 2 figures}}.",
            "Braces are filled with a value worked out from the circuit, so they must say of what.",
            "The current is {}.",
            "The current is {I}.",
        ),
        _row(
            "unread-tie",
            "error",
            "{text} ties nothing to anything.",
            "Write the words in square brackets and the quantity after the equals sign: [half an ampere](=I).",
            "Words tied to a quantity are checked against it; an empty tie checks nothing.",
            "It is [half an ampere](=).",
            "It is [half an ampere](=I).",
        ),
        _row(
            "unsourced-number",
            "warning",
            "{words} is free of the circuit, but nothing says where it comes from.",
            'Write the reason: (=free "from the lamp\'s label").',
            "A number from outside is not judged; whoever proof-reads the lesson must be able to look it up.",
            "It needs [50 mA](=free).",
            'It needs [50 mA](=free "from the lamp\'s label").',
        ),
        _row(
            "unread-leave",
            "warning",
            "This note accepts nothing: it gives no reason.",
            "Write <!-- leave {code}, because: ... -->.",
            "A finding may be left as it is if there is a reason; the reason stands beside it ever after.",
            "<!-- leave crowded-board -->",
            "<!-- leave crowded-board, because: all four cells matter -->",
        ),
        _row(
            "foreign-picture",
            "warning",
            "A picture from a file is not taken over; only its words are printed.",
            "Draw it with a circuit block.",
            "Every picture of a lesson is drawn from its circuit, so that it cannot disagree with the text.",
            "![two cells](cells.png)",
            "```circuit\nA, B = cell\nA + B\n```",
        ),
        _row(
            "deep-heading",
            "error",
            "A lesson has one title (#) and scenes (##); this heading is neither.",
            "Write ## for a scene, or put the words into **bold** in a sentence.",
            "The board is wiped at each scene; a heading within one would be a scene that does not wipe it.",
            "### A small point",
            "## A small point",
        ),
        _row(
            "late-settings",
            "error",
            "The lesson block stands once, before everything else.",
            "Move its lines to the top of the file.",
            "What a lesson leans on and how it is written must be known before its first line is read.",
            "# A real cell\n\n```lesson\nminutes = 5\n```",
            "```lesson\nminutes = 5\n```\n\n# A real cell",
        ),
        _row(
            "unread-setting",
            "error",
            "I can't read the settings from here on: {reason}.",
            'A setting is written: name = "words", name = 5 or name = ["one", "two"].',
            "Settings are read as a whole; if one line is broken, the usual values are used for all.",
            "```lesson\nminutes = five\n```",
            "```lesson\nminutes = 5\n```",
        ),
        _row(
            "unknown-setting",
            "error",
            "I don't know a setting called {word}.",
            NEAR,
            "A misspelt setting would silently leave the usual value in force.",
            "```lesson\nestablish = []\n```",
            "```lesson\nestablishes = []\n```",
        ),
        _row(
            "wrong-setting",
            "error",
            "{word} can't be {value}.",
            "It is {wanted}.",
            "A setting that does not fit is left out, and the usual value is used.",
            '```lesson\nminutes = "long"\n```',
            "```lesson\nminutes = 5\n```",
        ),
        _row(
            "over-limit",
            "error",
            "{what} is longer than {limit}; what goes beyond is not read.",
            "Make two lessons of it.",
            "Limits keep one damaged file from stopping everything else. No lesson for a class comes near them.",
            "- " * 22 + "deep",
            "- deep",
        ),
    ]
)


def clipped(text: str) -> str:
    """A piece of the teacher's text, short enough to stand in a sentence.

    Parameters
    ----------
    text : str
        Any.

    Examples
    --------
    >>> clipped("a" * 100)[-4:]
    'aaa…'
    """
    line = " ".join(text[:200].split())
    return line if len(line) <= LONGEST else line[: LONGEST - 1] + "…"


def nearby(word: str, known: Iterable[str]) -> dict[str, str]:
    """The fact `near`: names that look like `word`; no fact if there is none.

    Parameters
    ----------
    word : str
        What was typed.
    known : iterable of str
        What it could have been.

    Examples
    --------
    >>> nearby("answr", ["answer", "circuit"])
    {'near': 'answer'}
    """
    near = near_names(word, known) if len(word) <= LONGEST else ()
    return {"near": " or ".join(near)} if near else {}


def finding(code: str, span: Span, /, **facts: str) -> Finding:
    """A finding of this room.

    Parameters
    ----------
    code : str
        A row of `KINDS`.
    span : Span
        Where.
    **facts : str
        What its sentences speak of.

    Examples
    --------
    >>> finding("unknown-block", Span("a", 3, 10), word="circiut", near="circuit").facts["near"]
    'circuit'
    """
    return Finding(
        KINDS[code], span, {name: clipped(fact) if name in TYPED else fact for name, fact in facts.items()}
    )
