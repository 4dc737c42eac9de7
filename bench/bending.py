"""How long the order of folds takes, beside every order tried one after the other: python bench/bending.py

Prints two tables; it is no test and fails nothing. Goal (house rule): 9 operations under 0.2 s, 14 under 2 s. Every
order is only walked where it ends: up to 8 operations, in the same run, on the same checks with nothing kept.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "tests" / "property")]

from every_order import cheapest  # noqa: E402

from lapwright.detail.choose import choose  # noqa: E402
from lapwright.layout.lay_out import lay_out  # noqa: E402
from lapwright.metal.develop import develop  # noqa: E402
from lapwright.metal.make import make  # noqa: E402
from lapwright.metal.model import Body  # noqa: E402
from lapwright.shop.bending.order import orders_for  # noqa: E402
from lapwright.shop.bending.search import Found, search  # noqa: E402
from lapwright.shop.bending.strip import strip_of  # noqa: E402
from lapwright.shop.bending.strip_moves import moves_of  # noqa: E402
from lapwright.shop.bending.tools import default_kit, kits  # noqa: E402
from lapwright.site.read import read_job  # noqa: E402
from trims import trim  # noqa: E402

STRAIGHT = kits()["straight-only"].shop
DOWN, UP = (0.5, "down", 0.0), (0.5, "up", 0.0)
LONG_WIDTHS = [2.0, 1, 2, 1, 1, 1.5, 1, 2, 1.5, 1, 1]
LONG_TURNS = [-90.0, 45, -45, 90, -60, 30, -45, 90, -30, 30]
TRIMS: dict[str, Body] = {
    "drip edge, hem": trim([4, 1.5, 0.75], [-90, 45], last_hem=DOWN),
    "hat": trim([1, 1.5, 7, 1.5, 1], [90, -90, -90, 90]),
    "5 bends, 1 hem": trim([3, 1, 2, 1, 1, 1.5], [-90, 45, -45, 90, -60], last_hem=UP),
    "5 bends, 2 hems": trim([3, 1, 2, 1, 1, 1.5], [-90, 45, -45, 90, -60], DOWN, UP),
    "8 bends": trim(LONG_WIDTHS[:9], LONG_TURNS[:8]),
    "8 bends, no order": trim([*LONG_WIDTHS[:8], 0.25], LONG_TURNS[:8]),
    "10 bends, 2 hems": trim(LONG_WIDTHS, LONG_TURNS, DOWN, UP),
    "10 bends, 1 hem, no order": trim([*LONG_WIDTHS[:10], 0.25], LONG_TURNS, DOWN),
}
MOST = 8
"""Every order is walked up to this many operations."""


def timed(work: Callable[[], object]) -> tuple[object, float]:
    """What came of it, and seconds of the processor. [s]"""
    start = time.process_time()
    made = work()
    return made, time.process_time() - start


def row(name: str, body: Body) -> str:
    """One trim: the search, and every order where there are not too many."""
    strip = strip_of(develop(body))
    assert strip is not None
    moves, every = moves_of(strip, STRAIGHT)
    found, spent = timed(lambda: search(moves, every))
    assert isinstance(found, Found)
    operations = every.bit_count()
    says = f"{found.cost:6.1f}" if found.solved else "  none"
    line = f"{name:28s} {operations:4d} {says} {found.expanded:8d} {spent:9.3f}"
    if operations > MOST:
        return line
    again, every_again = moves_of(strip, STRAIGHT, keep=False)
    best, brute = timed(lambda: cheapest(again, every_again))
    agrees = (best == math.inf) != found.solved and (not found.solved or abs(float(str(best)) - found.cost) < 1e-6)
    return f"{line} {brute:9.3f} {brute / max(spent, 1e-9):9.1f}   {'same' if agrees else 'DIFFERS'}"


def main() -> None:
    """Print both tables."""
    head = f"{'trim, on the straight folder':28s} {'ops':>4s} {'cost':>6s} {'states':>8s}"
    print(f"{head} {'search s':>9s} {'every s':>9s} {'times':>9s}")
    for name, body in TRIMS.items():
        print(row(name, body))
    print()
    print(f"{'all pieces of an example':28s} {'plans':>5s} {'seconds':>8s}")
    for folder in sorted((ROOT / "examples").iterdir()):
        if (folder / "job.toml").is_file():
            site = read_job((folder / "job.toml").read_bytes(), folder.name)
            layout = lay_out(site)
            made = make(site, layout, choose(site, layout))
            orders_for(*made, kits()["straight-only"])  # what is worked out once in a process, by another kit
            plans, spent = timed(partial(orders_for, *made, default_kit()))
            assert isinstance(plans, dict)
            print(f"{folder.name:28s} {len(plans):5d} {spent:8.3f}")


if __name__ == "__main__":
    main()
