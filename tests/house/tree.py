"""The source tree as the house tests see it: each module read once, never imported."""

from __future__ import annotations

import ast
import subprocess
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "boardproof"
Function = ast.FunctionDef | ast.AsyncFunctionDef
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


@dataclass(frozen=True)
class Module:
    """One module: its dotted name without the package's, its text, its tree."""

    name: str
    text: str
    is_package: bool = False

    @property
    def tree(self) -> ast.Module:
        return read(self.text)

    @property
    def lines(self) -> list[str]:
        return self.text.splitlines()

    @property
    def room(self) -> str:
        return self.name.split(".")[0] or "__init__"

    @property
    def functions(self) -> list[Function]:
        return [node for node in ast.walk(self.tree) if isinstance(node, FUNCTIONS)]

    @property
    def public(self) -> list[str] | None:
        """What `__all__` lists, or None if there is none."""
        for node in self.tree.body:
            targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
            if any(isinstance(target, ast.Name) and target.id == "__all__" for target in targets):
                return ast.literal_eval(node.value)
        return None


@cache
def read(text: str) -> ast.Module:
    return ast.parse(text)


@cache
def modules() -> tuple[Module, ...]:
    """Every module of the package, in order of name."""
    return tuple(module_at(path) for path in sorted(PACKAGE.rglob("*.py")))


def module_at(path: Path) -> Module:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    is_package = parts[-1] == "__init__"
    name = ".".join(parts[:-1] if is_package else parts)
    return Module(name, path.read_text(encoding="utf-8"), is_package)


@cache
def tracked_texts() -> tuple[tuple[str, str], ...]:
    """Name and text of every text file that the repository keeps or is about to."""
    words = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=True).stdout.splitlines()
    found = []
    for name in sorted(set(listed)):
        content = (ROOT / name).read_bytes() if (ROOT / name).is_file() else b"\0"
        if b"\0" not in content:
            found.append((name, content.decode("utf-8")))
    return tuple(found)
