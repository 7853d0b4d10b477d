"""Names come from the trade, data stays frozen, and nothing doubtful or private slips into the tree."""

from __future__ import annotations

import ast
import re
from typing import TYPE_CHECKING

import pytest

from house.tree import FUNCTIONS, Module, modules, tracked_texts

if TYPE_CHECKING:
    from collections.abc import Iterable

VAGUE = {"util", "utils", "helper", "helpers", "common", "misc", "manager", "handler", "data", "info"}
TYPE_ENDINGS = ("_list", "_dict", "_tuple", "_str", "_int", "_float", "_bool")
RUNS_TEXT = {"eval", "exec", "compile", "__import__", "sympify"}
UNSAFE_PACKAGES = {"pickle", "marshal", "shelve", "yaml", "dill"}
FROZEN_SHARE = 0.95
WAIVERS_PER_LINE = 2 / 1000
# Put together from pieces, so that this file does not find itself.
MARKS = re.compile(r"\b(" + "|".join(["TO" + "DO", "FIX" + "ME", "HA" + "CK"]) + r")\b")
PLACES = re.compile(
    r"(?<![\w.])/(" + "|".join(["wo" + "rk", "tm" + "p", "ro" + "ot", "dev/" + "shm"]) + r")/"
)
HOSTS = re.compile("|".join(["pypi" + r"\.org", "python" + "hosted", "--index" + "-url", "npm" + r"js\."]))
CODES = re.compile(r"\[[\w, -]+\]|:\s*[A-Z]+\d+(,\s*[A-Z]+\d+)*")
WAIVER = re.compile(r"#\s*(type:\s*ignore|noqa|pragma:\s*no cover)(?P<rest>.*)")


def words(name: str) -> set[str]:
    """Words of a snake_case or CamelCase name, in lower case."""
    return {word.lower() for word in re.findall(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])", name)}


def vague_names(found: Iterable[Module]) -> list[str]:
    faults = []
    for module in found:
        if VAGUE & {word for part in module.name.split(".") for word in words(part)}:
            faults.append(f"{module.name}: a vague module name")
        for node in ast.walk(module.tree):
            if isinstance(node, (*FUNCTIONS, ast.ClassDef)) and VAGUE & words(node.name):
                faults.append(f"{module.name}:{node.lineno} {node.name} says too little")
            name = node.arg if isinstance(node, ast.arg) else getattr(node, "id", "")
            is_new = isinstance(node, ast.arg) or isinstance(getattr(node, "ctx", None), ast.Store)
            if is_new and name.endswith(TYPE_ENDINGS):
                faults.append(f"{module.name}:{node.lineno} {name} names its type")
    return faults


def unfrozen(found: Iterable[Module]) -> tuple[list[str], int]:
    """Data classes that are not frozen, and the count of all."""
    loose, count = [], 0
    for module in found:
        for node in ast.walk(module.tree):
            for mark in node.decorator_list if isinstance(node, ast.ClassDef) else ():
                called = mark.func if isinstance(mark, ast.Call) else mark
                name = ast.unparse(called).split(".")[-1]
                if name not in {"dataclass", "record"}:
                    continue
                count += 1
                if name == "dataclass" and not (
                    isinstance(mark, ast.Call) and "frozen=True" in ast.unparse(mark)
                ):
                    loose.append(f"{module.name}.{node.name}")
    return loose, count


def unsafe_calls(found: Iterable[Module]) -> list[str]:
    faults = []
    for module in found:
        for node in ast.walk(module.tree):
            match node:
                case ast.Call(func=ast.Name(id=name)) if name in RUNS_TEXT:
                    faults.append(f"{module.name}:{node.lineno} calls {name}")
                case ast.Call() if any(k.arg == "shell" for k in node.keywords):
                    faults.append(f"{module.name}:{node.lineno} uses a shell")
                case ast.Call(func=ast.Attribute(value=ast.Name(id="os"), attr="system")):
                    faults.append(f"{module.name}:{node.lineno} uses a shell")
                case ast.Import(names=names) if UNSAFE_PACKAGES & {a.name.split(".")[0] for a in names}:
                    faults.append(f"{module.name}:{node.lineno} imports an unsafe reader")
                case ast.ImportFrom(module=str(package)) if package.split(".")[0] in UNSAFE_PACKAGES:
                    faults.append(f"{module.name}:{node.lineno} imports an unsafe reader")
    return faults


def waivers(found: Iterable[Module]) -> tuple[list[str], int]:
    """Waivers without a code and a reason, and the count of those for types."""
    bare, count = [], 0
    for module in found:
        for number, line in enumerate(module.lines, 1):
            waiver = WAIVER.search(line)
            if waiver is None:
                continue
            count += waiver[1].startswith("type")
            code = CODES.match(waiver["rest"])
            if code is None and not waiver[1].startswith("pragma"):
                bare.append(f"{module.name}:{number} waives every rule")
            elif not re.search(r"[#;-].*\w{3}", waiver["rest"][code.end() if code else 0 :]):
                bare.append(f"{module.name}:{number} gives no reason")
    return bare, count


def text_faults(texts: Iterable[tuple[str, str]]) -> list[str]:
    faults = []
    for name, text in texts:
        for pattern, told in ((MARKS, "unfinished"), (PLACES, "a machine's path"), (HOSTS, "a registry")):
            found = pattern.search(text)
            if found:
                line = text.count("\n", 0, found.start()) + 1
                faults.append(f"{name}:{line} {told}: {found[0]}")
    return faults


def test_no_vague_names() -> None:
    assert vague_names(modules()) == []


def test_data_classes_are_frozen() -> None:
    loose, count = unfrozen(modules())
    assert len(loose) <= (1 - FROZEN_SHARE) * count, loose


def test_no_text_is_run_as_a_program() -> None:
    assert unsafe_calls(modules()) == []


def test_waivers_are_few_and_give_their_reason() -> None:
    bare, count = waivers(modules())
    lines = sum(len(module.lines) for module in modules())
    assert bare == []
    assert count <= max(2, WAIVERS_PER_LINE * lines)


def test_no_unfinished_marks_paths_or_hosts() -> None:
    assert text_faults(tracked_texts()) == []


@pytest.mark.parametrize(
    "text",
    ["def read_data(): ...", "class NodeManager: ...", "def f(cell_list): ...", "rows_dict = {}"],
)
def test_a_vague_name_is_seen(text: str) -> None:
    assert vague_names([Module("solve.network", text)])


def test_a_plain_name_is_left_alone() -> None:
    assert vague_names([Module("solve.network", "class Database: ...\ndef update(information): ...")]) == []
    assert vague_names([Module("solve.utils", "")])


def test_a_loose_data_class_is_seen() -> None:
    marks = ("@dataclass", "@dataclass(frozen=True)", "@dataclasses.dataclass(slots=True)", "@record")
    text = "\n".join(f"{mark}\nclass {name}: ..." for mark, name in zip(marks, "ABCD", strict=True))
    assert unfrozen([Module("a", text)]) == (["a.A", "a.C"], 4)


@pytest.mark.parametrize(
    "text",
    ["eval('1')", "import pickle", "from yaml import load", "run('ls', shell=True)", "os.system('ls')"],
)
def test_an_unsafe_call_is_seen(text: str) -> None:
    assert unsafe_calls([Module("a", text)])


IGNORE, NOQA, PRAGMA = "# type" + ": ignore", "# no" + "qa", "# pragma" + ": no cover"


@pytest.mark.parametrize(
    "mark",
    [
        IGNORE,
        f"{IGNORE}[misc]",
        f"{IGNORE}  # the library lies",
        f"{NOQA}: E501",
        f"{NOQA} - a table",
        PRAGMA,
    ],
)
def test_a_bare_waiver_is_seen(mark: str) -> None:
    assert waivers([Module("a", f"x = 1  {mark}")])[0]


@pytest.mark.parametrize(
    ("mark", "count"),
    [
        (f"{IGNORE}[misc]  # the library has no types", 1),
        (f"{NOQA}: E501, S101 - a table", 0),
        (f"{PRAGMA} - Windows only", 0),
    ],
)
def test_a_waiver_with_its_reason_is_left_alone(mark: str, count: int) -> None:
    assert waivers([Module("a", f"x = 1  {mark}")]) == ([], count)


@pytest.mark.parametrize("piece", ["TO" + "DO: later", "see /" + "tmp/x", "https://pypi" + ".org/simple"])
def test_a_slip_in_a_text_is_seen(piece: str) -> None:
    assert text_faults([("a.md", f"one\n{piece}")])[0].startswith("a.md:2 ")
