"""Blanks drawn by hand: every figure below is read off a sketch, none comes from the program."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest

from lapwright.detail.model import Notch, OpeningDetail, Pan
from lapwright.layout.model import Bay, Layout, Strip
from lapwright.metal.model import Bend, Blank, Body, Face, Piece, RoofPanel
from lapwright.site.model import Opening, Panel, Roof, Site
from lapwright.words import Speaker

Flat = tuple[float, float]


def ring_round(centre: Flat, radius: float) -> tuple[Flat, ...]:
    steps = [2 * math.pi * i / 48 for i in range(48)]
    return tuple((centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in steps)


def sheet_of(
    outline: Sequence[Flat],
    cuts: Sequence[tuple[Flat, Flat]] = (),
    holes: Sequence[tuple[Flat, ...]] = (),
) -> Blank:
    width, height = max(p[0] for p in outline), max(p[1] for p in outline)
    twice = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(outline, [*outline[1:], outline[0]], strict=True))
    return Blank(tuple(outline), tuple(cuts), tuple(holes), abs(twice) / 2, width, height)


def piece(
    id_: str, name: str, blank: Blank, bends: Sequence[Bend], quantity: int = 1, hand: str = ""
) -> Piece:
    return Piece(
        id_,
        "x",
        name,
        "flue stack",
        quantity,
        "steel-24",
        0.0255,
        blank,
        tuple(bends),
        1.0,
        None,
        hand,  # type: ignore[arg-type]
    )


def bend(n: int, start: Flat, end: Flat, angle: float, way: str, kind: str = "bend") -> Bend:
    return Bend(f"b{n}", start, end, angle, 0.05, way, n, kind)  # type: ignore[arg-type]


def make_ell() -> Piece:
    """An L of 60 x 12 1/2 with a hem trimmed at 45 degrees at both ends."""
    outline = [(0, 0.5), (0.5, 0), (59.5, 0), (60, 0.5), (60, 12.5), (0, 12.5)]
    bends = [
        bend(1, (0, 0.5), (60, 0.5), 180, "down", "closed-hem"),
        bend(2, (0, 4.5), (60, 4.5), 90, "up"),
    ]
    return piece("SW-L", "Side-wall flashing", sheet_of(outline), bends, hand="left")


def make_pan() -> Piece:
    """A pan of 56 x 28: legs either side of a tongue 26 wide with tabs, slots 1/8 wide, stop holes."""
    left = [
        (0, 0.5), (1.5, 0.5), (1.75, 0), (14.375, 0), (14.375, 6.875), (15 - 1 / 16, 7.4375),
        (15, 7.375), (14.5, 6.875), (14.5, 0.625), (14.75, 0.25), (15, 0.25),
    ]  # fmt: skip
    right = [(56 - u, v) for u, v in reversed(left)]
    far = [(56, 27.5), (54.5, 27.5), (54.25, 28), (1.75, 28), (1.5, 27.5), (0, 27.5)]
    holes = [ring_round((15, 7.5), 1 / 16), ring_round((41, 7.5), 1 / 16)]
    bends = [
        bend(1, (1.75, 0.5), (14.375, 0.5), 180, "down", "closed-hem"),
        bend(2, (41.625, 0.5), (54.25, 0.5), 180, "down", "closed-hem"),
        bend(3, (1.75, 27.5), (54.25, 27.5), 180, "up", "closed-hem"),
        bend(4, (1.5, 0.5), (1.5, 27.5), 87.5, "up"),
        bend(5, (54.5, 0.5), (54.5, 27.5), 87.5, "up"),
        bend(6, (15, 0.25), (15, 7.375), 90, "down"),
        bend(7, (41, 0.25), (41, 7.375), 90, "down"),
        bend(8, (15 + 1 / 16, 7.5), (41 - 1 / 16, 7.5), 120.3, "up"),
    ]
    return piece("BP", "Back pan", sheet_of([*left, *right, *far], holes=holes), bends)


def make_slit() -> Piece:
    """A sheet of 40 x 14 with two slits, 45 degrees at their feet, each ending in a stop hole."""
    cuts = [((5, 14), (5, 8)), ((5, 8), (4, 7)), ((35, 14), (35, 8)), ((35, 8), (36, 7))]
    holes = [ring_round((4, 7), 1 / 16), ring_round((36, 7), 1 / 16)]
    bends = [bend(1, (0, 0.5), (40, 0.5), 180, "down", "open-hem"), bend(2, (5, 8), (35, 8), 60, "up")]
    blank = sheet_of([(0, 0), (40, 0), (40, 14), (0, 14)], cuts, holes)
    return piece("AP", "Apron", blank, bends, quantity=2)


def make_upper() -> RoofPanel:
    """An upper panel, ripped 19 1/2 wide, 96 long, with a slanted hemmed lower edge."""
    outline = [(0, 96), (0, 9), (1.75, 8), (2.5, 8.5), (17, 1), (18, 0), (19.5, 2), (19.5, 96)]
    bends = (
        bend(1, (1.75, 9.875), (18, 1.625), 180, "down", "open-hem"),
        bend(2, (1.75, 9.5), (1.75, 96), 90, "up"),
        bend(3, (18, 2.5), (18, 96), 90, "up"),
    )
    return RoofPanel("P6-U", "upper", 5, "flue stack", (), 96, 18, sheet_of(outline), bends)


def make_cleat() -> Piece:
    """An offset cleat 26 long, girth 2 3/4, web 1/4, both ends mitred."""
    outline = [
        (0, 0),
        (26, 0),
        (25.25, 1),
        (25.125, 1.25),
        (24.625, 2.75),
        (0.875, 2.75),
        (0.25, 1.25),
        (0.125, 1),
    ]
    bends = [bend(1, (0.125, 1), (25.25, 1), 90, "down"), bend(2, (0.25, 1.25), (25.125, 1.25), 90, "up")]
    return piece("OC-2", "Offset cleat", sheet_of(outline), bends, quantity=3)


def make_long() -> Piece:
    """A side panel 150 x 20 with a notch in one leg."""
    outline = [(0, 0), (150, 0), (150, 20), (90, 20), (90, 18.5), (60, 18.5), (60, 20), (0, 20)]
    bends = [
        bend(1, (1, 0), (1, 20), 180, "down", "open-hem"),
        bend(2, (0, 1.5), (150, 1.5), 90, "up"),
        bend(3, (0, 18.375), (150, 18.375), 90, "up"),
    ]
    return piece("P5", "Side panel", sheet_of(outline), bends)


def make_patch() -> Piece:
    """A corner patch 2 x 2 with one bend."""
    return piece(
        "CP",
        "Corner patch",
        sheet_of([(0, 0), (2, 0), (2, 2), (0, 2)]),
        [bend(1, (1, 0), (1, 2), 90, "up")],
        4,
    )


MAKERS = {
    "ell": make_ell, "pan": make_pan, "slit": make_slit, "upper": make_upper,
    "cleat": make_cleat, "long": make_long, "patch": make_patch,
}  # fmt: skip


@pytest.fixture(params=sorted(MAKERS))
def item(request: pytest.FixtureRequest) -> Piece | RoofPanel:
    """Each of the hand-made blanks in turn."""
    return MAKERS[request.param]()


@pytest.fixture
def ell() -> Piece:
    return make_ell()


@pytest.fixture
def pan() -> Piece:
    return make_pan()


@pytest.fixture
def slit() -> Piece:
    return make_slit()


@pytest.fixture
def upper() -> RoofPanel:
    return make_upper()


@pytest.fixture
def patch() -> Piece:
    return make_patch()


@pytest.fixture(params=["in", "mm"])
def speaker(request: pytest.FixtureRequest) -> Speaker:
    """An inch job and a mm job."""
    return Speaker(request.param)


@pytest.fixture
def inches() -> Speaker:
    return Speaker("in")


def _face(name: str, *corners: tuple[float, float, float]) -> Face:
    return Face(name, corners)


def _bodied(id_: str, kind: str, *faces: Face) -> Piece:
    body = Body(faces, (), 0.0255, "steel-24", (1, 0, 0))
    blank = sheet_of([(0, 0), (2, 0), (2, 2), (0, 2)])
    return Piece(id_, kind, id_, "flue stack", 1, "steel-24", 0.0255, blank, (), 1.0, body)


class Roofed:
    """A roof 24 ft by 16 ft 6 in, 18 in panels, first rib 6; a stack 26 x 34 at 92, 69; bay 78 to 132."""

    def __init__(self) -> None:
        stack = Opening("flue stack", "masonry-chimney", 92, 69, 26, 34, 60, "plumb")
        self.site = Site(
            "Kiln shed", "in", Roof(7, 288, 198), Panel(18, 1.75, first_rib=6), openings=(stack,)
        )
        ribs = tuple(6.0 + 18 * i for i in range(16))
        edges = [0.0, *ribs, 288.0]
        pairs = list(pairwise(edges))
        strips = tuple(Strip(i, a, b, i > 0, i < len(pairs) - 1) for i, (a, b) in enumerate(pairs))
        bay = Bay("flue stack", 78, 132, True, True, (96, 114))
        self.layout = Layout(ribs, strips, (bay,), 6)
        # setback 9: 103 + 9 = 112; foot 4: 103 - 4 = 99; pan 78 + 5/16 + 1/8 = 78 7/16 and mirrored
        line = ((78.0, 99.0), (92.0, 112.0), (118.0, 112.0), (132.0, 99.0))
        notches = (Notch(78, 109, 97.25, "outer-leg"), Notch(132, 109, 97.25, "lap-lock"))
        pan = Pan(78.4375, 131.5625, 96, 115, 8)
        self.detail = OpeningDetail(stack, bay, "flat-pan", stack.measures, line, pan, notches=notches)
        self.panels = tuple(self._panel(s) for s in strips)
        self.pieces = (
            _bodied(
                "A",
                "apron",
                _face("flange", (87, 63, 0), (123, 63, 0), (123, 69, 0), (87, 69, 0)),
                _face("upstand", (92, 69, 0), (118, 69, 0), (118, 65, 8), (92, 65, 8)),
            ),
            _bodied(
                "S",
                "side-wall",
                _face("base", (88, 65, 0), (92, 65, 0), (92, 109, 0), (88, 109, 0)),
                _face("upstand", (92, 65, 0), (92, 65, 8), (92, 103, 8), (92, 103, 0)),
            ),
        )

    def _panel(self, strip: Strip) -> RoofPanel:
        split = strip.left in (78, 96, 114)
        low = 111.0 if split else 0.0
        ring = ((strip.left, low), (strip.right, low), (strip.right, 198.0), (strip.left, 198.0))
        role, owner = ("upper", "flue stack") if split else ("through", None)
        return RoofPanel(f"P{strip.index + 1}", role, strip.index, owner, ring, 198 - low, strip.width)  # type: ignore[arg-type]


@pytest.fixture
def roofed() -> Roofed:
    return Roofed()
