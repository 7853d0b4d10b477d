"""The lock files pin everything that pyproject.toml asks for, by checksum, and name no registry."""

from __future__ import annotations

import re
import tomllib

from house.tree import ROOT

LOCKS = ("requirements.lock", "requirements-tests.lock")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def pins(name: str) -> dict[str, list[str]]:
    """Pinned requirement to its checksums."""
    found: dict[str, list[str]] = {}
    for line in (ROOT / name).read_text(encoding="utf-8").splitlines():
        if re.match(r"[a-z0-9]", line):
            requirement = line.removesuffix("\\").strip()
            found[requirement] = []
        elif "--hash=sha256:" in line:
            found[requirement].append(line.strip())
    return found


def test_every_pin_is_exact_and_has_checksums() -> None:
    for name in LOCKS:
        assert {pin: sums for pin, sums in pins(name).items() if "==" not in pin or not sums} == {}


def test_the_product_is_tested_with_the_versions_it_is_installed_with() -> None:
    product, tests = ({pin.split(" ")[0]: sums for pin, sums in pins(name).items()} for name in LOCKS)
    assert product.items() <= tests.items()


def test_each_dependency_is_pinned_within_its_bounds() -> None:
    asked = [*PROJECT["project"]["dependencies"], *PROJECT["dependency-groups"]["dev"]]
    pinned = dict(pin.split(" ")[0].split("==") for pin in pins("requirements-tests.lock"))
    for line in asked:
        name, least, below = re.fullmatch(r"([\w-]+)>=([\d.]+),<([\d.]+)", line).groups()
        assert number(least) <= number(pinned[name]) < number(below), line


def number(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in version.split("."))
