"""Is a nest what it says it is? Written apart from the searches; it shares no line of theirs.

Nothing overlaps, nothing leaves its sheet, every id is cut as often as asked, nothing lies turned that may not,
no stock is used more often than there is of it; and, when asked, a shear can take every sheet apart.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

from lapwright.geom import SAME
from lapwright.shop.nest.model import Nest, Part, Placed, Sheet, Stock


def faults(nest: Nest, parts: Sequence[Part], stocks: Sequence[Stock], guillotine: bool = False) -> tuple[str, ...]:
    """Everything wrong with a nest, as short notes for a test; none when it is right."""
    found = [*_quantities(nest, parts), *_stock(nest, stocks)]
    for n, sheet in enumerate(nest.sheets):
        found += [f"sheet {n}: {fault}" for fault in _sheet(sheet, parts)]
        if guillotine and not can_be_sheared(sheet.placed):
            found.append(f"sheet {n}: no straight cut takes it apart")
    return tuple(found)


def _quantities(nest: Nest, parts: Sequence[Part]) -> Iterator[str]:
    cut = Counter(p.id for s in nest.sheets for p in s.placed)
    missing = Counter(dict(nest.unplaced))
    asked: Counter[str] = Counter()
    for part in parts:
        asked[part.id] += part.quantity
    for key in sorted(asked.keys() | cut.keys() | missing.keys()):
        if cut[key] + missing[key] != asked[key]:
            yield f"{key}: {asked[key]} asked, {cut[key]} cut, {missing[key]} said to be missing"


def _stock(nest: Nest, stocks: Sequence[Stock]) -> Iterator[str]:
    used = Counter(s.stock for s in nest.sheets)
    for stock, count in used.items():
        have = [s.quantity for s in stocks if s == stock]
        if not have:
            yield f"{stock.id}: no such stock"
        elif None not in have and count > sum(q or 0 for q in have):
            yield f"{stock.id}: {count} used of {sum(q or 0 for q in have)}"


def _sheet(sheet: Sheet, parts: Sequence[Part]) -> Iterator[str]:
    for p in sheet.placed:
        if min(p.x, p.y) < -SAME or p.x + p.width > sheet.stock.width + SAME:
            yield f"{p.id} at {p.x:g}, {p.y:g} leaves the sheet"
        if p.y + p.height > sheet.stock.height + SAME:
            yield f"{p.id} at {p.x:g}, {p.y:g} is higher than the sheet"
        if not any(_is_of(p, part) for part in parts):
            yield f"{p.id}: {p.width:g} x {p.height:g} is no part"
    for a, b in combinations(sheet.placed, 2):
        wide = min(a.x + a.width, b.x + b.width) - max(a.x, b.x)
        high = min(a.y + a.height, b.y + b.height) - max(a.y, b.y)
        if wide > SAME and high > SAME:
            yield f"{a.id} and {b.id} overlap at {max(a.x, b.x):g}, {max(a.y, b.y):g}"


def _is_of(p: Placed, part: Part) -> bool:
    size = (part.height, part.width) if p.turned else (part.width, part.height)
    close = abs(p.width - size[0]) < SAME and abs(p.height - size[1]) < SAME
    return p.id == part.id and close and (part.turn or not p.turned)


def can_be_sheared(placed: Sequence[Placed]) -> bool:
    """Is there, for every heap of rectangles, a straight line that goes through none and parts them?

    Any such line will do: what one cut makes possible no other cut takes away.
    """
    heaps = [list(placed)]
    while heaps:
        heap = heaps.pop()
        if len(heap) > 1:
            parted = _parted(heap)
            if parted is None:
                return False
            heaps += parted
    return True


def _parted(heap: Sequence[Placed]) -> list[list[Placed]] | None:
    for axis, size in (("y", "height"), ("x", "width")):
        for at in sorted({getattr(p, axis) for p in heap}):
            near = [p for p in heap if getattr(p, axis) + getattr(p, size) <= at + SAME]
            beyond = [p for p in heap if getattr(p, axis) >= at - SAME]
            if near and beyond and len(near) + len(beyond) == len(heap):
                return [near, beyond]
    return None
