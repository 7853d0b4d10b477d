"""Handing over and opening: proved again on the other side, nobody's answers inside, odd archives not opened."""

from __future__ import annotations

import io
import zipfile

import pytest

from boardproof.cli import main
from boardproof.kit.hand_over import RECORD, archive
from boardproof.kit.open_archive import unpacked

LESSON = """# A pair

## Two cells

```circuit
A = cell 6 V, 1 ohm
B = cell 4 V, 2 ohm
both = A || B
both
let E_p = emf of both
```

$$ E_p = 16/3 V $$
"""


@pytest.fixture
def course(tmp_path):
    root = tmp_path / "mine"
    (root / ".boardproof").mkdir(parents=True)
    (root / "1-pair.lesson.md").write_text(LESSON, encoding="utf-8")
    for name in ("marks.db", "names.csv", "answers.toml"):
        (root / ".boardproof" / name).write_text("S07", encoding="utf-8")
    return root


def test_a_colleague_proves_it_again_and_gets_nobodys_answers(course, tmp_path, capsys) -> None:
    assert main(["hand-over", str(course), "--to", str(tmp_path / "a.zip")]) == 0
    with zipfile.ZipFile(tmp_path / "a.zip") as packed:
        assert sorted(packed.namelist()) == [".boardproof/answers.toml", "1-pair.lesson.md", RECORD]
    assert main(["open", str(tmp_path / "a.zip"), "--to", str(tmp_path / "theirs")]) == 0
    assert "proved again, as it was sent" in capsys.readouterr().out
    assert main(["open", str(tmp_path / "a.zip"), "--to", str(tmp_path / "theirs")]) == 2


def test_another_verdict_here_is_told(course, tmp_path, capsys) -> None:
    files = {"1-pair.lesson.md": LESSON.encode()}
    sent = {"1-pair.lesson.md": {"statements": []}}
    (tmp_path / "a.zip").write_bytes(archive(files, sent, licence=""))
    assert main(["open", str(tmp_path / "a.zip"), "--to", str(tmp_path / "theirs")]) == 1
    assert "not judged there, true here" in capsys.readouterr().out


@pytest.mark.parametrize(
    "name",
    [
        "../out.txt",
        "/etc/out",
        "a/../../out",
        "C:\\out",
        "a\\b",
        ".boardproof/marks.db",
        "a/.hidden",
        "",
        ".",
        "a\nb",
        "x/" * 9,
    ],
)
def test_a_name_that_is_not_plain_is_not_opened(name) -> None:
    assert isinstance(unpacked(archive({name: b"x"}, {}, licence="")), str)


def test_a_changed_file_a_link_or_a_swollen_archive_is_not_opened() -> None:
    whole = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(archive({"a.md": b"x"}, {}, licence=""))) as good:
        record = good.read(RECORD)
    with zipfile.ZipFile(whole, "w") as made:
        made.writestr("a.md", b"y")
        made.writestr(RECORD, record)
    assert "was changed" in str(unpacked(whole.getvalue()))
    link = zipfile.ZipInfo("a.md")
    link.external_attr = 0o120777 << 16
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as made:
        made.writestr(link, "/etc/passwd")
    assert "not plain" in str(unpacked(whole.getvalue()))
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("a.md", bytes(201_000_000))
    assert "200 MB" in str(unpacked(whole.getvalue()))
