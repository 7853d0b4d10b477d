"""Tables of the reference agree with the code: keys of the JSON, files of a kit, beliefs, sets, routes, colours."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pytest

from boardproof.algebra.notation import NOTATIONS
from boardproof.belief.catalogue import BELIEFS
from boardproof.cli import main
from boardproof.derive.routes import ROUTES
from boardproof.kit.check import check_file
from boardproof.kit.report import json_report
from boardproof.lesson.course import NotationSettings, Pace, Policy
from boardproof.lesson.sentence import MoveWord
from boardproof.publish.palette import PALETTES
from docs.fences import FENCE
from house.tree import ROOT

if TYPE_CHECKING:
    from pathlib import Path

SLIP = """# A pair

## One scene

```circuit
A = cell E_1, r_1
B = cell E_2, r_2
R = resistor
both = A || B
both across R
```

$$ E_both = (E_1 + E_2)/2 $$
"""


def page(name: str) -> str:
    return (ROOT / "docs" / "reference" / f"{name}.md").read_text(encoding="utf-8")


def first_cells(text: str) -> list[str]:
    """What stands in the first column of every table, without backticks and bold."""
    rows = re.findall(r"^\| (.+?) \|", text, re.MULTILINE)
    return [re.sub(r"[`*]", "", row) for row in rows if not row.startswith("---")]


def words_of(text: str) -> set[str]:
    return set(re.findall(r"`([^`\n]+)`", FENCE.sub("", text)))


def test_the_json_has_the_keys_that_the_page_lists(tmp_path: Path) -> None:
    path = tmp_path / "pair.lesson.md"
    path.write_text(SLIP, encoding="utf-8")
    (report,) = check_file(path)
    whole = json.loads(json_report(report))
    told = page("kit")
    assert set(whole) == {"schema", "file", "statements", "findings", "summary"}
    listed = {key for row in first_cells(told.partition("## proof.json")[0]) for key in row.split(", ")}
    assert set(whole["statements"][0]) <= listed
    assert set(whole["findings"][0]) <= words_of(told) | {"line", "column", "end_line", "end_column"}
    assert set(whole["summary"]) <= words_of(told) | words_of(page("verdicts"))


@pytest.mark.timeout(60)
def test_a_kit_holds_the_files_that_the_page_lists(tmp_path: Path) -> None:
    path = tmp_path / "pair.lesson.md"
    path.write_text(SLIP.replace("(E_1 + E_2)/2", "(E_1 r_2 + E_2 r_1)/(r_1 + r_2)"), encoding="utf-8")
    assert main(["build", str(path), "--quiet", "--paper", "a4"]) == 0
    kit = tmp_path / "kits" / "pair"
    told = page("kit")
    made = sorted(each.relative_to(kit).as_posix() for each in kit.rglob("*") if each.is_file())
    for name in made:
        shown = "board/SCENE-MOMENT-wide.svg" if name.startswith("board/") else name
        assert f"`{shown}`" in told
    assert set(json.loads((kit / "proof.json").read_text(encoding="utf-8"))) <= words_of(told)
    assert set(json.loads((kit / "kit.json").read_text(encoding="utf-8"))) <= set(
        re.findall(r'"(\w+)":', told)
    )


def test_every_belief_is_listed_and_no_other() -> None:
    assert sorted(re.findall(r"^\| `(\w+)` \|", page("misconceptions"), re.MULTILINE)) == sorted(BELIEFS)


def test_every_route_is_listed_and_no_other() -> None:
    assert sorted(first_cells(page("routes"))[1:]) == sorted(ROUTES)


def test_the_notation_sets_are_as_listed() -> None:
    rows = re.findall(
        r"^\| (.+?) \| (\S+) \| (\S+) \| (box|zigzag) \| (point|comma) \|$", page("notation"), re.MULTILINE
    )
    listed = {name.removesuffix(" (default)"): cells for name, *cells in rows}
    marks = {".": "point", ",": "comma"}
    assert listed == {
        name: [each.emf, each.pd, each.resistor, marks[each.decimal]] for name, each in NOTATIONS.items()
    }


def test_every_setting_is_explained() -> None:
    told = words_of(page("policy")) | words_of(page("notation"))
    bare = {word.split(".")[-1] for word in told}
    wanted = {name for kind in (Policy, Pace, NotationSettings) for name in kind.__slots__}
    assert wanted <= bare


def test_the_palette_is_as_listed() -> None:
    rows = re.findall(r"^\| (\w+) \| .+? \| (#\w{6}) \| (#\w{6}) \| (#\w{6}) \|$", page("look"), re.MULTILINE)
    themes = ("paper", "slate", "print")
    listed = {theme: {name: colours[at] for name, *colours in rows} for at, theme in enumerate(themes)}
    assert listed == {theme: dict(PALETTES[theme]) for theme in themes}


def test_every_board_move_is_explained() -> None:
    table = page("lesson-language").partition("## Board moves")[2].partition("## Arguments")[0]
    said = " ".join(words_of(table))
    assert [word for word in MoveWord.__args__ if word not in said] == []


def test_every_package_that_is_installed_is_named_with_its_licence() -> None:
    locks = "".join(
        (ROOT / name).read_text(encoding="utf-8") for name in ("requirements.lock", "requirements-tests.lock")
    )
    packages = set(re.findall(r"^([\w-]+)==", locks, re.MULTILINE))
    notices = (ROOT / "THIRD_PARTY.md").read_text(encoding="utf-8")
    assert packages
    assert (
        sorted(name for name in packages if not re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", notices))
        == []
    )
