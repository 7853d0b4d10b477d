"""After a recording: its captions are listened to, and every slip is placed at the step that is to be taken again."""

from __future__ import annotations

from typing import Any

from boardproof.kit.listen import listen_to
from boardproof.kit.proof import Proof
from boardproof.lesson.captions import Cue
from boardproof.record import record

__all__ = ["Heard", "heard_on"]


@record
class Heard:
    """Something that was said wrong: when, at which moment, and what to say instead."""

    ms: int
    moment: str
    quote: str
    right: str
    instead: str
    sure: bool

    def as_json(self) -> dict[str, Any]:
        """As the page reads it."""
        return {
            "ms": self.ms,
            "moment": self.moment,
            "quote": self.quote,
            "right": self.right,
            "instead": self.instead,
            "sure": self.sure,
        }


def heard_on(proof: Proof, cues: tuple[Cue, ...], steps: dict[str, int]) -> tuple[Heard, ...]:
    """What was said wrong, on the timeline of a recording.

    Parameters
    ----------
    proof : Proof
        The lesson, proved.
    cues : tuple of Cue
        The recording's captions.
    steps : dict of str to int
        Millisecond at which each moment begins in what is heard.
    """
    speech, report = listen_to(proof, cues)
    order = sorted(steps.items(), key=lambda step: step[1])
    found = []
    for slip, sure in (*((s, True) for s in report.findings), *((s, False) for s in report.questions)):
        cue = speech.cues[speech.cue_of(slip.start)]
        # A caption may begin in one step and go on in the next: the slip stands where its words are.
        words = [n for n, (_, number) in enumerate(speech.said) if number == speech.cue_of(slip.start)]
        share = (speech.at[slip.start] - words[0]) / len(words)
        ms = round(cue.start + (cue.end - cue.start) * share)
        moment = next((key for key, start in reversed(order) if start <= ms), order[0][0] if order else "")
        found.append(Heard(ms, moment, slip.quote, slip.right, slip.instead, sure))
    return tuple(sorted(found, key=lambda each: each.ms))
