"""A package of the open question standard: items, figures, a test a paper, and the manifest that lists them all."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import Final
from xml.etree import ElementTree as ET

from boardproof.practice.draws import Pool
from boardproof.practice.filled import circuit_given
from boardproof.practice.papers import Paper
from boardproof.publish.question_figure import question_frame
from boardproof.publish.question_xml import Version, element, is_marked_outside, item_xml, serialised
from boardproof.publish.svg import frame_svg
from boardproof.publish.typeset import Typesetter

__all__ = ["package"]

MANIFEST: Final[Mapping[str, tuple[str, str, str, str]]] = {
    "3.0": (
        "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1",
        "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
        "QTI Package",
        "3.0.0",
    ),
    "2.2": (
        "http://www.imsglobal.org/xsd/imscp_v1p1",
        "http://www.imsglobal.org/xsd/qti/qtiv2p2/qtiv2p2_imscpv1p2_v1p0.xsd",
        "QTIv2.2 Package",
        "1.0.0",
    ),
    "2.1": (
        "http://www.imsglobal.org/xsd/imscp_v1p1",
        "http://www.imsglobal.org/xsd/qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd",
        "QTIv2.1 Package",
        "1.0.0",
    ),
}
TYPES: Final[Mapping[str, str]] = {"3.0": "v3p0", "2.2": "v2p2", "2.1": "v2p1"}
EARLY: Final = (1980, 1, 1, 0, 0, 0)


def package(
    title: str, pools: Sequence[Pool], papers: Sequence[Paper], version: str, typesetter: Typesetter
) -> tuple[bytes, str]:
    """A zip file, and a report that says what readers of it can't mark.

    Parameters
    ----------
    title : str
        Of the tests.
    pools : sequence of Pool
        Questions of each paper.
    papers : sequence of Paper
        Each becomes a test.
    version : {"3.0", "2.2", "2.1"}
        Of the standard.
    typesetter : Typesetter
        Sets labels of figures.
    """
    known: Version = "3.0" if version == "3.0" else "2.2" if version == "2.2" else "2.1"
    files: dict[str, bytes] = {}
    rows: list[tuple[str, str, tuple[str, ...], tuple[str, ...]]] = []
    outside: list[str] = []
    for paper in papers:
        names = []
        for number, (pool, variant) in enumerate(zip(pools, paper.variants, strict=True), 1):
            name = f"Q{number}-{paper.code}"
            circuit, figure = circuit_given(pool.prepared, variant.draw), None
            extra: tuple[str, ...] = ()
            if circuit is not None:
                made = question_frame(circuit, typesetter, pool.prepared.question.topic or name)
                path = f"figures/{name}.svg"
                files[path] = frame_svg(made, typesetter, "print").encode()
                figure = (f"../{path}", made.alternative or "Circuit")
                extra = (path,)
            files[f"items/{name}.xml"] = item_xml(known, name, pool.prepared, variant, figure=figure)
            rows.append((name, f"items/{name}.xml", extra, ()))
            names.append(name)
            for part, solved in zip(pool.prepared.parts, variant.parts, strict=True):
                if is_marked_outside(part.asked, solved):
                    outside.append(
                        f"{name} ({part.asked.label or '1'}): {part.asked.form}; key: {solved.shown}"
                    )
        test = f"T-{paper.code}"
        files[f"{test}.xml"] = _test(known, test, f"{title}, {paper.code}", names)
        rows.append((test, f"{test}.xml", (), tuple(names)))
    whole = {"imsmanifest.xml": _manifest(known, rows), **files}
    return _zipped(whole), _report(papers, outside, known)


def _test(version: Version, name: str, title: str, items: Sequence[str]) -> bytes:
    root = element(version, "assessmentTest", identifier=name, title=title)
    part = element(
        version, "testPart", identifier="P1", navigationMode="nonlinear", submissionMode="simultaneous"
    )
    section = element(version, "assessmentSection", identifier="S1", title=title, visible="true")
    section.extend(
        element(version, "assessmentItemRef", identifier=each, href=f"items/{each}.xml") for each in items
    )
    part.append(section)
    root.append(part)
    return serialised(root, version)


def _manifest(version: Version, rows: Sequence[tuple[str, str, tuple[str, ...], tuple[str, ...]]]) -> bytes:
    namespace, schema, kind, number = MANIFEST[version]
    root = ET.Element("manifest", {"identifier": "MANIFEST-1"})
    about = ET.SubElement(root, "metadata")
    ET.SubElement(about, "schema").text = kind
    ET.SubElement(about, "schemaversion").text = number
    ET.SubElement(root, "organizations")
    resources = ET.SubElement(root, "resources")
    for name, path, pictures, needed in rows:
        what = "test" if name.startswith("T-") else "item"
        found = ET.SubElement(
            resources,
            "resource",
            {"identifier": name, "type": f"imsqti_{what}_xml{TYPES[version]}", "href": path},
        )
        for each in (path, *pictures):
            ET.SubElement(found, "file", {"href": each})
        for each in needed:
            ET.SubElement(found, "dependency", {"identifierref": each})
    return serialised(root, version, namespace=namespace, schema=schema)


def _zipped(files: Mapping[str, bytes]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(zipfile.ZipInfo(name, EARLY), content, zipfile.ZIP_DEFLATED)
    return made.getvalue()


def _report(papers: Sequence[Paper], outside: Sequence[str], version: Version) -> str:
    head = f"{len(papers)} papers in QTI {version}. Numbers are right within 1 per cent; units stand beside boxes.\n"
    if not outside:
        return head + "A reader of this standard can mark every part.\n"
    lines = "".join(f"  {each}\n" for each in outside)
    return f"{head}These parts are handed over as text and must be marked outside:\n{lines}"
