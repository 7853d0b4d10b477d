"""The page of every kind of finding shows a sample and the sample put right; those that are lessons are checked."""

import re
from pathlib import Path

import pytest

from boardproof.findings import Kind
from boardproof.kit.catalogue import CATALOGUE, ROOMS
from boardproof.kit.check import check_file
from lessons.test_every_kind import ELSEWHERE

CIRCUIT = "```circuit\nA = cell E, r\nR = resistor\nmain = A across R\n```\n\n"
PAGES = [(room, kind) for entry in CATALOGUE.values() for room, kind in entry.kinds]
TEXTS = [kind for _, kind in PAGES if "````text" in kind.page]
ANSWERS = [
    kind for kind in ROOMS["answers"].values() if "put right:" in kind.page and kind.code not in ELSEWHERE
]


def codes(text: str, folder: Path) -> set[str]:
    path = folder / "sample.lesson.md"
    path.write_text(text, encoding="utf-8")
    (report,) = check_file(path)
    return {each.code for each in report.diagnostics}


def whole(sample: str) -> str:
    """A sample as a lesson: with a title and a scene, and with a circuit to speak of if it brings none."""
    if sample.startswith("```lesson"):
        return sample + "\n"
    circuit = "" if "```circuit" in sample else CIRCUIT
    return f"# Title\n\n## Scene\n\n{circuit}{sample}\n"


@pytest.mark.parametrize(("room", "kind"), PAGES, ids=lambda each: getattr(each, "code", each))
def test_every_page_shows_a_sample_and_the_sample_put_right(room: str, kind: Kind) -> None:
    before, mark, after = kind.page.partition("After:" if "After:" in kind.page else "put right")
    assert mark, f"no sample in {room}"
    assert "Before:" in before or "\n    " in before or "````" in before
    assert after.strip(" :,.\n")


@pytest.mark.parametrize("kind", TEXTS, ids=lambda kind: kind.code)
def test_a_sample_of_a_lesson_gives_its_finding_and_put_right_does_not(kind: Kind, tmp_path: Path) -> None:
    wrong, right = re.findall(r"(?ms)^````text\n(.*?)\n````$", kind.page)
    assert kind.code in codes(whole(wrong), tmp_path)
    assert kind.code not in codes(whole(right), tmp_path)


@pytest.mark.parametrize("kind", ANSWERS, ids=lambda kind: kind.code)
def test_a_sample_of_a_circuit_gives_its_finding_and_put_right_does_not(kind: Kind, tmp_path: Path) -> None:
    wrong, right = (
        "```circuit\n" + "\n".join(re.findall(r"(?m)^    (.*)$", half)) + "\n```"
        for half in kind.page.split("put right:")
    )
    assert kind.code in codes(whole(wrong), tmp_path)
    assert kind.code not in codes(whole(right), tmp_path)
