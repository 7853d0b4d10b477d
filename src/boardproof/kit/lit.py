"""The light kit of a lesson: stills of its boards, its words, and its voice at a low rate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from boardproof.caution import Caution
from boardproof.kit.compose import Composer
from boardproof.kit.said import readable
from boardproof.picture.drawing import Frame
from boardproof.publish.document import Stamp
from boardproof.publish.light import Still, light_page
from boardproof.publish.raster import Raster
from boardproof.publish.typeset import Typesetter
from boardproof.publish.video import low_voice, still

if TYPE_CHECKING:
    from boardproof.publish.video import Sound

__all__ = ["light_kit"]


def light_kit(
    composer: Composer,
    entries: Sequence[tuple[str, int, int]],
    boards: Mapping[str, Frame],
    typesetter: Typesetter,
    stamp: Stamp,
    sound: Sound | None,
) -> dict[str, bytes]:
    """Files of the folder ``light``.

    Parameters
    ----------
    composer : Composer
        The lesson.
    entries : sequence of (str, int, int)
        Key, beginning and end of each moment in milliseconds.
    boards : mapping of str to Frame
        The wide board of each moment.
    typesetter : Typesetter
        Draws them.
    stamp : Stamp
        Version, date, draft.
    sound : array or None
        The voice.
    """
    raster = Raster(typesetter, scale=10)
    moments = {moment.key: moment for moment in composer.moments}
    files: dict[str, bytes] = {}
    rows: list[Still] = []
    scene, last = -1, None
    for key, start, _ in entries:
        moment, board = moments[key], boards[key]
        picture = ""
        if last is None or board.drawn != last.drawn:
            picture = f"board-{len(files) + 1:02}.webp"
            files[f"light/{picture}"] = still(raster.draw(board))
        title = composer.proof.lesson.scenes[moment.scene].title if moment.scene != scene else ""
        said = readable(composer.telling, moment).replace("\N{NO-BREAK SPACE}", " ")
        rows.append(Still(start, title, picture, board.alternative, said, moment.cause == "reveal"))
        scene, last = moment.scene, board
    if sound is not None:
        files["light/voice.webm"] = low_voice(sound)
    caution = composer.telling.caution([visit.place for visit in composer.proof.walk.visits])
    cautions: tuple[Caution, ...] = (caution,) if caution else ()
    voice = "voice.webm" if sound is not None else ""
    page = light_page(composer.document(), rows, cautions=cautions, stamp=stamp, voice=voice)
    return files | {"light/index.html": page.encode()}
