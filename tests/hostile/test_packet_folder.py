"""kill -9 and a failing disk while a packet is written: never half a packet at its name.

LAPWRIGHT_KILLS sets the number of kills (40 in the ordinary run; the bar is 200).
"""

from __future__ import annotations

import builtins
import errno
import os
import random
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from lapwright.store import outbox

KILLS = int(os.environ.get("LAPWRIGHT_KILLS", "40"))
NAMES = ["plan.json", "packet.pdf", "cutlist.csv", *(f"cut/piece-{i}.dxf" for i in range(20))]

# Writes packets for ever, each with one letter in all its files, until it is killed.
WRITER = """
import sys
from pathlib import Path
from lapwright.store.outbox import write_packet
names = {names!r}
def in_place(folder, files):
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
print("ready", flush=True)
for n in range(10**9):
    {write}(Path(sys.argv[1]), {{name: bytes([65 + n % 26]) * 9000 for name in names}})
"""


def letters(folder: Path) -> set[bytes] | None:
    """What stands in the packet's files: one full letter if it is whole, None if there is no packet."""
    if not folder.exists():
        return None
    found = {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}
    if sorted(found) != sorted(NAMES):
        return {b"files missing"}
    return set(found.values())


def whole(folder: Path) -> bool:
    seen = letters(folder)
    return seen is None or (len(seen) == 1 and len(next(iter(seen))) == 9000)


def kill_while_writing(write: str, folder: Path, kills: int) -> int:
    """Kill a writer at a random moment, again and again; how often was what it left not whole?"""
    chance, broken = random.Random(7), 0
    for _ in range(kills):
        script = WRITER.format(names=NAMES, write=write)
        with subprocess.Popen([sys.executable, "-c", script, str(folder)], stdout=subprocess.PIPE) as writer:
            assert writer.stdout is not None
            assert writer.stdout.readline() == b"ready\n"
            time.sleep(chance.uniform(0.0, 0.3))  # a busy machine is slow: some must finish
            writer.kill()
        broken += not whole(folder)
    return broken


def test_a_killed_writer_never_leaves_half_a_packet(tmp_path: Path) -> None:
    folder = tmp_path / "p"
    assert kill_while_writing("write_packet", folder, KILLS) == 0
    assert letters(folder) is not None, (
        "no packet was ever finished: the kills came too early to prove a thing"
    )
    outbox.write_packet(folder, dict.fromkeys(NAMES, b"x" * 9000))
    assert [p.name for p in tmp_path.iterdir()] == ["p"], "the next packet sweeps what the killed ones left"


def test_writing_in_place_would_be_caught(tmp_path: Path) -> None:
    assert kill_while_writing("in_place", tmp_path / "p", 8) > 0


class Fault:
    """Stands in for a system call; the `at`-th call of any of them fails."""

    def __init__(self, at: int, why: int) -> None:
        self.left, self.why = at, why

    def __call__(self, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **named: Any) -> Any:
            self.left -= 1
            if self.left == 0:
                raise OSError(self.why, os.strerror(self.why))
            return real(*args, **named)

        return call


@pytest.mark.parametrize("why", [errno.ENOSPC, errno.EIO, errno.EROFS], ids=errno.errorcode.get)
@pytest.mark.parametrize("swap_is_known", [True, False])
@pytest.mark.parametrize("old_packet", [True, False])
def test_a_disk_that_refuses_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, why: int, swap_is_known: bool, old_packet: bool
) -> None:
    old, new = dict.fromkeys(NAMES, b"A" * 9000), dict.fromkeys(NAMES, b"B" * 9000)
    refused = 0
    for at in range(1, 1000):
        folder = tmp_path / str(at) / "p"
        if old_packet:
            outbox.write_packet(folder, old)
        fault = Fault(at, why)
        with monkeypatch.context() as patch:
            if not swap_is_known:
                patch.setattr(outbox, "_exchange", lambda one, other: False)
            for name in ("fsync", "rename", "mkdir"):
                patch.setattr(os, name, fault(getattr(os, name)))
            patch.setattr(builtins, "open", fault(builtins.open))
            try:
                outbox.write_packet(folder, new)
            except OSError as refusal:
                assert refusal.errno == why
                refused += 1
            else:
                assert letters(folder) == {b"B" * 9000}, "said to be written, and was not"
        assert whole(folder), f"half a packet after the fault at call {at}"
        if folder.parent.exists():
            assert [p.name for p in folder.parent.iterdir() if p.name != "p"] == []
        if fault.left > 0:
            break
    # 23 files: one open and one fsync each, besides folders and renames.
    assert refused >= 2 * len(NAMES)


def test_a_full_disk_half_way_through_a_file_leaves_no_packet(tmp_path: Path) -> None:
    # The system itself cuts files off at 4096 bytes: a true short write, not a stand-in.
    script = """
import resource, signal, sys
from pathlib import Path
from lapwright.store.outbox import write_packet
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
write_packet(Path(sys.argv[1]), {"plan.json": b"x" * 9000})
"""
    done = subprocess.run([sys.executable, "-c", script, str(tmp_path / "p")], capture_output=True, text=True)
    assert done.returncode == 1
    assert "File too large" in done.stderr
    assert list(tmp_path.iterdir()) == []
