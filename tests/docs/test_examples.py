"""Every example in a docstring runs and gives what it says; so does every `>>>` in README and docs."""

from __future__ import annotations

import doctest
import importlib

import pytest

from house.tree import ROOT, modules

FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
MODULES = [f"boardproof.{module.name}".rstrip(".") for module in modules() if ">>>" in module.text]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]


@pytest.mark.parametrize("name", MODULES)
def test_docstring_examples_hold(name: str) -> None:
    tried = doctest.testmod(importlib.import_module(name), optionflags=FLAGS, verbose=False)
    assert tried.attempted
    assert tried.failed == 0


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_page_examples_hold(page) -> None:
    text = page.read_text(encoding="utf-8").replace("\n```", "\n\n")  # a fence ends the example before it
    test = doctest.DocTestParser().get_doctest(text, {}, page.name, str(page), 0)
    assert doctest.DocTestRunner(optionflags=FLAGS, verbose=False).run(test).failed == 0
