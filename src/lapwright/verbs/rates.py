"""rates: the packaged rates as a file to edit, and a shop's own rates off the disk."""

from __future__ import annotations

from dataclasses import replace
from importlib.resources import files
from pathlib import Path

from lapwright.errors import JobProblems
from lapwright.shop.price_list import FILE, Rates, read_rates
from lapwright.store.inbox import read_job_file


def packaged_text() -> str:
    """The packaged rates as they are written, comments and all."""
    return files("lapwright.data").joinpath("rates.toml").read_text(encoding="utf-8")


def read_rates_file(path: Path | None) -> Rates | None:
    """A shop's own rates; None where no file is named.

    Raises:
        JobProblems: it cannot be read or names what there is none of; all its problems at once.
    """
    if path is None:
        return None
    return read_rates(_bytes(path), str(path))


def _bytes(path: Path) -> bytes:
    try:
        return read_job_file(path, str(path))
    except JobProblems as error:
        told = tuple(replace(p, field=FILE, key="price.rates.unreadable") for p in error.problems)
        raise JobProblems(str(path), told) from error
