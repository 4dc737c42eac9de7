"""A disk that is full or may not be written, without any tool: a save is refused with a sentence, never half done."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from lapwright.store.shelf import FILE, NotSaved, Shelf

# The system lets a file grow to so many bytes and no further; beyond, a write fails.
SAVER = """
import resource, signal, sys
from pathlib import Path
from lapwright.store.shelf import NotSaved, Shelf
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
shelf = Shelf(Path(sys.argv[1]))
(kept,) = shelf.jobs()
resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, resource.RLIM_INFINITY))
for n in range(200):
    try:
        kept = shelf.change(kept.id, kept.revision, f"save {n} " + "x" * 5000, f"label {n}")
        print("saved", n)
    except NotSaved:
        print("refused", n)
        if n > 60:
            break
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
kept = shelf.change(kept.id, kept.revision, "save again", "there is room again")
print("saved again")
"""


@pytest.mark.skipif(os.name != "posix", reason="limits of this kind are POSIX's")
def test_when_the_disk_is_full_saves_are_refused_and_go_on_when_there_is_room(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    id = shelf.add("begun", "full").id
    shelf.close()
    ran = subprocess.run([sys.executable, "-c", SAVER, tmp_path], capture_output=True, text=True)
    assert ran.stderr == ""
    said = ran.stdout.splitlines()
    saved = {line.replace("saved", "save") for line in said if line.startswith("saved")}
    assert any(line.startswith("refused") for line in said)
    assert "save again" in saved and len(saved) > 3
    shelf = Shelf(tmp_path)
    there = {" ".join(shelf.at(id, past.revision).text.split()[:2]) for past in shelf.history(id)}
    assert saved - there == set()
    assert shelf.get(id).text == "save again"
    shelf.close()


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_refused_with_a_sentence(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path)
    shelf.add("begun", "shut")
    shelf.close()
    (tmp_path / FILE).chmod(0o400)
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(NotSaved):
            Shelf(tmp_path).add("more", "shut")
    finally:
        tmp_path.chmod(0o700)
