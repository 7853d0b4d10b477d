"""Each kind of finding is explained; the reference is made from the same table."""

from __future__ import annotations

import importlib.util
import json

import pytest

from boardproof.findings import Kind, Kinds
from boardproof.kit.catalogue import CATALOGUE, ROOMS, SAME_SLIP, joined
from boardproof.kit.why import explained
from house.tree import ROOT


def reference():
    spec = importlib.util.spec_from_file_location("make_reference", ROOT / "docs" / "make_reference.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("code", CATALOGUE)
def test_a_code_is_explained_and_named_as_a_slip(code: str) -> None:
    told = explained(CATALOGUE[code])
    assert told.startswith(f"{code} ({CATALOGUE[code].severity})")
    assert all(len(kind.page.split()) >= 8 for _, kind in CATALOGUE[code].kinds)
    assert code == code.lower()
    assert 2 <= len(code.split("-")) <= 5


def test_a_code_of_two_rooms_is_refused_unless_it_is_one_slip() -> None:
    row = Kind("wide-lead", "note", "Too wide.")
    with pytest.raises(ValueError, match="wide-lead stands in the tables of one and two"):
        joined({"one": Kinds([row]), "two": Kinds([row])})
    assert len(joined({"one": Kinds([row]), "two": Kinds([row])}, same=["wide-lead"])["wide-lead"].kinds) == 2
    worse = Kind("wide-lead", "error", "Too wide.")
    with pytest.raises(ValueError, match="wide-lead is note in one, error in two"):
        joined({"one": Kinds([row]), "two": Kinds([worse])}, same=["wide-lead"])


def test_every_table_is_in_the_catalogue_and_every_shared_code_is_shared() -> None:
    assert {code for kinds in ROOMS.values() for code in kinds} == set(CATALOGUE)
    assert {code for code, entry in CATALOGUE.items() if len(entry.kinds) > 1} == set(SAME_SLIP)


def test_a_known_code_is_shown_with_its_sample_and_the_sample_put_right(boardproof) -> None:
    status, out, err = boardproof("why", "overwide-equation")
    assert (status, err) == (0, "")
    assert out.index("Before:") < out.index("After:")


def test_an_unknown_code_is_not_done_and_near_ones_are_named(boardproof) -> None:
    status, out, err = boardproof("why", "overwide-equasion")
    assert (status, out) == (2, "")
    assert "overwide-equation" in err


def test_json_tells_the_same(boardproof) -> None:
    _, out, _ = boardproof("why", "look-alike", "--json")
    told = json.loads(out)
    assert (told["code"], told["severity"], len(told["kinds"])) == ("look-alike", "error", 2)


def test_the_pages_of_the_reference_are_current() -> None:
    assert reference().stale() == [], "run: python3 run.py docs --write"
