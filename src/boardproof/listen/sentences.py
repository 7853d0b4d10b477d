"""Cutting a talk into sentences: at stops where the captions have them, else where a new subject takes a new verb."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from boardproof.algebra.spoken import Token
from boardproof.algebra.vocabulary import words_of
from boardproof.listen.hear import Speech
from boardproof.listen.things import quantity_at
from boardproof.record import record

__all__ = ["OPENERS", "Sentence", "sentences"]

OPENERS: Final = words_of(
    "so now okay ok right next but because well anyway alright then yeah if suppose imagine"
)
STARTERS: Final = words_of(
    "the a each every there it we you this that if suppose imagine take check put add look call pull leave"
    " short turn flip"
)
VERBS: Final = words_of(
    "is are was were 's 're has have had gives give gave gets get got takes take took makes make made goes go "
    "went comes come came reads read shows show loses lose lost drops drop dropped falls fall fell rises rise "
    "rose carries carry supplies supply delivers deliver drives drive puts put pushes push pulls pull wastes "
    "waste warms heats turns sits sit stays stay remains becomes become equals feels feel sees see needs need "
    "wants want means mean works work runs run flows flow leaves leave helps help adds add halves doubles does do "
    "did can could will would must should may might sends send receives receive dissipates stores store feeds "
    "draws draw beats beat climbs climb gains cancels cancel glows glow be been happen happens heat charges looks "
    "look tells splits divides opposes oppose depends"
)
SUBJECTS: Final = words_of(
    "the a an each every both all it we you they he she this that these those there our your my its nobody nothing "
    "everything everybody people students somebody someone"
)
ORDERS: Final = words_of(
    "take put make check turn pull add look call short flip double halve unplug disconnect connect "
    "remove swap replace unscrew notice remember suppose imagine"
)
ASKING: Final = words_of("what how why where which")
BINDING: Final = words_of(
    "of in on at to into from with across through by for over upon than as like between per about under inside outside "
    "without round around off behind "
    "the a an each every both all our your my its this these those no some any "
    "and or but that which who what how if when while because so since whether where whichever until unless "
    "suppose imagine say let not just only also even still now then plus minus times"
)
RIGHTLY: Final = words_of("all both quite not is are was were the that 's s them they look looks sits sit")
SUPPOSING: Final = words_of("if when suppose imagine with without whenever once as unless while supposing")
AHEAD: Final = 6
LONG: Final = 26
FOLLOWING: Final = words_of("of each across through if when in inside")
LONGEST: Final = 60
AUXILIARY: Final = words_of("is are does do did would could can will has have should was were")


@record
class Sentence:
    """A sentence, or what passes for one where the captions have no stops.

    Parameters
    ----------
    start, end : int
        Tokens.
    is_question : bool
        Whether it ends with a question mark or begins like a question.
    """

    start: int
    end: int
    is_question: bool


def sentences(speech: Speech) -> tuple[Sentence, ...]:
    """Cut the talk.

    Parameters
    ----------
    speech : Speech
        What was said.
    """
    stops = sum(1 for n in range(len(speech.words)) if speech.ends_sentence(n))
    has_stops = stops * 40 >= len(speech.words)
    found: list[Sentence] = []
    start = 0
    for n, token in enumerate(speech.tokens):
        is_last = n + 1 == len(speech.tokens)
        if is_last or speech.ends_sentence(token.end - 1) or (not has_stops and _opens(speech, start, n + 1)):
            said = speech.tokens[start : n + 1]
            asks = "?" in speech.stops[token.end - 1] or (not has_stops and _asks(said))
            found.append(Sentence(start, n + 1, asks))
            start = n + 1
    return tuple(found)


def _opens(speech: Speech, start: int, place: int) -> bool:
    """Whether a new sentence begins at a token, judged by words alone."""
    tokens = speech.tokens
    before, token = tokens[place - 1], tokens[place]
    length = place - start
    if token.kind == "word" and token.text in OPENERS and length > 2:
        return token.text != "right" or not (before.kind in {"number", "relation"} or before.text in RIGHTLY)
    if before.kind == "number" and token.text == "with":
        return place + 1 < len(tokens) and tokens[place + 1].kind == "word"
    if before.kind == "number" and (before.text or 0 < before.place < 1) and token.text in STARTERS:
        return True
    if _new_subject(tokens, start, place):
        return True
    is_end = before.kind == "number" and token.text not in FOLLOWING
    return token.kind == "word" and (length >= LONGEST or (length >= LONG and is_end))


def _new_subject(tokens: Sequence[Token], start: int, place: int) -> bool:
    """Whether a subject with a verb of its own begins, behind a clause that has had its verb."""
    before = tokens[place - 1]
    binds = before.text in BINDING | VERBS and not (before.text == "not" and tokens[place].text in SUPPOSING)
    if before.kind in {"sign", "relation"} or binds or before.text.endswith("ing"):
        return False
    begins = _leads(tokens, place) or _orders(tokens, place)
    if not begins and not (_begins_subject(tokens, place) and _has_verb(tokens, place, place + AHEAD)):
        return False
    verbs = _verbs(tokens, start, place)
    supposed = any(token.text in SUPPOSING for token in tokens[start : min(start + 3, place)])
    return place - start > 2 and verbs >= (2 if supposed else 1)


def _orders(tokens: Sequence[Token], place: int) -> bool:
    """Whether the speaker bids do something: "take the load off"."""
    behind = tokens[place + 1] if place + 1 < len(tokens) else None
    return (
        tokens[place].text in ORDERS
        and behind is not None
        and (behind.text in SUBJECTS | {"one", "out", "in", "away", "off", "it"} or behind.kind == "name")
    )


def _leads(tokens: Sequence[Token], place: int) -> bool:
    """Whether a condition begins that stands ahead of its consequence: "with no load the terminals read"."""
    if tokens[place].text == "in":
        return [token.text for token in tokens[place + 1 : place + 2]] == ["general"]
    if tokens[place].text not in {"with", "without", "if", "when", "once"}:
        return False
    needed = 0 if tokens[place].text.startswith("with") else 1
    for n in range(place + 2, min(place + 12, len(tokens))):
        if tokens[n].text in OPENERS - {"right"}:
            return False
        ahead = tokens[n - 1]
        if (
            _begins_subject(tokens, n)
            and _has_verb(tokens, n, n + AHEAD)
            and ahead.text not in BINDING | VERBS
            and ahead.kind not in {"sign", "relation"}
            and _verbs(tokens, place, n) >= needed
        ):
            return True
    return False


def _begins_subject(tokens: Sequence[Token], place: int) -> bool:
    token = tokens[place]
    if token.kind == "word" and token.text in SUBJECTS | ASKING:
        return True
    behind = tokens[place + 1] if place + 1 < len(tokens) else None
    is_verb = behind is not None and (
        behind.text in VERBS or (behind.kind == "relation" and behind.word != "")
    )
    if is_verb and (token.kind == "name" or (token.kind == "word" and len(token.text) == 1)):
        return tokens[place - 1].kind not in {"number", "name"} or tokens[place + 1].kind != "relation"
    return tokens[place - 1].kind == "number" and quantity_at(tokens, place) is not None


def _has_verb(tokens: Sequence[Token], start: int, end: int) -> bool:
    """Whether a verb follows before the next number or joint."""
    for n in range(start + 1, min(end, len(tokens))):
        if tokens[n].kind == "relation" or tokens[n].text in VERBS:
            return True
        if tokens[n].text in OPENERS | {"and", "or"}:
            return False
    return False


def _verbs(tokens: Sequence[Token], start: int, end: int) -> int:
    return sum(token.kind == "relation" or token.text in VERBS for token in tokens[start:end])


def _asks(tokens: Sequence[Token]) -> bool:
    leading = OPENERS | {"and", "no", "hang", "on"}
    opening = next((token for token in tokens if token.text not in leading), None)
    if opening is None or opening.kind not in {"word", "relation"}:
        return False
    words = [
        token.text for token in tokens[:4] if token.kind in {"word", "relation"} and token.text not in leading
    ]
    return bool(words) and words[0] in AUXILIARY
