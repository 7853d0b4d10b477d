"""A recording on disk survives what happens to browsers."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from boardproof.kit.takes import (
    Recording,
    append_piece,
    append_rows,
    begin_take,
    chosen_steps,
    grown,
    is_name,
    read_recording,
    take_sound,
    with_step,
    write_recording,
)

if TYPE_CHECKING:
    from pathlib import Path

WHOLE = (
    '{"schema":1,"lesson":"a","lesson_sha256":"","made":"","delete_by":"","consent":"","sample_rate":1,'
    '"takes":%s,"chosen":%s}'
)
NEW = Recording("3-cells", "ab" * 32, "2026-11-25", "2027-11-25", "the teacher")


def test_what_is_written_is_read(tmp_path: Path) -> None:
    recording, take = begin_take(NEW, "1-scene-0")
    append_piece(tmp_path, take, 1, b"one")
    write_recording(tmp_path, grown(with_step(recording, take, "1-move-1", 2100), take, 5000))
    read = read_recording(tmp_path)
    assert read == grown(with_step(recording, take, "1-move-1", 2100), take, 5000)
    told = json.loads((tmp_path / "recording.json").read_text())
    assert told["schema"] == 1
    assert told["takes"][0]["pieces"] == ["0001.webm"]
    assert told["takes"][0]["steps"][1] == {"moment": "1-move-1", "ms": 2100}
    assert told["chosen"] == [{"take": "01", "from_ms": 0, "to_ms": 5000}]


def test_pieces_come_in_turn_and_only_once(tmp_path: Path) -> None:
    assert append_piece(tmp_path, "01", 1, b"one")
    assert not append_piece(tmp_path, "01", 3, b"three")
    assert append_piece(tmp_path, "01", 2, b"two")
    assert append_piece(tmp_path, "01", 2, b"two"), "sent again after a lost answer"
    assert not append_piece(tmp_path, "01", 2, b"other")
    assert not append_piece(tmp_path, "01", 3, b"x" * 5_000_000)
    assert not append_piece(tmp_path, "../01", 1, b"x")
    assert take_sound(tmp_path, "01") == b"onetwo"


def test_what_lies_behind_a_gap_is_not_heard(tmp_path: Path) -> None:
    for number in (1, 2, 3):
        append_piece(tmp_path, "01", number, bytes([number]))
    (tmp_path / "01" / "0002.webm").unlink()
    assert take_sound(tmp_path, "01") == b"\x01"


def test_a_step_taken_again_is_heard_in_place_of_the_old_one() -> None:
    first, one = begin_take(NEW, "a")
    first = grown(with_step(with_step(first, one, "b", 3000), one, "c", 6000), one, 9000)
    again, two = begin_take(first, "b")
    again = grown(with_step(again, two, "c", 2500), two, 7000)
    assert [(each.take, each.from_ms, each.to_ms) for each in again.chosen] == [
        ("01", 0, 3000),
        ("02", 0, 7000),
    ]
    assert chosen_steps(again) == {"a": 0, "b": 3000, "c": 5500}
    assert again.length_ms == 10_000
    third, _ = begin_take(again, "c")
    assert [(each.take, each.from_ms, each.to_ms) for each in third.chosen] == [
        ("01", 0, 3000),
        ("02", 0, 2500),
        ("03", 0, 0),
    ]


def test_pen_and_pointer_are_lines_that_are_added(tmp_path: Path) -> None:
    append_rows(tmp_path, "01", "pen", [{"ms": 10, "x": 4.5, "y": 6.0, "new": True}])
    append_rows(tmp_path, "01", "pen", [{"ms": 30, "x": 5.0, "y": 6.0}])
    rows = [json.loads(line) for line in (tmp_path / "01" / "pen.jsonl").read_text().splitlines()]
    assert [row["ms"] for row in rows] == [10, 30]
    with pytest.raises(ValueError, match="not a name"):
        append_rows(tmp_path, "..", "pen", [])


@pytest.mark.parametrize(
    "told",
    [
        "",
        "[]",
        "{}",
        '{"schema": 2}',
        WHOLE % ('[{"id":"../../x","steps":[]}]', "[]"),
        WHOLE % ("[]", '[{"take":"09","from_ms":0,"to_ms":1}]'),
    ],
)
def test_a_damaged_recording_is_none(tmp_path: Path, told: str) -> None:
    (tmp_path / "recording.json").write_text(told)
    assert read_recording(tmp_path) is None


@pytest.mark.parametrize("name", ["", ".", "..", "a/b", "a\\b", "-a", "a" * 65, "a\0", "ä"])
def test_names_are_plain(name: str) -> None:
    assert not is_name(name)
