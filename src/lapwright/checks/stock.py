"""Does every blank come out of the stock at hand?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lapwright.checks.case import Case, held
from lapwright.findings import Finding
from lapwright.geom.flat import heading, minus, turn
from lapwright.geom.space import Flat
from lapwright.rules import with_limit


def stock(case: Case) -> Iterator[Finding]:
    """Is any blank wider than the stock, however it is turned on it?"""
    for d in case.detail.openings:
        asked = with_limit("stock.width", d.measures.stock_width)
        for piece in case.opening_pieces(d):
            yield from held(asked, d.opening.name, narrowest(piece.blank.outline), piece=piece.name)


def narrowest(outline: Sequence[Flat]) -> float:
    """Width of the narrowest strip that holds a shape. [in]

    Source: a least strip has one side along an edge of the convex hull (Shamos 1978, from memory).

    >>> narrowest([(0, 0), (10, 0), (10, 4), (0, 4)])
    4.0
    """
    ring = hull(outline)
    edges = zip(ring, [*ring[1:], ring[0]], strict=True)
    return min(max(turn(heading(a, b), minus(p, a)) for p in ring) for a, b in edges)


def hull(points: Sequence[Flat]) -> list[Flat]:
    """Convex hull, counter-clockwise (monotone chain). [in]"""
    ordered = sorted(set(points))

    def chain(run: Sequence[Flat]) -> list[Flat]:
        out: list[Flat] = []
        for p in run:
            while len(out) > 1 and turn(minus(out[-1], out[-2]), minus(p, out[-1])) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]

    return chain(ordered) + chain(ordered[::-1])
