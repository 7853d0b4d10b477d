import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardproof.circuit.quantity import QuantityRef
from boardproof.findings import Finding
from boardproof.solve.answers import answers
from boardproof.solve.cases import AT_A_TIME, cases
from laws.circuits import any_circuits
from unit.solve.asking import circuit, ref


def test_more_cases_than_fit_at_a_time():
    whole = circuit("both = A || B\nmain = both across R")
    loads = np.linspace(1, 50, 2 * AT_A_TIME + 7)
    asked = {name: ref(name, whole) for name in ("current R", "efficiency both", "emf both", "pd A")}
    found = cases(whole, asked, {"R": loads})
    assert np.allclose(found["current R"], 5 / (loads + 2 / 3))
    assert np.allclose(found["emf both"], 5)
    batch = answers(whole, "batch", values={"R": loads}).ask(ref("efficiency both", whole)).exact
    assert np.allclose(found["efficiency both"], batch)


def test_a_case_that_divides_by_nought_has_no_number():
    whole = circuit("main = A across R")
    found = cases(whole, {"I": ref("current R", whole)}, {"R": np.array([-1.0, 5.0])})["I"]
    assert not np.isfinite(found[0])
    assert found[1] == pytest.approx(1)


def test_the_reason_for_no_answer_is_handed_back():
    whole = circuit("main = A across R")
    assert isinstance(cases(whole, {"I": ref("current Z", whole)}, {"R": np.ones(3)}), Finding)


@given(any_circuits(most=8), st.integers(1, 3))
def test_cases_agree_with_exact_numbers(whole, factor):
    values = {name: np.array([float(each), float(each * factor)]) for name, each in whole.values.items()}
    paths = [branch.path for branch in answers(whole).flat.branches]
    asked = {path: QuantityRef("current", (path,), whole.id) for path in paths}
    found = cases(whole, asked, values)
    for path, each in asked.items():
        exact = answers(whole).ask(each).exact
        assert np.allclose(found[path][0], float(exact), atol=1e-9)
