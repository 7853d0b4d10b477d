"""What a check found, as JSON for programs and as text for a terminal."""

from __future__ import annotations

import json
import textwrap
from collections import Counter
from collections.abc import Mapping
from typing import Final

from boardproof import __version__
from boardproof.findings import Diagnostic, Evidence, Finding, excerpt, worded
from boardproof.prove.verdict import GROUND, Judged
from boardproof.record import record
from boardproof.source import Source, Span

__all__ = ["CheckReport", "findings_text", "in_short", "json_report", "text_report", "visible"]

SCHEMA: Final = 1
KINDS: Final = (
    "true",
    "true-only-when",
    "near-enough",
    "right-number-wrong-reason",
    "wrong",
    "units-differ",
    "not-checked",
)
WORDS: Final = {
    "true": "true",
    "true-only-when": "true only when",
    "near-enough": "near enough",
    "right-number-wrong-reason": "right number, wrong reason",
    "wrong": "wrong",
    "units-differ": "units don't match",
    "not-checked": "not checked",
}
# A terminal would obey these, and a text from someone else may hold them; so may names of files.
OBEYED: Final = (*range(10), *range(11, 32), *range(127, 160), *range(0x202A, 0x202F), *range(0x2066, 0x206A))
HIDDEN: Final = dict.fromkeys(OBEYED, "\ufffd")
COLOURS: Final = {"error": "31", "warning": "33", "note": "36"}


@record
class CheckReport:
    """Everything that a check of one lesson found.

    Parameters
    ----------
    source : Source
        The lesson's text.
    judged : tuple of Judged
        Every statement, in text order.
    diagnostics : tuple of Diagnostic
        Every finding in words, in text order.
    sources : mapping of str to Source
        Other files that findings point into, by name.
    """

    source: Source
    judged: tuple[Judged, ...]
    diagnostics: tuple[Diagnostic, ...]
    sources: Mapping[str, Source]

    @property
    def summary(self) -> dict[str, int | str]:
        """Counts as in the JSON report: the seven verdicts and the traps add up to the statements."""
        counted = [each for each in self.judged if each.said.kind != "sentence"]
        traps = [each for each in counted if each.expected == "wrong" and each.met]
        kinds = Counter(each.verdict.kind for each in counted if not (each.expected == "wrong" and each.met))
        severities = Counter(each.severity for each in self.diagnostics)
        return {
            "statements": len(counted),
            **{kind: kinds[kind] for kind in KINDS},
            "traps": len(traps),
            "not-yet-following": sum(each.verdict.follows == "not-yet" for each in counted),
            "sentences": sum(each.said.kind == "sentence" for each in self.judged),
            "errors": severities["error"],
            "warnings": severities["warning"],
            "notes": severities["note"],
            "ground": GROUND,
            "tool": __version__,
        }

    @property
    def has_errors(self) -> bool:
        """Whether anything in the teacher's material is wrong."""
        return any(each.severity == "error" for each in self.diagnostics)

    @property
    def is_unfinished(self) -> bool:
        """Whether time ran out before every statement was judged."""
        told = (each.text for judged in self.judged for each in judged.verdict.evidence)
        return any(text.startswith("the limit of") for text in told)

    def counts_line(self) -> str:
        """The summary as people say it: "23 statements: 21 true, 1 wrong, 1 not checked"."""
        counts = self.summary
        parts = [f"{counts[kind]} {WORDS[kind]}" for kind in KINDS if counts[kind]]
        if counts["traps"]:
            traps = "trap" if counts["traps"] == 1 else "traps"
            parts.append(f"{counts['traps']} {traps} wrong, as it should be")
        noun = "statement" if counts["statements"] == 1 else "statements"
        return f"{counts['statements']} {noun}" + (f": {', '.join(parts)}" if parts else "")


def visible(text: str) -> str:
    r"""Text for a terminal: what would steer it is shown as a sign.

    Parameters
    ----------
    text : str
        Perhaps somebody else's.

    Examples
    --------
    >>> visible("a\x1b[2Jb")
    'a\ufffd[2Jb'
    """
    return text.translate(HIDDEN)


def in_short(finding: Finding) -> str:
    """A finding in one line, without its place: for what is wrong with files and words of the command line.

    Parameters
    ----------
    finding : Finding
        Any.

    Examples
    --------
    >>> from boardproof.circuit.kinds import finding
    >>> in_short(finding("unknown-name", Span("x", 0, 1), word="E_z"))
    "I don't know E_z."
    """
    told = worded(finding)
    return visible(f"{told.message} {told.help}".rstrip())


def json_report(report: CheckReport) -> str:
    """The report as one line of JSON (schema 1).

    Parameters
    ----------
    report : CheckReport
        What was found.

    Returns
    -------
    str
        Keys are never left out: what is not there is null or empty.

    Examples
    --------
    >>> from boardproof.source import Source
    >>> whole = json.loads(json_report(CheckReport(Source("a.lesson.md", ""), (), (), {})))
    >>> list(whole), whole["summary"]["errors"]
    (['schema', 'file', 'statements', 'findings', 'summary'], 0)
    """
    whole = {
        "schema": SCHEMA,
        "file": report.source.name,
        "statements": [_statement(each, report.source) for each in report.judged],
        "findings": [_finding(each, report) for each in report.diagnostics],
        "summary": report.summary,
    }
    return json.dumps(whole, ensure_ascii=False)


def _lines(source: Source, span: Span) -> dict[str, int]:
    line, column = source.position(span.start)
    end_line, end_column = source.position(span.end)
    return {"line": line, "column": column, "end_line": end_line, "end_column": end_column}


def _evidence(evidence: tuple[Evidence, ...]) -> list[dict[str, object]]:
    return [{"kind": each.kind, "text": each.text, "values": dict(each.values)} for each in evidence]


def _statement(judged: Judged, source: Source) -> dict[str, object]:
    said, verdict = judged.said, judged.verdict
    return {
        **_lines(source, said.span),
        "text": said.text,
        "verdict": verdict.kind,
        "expected": judged.expected,
        "met": judged.met,
        "condition": verdict.condition,
        "right": verdict.right,
        "evidence": _evidence(verdict.evidence),
        "place": said.kind,
        "key": said.key,
        "detail": verdict.detail,
        "follows": verdict.follows,
        "missing": list(verdict.missing),
        "decided_by": verdict.decided_by,
        "ground": verdict.ground,
    }


def _finding(diagnostic: Diagnostic, report: CheckReport) -> dict[str, object]:
    source = report.sources.get(diagnostic.span.source, report.source)
    whole: dict[str, object] = {"code": diagnostic.code, "severity": diagnostic.severity}
    if source is not report.source:
        whole["file"] = source.name
    return {
        **whole,
        **_lines(source, diagnostic.span),
        "message": diagnostic.message,
        "help": diagnostic.help,
        "evidence": _evidence(diagnostic.evidence),
    }


def text_report(report: CheckReport, *, colour: bool = False, width: int = 100) -> str:
    """The report for a terminal: each finding with its place and a pointer, then the counts.

    Parameters
    ----------
    report : CheckReport
        What was found.
    colour : bool
        Whether to colour the severity words.
    width : int
        Columns to wrap at.
    """
    parts = [findings_text(report, colour=colour, width=width)] if report.diagnostics else []
    unchecked = [each for each in report.judged if each.verdict.kind == "not-checked"]
    if unchecked:
        rows = "".join(
            f"\n  line {report.source.position(each.said.span.start)[0]}: {' '.join(each.said.text.split())}"
            + (f" ({each.verdict.evidence[0].text})" if each.verdict.evidence else "")
            for each in unchecked
        )
        parts.append(visible(f"Not checked:{rows}"))
    parts.append(visible(f"{report.source.name}: {report.counts_line()} ({GROUND})."))
    return "\n\n".join(parts)


def findings_text(report: CheckReport, *, colour: bool = False, width: int = 100) -> str:
    """The findings only; parameters as `text_report`.

    Parameters
    ----------
    report : CheckReport
        What was found.
    colour : bool
        Whether to colour the severity words.
    width : int
        Columns to wrap at.
    """
    return "\n\n".join(_drawn(each, report, colour=colour, width=width) for each in report.diagnostics)


def _drawn(diagnostic: Diagnostic, report: CheckReport, *, colour: bool, width: int) -> str:
    source = report.sources.get(diagnostic.span.source, report.source)
    line, column = source.position(diagnostic.span.start)
    word = diagnostic.severity
    lines = [
        f"[{diagnostic.code}]",
        *textwrap.wrap(diagnostic.message, width, initial_indent="  ", subsequent_indent="  "),
        excerpt(source, diagnostic.span),
    ]
    for said in (*(each.text for each in diagnostic.evidence), diagnostic.help):
        lines += textwrap.wrap(said, width, initial_indent="  ", subsequent_indent="  ")
    for span, why in diagnostic.related:
        other = report.sources.get(span.source, report.source)
        lines += [f"  {why}: {other.name}:{other.position(span.start)[0]}", excerpt(other, span)]
    shown = f"\x1b[1;{COLOURS[word]}m{word}\x1b[0m" if colour else word
    return visible(f"{source.name}:{line}:{column}: ") + shown + visible(" " + "\n".join(lines))
