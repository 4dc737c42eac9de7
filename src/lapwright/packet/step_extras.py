"""What each kind of step shows besides its pieces and marks: sections, corners drawn larger, lines, zones."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from lapwright.detail.model import Part
from lapwright.draw.features import Window
from lapwright.draw.pipe_section import OFF
from lapwright.draw.step_model import AreaView, CutView, LineView, MarkView, SpotView
from lapwright.layout.model import Strip
from lapwright.metal.counterflashing import span
from lapwright.metal.panel import edge_at
from lapwright.metal.work import Work, at_bench
from lapwright.packet.model import Step
from lapwright.packet.say import Voice
from lapwright.packet.step_marks import reference
from lapwright.packet.step_zones import level_ring, zones_of, zones_window
from lapwright.packet.worked import WorkedJob

RIDGE_BAND = 7.0
"""How deep the band along the upper edge is drawn. [in]"""
SPOT = 2.8
"""Shown to each side of a corner that is drawn larger. [in]"""
MANY = 3
"""So many openings stand side by side in the water test's picture; the zones of more are the same."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What a writer of one kind of step looks at."""

    job: WorkedJob
    step: Step
    voice: Voice
    kind: str
    how: str
    work: Work | None
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Extra:
    """What a kind of step adds to its pieces and marks."""

    focus: tuple[Window, ...] = ()
    areas: tuple[AreaView, ...] = ()
    lines: tuple[LineView, ...] = ()
    cuts: tuple[CutView, ...] = ()
    spots: tuple[SpotView, ...] = ()
    references: tuple[MarkView, ...] = ()


def _roof_window(s: Shown) -> Window:
    return (0.0, 0.0, s.job.site.roof.eave, s.job.site.roof.slope)


def extra_of(s: Shown) -> Extra:
    """What this step's kind adds; a kind of its own shows the whole roof."""
    return KINDS.get(s.kind, _whole_roof)(s)


# --- sections beside the picture ----------------------------------------------------------------


def _clear_x(work: Work) -> float:
    """An x across the opening that misses every rib and a cricket's ridge: the middle of the widest gap. [in]"""
    o = work.opening
    if work.detail.cricket is not None:
        return o.left + 0.3 * o.width
    stops = [o.left, *work.ribs_in_face, o.right]
    a, b = max(pairwise(stops), key=lambda p: (round(p[1] - p[0], 6), -p[0]))
    return (a + b) / 2


def _front(s: Shown, work: Work, high: float, before: float = 3.5) -> CutView:
    o, m = work.opening, work.measures
    low = o.up - m.apron_flange - before
    far = o.up + high * math.tan(work.walls.lean) + 3.0
    return CutView(s.voice.say("stepdraw.cut.front"), "up", _clear_x(work), (low, -1.5, far, high))


def _back(s: Shown, work: Work, high: float, far: float = math.inf) -> CutView:
    o, pan = work.opening, work.pan
    window = (o.back - 5.0, -1.5, min(pan.upslope + 2.5, o.back + far), high)
    return CutView(s.voice.say("stepdraw.cut.back"), "up", _clear_x(work), window)


def _at_cleat(s: Shown, work: Work) -> CutView:
    x = _clear_x(work)
    y = edge_at(list(work.detail.cleat_line), x)
    return CutView(s.voice.say("stepdraw.cut.cleat"), "up", x, (y - 11.0, -1.5, y + 6.5, 4.5))


def _beside(s: Shown, work: Work, hand: str, high: float) -> CutView:
    o, m = work.opening, work.measures
    reach = m.side_flange + 3.5
    x0, x1 = (o.left - reach, o.left + 3.5) if hand == "left" else (o.right - 3.5, o.right + reach)
    return CutView(s.voice.say(f"stepdraw.cut.{hand}"), "across", (o.up + o.back) / 2, (x0, -1.5, x1, high))


def _high(work: Work) -> float:
    """High enough to show an upstand. [in]"""
    return min(work.measures.upstand, work.opening.height) + 2.0


# --- one writer per kind ------------------------------------------------------------------------


def _must(s: Shown) -> Work:
    if s.work is None:
        raise ValueError(f"step {s.step.n} belongs to no opening")
    return s.work


def _whole_roof(s: Shown) -> Extra:
    """Through panels, and whatever has no place of its own: the whole plane."""
    references: tuple[MarkView, ...] = ()
    if s.parts and not s.step.marks:
        strips = [s.job.layout.strips[p.strip or 0] for p in s.parts]
        references = tuple(_nearest_rib(s, strip) for strip in strips)
    lines: tuple[LineView, ...] = ()
    if s.how == "relock":
        lines = tuple(_closing_lock(s, s.job.layout.strips[p.strip or 0]) for p in s.parts)
    return Extra((_roof_window(s),), references=references, lines=lines)


def _nearest_rib(s: Shown, strip: Strip) -> MarkView:
    """From the left edge to the rib a panel locks on, or its other one."""
    left_first = s.job.site.panel.lay == "left-to-right"
    at_left = strip.left_is_rib if left_first else not strip.right_is_rib
    return reference("x", 0.0, strip.left if at_left else strip.right, 0.0, lane="lower")


def _closing_lock(s: Shown, strip: Strip) -> LineView:
    """The lock that closes the bay again, on the panel's lapping leg."""
    x = strip.left if s.job.site.panel.lay == "left-to-right" else strip.right
    text = s.voice.say("stepdraw.lock_again")
    return LineView(((x, 0.0), (x, s.job.site.roof.slope)), "lock", text)


def _open_up(s: Shown) -> Extra:
    work, slope = _must(s), s.job.site.roof.slope
    bay = work.detail.bay
    inside = [t for t in s.job.layout.strips if bay.left - 1e-6 <= t.left and t.right <= bay.right + 1e-6]
    areas = [
        AreaView(
            level_ring(t.left, 0.0, t.right, slope), "off", s.voice.say("stepdraw.take_off", {"panel": t.index + 1})
        )
        for t in inside
    ]
    lines = []
    x = s.step.values.get("rib")
    right = s.job.site.panel.lay == "left-to-right"
    if isinstance(x, float) and (bay.right_is_rib if right else bay.left_is_rib):
        lines.append(LineView(((x, 0.0), (x, slope)), "lock", s.voice.say("stepdraw.lock_free")))
    return Extra((_roof_window(s),), tuple(areas), tuple(lines))


def _membrane(s: Shown) -> Extra:
    work = _must(s)
    if work.detail.pipe is not None:
        return Extra(references=_across(work))
    high = work.measures.membrane_up + 2.0
    return Extra(cuts=(_front(s, work, high), _back(s, work, high, far=14.0)))


def _side(s: Shown) -> Extra:
    work = _must(s)
    if work.detail.pipe is not None:
        return Extra(cuts=(_through_pipe(s, work, 4.0),))
    strip = s.job.layout.strips[s.parts[0].strip or 0]
    hand = "left" if strip.left < work.opening.left else "right"
    return Extra(cuts=(_beside(s, work, hand, 4.0),))


def _lower(s: Shown) -> Extra:
    return Extra(cuts=(_front(s, _must(s), 5.0),))


def _closures(s: Shown) -> Extra:
    work = _must(s)
    if s.how == "rib":
        x = work.detail.bay.interrupted[0]
        body = next(p.body for p in s.job.pieces if p.id == s.parts[0].id)
        y = min(p[1] for f in body.faces for p in f.corners) if body else work.opening.back
        window = (y - 5.0, -1.5, y + 9.0, s.job.site.panel.rib_height + 2.0)
        cut = CutView(s.voice.say("stepdraw.cut.rib"), "up", x, window)
        return Extra(cuts=(cut,), references=(reference("y", work.opening.back, y, x),))
    return Extra(cuts=(_front(s, work, s.job.site.panel.rib_height + 2.0),))


def _hook(s: Shown) -> Extra:
    work = _must(s)
    if work.detail.pipe is not None:
        return Extra(cuts=(_plate_edge(s, work),))
    return Extra(cuts=(_front(s, work, 5.0) if s.how == "apron" else _beside(s, work, "left", 4.0),))


def _apron(s: Shown) -> Extra:
    work = _must(s)
    return Extra(cuts=(_front(s, work, _high(work)),))


def _side_walls(s: Shown) -> Extra:
    work = _must(s)
    return Extra(cuts=(_beside(s, work, "left", _high(work)),))


def _pan(s: Shown) -> Extra:
    work = _must(s)
    return Extra(cuts=(_back(s, work, _high(work)),))


def _through_pipe(s: Shown, work: Work, high: float) -> CutView:
    """Up the slope through the pipe's middle: where the plate and the panel go round it."""
    o, pan = work.opening, work.pan
    window = (o.up - 4.0, -1.5, min(pan.upslope, o.back + 10.0), high)
    return CutView(s.voice.say("stepdraw.cut.pipe"), "up", o.left + o.width / 2 + OFF, window)


def _plate_edge(s: Shown, work: Work) -> CutView:
    """Up the slope at the plate's downslope edge, beside the pipe and off the rib that is cut."""
    low = work.pan.downslope
    x = (work.detail.bay.left + work.opening.left) / 2
    return CutView(s.voice.say("stepdraw.cut.plate"), "up", x, (low - 4.0, -1.5, low + 5.0, 3.0))


def _plate(s: Shown) -> Extra:
    work = _must(s)
    return Extra(cuts=(_plate_edge(s, work), _through_pipe(s, work, 3.0)))


def _hood(s: Shown) -> Extra:
    work = _must(s)
    assert work.detail.pipe is not None
    low, high = work.pan.downslope, work.site.panel.rib_height + 2.0
    window = (low - 4.0, -1.5, low + work.measures.hood_run + 4.0, high)
    cut = CutView(s.voice.say("stepdraw.cut.hood"), "up", work.detail.pipe.rib or 0.0, window)
    return Extra(cuts=(cut,), references=_across(work))


def _sleeve(s: Shown) -> Extra:
    work = _must(s)
    return Extra(cuts=(_round_pipe(s, work),), references=_across(work))


def _round_pipe(s: Shown, work: Work) -> CutView:
    """Up the slope through the pipe, as high as the sleeve and its collar."""
    o, pipe = work.opening, work.detail.pipe
    assert pipe is not None
    high = (pipe.height + 2.5) * math.cos(pipe.lean)
    far = o.back + high * math.tan(pipe.lean) + 4.0
    return CutView(s.voice.say("stepdraw.cut.pipe"), "up", o.left + o.width / 2 + OFF, (o.up - 4.0, -1.5, far, high))


def _cleats(s: Shown) -> Extra:
    return Extra(cuts=(_at_cleat(s, _must(s)),))


def _cricket(s: Shown) -> Extra:
    """Its framing as chalk lines on the deck and the back face; its two halves as any piece."""
    work = _must(s)
    c, o = work.detail.cricket, work.opening
    if c is None or s.how != "framing":
        high = work.pan.upstand + (c.wall_rise if c is not None else 0.0) + 2.0
        return Extra(cuts=(_back(s, work, high),))
    middle = o.left + o.width / 2
    head = (middle, c.ridge_head[1])
    valleys = [LineView(((x, o.back), head), "chalk", s.voice.say("stepdraw.valley")) for x in (o.left, o.right)]
    ridge = LineView(((middle, o.back), head), "chalk", s.voice.say("stepdraw.ridge"))
    window = (o.back - 5.0, -1.5, c.ridge_head[1] + 4.0, c.ridge_foot[2] + 3.0)
    set_out = ((c.ridge_foot[1], c.ridge_foot[2]), (c.ridge_head[1], c.ridge_head[2]))
    cut = CutView(s.voice.say("stepdraw.cut.middle"), "up", middle, window, (set_out,))
    return Extra(lines=(*valleys, ridge), cuts=(cut,), references=_across(work))


def _upper(s: Shown) -> Extra:
    work = _must(s)
    cleat = LineView(work.detail.cleat_line, "hidden")
    return Extra(lines=(cleat,), cuts=(_at_cleat(s, work),))


def _patches(s: Shown) -> Extra:
    work = _must(s)
    o = work.opening
    spots = tuple(
        SpotView(s.voice.say(f"stepdraw.spot.{w}"), (o.left - SPOT, y - SPOT, o.left + SPOT, y + SPOT))
        for w, y in (("back", o.back), ("front", o.up))
    )
    return Extra(spots=spots, references=_across(work))


def _across(work: Work) -> tuple[MarkView, ...]:
    """How far the opening stands from the bay's left rib or edge: says where the picture lies."""
    o = work.opening
    return (reference("x", work.detail.bay.left, o.left, o.up + (o.back - o.up) * 0.3),)


def _counter(s: Shown) -> Extra:
    work = _must(s)
    return Extra(cuts=(_front(s, work, span(work).high + 2.5, 6.5),), references=_across(work))


def _ridge(s: Shown) -> Extra:
    roof = s.job.site.roof
    ring = level_ring(0.0, max(0.0, roof.slope - RIDGE_BAND), roof.eave, roof.slope)
    band = AreaView(ring, "now", s.voice.say("stepdraw.upper_ends"))
    return Extra((_roof_window(s),), (band,), references=(reference("y", 0.0, roof.slope, 0.0, lane="left"),))


def _water_test(s: Shown) -> Extra:
    works = [at_bench(s.job.site, d) for d in s.job.detail.openings if d.planned][:MANY]
    areas = tuple(a for k, w in enumerate(works) for a in zones_of(w, s.voice, first=k == 0))
    lines = tuple(LineView(w.detail.cleat_line, "hidden") for w in works)
    return Extra(tuple(zones_window(w) for w in works), areas, lines)


KINDS: dict[str, Callable[[Shown], Extra]] = {
    "open-up": _open_up,
    "membrane": _membrane,
    "side": _side,
    "lower": _lower,
    "closures": _closures,
    "hook": _hook,
    "apron": _apron,
    "side-walls": _side_walls,
    "pan": _pan,
    "cricket": _cricket,
    "patches": _patches,
    "cleats": _cleats,
    "upper": _upper,
    "ridge": _ridge,
    "counterflashing": _counter,
    "water-test": _water_test,
    "plate": _plate,
    "hood": _hood,
    "sleeve": _sleeve,
    "collar": _sleeve,
}
"""One writer per kind of step; through panels show the whole roof."""
