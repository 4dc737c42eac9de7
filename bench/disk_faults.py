"""A disk that refuses: python bench/disk_faults.py [PLACES] [--careless]

Bar: never a false "saved". A program saves while strace lets its writes and pushes fail with EIO, ENOSPC or EROFS,
once or from then on, at every place in turn; afterwards the shelf is opened on a sound disk and all that was
called saved must be there, the shelf whole. `--careless` is the mutant that must fail: it always says saved.
"""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import tempfile
from collections import Counter
from contextlib import closing
from pathlib import Path

from lapwright.store.shelf import FILE, Shelf

SAVES = 8
FAULTS = ("EIO", "ENOSPC", "EROFS")
SAVER = """
import os, sys
from pathlib import Path
from lapwright.store.shelf import NotSaved, Shelf
try:
    shelf = Shelf(Path(sys.argv[1]))
    (kept,) = shelf.jobs()
except NotSaved:
    sys.exit(0)
for n in range(int(sys.argv[2])):
    try:
        kept = shelf.change(kept.id, kept.revision, f"save {n} " + "x" * 3000 * n, f"label {n}")
    except NotSaved:
        if sys.argv[3] != "--careless":
            os.write(1, b"refused\\n")
            continue
    os.write(1, b"saved %d\\n" % n)
"""


def one_fault(call: str, fault: str, when: str, careless: bool) -> Counter[str]:
    """Save on a disk with one fault; what was said, and what of it was false."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        with closing(Shelf(folder)) as shelf:
            kept = shelf.add("begun", "faults")
        words = [str(folder), str(SAVES), "--careless" if careless else ""]
        strace = [
            "strace", "-f", "-o", os.devnull, "-P", str(folder / FILE), "-P", f"{folder / FILE}-wal",
            "-e", f"trace={call}", "-e", f"inject={call}:error={fault}:when={when}",
        ]  # fmt: skip
        ran = subprocess.run([*strace, sys.executable, "-c", SAVER, *words], capture_output=True, text=True)
        said = ran.stdout.splitlines()
        with closing(Shelf(folder)) as shelf, closing(sqlite3.connect(folder / FILE)) as db:
            whole = db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            texts = [shelf.at(kept.id, past.revision).text for past in shelf.history(kept.id)]
        there = {" ".join(text.split()[:2]) for text in texts}
        return Counter(
            {
                "runs": 1,
                "saved": sum(line.startswith("saved") for line in said),
                "refused": said.count("refused"),
                "false": sum(line.replace("saved", "save") not in there for line in said if line != "refused"),
                "broken": (ran.returncode != 0) + (not whole),
            }
        )


def all_faults(places: int, careless: bool = False) -> Counter[str]:
    """Every fault at the first so many places, once and from there on."""
    seen = Counter[str]()
    for place in range(1, places + 1):
        for call in ("pwrite64", "fdatasync"):
            for fault in FAULTS:
                for lasting in ("", "+"):
                    seen += one_fault(call, fault, f"{place}{lasting}", careless)
    return seen


def main() -> None:
    """Print the figure."""
    words = [word for word in sys.argv[1:] if word != "--careless"]
    seen = all_faults(int(words[0]) if words else 8, "--careless" in sys.argv)
    print(
        f"{seen['runs']} faults: {seen['saved']} saves said saved, {seen['refused']} said refused, "
        f"{seen['false']} falsely saved, {seen['broken']} broken"
    )
    sys.exit(1 if seen["false"] or seen["broken"] or not seen["saved"] or not seen["refused"] else 0)


if __name__ == "__main__":
    main()
