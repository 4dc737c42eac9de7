"""Kill a plan at a random moment, again and again: python bench/kill_plans.py [KILLS]

Bar: 200 kills, never half a packet under its own name, and the next plan sweeps whatever lies beside it.
A packet that stood there before must still be whole, to the byte.
"""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
JOB = ROOT / "examples" / "kiln-shed" / "job.toml"


def start(folder: Path) -> subprocess.Popen[bytes]:
    """A plan in a process group of its own."""
    words = ["plan", str(JOB), "--out", str(folder)]
    script = f"import sys; sys.argv[1:] = {words!r}; from lapwright.cli import main; main()"
    return subprocess.Popen([sys.executable, "-c", script], stdout=subprocess.DEVNULL, start_new_session=True)


def held(folder: Path) -> dict[str, bytes]:
    """Every file under a packet's name."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def kill_plans(kills: int, seed: int = 7) -> tuple[Counter[str], list[str]]:
    """Kill so many plans; what was found after each, and what lies beside the packet at the end."""
    chance, seen = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory() as place:
        whole_at, folder = Path(place) / "whole", Path(place) / "work" / "packet"
        begun = time.perf_counter()
        if start(whole_at).wait():
            sys.exit("a plan that nobody killed failed: no figure")
        lasts = time.perf_counter() - begun
        whole = held(whole_at)
        for n in range(kills):
            plan = start(folder)
            # Half of them late, where the files are written.
            share = chance.uniform(0.8, 1.15) if n % 2 else chance.uniform(0.0, 1.1)
            try:
                seen["failed by itself"] += plan.wait(lasts * share) != 0
            except subprocess.TimeoutExpired:
                plan.send_signal(signal.SIGKILL)
                plan.wait()
            there = held(folder) if folder.exists() else None
            seen["none" if there is None else "whole" if there == whole else "HALF"] += 1
            if n % 3 == 2 and folder.exists():
                start(folder).wait()
        start(folder).wait()
        seen["whole at last" if held(folder) == whole else "HALF at last"] += 1
        beside = sorted(p.name for p in folder.parent.iterdir() if p.name != folder.name)
    return seen, beside


def main() -> None:
    """Print the figure."""
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    seen, beside = kill_plans(kills)
    print(f"{kills} kills: " + ", ".join(f"{n} {what}" for what, n in sorted(seen.items())))
    print(f"left beside the packet: {', '.join(beside) or 'nothing'}")
    sys.exit(1 if seen["HALF"] or seen["HALF at last"] or seen["failed by itself"] or beside else 0)


if __name__ == "__main__":
    main()
