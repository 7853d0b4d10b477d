"""Kinds of finding about files."""

from __future__ import annotations

from typing import Final

from boardproof.findings import Finding, Kind, Kinds
from boardproof.source import Span

__all__ = ["KINDS", "found_in"]

KINDS: Final = Kinds(
    [
        Kind(
            "missing-file",
            "error",
            "There is no file {name}.",
            "Did you mean {near}?",
            "The name is looked up in the course folder, as it is spelled.\n\n"
            "Before: `boardproof check cels.lesson.md`\n\nAfter: `boardproof check cells.lesson.md`",
        ),
        Kind(
            "missing-lesson",
            "error",
            "The course names a lesson {name}, but its folder has no {name}.lesson.md.",
            "Did you mean {near}?",
            "The order of the lessons decides what each of them may lean on, so a gap in it matters. Names in "
            "`lessons` are those of the files, without `.lesson.md`.\n\n"
            'Before: `lessons = ["1-cell", "2-to"]` where the file is `2-two.lesson.md`\n\n'
            'After: `lessons = ["1-cell", "2-two"]`',
        ),
        Kind(
            "unlisted-lesson",
            "note",
            "{name} is in the folder, but not in the order of lessons.",
            "Add it to `lessons` in course.toml.",
            "A lesson outside the order is checked as if it came last.\n\n"
            'Before: `lessons = ["1-cell"]` beside a file `2-two.lesson.md`\n\n'
            'After: `lessons = ["1-cell", "2-two"]`',
        ),
        Kind(
            "foreign-encoding",
            "error",
            "{name} is not written in UTF-8: {where}.",
            "Save it again as UTF-8.",
            "Ohm signs and fractions are stored differently by other encodings; guessing would spoil them.\n\n"
            "Before: a file saved as Latin-1 or UTF-16\n\nAfter: the same text, saved as UTF-8",
        ),
        Kind(
            "too-large",
            "error",
            "{name} is larger than {limit}.",
            "A lesson is a few pages of text; is this the right file?",
            "A limit keeps one wrong file from stopping everything else.\n\n"
            "Before: a recording of 40 MB that was renamed to `1-cell.lesson.md`\n\n"
            "After: the lesson's text under that name",
        ),
        Kind(
            "unread-file",
            "error",
            "{name} can't be read: {reason}.",
            "",
            "The file is there, but the system does not give it out, or it is no ordinary file.\n\n"
            "Before: a folder called `1-cell.lesson.md`\n\nAfter: a text file of that name",
        ),
        Kind(
            "outside-folder",
            "error",
            "{name} lies outside its folder.",
            "Put it into the folder.",
            "A course is one folder. Names that lead out of it are not followed, so that a course from someone "
            "else cannot reach other files.\n\n"
            "Before: a link `1-cell.lesson.md` to a file in another folder\n\n"
            "After: a copy of that file in the course folder",
        ),
        Kind(
            "foreign-file",
            "error",
            "{name} was not made by this tool, or was changed since. Nothing was written.",
            "Move it away or give it another name.",
            "What a person wrote is never overwritten. Each made file is remembered with its fingerprint in "
            "kit.json; a file without one, or with another one, is somebody's work.\n\n"
            "Before: `page.html` in the kit's folder was edited by hand\n\n"
            "After: the edited page under another name; the kit makes its own again",
        ),
        Kind(
            "changed-meanwhile",
            "error",
            "{name} was changed by something else since it was read. It was not saved.",
            "Read it again, then make the change once more.",
            "Saving over it would lose what the other program wrote.\n\n"
            "Before: the studio and an editor both have `1-cell.lesson.md` open, and both save\n\n"
            "After: read it again in one of them, then save",
        ),
    ]
)


def found_in(code: str, name: str, **facts: str) -> Finding:
    """A finding about a whole file.

    Parameters
    ----------
    code : str
        Of the kind.
    name : str
        The file's.
    **facts : str
        What its sentences speak of besides.

    Examples
    --------
    >>> found_in("missing-file", "cels.lesson.md").span.source
    'cels.lesson.md'
    """
    return Finding(KINDS[code], Span(name, 0, 0), {"name": name, **facts})
