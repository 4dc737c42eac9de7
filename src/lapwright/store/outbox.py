"""The packet folder: there whole, or not there at all.

    write_packet(folder, files)
      |-- lock the folder it will stand in       one packet at a time; released by the system if we are killed
      |-- sweep what a killed run left           .NAME.<pid>.part
      |-- write every file into .NAME.<pid>.part, then push files and folders to the disk
      `-- change places with NAME in one step    the old packet is now the .part, and is removed
"""

from __future__ import annotations

import ctypes
import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from fnmatch import fnmatchcase
from pathlib import Path, PurePosixPath

from lapwright.errors import LapwrightError

# What a packet of any version may hold. A folder with anything else in it is the user's own.
OURS = (
    "plan.json", "packet.pdf", "packet-letter.pdf", "packet-a4.pdf", "packet.html", "quote.pdf",
    "quote-letter.pdf", "quote-a4.pdf", "cutlist.csv", "takeoff.csv", "quote.csv", "model.glb",
    "templates.pdf", "templates-letter.pdf", "templates-a4.pdf", "drawings/*.svg", "cut/*.dxf",
)  # fmt: skip
_SWAP = 2  # RENAME_EXCHANGE of renameat2
_HERE = -100  # AT_FDCWD


class NotOurs(LapwrightError):
    """The place asked for holds something (`what`) that is no packet's. Nothing was changed."""


def write_packet(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put a packet on the disk under its final name, whole or not at all.

    Whatever happens on the way (killed, disk full, no right to write), `folder` afterwards is either
    what it was before or the new packet. When this returns, the packet has reached the disk.

    Args:
        folder: The packet's final name; the folders above it are made. An older packet there is replaced.
        files: What the packet holds, by its name inside the packet ("cut/back-pan.dxf").

    Raises:
        NotOurs: `folder` exists and holds something that is no packet's.
        OSError: the disk refused. `folder` is as it was or, if only the last push failed, all new.
        ValueError: a name leads out of the packet (our bug).
    """
    for name in files:
        if PurePosixPath(name).is_absolute() or ".." in PurePosixPath(name).parts:
            raise ValueError(f"{name!r} leads out of the packet")
    folder = Path(os.path.realpath(folder))
    folder.parent.mkdir(parents=True, exist_ok=True)
    with _alone_in(folder.parent) as alone:
        if alone:
            _sweep(folder)
        _refuse_what_is_not_ours(folder, files)
        part = folder.with_name(f".{folder.name}.{os.getpid()}.part")
        try:
            _fill(part, files)
            _take_the_place_of(part, folder)
            _push(folder.parent)
        finally:
            # After the change of places this is the packet that stood here; after a fault, half of ours.
            shutil.rmtree(part, ignore_errors=True)


@contextmanager
def _alone_in(folder: Path) -> Iterator[bool]:
    """Wait for any other packet being written in this folder; False where the disk knows no locks."""
    import fcntl

    held = os.open(folder, os.O_RDONLY)
    try:
        try:
            fcntl.flock(held, fcntl.LOCK_EX)
            alone = True
        except OSError:
            alone = False
        yield alone
    finally:
        os.close(held)


def _sweep(folder: Path) -> None:
    """Clear what killed runs left beside the packet, but put back an old packet that lost its name."""
    for stray in sorted(folder.parent.glob(f".{_plain(folder.name)}.*.old")):
        if not folder.exists():
            stray.rename(folder)
        else:
            shutil.rmtree(stray, ignore_errors=True)
    for stray in folder.parent.glob(f".{_plain(folder.name)}.*.part"):
        shutil.rmtree(stray, ignore_errors=True)


def _plain(name: str) -> str:
    """A name with nothing in it that a pattern would take for a wild card."""
    return "".join(f"[{c}]" if c in "*?[" else c for c in name)


def _refuse_what_is_not_ours(folder: Path, files: Mapping[str, bytes]) -> None:
    if not folder.exists():
        return
    if not folder.is_dir():
        raise NotOurs("store.not_ours", folder=str(folder), what=folder.name)
    for path in sorted(folder.rglob("*")):
        inside = path.relative_to(folder).as_posix()
        if path.is_dir() and not path.is_symlink():
            continue
        if inside not in files and not any(fnmatchcase(inside, pattern) for pattern in OURS):
            raise NotOurs("store.not_ours", folder=str(folder), what=inside)


def _fill(part: Path, files: Mapping[str, bytes]) -> None:
    """Write the files, then push each file and each folder down to the disk."""
    folders = {part}
    part.mkdir()
    for name, content in files.items():
        path = part / name
        if path.parent not in folders:
            path.parent.mkdir(parents=True, exist_ok=True)
            folders.add(path.parent)
        with open(path, "xb") as out:
            out.write(content)
    # Pushed only when all are written: the disk then takes them in one go instead of waiting file by file.
    for path in [part / name for name in files] + sorted(folders, reverse=True):
        _push(path)


def _push(path: Path) -> None:
    """Have the system put a file or a folder on the disk before we go on."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _take_the_place_of(part: Path, folder: Path) -> None:
    """Give the new packet its name in one step; an old one comes to lie under `part`."""
    if not folder.exists():
        part.rename(folder)
    elif not _exchange(part, folder):
        old = folder.with_name(f".{folder.name}.{os.getpid()}.old")
        folder.rename(old)
        try:
            part.rename(folder)
        except OSError:
            old.rename(folder)
            raise
        shutil.rmtree(old, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    """Swap two folders' names in one step, so that no one ever finds neither; False where that is unknown."""
    try:
        swap = ctypes.CDLL(None).renameat2
    except (AttributeError, OSError):
        return False
    return bool(swap(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _SWAP) == 0)
