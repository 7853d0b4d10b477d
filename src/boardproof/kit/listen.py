"""The `listen` job: captions of a recording against the lesson's script, or against its circuits alone."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Collection, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from boardproof.circuit.model import CircuitId
from boardproof.kit.files import read_source, write_whole
from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.kit.remembered import read_remembered, remember
from boardproof.kit.report import in_short
from boardproof.kit.spoken_script import letters_of, spoken_script
from boardproof.lesson.captions import Cue, read_captions
from boardproof.listen.against import listen_against
from boardproof.listen.beside import Setting, board_of, listen_beside, listen_on_each, listen_to_sums
from boardproof.listen.hear import Speech, hear
from boardproof.listen.notes import caption_track, json_report, text_report
from boardproof.listen.script import cut
from boardproof.listen.slip import Report, best_of
from boardproof.prove.world import World

__all__ = ["listen_to", "run"]

NO_WORDS: Final[Mapping[str, str]] = MappingProxyType({})


def listen_to(
    proof: Proof, cues: tuple[Cue, ...], *, free: bool = False, words: Mapping[str, str] = NO_WORDS
) -> tuple[Speech, Report]:
    """Compare a recording with the lesson.

    Parameters
    ----------
    proof : Proof
        The lesson, proved.
    cues : tuple of Cue
        The recording's captions.
    free : bool
        Listen by the lesson's circuits alone: the speaker did not follow the script.
    words : mapping of str to str
        The teacher's own words for parts ("the big one": "A").
    """
    names = sorted(letters_of(proof))
    speech = hear(cues, names)
    if free:
        settings = [
            made for _, circuit in proof.walk.circuits if (made := _setting(proof.worlds.of(circuit)))
        ]
        return speech, listen_on_each(speech, settings, words).report(speech)
    script = cut(spoken_script(proof), names)
    found = listen_against(speech, script, proof.walk.definitions.names())
    worlds: dict[CircuitId, World] = {}
    for piece in script.pieces:
        if piece.world is not None and piece.world.at_hand is not None:
            worlds.setdefault(piece.world.at_hand.id, piece.world)
    order = list(worlds)
    places = [
        (each.heard[0], order.index(world.at_hand.id))
        for each in found.placed
        if (world := script.pieces[each.clause.pieces[0]].world) and world.at_hand is not None
    ]
    beside = listen_beside(
        speech, script, places, found.heard, found.same, [_setting(world) for world in worlds.values()], words
    )
    findings, questions = best_of([*found.slips, *beside, *listen_to_sums(speech, found.same)])
    understood = sum(speech.tokens[n].end - speech.tokens[n].start for n in found.heard)
    heard = found.checked + found.missed
    return speech, Report(findings, questions, heard, found.checked, len(speech.words), understood)


def _setting(world: World) -> Setting | None:
    """A world's circuit, if it is one that can be talked about."""
    board = board_of(world.at_hand) if world.at_hand is not None else None
    return Setting(board, world) if board is not None and board.wires else None


def run(options: Namespace) -> int:
    """Listen to what the command line names and print what was heard."""
    folder, findings, only = open_course(options.file)
    name = only or (folder.lessons[0].name if folder.lessons else "")
    proof = (
        next((p for p in prove_lessons(folder, findings, only=name) if p.lesson.source.name == name), None)
        if name
        else None
    )
    source, wrong = read_source(options.captions)
    cues, unread = read_captions(source) if source else ((), ())
    memory, forgotten = read_remembered(folder.root)
    for each in (*(() if proof else findings), *wrong, *unread, *forgotten):
        sys.stderr.write(in_short(each) + "\n")
    if proof is None or not cues:
        if proof is None:
            sys.stderr.write(f"There is no lesson {options.file}: lessons are called NAME.lesson.md.\n")
        return 2
    speech, report = listen_to(proof, cues, free=options.free, words=memory.words)
    known = set(memory.not_claims)
    if options.not_a_claim:
        quotes = {slip.key: slip.quote for slip in (*report.findings, *report.questions)}
        added = {key: quotes.get(key, "") for key in options.not_a_claim if key not in known}
        remember(folder.root, added)
        known |= set(added)
    report = _without(report, known)
    shown = (
        json_report(options.captions.name, report)
        if options.json
        else text_report(options.captions.name, report, quiet=options.quiet)
    )
    sys.stdout.write(shown)
    if options.notes:
        write_whole(options.notes, caption_track(speech, report).encode())
    return 1 if report.findings else 0


def _without(report: Report, known: Collection[str]) -> Report:
    """What the teacher has called no claim is not told again."""
    return replace(
        report,
        findings=tuple(slip for slip in report.findings if slip.key not in known),
        questions=tuple(slip for slip in report.questions if slip.key not in known),
    )
