"""What `leaks` and `water` print: lines as they come, wrapped to the terminal, or JSON alone."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping, Sequence
from typing import Any

from rich.console import Console
from rich.padding import Padding


def show_lines(lines: Sequence[str]) -> None:
    """Print lines, each folded under its own indent."""
    console = Console(markup=False, highlight=False, emoji=False)
    for line in lines:
        text = line.lstrip()
        console.print(Padding(text, (0, 0, 0, len(line) - len(text)), expand=False))


def show_json(record: Mapping[str, Any]) -> None:
    """Print a record as JSON and nothing else."""
    sys.stdout.write(json.dumps(record, indent=2, ensure_ascii=False) + "\n")
