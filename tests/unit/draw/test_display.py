"""The display list: boxes of text and the extents of a sheet."""

from __future__ import annotations

import pytest

from lapwright.draw.display import Circle, Display, Line, Text


def test_a_text_box_is_its_letters_wide_and_turned_with_it() -> None:
    # 4 letters x 0.602 x 10 pt = 24.08 wide; 1.1 x 10 = 11 high, half above and half below the anchor
    flat = Text((100, 50), "abcd", size=10).box()
    assert flat[0] == pytest.approx((100, 44.5)) and flat[2] == pytest.approx((124.08, 55.5))
    # turned 90 degrees about an anchor at its end it hangs below the anchor
    upright = Text((100, 50), "abcd", size=10, anchor="end", angle=90).box()
    assert min(p[1] for p in upright) == pytest.approx(50 - 24.08)
    assert max(p[1] for p in upright) == pytest.approx(50)


def test_extents_take_in_every_mark() -> None:
    marks = (Line((10, 10), (20, 12), "a"), Circle((50, 50), 5, "b"), Text((0, 80), "xx", size=10))
    # text: 80 +- 5.5; circle reaches 55
    assert Display(100, 100, marks, ()).extents() == pytest.approx((0, 10, 55, 85.5))
