"""Solve published problems through the public interface: ``python textbook.py PATH`` prints one answer line a case.

The form of a case stands in README.md beside this file. A case that cannot be solved gets nulls and a reason.
"""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2] / "src"))

from boardproof.algebra.polynomial import RationalFunction
from boardproof.circuit.model import Circuit, Leaf, Network, Part, Worth
from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import worded
from boardproof.solve.answers import Unknown, answers
from boardproof.solve.equations import Inverse
from boardproof.solve.inverse import Reading, inverse
from boardproof.solve.transient import transient

FIELDS = {"cell": ("emf", "r", None), "resistor": (None, "ohms", None), "capacitor": (None, None, "farads")}
OF_A_CELL = {
    "current": "current",
    "voltage": "pd",
    "power": "power_out",
    "efficiency": "efficiency",
    "energy": "power_out",
    "charge": "current",
}
OF_A_PART = {
    "current": "current",
    "voltage": "pd",
    "power": "power",
    "charge": "charge",
    "energy": "energy",
    "time_constant": "time_constant",
}
INSIDE = {
    ("r", "current"): "current",
    ("r", "voltage"): "lost_volts",
    ("r", "power"): "heat",
    ("emf", "current"): "current",
    ("emf", "voltage"): "emf",
    ("emf", "emf"): "emf",
    ("emf", "power"): "power_given",
}
OF_A_PAIR = {
    "equivalent_emf": "emf",
    "emf": "emf",
    "equivalent_resistance": "resistance",
    "resistance": "resistance",
    "short_circuit_current": "short_circuit_current",
    "capacitance": "capacitance",
}
WHOLE = "N"


def exact(number):
    return None if number is None else Fraction(str(number))


class Unsolved(Exception):
    pass


@dataclass(frozen=True)
class Case:
    case: dict

    @cached_property
    def letters(self):
        """Ties: which letter a field goes by."""
        return {field: tie[0] for tie in self.case.get("ties") or () for field in tie}

    @cached_property
    def states(self):
        return {state["name"]: state for state in self.case.get("states") or ()}

    @cached_property
    def initial(self):
        return {name: exact(volts) for name, volts in (self.case.get("initial_voltages") or {}).items()}

    def parts(self, question):
        state = self.states.get(question.get("state"), {})
        gone = {*state.get("remove", ()), *(question.get("excluding") or ())}
        put = state.get("set", {})
        for part in self.case["parts"]:
            if part["name"] not in gone:
                new = {f.split(".")[1]: v for f, v in put.items() if f.split(".")[0] == part["name"]}
                changed = {f"{part['name']}.{field}" for field in new}
                yield part | new, changed

    def circuit(self, question, ends=None):
        """The circuit a question is about; `ends` first minus, then plus."""
        branches = []
        for part, changed in self.parts(question):
            name, kind = part["name"], part["kind"]

            def worth(field, name=name, part=part, changed=changed):
                if field is None:
                    return None
                own = f"{name}.{field}"
                letter = own + "'" if own in changed else self.letters.get(own, own)
                return Worth(letter, exact(part.get(field)))

            leaf = Leaf(name, Part(name, kind, *(worth(field) for field in FIELDS[kind])))
            tail, head = (part["minus"], part["plus"]) if kind == "cell" else part["nodes"]
            branches.append((leaf, tail, head))
        return Circuit(Network(tuple(branches), ends, WHOLE))

    def kind_of(self, name):
        return next((part["kind"] for part in self.case["parts"] if part["name"] == name), None)

    def refs(self, question):
        """The circuit and the quantities whose sum is meant."""
        quantity, of = question["quantity"], question["of"]
        parts = [of] if isinstance(of, str) else of
        if len(parts) == 2 and all(self.kind_of(each.split(".")[0]) is None for each in parts):
            first, second = parts
            if quantity == "voltage":
                circuit = self.circuit(question)
                return circuit, (QuantityRef("pd", (first, second), circuit.id),)
            if quantity == "capacitance":  # a cell across the pair is not part of it
                cells = [part["name"] for part in self.case["parts"] if part["kind"] == "cell"]
                question = question | {"excluding": [*(question.get("excluding") or ()), *cells]}
            circuit = self.circuit(question, (second, first))
            return circuit, (QuantityRef(OF_A_PAIR[quantity], (WHOLE,), circuit.id),)
        circuit = self.circuit(question)
        return circuit, tuple(self.ref(quantity, part, circuit) for part in parts)

    def ref(self, quantity, of, circuit):
        name, _, inside = of.partition(".")
        kind = self.kind_of(name)
        if inside in {"r", "emf"} and (inside, quantity) in INSIDE:
            return QuantityRef(INSIDE[inside, quantity], (name,), circuit.id)
        if quantity in OF_A_PAIR:
            return QuantityRef(OF_A_PAIR[quantity], (name,), circuit.id)
        if quantity == "time_constant" and kind != "capacitor":
            name = next(part["name"] for part in self.case["parts"] if part["kind"] == "capacitor")
        table = OF_A_CELL if kind == "cell" else OF_A_PART
        if kind == "resistor" and quantity in {"energy", "charge"}:
            table = OF_A_CELL
        return QuantityRef(table[quantity], (name,), circuit.id)

    @cached_property
    def known(self) -> Inverse:
        readings = []
        for given in self.case["given"]:
            timed = given["quantity"] == "time"
            circuit, refs = self.refs(given | given["until"] if timed else given)
            level = exact(given["until"]["value"]) if timed else None
            value, at = exact(given["value"]), exact(given.get("t"))
            readings.append(Reading(refs, value, circuit, at, level, self.initial))
        return inverse(readings, allow_negative=bool(self.case.get("allow_negative")))

    def value(self, question):
        timed = question["quantity"] == "time"
        circuit, refs = self.refs(
            question | question["until"] | {"of": question["of"]} if timed else question
        )
        filled = Circuit(circuit.item, {**circuit.values, **self.known.values}, circuit.zero)
        if timed:
            return self.sure(
                transient(filled, self.initial).time_to(refs[0], exact(question["until"]["value"]))
            )
        if question["quantity"] == "efficiency":
            return self.efficiency(filled, refs)
        kinds = {self.kind_of(ref.of[0]) for ref in refs}
        over_time = question["quantity"] in {"energy", "charge"} and kinds <= {"cell", "resistor"}
        total = sum(self.asked(filled, ref, question, over_time=over_time) for ref in refs)
        return total * exact(question["t"]) if over_time else total

    def efficiency(self, circuit, refs):
        """Terminal voltage over EMF: for several cells the power that comes out over the power given."""
        known = answers(circuit)
        kinds: tuple = ("power_out", "power_given")
        out, given = (
            sum(self.sure(known.formula(QuantityRef(kind, ref.of, ref.circuit))) for ref in refs)
            for kind in kinds
        )
        if given == 0:
            kinds = ("pd", "emf")
            out, given = (
                sum(self.sure(known.formula(QuantityRef(kind, ref.of, ref.circuit))) for ref in refs)
                for kind in kinds
            )
        return out / given

    def asked(self, circuit, ref, question, *, over_time):
        if question.get("t") is not None and not over_time:
            return self.sure(transient(circuit, self.initial).at(exact(question["t"])).formula(ref))
        if ref.kind == "time_constant":
            found = answers(circuit).formula(ref)
            if isinstance(found, Unknown):  # several: the longest is the one that a book means
                pd = QuantityRef("pd", ref.of, ref.circuit)
                return self.sure(transient(circuit, {ref.of[0]: Fraction(1)}).curve(pd)).time_constants[0]
            return self.sure(found)
        if self.initial:
            return self.sure(transient(circuit, self.initial).settled().formula(ref))
        return self.sure(answers(circuit).formula(ref))

    def sure(self, found):
        if isinstance(found, Unknown):
            raise Unsolved(worded(found.reason).message)
        if isinstance(found, RationalFunction):
            found = self.known.put_into(found)
            number = found.as_number
            if number is None:
                reasons = [worded(finding).message for finding in self.known.findings]
                raise Unsolved(" ".join(reasons) or f"open: {sorted(found.letters)}")
            return number
        return found


def computed(case: dict) -> dict:
    """The answers to one case, in the order asked, and the first reason for a missing one."""
    result: dict = {"id": case.get("id"), "computed": []}
    for question in case.get("asked", ()):
        try:
            value = float(Case(case).value(question))
        except Exception as problem:  # noqa: BLE001  # whatever is odd about a case must not stop the others
            value = None
            result.setdefault("reason", f"{question.get('quantity')} of {question.get('of')}: {problem!r}")
        result["computed"].append(value)
    return result


def main(path: str) -> None:
    with Path(path).open(encoding="utf-8") as lines:
        for line in lines:
            if line.strip():
                try:
                    case = json.loads(line)
                    print(json.dumps(computed(case)))
                except Exception as problem:  # noqa: BLE001  # as above
                    print(json.dumps({"id": None, "computed": [], "reason": repr(problem)}))


if __name__ == "__main__":
    main(sys.argv[1])
