"""Each kind's page shows a slip and the sample put right: the first gives the finding, the second none."""

from __future__ import annotations

import re

import pytest

from boardproof.circuit.kinds import KINDS
from boardproof.circuit.read import read_circuit
from boardproof.findings import worded
from boardproof.source import Slice, Span

# samples that need a sentence of a lesson are run by tests/lessons/test_pages.py
SHOWN = [kind for kind in KINDS.values() if "put right:" in kind.page and "````" not in kind.page]


def codes(text: str) -> list[str]:
    reading = read_circuit(Slice(text, Span("page", 0, len(text))))
    assert all(worded(each).message for each in reading.findings)
    return [each.kind.code for each in reading.findings]


def sample(page: str) -> str:
    return "\n".join(re.findall(r"(?m)^    (.*)$", page))


@pytest.mark.parametrize("kind", SHOWN, ids=lambda kind: kind.code)
def test_a_sample_shows_its_finding_and_the_one_put_right_none(kind) -> None:
    wrong, right = kind.page.split("put right:")
    assert kind.code in codes(sample(wrong))
    assert codes(sample(right)) in ([], ["open-ends"])


def test_most_kinds_show_a_sample() -> None:
    assert len(SHOWN) >= len(KINDS) - 5
