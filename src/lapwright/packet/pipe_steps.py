"""The steps of a pipe: its marks are pulled from the pipe's rim, from the ribs and from the roof."""

from __future__ import annotations

from collections.abc import Iterator

from lapwright.detail.model import Part
from lapwright.detail.pipe import rib_end
from lapwright.findings import Value
from lapwright.layout.model import Layout
from lapwright.metal.model import RoofPanel
from lapwright.metal.pipe_hole import PLAY, axes
from lapwright.metal.storm_collar import LEAST_PAST
from lapwright.metal.work import HANDS, Work
from lapwright.packet.model import Mark, Step
from lapwright.tables import metals


def _step(
    title: str, does: list[str], marks: list[Mark], parts: list[Part], caution: str | None = None, **v: Value
) -> Step:
    return Step(0, f"steps.{title}", tuple(f"steps.{d}" for d in does), tuple(marks), _ids(parts), caution, v)


def _ids(parts: list[Part]) -> tuple[str, ...]:
    return tuple(p.id for p in parts)


def _mark(what: str, start: str, distance: float, **values: Value) -> Mark:
    return Mark(f"steps.mark.{what}", f"steps.from.{start}", distance, values)


def _caution(work: Work) -> str | None:
    return "steps.pipe.hot" if work.opening.hot else None


def pipe_membrane(work: Work, parts: list[Part]) -> Iterator[Step]:
    """One sheet under the plate, its hole tight to a cold pipe and clear of a hot one. [in]"""
    m = work.measures
    does = "membrane.hot" if work.opening.hot else "membrane.round"
    yield _step(
        "membrane.pipe", [does], [_mark("membrane_edge", "rim_down", m.membrane_wide)], parts,
        "steps.membrane.caution", opening=work.opening.name, membrane=m.membrane_wide, turned=m.membrane_up,
        clear=m.flue_gap,
    )  # fmt: skip


def pipe_panel(layout: Layout, work: Work, panel: RoofPanel, parts: list[Part]) -> Iterator[Step]:
    """The panel that runs on under the plate: cut round the pipe, nothing turned up."""
    o, pipe, strip = work.opening, work.detail.pipe, layout.strips[panel.strip]
    assert pipe is not None
    _, b = axes(pipe)
    marks = [
        _mark("hole_low", "eave", pipe.centre[1] - b),
        _mark("hole_high", "eave", pipe.centre[1] + b),
        _mark("panel_end", "eave", o.back + work.measures.overrun),
    ]
    for n in panel.notches:
        hand = "left" if abs(n.rib - strip.left) < 1e-6 else "right"
        what = "rib_off" if n.cut == "leg-off" else "notch"
        far = n.from_y - n.to_y
        marks.append(_mark(what, "panel_end", far, hand=hand, cut=f"steps.cut.{n.cut}", rib=n.rib))
    yield _step(
        "side.pipe", ["side.pipe_does"], marks, parts, "steps.side.caution", first=strip.index + 1,
        opening=o.name, play=PLAY,
    )  # fmt: skip


def pipe_hooks(work: Work, parts: list[Part]) -> Iterator[Step]:
    """The strip that the plate's downslope hem hooks on. [in]"""
    down = work.opening.up - work.pan.downslope
    yield _step(
        "hook.plate", ["hook.does"], [_mark("plate_down", "rim_down", down)], parts, opening=work.opening.name
    )


def pipe_plate(work: Work, parts: list[Part]) -> Iterator[Step]:
    """The plate, or both its halves, lower one first. [in]"""
    o, pan, bay, m = work.opening, work.pan, work.detail.bay, work.measures
    marks = [
        _mark("plate_down", "rim_down", o.up - pan.downslope),
        _mark("plate_up", "rim_up", pan.upslope - o.back),
    ]
    for h, is_rib in (("left", bay.left_is_rib), ("right", bay.right_is_rib)):
        marks.append(_mark("plate_edge", "rib_face" if is_rib else "edge", m.gap, hand=h))
    how = "split" if work.detail.method == "split-plate" else "whole"
    does = [f"plate.{how}", "plate.does"]
    join = metals()[work.metal].join
    yield _step(
        f"plate.title_{how}", does + ([f"plate.{join}"] if how == "split" else []), marks, parts, _caution(work),
        opening=o.name, lap=m.plate_lap,
    )  # fmt: skip


def pipe_hood(work: Work, parts: list[Part]) -> Iterator[Step]:
    """The hood over the rib's end. [in]"""
    marks = [_mark("rib_cut", "rim_down", work.opening.up - rib_end(work.detail))]
    join = metals()[work.metal].join
    yield _step(
        "hood.title", ["hood.does", f"hood.{join}"], marks, parts, opening=work.opening.name,
        rib=work.detail.pipe.rib if work.detail.pipe is not None and work.detail.pipe.rib is not None else 0.0,
    )  # fmt: skip


def pipe_sleeve(work: Work, parts: list[Part]) -> Iterator[Step]:
    """The sleeve over the pipe, its tabs on the plate. [in]"""
    pipe, m = work.detail.pipe, work.measures
    assert pipe is not None
    join = metals()[work.metal].join
    yield _step(
        "sleeve.title", ["sleeve.does", f"sleeve.{join}"], [_mark("sleeve_end", "roof", m.upstand)], parts,
        _caution(work), opening=work.opening.name, gap=pipe.gap, lap=m.sleeve_lap,
    )  # fmt: skip


def pipe_collar(work: Work, parts: list[Part]) -> Iterator[Step]:
    """The storm collar over the sleeve's end. [in]"""
    does = "collar.hot" if work.opening.hot else "collar.cold"
    yield _step(
        "collar.title", ["collar.does", does], [], parts, _caution(work), opening=work.opening.name,
        past=LEAST_PAST,
    )  # fmt: skip


def pipe_cleat(work: Work, parts: list[Part]) -> Iterator[Step]:
    """One level cleat from rib to rib. [in]"""
    y, o, bay = work.detail.cleat_line[0][1], work.opening, work.detail.bay
    marks = [
        _mark("cleat_foot" if is_rib else "cleat_edge", "rim_up", y - o.back, hand=h)
        for h, is_rib in zip(HANDS, (bay.left_is_rib, bay.right_is_rib), strict=True)
    ]
    yield _step("cleats.one", ["cleats.does"], marks, parts, opening=o.name)
