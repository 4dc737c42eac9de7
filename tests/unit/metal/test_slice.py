"""A plane through folded metal: runs, arcs and chains against numbers worked by hand."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chimney import chimney, worked
from lapwright.metal.develop import develop
from lapwright.metal.sheet import Sheet
from lapwright.metal.slice import Trace, chains, cut_across, cut_up_slope, slice_body, slice_sheet
from lapwright.metal.solid import folded


def ell():  # type: ignore[no-untyped-def]
    """An L: base y 0 to 5, wall z 0 to 3 at y = 5, both x 0 to 10; t 1/32, inside radius 1/16."""
    sheet = Sheet("steel-24", 0.03125, 0.0625)
    sheet.root("base", [(0, 0, 0), (10, 0, 0), (10, 5, 0), (0, 5, 0)], painted=(0.0, 0.0, 1.0))
    sheet.attach("base", "wall", [(0, 5, 0), (10, 5, 0), (10, 5, 3), (0, 5, 3)])
    return sheet.body((1.0, 0.0, 0.0))


def test_mould_lines_are_cut_where_they_lie() -> None:
    # x = 4 crosses base from y 0 to 5 at z 0, wall from z 0 to 3 at y 5; y = 2 crosses only the base, x 0 to 10.
    up = slice_body(ell(), cut_up_slope(4.0))
    assert {k: sorted(v) for k, v in up.items()} == {
        "base": [(0.0, 0.0), (5.0, 0.0)],
        "wall": [(5.0, 0.0), (5.0, 3.0)],
    }
    across = slice_body(ell(), cut_across(2.0))
    assert {k: sorted(v) for k, v in across.items()} == {"base": [(0.0, 0.0), (10.0, 0.0)]}


def test_the_middle_of_the_sheet_runs_round_the_bend_in_one_line() -> None:
    lines = chains(slice_sheet(folded(develop(ell())), cut_up_slope(4.0)))
    assert len(lines) == 1
    # Middle of the sheet: z = t/2 on the base, y = 5 - t/2 on the wall, t/2 = 1/64.
    ends = sorted((lines[0][0], lines[0][-1]))
    assert ends[0] == pytest.approx((0.0, 1 / 64), abs=1e-9)
    assert ends[1] == pytest.approx((5 - 1 / 64, 3.0), abs=1e-9)
    # Length: flats 5 - (r + t) and 3 - (r + t), r + t = 3/32; arc of radius r + t/2 = 5/64, a quarter turn: facets
    # of 15 degrees measure 6 x 2 x 5/64 x sin(7.5 deg).
    whole = 5 - 3 / 32 + 3 - 3 / 32 + 12 * 5 / 64 * math.sin(math.radians(7.5))
    assert sum(math.dist(a, b) for a, b in pairwise(lines[0])) == pytest.approx(whole, abs=1e-9)


def test_a_plane_past_the_end_cuts_nothing() -> None:
    assert slice_sheet(folded(develop(ell())), cut_up_slope(10.5)) == ()
    assert slice_body(ell(), cut_across(5.5)) == {}


def test_a_cut_round_an_opening_leaves_two_runs() -> None:
    # The worked pan at y = 100, below the back face: two legs, pan edge to 5/8 off the opening, none between.
    _, made = worked(chimney())
    traces = slice_sheet(folded(develop(made["1-back-pan"].body)), cut_across(100.0))  # type: ignore[arg-type]
    runs = sorted(sorted(p[0] for p in t.points) for t in traces if t.face == "base")
    assert len(runs) == 2
    # 92 - 5/8 = 91 3/8 and 118 + 5/8 = 118 5/8.
    assert runs[0][1] == pytest.approx(91.375, abs=1e-9)
    assert runs[1][0] == pytest.approx(118.625, abs=1e-9)


@given(x=st.floats(78.7, 131.3), height=st.sampled_from(["plumb", "square"]))
def test_every_line_of_a_slice_lies_in_its_plane_and_on_the_metal(x: float, height: str) -> None:
    _, made = worked(chimney(height))
    cut = cut_up_slope(x)
    sheet = folded(develop(made["1-back-pan"].body))  # type: ignore[arg-type]
    planes = {f.face: f.under for f in sheet.flats}
    for trace in slice_sheet(sheet, cut):
        for p in trace.points:
            space = cut.space(p)
            assert space[0] == pytest.approx(x, abs=1e-9)
            if trace.is_flat:
                # Half the sheet's thickness off its unpainted side.
                assert _off(planes[trace.face], space) == pytest.approx(0.0255 / 2, abs=1e-6)


def _off(ring, p):  # type: ignore[no-untyped-def]
    from lapwright.geom.space import dot, sub
    from lapwright.metal.sheet import normal

    return dot(sub(p, ring[0]), normal(ring))


@given(st.permutations(range(5)))
def test_chains_do_not_depend_on_the_order_of_the_pieces(order: list[int]) -> None:
    bits = [Trace("a", ((float(i), 0.0), (float(i + 1), 0.0))) for i in range(5)]
    (line,) = chains([bits[i] for i in order])
    assert sorted((line[0], line[-1])) == [(0.0, 0.0), (5.0, 0.0)]
