"""What listening finds, with floors on recall and precision."""

from __future__ import annotations

import json
import re
from functools import cache, reduce
from pathlib import Path

import pytest

from boardproof.kit.listen import listen_to
from boardproof.kit.proof import Proof
from boardproof.lesson.captions import read_captions
from boardproof.source import Source
from outside import aligned, speech
from outside.voices import Score, as_captions, read_talk, score

HERE = Path(__file__).parent / "data"
COURSE = Path(__file__).resolve().parents[2] / "examples" / "weather-buoy"
VOICES = sorted((HERE / "voices").glob("*.txt"))
SCRIPTED = sorted((HERE / "voices" / "aligned").glob("*.txt"))


def _plain(word: str) -> str:
    return re.sub(r"\W", "", word.lower())


def labelled(folder: Path) -> Score:
    """The score of one of the copied talks."""
    case = json.loads((folder / "circuit.json").read_text(encoding="utf-8"))
    captions = (folder / "captions.vtt").read_text(encoding="utf-8")
    labels = json.loads((folder / "labels.json").read_text(encoding="utf-8"))
    cues, _ = read_captions(Source("captions.vtt", captions))
    words = [_plain(word) for cue in cues for word in cue.text.split()]
    wrong = []
    for label in labels["wrong"]:
        quote = [_plain(word) for word in label["quote"].split()]
        at = next(n for n in range(len(words)) if words[n : n + len(quote)] == quote)
        wrong.append((at, at + len(quote)))
    heard, free = speech.listened(case, captions)
    return score(heard, free.report(heard), tuple(wrong))


def voice(path: Path) -> Score:
    talk = read_talk(path)
    heard, free = speech.listened(json.loads(talk.about), talk.captions)
    return score(heard, free.report(heard), talk.wrong)


@cache
def proofs() -> dict[str, Proof]:
    return aligned.proofs_of(COURSE)


def scripted(path: Path) -> Score:
    talk = read_talk(path)
    proof = aligned.named(proofs(), talk.about)
    assert proof is not None
    cues, _ = read_captions(Source(path.name, talk.captions))
    heard, report = listen_to(proof, cues)
    return score(heard, report, talk.wrong)


def total(scores: list[Score]) -> Score:
    return reduce(Score.__add__, scores, Score())


@pytest.mark.timeout(240)  # many talks, one score
def test_copied_talks() -> None:
    found = total([labelled(folder) for folder in sorted((HERE / "speech").iterdir())])
    assert found.recall >= 0.9, found
    assert found.precision >= 0.95, found


@pytest.mark.timeout(240)  # many talks, one score
def test_our_own_voices() -> None:
    found = total([voice(path) for path in VOICES])
    assert found.labels >= 220
    assert found.recall >= 0.78, found
    assert found.precision >= 0.95, found


@pytest.mark.timeout(240)  # many talks, one score
def test_against_the_script() -> None:
    found = total([scripted(path) for path in SCRIPTED])
    assert found.recall >= 0.7, found
    assert found.precision >= 0.95, found


@pytest.mark.parametrize("name", ["3-cells-in-parallel", "4-one-cell-reversed"])
def test_the_script_itself_holds_no_slip(name: str) -> None:
    """A talk that keeps to the script word for word is not found fault with."""
    from boardproof.kit.spoken_script import spoken_script  # the job's own piece

    proof = proofs()[f"{name}.lesson.md"]
    paragraphs = [
        paragraph for paragraph in spoken_script(proof) if all(piece.kind != "wrong" for piece in paragraph)
    ]
    words = " ".join(piece.text for paragraph in paragraphs for piece in paragraph).split()
    cues, _ = read_captions(Source("talk", as_captions(words)))
    _, report = listen_to(proof, cues)
    assert report.findings == ()
    assert report.understood * 10 >= report.words * 9


def test_a_quarter_of_an_hour_is_listened_to_whole() -> None:
    """Some 2,000 words: a long talk about one lesson. How long that takes is a benchmark."""
    proof = proofs()["4-one-cell-reversed.lesson.md"]
    talk = read_talk(SCRIPTED[0])
    cues, _ = read_captions(Source("talk", talk.captions))
    words = [word for cue in cues for word in cue.text.split()]
    long = as_captions((words * 5)[:2100])
    cues, _ = read_captions(Source("talk", long))
    _, report = listen_to(proof, cues)
    assert report.words >= 2100  # a number with a unit may count as more than one
