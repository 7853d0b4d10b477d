"""What was said beside the script, and free talks about a lesson: listened to on the lesson's own circuits."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from boardproof.algebra.spoken import Token
from boardproof.circuit.lay_flat import lay_flat
from boardproof.circuit.model import Across, Circuit, leaves
from boardproof.listen.board import Board, Wire
from boardproof.listen.free import Free, listen_freely
from boardproof.listen.hear import Speech
from boardproof.listen.opposites import FUNCTION_WORDS
from boardproof.listen.scope import Scope
from boardproof.listen.script import Script
from boardproof.listen.sentences import sentences
from boardproof.listen.slip import Slip
from boardproof.listen.sums import Sums
from boardproof.listen.things import Things
from boardproof.prove.world import World

__all__ = ["Setting", "board_of", "listen_beside", "listen_on_each", "listen_to_sums"]

MOST_SETTINGS = 12
SURE_BESIDE = 0.8
SURE_WITHIN = 0.7


@dataclass(frozen=True)
class Setting:
    """A circuit of the lesson with what its letters mean.

    Parameters
    ----------
    board : Board
        The circuit.
    world : World
        What letters mean there.
    """

    board: Board
    world: World


def board_of(circuit: Circuit) -> Board | None:
    """A lesson's circuit as a board; None if it has counted copies, parts of other kinds, or no values.

    Parameters
    ----------
    circuit : Circuit
        With its values and changes.
    """
    flat = lay_flat(circuit)
    item = circuit.item
    loads = {leaf.path for leaf in leaves(item.load)} if isinstance(item, Across) else set()
    wires: list[Wire] = []
    for branch in flat.branches:
        if branch.is_open or not branch.is_drawn or (branch.leaf and branch.leaf.part.kind == "voltmeter"):
            continue
        if branch.in_series or branch.in_parallel or branch.leaf is None:
            return None
        part = branch.leaf.part
        worths = [(worth, circuit.values.get(worth.letter, worth.value)) for worth in part.worths()]
        values = {worth.letter: value for worth, value in worths}
        ohms = values.get(part.resistance.letter) if part.resistance else Fraction(0)
        emf = values.get(part.emf.letter) if part.emf and not branch.emf_out else None
        if ohms is None or (part.emf and not branch.emf_out and emf is None) or part.capacitance:
            return None
        ends = (str(branch.tail), str(branch.head))
        first, last = ends[::-1] if branch.turned else ends
        is_load = branch.path in loads and len(loads) == 1
        wires.append(Wire(branch.path, ohms, first, last, emf, is_load))
    return Board(tuple(wires), ("1", "0") if loads else None)


def listen_beside(
    speech: Speech,
    script: Script,
    places: Sequence[tuple[int, int]],
    heard: frozenset[int],
    same: frozenset[int],
    settings: Sequence[Setting | None],
    words: Mapping[str, str],
) -> list[Slip]:
    """Listen to what was put in, on the circuit that was talked about just before.

    Parameters
    ----------
    speech : Speech
        What was said.
    script : Script
        What was to be said; its numbers are known.
    places : sequence of (int, int)
        First token of each placed clause, and which of the settings it speaks of.
    heard : frozenset of int
        Tokens that belong to the script.
    same : frozenset of int
        Tokens that are the script's own.
    settings : sequence of Setting or None
        The lesson's circuits.
    words : mapping of str to str
        The teacher's own words for parts.
    """
    known = {token.value for clause in script.clauses for token in clause.tokens if token.kind == "number"}
    found: list[Slip] = []
    ordered = sorted(places)
    for number, setting in enumerate(settings[:MOST_SETTINGS]):
        if setting is None or not any(which == number for _, which in ordered):
            continue
        listened = listen_freely(speech, setting.board, setting.world, aliases=words)
        for slip in listened.slips:
            tokens = _tokens(speech, slip)
            if _told_of(ordered, tokens[0]) != number:
                continue
            outside = sum(n not in heard for n in tokens)
            numbers = [speech.tokens[n] for n in tokens if speech.tokens[n].kind == "number"]
            if outside * 4 >= 3 * len(tokens) and not _are_known(numbers, known):
                found.append(slip if slip.sure >= SURE_BESIDE else replace(slip, sure=0.4))
            elif slip.sure >= SURE_WITHIN and _is_own(speech, tokens, same):
                found.append(slip)
    return found


def listen_to_sums(speech: Speech, same: frozenset[int]) -> list[Slip]:
    """Listen to what is worked out aloud, whatever the circuit.

    Parameters
    ----------
    speech : Speech
        What was said.
    same : frozenset of int
        Tokens that are the script's own: a sum of these alone is proved already.
    """
    reader, nowhere = Sums(speech, Things(Board(()))), Scope(())
    slips = [slip for each in sentences(speech) for slip in reader.sums(reader.clause(each), nowhere)]
    return [
        slip
        for slip in slips
        if _is_own(speech, _tokens(speech, slip), same) and not reader.is_taken_back(slip)
    ]


def _is_own(speech: Speech, tokens: Sequence[int], same: frozenset[int]) -> bool:
    """Whether something that tells in a statement is the speaker's own word and not the script's."""
    return any(n not in same and speech.tokens[n].text not in FUNCTION_WORDS for n in tokens)


def _told_of(places: Sequence[tuple[int, int]], token: int) -> int | None:
    """Which circuit a token is about: what most clauses around it are, two ahead and two behind."""
    ahead = [which for start, which in places if start <= token][-2:]
    behind = [which for start, which in places if start > token][:2]
    votes = Counter([*reversed(ahead), *behind])
    return votes.most_common(1)[0][0] if votes else None


def _are_known(numbers: Sequence[Token], known: set[Fraction]) -> bool:
    return bool(numbers) and numbers[-1].value in known


def _tokens(speech: Speech, slip: Slip) -> list[int]:
    return [
        n for n, token in enumerate(speech.tokens) if token.start < slip.end and slip.start < token.end
    ] or [0]


def listen_on_each(speech: Speech, settings: Sequence[Setting], words: Mapping[str, str]) -> Free:
    """Listen to a free talk about a lesson: a slip is one only if no circuit of the lesson makes it true.

    Parameters
    ----------
    speech : Speech
        What was said.
    settings : sequence of Setting
        The lesson's circuits.
    words : mapping of str to str
        The teacher's own words for parts.
    """
    every = [
        listen_freely(speech, each.board, each.world, aliases=words) for each in settings[:MOST_SETTINGS]
    ]
    if not every:
        return Free((), 0, 0, frozenset())
    first, *others = every
    slips = tuple(
        slip
        for slip in first.slips
        if all(any(a.start < slip.end and slip.start < a.end for a in other.slips) for other in others)
    )
    understood = frozenset().union(*(each.understood for each in every))
    return Free(slips, max(each.heard for each in every), max(each.checked for each in every), understood)
