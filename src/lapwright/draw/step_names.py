"""Names in a step's picture: on the thing itself where there is room, else beside it with a leader."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from lapwright.draw.callout import Label, write_along, write_at, write_round
from lapwright.draw.display import Text, oriented, text_width
from lapwright.draw.features import Window, clip
from lapwright.draw.plan import Plan
from lapwright.draw.sheet import Sheet
from lapwright.draw.step_model import AreaView
from lapwright.draw.step_roof import Roofed, clipped
from lapwright.geom.space import Flat
from lapwright.site.model import Site
from lapwright.words import Speaker

SIZE = 8.0
FEW = 4
"""So few panels are named with leaders, however narrow."""
LONGEST = 26
"""Letters of an opening's name that are written."""
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)


def name_parts(sheet: Sheet, plan: Plan, roof: Roofed, names: Sequence[str]) -> None:
    """Every part's id; where panels are too narrow for that, the first and the last one's, once."""
    panels = [n for n in names if roof.parts[n].kind == "panel"]
    strips = [roof.layout.strips[s] for n in panels if (s := roof.parts[n].strip) is not None]
    widest = max((s.width * plan.scale for s in strips), default=0.0)
    if len(panels) > FEW and widest < SIZE + 4.0:
        text = f"{panels[0]} \N{EN DASH} {panels[-1]}"
        left, right = min(s.left for s in strips), max(s.right for s in strips)
        ring = ((left, 0.0), (right, 0.0), (right, roof.site.roof.slope), (left, roof.site.roof.slope))
        write_in_shape(sheet, plan, clipped(ring, plan.window), text)
        return
    for name in names:
        name_part(sheet, plan, roof, name)


def name_part(sheet: Sheet, plan: Plan, roof: Roofed, name: str) -> bool:
    """Write a part's id, and how many of it there are. False where there is no room at all."""
    count = len(roof.parts[name].copies)
    text = name if count == 1 else f"{name} × {count}"
    shapes = [s for r in roof.rings(name) if len(r) > 2 and len(s := clipped(r, plan.window)) > 2]
    if not shapes:
        lines = [r for r in roof.rings(name) if len(r) == 2 and clip(r[0], r[1], plan.window)]
        label, ends = Label("", text), [(plan.at(a), plan.at(b)) for a, b in lines]
        # Seen edge-on: a leader to it, or its name along it.
        if any(write_at(sheet, _between(*line, t), label) for line in ends for t in SHARES):
            return True
        return any(write_along(sheet, *line, label, "") for line in ends)
    ring = max(shapes, key=_area)
    return write_in_shape(sheet, plan, ring, text)


def write_in_shape(sheet: Sheet, plan: Plan, ring: Sequence[Flat], text: str) -> bool:
    """Inside a shape of the roof [in], level or upright, else beside it with a leader to a point of it."""
    boxes = list(_boxes(plan, ring))
    if boxes and _write_inside(sheet, boxes, text):
        return True
    return any(write_at(sheet, p, Label("", text)) for p in _targets(boxes or [_bounds(plan, ring)]))


def _write_inside(sheet: Sheet, boxes: Sequence[Window], text: str) -> bool:
    found: list[tuple[float, Text]] = []
    wide, high = text_width(text, SIZE) + 4.0, SIZE + 4.0
    for x0, y0, x1, y1 in boxes:
        for angle, across, along in ((0.0, wide, high), (90.0, high, wide)):
            if x1 - x0 < across or y1 - y0 < along:
                continue
            for t in SHARES:
                x = x0 + across / 2 + (t if angle == 0.0 else 0.5) * (x1 - x0 - across)
                y = y0 + along / 2 + (0.5 if angle == 0.0 else t) * (y1 - y0 - along)
                mark = Text((x, y), text, "text", SIZE, "middle", angle)
                clear = oriented((x, y), angle, -wide / 2, wide / 2, high / 2)
                if sheet.crowd.free(mark.box()):
                    found.append((sheet.crowd.price(clear) + 0.4 * abs(t - 0.5) + angle / 180.0, mark))
    if not found:
        return False
    mark = min(found, key=lambda row: row[0])[1]
    sheet.ring(mark.box(), "mask", "paper")
    sheet.text(mark)
    return True


def _boxes(plan: Plan, ring: Sequence[Flat]) -> Iterator[Window]:
    """Level rectangles inside a shape, one for each run between its corners' heights. On the sheet. [pt]"""
    ys = sorted({round(p[1], 6) for p in ring})
    for low, high in pairwise(ys):
        if high - low < 0.25:
            continue
        near, far = (_spans(ring, low + t * (high - low)) for t in (0.02, 0.98))
        for a, b in zip(near, far, strict=False):
            left, right = max(a[0], b[0]), min(a[1], b[1])
            if right > left:
                (x0, y0), (x1, y1) = plan.at((left, low)), plan.at((right, high))
                # Text does not stand on a run that is left out.
                stops = [y0, *(y for y in plan.y.breaks if y0 < y < y1), y1]
                yield from ((x0, c + 8.0 * (c > y0), x1, d - 8.0 * (d < y1)) for c, d in pairwise(stops))


def _spans(ring: Sequence[Flat], y: float) -> list[tuple[float, float]]:
    """Where a level line runs inside a shape: x, x. [in]"""
    xs = sorted(_crossings(ring, y))
    return list(zip(xs[::2], xs[1::2], strict=False))


def _targets(boxes: Sequence[Window]) -> Iterator[Flat]:
    """Points inside, the middle of the largest rectangle first. [pt]"""
    for x0, y0, x1, y1 in sorted(boxes, key=lambda b: -(b[2] - b[0]) * (b[3] - b[1])):
        for t in (0.5, 0.2, 0.8):
            for s in (0.5, 0.2, 0.8):
                yield (x0 + t * (x1 - x0), y0 + s * (y1 - y0))


def _bounds(plan: Plan, ring: Sequence[Flat]) -> Window:
    xs, ys = [plan.x(p[0]) for p in ring], [plan.y(p[1]) for p in ring]
    return (min(xs), min(ys), max(xs), max(ys))


def _area(ring: Sequence[Flat]) -> float:
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))) / 2


def _crossings(ring: Sequence[Flat], y: float) -> Iterator[float]:
    for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (y0 > y) != (y1 > y):
            yield x0 + (x1 - x0) * (y - y0) / (y1 - y0)


def _between(a: Flat, b: Flat, t: float) -> Flat:
    return (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))


def name_area(sheet: Sheet, plan: Plan, area: AreaView) -> None:
    """An area's number in a balloon, or its label."""
    shape = clipped(area.ring, plan.window)
    if len(shape) < 3:
        return
    if not area.number:
        if area.text:
            write_in_shape(sheet, plan, shape, area.text)
        return
    boxes = list(_boxes(plan, shape)) or [_bounds(plan, shape)]
    label = Label(area.number, "")
    for x, y in _targets(boxes):
        if sheet.crowd.free(((x - 7, y - 7), (x + 7, y - 7), (x + 7, y + 7), (x - 7, y + 7))):
            sheet.circle((x, y), 6.0, "balloon", "paper")
            sheet.text(Text((x, y), area.number, "text", SIZE, "middle", 0.0, True))
            sheet.block((x - 6, y - 6), (x + 6, y + 6))
            return
    any(write_at(sheet, p, label) for p in _targets(boxes))


def name_opening(sheet: Sheet, plan: Plan, box: Window, name: str) -> None:
    """An opening's name in the part of it that is seen, else beside it."""
    (x0, y0), (x1, y1) = plan.at((box[0], box[1])), plan.at((box[2], box[3]))
    text = name if len(name) <= LONGEST else name[: LONGEST - 1] + "\N{HORIZONTAL ELLIPSIS}"
    if not text.strip() or _write_inside(sheet, [(x0, y0, x1, y1)], text):
        return
    write_round(sheet, (x0, y0), (x1, y1), Label("", text))


def name_edges(sheet: Sheet, plan: Plan, site: Site, speaker: Speaker) -> None:
    """The eave and the upper edge, where they are shown: written on the line."""
    w = site.roof.eave
    for y, what in ((0.0, "eave"), (site.roof.slope, site.roof.upper_edge)):
        part = clip((0.0, y), (w, y), plan.window)
        if part is not None:
            label = Label("", speaker.say(f"draw.edge_{what}"))
            write_along(sheet, plan.at(part[0]), plan.at(part[1]), label, "edge")
