"""Public things are documented, public lengths name their unit, and the examples in docstrings run."""

from __future__ import annotations

import ast
import doctest
import importlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "src" / "lapwright"
MODULES = sorted(SRC.rglob("*.py"))
# A unit in brackets ([in], [in2], [in/12in], [deg], [pt], [-] for none), or a word that is one.
UNIT = re.compile(
    r"\[[a-z0-9%/.\- ]+\]|\b(inch|inches|points?|degrees?|in2|deg|rad|lb|gpm|psf|mph|sq ft|per 12|units?)\b",
    re.IGNORECASE,
)
IDS = [str(p.relative_to(SRC)) for p in MODULES]


def public(path: Path) -> Iterator[tuple[ast.FunctionDef | ast.ClassDef, str]]:
    """Public functions, classes and the methods of public classes, with their docstrings."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node, ast.get_docstring(node) or ""
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef) and not inner.name.startswith("_"):
                    yield inner, f"{ast.get_docstring(inner) or ''} {ast.get_docstring(node) or ''}".strip()


def speaks_of_a_float(function: ast.FunctionDef) -> bool:
    """Does it take or return a bare float (a text turned into one, or a printed one, aside)?"""
    asked = [arg.annotation for arg in function.args.args + function.args.kwonlyargs] + [function.returns]
    return any(isinstance(a, ast.Name) and a.id == "float" for a in asked)


def said_by(path: Path) -> str:
    """What a file says of itself, and its folder of all its files."""
    both = (path, path.parent / "__init__.py")
    return " ".join(ast.get_docstring(ast.parse(p.read_text(encoding="utf-8"))) or "" for p in both)


@pytest.mark.parametrize("path", MODULES, ids=IDS)
def test_every_public_thing_says_what_it_does(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not text.strip() or ast.get_docstring(ast.parse(text)), f"{path.name} says nothing of itself"
    for node, said in public(path):
        assert said, f"{path.name}:{node.lineno}: {node.name} says nothing of itself"


@pytest.mark.parametrize("path", MODULES, ids=IDS)
def test_every_public_float_has_its_unit_named(path: Path) -> None:
    # Beside the number, or once for its class, file or folder. geom/ takes any unit and gives it back.
    if path.parent.name == "geom":
        return
    for node, said in public(path):
        if isinstance(node, ast.FunctionDef) and speaks_of_a_float(node):
            named = UNIT.search(f"{said} {said_by(path)}")
            assert named, f"{path.name}:{node.lineno}: {node.name}: in what unit? Say it in brackets: [in]"


@pytest.mark.parametrize("path", MODULES, ids=IDS)
def test_the_examples_in_docstrings_are_true(path: Path) -> None:
    if ">>>" not in path.read_text(encoding="utf-8"):
        return
    name = ".".join(("lapwright", *path.relative_to(SRC).with_suffix("").parts)).removesuffix(".__init__")
    failed, tried = doctest.testmod(importlib.import_module(name))
    assert tried > 0
    assert failed == 0
