"""A talk of some 2,100 words listened to, beside difflib, which only lines its words up with the script's."""

from __future__ import annotations

import sys
from difflib import SequenceMatcher
from functools import partial

from course import ROOT
from timing import call, tell

sys.path.insert(0, str(ROOT / "tests"))

from boardproof.kit.listen import listen_to
from boardproof.kit.spoken_script import spoken_script
from boardproof.lesson.captions import read_captions
from boardproof.source import Source
from outside.test_speech import SCRIPTED, as_captions, proofs, read_talk

PEER = "difflib.SequenceMatcher"
LESSON = "4-one-cell-reversed.lesson.md"
WORDS = 2100


def main():
    proof = proofs()[LESSON]
    said, _ = read_captions(Source("talk", read_talk(SCRIPTED[0]).captions))
    words = ([word for cue in said for word in cue.text.split()] * 5)[:WORDS]
    cues, _ = read_captions(Source("talk", as_captions(words)))
    script = " ".join(piece.text for paragraph in spoken_script(proof) for piece in paragraph).split()
    peer = call(lambda: SequenceMatcher(None, script, words, autojunk=False).get_matching_blocks(), times=3)
    for way, free in (("beside the script", False), ("as a free talk", True)):
        tell(
            f"{len(words)} words heard {way}",
            call(partial(listen_to, free=free), proof, cues, times=3),
            PEER,
            peer,
            "3 s",
        )


if __name__ == "__main__":
    main()
