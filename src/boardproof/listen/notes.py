"""A report in words: for the terminal, for programs, and as a caption track of notes beside the recording."""

from __future__ import annotations

import html
import json

from boardproof.lesson.captions import time_stamp
from boardproof.listen.hear import Speech
from boardproof.listen.slip import Report, Slip

__all__ = ["caption_track", "json_report", "text_report"]


def text_report(name: str, report: Report, *, quiet: bool = False) -> str:
    """What was heard, for people.

    Parameters
    ----------
    name : str
        The caption file's.
    report : Report
        What was found.
    quiet : bool
        Findings only.
    """
    lines = [f"{name}: {_count(len(report.findings), 'slip')}, {_count(len(report.questions), 'question')}"]
    for slip in report.findings:
        lines += [
            f"\n{slip.time}  “{slip.quote}”",
            f"  wrong ({slip.kind.replace('_', ' ')}), {_sureness(slip.sure)}. Right: {slip.right}",
            *([f"  Record again: {slip.instead}"] if slip.instead else []),
            f"  Not a claim? Say --not-a-claim {slip.key}",
        ]
    for slip in () if quiet else report.questions:
        lines.append(
            f"\n{slip.time}  “{slip.quote}”\n  Is that meant? I would expect: {slip.right}   [{slip.key}]"
        )
    if not quiet:
        share = round(100 * report.understood / report.words) if report.words else 100
        left = report.heard - report.checked
        lines.append(
            f"\n{_count(report.heard, 'statement')} heard, {report.checked} checked, {left} not;"
            f" {share} % of {_count(report.words, 'word')} understood."
        )
    return "\n".join(lines) + "\n"


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'' if number == 1 else 's'}"


def _sureness(sure: float) -> str:
    return "very sure" if sure >= 0.9 else "sure" if sure >= 0.7 else "fairly sure"


def json_report(name: str, report: Report) -> str:
    """The same as one JSON object in a line.

    Parameters
    ----------
    name : str
        The caption file's.
    report : Report
        What was found.
    """
    made = {
        "schema": 1,
        "file": name,
        "findings": [_row(slip) for slip in report.findings],
        "questions": [_row(slip) for slip in report.questions],
        "summary": {
            "heard": report.heard,
            "checked": report.checked,
            "words": report.words,
            "understood": report.understood,
        },
    }
    return json.dumps(made, ensure_ascii=False) + "\n"


def _row(slip: Slip) -> dict[str, object]:
    return {
        "key": slip.key,
        "cue_start": slip.time,
        "quote": slip.quote,
        "kind": slip.kind,
        "verdict": "wrong" if slip.sure >= 0.5 else "unsure",
        "right": slip.right,
        "sure": slip.sure,
        "record_again": slip.instead,
        "note": slip.note,
    }


def caption_track(speech: Speech, report: Report) -> str:
    """The findings as captions of their own, to lay over the recording.

    Parameters
    ----------
    speech : Speech
        For the times.
    report : Report
        What was found.
    """
    blocks = ["WEBVTT", "NOTE Corrections, each from where the slip is heard"]
    for slip in report.findings:
        first, last = speech.cues[speech.cue_of(slip.start)], speech.cues[speech.cue_of(slip.end - 1)]
        end = max(last.end, first.start + 2500)
        blocks.append(
            f"{time_stamp(first.start)} --> {time_stamp(end)}\n{html.escape(slip.note, quote=False)}"
        )
    return "\n\n".join(blocks) + "\n"
