"""Talks written for listening, and how a listener's findings are scored against their labels.

A talk is a text file: a circuit (or a lesson's file name) in the first line, then one sentence a line; what is wrong
stands in double square brackets. It is made into captions of eight words each.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from boardproof.lesson.captions import time_stamp
from boardproof.listen.hear import Speech
from boardproof.listen.slip import Report

__all__ = ["Score", "Talk", "as_captions", "read_talk", "score"]

WRONG = re.compile(r"(\[\[.*?\]\])")


@dataclass(frozen=True)
class Talk:
    """A talk's first line, its captions, and where it is wrong (words, half open)."""

    about: str
    captions: str
    wrong: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Score:
    """Labels found, labels in all, false alarms."""

    found: int = 0
    labels: int = 0
    false: int = 0

    def __add__(self, other: Score) -> Score:
        """Scores of several talks together."""
        return Score(self.found + other.found, self.labels + other.labels, self.false + other.false)

    @property
    def recall(self) -> float:
        """Share of the labels found."""
        return self.found / self.labels if self.labels else 1.0

    @property
    def precision(self) -> float:
        """Share of the findings that are right."""
        return self.found / (self.found + self.false) if self.found + self.false else 1.0


def as_captions(words: list[str], each: int = 8) -> str:
    """Words as a caption file."""
    cues = ["WEBVTT"]
    for start in range(0, len(words), each):
        times = f"{time_stamp(start * 400)} --> {time_stamp((start + each) * 400)}"
        cues.append(f"{times}\n{' '.join(words[start : start + each])}")
    return "\n\n".join(cues) + "\n"


def read_talk(path: Path) -> Talk:
    """A talk from its file."""
    about, *lines = path.read_text(encoding="utf-8").splitlines()
    words: list[str] = []
    wrong: list[tuple[int, int]] = []
    for line in lines:
        for piece in WRONG.split(line):
            said = piece.strip("[]").split()
            if said and words and re.fullmatch(r"\W+", said[0]):
                words[-1] += said.pop(0)
            if piece.startswith("[["):
                wrong.append((len(words), len(words) + len(said)))
            words += said
    return Talk(about, as_captions(words), tuple(wrong))


def score(speech: Speech, report: Report, wrong: tuple[tuple[int, int], ...]) -> Score:
    """How a report does against the labels: overlap of words decides."""
    spans = [(speech.at[slip.start], speech.at[slip.end - 1] + 1) for slip in report.findings]
    hits = sum(any(start < b and a < end for start, end in spans) for a, b in wrong)
    false = sum(not any(start < b and a < end for a, b in wrong) for start, end in spans)
    return Score(hits, len(wrong), false)
