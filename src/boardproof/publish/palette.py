"""All colours, by name and theme; no other colour appears in anything the tool draws.

Contrast of each name on `paper`, `shade` and `lamp` is tested with the WCAG 2 formula. In print nothing is dimmed
by lightness: `dim` is as dark as ink there, and the writer of pictures draws dimmed strokes thin instead.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

__all__ = ["PALETTES", "Ink", "Theme", "colour", "contrast", "custom_properties"]

Theme = Literal["paper", "slate", "print", "css"]
Ink = Literal[
    "desk", "paper", "shade", "lamp", "line", "casel", "edge", "quiet", "ink", "dim", "dimtext", "focus",
    "holds", "only", "wrong", "units", "open",
]  # fmt: skip

_NAMES = (
    "desk", "paper", "shade", "lamp", "line", "casel", "edge", "quiet", "ink", "dim", "dimtext", "focus",
    "holds", "only", "wrong", "units", "open",
)  # fmt: skip
_PAPER = (
    "#ECE5D6", "#FBF8F0", "#F3EDDF", "#FBE9B0", "#CFC5B0", "#DDD3BF", "#857B69", "#6A6358", "#262A33",
    "#838486", "#67696D", "#1F47B4", "#00664A", "#7F5200", "#A83200", "#83356B", "#5C5F66",
)  # fmt: skip
_SLATE = (
    "#171D21", "#222A30", "#2B353C", "#2B4270", "#47545C", "#3B474F", "#86939B", "#A3AEB3", "#EEEAE0",
    "#8B9299", "#A1A8AD", "#FFD36E", "#6FD3AE", "#F0B85C", "#FF9A6B", "#E5A3CF", "#B4BCC0",
)  # fmt: skip
_PRINT = (
    "#FFFFFF", "#FFFFFF", "#F2F2F2", "#E4E4E4", "#BDBDBD", "#BDBDBD", "#767676", "#595959", "#111111",
    "#111111", "#595959", "#000000", "#111111", "#111111", "#111111", "#111111", "#595959",
)  # fmt: skip

PALETTES: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        theme: MappingProxyType(dict(zip(_NAMES, colours, strict=True)))
        for theme, colours in (("paper", _PAPER), ("slate", _SLATE), ("print", _PRINT))
    }
)


def colour(name: Ink, theme: Theme) -> str:
    """The colour's value; for "css" a reference to the page's custom property.

    Parameters
    ----------
    name : Ink
        A name of the palette.
    theme : Theme
        "paper", "slate", "print", or "css".

    Examples
    --------
    >>> colour("focus", "paper"), colour("focus", "css")
    ('#1F47B4', 'var(--focus)')
    """
    return f"var(--{name})" if theme == "css" else PALETTES[theme][name]


def custom_properties(theme: Theme) -> str:
    """Declarations of one theme's colours for a style sheet.

    Parameters
    ----------
    theme : Theme
        "paper", "slate" or "print".

    Examples
    --------
    >>> custom_properties("print")[:15]
    '--desk:#FFFFFF;'
    """
    return "".join(f"--{name}:{value};" for name, value in PALETTES[theme].items())


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours ``#RRGGBB``, from 1 to 21.

    Parameters
    ----------
    one, other : str
        Colours.

    Notes
    -----
    WCAG 2.2, definitions of contrast ratio and relative luminance.

    Examples
    --------
    >>> contrast("#FFFFFF", "#000000")
    21.0
    """
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def _luminance(value: str) -> float:
    parts = (int(value[at : at + 2], 16) / 255 for at in (1, 3, 5))
    linear = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
