"""Units as students type them: symbols, names, prefixes, products, slips of case and of spelling."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from itertools import islice, product
from typing import Final

from boardproof.record import record

__all__ = [
    "KINDS_OF_LETTERS",
    "PER_CENT",
    "PREFIXES",
    "PREFIX_WORDS",
    "Kind",
    "TypedUnit",
    "expected_unit",
    "times_kind",
    "unit_in",
]

Kind = tuple[int, int, int, int, int]  # powers of volt, ampere, second, metre, degree

NONE: Final[Kind] = (0, 0, 0, 0, 0)


@record
class TypedUnit:
    """What a unit means.

    Parameters
    ----------
    kind : tuple of int
        Powers of volt, ampere, second, metre and degree.
    scale : Fraction
        Times this, a value in the unit is in SI units.
    share : bool
        A percentage.
    """

    kind: Kind
    scale: Fraction = Fraction(1)
    share: bool = False


PER_CENT: Final = TypedUnit(NONE, Fraction(1, 100), share=True)
HOUR, MINUTE = Fraction(3600), Fraction(60)
ONE: Final = Fraction(1)
SYMBOLS: Final[dict[str, tuple[Kind, Fraction]]] = {
    "A": ((0, 1, 0, 0, 0), ONE),
    "V": ((1, 0, 0, 0, 0), ONE),
    "Ω": ((1, -1, 0, 0, 0), ONE),
    "W": ((1, 1, 0, 0, 0), ONE),
    "J": ((1, 1, 1, 0, 0), ONE),
    "C": ((0, 1, 1, 0, 0), ONE),
    "F": ((-1, 1, 1, 0, 0), ONE),
    "S": ((-1, 1, 0, 0, 0), ONE),
    "s": ((0, 0, 1, 0, 0), ONE),
    "min": ((0, 0, 1, 0, 0), MINUTE),
    "h": ((0, 0, 1, 0, 0), HOUR),
    "Hz": ((0, 0, -1, 0, 0), ONE),
    "N": ((1, 1, 1, -1, 0), ONE),
    "m": ((0, 0, 0, 1, 0), ONE),
    "eV": ((1, 1, 1, 0, 0), Fraction(1602176634, 10**28)),
    "°C": ((0, 0, 0, 0, 1), ONE),
    "°": ((0, 0, 0, 0, 1), ONE),
}
NAMES: Final = {
    **dict.fromkeys(("amp", "amps", "ampere", "amperes"), "A"),
    **dict.fromkeys(("volt", "volts"), "V"),
    **dict.fromkeys(("ohm", "ohms"), "Ω"),
    **dict.fromkeys(("watt", "watts"), "W"),
    **dict.fromkeys(("joule", "joules"), "J"),
    **dict.fromkeys(("coulomb", "coulombs"), "C"),
    **dict.fromkeys(("farad", "farads"), "F"),
    "siemens": "S",
    **dict.fromkeys(("second", "seconds", "sec", "secs"), "s"),
    **dict.fromkeys(("minute", "minutes", "min", "mins"), "min"),
    **dict.fromkeys(("hour", "hours", "hr", "hrs"), "h"),
    "hertz": "Hz",
    **dict.fromkeys(("newton", "newtons"), "N"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("electronvolt", "electronvolts"), "eV"),
    **dict.fromkeys(("degree", "degrees"), "°"),
}
PREFIXES: Final = {
    "p": Fraction(1, 10**12),
    "n": Fraction(1, 10**9),
    "u": Fraction(1, 10**6),
    "μ": Fraction(1, 10**6),
    "µ": Fraction(1, 10**6),
    "m": Fraction(1, 10**3),
    "k": Fraction(10**3),
    "K": Fraction(10**3),
    "M": Fraction(10**6),
    "G": Fraction(10**9),
}
PREFIX_WORDS: Final = {
    "pico": Fraction(1, 10**12),
    "nano": Fraction(1, 10**9),
    "micro": Fraction(1, 10**6),
    "milli": Fraction(1, 10**3),
    "kilo": Fraction(10**3),
    "mega": Fraction(10**6),
    "giga": Fraction(10**9),
}
KINDS_OF_LETTERS: Final[dict[str, Kind]] = {
    **dict.fromkeys("EVUε", SYMBOLS["V"][0]),
    **dict.fromkeys("rR", SYMBOLS["Ω"][0]),
    "I": SYMBOLS["A"][0],
    "P": SYMBOLS["W"][0],
    "C": SYMBOLS["F"][0],
    "t": SYMBOLS["s"][0],
    "n": NONE,
    "m": NONE,
}
LONGEST_WORD: Final = 24
MOST_TRIES: Final = 400
Option = tuple[int, Kind, Fraction]  # slips of case, then what it means
PART: Final = re.compile(r"([^\W\d_]+|°C?|%)(?:\^?\(?([+-]?\d)\)?(?![\d.,]))?")


def times_kind(one: Kind, other: Kind, power: int = 1) -> Kind:
    """The kind of a product, the second to a power.

    Parameters
    ----------
    one, other : tuple of int
        Kinds.
    power : int
        Of the second.

    Examples
    --------
    >>> times_kind((1, 0, 0, 0, 0), (0, 1, 0, 0, 0), -1)
    (1, -1, 0, 0, 0)
    """
    return (
        one[0] + power * other[0],
        one[1] + power * other[1],
        one[2] + power * other[2],
        one[3] + power * other[3],
        one[4] + power * other[4],
    )


def _symbol(word: str) -> Iterator[Option]:
    """The word as one symbol with or without a prefix; the other case of its letter counts as a slip."""
    for prefix, scale in (("", ONE), *PREFIXES.items()):
        rest = word.removeprefix(prefix)
        if len(rest) + len(prefix) != len(word) or not rest:
            continue
        if rest in SYMBOLS:
            kind, size = SYMBOLS[rest]
            yield 0, kind, size * scale
        turned = (
            rest.swapcase()
            if len(rest) == 1
            else {"HZ": "Hz", "hz": "Hz", "ev": "eV", "EV": "eV"}.get(rest, "")
        )
        if turned in SYMBOLS and turned != rest:
            kind, size = SYMBOLS[turned]
            yield 1, kind, size * scale


def _named(word: str) -> Iterator[Option]:
    lower = word.lower()
    for prefix, scale in (("", ONE), *PREFIX_WORDS.items()):
        rest = lower.removeprefix(prefix)
        if rest in NAMES and len(rest) + len(prefix) == len(lower):
            kind, size = SYMBOLS[NAMES[rest]]
            yield 0, kind, size * scale
    if word[:1] in PREFIXES and lower[1:] in NAMES:
        kind, size = SYMBOLS[NAMES[lower[1:]]]
        yield 0, kind, size * PREFIXES[word[0]]


def _joined(word: str, power: int) -> list[Option]:
    """The word as a product of symbols, nothing between them, fewest first; the power belongs to the last."""
    found: list[tuple[int, Option]] = []

    def go(at: int, count: int, so_far: Option) -> None:
        if len(found) > 60:
            return
        for end in range(at + 1, min(len(word), at + 4) + 1):
            last = end == len(word)
            for slips, kind, scale in _symbol(word[at:end]):
                raised = power if last else 1
                made = so_far[0] + slips, times_kind(so_far[1], kind, raised), so_far[2] * scale**raised
                if last:
                    found.append((count + 1, made))
                elif count < 3:
                    go(end, count + 1, made)

    if 1 < len(word) <= 8:
        go(0, 0, (0, NONE, ONE))
    return [each for count, each in sorted(found, key=lambda one: (one[1][0], one[0])) if count > 1]


def _edits(one: str, other: str, most: int) -> int:
    """Letters added, taken or changed between two words; more than `most` is not counted out."""
    if abs(len(one) - len(other)) > most:
        return most + 1
    row = list(range(len(other) + 1))
    for at, letter in enumerate(one, 1):
        last, row[0] = row[0], at
        for place, each in enumerate(other, 1):
            last, row[place] = row[place], min(row[place] + 1, row[place - 1] + 1, last + (letter != each))
    return row[-1]


def _misspelt(word: str) -> Iterator[Option]:
    """A name with a slip of spelling, if it is near the names of exactly one unit."""
    lower = word.lower()
    splits = [("", lower, ONE)]
    splits += [
        (each, lower[len(each) :], size) for each, size in PREFIX_WORDS.items() if lower.startswith(each)
    ]
    if word[:1] in PREFIXES:
        splits.append((word[0], lower[1:], PREFIXES[word[0]]))
    best: list[tuple[int, Option]] = []
    for _, rest, scale in splits:
        if len(rest) < 5 or not rest.isascii():
            continue
        most = 1 if len(rest) <= 6 else 2
        near: dict[str, int] = {}
        for name, symbol in NAMES.items():
            apart = _edits(rest, name, most)
            if apart <= most:
                near[symbol] = min(apart, near.get(symbol, apart))
        if len(near) == 1:
            ((symbol, apart),) = near.items()
            kind, size = SYMBOLS[symbol]
            best.append((apart, (0, kind, size * scale)))
    if best:
        yield min(best, key=lambda each: each[0])[1]


@lru_cache(maxsize=4096)
def _options(word: str, power: int) -> tuple[Option, ...]:
    """What a word may mean, as typed first, then with slips of case."""
    if len(word) > LONGEST_WORD:
        return ()
    whole = [(slips, times_kind(NONE, kind, power), scale**power) for slips, kind, scale in _symbol(word)]
    names = [(slips, times_kind(NONE, kind, power), scale**power) for slips, kind, scale in _named(word)]
    found = [each for each in whole if not each[0]] + names
    if not found:
        found = [each for each in _joined(word, power) if not each[0]][:1]
    slipped = [each for each in (*whole, *_joined(word, power)) if each[0]]
    found += sorted(slipped, key=lambda each: each[0])
    if not found:
        found = [
            (slips, times_kind(NONE, kind, power), scale**power) for slips, kind, scale in _misspelt(word)
        ]
    return tuple(found)


@lru_cache(maxsize=8192)
def unit_in(text: str, wanted: Kind | None = None) -> TypedUnit | None:
    """The unit that a text is, or None.

    Parameters
    ----------
    text : str
        Words with ``*``, ``.``, ``-`` or a space between them, at most one ``/`` or ``per``, whole powers.
    wanted : tuple of int, optional
        The expected kind: the other case of a letter is taken if it makes the kind right.

    Examples
    --------
    >>> unit_in("mA").scale, unit_in("J/C").kind == unit_in("volts").kind
    (Fraction(1, 1000), True)
    >>> unit_in("ma"), unit_in("ma", (0, 1, 0, 0, 0)).scale
    (None, Fraction(1, 1000))
    """
    if len(text) > 60:
        return None
    text = text.strip()
    if text == "%":
        return PER_CENT
    above, slash, below = _parted(text)
    if slash and not below:
        return None
    groups: list[tuple[Option, ...]] = []
    for side, sign in ((above, 1), (below, -1)):
        words = _words(side) if side else []
        if words is None or (side and not words):
            return None
        for word, power in words:
            options = _options(word, power * sign)
            if not options:
                return None
            groups.append(options)
    if not groups or len(groups) > 6:
        return None
    return _chosen(groups, wanted)


def _parted(text: str) -> tuple[str, bool, str]:
    text = re.sub(r"(?i)(?<![^\W\d_])per(?![^\W\d_])", "/", text)
    above, slash, below = text.partition("/")
    return above.strip(), bool(slash), below.strip()


def _words(side: str) -> list[tuple[str, int]] | None:
    """Words with their powers; prefixes that stand apart are joined to the name behind them."""
    side = re.sub(
        rf"(?i)(?<![^\W\d_])({'|'.join(PREFIX_WORDS)})[ -](?=[^\W\d_])",
        r"\1",
        side.replace("electron volt", "electronvolt"),
    )
    found: list[tuple[str, int]] = []
    at = 0
    while at < len(side):
        match = PART.match(side, at)
        if match is None or match[1] == "%":
            return None
        found.append((match[1], int(match[2] or 1)))
        at = match.end()
        gap = re.compile(r" ?[*.] ?|-(?=[^\W\d_])| ").match(side, at)
        if gap is not None and gap.end() < len(side):
            at = gap.end()
        elif at < len(side) and match[2] is None:
            return None
    return found


def _chosen(groups: list[tuple[Option, ...]], wanted: Kind | None) -> TypedUnit | None:
    """As typed if that has the wanted kind, else with the fewest slips of case that make it so."""
    typed: TypedUnit | None = None
    best: tuple[int, TypedUnit] | None = None
    for chosen in islice(product(*groups), MOST_TRIES):
        kind, scale, slips = NONE, ONE, 0
        for more, each, size in chosen:
            kind, scale, slips = times_kind(kind, each), scale * size, slips + more
        made = TypedUnit(kind, scale)
        if not slips and typed is None:
            typed = made
        if kind == wanted and (best is None or slips < best[0]):
            best = slips, made
    return best[1] if best is not None else typed


def expected_unit(text: str) -> TypedUnit:
    """The unit asked for; ``1`` is a plain number and ``%`` a percentage.

    Parameters
    ----------
    text : str
        As the question has it.

    Examples
    --------
    >>> expected_unit("kJ").scale, expected_unit("%").share
    (Fraction(1000, 1), True)
    """
    if text in {"", "1"}:
        return TypedUnit(NONE)
    found = unit_in(text.replace("µ", "μ").replace("\u2126", "Ω"))
    if found is None:
        raise ValueError(f"a question asks for the unit {text!r}, which is none")
    return found
