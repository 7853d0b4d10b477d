"""Arguments written on circuits typed as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from boardproof.circuit.read import read_circuit
from boardproof.derive.routes import Unfitting, derive
from boardproof.prove.world import World
from boardproof.prove.worlds import Worlds
from boardproof.source import Source

if TYPE_CHECKING:
    from boardproof.derive.steps import Derivation


def place(text: str) -> World:
    read = read_circuit(Source("board", text).slice())
    assert not read.findings, read.findings
    assert read.at_hand is not None
    return Worlds(read.definitions).of(read.at_hand)


def written(text: str, targets: str, route: str, *, numbers: bool = False, **more: object) -> Derivation:
    """The argument for targets, every step of it true and following."""
    world = place(text)
    values = world.circuit.values if numbers else None
    found = derive(
        world, targets.split(), route, lets=tuple(world.definitions.lets), values=values, **more  # type: ignore[arg-type]
    )  # fmt: skip
    assert not isinstance(found, Unfitting), found.why
    assert [step.maths for step in found.steps if not step.is_proved] == []
    return found


def refused(text: str, targets: str, route: str) -> str:
    """Why a route does not fit."""
    world = place(text)
    found = derive(world, targets.split(), route, lets=tuple(world.definitions.lets))
    assert isinstance(found, Unfitting)
    return found.why


def lines(found: Derivation) -> list[str]:
    return [step.maths for step in found.steps]
