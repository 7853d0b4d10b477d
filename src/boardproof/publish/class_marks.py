"""The two signs of the class picture: a square filled from its floor, and a diamond with a letter; readable in grey."""

from __future__ import annotations

from html import escape

__all__ = ["diamond", "square"]


def square(quarters: int) -> str:
    """A square of 22 px, filled in quarters from the floor up.

    Parameters
    ----------
    quarters : int
        0 to 4.

    Examples
    --------
    >>> 'height="11"' in square(2)
    True
    """
    height = {0: 0.0, 1: 5.5, 2: 11.0, 3: 16.5, 4: 21.0}[quarters]
    fill = f'<rect x="1" y="{22 - height:g}" width="20" height="{height:g}" class="full"/>' if height else ""
    return (
        '<svg width="22" height="22" viewBox="0 0 22 22" aria-hidden="true" focusable="false">'
        f'{fill}<rect x=".75" y=".75" width="20.5" height="20.5" class="frame"/></svg>'
    )


def diamond(letter: str) -> str:
    """A diamond of 25 px with a letter in it.

    Parameters
    ----------
    letter : str
        Of the belief.

    Examples
    --------
    >>> ">b</text>" in diamond("b")
    True
    """
    return (
        '<svg width="27" height="27" viewBox="0 0 27 27" aria-hidden="true" focusable="false">'
        '<path d="M13.5 1.2 25.8 13.5 13.5 25.8 1.2 13.5Z" class="held"/>'
        f'<text x="13.5" y="18" text-anchor="middle">{escape(letter)}</text></svg>'
    )
