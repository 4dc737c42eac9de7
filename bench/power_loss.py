"""Is every save on the disk before it is acknowledged? python bench/power_loss.py [SAVES] [--no-barrier]

Bar: 0 acknowledgements before the disk was told to keep what they say. kill -9 cannot see this: what was
written but not pushed is lost only with the power. The system calls are counted with strace: between two
acknowledgements every file written must have been followed by an fdatasync (or fsync) of that file.
`--no-barrier` is the mutant that must fail: the shelf with synchronous=NORMAL.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

CALLS = "pwrite64,pwritev,write,ftruncate,fdatasync,fsync"
SAVER = """
import os, sys
from pathlib import Path
from lapwright.store.shelf import Shelf
shelf = Shelf(Path(sys.argv[1]))
if sys.argv[3] == "--no-barrier":
    shelf._db.execute("PRAGMA synchronous = NORMAL")
kept = shelf.add("0", "power")
for n in range(int(sys.argv[2])):
    do = (shelf.undo, shelf.redo)[n % 2] if n % 10 >= 8 else None
    kept = do(kept.id, kept.revision) if do else shelf.change(kept.id, kept.revision, str(n) * 50, f"label {n}")
    os.write(1, b"acknowledged\\n")
"""
CALL = re.compile(r"(?:\[pid\s+\d+\] )?(\w+)\((\d+)<([^>]*)>(.*)")


def watch(saves: int, mutant: bool) -> Counter[str]:
    """Save so often under strace; how many acknowledgements came after, and how many before, their barrier."""
    with tempfile.TemporaryDirectory() as place:
        log = Path(place) / "calls"
        words = [place, str(saves), "--no-barrier" if mutant else ""]
        strace = ["strace", "-f", "-y", "-s", "16", "-e", f"trace={CALLS}", "-o", str(log)]
        subprocess.run([*strace, sys.executable, "-c", SAVER, *words], check=True, stdout=subprocess.DEVNULL)
        return judge(log.read_text().splitlines(), place)


def judge(calls: list[str], folder: str) -> Counter[str]:
    """Read a log of calls in order. The shared index (-shm) holds nothing that is needed after a restart."""
    seen, waiting = Counter[str](), set[str]()
    for line in calls:
        call = CALL.search(re.sub(r"^\d+ +", "", line))
        if call is None:
            continue
        name, number, file, rest = call.groups()
        if name in ("fdatasync", "fsync"):
            seen["barriers"] += 1
            waiting.discard(file)
        elif number == "1" and "acknowledged" in rest:
            seen["early" if waiting else "after the barrier"] += 1
            waiting.clear()
        elif file.startswith(folder) and not file.endswith("-shm"):
            seen["writes"] += 1
            waiting.add(file)
    return seen


def main() -> None:
    """Print the figure."""
    words = [word for word in sys.argv[1:] if word != "--no-barrier"]
    saves = int(words[0]) if words else 1000
    seen = watch(saves, "--no-barrier" in sys.argv)
    print(
        f"{saves} saves: {seen['writes']} writes, {seen['barriers']} barriers (fdatasync), "
        f"{seen['after the barrier']} acknowledged after theirs, {seen['early']} before"
    )
    sys.exit(0 if seen["after the barrier"] == saves else 1)


if __name__ == "__main__":
    main()
