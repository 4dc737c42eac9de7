"""Files put into a folder one by one, each whole or not at all; what else lies there stays as it is."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path


def write_loose(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files under their names; an older one of the same name is replaced.

    Args:
        folder: Made where there is none.
        files: What to write, by name; no folders in the names.

    Raises:
        OSError: the disk refused; every file there is either what it was or the new one.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        part = folder / f".{name}.{os.getpid()}.part"
        try:
            part.write_bytes(content)
            os.replace(part, folder / name)
        finally:
            part.unlink(missing_ok=True)
