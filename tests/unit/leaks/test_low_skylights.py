"""A skylight whose curb is no higher than its upstands: the legs under its frame lie over the pan's return."""

from __future__ import annotations

import pytest

from chimney import changed, chimney
from lapwright.job import run
from lapwright.metal import place


@pytest.mark.parametrize("kind", ["skylight", "curb"])
@pytest.mark.parametrize("height", [6.0, 8.0, 14.0])
def test_no_way_in_and_no_bare_lap_at_any_height_of_curb(kind: str, height: float) -> None:
    job = run(changed(chimney("square"), kind=kind, height=height))
    assert not [f.rule for f in job.findings if "leak" in f.rule or f.stops]


def test_a_leg_laid_under_the_return_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(place, "_over_the_top", lambda work: False)
    job = run(changed(chimney("square"), kind="skylight", height=8.0))
    assert "leak.way-in" in [f.rule for f in job.findings if f.stops]
