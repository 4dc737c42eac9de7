"""Nesting and cutting beside general libraries, in one process, on open instances and on frozen jobs like a roof's.

    python bench/nesting.py DATA [--jobs N] [--only strip|straight|lengths]

DATA is a folder with strip/ and cut1d/ as tests/data/README.md describes (or set LAPWRIGHT_NESTING_DATA). rectpack
and spyrrow are compared where they are installed; neither is needed. Heights are compared, never times; the
seconds are printed for this machine only.
"""

from __future__ import annotations

import argparse
import os
import time
from collections.abc import Iterator, Sequence
from importlib import import_module
from itertools import product
from pathlib import Path
from typing import Any

from lapwright.shop.cut1d.cut import cut
from lapwright.shop.cut1d.model import Bar, Length
from lapwright.shop.dice import Dice
from lapwright.shop.nest.check import can_be_sheared, faults
from lapwright.shop.nest.model import Part, Placed, Stock
from lapwright.shop.nest.nest import nest

ROLL = 100_000.0
Rect = tuple[int, int]
SORTS = ("SORT_AREA", "SORT_PERI", "SORT_DIFF", "SORT_SSIDE", "SORT_LSIDE", "SORT_RATIO")
FREE = (
    "MaxRectsBl", "MaxRectsBssf", "MaxRectsBaf", "MaxRectsBlsf", "SkylineBl", "SkylineBlWm", "SkylineMwf",
    "SkylineMwfl", "SkylineMwfWm", "SkylineMwflWm",
)  # fmt: skip
STRAIGHT = tuple(
    f"Guillotine{fit}{cut}"
    for fit, cut in product(("Baf", "Bssf", "Blsf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas"))
)
SPYRROW_SECONDS = 5


def library(name: str) -> Any | None:
    """A library that may be there."""
    try:
        return import_module(name)
    except ImportError:
        return None


def instances(folder: Path) -> Iterator[tuple[str, int, int, list[Rect]]]:
    """Name, width, known least height, rectangles."""
    for path in sorted((folder / "strip").glob("*_items.csv")):
        name = path.name.removesuffix("_items.csv")
        rows = [line.split(",") for line in path.read_text().split()[1:]]
        _, width, height = (folder / "strip" / f"{name}_bins.csv").read_text().split()[1].split(",")
        yield name, int(width), int(height), [(int(r[1]), int(r[2])) for r in rows]


def job(seed: int) -> tuple[int, list[Rect]]:
    """A frozen job like a roof's: pans, walls, cleats, patches; coil 24, 41.56 or 48 wide. [1/16 in]"""
    dice = Dice(seed)

    def between(low: float, high: float) -> int:
        return int(low * 16) + dice.below(int((high - low) * 16) + 1)

    width = (384, 665, 768)[seed % 3]
    count = 12 + dice.below(29)
    out: list[Rect] = []
    while len(out) < count:
        w, h, n = (
            (between(10, 22), between(24, 70), 1), (between(8, 14), between(20, 60), 2),
            (between(3, 6), between(18, 60), 1 + dice.below(3)), (between(4, 6), between(4, 6), 4),
            (between(5, 11), between(14, 40), 2), (between(16, 24), between(10, 30), 1),
        )[dice.below(6)]  # fmt: skip
        out += [(min(w, width), h)] * min(n, count - len(out))
    return width, out


def best_of(pack: Any, algorithms: Sequence[str], width: int, rects: Sequence[Rect], turn: bool) -> tuple[int, int]:
    """The rectangle library's lowest strip over all algorithms and orders; and the lowest a shear can cut."""
    lowest = lowest_cut = 1 << 30
    tall = sum(max(r) for r in rects) + 1
    for name, order in product(algorithms, SORTS):
        way = {"pack_algo": getattr(pack, name), "sort_algo": getattr(pack, order)}
        packer = pack.newPacker(mode=pack.PackingMode.Offline, rotation=turn, **way)
        for r in rects:
            packer.add_rect(*r)
        packer.add_bin(width, tall)
        packer.pack()
        placed = [Placed("", x, y, w, h) for _, x, y, w, h, _ in packer.rect_list()]
        top = int(max(p.y + p.height for p in placed))
        if len(placed) == len(rects):
            lowest = min(lowest, top)
            if top < lowest_cut and can_be_sheared(placed):
                lowest_cut = top
    return lowest, lowest_cut


def spyrrow_height(spyrrow: Any, width: int, rects: Sequence[Rect]) -> float:
    """A general irregular nester on the same strip; its width is our height."""
    rings = [[(0, 0), (w, 0), (w, h), (0, h), (0, 0)] for w, h in rects]
    shapes = [spyrrow.Item(str(i), ring, 1, [0.0, 90.0]) for i, ring in enumerate(rings)]
    strip = spyrrow.StripPackingInstance("strip", strip_height=float(width), items=shapes)
    return float(strip.solve(spyrrow.StripPackingConfig(total_computation_time=SPYRROW_SECONDS, seed=0)).width)


def ours(width: int, rects: Sequence[Rect], turn: bool, straight: bool) -> tuple[int, int, float]:
    """Our height, our bound, and how long it took here. [s]"""
    parts = [Part(str(i), w, h, 1, turn) for i, (w, h) in enumerate(rects)]
    stock = [Stock("roll", width, ROLL)]
    start = time.process_time()
    answer = nest(parts, stock, straight)
    spent = time.process_time() - start
    assert faults(answer, parts, stock, straight) == ()
    return round(answer.value), round(answer.bound), spent


def strips(folder: Path) -> None:
    """Open sets, turning allowed, free cuts."""
    pack, spyrrow = library("rectpack"), library("spyrrow")
    print("| set | optimum | ours | rectpack, best of 60 | spyrrow, 5 s | ours / best library | our seconds |")
    print("|---|---|---|---|---|---|---|")
    for name, width, height, rects in instances(folder):
        mine, _, spent = ours(width, rects, True, False)
        other = best_of(pack, FREE, width, rects, True)[0] if pack else 0
        third = spyrrow_height(spyrrow, width, rects) if spyrrow else 0.0
        least = min(x for x in (other, third, 1e9) if x)
        ratio = f"{mine / least:.3f}" if least < 1e9 else ""
        others = f"{other or ''} | {f'{third:.2f}' if third else ''}"
        print(f"| {name} | {height} | {mine} | {others} | {ratio} | {spent:.1f} |", flush=True)


def straight(count: int) -> None:
    """Frozen jobs, straight cuts, no turning."""
    pack = library("rectpack")
    print("| job | blanks | width | bound | ours | rectpack, best of 108 | ours / rectpack | our seconds |")
    print("|---|---|---|---|---|---|---|---|")
    ratios = []
    for seed in range(count):
        width, rects = job(seed)
        mine, bound, spent = ours(width, rects, False, True)
        other = best_of(pack, STRAIGHT, width, rects, False)[0] if pack else 0
        ratios.append(mine / other if other else 1.0)
        row = f"| {seed} | {len(rects)} | {width / 16:g} | {bound / 16:.1f} | {mine / 16:.1f} |"
        print(f"{row} {other / 16:.1f} | {ratios[-1]:.3f} | {spent:.1f} |", flush=True)
    worse, same = sum(r > 1 for r in ratios), sum(r == 1 for r in ratios)
    mean = sum(ratios) / len(ratios)
    lower = len(ratios) - worse - same
    print(f"\n{len(ratios)} jobs: lower on {lower}, the same on {same}, higher on {worse}; mean ratio {mean:.3f}")


def triplets(folder: Path) -> Iterator[tuple[float, list[float]]]:
    """Falkenauer's t60: bar, pieces."""
    lines = (folder / "cut1d" / "binpack5.txt").read_text().split("\n")
    at = 1
    for _ in range(int(lines[0])):
        whole, count, _ = lines[at + 1].split()
        yield float(whole), [float(x) for x in lines[at + 2 : at + 2 + int(count)]]
        at += 2 + int(count)


def gutters(kind: int, seed: int) -> tuple[list[Length], list[Bar]]:
    """Ten to sixty pieces in sixteenths, from one stock length, from two, or from two and offcuts. [in]"""
    dice = Dice(1000 * kind + seed)
    most = (110, 62, 110, 72)[kind]
    parts = [Length(f"p{i}", 12 + dice.below((most - 12) * 16) / 16) for i in range(10 + dice.below(51))]
    stock = (
        [Bar("ten", 120)],
        [Bar("ten and a half", 126)],
        [Bar("ten", 120, None, 10), Bar("twelve", 144, None, 11.7)],
        [Bar("ten", 120, None, 24), Bar("twenty", 240, None, 47), Bar("eight", 96, 3, 17.5), Bar("rest", 55, 2, 0)],
    )[kind]
    return parts, stock


def lengths(folder: Path, count: int) -> None:
    """Cutting to length: how many are proved, and in what time here."""
    print("| jobs | proved | median s | slowest s | worst gap where not proved |")
    print("|---|---|---|---|---|")
    names = ("pieces 12 to 110 from 120", "pieces 12 to 62 from 126", "two lengths, prices", "two lengths, offcuts")
    open_set = [([Length(str(i), x) for i, x in enumerate(p)], [Bar("bar", whole)]) for whole, p in triplets(folder)]
    sets = [("Falkenauer t60", open_set)]
    sets += [(name, [gutters(kind, seed) for seed in range(count)]) for kind, name in enumerate(names)]
    for name, made in sets:
        times, gaps = [], []
        for parts, stock in made:
            start = time.process_time()
            answer = cut(parts, stock)
            times.append(time.process_time() - start)
            if not answer.proved:
                gaps.append(answer.value / answer.bound - 1)
        times.sort()
        worst = f"{100 * max(gaps):.1f} %" if gaps else ""
        proved = f"{len(times) - len(gaps)} of {len(times)}"
        print(f"| {name} | {proved} | {times[len(times) // 2]:.3f} | {times[-1]:.2f} | {worst} |", flush=True)


def main() -> None:
    """Print the tables."""
    ask = argparse.ArgumentParser()
    ask.add_argument("data", nargs="?", default=os.environ.get("LAPWRIGHT_NESTING_DATA", "tests/data"), type=Path)
    ask.add_argument("--jobs", type=int, default=24)
    ask.add_argument("--only", choices=("strip", "straight", "lengths"))
    asked = ask.parse_args()
    if asked.only in (None, "strip"):
        strips(asked.data)
    if asked.only in (None, "straight"):
        straight(asked.jobs)
    if asked.only in (None, "lengths"):
        lengths(asked.data, 60)


if __name__ == "__main__":
    main()
