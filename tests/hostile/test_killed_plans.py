"""A plan that is killed leaves a whole packet or none. Two hundred kills stand in bench/kill_plans.py."""

from __future__ import annotations

import importlib.util
from pathlib import Path

KILLS = 6
PAGE = Path(__file__).parents[2] / "bench" / "kill_plans.py"


def test_killed_plans_leave_no_half_packet_and_nothing_beside_it() -> None:
    spec = importlib.util.spec_from_file_location("kill_plans", PAGE)
    assert spec is not None and spec.loader is not None
    page = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(page)
    seen, beside = page.kill_plans(KILLS)
    assert seen["HALF"] + seen["HALF at last"] == 0
    assert seen["whole at last"] == 1
    assert beside == []
