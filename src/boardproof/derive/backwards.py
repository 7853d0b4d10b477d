"""The route from readings back to the cell: two loads, two readings of each meter."""

from __future__ import annotations

from boardproof.circuit.model import Across, Changed, Circuit, Item, Leaf, Part, Worth, has_cells
from boardproof.derive.naming import Nameless
from boardproof.derive.steps import Closing, Derivation
from boardproof.derive.task import Task, Unfit

__all__ = ["backwards"]


def backwards(task: Task) -> Derivation:
    """Two readings with two loads give the EMF and the resistance of a cell or group.

    Parameters
    ----------
    task : Task
        For the EMF or resistance of a cell or group.

    Examples
    --------
    >>> from boardproof.derive.task import typed_task
    >>> asked = typed_task("A = cell E_1, r_1; B = cell E_2, r_2; R = resistor; g = A + B; main = g across R", "E_g")
    >>> backwards(asked).steps[-1].maths
    'E_g = V_a + I_a r_g'
    """
    entry = task.entry()
    if not task.is_equivalent or not has_cells(entry.item):
        raise Unfit("it gives the EMF and the resistance of a cell or group")
    assert task.group is not None
    names, add = task.names, task.draft.add
    try:
        emf, resistance = (names.name(kind, task.group) for kind in ("emf", "resistance"))
        readings = [_reading(task, entry.item, place) for place in ("a", "b")]
    except Nameless as nameless:
        raise Unfit(f"{nameless} already means something else, or has no name") from None
    (pd_a, flow_a), (pd_b, flow_b) = readings
    both = add(
        f"{pd_a} = {emf} - {flow_a} {resistance} and {pd_b} = {emf} - {flow_b} {resistance}",
        "cell rule",
        say="What is the same for both readings? The cell. We change the load once and read both meters twice.",
        readouts=(pd_a, flow_a, pd_b, flow_b),
    )
    fall = add(
        f"{pd_a} - {pd_b} = ({flow_b} - {flow_a}) {resistance}",
        "algebra",
        from_=(both,),
        say="Take one from the other, and the EMF drops out: the p.d. fell because the current rose.",
    )
    found = add(
        f"{resistance} = ({pd_a} - {pd_b})/({flow_b} - {flow_a})",
        "algebra",
        from_=(fall,),
        say="So this is what every further ampere costs. (It needs two different readings.)",
        readouts=(resistance,),
    )
    if task.wants("emf"):
        add(
            f"{emf} = {pd_a} + {flow_a} {resistance}",
            "algebra",
            from_=(both, found),
            say="And with the lost volts put back we are up at the EMF.",
            readouts=(emf,),
        )
    end = Closing(
        f"Units first: ${emf}$ in volts, ${resistance}$ in volts for every ampere, which is ohms.",
        (),
        "Two honest readings give both: the fall of the p.d. over the rise of the current, then the lost volts back.",
        (),
    )
    return task.draft.done("backwards", task.targets, end)


def _reading(task: Task, item: Item, place: str) -> tuple[str, str]:
    """Names for p.d. and current with one of two loads; the lesson must define both."""
    inner = item.item if isinstance(item, Changed) else item
    load = Leaf(f"R_{place}", Part(f"R_{place}", "resistor", resistance=Worth(f"R_{place}")))
    values = {**task.circuit.values}
    values.pop(f"R_{place}", None)
    circuit = Circuit(Across(inner, load), values, None, f"{task.group} across R_{place}")
    when = f"when {task.group} across R_{place}"
    assert task.group is not None
    pd = task.names.other("pd", task.group, circuit, f"V_{place}", f"p.d. across {task.group} {when}")
    flow = task.names.other("current", task.group, circuit, f"I_{place}", f"current in {task.group} {when}")
    if pd in task.names.defined:
        task.names.groups[f"R_{place}"] = "resistor"
    return pd, flow
