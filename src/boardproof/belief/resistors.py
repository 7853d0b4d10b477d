"""What beliefs about resistors side by side and in line compute, in any circuit that holds such a group."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from boardproof.algebra.polynomial import RationalFunction
from boardproof.belief.ground import Among, Ground
from boardproof.belief.thought import Thought, best_of, just

__all__ = ["RESISTORS"]

ZERO: Final = RationalFunction.constant(0)
Rule = Callable[[Ground], tuple[Thought, ...]]


def _sum(values: tuple[RationalFunction, ...]) -> RationalFunction:
    return sum(values, ZERO)


def _reciprocals(values: tuple[RationalFunction, ...]) -> RationalFunction:
    return sum((1 / each for each in values), ZERO)


def _branch(share: Callable[[Among], RationalFunction]) -> Rule:
    """A rule for the part of a group's current that one branch has."""

    def rule(ground: Ground) -> tuple[Thought, ...]:
        found = ground.beside
        if (
            found is None
            or found.at < 0
            or found.current is None
            or ground.kind not in {"current", "pd", "power"}
        ):
            return ()
        current = found.current * share(found)
        return _from_current(ground, current)

    return rule


def _from_current(ground: Ground, current: RationalFunction) -> tuple[Thought, ...]:
    own = ground.part.resistance if ground.part else None
    resistance = RationalFunction.letter(own.letter) if own else None
    match ground.kind:
        case "current":
            return just(current)
        case "pd" if resistance is not None:
            return just(current * resistance)
        case "power" if resistance is not None:
            return just(current * current * resistance)
        case _:
            return ()


def _in_line(pd: Callable[[Among, RationalFunction], RationalFunction]) -> Rule:
    """A rule for the p.d. that one part of a row has."""

    def rule(ground: Ground) -> tuple[Thought, ...]:
        found = ground.in_line
        if found is None or found.at < 0 or found.pd is None or not found.is_direct:
            return ()
        wrong = pd(found, found.pd)
        match ground.kind:
            case "pd":
                return just(wrong)
            case "power":
                return just(wrong * wrong / found.resistances[found.at])
            case _:
                return ()

    return rule


def _full_pd(ground: Ground) -> tuple[Thought, ...]:
    found = ground.in_line
    if found is None or found.at < 0 or found.pd is None:
        return ()
    match ground.kind:
        case "pd" if found.is_direct:
            return just(found.pd)
        case "current":
            return just(found.pd / found.resistances[found.at])
        case "power":
            return just(found.pd * found.pd / found.resistances[found.at])
        case _:
            return ()


def _line_current(share: Callable[[Among], RationalFunction]) -> Rule:
    def rule(ground: Ground) -> tuple[Thought, ...]:
        found = ground.in_line
        if found is None or found.at < 0 or found.current is None or ground.kind != "current":
            return ()
        return just(found.current * share(found))

    return rule


def _easiest_path(ground: Ground) -> tuple[Thought, ...]:
    found = ground.beside
    if found is None or found.at < 0 or found.current is None or ground.kind != "current":
        return ()
    own = found.current
    cases = ((-each, own if n == found.at else ZERO) for n, each in enumerate(found.resistances))
    return (best_of(*cases),)


def _pd_dealt_out(ground: Ground) -> tuple[Thought, ...]:
    found = ground.beside
    if found is None or found.at < 0 or not found.is_direct or found.pd is None:
        return ()
    pd = found.pd / len(found.resistances)
    match ground.kind:
        case "pd":
            return just(pd)
        case "current":
            return just(pd / found.resistances[found.at])
        case _:
            return ()


def _equivalent(joined: str, wrong: Callable[[tuple[RationalFunction, ...]], RationalFunction]) -> Rule:
    """A rule for the resistance of a group, carried on to whatever is asked outside it."""

    def rule(ground: Ground) -> tuple[Thought, ...]:
        for among in ground.groups():
            if among.joined != joined or among.group is None:
                continue
            resistance = wrong(among.resistances)
            if ground.kind == "resistance" and among.group.path == ground.path:
                return just(resistance)
            found = ground.with_resistance(among.group, resistance)
            if found is not None and found != ground.right:
                return just(found)
        return ()

    return rule


def _exchanged(ground: Ground) -> tuple[Thought, ...]:
    return _equivalent("parallel", _sum)(ground) or _equivalent("series", lambda r: 1 / _reciprocals(r))(
        ground
    )


BESIDE: Final[Mapping[str, Rule]] = {
    "equal_split_at_junction": _branch(lambda a: RationalFunction.constant(1) / len(a.resistances)),
    "more_resistance_more_current": _branch(lambda a: a.resistances[a.at] / _sum(a.resistances)),
    "all_takes_easiest_path": _easiest_path,
    "parallel_shares_pd": _pd_dealt_out,
}
IN_LINE: Final[Mapping[str, Rule]] = {
    "pd_shared_equally_in_series": _in_line(lambda a, pd: pd / len(a.resistances)),
    "pd_goes_to_smaller": _in_line(lambda a, pd: pd / a.resistances[a.at] / _reciprocals(a.resistances)),
    "full_pd_on_each": _full_pd,
    "current_shared_by_series_parts": _line_current(
        lambda a: RationalFunction.constant(1) / len(a.resistances)
    ),
    "current_used_up": _line_current(lambda a: _sum(a.resistances[a.at :]) / _sum(a.resistances)),
}
EQUIVALENT: Final[Mapping[str, Rule]] = {
    "reciprocal_forgotten": _equivalent("parallel", _reciprocals),
    "parallel_is_mean": _equivalent("parallel", lambda r: _sum(r) / len(r)),
    "parallel_is_more_obstacle": _equivalent("parallel", _sum),
    "series_parallel_swapped": _exchanged,
}
RESISTORS: Final[Mapping[str, Rule]] = {**BESIDE, **IN_LINE, **EQUIVALENT}
