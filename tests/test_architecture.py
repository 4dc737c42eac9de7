"""Imports point one way, and everything left of `store` is pure."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SRC = Path(__file__).parents[1] / "src" / "lapwright"
# A name may import from its own place and from those before it. `|` parts two that may not see each other.
ORDER = """
    words units tables sources rules findings errors geom site layout water detail metal leaks checks
    shop draw packet proof job store verbs web cli
"""
PLACE = {name: i for i, group in enumerate(ORDER.split()) for name in group.split("|")}
# words prints lengths through units, and the small modules at the far left serve one another.
FAR_LEFT = {"words", "units", "tables", "sources", "rules", "findings", "errors"}
FACES_MAY_SEE = {"verbs", "units", "site", "words", "findings", "errors"}
UNPURE = {
    "glob", "http", "os", "pathlib", "random", "secrets", "shutil", "socket", "sqlite3",
    "subprocess", "sys", "tempfile", "threading", "time", "urllib", "uuid", "logging",
}  # fmt: skip
UNPURE_CALLS = {
    "breakpoint", "exec", "eval", "input", "open", "print", "__import__", ".now", ".today", ".utcnow",
}  # fmt: skip


def modules() -> list[Path]:
    return sorted(SRC.rglob("*.py"))


def area(path: Path) -> str:
    """The name in ORDER that a file belongs to: its folder, or itself at the package's root."""
    parts = path.relative_to(SRC).with_suffix("").parts
    return parts[0] if parts != ("__init__",) else "words"


def imports(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Every dotted name a file imports, wherever the statement stands (inside functions too)."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"line {node.lineno}: write the import out, not with dots"
            yield from ((node.lineno, f"{node.module}.{alias.name}") for alias in node.names)


def may_see(here: str, there: str) -> bool:
    if here == there or {here, there} <= FAR_LEFT:
        return True
    if here in ("cli", "web"):
        return there in FACES_MAY_SEE or (here, there) == ("cli", "web")  # `serve` starts the page
    return PLACE[there] < PLACE[here]


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(SRC)))
def test_a_module_imports_only_from_its_own_folder_or_from_the_left(path: Path) -> None:
    here = area(path)
    assert here in PLACE or here == "data", f"{here} has no place in the order of folders: give it one"
    for line, name in imports(ast.parse(path.read_text(encoding="utf-8"))):
        if name.startswith("lapwright."):
            there = name.split(".")[1]
            if there.startswith("__"):  # lapwright.__version__
                continue
            assert may_see(here, there), f"{path.name}:{line}: {here} may not import {there}, to its right"


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(SRC)))
def test_left_of_store_nothing_opens_times_guesses_or_prints(path: Path) -> None:
    here = area(path)
    if here in PLACE and PLACE[here] >= PLACE["store"]:
        return
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for line, name in imports(tree):
        assert name.split(".")[0] not in UNPURE, f"{path.name}:{line}: {here} is pure: no {name}"
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "id", None) or f".{getattr(node.func, 'attr', '')}"
            assert name not in UNPURE_CALLS, f"{path.name}:{node.lineno}: no {name}() in {here}"


@pytest.mark.parametrize(
    ("here", "there", "allowed"),
    [
        ("metal", "geom", True), ("geom", "metal", False), ("layout", "store", False), ("cli", "verbs", True),
        ("cli", "metal", False), ("cli", "web", True), ("web", "cli", False), ("web", "store", False),
        ("words", "units", True), ("units", "geom", False), ("site", "words", True),
    ],
)  # fmt: skip
def test_the_rule_itself_can_say_no(here: str, there: str, allowed: bool) -> None:
    assert may_see(here, there) == allowed
