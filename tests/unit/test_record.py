"""A record is a frozen, slotted dataclass in all but how it is made."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, is_dataclass, replace

import pytest

from boardproof.record import record


@record
class Quick:
    """A place in a table."""

    row: int
    column: int = 1
    note: str = field(default="", compare=False)
    secret: str = field(default="", repr=False, compare=False)


@dataclass(frozen=True, slots=True)
class Slow:
    """The same, by the standard decorator."""

    row: int
    column: int = 1
    note: str = field(default="", compare=False)
    secret: str = field(default="", repr=False, compare=False)


GIVEN = [((1,), {}), ((1, 2), {}), ((), {"row": 3}), ((1,), {"note": "x"}), ((1, 2, "n", "s"), {})]


@pytest.mark.parametrize(("values", "named"), GIVEN)
def test_it_is_filled_shown_and_taken_apart_as_the_standard_one(values, named):
    quick, slow = Quick(*values, **named), Slow(*values, **named)
    assert repr(quick) == repr(slow).replace("Slow", "Quick")
    assert [getattr(quick, each.name) for each in fields(quick)] == [
        getattr(slow, each.name) for each in fields(slow)
    ]
    assert is_dataclass(quick)
    assert Quick.__match_args__ == Slow.__match_args__
    assert Quick.__slots__ == Slow.__slots__


def test_equality_and_hash_leave_out_what_is_not_compared():
    assert Quick(1, 2, "a") == Quick(1, 2, "b") != Quick(2, 2, "a")
    assert hash(Quick(1, 2, "a")) == hash(Quick(1, 2, "b"))
    assert Quick(1) != Slow(1)


@pytest.mark.parametrize(
    ("values", "named"),
    [((), {}), ((1, 2, "n", "s", 5), {}), ((1,), {"row": 1}), ((1,), {"rwo": 1}), ((), {"column": 2})],
)
def test_wrong_values_are_refused(values, named):
    for kind in (Quick, Slow):
        with pytest.raises(TypeError):
            kind(*values, **named)


def test_nothing_changes_it():
    made = Quick(1)
    for change in (
        lambda: setattr(made, "row", 2),
        lambda: delattr(made, "row"),
        lambda: setattr(made, "x", 1),
    ):
        with pytest.raises(FrozenInstanceError):
            change()
    assert replace(made, row=2) == Quick(2)
    assert made == Quick(1)


def test_copies_and_pickles_are_equal():
    made = Quick(1, 2, "n", "s")
    for other in (copy.copy(made), copy.deepcopy(made), pickle.loads(pickle.dumps(made))):
        assert (other, other.note, other.secret) == (made, "n", "s")


def test_its_own_methods_are_kept():
    @record
    class Own:
        number: int

        def __post_init__(self):
            object.__setattr__(self, "number", abs(self.number))

        def __lt__(self, other):
            return True

        def __repr__(self):
            return "own"

    assert Own(-3).number == 3
    assert (Own(5) < Own(1), repr(Own(1))) == (True, "own")
    assert Own(3) == Own(-3)


def test_one_that_has_no_fields():
    @record
    class Empty:
        pass

    assert Empty() == Empty()
    assert len({Empty(), Empty()}) == 1


def test_one_that_stands_on_another():
    @record
    class Longer(Quick):
        more: int = 7

    assert Longer(1, more=8).more == 8
    assert Longer(1) != Quick(1)
