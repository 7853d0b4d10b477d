"""Mistakes that a circuit tempts people into, and general statements that hold of circuits like it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from boardproof.circuit.change import done_to
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import Across, Circuit
from boardproof.kit.ground import Ground
from boardproof.solve.find import cells_in

__all__ = ["claims", "traps"]


def _cells(ground: Ground) -> list[tuple[str, str, int]]:
    """EMF and resistance letters of the cells, and how many alike ones there are (0 if a letter counts them)."""
    item = done_to(ground.circuit.item)[0]
    source = item.source if isinstance(item, Across) else item
    found = []
    for leaf, counts in cells_in(source):
        if leaf.part.emf is None or leaf.part.resistance is None:
            continue
        many = 1
        for count in counts:
            many = many * count if isinstance(count, int) else 0
        found.append((leaf.part.emf.letter, leaf.part.resistance.letter, many))
    return found


def traps(ground: Ground) -> Iterator[tuple[str, str, str]]:
    """Tempting wrong statements, nearest to the lesson first.

    Parameters
    ----------
    ground : Ground
        The circuit.

    Yields
    ------
    (str, str, str)
        The statement, the belief behind it, and how it is refuted. Whether these numbers expose it is for the check.
    """
    cells, group = _cells(ground), ground.group
    emfs, inner = [emf for emf, _, _ in cells], [r for _, r, _ in cells]
    if group and len(cells) > 1:
        sums = {"E": " + ".join(emfs), "r": " + ".join(inner)}
        if ground.kind == "turned":
            yield (
                f"E_{group} = {sums['E']}",
                "turned cell not noticed",
                "A turned cell pushes against the others. The sum forgets to look which way round it sits.",
            )
        if ground.kind in {"parallel", "turned"}:
            yield (
                f"E_{group} = ({sums['E']})/{len(cells)}",
                "parallel plain mean",
                "The plain mean is fair to the cells and not to the circuit: one with less inside counts for more.",
            )
            yield (
                f"E_{group} = {sums['E']}",
                "parallel adds emfs",
                "Nothing goes through both, so nothing is lifted twice.",
            )
            yield (
                f"r_{group} = {sums['r']}",
                "parallel adds r",
                "One more way through cannot make it harder to get through.",
            )
        yield (
            f"r_{group} = {inner[0]}",
            "series r not added",
            "The current has to get through every one of them, not only through the first.",
        )
    if group and len(cells) == 1 and cells[0][2] > 1:
        yield (
            f"E_{group} = {cells[0][2]} {emfs[0]}",
            "parallel adds emfs",
            "Cells side by side do not lift one after another; only those in a row do.",
        )
        yield (
            f"r_{group} = {inner[0]}",
            "parallel r unchanged",
            "Count the ways through, and the cells on each way.",
        )
        yield (
            f"r_{group} = {cells[0][2]} {inner[0]}",
            "parallel adds r",
            "Side by side it gets easier, not harder.",
        )
    if not group and len(cells) == 1:
        yield from _of_one_cell(emfs[0], inner[0])
    if group:
        yield (
            f"V = E_{group}",
            "terminal pd is emf",
            "That holds with no load only. As soon as a current passes, some of the push is lost inside.",
        )
    for first, second in _from_one_junction(ground.circuit):
        yield (
            f"{_current(ground, first)} = {_current(ground, second)}",
            "equal split at junction",
            "A junction does not halve the current; what comes after it decides.",
        )


def _from_one_junction(circuit: Circuit) -> Iterator[tuple[str, str]]:
    """Pairs of resistors that part at a junction, or meet there."""
    resistors = [
        each for each in lay_flat(circuit).branches if each.leaf and each.leaf.part.kind == "resistor"
    ]
    for one, other in combinations(resistors, 2):
        if one.tail == other.tail or one.head == other.head:
            yield one.path, other.path


def _of_one_cell(emf: str, inner: str) -> Iterator[tuple[str, str, str]]:
    yield (
        f"V = {emf}",
        "terminal pd is emf",
        "That holds with no load only. As soon as a current passes, some of the push is lost inside.",
    )
    yield (
        f"I = {emf}/{inner}",
        "load left out",
        "That would be a bare wire. The load is in the way as well.",
    )


def _current(ground: Ground, path: str) -> str:
    short = f"I_{path.removeprefix('R_')}"
    return short if ground.is_known(short) else f"I_{path}"


def claims(ground: Ground) -> Iterator[tuple[str, str]]:
    """General statements that may hold, the most telling first.

    Parameters
    ----------
    ground : Ground
        The circuit.

    Yields
    ------
    (str, str)
        What is meant, and its words. Whether it can be proved is for the check.
    """
    cells, group = _cells(ground), ground.group
    inner = [r for _, r, many in cells]
    if group and len(set(inner)) > 1 and ground.kind in {"parallel", "series", "turned"}:
        for sign, words in (
            ("<", "Seen from its ends the group has less resistance inside than any of its cells alone."),
            (">", "Seen from its ends the group has more resistance inside than any of its cells alone."),
        ):
            yield " and ".join(f"r_{group} {sign} {r}" for r in inner), words
    emf = f"E_{group}" if group else cells[0][0] if len(cells) == 1 else ""
    pd = "V" if ground.is_known("V") else ""
    if emf and pd:
        yield (
            f"{pd} < {emf}",
            "While a current passes, the terminal p.d. stays below the EMF, whatever the load.",
        )
    if emf and not pd and len(cells) == 1:
        yield f"V_{emf.removeprefix('E_')} < {emf}", "The terminal p.d. of the cell stays below its EMF."
    if emf and ground.is_known("I"):
        inside = f"r_{group}" if group else cells[0][1]
        yield f"I < {emf}/{inside}", "No load can draw as much as a bare wire would."
