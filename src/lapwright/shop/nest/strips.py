"""Trims from strips of their own girth: cutting in one dimension, laid out as sheets that need cuts across only."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from lapwright.shop.nest.model import Part, Placed, Sheet, Stock

CLOSE = 1 / 64
"""A strip this much wider than a blank's girth is of that girth: no shear takes less off. House rule. [in]"""


NARROW = 8.0
"""Wider stock is a sheet or a roll to nest on, whatever its width. House rule. [in]"""


def of_girth(width: float, blank_height: float) -> bool:
    """Is this a strip, as wide as a blank is across? [in]"""
    return width <= NARROW and -CLOSE / 1000 <= width - blank_height <= CLOSE


def cut_strips(
    parts: Sequence[Part], stock: Sequence[Stock], effort: int, over: Callable[[], bool] | None = None
) -> tuple[Sheet, ...]:
    """Cut from each width of strip the parts of that girth.

    Args:
        parts: Those of no strip's girth are left alone. Width or height may be the girth. [in]
        stock: Strips. [in]
        effort: Work for each width. [units]
        over: A clock that may end each search early.
    """
    out: list[Sheet] = []
    taken: set[str] = set()
    for width in dict.fromkeys(s.width for s in stock):
        rows = [s for s in stock if s.width == width]
        out += _of_width([p for p in parts if p.id not in taken], rows, effort, over)
        taken |= {p.id for sheet in out for p in sheet.placed}
    return tuple(out)


def _of_width(
    parts: Sequence[Part], rows: Sequence[Stock], effort: int, over: Callable[[], bool] | None
) -> Iterator[Sheet]:
    # loaded only for a job that has strips: most have none
    from lapwright.shop.cut1d.cut import cut
    from lapwright.shop.cut1d.model import Bar, Length

    mine = {p.id: way for p in parts if (way := _along(p, rows[0].width)) is not None}
    lengths = [Length(p.id, mine[p.id][0], p.quantity) for p in parts if p.id in mine]
    if not lengths:
        return
    priced = all(s.price is not None for s in rows)
    bars = [Bar(str(i), s.height, s.quantity, s.price if priced else None) for i, s in enumerate(rows)]
    for bar in cut(lengths, bars, effort, over).bars:
        placed, at = [], 0.0
        for key in bar.pieces:
            length, turned = mine[key]
            part = next(p for p in parts if p.id == key)
            girth = part.height if turned else part.width
            placed.append(Placed(key, 0.0, at, girth, length, turned))
            at += length
        yield Sheet(rows[int(bar.stock.id)], tuple(placed))


def _along(part: Part, width: float) -> tuple[float, bool] | None:
    """Length of a part along a strip of its girth, and whether it lies turned; None where it is of another girth."""
    if of_girth(width, part.width):
        return part.height, False
    if part.turn and of_girth(width, part.height):
        return part.width, True
    return None
