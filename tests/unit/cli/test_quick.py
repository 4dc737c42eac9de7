"""--help and --version answer at once, because nothing heavy is imported for them."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = {"ezdxf", "numpy", "rich", "shapely", "tree_sitter", "typst"}
SCRIPT = """
import sys
from lapwright.cli import main
sys.argv = ["lapwright", *{words!r}]
try:
    main()
finally:
    print(sorted({heavy!r} & set(sys.modules)), file=sys.stderr)
"""


@pytest.mark.parametrize(
    "words", [["--help"], ["--version"], ["plan", "--help"], ["new", "--help"], ["rules", "--help"]]
)
def test_help_and_version_import_nothing_heavy(words: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT.format(words=words, heavy=HEAVY)], capture_output=True, text=True
    )
    assert done.returncode == 0
    assert done.stderr == "[]\n"


def test_version_is_the_packages_own(lapwright) -> None:
    from lapwright import __version__

    assert lapwright("--version").out == f"lapwright {__version__}\n"
