"""The page about the architecture names rooms and modules that exist, and every room."""

from __future__ import annotations

import re

from house.test_imports import ROW
from house.tree import PACKAGE, ROOT, modules

TEXT = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
ROOMS = {module.room for module in modules()} - {"__init__", "__main__"}


def named() -> set[str]:
    """Names in code type that could be a room or a module: ``prove``, ``prove.follows``."""
    return set(re.findall(r"`([a-z_]+(?:\.[a-z_]+)?)`", TEXT))


def table() -> list[tuple[int, str, set[str]]]:
    """Rows of the table of rooms: number, room, modules."""
    rows = re.findall(r"^\| (\d+) \| `(\w+)` \| (.+?) \|", TEXT, re.MULTILINE)
    return [(int(row), room, set(re.findall(r"`(\w+)`", inside))) for row, room, inside in rows]


def test_every_room_is_in_the_table_and_every_room_in_it_exists() -> None:
    assert {room for _, room, _ in table()} == ROOMS


def test_rows_are_those_that_imports_are_held_to() -> None:
    rows = {room: row for row, room, _ in table()}
    assert rows == {room: ROW[room] for room in ROOMS}


def test_the_modules_named_for_a_room_exist() -> None:
    for _, room, inside in table():
        folder = PACKAGE / room
        there = {path.stem for path in folder.glob("*.py")} - {"__init__"} if folder.is_dir() else set()
        assert inside <= there, room  # a module may be newer than the page


def test_dotted_names_are_modules() -> None:
    known = {module.name for module in modules()}
    assert {name for name in named() if "." in name} - known - {"run.py", "proof.json", "kit.json"} == set()
