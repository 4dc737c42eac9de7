"""A scene of meshes as a line drawing, hidden lines left out, seen from one side and above. Knows no roofing word.

Every edge is walked in short steps; a step is drawn unless some face lies nearer to the eye there. Which face
that is stands in a grid over the picture, and its plane is worked out exactly at the step, so that sheets a
few hundredths of an inch apart still hide each other.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from lapwright.draw.display import Line, Mark, Text, text_width
from lapwright.draw.features import clip
from lapwright.draw.glb import Node
from lapwright.draw.sheet import Sheet
from lapwright.draw.spread import spread
from lapwright.geom.space import Flat, Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.floating[Any]]
    Ints = NDArray[np.int64]

GRID = 1.15
"""Cells of the grid to a point of the picture."""
STEP = 0.7
"""Length of a step along an edge. [pt]"""
SHARP = math.cos(math.radians(18.0))
"""Faces that meet flatter than this have no edge between them: a drawn bend turns 15 degrees a facet."""
NEARER = 0.012
"""A face hides a step from this far in front of it: half a sheet. [in]"""
GRAZING = 12.0
"""A face seen flatter than this slope hides nothing: its plane says too little between two cells."""
SLACK = 0.02
"""So near a triangle a cell is still asked about; many times the rounding of single precision. [pt]"""
LEAST = 0.35
"""Edges shorter than this on paper are left out. [pt]"""
SIZE, PITCH, AIR = 8.0, 12.0, 4.0
"""Of a label, between labels, from the sheet's edge to a label. [pt]"""
SEEN_CELLS = 60
"""A part of which fewer cells are seen is not worth a label."""


@dataclass(frozen=True, slots=True)
class Look:
    """Where the eye is: degrees to the right of straight on (from the near side), degrees above level."""

    right_deg: float = 24.0
    above_deg: float = 52.0


@dataclass(frozen=True, slots=True)
class _Scene:
    """Every vertex on the paper with its nearness, every triangle, whose it is."""

    points: Floats
    corners: Ints
    owner: Ints


def draw_scene(
    sheet: Sheet,
    nodes: Sequence[Node],
    stand: Any,
    window: Sequence[Point],
    names: Mapping[str, str],
    look: Look | None = None,
) -> None:
    """Draw the part of a scene that a few points bound, and name some of its nodes at both sides.

    Args:
        sheet: Drawn on from edge to edge; labels stand over the drawing at its two sides.
        nodes: The scene, in its own coordinates. [in]
        stand: Turns a point into (right, away, up). [in]
        window: Points that the picture must hold; what lies beyond its frame is cut off. [in]
        names: What to call a node, by its name.
        look: Where the eye is.
    """
    import numpy as np

    frame = (0.0, 0.0, sheet.width, sheet.height)
    turn = _turn(look or Look())
    axes = np.array([stand((1.0, 0.0, 0.0)), stand((0.0, 1.0, 0.0)), stand((0.0, 0.0, 1.0))])
    seen = np.array(window, dtype=float) @ axes @ turn
    scale, shift = _into(seen, frame)
    nodes = [n for n in nodes if _meets(n, axes @ turn, scale, shift, frame)]
    scene = _gather(nodes, axes @ turn, scale, shift)
    planes, grid = _cover(scene, sheet.width, sheet.height)
    sheet.marks += _framed(_visible(scene, planes, grid), frame)
    _name(sheet, nodes, names, scene.owner, grid)


def _turn(look: Look) -> Floats:
    """Columns: to the right on paper, up on paper, toward the eye."""
    import numpy as np

    a, e = math.radians(look.right_deg), math.radians(look.above_deg)
    right = (math.cos(a), math.sin(a), 0.0)
    up = (-math.sin(a) * math.sin(e), math.cos(a) * math.sin(e), math.cos(e))
    near = (math.sin(a) * math.cos(e), -math.cos(a) * math.cos(e), math.sin(e))
    return np.array([right, up, near]).T


def _into(seen: Floats, frame: tuple[float, float, float, float]) -> tuple[float, Flat]:
    """Scale [pt/in] and shift [pt] that lay the bounded part into the middle of a frame."""
    (x0, y0), (x1, y1) = seen[:, :2].min(axis=0), seen[:, :2].max(axis=0)
    scale = min((frame[2] - frame[0]) / (x1 - x0), (frame[3] - frame[1]) / (y1 - y0))
    middle = ((frame[0] + frame[2]) / 2, (frame[1] + frame[3]) / 2)
    return float(scale), (float(middle[0] - scale * (x0 + x1) / 2), float(middle[1] - scale * (y0 + y1) / 2))


def _meets(n: Node, turn: Floats, scale: float, shift: Flat, frame: tuple[float, float, float, float]) -> bool:
    """May anything of a node be seen in the frame?"""
    import numpy as np

    seen = np.array(n.mesh.vertices) @ turn[:, :2] * scale + np.array(shift)
    (x0, y0), (x1, y1) = seen.min(axis=0), seen.max(axis=0)
    return bool(x0 < frame[2] and x1 > frame[0] and y0 < frame[3] and y1 > frame[1])


def _gather(nodes: Sequence[Node], turn: Floats, scale: float, shift: Flat) -> _Scene:
    import numpy as np

    counts = [len(n.mesh.vertices) for n in nodes]
    starts = np.cumsum([0, *counts[:-1]])
    points = np.array([p for n in nodes for p in n.mesh.vertices]) @ turn
    # Nearness stays in inches, places on the paper are points.
    points[:, 0] = points[:, 0] * scale + shift[0]
    points[:, 1] = points[:, 1] * scale + shift[1]
    corners = np.concatenate([np.array(n.mesh.triangles) + s for n, s in zip(nodes, starts, strict=True)])
    owner = np.repeat(np.arange(len(nodes)), [len(n.mesh.triangles) for n in nodes])
    return _Scene(points, corners, owner)


def _cover(scene: _Scene, width: float, height: float) -> tuple[Floats, Ints]:
    """Each triangle's plane (nearness = a x + b y + c), and the nearest triangle of every cell, -1 for none."""
    import numpy as np

    p = scene.points[scene.corners]
    u, v = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
    area = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    safe = np.where(np.abs(area) < 1e-9, 1.0, area)
    a = (u[:, 2] * v[:, 1] - u[:, 1] * v[:, 2]) / safe
    b = (u[:, 0] * v[:, 2] - u[:, 2] * v[:, 0]) / safe
    planes = np.stack([a, b, p[:, 0, 2] - a * p[:, 0, 0] - b * p[:, 0, 1]], axis=1)
    low, high = p[:, :, :2].min(axis=1), p[:, :, :2].max(axis=1)
    on = (high[:, 0] > 0) & (low[:, 0] < width) & (high[:, 1] > 0) & (low[:, 1] < height)
    # Outward faces run counter-clockwise, so those that run clockwise here look away from the eye.
    on &= (area > 0.5 / GRID**2) & (np.abs(a) + np.abs(b) < GRAZING)
    return planes, _nearest(p[on], planes[on], np.flatnonzero(on), width, height)


def _nearest(p: Floats, planes: Floats, names: Ints, width: float, height: float) -> Ints:
    """The nearest of some triangles in every cell of the grid, -1 for none; of two as near the first.

    Most triangles are slivers, so each is asked only about the cells it runs through, row by row, all at once.
    """
    import numpy as np

    columns, rows = math.ceil(width * GRID), math.ceil(height * GRID)
    xs, ys = ((np.arange(k, dtype=np.float32) + np.float32(0.5)) / np.float32(GRID) for k in (columns, rows))
    low, high = p[:, :, :2].min(axis=1), p[:, :, :2].max(axis=1)
    y0 = np.clip(np.floor(low[:, 1] * GRID), 0, rows - 1).astype(int)
    y1 = np.clip(np.ceil(high[:, 1] * GRID), 1, rows).astype(int)
    face, row = _runs(y0, y1)
    start, end = _crossed(p, face, ys[row].astype(float))
    start = np.clip(np.floor(start * GRID) - 1, 0, columns).astype(int)
    end = np.clip(np.floor(end * GRID) + 2, start, columns).astype(int)
    run, column = _runs(start, end)
    # From here on in single precision: twice as quick, and cells are far larger than its rounding.
    px, py = np.ascontiguousarray(p[:, :, :2].transpose(2, 1, 0), dtype=np.float32)
    planes = np.ascontiguousarray(planes.T, dtype=np.float32)
    x, y, inside = xs[column], ys[row], None
    for k in range(3):
        wide, high = px[(k + 1) % 3] - px[k], py[(k + 1) % 3] - py[k]
        above = wide[face] * (y - py[k][face])
        here = above[run] >= high[face][run] * (x - px[k][face][run])
        inside = here if inside is None else inside & here
    run, column, x = run[inside], column[inside], x[inside]
    depth = planes[0][face][run] * x + (planes[1][face] * y + planes[2][face])[run]
    cell = row[run] * columns + column
    near = np.full(rows * columns, -np.inf, dtype=np.float32)
    np.maximum.at(near, cell, depth)
    first = np.flatnonzero(depth == near[cell])[::-1]
    grid = np.full(rows * columns, -1, dtype=np.int64)
    grid[cell[first]] = names[face[run[first]]]
    return grid.reshape(rows, columns)


def _runs(start: Ints, end: Ints) -> tuple[Ints, Ints]:
    """Whole numbers from each start to before its end, one after another: whose each is, and the number."""
    import numpy as np

    count = end - start
    whose = np.repeat(np.arange(len(count)), count)
    return whose, np.arange(len(whose)) + np.repeat(start - (np.cumsum(count) - count), count)


def _crossed(p: Floats, face: Ints, y: Floats) -> tuple[Floats, Floats]:
    """From where to where a level line at y crosses a triangle, or passes within SLACK of it. [pt]"""
    import numpy as np

    start, end = np.full(len(y), np.inf), np.full(len(y), -np.inf)
    xs, ys = np.ascontiguousarray(p[:, :, :2].transpose(2, 1, 0))
    for k in range(3):
        ax, ay, bx, by = xs[k], ys[k], xs[(k + 1) % 3], ys[(k + 1) % 3]
        level = np.abs(by - ay) < SLACK
        lean = np.where(level, 0.0, bx - ax) / np.where(level, 1.0, by - ay)
        least, most = np.minimum(ay, by)[face], np.maximum(ay, by)[face]
        met = (most >= y - SLACK) & (least <= y + SLACK)
        for off, at in ((-SLACK, ax), (SLACK, np.where(level, bx, ax))):
            x = at[face] + lean[face] * (np.clip(y + off, least, most) - ay[face])
            start, end = np.where(met, np.minimum(start, x), start), np.where(met, np.maximum(end, x), end)
    return start, end


def _edges(scene: _Scene) -> Ints:
    """Pairs of vertices: every edge of a mesh at which its faces turn."""
    import numpy as np

    c, p = scene.corners, scene.points
    normal = np.cross(p[c[:, 1]] - p[c[:, 0]], p[c[:, 2]] - p[c[:, 0]])
    length = np.linalg.norm(normal, axis=1, keepdims=True)
    normal = normal / np.where(length < 1e-12, 1.0, length)
    sides = np.concatenate([c[:, [0, 1]], c[:, [1, 2]], c[:, [2, 0]]])
    face = np.tile(np.arange(len(c)), 3)
    key = np.sort(sides, axis=1)
    order = np.lexsort((key[:, 1], key[:, 0]))
    key, face = key[order], face[order]
    same = np.flatnonzero((key[1:] == key[:-1]).all(axis=1))
    flat = np.zeros(len(key), dtype=bool)
    smooth = (normal[face[same]] * normal[face[same + 1]]).sum(axis=1) > SHARP
    flat[same[smooth]] = flat[same[smooth] + 1] = True
    return np.unique(key[~flat], axis=0)


def _visible(scene: _Scene, planes: Floats, grid: Ints) -> list[tuple[Flat, Flat]]:
    """The seen stretches of every edge on the paper, each once."""
    import numpy as np

    edges = _edges(scene)
    a, b = scene.points[edges[:, 0]], scene.points[edges[:, 1]]
    length = np.hypot(b[:, 0] - a[:, 0], b[:, 1] - a[:, 1])
    rows, columns = grid.shape
    on = (np.maximum(a, b)[:, :2] > 0).all(axis=1) & (length > LEAST)
    on &= (np.minimum(a, b)[:, 0] < columns / GRID) & (np.minimum(a, b)[:, 1] < rows / GRID)
    # The two skins of a sheet lie closer than a pen is wide: the nearer edge of each pair is enough.
    nearest = np.argsort(-np.minimum(a[:, 2], b[:, 2]), kind="stable")
    ends = np.round(np.concatenate([a[:, :2], b[:, :2]], axis=1)[nearest] * 3).astype(np.int64)
    _, first = np.unique(ends, axis=0, return_index=True)
    first = nearest[first]
    keep = np.zeros(len(a), dtype=bool)
    keep[first] = True
    return _stretches(a[on & keep], b[on & keep], length[on & keep], planes, grid)


def _stretches(a: Floats, b: Floats, length: Floats, planes: Floats, grid: Ints) -> list[tuple[Flat, Flat]]:
    """The seen stretches of edges from `a` to `b`, walked all at once."""
    import numpy as np

    n = np.maximum(2, np.ceil(length / STEP).astype(int))
    edge = np.repeat(np.arange(len(n)), n)
    step = np.arange(n.sum()) - np.repeat(np.cumsum(n) - n, n)
    at = a[edge] + (b - a)[edge] * ((step + 0.5) / n[edge])[:, None]
    across = np.stack([a[:, 1] - b[:, 1], b[:, 0] - a[:, 0]], axis=1) / length[:, None] / GRID
    # An edge bounds a face: what is seen on either side of it counts, or the grid would nibble at borders.
    seen = np.zeros(len(at), dtype=bool)
    for side in (0.0, 0.8, -0.8):
        rest = np.flatnonzero(~seen)
        seen[rest] = _in_sight(at[rest], at[rest, :2] + side * across[edge[rest]], planes, grid)
    first, last = step == 0, step == n[edge] - 1
    starts = np.flatnonzero(seen & (first | ~np.roll(seen, 1)))
    ends = np.flatnonzero(seen & (last | ~np.roll(seen, -1)))
    p = a[edge[starts]] + (b - a)[edge[starts]] * (step[starts] / n[edge[starts]])[:, None]
    q = a[edge[ends]] + (b - a)[edge[ends]] * ((step[ends] + 1) / n[edge[ends]])[:, None]
    long = (ends > starts) | (n[edge[starts]] <= 2)
    pairs = np.concatenate([p[:, :2], q[:, :2]], axis=1)[long].tolist()
    return [((x0, y0), (x1, y1)) for x0, y0, x1, y1 in pairs]


def _in_sight(at: Floats, cell: Floats, planes: Floats, grid: Ints) -> NDArray[np.bool_]:
    """Is no face nearer than these points, of the faces that stand in these cells?"""
    import numpy as np

    rows, columns = grid.shape
    x, y = (cell[:, 0] * GRID).astype(int), (cell[:, 1] * GRID).astype(int)
    inside = (x >= 0) & (x < columns) & (y >= 0) & (y < rows)
    face = grid[np.clip(y, 0, rows - 1), np.clip(x, 0, columns - 1)]
    a, b, c = planes.T
    front = a[face] * at[:, 0] + b[face] * at[:, 1] + c[face]
    hidden = (face >= 0) & (front - at[:, 2] >= NEARER)
    return np.asarray(inside & ~hidden)


def _framed(lines: list[tuple[Flat, Flat]], frame: tuple[float, float, float, float]) -> list[Mark]:
    parts = (clip(a, b, frame) for a, b in lines)
    return [Line(part[0], part[1], "solid") for part in parts if part is not None]


def _name(sheet: Sheet, nodes: Sequence[Node], names: Mapping[str, str], owner: Ints, grid: Ints) -> None:
    """Labels down both sides, each led to a cell in the middle of what is seen of its node."""
    targets = _targets(nodes, names, owner, grid)
    wide = [text_width(text, SIZE) for _, text in targets]
    labels: list[Text] = []
    for left in (True, False):
        mine = sorted((y, x, text) for (x, y), text in targets if (x < sheet.width / 2) == left)
        places = spread([y for y, _, _ in mine], PITCH, AIR + 6, sheet.height - AIR - 6)
        edge = max(wide, default=0.0) + AIR if left else sheet.width - max(wide, default=0.0) - AIR
        for (y, x, text), place in zip(mine, places, strict=True):
            sheet.line((edge + (2 if left else -2), place), (x, y), "leader")
            sheet.circle((x, y), 1.5, "leader", "ink")
            labels.append(Text((edge, place), text, "text", SIZE, "end" if left else "start"))
    for label in labels:
        sheet.ring(_padded(label.box()), "mask", "paper")
        sheet.text(label)


def _padded(box: Sequence[Flat]) -> list[Flat]:
    (x0, y0), _, (x1, y1), _ = box
    return [(x0 - 3, y0 - 1), (x1 + 3, y0 - 1), (x1 + 3, y1 + 1), (x0 - 3, y1 + 1)]


def _targets(
    nodes: Sequence[Node], names: Mapping[str, str], owner: Ints, grid: Ints
) -> list[tuple[Flat, str]]:
    """A point of each named node that is seen, and its name; nodes of one name share a label."""
    import numpy as np

    shown = np.where(grid >= 0, owner[grid], -1)
    best: dict[str, tuple[int, Flat]] = {}
    for i, node in enumerate(nodes):
        if node.name not in names:
            continue
        rows, columns = np.nonzero(shown == i)
        if len(rows) < SEEN_CELLS:
            continue
        off = (rows - rows.mean()) ** 2 + (columns - columns.mean()) ** 2
        k = int(off.argmin())
        at = ((float(columns[k]) + 0.5) / GRID, (float(rows[k]) + 0.5) / GRID)
        if len(rows) > best.get(names[node.name], (0, at))[0]:
            best[names[node.name]] = (len(rows), at)
    return [(at, text) for text, (_, at) in best.items()]
