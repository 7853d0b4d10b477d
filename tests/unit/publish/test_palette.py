"""Colours: contrast on every ground they stand on, by the WCAG formula."""

from __future__ import annotations

import re

import pytest

from boardproof.publish.palette import PALETTES, colour, contrast, custom_properties

TEXT = ("ink", "quiet", "dimtext", "focus", "holds", "only", "wrong", "units", "open")


def test_contrast_of_known_pairs() -> None:
    # WebAIM and the WCAG working examples give 21 : 1 for black on white, and 4.54 : 1 for #767676 on white.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert contrast("#FFFFFF", "#767676") == contrast("#767676", "#FFFFFF")


@pytest.mark.parametrize("theme", PALETTES)
@pytest.mark.parametrize("name", TEXT)
def test_text_reads_on_paper_and_shade(theme: str, name: str) -> None:
    own = PALETTES[theme]
    assert contrast(own[name], own["paper"]) >= 4.5
    assert contrast(own[name], own["shade"]) >= 4.5


@pytest.mark.parametrize("theme", PALETTES)
def test_what_stands_on_the_wash_reads_there(theme: str) -> None:
    own = PALETTES[theme]
    assert min(contrast(own[name], own["lamp"]) for name in ("ink", "focus")) >= 4.5


@pytest.mark.parametrize("theme", PALETTES)
def test_lines_that_mean_something_are_seen(theme: str) -> None:
    own = PALETTES[theme]
    for ground in ("paper", "shade"):
        assert min(contrast(own[name], own[ground]) for name in ("edge", "dim", "ink", "focus")) >= 3


def test_every_theme_has_every_name_as_property_and_value() -> None:
    names = [set(re.findall(r"--(\w+):#[0-9A-F]{6};", custom_properties(theme))) for theme in PALETTES]
    assert names == [set(PALETTES["paper"])] * 3
    assert colour("lamp", "css") == "var(--lamp)"
    assert colour("lamp", "slate") == PALETTES["slate"]["lamp"]


def test_focus_is_never_red() -> None:
    for theme in ("paper", "slate"):
        red, green, blue = (int(PALETTES[theme]["focus"][at : at + 2], 16) for at in (1, 3, 5))
        assert not (red > 1.5 * green and red > 1.5 * blue)
