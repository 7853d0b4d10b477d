"""The JSON of a check keeps its promises: keys that are never absent, counts that add up."""

from __future__ import annotations

import json

import pytest

from boardproof.kit.check import check_file
from boardproof.kit.report import json_report, text_report
from house.tree import ROOT

LESSONS = sorted(
    [*(ROOT / "examples").rglob("*.lesson.md"), *(ROOT / "tests" / "lessons").rglob("*.lesson.md")]
)
SEVEN = {
    "true",
    "true-only-when",
    "near-enough",
    "right-number-wrong-reason",
    "wrong",
    "units-differ",
    "not-checked",
}
PLACE = {"line": int, "column": int, "end_line": int, "end_column": int}
STATEMENT = PLACE | {
    "text": str,
    "verdict": str,
    "expected": str | None,
    "met": bool,
    "condition": str | None,
    "right": str | None,
    "evidence": list,
}
FINDING = PLACE | {"code": str, "severity": str, "message": str, "help": str, "evidence": list}
EVIDENCE = {"kind": str, "text": str, "values": dict}
KINDS_OF_EVIDENCE = {
    "identity",
    "factors",
    "counterexample",
    "dimensions",
    "figures",
    "working",
    "second-solution",
    "certificate",
    "source",
    "machine",
}
SUMMARY = (
    dict.fromkeys(SEVEN, int)
    | dict.fromkeys(
        ("statements", "traps", "not-yet-following", "sentences", "errors", "warnings", "notes"), int
    )
    | {"ground": str, "tool": str}
)


def fits(found: dict[str, object], shape: dict[str, object]) -> None:
    assert set(shape) <= set(found), set(shape) - set(found)
    for key, kind in shape.items():
        assert isinstance(found[key], kind), (key, found[key])


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.name.removesuffix(".lesson.md"))
def test_the_schema_holds_and_the_counts_add_up(path) -> None:
    for report in check_file(path):
        text = json_report(report)
        assert "\n" not in text
        found = json.loads(text)
        assert found["schema"] == 1
        assert found["file"] == path.name
        for statement in found["statements"]:
            fits(statement, STATEMENT)
            assert statement["verdict"] in SEVEN
            assert statement["expected"] in {None, "wrong", "true"}
            assert len(statement["key"]) == 12
            for each in statement["evidence"]:
                fits(each, EVIDENCE)
                assert each["kind"] in KINDS_OF_EVIDENCE
        for finding in found["findings"]:
            fits(finding, FINDING)
            assert (finding["line"], finding["column"]) <= (finding["end_line"], finding["end_column"])
        summary = found["summary"]
        fits(summary, SUMMARY)
        assert set(summary) == set(SUMMARY)
        assert sum(summary[kind] for kind in SEVEN) + summary["traps"] == summary["statements"]
        severities = [each["severity"] for each in found["findings"]]
        assert [summary[f"{word}s"] for word in ("error", "warning", "note")] == [
            severities.count(word) for word in ("error", "warning", "note")
        ]
        met = [each for each in found["statements"] if each["expected"] == "wrong" and each["met"]]
        assert summary["traps"] == len(met)


def test_places_count_from_one_and_point_at_the_text(lesson) -> None:
    path = lesson("$$ r_both = r_1 + r_2 $$")
    (report,) = check_file(path)
    found = json.loads(json_report(report))
    (statement,) = found["statements"]
    line = path.read_text(encoding="utf-8").splitlines()[statement["line"] - 1]
    assert (
        line[statement["column"] - 1 : statement["end_column"] - 1]
        == statement["text"]
        == "r_both = r_1 + r_2"
    )
    assert (statement["verdict"], statement["met"]) == ("wrong", False)
    (finding,) = found["findings"]
    assert (finding["code"], finding["line"]) == ("wrong-equation", statement["line"])


def test_a_met_trap_counts_as_a_trap_and_not_as_wrong(lesson) -> None:
    body = "```trap\nwrong: r_both = r_1 + r_2\nbelief: parallel adds r\nIt gets easier.\n```"
    (report,) = check_file(lesson(body))
    assert (report.summary["traps"], report.summary["wrong"], report.summary["statements"]) == (1, 0, 1)
    assert "1 trap wrong, as it should be" in report.counts_line()


def test_the_text_shows_excerpt_pointer_and_what_is_right(lesson) -> None:
    (report,) = check_file(lesson("$$ r_both = r_1 + r_2 $$"))
    text = text_report(report)
    assert "error [wrong-equation]" in text
    assert "| $$ r_both = r_1 + r_2 $$" in text
    assert "^^^^^^" in text
    assert text.splitlines()[-1].endswith("1 statement: 1 wrong (for all positive values).")
    assert "\x1b[" not in text
    assert "\x1b[1;31merror" in text_report(report, colour=True)
