"""Where the time goes when a roof is planned: python bench/plan.py [examples/kiln-shed/job.toml]

Prints a table; it is no test and fails nothing. Bars (house rule, two cores): planning itself under 150 ms, the
whole command with all its files under 1.5 s in a cold process; on the page, from a changed measure to the roof's
drawing, the opening's and one blank's card, half of the edits of the largest example under 100 ms, 19 of 20 under
250 ms.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median
from types import FunctionType, ModuleType
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
WARM_RUNS, COLD_RUNS = 20, 5
PLANNING_BAR, COMMAND_BAR = 0.150, 1.5
LARGEST = ROOT / "examples" / "cider-barn" / "job.toml"
EDITS, PAGE_BAR, SLOW_BAR = 40, 0.100, 0.250
MEASURES = ("left", "up", "width", "length")


class Stopwatch:
    """Seconds spent in each function that a page of the pipeline calls, added up over one run."""

    def __init__(self) -> None:
        self.spent: dict[str, float] = {}

    def watch(self, page: ModuleType) -> None:
        """Time every function the page has imported from another stage."""
        for name, thing in list(vars(page).items()):
            if isinstance(thing, FunctionType) and thing.__module__ not in (page.__name__, "dataclasses"):
                stage = thing.__module__.removeprefix("lapwright.")
                setattr(page, name, self.timed(f"{stage}.{name}", thing))

    def timed(self, name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        """The function, its time added under `name`."""

        def call(*args: Any, **named: Any) -> Any:
            start = time.perf_counter()
            try:
                return function(*args, **named)
            finally:
                self.spent[name] = self.spent.get(name, 0.0) + time.perf_counter() - start

        return call


def warm(path: Path) -> tuple[dict[str, float], float, float]:
    """Medians over warm runs: each stage, planning as a whole, all files as a whole. [s]"""
    import lapwright.job as job_page
    import lapwright.packet.files as files_page
    from lapwright.site.read import read_job

    watch = Stopwatch()
    watch.watch(job_page)
    watch.watch(files_page)
    read = watch.timed("site.read.read_job", read_job)
    runs: list[dict[str, float]] = []
    planning, files = [], []
    for _ in range(WARM_RUNS):
        watch.spent = {}
        start = time.perf_counter()
        job = job_page.run(read(path.read_text(encoding="utf-8"), path.name))
        planned = time.perf_counter()
        files_page.packet_files(job)
        files.append(time.perf_counter() - planned)
        planning.append(planned - start)
        runs.append(watch.spent)
    stages = {name: median(run.get(name, 0.0) for run in runs) for name in runs[0]}
    return stages, median(planning), median(files)


def cold(path: Path) -> float:
    """Median of the whole command in fresh processes, packet written. [s]"""
    seconds = []
    # As ./lapwright starts it: compiled files are kept.
    world = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    with tempfile.TemporaryDirectory() as folder:
        words = ["plan", str(path), "--out", str(Path(folder) / "packet")]
        script = f"import sys; sys.argv[1:] = {words!r}; from lapwright.cli import main; main()"
        for _ in range(COLD_RUNS):
            start = time.perf_counter()
            subprocess.run([sys.executable, "-c", script], stdout=subprocess.DEVNULL, env=world)
            seconds.append(time.perf_counter() - start)
    return median(seconds)


def page(path: Path) -> list[float]:
    """What a page waits for after each of EDITS small changes of the tape, the quickest first. [s]"""
    from lapwright.draw.card import draw_card
    from lapwright.draw.roof import draw_opening, draw_roof
    from lapwright.draw.svg import to_svg
    from lapwright.job import Job
    from lapwright.site.read import read_job
    from lapwright.words import Speaker

    site = read_job(path.read_text(encoding="utf-8"), path.name)
    speaker, first = Speaker(site.units), site.openings[0]
    spent = []
    for k in range(-1, EDITS):
        measure = MEASURES[k % len(MEASURES)]
        changed = replace(first, **{measure: getattr(first, measure) + (k + 2) / 64})
        start = time.perf_counter()
        job = Job(replace(site, openings=(changed, *site.openings[1:])))
        pieces, panels = job.metal
        roof = draw_roof(job.site, job.layout, job.detail.openings, panels, speaker)
        opening = draw_opening(job.site, job.layout, job.detail.openings[0], pieces, panels, speaker)
        # The blank with the most bends takes longest to fold and to draw.
        most = max((i for i in (*pieces, *panels) if i.blank is not None), key=lambda item: len(item.bends))
        cards = draw_card(job.with_numbers(most), speaker)
        for sheet in (roof, opening, *(card.display for card in cards)):
            to_svg(sheet)
        spent.append(time.perf_counter() - start)
    return sorted(spent[1:])  # the first pays for tables and words


def main() -> None:
    """Measure one job and print the table."""
    path = Path(sys.argv[1] if len(sys.argv) > 1 else ROOT / "examples" / "kiln-shed" / "job.toml")
    command = cold(path)
    stages, planning, files = warm(path)
    print(f"{path}: medians of {WARM_RUNS} warm runs, {COLD_RUNS} cold ones\n")
    for name, seconds in stages.items():
        print(f"  {name:<44}{seconds * 1000:9.1f} ms")
    print()
    waits = page(LARGEST)
    for name, seconds, bar in (
        ("planning (read and run)", planning, PLANNING_BAR),
        ("all files, warm", files, None),
        ("the whole command, cold", command, COMMAND_BAR),
        (f"page: {EDITS} edits of {LARGEST.parent.name}, median", median(waits), PAGE_BAR),
        ("page: 19 of 20 edits", waits[-(EDITS // 20) - 1], SLOW_BAR),
    ):
        said = "" if bar is None else f"   bar {bar * 1000:.0f} ms{'' if seconds < bar else '   OVER'}"
        print(f"  {name:<44}{seconds * 1000:9.1f} ms{said}")


if __name__ == "__main__":
    main()
