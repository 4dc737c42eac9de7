"""What is drawn round an opening: the outline of its metal, and a cricket's folds."""

from __future__ import annotations

import pytest

from crickets import bench, malt_house
from lapwright.draw.marks import folds, outside


def test_a_flat_pan_is_outlined_as_a_rectangle_and_has_no_folds() -> None:
    # Ribs 136.5 and 190.5, 7/16 in from both; legs to 92 - 7, pan to 92 + 12.
    d = bench(malt_house(method="flat-pan")).detail
    assert d.pan is not None
    assert outside(d, d.pan) == ((136.9375, 85.0), (190.0625, 85.0), (190.0625, 104.0), (136.9375, 104.0))
    assert folds(d) == ()


def test_a_cricket_is_outlined_by_its_flanges() -> None:
    # docs/cricket.md: 103.7809 at the ribs, apex 133.4787 over the middle.
    d = bench(malt_house()).detail
    assert d.pan is not None
    by_hand = [(136.9375, 85.0), (190.0625, 85.0), (190.0625, 103.7809), (163.5, 133.4787), (136.9375, 103.7809)]
    for ours, hand in zip(outside(d, d.pan), by_hand, strict=True):
        assert ours == pytest.approx(hand, abs=1e-4)


def test_a_crickets_valleys_run_from_the_corners_to_the_ridges_head() -> None:
    # Corners at 142.5 and 184.5 on 92, the head 23.4787 up the middle; the ridge's foot 10.5 sin 26.565 up, seen from
    # above.
    one, other, ridge = folds(bench(malt_house()).detail)
    assert one == (pytest.approx((142.5, 92.0)), pytest.approx((163.5, 115.4787), abs=1e-4))
    assert other == (pytest.approx((184.5, 92.0)), pytest.approx((163.5, 115.4787), abs=1e-4))
    assert ridge[0] == pytest.approx((163.5, 96.6957), abs=1e-4)
