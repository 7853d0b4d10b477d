"""Compare captions with the lessons they were recorded from: ``python tests/outside/aligned.py COURSE FOLDER``.

Each sub-folder of FOLDER holds ``lesson.txt`` (the lesson's file name in COURSE) and ``captions.vtt``. Findings go out
one JSON object a line, as for speech. Nothing else in the sub-folder is read.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "src"))

from boardproof.kit.listen import listen_to
from boardproof.kit.proof import Proof, open_course, prove_lessons
from boardproof.lesson.captions import read_captions
from boardproof.source import Source


def proofs_of(course: Path) -> dict[str, Proof]:
    """Every lesson of a course, proved, by its file name."""
    folder, findings, _ = open_course(course)
    return {proof.lesson.source.name: proof for proof in prove_lessons(folder, findings)}


def findings_of(proof: Proof, captions: str, lesson: str) -> list[dict[str, str]]:
    """What is found in one recording."""
    cues, _ = read_captions(Source("captions.vtt", captions))
    _, report = listen_to(proof, cues)
    return [
        {"lesson": lesson, "cue_start": s.time, "quote": s.quote, "kind": s.kind} for s in report.findings
    ]


def named(proofs: dict[str, Proof], name: str) -> Proof | None:
    """The lesson with this file name, with or without its ending."""
    stem = name.strip().removesuffix(".md").removesuffix(".lesson")
    return next(
        (
            proof
            for key, proof in proofs.items()
            if Path(key).name.removesuffix(".lesson.md") == Path(stem).name
        ),
        None,
    )


def main(course: str, folder: str) -> None:
    """Listen to every sub-folder."""
    proofs = proofs_of(Path(course))
    for each in sorted(path for path in Path(folder).iterdir() if path.is_dir()):
        proof = named(proofs, (each / "lesson.txt").read_text(encoding="utf-8"))
        if proof is None:
            print(f"{each.name}: no such lesson", file=sys.stderr)
            continue
        for row in findings_of(proof, (each / "captions.vtt").read_text(encoding="utf-8"), each.name):
            print(json.dumps(row, ensure_ascii=False), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:3])
