"""The command line: turns words into verbs and a Job into words. No arithmetic."""

from __future__ import annotations

import gc
import os
import sys

MUCH = 100_000
"""New objects before Python looks for garbage among them: a plan makes as many, all of them in use to its end."""


def main() -> None:
    """Run the command line and leave with its exit code; our own bug leaves with 1 and no traceback."""
    gc.set_threshold(MUCH)
    try:
        for stream in (sys.stdout, sys.stderr):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]
        from lapwright.cli.app import app

        app()
    except Exception as bug:
        if os.environ.get("LAPWRIGHT_DEBUG"):
            raise
        from lapwright.words import Speaker

        print(Speaker().say("cli.bug", kind=type(bug).__name__, what=str(bug)), file=sys.stderr)
        sys.exit(1)
