"""Frozen, slotted dataclasses that cost little to make: `check` makes two hundred of them at every start.

The standard decorator writes and compiles six functions for every class, 0.7 ms each; here every class shares the
same few. What it makes is a dataclass in all else: `replace`, `fields`, patterns and copies work as they do there,
and types are checked alike. An instance costs half as much again to make, so what is made by the ten thousand (pieces
of maths, pictures, places in a text) stays with the original, and so do orders and fields made afresh.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, NoReturn, TypeVar, dataclass_transform

__all__ = ["record"]

Made = TypeVar("Made", bound=type)


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def record(cls: Made) -> Made:
    """Make a class a frozen, slotted dataclass, quickly.

    Parameters
    ----------
    cls : type
        With annotated fields, perhaps with defaults; methods that it has itself are kept.

    Examples
    --------
    >>> @record
    ... class Reading:
    ...     pd: float
    ...     current: float = 0.0
    >>> Reading(1.5) == Reading(pd=1.5), Reading(1.5)
    (True, Reading(pd=1.5, current=0.0))
    """
    own = {name for name, value in vars(cls).items() if value is not None}
    cls.__doc__ = cls.__doc__ or cls.__name__  # or the standard decorator writes the signature there, slowly
    made: Any = dataclass(init=False, repr=False, eq=False, slots=True)(cls)
    for name, method in _methods(made).items():
        if name not in own:
            setattr(made, name, method)
    kept: Made = made
    return kept


def _methods(made: type) -> dict[str, Callable[..., Any]]:
    compared = [each.name for each in fields(made) if each.compare]
    key: Callable[[Any], Any] = attrgetter(*compared) if compared else type

    def equals(self: object, other: object) -> bool:
        return key(self) == key(other) if other.__class__ is self.__class__ else NotImplemented

    def hashed(self: object) -> int:
        return hash(key(self))

    return {
        "__init__": _initial(made),
        "__eq__": equals,
        "__hash__": hashed,
        "__repr__": _telling(made),
        "__setattr__": _refused,
        "__delattr__": _refused,
        "__getstate__": _state,
        "__setstate__": _restore,
    }


def _initial(made: type) -> Callable[..., None]:
    """What fills the slots of a new instance."""
    every = fields(made)
    assert all(each.default_factory is MISSING and each.init for each in every), f"{made} needs `dataclass`"
    slots = tuple(getattr(made, each.name).__set__ for each in every)
    names = tuple((each.name, each.default) for each in every)
    count = len(slots)
    needed = sum(each.default is MISSING for each in every)  # they stand before those that may be left out
    finish: Any = getattr(made, "__post_init__", None)

    def completed(values: tuple[object, ...], named: dict[str, object]) -> tuple[object, ...]:
        take = named.pop
        values += tuple([take(name, default) for name, default in names[len(values) :]])
        if named or len(values) != count or any(each is MISSING for each in values[:needed]):
            raise TypeError(f"{made.__qualname__} takes {', '.join(name for name, _ in names)}")
        return values

    def fill(self: object, *values: object, **named: object) -> None:
        if named or len(values) != count:
            values = completed(values, named)
        for put, value in zip(slots, values):  # noqa: B905 - as many; this runs for every instance
            put(self, value)

    def fill_and_finish(self: object, *values: object, **named: object) -> None:
        fill(self, *values, **named)
        finish(self)

    return fill_and_finish if finish else fill


def _telling(made: type) -> Callable[[Any], str]:
    names = [each.name for each in fields(made) if each.repr]

    def shown(self: object) -> str:
        pairs = [f"{name}={getattr(self, name)!r}" for name in names]
        return f"{type(self).__qualname__}({', '.join(pairs)})"

    return shown


def _refused(self: object, name: str, *_: object) -> NoReturn:
    raise FrozenInstanceError(f"{type(self).__name__} is frozen: {name} stays as it is")


def _state(self: Any) -> list[object]:
    return [getattr(self, each.name) for each in fields(self)]


def _restore(self: Any, state: list[object]) -> None:
    for each, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, each.name, value)
