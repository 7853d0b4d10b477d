"""What the teacher has told the tool to remember beside a course: what is no claim, and words of their own.

It stands in `.boardproof/answers.toml` of the course folder, which a person may edit and which goes along when a
course is handed over. A file that can't be read is told, and left alone.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Final

from boardproof.findings import Finding, Kind, Kinds
from boardproof.kit.files import read_source, write_whole
from boardproof.source import Source

__all__ = ["KINDS", "Remembered", "read_remembered", "remember"]

ANSWERS: Final = Path(".boardproof") / "answers.toml"
NOT_CLAIMS: Final = "not-a-claim"
WORDS: Final = "words"
MOST_BYTES: Final = 200_000
MOST_ENTRIES: Final = 2_000

KINDS: Final = Kinds(
    [
        Kind(
            "unread-memory",
            "warning",
            "What was remembered for this course can't be read: {what}.",
            "Put .boardproof/answers.toml right; it is left as it is.",
            "The file keeps what you called no claim, and your own words for parts. Until it can be read, findings "
            "that you had answered are told again.\n\nBefore: `[words` without its other bracket\n\n"
            'After:\n\n```\n[words]\n"the big one" = "A"\n```',
        ),
    ]
)


@dataclass(frozen=True, slots=True)
class Remembered:
    """What is known from before.

    Parameters
    ----------
    not_claims : frozenset of str
        Keys of slips that the teacher called no claim.
    words : mapping of str to str
        The teacher's own words for parts, in small letters ("the big one": "A").
    """

    not_claims: frozenset[str] = frozenset()
    words: Mapping[str, str] = field(default_factory=dict)


def read_remembered(root: Path) -> tuple[Remembered, tuple[Finding, ...]]:
    """Read what a course remembers.

    Parameters
    ----------
    root : Path
        The course folder.

    Returns
    -------
    (Remembered, tuple of Finding)
        Nothing and no finding where nothing was ever remembered.

    Examples
    --------
    >>> read_remembered(Path("no-such-folder"))[1]
    ()
    """
    path = root / ANSWERS
    if not path.exists():
        return Remembered(), ()
    source, findings = read_source(path, name=ANSWERS.as_posix(), max_bytes=MOST_BYTES)
    if source is None:
        return Remembered(), findings
    try:
        table = tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as fault:
        return Remembered(), (_unread(source, str(fault)),)
    told = [
        _unread(source, f"[{name}] is no table")
        for name in (NOT_CLAIMS, WORDS)
        if not isinstance(table.get(name, {}), dict)
    ]
    if told:
        return Remembered(), tuple(told)
    keys, words = table.get(NOT_CLAIMS, {}), table.get(WORDS, {})
    if len(keys) + len(words) > MOST_ENTRIES:
        return Remembered(), (_unread(source, f"it holds more than {MOST_ENTRIES:,} entries"),)
    wrong = [word for word, meant in words.items() if not isinstance(meant, str)]
    named = {" ".join(word.lower().split()): meant for word, meant in words.items() if isinstance(meant, str)}
    found = tuple(_unread(source, f"“{word}” names no part") for word in wrong)
    return Remembered(frozenset(keys), MappingProxyType(named)), found


def _unread(source: Source, what: str) -> Finding:
    return Finding(KINDS["unread-memory"], source.slice(0, 0).span, {"what": what})


def remember(root: Path, added: Mapping[str, str]) -> None:
    """Put keys of what is no claim into the file, whatever else stands there left as it is.

    Parameters
    ----------
    root : Path
        The course folder.
    added : mapping of str to str
        Key to the words that were no claim.
    """
    path = root / ANSWERS
    text = path.read_text(encoding="utf-8") if path.is_file() else ""
    heading = f"[{NOT_CLAIMS}]"
    lines = "".join(f'"{key}" = "{_plain(quote)}"\n' for key, quote in added.items() if key.isalnum())
    if heading in text:
        text = text.replace(f"{heading}\n", f"{heading}\n{lines}", 1)
    else:
        text += ("\n" if text else "") + f"{heading}\n{lines}"
    path.parent.mkdir(exist_ok=True)
    write_whole(path, text.encode())


def _plain(quote: str) -> str:
    return "".join(char for char in quote if char.isprintable() and char not in '"\\')[:200]
