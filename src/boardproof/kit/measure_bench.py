"""Other bench work of the course, by `measure --bench`: a resistor, a bridge or wire at balance, a discharge.

What is not in the table stands above it, a line each: ``length: 1.000 m ± 1 mm``, ``P: 100 ohm ± 1 %``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from boardproof.lab.balance import bridge_resistance, bridge_wire, cell_by_wire, internal_by_wire
from boardproof.lab.coverage import half_width
from boardproof.lab.discharge import capacitance, discharge
from boardproof.lab.heading import read_heading
from boardproof.lab.number import Amount, mark_of, read_amount
from boardproof.lab.resistor import placement, resistivity, straightness
from boardproof.lab.runs import read_runs
from boardproof.lab.sheet import Grid
from boardproof.lab.stated import read_stated
from boardproof.lab.told import give_or_take, told
from boardproof.lab.uncertain import Uncertain, budget

__all__ = ["BENCHES", "bench_lines"]

Lines = Iterator[str]


def bench_lines(grid: Grid, bench: str) -> tuple[str, ...]:
    r"""What a bench gives, in lines; the first begins with "I need" if something is missing.

    Parameters
    ----------
    grid : Grid
        Table and what stands above it.
    bench : str
        One of `BENCHES`.

    Examples
    --------
    >>> from boardproof.lab.sheet import read_grid
    >>> from boardproof.source import Source
    >>> text = "P: 100 ohm ± 0.1 %\nQ: 1000 ohm ± 0.1 %\nS: 532 ohm ± 0.1 %\n"
    >>> bench_lines(read_grid(Source("a.txt", text)), "bridge")[0].replace("\u202f", " ")
    'unknown resistance X = (53.20 ± 0.09) Ω   95 %: ± 0.18 Ω'
    """
    return tuple(BENCHES[bench](grid))


def _stated(grid: Grid, *names: str) -> Mapping[str, Uncertain] | str:
    """Values above the table; or what is missing, in words."""
    found = {}
    for name in names:
        field = grid.fields.get(name.lower())
        value = read_stated(field.text, name) if field else None
        if value is None:
            return f"I need a line above the table: `{name}: VALUE ± UNCERTAINTY`."
        found[name] = value
    return found


def _line(name: str, value: Uncertain, symbol: str) -> Lines:
    reach = f"   95 %: {give_or_take(half_width(value), symbol)}" if value.u else ""
    yield f"{name} = {told(value.value, value.u or None, symbol)}{reach}"
    rows = [f"{cause} {share:.0%}".replace("%", " %") for cause, _, share in budget(value) if share >= 0.005]
    if len(rows) > 1:
        yield f"  uncertain by: {', '.join(rows)}"


def _bridge(grid: Grid) -> Lines:
    given = _stated(grid, "P", "Q", "S")
    if isinstance(given, str):
        yield given
    else:
        yield from _line("unknown resistance X", bridge_resistance(given["P"], given["Q"], given["S"]), "Ω")
        yield "  At balance no current passes the galvanometer, so its resistance and the cell's EMF play no part."


def _wire(grid: Grid) -> Lines:
    given = _stated(grid, "S", "place", "wire")
    if isinstance(given, str):
        yield given
    else:
        yield from _line(
            "unknown resistance X", bridge_wire(given["S"], given["place"], given["wire"].value), "Ω"
        )
        yield "  The place counts least near the middle of the wire: choose S so that the balance comes there."


def _potentiometer(grid: Grid) -> Lines:
    given = _stated(grid, "load", "open place", "loaded place")
    standard = _stated(grid, "standard", "standard place", "open place")
    if isinstance(given, str) and isinstance(standard, str):
        yield given
    if not isinstance(standard, str):
        E = cell_by_wire(standard["standard"], standard["open place"], standard["standard place"])
        yield from _line("EMF E", E, "V")
    if not isinstance(given, str):
        yield from _line(
            "internal resistance r",
            internal_by_wire(given["load"], given["open place"], given["loaded place"]),
            "Ω",
        )


def _resistor(grid: Grid) -> Lines:
    runs = read_runs(grid)
    readings = runs.runs[0].readings if runs.runs else ()
    if len({each.current for each in readings}) < 3:
        yield "I need a table of current and p.d. with three different currents at least."
        return
    made = straightness(readings)
    yield from _line("resistance R", made.resistance, "Ω")
    yield from _line("p.d. at no current", made.offset, "V")
    if made.starts_at_nought:
        yield "  The line starts at nought within its uncertainty."
    else:
        yield "  The line does not start at nought: look at the meters' zeros."
    if made.bend.found:
        way = "falls" if made.bend.statistic < 0 else "grows"
        yield f"  The line bends: the resistance {way} with the current, as in a part that warms up. Not ohmic here."
    else:
        yield "  No bend to see: it keeps Ohm's law here."
    shape = _stated(grid, "length", "diameter")
    if not isinstance(shape, str):
        yield from _line(
            "resistivity", resistivity(made.resistance, shape["length"], shape["diameter"]), "Ω m"
        )
    yield from _placed(grid, made.resistance.value)


def _placed(grid: Grid, resistance: float) -> Lines:
    meters = _stated(grid, "voltmeter resistance", "ammeter resistance")
    if isinstance(meters, str) or resistance <= 0:
        return
    made = placement(resistance, meters["voltmeter resistance"].value, meters["ammeter resistance"].value)
    small, large = f"{abs(made.error_across_resistor):.2g} Ω", f"{made.error_across_both:.2g} Ω"
    yield f"  Voltmeter right across it: {small} too small. Across it and the ammeter: {large} too large."
    yield f"  Better here: {made.better}."


def _discharge(grid: Grid) -> Lines:
    times, pds, step = _columns(grid)
    if len(times) < 3 or min(pds, default=0.0) <= 0:
        yield "I need a table headed `t / s | V / V` with three readings above nought at least."
        return
    made = discharge(times, pds, u_pd=step / 12**0.5)
    yield from _line("time constant", made.time_constant, "s")
    yield from _line("p.d. at the start", made.start, "V")
    given = _stated(grid, "resistance")
    if not isinstance(given, str):
        yield from _line("capacitance", capacitance(made.time_constant, given["resistance"]), "F")


def _columns(grid: Grid) -> tuple[list[float], list[float], float]:
    """Times, p.d.s and the voltmeter's step as typed; rows that can't be read are left out by all three."""
    heads = next((cells for _, cells in grid.rows if any(cell.text for cell in cells)), ())
    columns = [read_heading(cell.text) for cell in heads]
    roles = {column.role: place for place, column in enumerate(columns) if column.unit}
    if not {"time", "pd"} <= set(roles):
        return [], [], 0.0
    mark = mark_of(cell.text for _, cells in grid.rows for cell in cells)
    times, pds, step = [], [], 1.0
    for _, cells in grid.rows:
        read = [
            read_amount(cells[roles[role]].text, mark) for role in ("time", "pd") if roles[role] < len(cells)
        ]
        match read:
            case [Amount(value=t), Amount(value=V, places=places)]:
                units = [columns[roles[role]].unit for role in ("time", "pd")]
                scales = [float(unit.scale) if unit else 1.0 for unit in units]
                times.append(float(t) * scales[0])
                pds.append(float(V) * scales[1])
                step = min(step, 0.1 ** max(places, 0) * scales[1])
    return times, pds, step


BENCHES: Final[Mapping[str, Callable[[Grid], Lines]]] = {
    "resistor": _resistor,
    "bridge": _bridge,
    "bridge-wire": _wire,
    "potentiometer": _potentiometer,
    "discharge": _discharge,
}
"""Bench work by the word of the command line."""
