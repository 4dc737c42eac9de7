"""kill -9 while jobs are being saved: python bench/kill_saves.py [KILLS] [--in-place]

Bar: 1,000 kills, at least 20,000 acknowledged saves, 0 lost, 0 corrupt. A child saves as fast as it can and says
so through a pipe after each save; it is killed at a random moment, and what it had said is looked for.
`--in-place` is the mutant that must fail: the same saves into a file opened with "w".
"""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

from lapwright.store.shelf import FILE, Shelf

ROUNDS = 50  # kills before a new folder is begun, so that looking stays quick
MOST_SAVES = 50  # a child is let live until it has acknowledged so many at most
OPENING = 0.06  # [s] after which at the latest a child is killed that was not to save at all
MOMENT = 0.004  # [s] and any other one after its last save: some two saves long
Save = Callable[[Path, str], Iterator[str]]


def text_of(name: str, n: int) -> str:
    """What the n-th save of a child writes: to be recognised, and of many lengths."""
    return f"# {name} {n}\n" + "x" * (n * 7919 % 6000)


def shelved(folder: Path, name: str) -> Iterator[str]:
    """Save on the shelf: mostly changes, now and then an undo and a redo; yields what is acknowledged."""
    shelf = Shelf(folder)
    kept = shelf.add(text_of(name, 0), name)
    yield kept.text
    for n in range(1, 10**9):
        kept = shelf.change(kept.id, kept.revision, text_of(name, n), f"label {n // 3}")
        yield kept.text
        if n % 7 == 0:
            kept = shelf.undo(kept.id, kept.revision)
            kept = shelf.redo(kept.id, kept.revision)


def on_the_shelf(folder: Path) -> set[str]:
    """Every text there is; the file must be whole."""
    if not (folder / FILE).exists():
        return set()
    with closing(Shelf(folder)) as shelf, closing(sqlite3.connect(folder / FILE)) as db:
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert all(shelf.get(job.id) == job for job in shelf.jobs())
        return {text for (text,) in db.execute("SELECT text FROM states")}


def in_place(folder: Path, name: str) -> Iterator[str]:
    """The mutant: all texts written again over the old file, and pushed to the disk."""
    file = folder / "jobs.json"
    texts: list[str] = json.loads(file.read_text()) if file.exists() else []
    for n in range(10**9):
        texts.append(text_of(name, n))
        with open(file, "w") as over:
            json.dump(texts, over)
            over.flush()
            os.fsync(over.fileno())
        yield texts[-1]


def in_the_file(folder: Path) -> set[str]:
    """Every text in the mutant's file; it must be readable."""
    file = folder / "jobs.json"
    return set(json.loads(file.read_text())) if file.exists() else set()


def one_life(save: Save, folder: Path, name: str, saves: int, then: float) -> int:
    """A child saves until it is killed, `then` after so many saves; how many it had acknowledged."""
    out, into = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(out)
        for n, _ in enumerate(save(folder, name)):
            os.write(into, b"%d\n" % n)
        os._exit(0)
    os.close(into)
    with open(out, "rb") as told:
        acknowledged = sum(1 for _ in zip(range(saves), told, strict=False))
        time.sleep(then)
        os.kill(child, signal.SIGKILL)
        _, status = os.waitpid(child, 0)
        acknowledged += len(told.read().splitlines())
    if not os.WIFSIGNALED(status):
        sys.exit("a child that saves failed by itself: no figure")
    return acknowledged


def kill_saves(kills: int, save: Save, look: Callable[[Path], set[str]], seed: int = 7) -> Counter[str]:
    """Kill so many children; what was acknowledged, and of that what was lost or could not be read."""
    chance, seen = random.Random(seed), Counter[str]()
    for first in range(0, kills, ROUNDS):
        with tempfile.TemporaryDirectory() as place:
            folder, expected = Path(place), set[str]()
            for n in range(first, min(kills, first + ROUNDS)):
                name = f"life {n}"
                saves = chance.randint(0, MOST_SAVES)
                then = chance.uniform(0.0, MOMENT if saves else OPENING)
                acknowledged = one_life(save, folder, name, saves, then)
                expected |= {text_of(name, i) for i in range(acknowledged)}
                seen["saves"] += acknowledged
                try:
                    there = look(folder)
                except (AssertionError, ValueError, sqlite3.Error):
                    seen["corrupt"] += 1
                    for old in folder.iterdir():
                        old.unlink()
                    expected = set()
                    continue
                seen["lost"] += len(expected - there)
                expected &= there
    return seen


def main() -> None:
    """Print the figure."""
    words = [word for word in sys.argv[1:] if word != "--in-place"]
    kills = int(words[0]) if words else 1000
    how = (in_place, in_the_file) if "--in-place" in sys.argv else (shelved, on_the_shelf)
    seen = kill_saves(kills, *how)
    print(f"{kills} kills, {seen['saves']} acknowledged saves, {seen['lost']} lost, {seen['corrupt']} corrupt")
    sys.exit(1 if seen["lost"] or seen["corrupt"] or not seen["saves"] else 0)


if __name__ == "__main__":
    main()
