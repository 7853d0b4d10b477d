"""A new lesson from a sentence or a small form; made in the worker."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from boardproof.kit.ground import NotDerivable, ground_of
from boardproof.kit.new import title_of
from boardproof.kit.report import in_short
from boardproof.kit.skeleton import lesson_around

__all__ = ["begin", "circuit_of"]

NUMBER: Final = r"(\d{1,6}(?:\.\d{1,6})?)\s*"
OHM: Final = r"(?:Ω|Ω|ohms?)"
CELL: Final = re.compile(rf"{NUMBER}(?:V|volts?)\b(?:[\s,]|and|with)*(?:{NUMBER}{OHM})?", re.IGNORECASE)
LOAD: Final = re.compile(
    rf"{NUMBER}{OHM}\s+(?:load|resistor|lamp|transmitter)|(?:load|resistor) of\s+{NUMBER}{OHM}", re.IGNORECASE
)
BANK: Final = re.compile(
    r"(\d{1,3}) in (?:series|a row)\W+(?:and )?(\d{1,3}) (?:rows|in parallel|side by side)", re.IGNORECASE
)
SIDE: Final = re.compile(r"side by side|parallel", re.IGNORECASE)
TURNED: Final = re.compile(r"turned|reversed|wrong way|back to front|other way round", re.IGNORECASE)
WORDS: Final[Mapping[str, str]] = {
    word: str(number)
    for number, word in enumerate(("one", "two", "three", "four", "five", "six", "seven", "eight"), 1)
}
MOST_CELLS: Final = 12
ASK: Final = (
    "I can't find the cells in that. Say each cell's volts and ohms and the load: "
    "“two cells side by side, 6 V 1 Ω and 4 V 2 Ω, and a 10 Ω load”."
)


def circuit_of(sentence: str) -> str | None:
    """A circuit as one types it, from a sentence about cells and a load.

    Parameters
    ----------
    sentence : str
        Such as a teacher would say it.

    Returns
    -------
    str or None
        None if no cells with values are found in it.

    Examples
    --------
    >>> circuit_of("two cells side by side, 6 V 1 Ω and 4 V 2 Ω, and a 10 Ω load")
    'A = cell 6 V, 1 ohm; B = cell 4 V, 2 ohm; R = resistor 10 ohm; (A || B) across R'
    >>> circuit_of("two cells of 1.5 V 0.3 ohm in a row, the last one turned round, and a 9 ohm lamp")[48:]
    '; R = resistor 9 ohm; (A + -B) across R'
    """
    said = re.sub(
        r"\b[a-z]+\b", lambda each: WORDS.get(each[0].lower(), each[0]), sentence, flags=re.IGNORECASE
    )
    load = LOAD.search(said)
    ohms = (load[1] or load[2]) if load else "10"
    rest = said[: load.start()] + said[load.end() :] if load else said
    cells = [(volts, inner or "1") for volts, inner in CELL.findall(rest)][:MOST_CELLS]
    if not cells:
        return None
    if bank := BANK.search(rest):
        shape = f"{bank[1]}s{bank[2]}p of A"
        return f"A = cell {cells[0][0]} V, {cells[0][1]} ohm; R = resistor {ohms} ohm; ({shape}) across R"
    counted = re.search(r"\b(\d{1,2}) (?:\w+ )?(?:cells|batteries)", rest)
    if len(cells) == 1 and counted:
        cells *= min(MOST_CELLS, max(1, int(counted[1])))
    names = [chr(65 + place) for place in range(len(cells))]
    joined = [*names[:-1], f"-{names[-1]}"] if TURNED.search(rest) and len(names) > 1 else names
    lines = [
        f"{name} = cell {volts} V, {inner} ohm" for name, (volts, inner) in zip(names, cells, strict=True)
    ]
    sign = " || " if SIDE.search(rest) else " + "
    whole = f"({sign.join(joined)})" if len(names) > 1 else "A"
    return "; ".join([*lines, f"R = resistor {ohms} ohm", f"{whole} across R"])


def _of_form(told: Mapping[str, Any]) -> str:
    one, two, load = (
        " ".join(str(told[name]).split())[:60].replace(";", ",") for name in ("one", "two", "load")
    )
    if told["how"] == "bank":
        return f"A = cell {one}; R = resistor {load}; (3s2p of A) across R"
    sign = {"parallel": "A || B", "series": "A + B"}.get(told["how"], "A + -B")
    return f"A = cell {one}; B = cell {two}; R = resistor {load}; ({sign}) across R"


def begin(told: Mapping[str, Any]) -> dict[str, str]:
    """The text of a new lesson, or why there is none.

    Parameters
    ----------
    told : mapping
        What the form held.

    Returns
    -------
    dict
        ``text`` and ``refused``, one of them empty.
    """
    circuit = circuit_of(told["sentence"]) if told["sentence"].strip() else _of_form(told)
    if circuit is None:
        return {"text": "", "refused": ASK}
    if told["numbers"] != "given":
        circuit = re.sub(r"(cell|resistor) [^;]*", r"\1", circuit)
    ground = ground_of(circuit)
    title = title_of(told["name"])
    if not isinstance(ground, NotDerivable) and not told["draft"]:
        lines = "\n".join(ground.lines)
        return {
            "text": f"# {title}\n\n## The circuit\n\n```circuit\n{lines}\n```\n\nHere is the circuit.\n",
            "refused": "",
        }
    made = (
        ground
        if isinstance(ground, NotDerivable)
        else lesson_around(ground, title, route=told["route"] or None)
    )
    if isinstance(made, NotDerivable):
        why = " ".join([*map(in_short, made.findings), made.why]).strip()
        return {"text": "", "refused": f"{why[:1].upper()}{why[1:]}"}
    return {"text": made, "refused": ""}
