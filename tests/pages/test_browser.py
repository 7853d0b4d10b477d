"""The browser of the page tests sees complaints, refuses the network and finds poor markup."""

from __future__ import annotations

import pytest

GOOD = """<!doctype html><html lang="en"><head><title>Cells</title></head><body><main><h1>Cells</h1>
<p id="p"></p></main><script>document.getElementById('p').textContent = 6 / 4 + ' V'</script></body></html>"""


def test_a_clean_local_page_passes(tmp_path, visit, accessibility_faults) -> None:
    (tmp_path / "page.html").write_text(GOOD, encoding="utf-8")
    page = visit.open(tmp_path / "page.html")
    assert page.inner_text("#p") == "1.5 V"
    assert page.viewport_size["width"] == 1280
    assert accessibility_faults(page) == []


def test_poor_markup_is_found(tmp_path, visit, accessibility_faults) -> None:
    (tmp_path / "page.html").write_text("<main><img src='data:image/gif;base64,'></main>", encoding="utf-8")
    told = " ".join(accessibility_faults(visit.open(tmp_path / "page.html")))
    assert "image-alt" in told
    assert "html-has-lang" in told


@pytest.mark.parametrize(
    "text", ["<script>fail()</script>", "<script src='http://example.org/x.js'></script>"]
)
def test_complaints_and_the_network_are_noticed(tmp_path, visiting, text: str) -> None:
    (tmp_path / "page.html").write_text(text, encoding="utf-8")
    with pytest.raises(AssertionError), visiting(360) as seen:
        seen.open(tmp_path / "page.html")
