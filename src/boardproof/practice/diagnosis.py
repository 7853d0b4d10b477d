"""What a student believes, as probabilities from all answers, with a stated model.

Model. A student works by the right rule, by one wrong rule, by two of them, or by something else that no rule here
describes. Where a rule gives another value than the right one, its holder gives that value with probability 1 - s and
slips with s = 0.1; where it gives none, its holder works rightly, and slips as often. A slip at a typed number mostly
gives a number that fits nothing; at a choice of n it takes each other option alike. "Something else" is right one
time in four. Two rules at one question: either, evenly.
Priors: a published share where there is one (`PUBLISHED`), else 0.03 for each rule (common practice, no source).
A rule is claimed at a probability of at least 0.8 and with at least two answers that are exactly its value.

Background: slip and guess as in B. Junker, K. Sijtsma, Appl. Psychol. Meas. 25 (2001) 258-272; wrong rules as
hypotheses: J. S. Brown, R. R. Burton, Cogn. Sci. 2 (1978) 155-192.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations
from types import MappingProxyType
from typing import Final, Literal

from boardproof.record import record

__all__ = ["PUBLISHED", "Diagnosis", "Held", "Item", "Response", "best_next", "diagnose", "likelihood"]

SLIP: Final = 0.1
OTHER_RIGHT: Final = 0.25
PRIOR: Final = 0.03
RIGHT_PRIOR: Final = 1.0  # against the sum of the others, before all are made to add up to one
OTHER_PRIOR: Final = 0.1
TOGETHER: Final = 0.3  # two wrong rules at once are rarer than one by one
CLAIMED: Final = 0.8
AGREEING: Final = 2
MOST_PAIRED: Final = 12
# Where a slip from a typed number lands: on nothing known, on a slip of the right value, on another rule's value.
SLIP_TO_NOTHING: Final = 0.55
SLIP_NEAR_RIGHT: Final = 0.2
SLIP_TO_RULE: Final = 0.25
# Published: D. Timmermann, C. Kautz, Student understanding of open switches and open circuits (conference paper,
# Hamburg University of Technology), abstract: 54 % over many groups and countries.
PUBLISHED: Final[Mapping[str, float]] = MappingProxyType({"open_gap_has_no_pd": 0.54})
Outcome = Literal["right", "slip", "other", "wrong"]
RIGHT: Final[frozenset[str]] = frozenset()
OTHER: Final = frozenset({"?"})


@record
class Item:
    """One part of a question with one student's numbers.

    Parameters
    ----------
    label : str
        Its place on the paper: ``2b``.
    wrong : tuple of (str, str)
        A belief and its value, where that is not the right one; equal texts are equal values.
    options : int
        Of a choice; nought where the answer is typed.
    """

    label: str
    wrong: tuple[tuple[str, str], ...]
    options: int = 0


@record
class Response:
    """What a student gave: exactly the right value, a slip of it, exactly some beliefs' value, or nothing known.

    Parameters
    ----------
    item : Item
        At which part.
    outcome : {"right", "slip", "other", "wrong"}
        "wrong": not right, and no more is known (marked by hand); "other" with no beliefs: a value that fits nothing.
    beliefs : tuple of str
        Whose value it is exactly.
    """

    item: Item
    outcome: Outcome
    beliefs: tuple[str, ...] = ()


@record
class Held:
    """A belief with its probability.

    Parameters
    ----------
    belief : str
        Its key.
    probability : float
        That the student works by it.
    agreeing, asked : int
        Answers that are exactly its value, of those where it gives another than the right one.
    claimed : bool
        Whether it is enough to be said.
    alike : tuple of str
        Beliefs that these questions can't tell from it.
    """

    belief: str
    probability: float
    agreeing: int
    asked: int
    claimed: bool
    alike: tuple[str, ...] = ()


@record
class Diagnosis:
    """All beliefs, likeliest first, with the probabilities of the right rule and of something else.

    Parameters
    ----------
    held : tuple of Held
        Likeliest first.
    right, other : float
        Of no wrong rule, and of something that no rule here describes.
    weights : mapping of frozenset of str to float
        Of every hypothesis.
    """

    held: tuple[Held, ...]
    right: float
    other: float
    weights: Mapping[frozenset[str], float]

    @property
    def claimed(self) -> tuple[Held, ...]:
        """What is enough to be said."""
        return tuple(each for each in self.held if each.claimed)

    @property
    def once(self) -> tuple[Held, ...]:
        """The same; of beliefs that these questions can't tell apart the first stands for all."""
        found: list[Held] = []
        for each in self.claimed:
            if not set(each.alike) & {one.belief for one in found}:
                found.append(each)
        return tuple(found)


def diagnose(responses: Sequence[Response], priors: Mapping[str, float] = PUBLISHED) -> Diagnosis:
    """The probability of each belief.

    Parameters
    ----------
    responses : sequence of Response
        What was answered; blank answers are left out beforehand.
    priors : mapping of str to float
        Shares of those who hold a belief, where known.

    Examples
    --------
    >>> item = Item("1", (("parallel_adds_emfs", "9"), ("parallel_plain_mean", "9/2")))
    >>> found = diagnose([Response(item, "other", ("parallel_adds_emfs",))] * 3)
    >>> found.held[0].belief, found.held[0].claimed
    ('parallel_adds_emfs', True)
    """
    weights = _weights(responses, priors)
    beliefs = sorted({belief for each in weights for belief in each if each not in {RIGHT, OTHER}})
    shares = {belief: sum(weight for each, weight in weights.items() if belief in each) for belief in beliefs}
    alike = _alike(responses, beliefs)
    held = [_held(belief, shares, alike[belief], responses) for belief in beliefs]
    held.sort(key=lambda each: (-each.probability, -each.agreeing, each.belief))
    return Diagnosis(tuple(held), weights[RIGHT], weights[OTHER], weights)


def _held(
    belief: str, shares: Mapping[str, float], alike: tuple[str, ...], responses: Sequence[Response]
) -> Held:
    asked = [each for each in responses if any(name == belief for name, _ in each.item.wrong)]
    agreeing = sum(belief in each.beliefs for each in asked)
    together = shares[belief] + sum(shares[each] for each in alike)
    claimed = min(together, 1.0) >= CLAIMED and agreeing >= AGREEING
    return Held(belief, shares[belief], agreeing, len(asked), claimed, alike)


def _weights(responses: Sequence[Response], priors: Mapping[str, float]) -> dict[frozenset[str], float]:
    """Posterior of every hypothesis: no wrong rule, something else, one rule, or two that were each seen."""
    beliefs = sorted({belief for each in responses for belief, _ in each.item.wrong})
    seen: dict[str, int] = {}
    for each in responses:
        for belief in each.beliefs:
            seen[belief] = seen.get(belief, 0) + 1
    paired = sorted(seen, key=lambda each: (-seen[each], each))[:MOST_PAIRED]
    odds = {each: _odds(priors.get(each, PRIOR)) for each in beliefs}
    prior = {RIGHT: RIGHT_PRIOR, OTHER: OTHER_PRIOR}
    prior |= {frozenset({each}): odds[each] for each in beliefs}
    prior |= {frozenset(pair): TOGETHER * odds[pair[0]] * odds[pair[1]] for pair in combinations(paired, 2)}
    logs = {
        each: math.log(weight) + sum(math.log(likelihood(response, each)) for response in responses)
        for each, weight in prior.items()
    }
    top = max(logs.values())
    raw = {each: math.exp(value - top) for each, value in logs.items()}
    total = sum(raw.values())
    return {each: value / total for each, value in raw.items()}


def _odds(share: float) -> float:
    return min(share, 0.9) / (1 - min(share, 0.9))


def likelihood(response: Response, hypothesis: frozenset[str]) -> float:
    """Probability of a response from one who works so."""
    item = response.item
    if hypothesis == OTHER:
        right = 1 / item.options if item.options else OTHER_RIGHT
        return right if response.outcome == "right" else (1 - right) * _landing(response, "", known=False)
    values = [value for belief, value in item.wrong if belief in hypothesis]
    if not values:
        return _from(response, "")
    return sum(_from(response, value) for value in values) / len(values)


def _from(response: Response, value: str) -> float:
    """Probability of a response from one whose rule gives this value; empty: the right one."""
    item = response.item
    if response.outcome == "wrong":
        return SLIP if not value else 1 - SLIP * SLIP_NEAR_RIGHT
    given = "" if response.outcome == "right" else _value_given(response)
    if given == value:
        return 1 - SLIP
    if item.options:
        return SLIP / max(item.options - 1, 1)
    return SLIP * _landing(response, value, known=True)


def _landing(response: Response, value: str, *, known: bool) -> float:
    """How a slip, or an unknown idea, spreads over what may be given."""
    values = {each for _, each in response.item.wrong} - {value}
    if response.item.options and not known:
        return 1 / max(response.item.options - 1, 1)
    if response.outcome in {"right", "slip"}:
        near = SLIP_NEAR_RIGHT if known and not value else SLIP_NEAR_RIGHT / 2
        return near if response.outcome == "slip" or value else 1.0
    if response.outcome == "other" and response.beliefs:
        return SLIP_TO_RULE / max(len(values), 1)
    return SLIP_TO_NOTHING if response.outcome == "other" else 1.0


def _value_given(response: Response) -> str:
    return next((value for belief, value in response.item.wrong if belief in response.beliefs), "?")


def _alike(responses: Sequence[Response], beliefs: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """For each belief those that give the same values at every question that was answered."""
    patterns: dict[str, tuple[str, ...]] = {}
    for belief in beliefs:
        patterns[belief] = tuple(dict(each.item.wrong).get(belief, "") for each in responses)
    groups: dict[tuple[str, ...], list[str]] = {}
    for belief, pattern in patterns.items():
        groups.setdefault(pattern, []).append(belief)
    return {
        belief: tuple(each for each in groups[pattern] if each != belief)
        for belief, pattern in patterns.items()
    }


def best_next(diagnosis: Diagnosis, candidates: Sequence[Item]) -> tuple[Item, float] | None:
    """The question whose answer is expected to say most, and how many bits; None if none would say anything.

    Parameters
    ----------
    diagnosis : Diagnosis
        What is known so far.
    candidates : sequence of Item
        Questions that could be asked next.

    Notes
    -----
    The expected fall of entropy over the hypotheses, each answer being one of the values that they give.

    Examples
    --------
    >>> both = Item("1", (("parallel_adds_emfs", "9"), ("n_cells_n_times_current", "9")))
    >>> known = diagnose([Response(both, "other", ("parallel_adds_emfs", "n_cells_n_times_current"))] * 2)
    >>> apart = Item("3", (("parallel_adds_emfs", "9"), ("n_cells_n_times_current", "12")))
    >>> best_next(known, [both, apart])[0].label
    '3'
    """
    scored = [(each, _gain(diagnosis, each)) for each in candidates if each.wrong]
    useful = [each for each in scored if each[1] > 0.01]
    return max(useful, key=lambda each: each[1]) if useful else None


def _gain(diagnosis: Diagnosis, item: Item) -> float:
    values = dict.fromkeys(value for _, value in item.wrong)
    responses = [Response(item, "right"), Response(item, "other")]
    responses += [
        Response(item, "other", tuple(belief for belief, each in item.wrong if each == value))
        for value in values
    ]
    weights = diagnosis.weights
    before = _entropy(weights.values())
    after = 0.0
    rows = [
        [weight * likelihood(each, hypothesis) for hypothesis, weight in weights.items()]
        for each in responses
    ]
    total = sum(map(sum, rows))
    for row in rows:
        share = sum(row)
        if share > 0:
            after += share / total * _entropy(each / share for each in row)
    return before - after


def _entropy(shares: Iterable[float]) -> float:
    return -sum(each * math.log2(each) for each in shares if each > 0)
