"""General statements of the trade, each decided on the circuit at hand or by what is proved of every circuit.

What holds of all circuits is taken from the claims that the proof room decides (terminal p.d. against EMF: a charged
cell; series against parallel: R against r; matching: the greatest power, not the greatest efficiency); everything else
is worked out on the board, by changing a load a little and looking.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from boardproof.listen.board import Board
from boardproof.listen.worded import NAMED, WORDED, worded_holds

__all__ = ["TOPICS", "Topic"]

Holds = Callable[[re.Match[str], Board], bool | None]


@dataclass(frozen=True)
class Topic:
    """A kind of statement.

    Parameters
    ----------
    pattern : re.Pattern
        How it is said, in small letters without stops.
    holds : callable
        Whether it is true, given the words and the circuit; None if that can't be said.
    kind : str
        What a false one is called.
    right : str
        What would be right.
    sure : float
        How sure a finding is.
    takes_conditions : bool
        Whether "if" belongs to the statement itself.
    """

    pattern: re.Pattern[str]
    holds: Holds
    kind: str
    right: str
    sure: float = 0.8
    takes_conditions: bool = False

    @property
    def needs_board(self) -> bool:
        """Whether its truth depends on the circuit at hand."""
        return self.holds in {_all_give, _equal_shares, _idle, _mean}


GAP: Final = r"(?: \S+){0,4}?"
PD: Final = (
    r"(?:terminal (?:voltage|pd|potential difference|p d)|voltage (?:across|at) (?:the|its) terminals|"
    r"voltage across (?:a|the|any) (?:cell|battery))"
)
MORE: Final = (
    r"(?:more|larger|bigger|higher|greater|above|increases?|rises?|goes up|grows|up|gets bigger|gets larger)"
)
LESS: Final = r"(?:less|smaller|lower|below|decreases?|falls?|goes down|drops?|down|gets smaller)"
LOAD: Final = r"(?:load resistance|resistance of the load|load|external resistance|(?:the )?resistance|r)"
EFFECT: Final = r"(?P<effect>terminal voltage|terminal pd|voltage|pd|current|efficiency|lost volts|i|v)"


def _words(pattern: str) -> re.Pattern[str]:
    return re.compile(rf"\b{pattern}\b")


def _fact(board: Board, kind: str, of: str) -> Fraction | None:
    return next((fact.value for fact in board.facts if fact.kind == kind and fact.of == of), None)


def _never(_: re.Match[str], __: Board) -> bool | None:
    return False


def _ever(_: re.Match[str], __: Board) -> bool | None:
    return True


# -- the load a little larger


EFFECTS: Final = {
    "current": "current", "i": "current", "terminal voltage": "pd", "terminal pd": "pd", "voltage": "pd", "pd": "pd",
    "v": "pd", "efficiency": "efficiency", "lost volts": "lost",
}  # fmt: skip


def _change(board: Board, factor: Fraction, kind: str) -> int | None:
    """Whether a quantity of the whole grows (1), falls (-1) or stays when the load is so many times larger."""
    if len(board.loads) != 1:
        return None
    load = board.loads[0]
    changed = board.with_ohms(frozenset({load.name}), load.ohms * factor)
    before, after = _fact(board, kind, "whole"), _fact(changed, kind, "whole")
    if kind == "efficiency" and len(board.cells) == 1:
        before, after = _fact(board, kind, board.cells[0].name), _fact(changed, kind, board.cells[0].name)
    if before is None or after is None:
        return None
    return (after > before) - (after < before)


def _trend(match: re.Match[str], board: Board) -> bool | None:
    cause, effect = match["cause"], match["effect"]
    factor = Fraction(11, 10) if _up(match["how"]) else Fraction(10, 11)
    if cause in {"current", "i"}:
        factor = 1 / factor
    change = _change(board, factor, EFFECTS[effect])
    if change is None:
        return None
    return change == (1 if _up(match["so"]) else -1)


def _up(words: str) -> bool:
    return re.search(MORE, words) is not None and re.search(rf"\b{LESS}\b", words) is None


# -- groups


def _against_each(kind: str) -> Holds:
    """Something of the whole is more, or less, than that of each cell."""

    def holds(match: re.Match[str], board: Board) -> bool | None:
        whole = _fact(board, kind, "whole")
        each = [
            fact.value
            for fact in board.facts
            if fact.kind in {kind, "emf" if kind == "pd" else kind}
            and fact.of in {c.name for c in board.cells}
            and (kind != "pd" or fact.kind == "emf")
        ]
        if whole is None or len(each) < 2:
            return None
        return whole > max(each) if _up(match["how"]) else whole < min(each)

    return holds


def _between(_: re.Match[str], board: Board) -> bool | None:
    whole, each = _fact(board, "emf", "whole"), [cell.emf or Fraction(0) for cell in board.cells]
    return None if whole is None or len(each) < 2 else min(each) <= whole <= max(each)


def _mean(match: re.Match[str], board: Board) -> bool | None:
    whole, each = _fact(board, "emf", "whole"), [cell.emf or Fraction(0) for cell in board.cells]
    if whole is None or len(each) < 2:
        return None
    wanted = sum(each, Fraction(0)) / (len(each) if match["what"] in {"mean", "average"} else 1)
    return whole == wanted


def _equal_shares(_: re.Match[str], board: Board) -> bool | None:
    groups = [
        [board.currents.get(w.name) for w in many]
        for many in board.side_by_side
        if not any(w.is_load for w in many)
    ]
    rows = [_fact(board, "current", row.name) for row in board.rows]
    cells = [
        board.currents.get(cell.name)
        for cell in board.cells
        if {cell.first, cell.last} == set(board.ends or ())
    ]
    shared = [group for group in (*groups, rows, cells) if len(group) > 1]
    return None if not shared else all(len(set(group)) == 1 for group in shared)


def _all_give(_: re.Match[str], board: Board) -> bool | None:
    values = [board.currents.get(cell.name) for cell in board.cells]
    return (
        None
        if len(values) < 2 or None in values
        else all(value is not None and value > 0 for value in values)
    )


def _idle(_: re.Match[str], board: Board) -> bool | None:
    """With nothing joined no current flows."""
    loads = frozenset(wire.name for wire in board.loads)
    bare = board.without(loads) if loads else board
    if not bare.cells:
        return None
    values = [bare.currents.get(cell.name) for cell in bare.cells]
    return None if None in values else not any(values)


def _slope(match: re.Match[str], _: Board) -> bool | None:
    return match["what"] in {"r", "internal resistance", "resistance"}


def _intercept(match: re.Match[str], _: Board) -> bool | None:
    axis, what = match["axis"], match["what"]
    emf, short = what in {"emf", "e"}, what.startswith("short")
    if axis and axis[0] in "vp":
        return emf
    return short if axis and axis[0] in "ic" else emf or short


def _limit(match: re.Match[str], board: Board) -> bool | None:
    """As the load grows or shrinks without end."""
    if len(board.loads) != 1 or len(board.cells) != 1:
        return None
    far = Fraction(10**9) if re.search(r"huge|infinit|large|big", match["end"]) else Fraction(1, 10**9)
    changed = board.with_ohms(frozenset({board.loads[0].name}), far)
    value = _fact(changed, EFFECTS[match["effect"]], "whole")
    cell = board.cells[0]
    wanted = {
        "e": cell.emf,
        "the emf": cell.emf,
        "emf": cell.emf,
        "zero": Fraction(0),
        "nothing": Fraction(0),
        "nought": Fraction(0),
    }.get(match["what"])
    if match["what"] == "e over r" and cell.emf is not None:
        wanted = cell.emf / cell.ohms
    return None if value is None or wanted is None else abs(value - wanted) < Fraction(1, 1000)


def _best(match: re.Match[str], _: Board) -> bool | None:
    """Matching is best for power, not for efficiency."""
    matched = re.search(r"equals|equal to|matches|same as", match["when"]) is not None
    return matched if "power" in match["what"] else None if not matched else False


def _parallel_resistance(match: re.Match[str], _: Board) -> bool | None:
    rises = _up(match["how"])
    return rises if match["joined"] == "series" else not rises


def _ratio(match: re.Match[str], _: Board) -> bool | None:
    return match["over"] not in {"current", "i"} and match["under"] in {"current", "i"}


CAUSE: Final = rf"(?P<cause>{LOAD}|current|i)"
TOPICS: Final[tuple[Topic, ...]] = (
    Topic(
        _words(rf"{PD}{GAP} (?:is|are) always{GAP} emf"),
        _never,
        "overgeneral",
        "less than the EMF while the cell gives current, more while it is charged",
        0.9,
    ),
    Topic(
        _words(rf"{PD}{GAP} (?:can|could) never{GAP} (?:more|above|exceed|greater|higher|bigger){GAP} emf"),
        _never,
        "overgeneral",
        "it is above the EMF while the cell is charged",
        0.85,
    ),
    Topic(
        _words(
            rf"(?:{PD} of (?:a|the) (?:cell|battery) (?:on charge|being charged|under charge)|(?:on charge|being "
            rf"charged|charging) {GAP} ?{PD}){GAP} (?:less|smaller|lower|below){GAP} emf"
        ),
        _never,
        "comparison",
        "on charge it is greater than the EMF",
        0.85,
    ),
    Topic(
        _words(
            r"(?:adding|one more|another|an extra|more) (?:a )?(?:cells?|battery)(?: in series)?(?: \S+){0,3}? "
            r"always(?: \S+){0,3}? (?:current|brighter|more)"
        ),
        _never,
        "overgeneral",
        "only if its own short-circuit current exceeds the current that flows",
        0.85,
    ),
    Topic(
        _words(
            r"(?:series|parallel)(?: \S+){0,2}? (?:always|in every case)(?: \S+){0,4}? (?:current|better|more|"
            r"best|wins|brighter)"
        ),
        _never,
        "overgeneral",
        "it depends on the load: series when R is larger than r, parallel when it is smaller",
        0.85,
    ),
    Topic(
        _words(r"(?:series|parallel) (?:is|gives|wins|drives)(?: \S+){0,4}? whatever"),
        _never,
        "overgeneral",
        "it depends on the load",
        0.85,
    ),
    Topic(
        _words(
            r"(?:in general|always|every time|generally|in every case)(?: \S+){0,3}? emf of (?:the |a |any )?"
            r"(?:pair|combination|bank|two|group|set)(?: \S+){0,4}? is (?:just |simply )*(?:the )?(?:mean|average|sum)"
        ),
        _never,
        "overgeneral",
        "only if the resistances, or the EMFs, are equal",
        0.85,
    ),
    Topic(
        _words(
            r"emf of (?:the |a )?(?:pair|combination|bank|two|group|set)(?: \S+){0,4}? is (?:always |just |simply "
            r")*(?:the )?(?P<what>mean|average|sum)"
        ),
        _mean,
        "formula",
        "each EMF counts by one over its resistance",
        0.85,
    ),
    Topic(
        _words(
            r"(?:currents? (?:always )?(?:splits?|divides?|shared?|is shared|is split)(?: \S+){0,2}? (?:equally|"
            r"evenly|in half)|shares? (?:the )?(?:load )?current (?:equally|evenly|half and half|fifty fifty))"
        ),
        _equal_shares,
        "overgeneral",
        "the shares go as one over the resistances",
        0.8,
    ),
    Topic(
        _words(
            r"(?:both|all)(?: \S+){0,3}? (?:cells|batteries)(?: \S+){0,2}? (?:always )?(?:give|deliver|supply|are "
            r"giving|are delivering|help)"
        ),
        _all_give,
        "overgeneral",
        "one of them is being charged",
        0.8,
    ),
    Topic(
        _words(
            r"(?:nothing|no load|load is (?:taken off|removed|off|gone|disconnected))(?: \S+){0,4}? "
            r"(?:no current|there is no current|the current is zero|nothing flows"
            r"|(?:both|all|the)(?: \S+){0,2}? cells (?:rest|idle|are idle|sleep))"
        ),
        _idle,
        "overgeneral",
        "a current still goes round between the cells",
        0.8,
        True,
    ),
    Topic(
        _words(
            rf"(?:if|when|as|make|making) (?:the |your )?{CAUSE} (?P<how>(?:goes |is |gets )?{MORE}|(?:goes |is |"
            rf"gets )?{LESS})(?: the| then| your| so)* {EFFECT} (?P<so>(?:goes |is |gets )?{MORE}|(?:goes |is |"
            rf"gets )?{LESS})"
        ),
        _trend,
        "comparison",
        "the other way round",
        0.85,
        True,
    ),
    Topic(
        _words(
            rf"the (?P<how>{MORE}|{LESS}) (?:the |of the )?{CAUSE}(?: you draw| you take| is| gets| that is "
            rf"drawn)*,? the (?P<so>{MORE}|{LESS}) (?:the )?{EFFECT}"
        ),
        _trend,
        "comparison",
        "the other way round",
        0.85,
        True,
    ),
    Topic(
        _words(
            rf"(?:internal )?resistance of the (?:pair|combination|bank|two|group)(?: \S+){{0,2}}? (?P<how>{MORE}|"
            rf"{LESS}) than (?:either|both|each)"
        ),
        _against_each("resistance"),
        "comparison",
        "the other way round",
        0.8,
    ),
    Topic(
        _words(
            rf"emf of the (?:pair|combination|bank|two|group)(?: \S+){{0,2}}? (?P<how>{MORE}|{LESS}) than "
            rf"(?:either|both|each)"
        ),
        _against_each("emf"),
        "comparison",
        "it lies between the two",
        0.8,
    ),
    Topic(
        _words(
            rf"{PD}(?: \S+){{0,2}}? (?P<how>{MORE}|{LESS}) than (?:either|both)(?: of the| the| of)? emfs?"
        ),
        _against_each("pd"),
        "comparison",
        "it lies between the two EMFs",
        0.8,
    ),
    Topic(
        _words(
            r"(?P<what>efficiency|efficient|power)(?: \S+){0,3}? (?:is |are )?(?:greatest |a maximum |maximum |"
            r"highest |best |most )?(?P<when>when (?:big |the load |load )?r? ?(?:equals|is equal to|matches|is "
            r"the same as|is as small as possible|is as large as possible|is zero|is very large|is very small))"
        ),
        _best,
        "condition",
        "power is greatest when R = r; efficiency keeps rising with R",
        0.8,
        True,
    ),
    Topic(
        _words(
            r"(?:adding|putting|another|one more)(?: \S+){0,3}? (?:in )?(?P<joined>parallel|series)(?: \S+){0,3}? "
            r"(?P<how>increases|decreases|raises|lowers|reduces) the (?:total |combined |equivalent )*resistance"
        ),
        _parallel_resistance,
        "overgeneral",
        "in parallel the resistance falls, in series it rises",
        0.85,
    ),
    Topic(
        _words(
            r"(?:emf|e) is (?:the )?(?:energy|work)(?: \S+){0,4}? (?:per|every|each|a) (?:second|amp|ampere|minute)"
        ),
        _never,
        "definition",
        "the EMF is the energy per coulomb",
        0.85,
    ),
    Topic(
        _words(
            r"current (?:that is |that comes |coming |going |flowing |that goes )(?:back|in|out)(?: \S+){0,3}? "
            r"(?:smaller|less|lower|weaker) than"
        ),
        _never,
        "comparison",
        "the current is the same all the way round",
        0.85,
    ),
    Topic(
        _words(
            r"(?:current (?:is|gets|was) (?:being )?used up|uses? up (?:some of |all )?(?:the |its )?current)"
        ),
        _never,
        "definition",
        "the current is the same all the way round; energy is what is used",
        0.8,
    ),
    Topic(
        _words(
            r"emf is (?:the )?(?:terminal )?(?:voltage|pd|potential difference)(?: \S+){0,6}? (?:when|while) "
            r"(?:the cell is driving|it is driving|current flows|a current flows|the cell is delivering|it delivers)"
        ),
        _never,
        "definition",
        "the EMF is the terminal p.d. when no current flows",
        0.85,
    ),
    Topic(
        _words(
            r"(?:slope|gradient)(?: \S+){0,4}? (?:is|gives|equals)(?: you| us)?(?: just)? (?:minus |the |negative "
            r")*(?P<what>r|e|emf|internal resistance|resistance|current|short circuit current)"
        ),
        _slope,
        "formula",
        "the slope is minus the internal resistance",
        0.8,
    ),
    Topic(
        _words(
            r"intercept(?: on the (?P<axis>v|voltage|pd|i|current)(?: axis)?)?(?: \S+){0,2}? (?:is|gives|"
            r"equals)(?: you| us)? (?:the )?(?P<what>emf|e|internal resistance|r|short circuit current|resistance)"
        ),
        _intercept,
        "formula",
        "V at no current is the EMF, I at no voltage the short-circuit current",
        0.8,
    ),
    Topic(
        _words(
            rf"as (?:the )?(?:load|{LOAD}) (?P<end>tends to zero|gets small|tends to infinity|gets huge|gets very "
            rf"large|goes to zero|goes to infinity)(?: the)? {EFFECT} (?:tends to|goes to|approaches) (?:the "
            rf")?(?P<what>emf|e over r|e|zero|nothing|nought)"
        ),
        _limit,
        "formula",
        "the other limit",
        0.8,
        True,
    ),
    Topic(
        _words(
            r"in series(?: \S+){0,3}? (?:the )?currents (?:just |simply )?add|emfs add(?: up)? and so do the currents"
        ),
        _never,
        "formula",
        "in series the current is the same everywhere; the EMFs add",
        0.8,
    ),
    Topic(
        _words(r"in parallel(?: \S+){0,3}? (?:the )?(?:emfs|voltages) (?:just |simply )?add"),
        _never,
        "formula",
        "in parallel short-circuit currents add, EMFs do not",
        0.8,
    ),
    Topic(
        _words(
            r"(?:r|internal resistance) (?:is|equals) (?:the )?change in (?P<over>\w+) (?:over|divided by|by|"
            r"upon) (?:the )?change in (?P<under>\w+)"
        ),
        _ratio,
        "formula",
        "change in voltage over change in current",
        0.85,
    ),
    Topic(WORDED, worded_holds, "formula", "another formula", 0.85),
    Topic(NAMED, worded_holds, "formula", "another formula", 0.8),
)
