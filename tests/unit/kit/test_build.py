"""Building from the command line: what is written, what is refused, and that the same text gives the same bytes."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import pikepdf

from boardproof.kit.outputs import OUTPUTS

if TYPE_CHECKING:
    from pathlib import Path

TRUE = "Look at both.\n\n$$ E_both = (E_1 r_2 + E_2 r_1)/(r_1 + r_2) = 5 V $$"
WRONG = "Look at both.\n\n$$ r_both = r_1 + r_2 $$"
QUICK = ("--only", "script,cue-cards,page,proof")


def files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


def test_a_wrong_statement_stops_the_build_and_nothing_is_written(boardproof, lesson) -> None:
    path = lesson(WRONG)
    status, out, _ = boardproof("build", path)
    assert status == 1
    assert "wrong-equation" in out
    assert "not built" in out
    assert not (path.parent / "kits").exists()


def test_a_draft_says_draft_on_every_page(boardproof, lesson) -> None:
    path = lesson(WRONG)
    assert boardproof("build", path, "--draft", "--paper", "a4")[0] == 0
    folder = path.parent / "kits" / "two-cells"
    assert json.loads((folder / "kit.json").read_text(encoding="utf-8"))["draft"] is True
    told = "DRAFT, 1 of 1 statements not proved"
    for page in (*folder.glob("*.html"), *folder.glob("board/*.svg")):
        assert told in page.read_text(encoding="utf-8"), page.name
    sheets = [text for name in ("handout-a4.pdf", "board-plan.pdf") for text in pages_of(folder / name)]
    assert len(sheets) >= 2
    assert all("DRAFT" in text for text in sheets)


def pages_of(path: Path) -> list[str]:
    """The words of each page of a PDF, by its fonts' own tables of letters."""
    found = []
    with pikepdf.open(path) as pdf:
        for page in pdf.pages:
            tables = {name: letters_of(font) for name, font in page.Resources.get("/Font", {}).items()}
            letters, font = [], {}
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) == "Tf":
                    font = tables[str(operands[0])]
                elif str(operator) in {"Tj", "TJ"}:
                    pieces = operands[0] if str(operator) == "TJ" else [operands[0]]
                    codes = b"".join(bytes(each) for each in pieces if isinstance(each, pikepdf.String))
                    letters += [
                        font.get(codes[at : at + 2].hex().upper(), "") for at in range(0, len(codes), 2)
                    ]
            found.append("".join(letters))
    return found


def letters_of(font: pikepdf.Object) -> dict[str, str]:
    table = bytes(font.ToUnicode.read_bytes()).decode("ascii")
    pairs = re.findall(r"<([0-9A-Fa-f]{4})>\s+<((?:[0-9A-Fa-f]{4})+)>\s*\n", table)
    return {code.upper(): bytes.fromhex(text).decode("utf-16-be") for code, text in pairs}


def test_without_the_option_nothing_is_a_draft(boardproof, lesson) -> None:
    path = lesson(TRUE)
    assert boardproof("build", path, "--only", "page,handout,board")[0] == 0
    folder = path.parent / "kits" / "two-cells"
    assert json.loads((folder / "kit.json").read_text(encoding="utf-8"))["draft"] is False
    assert "DRAFT, " not in (folder / "page.html").read_text(encoding="utf-8")
    assert all("DRAFT" not in text for text in pages_of(folder / "handout-a4.pdf"))


def test_only_the_outputs_named_are_made(boardproof, lesson) -> None:
    path = lesson(TRUE)
    assert boardproof("build", path, "--only", "script, proof")[0] == 0
    assert set(files(path.parent / "kits" / "two-cells")) == {"kit.json", "script.html", "proof.json"}


def test_an_unknown_output_is_not_done(boardproof, lesson) -> None:
    path = lesson(TRUE)
    status, out, err = boardproof("build", path, "--only", "postcards")
    assert (status, out) == (2, "")
    assert all(name in err for name in OUTPUTS)
    assert not (path.parent / "kits").exists()


def test_the_same_text_gives_the_same_bytes(boardproof, lesson, tmp_path: Path) -> None:
    path = lesson(TRUE)
    for name in ("one", "two"):
        assert boardproof("build", path, "--to", tmp_path / name, "--paper", "a4")[0] == 0
    assert files(tmp_path / "one") == files(tmp_path / "two")
    assert len(files(tmp_path / "one")) >= 8


def test_a_persons_file_is_never_overwritten(boardproof, lesson) -> None:
    path = lesson(TRUE)
    folder = path.parent / "kits" / "two-cells"
    folder.mkdir(parents=True)
    (folder / "script.html").write_text("mine", encoding="utf-8")
    status, out, _ = boardproof("build", path, *QUICK)
    assert status == 2
    assert "script.html was not made by this tool" in out
    assert files(folder) == {"script.html": b"mine"}


def test_a_made_file_that_was_changed_since_is_not_overwritten(boardproof, lesson) -> None:
    path = lesson(TRUE)
    assert boardproof("build", path, *QUICK)[0] == 0
    page = path.parent / "kits" / "two-cells" / "page.html"
    page.write_text("reworded", encoding="utf-8")
    assert boardproof("build", path, *QUICK)[0] == 2
    assert page.read_text(encoding="utf-8") == "reworded"


def test_a_target_that_is_no_folder_is_not_done(boardproof, lesson, tmp_path: Path) -> None:
    path = lesson(TRUE)
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    status, _, err = boardproof("build", path, "--to", tmp_path / "file", *QUICK)
    assert status == 2
    assert err.startswith("Not done: ")
    assert (tmp_path / "file").read_text(encoding="utf-8") == "mine"


def test_a_read_only_target_is_not_done(boardproof, lesson, tmp_path: Path, monkeypatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied", "kit")

    monkeypatch.setattr("boardproof.kit.files.write_whole", refuse)
    status, _, err = boardproof("build", lesson(TRUE), "--to", tmp_path / "locked", *QUICK)
    assert status == 2
    assert err == "Not done: Permission denied: kit.\n"


def test_time_that_runs_out_builds_nothing(boardproof, lesson) -> None:
    path = lesson(TRUE)
    status, out, _ = boardproof("build", path, "--limit", "0.000001", *QUICK)
    assert status == 2
    assert "the limit of 1e-06 s was reached" in out
    assert not (path.parent / "kits").exists()


def test_a_missing_lesson_is_not_done(boardproof, tmp_path: Path) -> None:
    status, out, err = boardproof("build", tmp_path / "none.lesson.md")
    assert (status, out) == (2, "")
    assert "There is no file none.lesson.md" in err


def test_proof_json_holds_statements_sources_and_cautions(boardproof, lesson) -> None:
    path = lesson(TRUE)
    boardproof("build", path, *QUICK)
    proof = json.loads((path.parent / "kits" / "two-cells" / "proof.json").read_text(encoding="utf-8"))
    assert proof["schema"] == 1
    assert [each["verdict"] for each in proof["statements"]] == ["true", "true"]
    assert list(proof["sources"]) == ["two-cells.lesson.md"]
    assert proof["cautions"][0]["tier"] == "strong"
