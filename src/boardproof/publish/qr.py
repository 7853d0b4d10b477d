"""The address of a published lesson as a QR code (ISO/IEC 18004), for whoever holds the handout."""

from __future__ import annotations

from typing import Final

__all__ = ["qr_svg"]

QUIET: Final = 4  # modules of clear space all round, as the standard asks


def qr_svg(address: str) -> str:
    """An address as a QR code that survives a stain (error correction M).

    Parameters
    ----------
    address : str
        Where the lesson stands on the web.

    Returns
    -------
    str
        SVG with one path, black on white, a unit a module.

    Examples
    --------
    >>> qr_svg("https://school.example/buoy/3")[:71]
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 37 37"><rect width'
    """
    import segno  # only handouts of published lessons need it

    code = segno.make(address, error="m", micro=False, boost_error=False)
    rows = list(code.matrix)
    side = len(rows) + 2 * QUIET
    runs = []
    for y, row in enumerate(rows, QUIET):
        x = 0
        while x < len(row):
            wide = 0
            while x + wide < len(row) and row[x + wide]:
                wide += 1
            if wide:
                runs.append(f"M{x + QUIET} {y}h{wide}v1h-{wide}z")
            x += max(wide, 1)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}">'
        f'<rect width="{side}" height="{side}" fill="#FFFFFF"/><path fill="#000000" d="{"".join(runs)}"/></svg>'
    )
