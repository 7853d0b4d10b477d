"""Short ways to ask about a circuit written as a teacher writes it."""

from boardproof.circuit.quantity import QuantityRef
from boardproof.circuit.read import read_circuit
from boardproof.solve.answers import Unknown, answers
from boardproof.source import Source

PARTS = """
A = cell 6 V, 1 ohm
B = cell 3 V, 2 ohm
R = resistor 10 ohm
Q = resistor 5 ohm
S = switch
X = source 6 V
Y = source 9 V
W = wire
K = capacitor 2 uF
L = capacitor 1 uF
M = voltmeter
N = ammeter
"""


def circuit(text):
    found = read_circuit(Source("t", PARTS + text).slice())
    assert not [each.kind.code for each in found.findings if each.kind.severity == "error"]
    return found.at_hand


def ref(question, of):
    kind, *paths = question.split()
    return QuantityRef(kind, tuple(paths), of.id)


def asked(text, *questions, way="exact"):
    """Exact values, or the code of the reason for there being none."""
    whole = circuit(text)
    found = [answers(whole, way).ask(ref(question, whole)) for question in questions]
    told = [each.reason.kind.code if isinstance(each, Unknown) else each.exact for each in found]
    return told[0] if len(questions) == 1 else told
