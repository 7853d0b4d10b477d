"""What can be wrong with a table of readings: one row a kind."""

from __future__ import annotations

from typing import Final

from boardproof.findings import Finding, Kind, Kinds
from boardproof.source import Span

__all__ = ["KINDS", "finding"]

KINDS: Final = Kinds(
    (
        Kind(
            "unread-cell",
            "error",
            "Row {row}, column {column}: {what}.",
            "The row is left out until this is put right.",
            "A reading is one number; its unit stands in the heading of its column. Nothing is guessed, because a "
            "comma or a slip of the pen can move a point by a factor of a thousand.\n\n"
            "Before: `1,500 | 1.2` in a course that writes 1.5\n\nAfter: `1500 | 1.2`",
        ),
        Kind(
            "unread-heading",
            "error",
            "Column {column}: {what}.",
            "Head the columns like `I / mA | V / V` or `R / ohm | V / V`.",
            "A heading names a quantity and, after a stroke, the unit of every number below it.\n\n"
            "Before: `current (mA) | V / V`\n\nAfter: `I / mA | V / V`",
        ),
        Kind(
            "no-line",
            "error",
            "No line can be drawn through these readings: {what}.",
            "Take readings at two different loads at least, better at six.",
            "A line needs two different points, and its uncertainty a third.\n\nBefore: six readings at one load\n\n"
            "After: readings from a small current to a large one",
        ),
        Kind(
            "unused-column",
            "note",
            "Column {column} ({heading}) takes no part in the line.",
            "",
            "The line V = E - I r needs the p.d. and the current, or the p.d. and the load.\n\nBefore: a column of "
            "times\n\nAfter: as it is, if the times are kept for other reasons",
        ),
        Kind(
            "unknown-result",
            "error",
            "I don't find {word} in these readings.",
            "A line through p.d. and current gives an EMF (E) and a resistance (r).",
            "What `find:` asks for must be what the line gives.\n\nBefore: `find: C`\n\nAfter: `find: E, r`",
        ),
        Kind(
            "unclear-number",
            "error",
            "Row {row}, column {column}: {text} can be read as {one} or as {other}.",
            "Write {one} or {other}, or say which mark this table uses: `decimal: ,` above it, or `--decimal`.",
            "A comma parts thousands in one country and decimals in another. Other cells of the table often settle it; "
            "where none does, you are asked.\n\nBefore: `1,500 | 1.2`\n\nAfter: `1500 | 1.2`",
        ),
        Kind(
            "unread-meter",
            "error",
            "I can't read this of the {meter}: {text}.",
            "A whole description: {form}.",
            "A meter's accuracy stands in its leaflet or on its back. Without it the result is good for comparing, not "
            "for the true value.\n\nBefore: `voltmeter: good`\n\n"
            "After: `voltmeter: range 2 V, step 1 mV, accuracy 0.5 % + 2 digits`",
        ),
        Kind(
            "unread-sheet",
            "error",
            "I can't read this spreadsheet: {what}.",
            "Save it as .xlsx or as .csv.",
            "Only workbooks of the open format are read, and nothing in them is run.\n\nBefore: `readings.xls`\n\n"
            "After: `readings.xlsx`",
        ),
        Kind(
            "empty-row",
            "note",
            "Row {row} is empty and is passed over.",
            "",
            "An empty row may be a reading that was never written down.\n\nBefore: a gap in the table\n\n"
            "After: the reading, or no gap",
        ),
        Kind(
            "left-out",
            "note",
            "Row {row} is left out: {reason}.",
            "",
            "You may leave a reading out for a reason that you write in a column called note. It is still drawn, as an "
            "open circle, with the reason beside it.\n\nBefore: a row deleted\n\nAfter: `left out: read while warm`",
        ),
        Kind(
            "two-readings",
            "warning",
            "Two readings make a line, but nothing tells how far it can be trusted.",
            "Take a third at least, better six.",
            "The scatter about a line shows what readings are worth; two readings have none.\n\n"
            "Before: two loads\n\nAfter: six loads",
        ),
        Kind(
            "negative-resistance",
            "error",
            "The p.d. rises with the current, so r would be {r}.",
            "Is a meter's lead on the wrong terminal, or are the two columns exchanged?",
            "A cell loses volts inside when it drives a current; a rising line is a slip of wiring or of writing.\n\n"
            "Before: currents read with the ammeter's leads exchanged\n\nAfter: the signs put right",
        ),
        Kind(
            "above-range",
            "warning",
            "Row {row}, column {column}: {value} is more than the {meter} shows on its largest range.",
            "Check the range that is stated for the meter.",
            "A reading above the range is a wrong range or a wrong unit.\n\nBefore: `range 200 mV` and a reading of "
            "1.4 V\n\nAfter: `range 2 V`",
        ),
        Kind(
            "drifting-readings",
            "warning",
            "{sentence}",
            "Chance alone would bring as much in {chance}.",
            "E and r are constants of one run only while the cell is the same cell. The order of the rows is taken as "
            "the order of reading.\n\nBefore: six readings in one go, switch closed\n\n"
            "After: switch closed for each reading only, loads in mixed order",
        ),
        Kind(
            "bent-line",
            "warning",
            "{sentence}",
            "Chance alone would bring as much in {chance}.",
            "The straight line V = E - I r is a model; where it bends, one r does not describe the cell.\n\n"
            "Before: currents up to a quarter of the short-circuit current\n\nAfter: smaller currents",
        ),
        Kind(
            "odd-reading",
            "warning",
            "{sentence}",
            "Chance alone would bring as much in {chance}.",
            "A reading is pointed out when the worst of so many would lie that far off in fewer than one class in a "
            "hundred. It stays in the line until you leave it out for a reason.\n\nBefore: `300 | 1.831`\n\n"
            "After: `300 | 1.381`",
        ),
        Kind(
            "reading-disagrees",
            "warning",
            "The lesson gives {name} = {stated}; these readings give {found}.",
            "They differ by {standard} standard uncertainties.",
            "A lesson may use round numbers for a cell that was measured; this says when they can't be the same "
            "cell.\n\nBefore: `A = cell 1.5 V, 0.2 ohm` beside readings of 0.40 Ω\n\nAfter: `A = cell 1.5 V, 0.4 ohm`",
        ),
    )
)


def finding(code: str, span: Span, **facts: str) -> Finding:
    """A finding of this room's kinds.

    Parameters
    ----------
    code : str
        Its kind.
    span : Span
        Where.
    **facts
        What its sentences speak of.

    Examples
    --------
    >>> finding("unread-cell", Span("x", 0, 1), text="1,00").kind.code
    'unread-cell'
    """
    return Finding(KINDS[code], span, facts)
