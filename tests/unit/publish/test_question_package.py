"""Packages of the open standard, read back by a small reader written from the standard: right and wrong answers."""

from __future__ import annotations

import io
import re
import zipfile
from fractions import Fraction
from xml.etree import ElementTree as ET

import pytest

from boardproof.practice.draws import pool_of
from boardproof.practice.families import family
from boardproof.practice.papers import paper_for
from boardproof.publish.question_package import package
from boardproof.publish.typeset import Typesetter

NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]{0,31}")
TYPE = Typesetter()


def plain(tag):
    """A name of either spelling as version 2 has it."""
    name = tag.rpartition("}")[2].removeprefix("qti-")
    return re.sub(r"-([a-z])", lambda found: found[1].upper(), name)


def attribute(element, name):
    return next((value for key, value in element.attrib.items() if plain(key) == name), None)


def found(root, name):
    return [each for each in root.iter() if plain(each.tag) == name]


def holds(test, answers):
    variable, other = list(test)
    given = answers.get(attribute(variable, "identifier"))
    if given is None:
        return False
    if plain(test.tag) == "match":
        wanted = [each.text for each in other] if plain(other.tag) == "ordered" else other.text
        return given == wanted
    low, high = (float(each) for each in attribute(test, "tolerance").split())
    key, value = float(other.text), float(given)
    size = abs(key) / 100 if attribute(test, "toleranceMode") == "relative" else 1
    return key - low * size <= value <= key + high * size


def scored(root, answers):
    """SCORE after response processing, as the standard describes it."""
    score = 0.0
    for condition in found(root, "responseCondition"):
        for branch in condition:
            if holds(branch[0], answers):
                score += sum(
                    float(each.text)
                    for each in found(branch, "baseValue")[1:]
                    if each.get("base-type", each.get("baseType")) == "float"
                    and plain(branch.tag) == "responseIf"
                )
                break
    return score


@pytest.mark.parametrize("version", ["3.0", "2.2", "2.1"])
def test_a_package_reads_back_and_scores_right_and_wrong(version):
    pools = [pool_of(family(key)) for key in ("divider", "one-cell")]
    paper = paper_for(pools, 1, "S01")
    content, _ = package("Practice", pools, [paper], version, TYPE)
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    manifest = ET.fromstring(files["imsmanifest.xml"])
    listed = {each.get("href") for each in found(manifest, "file")}
    assert listed == set(files) - {"imsmanifest.xml"}
    for name, text in files.items():
        root = ET.fromstring(text)
        for each in root.iter():
            identifier = each.get("identifier")
            assert identifier is None or NAME.fullmatch(identifier), name
    for number, variant in enumerate(paper.variants, 1):
        root = ET.fromstring(files[f"items/Q{number}-{paper.code}.xml"])
        declared = {each.get("identifier"): each for each in found(root, "responseDeclaration")}
        right = {}
        for name, each in declared.items():
            values = [value.text for value in found(each, "value")]
            right[name] = values if attribute(each, "cardinality") == "ordered" else values[0]
        most = next(
            each for each in found(root, "outcomeDeclaration") if each.get("identifier") == "MAXSCORE"
        )
        assert scored(root, right) == float(found(most, "value")[0].text) > 0
        wrong = dict(right)
        for solved in variant.parts:
            if isinstance(solved.key, Fraction):
                wrong[f"RESPONSE_{solved.label or '1'}"] = str(float(solved.key) * 1.05)
        assert scored(root, wrong) < scored(root, right)
        assert scored(root, {}) == 0
