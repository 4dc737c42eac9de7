"""Rays from many places at once: which sheet each meets first, and how far off."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from lapwright.geom.space import Point

LEAST = 1e-6
"""Lengths that differ by less are the same. [in]"""

TOUCH = 0.012
"""Sheets nearer than this lie in one plane: their order says which is over. [in]"""


Met = tuple[str, float]
"""A sheet that a ray meets, and how far off. [in]"""


@dataclass(frozen=True, slots=True)
class Facet:
    """A flat part of a sheet in place: its ring, its normal out of the paint, which sheet it is of."""

    sheet: str
    ring: tuple[Point, ...]
    normal: Point


class Facets:
    """Flat parts as arrays, in the order they were laid.

    Of each ring two directions are kept: those in which its plane is seen largest.
    """

    def __init__(self, facets: Sequence[Facet], ranks: Mapping[str, float]) -> None:
        import numpy as np

        self.sheets = [f.sheet for f in facets]
        self.ids = {name: k for k, name in enumerate(dict.fromkeys(self.sheets))}
        self.id = np.array([self.ids[s] for s in self.sheets], dtype=int)
        self.ranked = np.array([ranks.get(s, 0.0) for s in self.ids])
        self.rank = self.ranked[self.id]
        self.normal = np.array([f.normal for f in facets]).reshape(-1, 3)
        self.foot = np.array([f.ring[0] for f in facets]).reshape(-1, 3)
        drop = np.argmax(np.abs(self.normal), axis=1)
        self.keep = np.array([[k for k in range(3) if k != d] for d in drop], dtype=int).reshape(-1, 2)
        most = max((len(f.ring) for f in facets), default=0) + 1
        closed = np.array([[f.ring[min(k, len(f.ring)) % len(f.ring)] for k in range(most)] for f in facets])
        each = np.arange(len(facets))[:, None, None]
        self.ring = closed.reshape(-1, most, 3)[each, np.arange(most)[None, :, None], self.keep[:, None, :]]
        self.low, self.high = (pick(closed.reshape(-1, most, 3), axis=1) for pick in (np.min, np.max))

    def number(self, sheets: Sequence[str]) -> Any:
        """Numbers of sheets by their names; -1 for one that has no facet."""
        import numpy as np

        return np.array([self.ids.get(s, -1) for s in sheets], dtype=int)

    def nearest(
        self, start: Any, ray: Any, own: Any, far: Any, only: Any = None, beside: int = 0
    ) -> list[Met | None]:
        """The first other sheet each ray meets and how far off it is [in], or None.

        Args:
            start, ray: (n, 3) places [in] and directions, unit.
            own: (n) number of the sheet a ray starts from, which it does not meet; -1 for none.
            far: (n) how far each ray goes. [in]
            only: (facets) which of them may be met; None for all.
            beside: which sheets count that lie in one plane with the ray's own: those laid after it (1), those
                laid before it (-1), none (0).
        """
        import numpy as np

        at = self._meets(start, ray, own, far, only, beside)
        depth = at.min(axis=1, initial=np.inf)
        # Of two in one plane the first laid counts, so that a sheet on a wall is met before the wall.
        first = (at <= depth[:, None] + LEAST).argmax(axis=1)
        rows = zip(first.tolist(), depth.tolist(), strict=True)
        return [(self.sheets[k], d) if d < np.inf else None for k, d in rows]

    def _meets(self, start: Any, ray: Any, own: Any, far: Any, only: Any, beside: int) -> Any:
        """(n, facets): how far along its ray each facet is met, infinite where it is not. [in]"""
        import numpy as np

        meets = self.id != own[:, None]
        if only is not None:
            meets &= only
        behind, end = start - 2 * TOUCH * ray, start + far[:, None] * ray
        low, high = np.minimum(behind, end), np.maximum(behind, end)
        for k in range(3):
            meets &= (low[:, k, None] < self.high[:, k] + TOUCH) & (high[:, k, None] > self.low[:, k] - TOUCH)
        place, facet = np.nonzero(meets)
        normal, at, along = self.normal[facet], start[place], ray[place]
        slope = np.einsum("ij,ij->i", along, normal)
        with np.errstate(divide="ignore", invalid="ignore"):
            t = np.einsum("ij,ij->i", self.foot[facet] - at, normal) / slope
        after = beside * (self.rank[facet] - self.ranked[own[place]])
        met = (np.abs(slope) > LEAST) & (t < far[place] - LEAST) & ((t > TOUCH) | (after > 0) & (t > -TOUCH))
        place, facet, t = place[met], facet[met], t[met]
        inside = self._inside(facet, at[met] + along[met] * t[:, None])
        out = np.full(meets.shape, np.inf)
        out[place[inside], facet[inside]] = t[inside]
        return out

    def _inside(self, facet: Any, p: Any) -> Any:
        """Crossing-number test in the plane's two larger directions.

        A place on a left or a right side is inside, so that a mirrored roof sees mirrored sheets.
        """
        import numpy as np

        x, y = np.take_along_axis(p, self.keep[facet], axis=1).T
        left, right = (np.zeros(len(p), dtype=bool) for _ in range(2))
        ring = self.ring[facet].transpose(1, 2, 0)
        with np.errstate(divide="ignore", invalid="ignore"):
            for (x0, y0), (x1, y1) in pairwise(ring):
                between = (y0 > y) != (y1 > y)
                side = (x1 - x0) * (y - y0) / (y1 - y0) + x0
                left ^= between & (x < side - LEAST)
                right ^= between & (x < side + LEAST)
        return left | right
