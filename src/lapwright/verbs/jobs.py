"""The jobs a person keeps, as a face sees them: the shelf, what a new job starts from, and a job worked out."""

from __future__ import annotations

import os
import sys
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from lapwright.job import Job
from lapwright.site.read import read_job
from lapwright.store.shelf import Kept, NoSuchJob, NotSaved, Past, Shelf, Stale, Unfit
from lapwright.verbs.new import starter_job

__all__ = [
    "Job", "Kept", "NoSuchJob", "NotSaved", "Past", "Shelf", "Stale", "Unfit",
    "blank_job", "data_folder", "example", "examples", "starter_job", "worked_out",
]  # fmt: skip


def data_folder() -> Path:
    """Where jobs lie when nobody says: the user's own place for such data on this system."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Lapwright"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "Lapwright"
    named = os.environ.get("XDG_DATA_HOME", "")
    # the XDG base directory specification: a path that is not absolute is to be ignored
    return (Path(named) if os.path.isabs(named) else home / ".local" / "share") / "lapwright"


def blank_job(name: str, units: str = "in") -> str:
    """A job file nothing was measured for yet: its name and its unit.

    Args:
        name: What to call it; must be printable on one line.
        units: "in" or "mm".
    """
    import tomlkit

    text = tomlkit.document()
    text["job"] = {"name": name, "units": units}
    return tomlkit.dumps(text)


def examples() -> tuple[str, ...]:
    """The names of the example roofs that come with the program (all invented)."""
    return tuple(sorted(e.name for e in _examples().iterdir() if e.joinpath("job.toml").is_file()))


def example(name: str) -> str:
    """The job file of an example.

    Raises:
        NoSuchJob: there is no such example.
    """
    if name not in examples():
        raise NoSuchJob("store.no_such_job")
    return _examples().joinpath(name, "job.toml").read_text(encoding="utf-8")


def _examples() -> Traversable:
    """In an installed program beside its modules; in a checkout at the root."""
    packed = files("lapwright") / "examples"
    return packed if packed.is_dir() else Path(__file__).parents[3] / "examples"


def worked_out(text: str, name: str) -> Job:
    """A job from its text, each stage worked out when it is first asked for.

    Args:
        text: The job file.
        name: What to call it in a problem.

    Raises:
        JobProblems: it cannot be read or makes no sense; all its problems at once.
    """
    return Job(read_job(text, name))
