"""Listening without a script: statements in running speech, bound to the circuit and judged by the same algebra."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from boardproof.listen.board import Board
from boardproof.listen.hear import Speech
from boardproof.listen.letters import Letters
from boardproof.listen.scope import scopes
from boardproof.listen.sentences import sentences
from boardproof.listen.slip import Report, Slip, best_of
from boardproof.listen.talk_of import TalkOf
from boardproof.listen.things import Things
from boardproof.listen.values import Values
from boardproof.prove.world import World

__all__ = ["Free", "listen_freely"]


@dataclass(frozen=True)
class Free:
    """What came of it.

    Parameters
    ----------
    slips : tuple of Slip
        Sure and unsure.
    heard, checked : int
        Statements heard, and those that were checked.
    understood : frozenset of int
        Tokens that belong to a checked statement.
    """

    slips: tuple[Slip, ...]
    heard: int
    checked: int
    understood: frozenset[int]

    def report(self, speech: Speech) -> Report:
        """The same as a report."""
        findings, questions = best_of(list(self.slips))
        understood = sum(speech.tokens[n].end - speech.tokens[n].start for n in self.understood)
        return Report(findings, questions, self.heard, self.checked, len(speech.words), understood)


def listen_freely(
    speech: Speech,
    board: Board,
    world: World,
    *,
    aliases: Mapping[str, str] | None = None,
    known: Collection[int] = (),
) -> Free:
    """Find statements and judge them.

    Parameters
    ----------
    speech : Speech
        What was said.
    board : Board
        The circuit being talked about.
    world : World
        What its letters mean.
    aliases : mapping of str to str, optional
        The teacher's own words for parts.
    known : collection of int
        Tokens that were placed in a script already; statements that lie wholly in them are left alone.
    """
    things = Things(board, aliases)
    things.learn(speech.tokens, speech.raw)
    values, letters = Values(speech, things), Letters(speech, world, things)
    talk = TalkOf(speech, things)
    cut = sentences(speech)
    slips: list[Slip] = []
    for sentence, scope in zip(cut, scopes(speech, cut, things), strict=True):
        slips += letters.sentence(sentence, scope)
        slips += values.sentence(sentence, scope)
        slips += talk.sentence(sentence, scope)
    placed = frozenset(known)
    words = {w for n in placed for w in range(speech.tokens[n].start, speech.tokens[n].end)}
    kept = [slip for slip in slips if not all(word in words for word in range(slip.start, slip.end))]
    heard, checked = (
        values.heard + letters.heard + talk.heard,
        values.checked + letters.checked + talk.checked,
    )
    return Free(tuple(kept), heard, checked, frozenset(values.read | letters.read | talk.read))
